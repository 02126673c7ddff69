package record

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/job"
)

// mostNamed is how many names a card has of what keeps a gate shut, for each way in which
// it does. The rest stands in what to do next.
const mostNamed = 6

// passing says how a gate stands: "open", or that it is shut.
func passing(g job.CardGate) string {
	if g.Open {
		return "open"
	}
	return "SHUT"
}

// known says how much a gate that is open rests on.
func known(g job.CardGate) string {
	text := fmt.Sprintf("%d proven", g.Proven)
	if g.Proven == 0 && g.Accepted == 0 {
		return "nothing is asked for"
	}
	if g.Accepted > 0 {
		text += fmt.Sprintf(", %d on somebody's word", g.Accepted)
	}
	return text
}

// against are the lines that say what keeps a gate shut, worst first: "wrong: main bearing
// 3 clearance".
func against(g job.CardGate) []string {
	if g.Open {
		return nil
	}
	if len(g.Obstacles) == 0 {
		return []string{"until the gate before it is open"}
	}
	var lines []string
	for i := 0; i < len(g.Obstacles); {
		standing := g.Obstacles[i].Standing
		var names []string
		for ; i < len(g.Obstacles) && g.Obstacles[i].Standing == standing; i++ {
			names = append(names, g.Obstacles[i].What)
		}
		if more := len(names) - mostNamed; more > 1 {
			names = append(names[:mostNamed], fmt.Sprintf("and %d more, under what to do next", more))
		}
		lines = append(lines, standing.String()+": "+strings.Join(names, "; "))
	}
	return lines
}

// word says what was accepted or left out, by whom and why.
func word(w job.Word) string {
	return fmt.Sprintf("%s (%s): %s by %s: %s", w.What, w.Worst, w.Done(), w.By, w.Reason)
}

// seatStanding says what is known of a bearing's clearance.
func seatStanding(s job.Seat) string {
	if s.Excused {
		return s.Standing.String() + ", accepted"
	}
	return s.Standing.String()
}

// clearance is a bearing's, as measured.
func clearance(s job.Seat) string {
	if s.Standing == job.NotMeasured && s.Clearance == "not measured" {
		return ""
	}
	return s.Clearance
}

// shell is the grade of a shell, or a line to write it on.
func shell(grade string) string {
	if grade == "" {
		return "......"
	}
	return grade
}

// seatName is what a bearing is called on the crankshaft's line.
func seatName(st job.Station, s job.Seat) string {
	switch {
	case st.Thrust:
		return "main " + s.Location + ", thrust"
	case st.Pin:
		return "rod " + s.Location
	}
	return "main " + s.Location
}

// hasShells reports whether any bearing has its shells chosen.
func hasShells(c job.Card) bool {
	for _, st := range c.Crank {
		for _, s := range st.Seats {
			if s.Upper != "" || s.Lower != "" {
				return true
			}
		}
	}
	return false
}

// heldBack names the bearings whose shells are proven wrong.
func heldBack(c job.Card) string {
	var names []string
	for _, st := range c.Crank {
		for _, s := range st.Seats {
			if s.HeldBack {
				names = append(names, seatName(st, s))
			}
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "Do not fit the shells marked × (" + strings.Join(names, "; ") + "): they are proven wrong there."
}

// pullsTitle names a group of bolts.
func pullsTitle(p job.Pulls) string {
	text := title(p.Group)
	if p.Phase == job.Trial {
		text = "Trial: " + p.Group
	}
	if p.Old {
		text += ", old ones"
	}
	if p.Once {
		text += ", new ones, used once"
	}
	return text
}

// pullsLine says the stages of a group of bolts: "stage 1: 9 N·m, 2: 23 N·m, 3: +55°".
func pullsLine(p job.Pulls) string {
	var texts []string
	for i, s := range p.Stages {
		text := s.Do
		if len(p.Stages) > 1 {
			text = fmt.Sprintf("%d: %s", i+1, text)
		}
		if s.During != "" {
			text += " (during " + s.During + ")"
		}
		texts = append(texts, text)
	}
	line := stageWord(len(texts)) + strings.Join(texts, ", ")
	if p.CapByCap && len(texts) > 1 {
		line += "; each cap finished before the next"
	}
	return line
}

func stageWord(n int) string {
	if n == 1 {
		return ""
	}
	return "stage "
}

// orders are the orders of a group's bolts: one, or one for each stage that has its own.
func orders(p job.Pulls) []string {
	if p.SameOrder() {
		return []string{"order: " + strings.Join(p.Stages[0].Order, " ")}
	}
	var lines []string
	for i, s := range p.Stages {
		lines = append(lines, fmt.Sprintf("order of stage %d: %s", i+1, strings.Join(s.Order, " ")))
	}
	return lines
}

// fits says which shells an offer fits where.
func fits(o *job.Offer) string {
	var texts []string
	for _, f := range o.Fit {
		texts = append(texts, "at "+f.Location+" "+f.Shells)
	}
	return strings.Join(texts, "; ")
}

// again reports whether a group of the trial assembly is tightened in the order that it has in
// the final one, which the card shows.
func again(c job.Card, p job.Pulls) bool {
	return p.Phase == job.Trial && slices.ContainsFunc(c.Pulls, func(final job.Pulls) bool {
		return final.Phase == job.Final && final.SameOrder() && p.SameOrder() && slices.Equal(final.Bolts, p.Bolts) && slices.Equal(final.Stages[0].Order, p.Stages[0].Order)
	})
}
