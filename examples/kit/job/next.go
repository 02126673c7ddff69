package job

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/units/measure"
)

// next says what to do, worst first.
func next(a *Assessment) []Action {
	var actions [GoOn + 1][]string
	say := func(k ActionKind, format string, args ...any) {
		actions[k] = append(actions[k], fmt.Sprintf(format, args...))
	}
	excused := map[string]*Excuse{}
	for _, i := range a.Items {
		excused[i.Name] = i.Excuse
	}
	for _, why := range a.doubts {
		say(Measure, "%s.", why)
	}
	for _, l := range a.Looked {
		switch {
		case l.Good || excused[l.Name()] != nil:
		case l.open:
			say(Measure, "%s: %s%s", l.Name(), l.State, look(l))
		case l.Group == "passage":
			say(Stop, "%s: %s. Clear and prove clean before anything goes on: a bearing without oil is lost in minutes.", l.Name(), l.State)
		default:
			say(Stop, "%s: %s. %s.", l.Name(), l.State, capital(l.do))
		}
	}
	judged := map[string]bool{}
	for _, g := range a.Groups {
		var good, open, asked []string
		for _, f := range g.Findings {
			judged[itemName(f.Group, f.Location, "")] = true
			what := f.Name()
			switch {
			case f.standing() != Proven && excused[what] != nil:
			case !f.Taken && f.Advice != "":
				say(Measure, "%s: not measured; %s; %s.", what, f.summary(), f.Advice)
			case !f.Taken:
				open = append(open, f.Location)
			case f.standing() == NotMeasured && g.Limits == byGrade:
				say(Measure, "%s: %s.%s%s", what, f.Measured.Text, settling(f), also(f))
			case f.standing() == NotMeasured:
				say(Measure, "%s: %s, and no limits are stated. Find them in the manual.%s%s", what, f.Measured.Text, settling(f), also(f))
			case f.Verdict == measure.Conforming:
				good = append(good, f.Location)
			case f.Slip != "" && f.Slip == g.question:
				asked = append(asked, f.Location)
			case f.Verdict == measure.Undecided:
				say(Measure, "%s %s, limits %s: undecided (%s).%s%s", what, f.Measured.Text, f.Tolerance.Text, f.How, settling(f), also(f))
			default:
				say(g.Remedy.Kind, "%s %s, limits %s: %s %s. %s%s", what, f.Measured.Text, f.Tolerance.Text, f.Verdict, f.Advice, g.Remedy.For(f.Verdict), also(f))
			}
		}
		if len(open) > 0 {
			say(Measure, "%s: %s", itemName(g.Name, strings.Join(open, ", "), g.Quantity), missing(g, len(open)))
		}
		if len(asked) > 0 {
			say(Measure, "%s %s, limits %s: undecided%s. %s.", g.Name, g.Quantity, g.Limits, at(g, asked), capital(g.question))
		}
		if len(good) > 0 {
			say(GoOn, "%s %s, limits %s: proven good%s.", g.Name, g.Quantity, g.Limits, at(g, good))
		}
	}
	bolts, group := map[string][]string{}, map[string]string{}
	var whys []string
	for _, i := range a.Items {
		switch {
		case i.Passes() || i.Bolt == "" || judged[i.Name]:
		default:
			if bolts[i.Why] == nil {
				whys = append(whys, i.Why)
			}
			name := i.Name
			if of := strings.TrimSuffix(name, " "+i.Bolt); of == group[i.Why] { // a group is named once
				name = i.Bolt
			} else {
				group[i.Why] = of
			}
			bolts[i.Why] = append(bolts[i.Why], name)
		}
	}
	for _, why := range whys {
		kind := Measure
		if strings.Contains(why, "fit a new one") {
			kind = Order
		}
		say(kind, "%s: %s.", strings.Join(bolts[why], ", "), why)
	}
	for _, i := range a.Items {
		if i.Name == "tightening plan" && !i.Passes() {
			say(Measure, "tightening plan: %s.", i.Why)
		}
	}
	for _, s := range a.Shells {
		for _, l := range s.Locations {
			for _, do := range l.Do { // a question may be of several locations
				if excused[itemName(s.Bearings, l.Location, "shells")] == nil && !slices.Contains(actions[do.Kind], do.Text) {
					say(do.Kind, "%s", do.Text)
				}
			}
		}
		if s.Purchase != nil && len(s.Purchase.Lines) > 0 {
			say(Order, "%s shells, %s: %s; %s in all%s.", s.Bearings, s.callers(), lines(s.Purchase.Lines), s.Purchase.Total, without(s))
		}
		if s.Offer != nil {
			say(Order, "%s", s.Offer.text(s.Bearings))
		}
	}
	var all []Action
	for k, texts := range actions {
		for _, t := range texts {
			all = append(all, Action{ActionKind(k), t})
		}
	}
	return all
}

