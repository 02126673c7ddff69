package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// A Card is what hangs at the bench: what stops the build, which shells go where, what the
// bolts are tightened to, and what to check. Everything in it follows from an Assessment.
type Card struct {
	Gates    []CardGate // before each phase, in their order
	Words    []Word     // what was accepted or left out: none of it is proven
	Crank    []Station  // from the front
	Pulls    []Pulls    // what the bolts are tightened to
	Checks   []Check
	Warnings []string
}

// A CardGate is a gate with what it asks for beyond the gate before it.
type CardGate struct {
	Before    Phase
	Open      bool
	Proven    int        // how many items are, those of earlier gates among them
	Accepted  int        // how many open it on somebody's word alone
	Obstacles []Obstacle // worst first
}

// An Obstacle is what keeps a gate shut: the places of one line that stand alike.
type Obstacle struct {
	Standing Standing
	What     string // "main bearing 2, 4 clearance"
}

// A Word is somebody's word for items that are not proven.
type Word struct {
	Excuse
	Worst Standing // of the items that it is for
}

// Done says what was done: "accepted" or "left out".
func (w Word) Done() string {
	if w.LeftOut {
		return "left out"
	}
	return "accepted"
}

// A Station is a journal of the crankshaft: a main, or a pin with the rods on it.
type Station struct {
	Name   string // "2" of a main; "1-4" of a shared pin
	Pin    bool
	Thrust bool
	Seats  []Seat // the bearings on it
}

// A Seat is a bearing with its two shells.
type Seat struct {
	Location     string
	Upper, Lower string   // the grade of each shell; empty where none is chosen
	HeldBack     bool     // these shells are proven wrong
	Clearance    string   // as measured
	Standing     Standing // of the clearance
	Excused      bool     // somebody's word stands for it
}

// Pulls are the stages of one group of bolts.
type Pulls struct {
	Tightening
	Held []Held // those of its bolts that must not be tightened yet
}

// Held are bolts that must not be tightened yet, for one reason.
type Held struct {
	Bolts []string
	Why   string
}

// Names are the bolts, with commas between.
func (h Held) Names() string { return strings.Join(h.Bolts, ", ") }

// A Check is something to look at before going on.
type Check struct{ When, What string }

// A Tightening is how the bolts of one group are tightened.
type Tightening struct {
	Phase    Phase    `json:"phase"` // Trial or Final
	Group    string   `json:"group"`
	On       string   `json:"on"`         // the part that they stand on; empty where none is named
	Once     bool     `json:"once"`       // new bolts, used once
	Old      bool     `json:"old"`        // those that came out go in for the trial assembly
	CapByCap bool     `json:"cap_by_cap"` // each cap is finished before the next
	First    []string `json:"first"`      // what to ask or to wait for before the first stage
	Stages   []Pull   `json:"stages"`
	Bolts    []Bolt   `json:"bolts"`
}

// A Pull is one stage: what is done to each bolt, in which order.
type Pull struct {
	Do     string   `json:"do"`     // "9 N·m", "+55°"
	During string   `json:"during"` // "stage 2 of main cap bolts"; empty where it is a stage by itself
	Order  []string `json:"order"`
	Then   []string `json:"then"` // what to ask or to wait for once it is done
}

// A Bolt stands in the pattern of its group, so far to the right and so far down, in
// millimetres. It is for a drawing alone.
type Bolt struct {
	Name string  `json:"name"`
	Part string  `json:"part"` // the cap that it holds down with others; empty where it holds none
	X    float64 `json:"x"`
	Y    float64 `json:"y"`
}

// SameOrder reports whether every stage has the order of the first.
func (t Tightening) SameOrder() bool {
	return !slices.ContainsFunc(t.Stages, func(p Pull) bool { return !slices.Equal(p.Order, t.Stages[0].Order) })
}