// also adds what else is known of a finding: that it may be a slip, and which
// parts would bring it inside.
func also(f Finding) string {
	text := ""
	if f.Slip != "" {
		text += " " + capital(f.Slip) + "."
	}
	if len(f.Remedies) > 0 {
		text += " " + remedied(f.Remedies)
	}
	return text
}

// at names the locations of a group that has more than one.
func at(g Group, locations []string) string {
	if len(g.Findings) == 1 && locations[0] == g.Name {
		return ""
	}
	return " at " + strings.Join(locations, ", ")
}

// look says what to do about what was not looked at.
func look(l Looked) string {
	switch {
	case l.Group == "passage":
		return ". Prove it clean: what goes in at one end, solvent or air, must come out at every other."
	case l.do != "":
		return "; " + l.do + "."
	}
	return ". Look at it, and write what you find."
}

// missing says what to do about so many places of a line that were not measured.
func missing(g Group, places int) string {
	it := "it"
	if places > 1 {
		it = "them"
	}
	switch {
	case g.Quantity == taper:
		it = "in two planes or more, with ; between them"
	case g.Quantity == outOfRound:
		it = "in two directions or more, with a blank between them"
	}
	if len(g.from) > 0 {
		it = "what " + map[bool]string{false: "it follows", true: "they follow"}[places > 1] + " from: " + strings.Join(g.from, ", ")
	}
	if g.Limits == notStated {
		return "not measured, and no limits are stated. Find the limits in the manual, and measure " + it + "."
	}
	return "not measured. Measure " + it + "; the limits are " + g.Limits + "."
}

// settling says what would settle a finding. A slip comes first: there is no use in settling
// a reading that was typed wrongly.
func settling(f Finding) string {
	if f.Advice == "" || f.Slip != "" {
		return ""
	}
	return " " + capital(f.Advice) + "."
}

// remedied says which parts bring a finding inside; a sentence that says there are none is
// said as it is.
func remedied(remedies []string) string {
	if len(remedies) == 1 && !strings.Contains(remedies[0], "inside by") {
		return capital(remedies[0]) + "."
	}
	return "These bring it inside: " + strings.Join(remedies, "; or ") + "."
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// callers says what the shells to buy are chosen by.
func (s Shells) callers() string {
	texts := map[string]string{"codes": "as the codes call for", "sizes": "as the sizes call for", "fit": "as they were chosen"}
	var said []string
	for _, by := range []string{"codes", "sizes", "fit"} {
		var at []string
		for _, l := range s.Locations {
			if l.By == by {
				at = append(at, l.Location)
			}
		}
		if len(at) == len(s.Locations) {
			return texts[by]
		}
		if len(at) > 0 {
			said = append(said, texts[by]+" at "+strings.Join(at, ", "))
		}
	}
	return strings.Join(said, " and ")
}

// without says for which locations nothing is bought, and why.
func without(s Shells) string {
	text := ""
	if len(s.HeldBack) > 0 {
		text = "; nothing for " + strings.Join(s.HeldBack, ", ") + ", which other shells or a machine shop must bring right first"
	}
	var opened []string
	for _, l := range s.Locations {
		if l.By == "" && !slices.Contains(s.HeldBack, l.Location) {
			opened = append(opened, l.Location)
		}
	}
	if len(opened) > 0 {
		text += "; nothing for " + strings.Join(opened, ", ") + ", whose shells are open"
	}
	return text
}

// text offers other shells where those that were called for are proven wrong.
func (o *Offer) text(bearings string) string {
	part := strings.TrimSuffix(bearings, " bearing")
	var at, fit []string
	for _, f := range o.Fit {
		at = append(at, f.Shells+" at "+f.Location)
		fit = append(fit, fmt.Sprintf("%s = %q", key(f.Location), f.Shells))
	}
	buy := "nothing to buy"
	if len(o.Purchase.Lines) > 0 {
		buy = fmt.Sprintf("%s; %s in all", lines(o.Purchase.Lines), o.Purchase.Total)
	}
	return fmt.Sprintf("%s shells with %s, the smallest change that brings it inside, and the others as before: %s. To choose it, write fit = { %s } under shells.%s, fit them and measure again.",
		bearings, strings.Join(at, " and "), buy, strings.Join(fit, ", "), part)
}

func lines(ls []PurchaseLine) string {
	texts := make([]string, len(ls))
	for i, l := range ls {
		texts[i] = fmt.Sprintf("%d of \"%s\"", l.Count, l.Pack)
	}
	return strings.Join(texts, ", ")
}