// tightenings are the groups of a plan; none without one.
func tightenings(phase Phase, plan *torque.Plan) []Tightening {
	if plan == nil {
		return nil
	}
	var list []Tightening
	for _, g := range plan.Groups() {
		t := Tightening{Phase: phase, Group: g.Name, On: g.On, Once: g.Use == torque.SingleUse, CapByCap: g.Order == torque.CapByCap, First: said(g.First), Stages: make([]Pull, len(g.Stages))}
		for i, s := range g.Stages {
			t.Stages[i].Then = said(s.Then)
			if s.DuringGroup != "" {
				t.Stages[i].During = fmt.Sprintf("stage %d of %s", s.DuringStage, s.DuringGroup)
			}
		}
		for _, s := range plan.Steps() {
			if s.Group != g.Name || s.IsPause() {
				continue
			}
			p := &t.Stages[s.Stage-1]
			p.Do = s.Brief()
			p.Order = append(p.Order, s.Bolt)
			t.Once = t.Once || s.Spends
		}
		for _, b := range g.Pattern {
			t.Bolts = append(t.Bolts, Bolt{b.Bolt, b.Part, b.X.Float64(units.Millimetre), b.Y.Float64(units.Millimetre)})
		}
		list = append(list, t)
	}
	return list
}

// said are pauses in words.
func said(pauses []torque.Action) []string {
	texts := []string{}
	for _, p := range pauses {
		texts = append(texts, p.String())
	}
	return texts
}

// Card returns the bench card.
func (a *Assessment) Card() Card {
	c := Card{Gates: a.cardGates(), Words: a.words(), Crank: a.crank(), Checks: a.checks(), Warnings: a.Cautions[:min(1, len(a.Cautions))]}
	held := a.Held()
	for _, t := range a.Tightening {
		p := Pulls{Tightening: t}
		for _, b := range t.Bolts {
			if why := held[b.Name]; why != "" && t.Phase == Final {
				p.hold(b.Name, why)
			}
		}
		c.Pulls = append(c.Pulls, p)
	}
	return c
}

// hold adds a bolt to those that are held for the same reason.
func (p *Pulls) hold(bolt, why string) {
	for i := range p.Held {
		if p.Held[i].Why == why {
			p.Held[i].Bolts = append(p.Held[i].Bolts, bolt)
			return
		}
	}
	p.Held = append(p.Held, Held{[]string{bolt}, why})
}

// cardGates are the gates, each with what it asks for beyond the one before.
func (a *Assessment) cardGates() []CardGate {
	places := map[string]int{} // of each line
	for _, i := range a.Items {
		places[i.Group+"\n"+i.Quantity]++
	}
	var list []CardGate
	for _, p := range Phases() {
		g := a.Gate(p)
		c := CardGate{Before: p, Open: g.Open, Proven: g.Proven, Accepted: len(g.Accepted)}
		var likes []Item // those of one line that stand alike
		say := func() {
			if len(likes) > 0 {
				c.Obstacles = append(c.Obstacles, obstacle(likes, places[likes[0].Group+"\n"+likes[0].Quantity]))
			}
			likes = nil
		}
		for _, i := range g.Shut {
			if i.Before != p {
				continue
			}
			if len(likes) > 0 && (likes[0].Standing != i.Standing || likes[0].Group != i.Group || likes[0].Quantity != i.Quantity) {
				say()
			}
			likes = append(likes, i)
		}
		say()
		list = append(list, c)
	}
	return list
}

// obstacle says the places of one line in one name: "main bearing 2, 4 clearance", or, of
// all of several, "main bearing clearance at all 5".
func obstacle(likes []Item, places int) Obstacle {
	const several = 3
	if len(likes) == places && places >= several {
		return Obstacle{likes[0].Standing, fmt.Sprintf("%s at all %d", itemName(likes[0].Group, "", likes[0].Quantity), places)}
	}
	var at []string
	for _, i := range likes {
		if i.Location != "" {
			at = append(at, i.Location)
		}
	}
	return Obstacle{likes[0].Standing, itemName(likes[0].Group, strings.Join(at, ", "), likes[0].Quantity)}
}

// words are the words that stand for items, each once.
func (a *Assessment) words() []Word {
	var list []Word
	for _, i := range a.Items {
		if i.Excuse == nil || i.Standing == Proven {
			continue
		}
		at := slices.IndexFunc(list, func(w Word) bool { return w.Excuse == *i.Excuse })
		if at < 0 {
			at = len(list)
			list = append(list, Word{Excuse: *i.Excuse})
		}
		list[at].Worst = max(list[at].Worst, i.Standing)
	}
	return list
}

// crank is the crankshaft from the front. Where its pins divide evenly among the gaps
// between its mains they stand in them; where they do not, nothing says where each pin
// is, and the pins follow the mains.
func (a *Assessment) crank() []Station {
	e := a.Engine
	found, items := map[string]string{}, map[string]*Item{}
	for _, g := range a.Groups {
		if g.Quantity != "clearance" {
			continue
		}
		for _, f := range g.Findings {
			found[f.Name()] = f.Measured.Text
		}
	}
	for i := range a.Items {
		if a.Items[i].Quantity == "clearance" {
			items[a.Items[i].Name] = &a.Items[i]
		}
	}
	seat := func(bearing, location string) Seat {
		s := a.shellsAt(bearing, location)
		name := itemName(bearing, location, "clearance")
		i, asked := items[name]
		if asked {
			s.Standing = i.Standing
		}
		s.Clearance, s.Excused = found[name], asked && i.Excuse != nil
		return s
	}
	var list, pins []Station
	for _, p := range e.Pins {
		s := Station{Name: p.Name, Pin: true}
		for _, rod := range p.Rods {
			s.Seats = append(s.Seats, seat("rod bearing", rod))
		}
		pins = append(pins, s)
	}
	gaps := max(1, len(e.Mains)-1)
	each := len(pins) / gaps
	for i, m := range e.Mains {
		list = append(list, Station{Name: m, Thrust: m == e.Thrust, Seats: []Seat{seat("main bearing", m)}})
		if each*gaps == len(pins) && i < gaps {
			list = append(list, pins[i*each:(i+1)*each]...)
		}
	}
	if each*gaps != len(pins) {
		list = append(list, pins...)
	}
	return list
}

// shellsAt is a bearing with the shells that are chosen for it.
func (a *Assessment) shellsAt(bearing, location string) Seat {
	s := Seat{Location: location, Standing: NotMeasured}
	for _, set := range a.Shells {
		if set.Bearings != bearing {
			continue
		}
		s.HeldBack = slices.Contains(set.HeldBack, location)
		for _, c := range set.Choices {
			switch {
			case c.Location != location:
			case c.Half == "upper":
				s.Upper = c.Grade
			case c.Half == "lower":
				s.Lower = c.Grade
			}
		}
	}
	return s
}

// usualChecks are those of every engine (common practice, no source).
func usualChecks() []Check {
	return []Check{
		{"before first oil pressure", "Every step of the tightening is ticked, and none was done twice."},
		{"before first oil pressure", "The crankshaft turns freely by hand through two whole turns, and nothing touches."},
		{"before first oil pressure", "Oil is filled, and the engine is turned over without ignition or fuel until the gauge shows pressure."},
		{"at first oil pressure", "The gauge reaches what the manual asks for, in the time that it gives. If not: stop at once."},
		{"at first oil pressure", "Nothing leaks and nothing knocks. If it does: stop at once."},
	}
}

// checks are those of the final assembly, in their order, what has to be known after it, and
// those of every engine.
func (a *Assessment) checks() []Check {
	var list []Check
	for _, t := range a.Tightening {
		if t.Phase != Final {
			continue
		}
		for _, what := range t.First {
			list = append(list, Check{"before the first stage of " + t.Group, capital(what)})
		}
		at := map[string][]string{} // the stages after which each is asked
		var asked []string
		for i, p := range t.Stages {
			for _, what := range p.Then {
				if at[what] == nil {
					asked = append(asked, what)
				}
				at[what] = append(at[what], strconv.Itoa(i+1))
			}
		}
		for _, what := range asked {
			when := fmt.Sprintf("after %s of %s", stagesNamed(at[what]), t.Group)
			if t.CapByCap {
				when += ", at each cap"
			}
			list = append(list, Check{when, capital(what)})
		}
	}
	for i := 0; i < len(a.Items); {
		from := i
		for i++; i < len(a.Items) && a.Items[i].Group == a.Items[from].Group && a.Items[i].Quantity == a.Items[from].Quantity; i++ {
		}
		likes := a.Items[from:i] // the places of one line
		if likes[0].Before == After {
			list = append(list, Check{"before " + After.String(), capital(obstacle(likes, len(likes)).What)})
		}
	}
	return append(list, usualChecks()...)
}

// stagesNamed names stages: "stage 2", "stages 2, 3 and 4".
func stagesNamed(numbers []string) string {
	last := len(numbers) - 1
	if last == 0 {
		return "stage " + numbers[0]
	}
	return "stages " + strings.Join(numbers[:last], ", ") + " and " + numbers[last]
}
