package job

import (
	"fmt"
	"slices"
)

// A Phase is a part of the build. A gate stands before each: what must be known, or
// accepted by somebody, before it may begin. The phases are in their order.
type Phase uint8

const (
	Inspect Phase = iota // measure the parts
	Choose               // choose shells, and buy
	Trial                // put it together to read strips, blades and dials
	Final                // put it together for good
	After                // before and at the first oil pressure
)

var phases = [...]string{Inspect: "inspection", Choose: "choosing and buying", Trial: "trial assembly", Final: "final assembly", After: "first oil pressure"}

// String returns what the phase is called: "trial assembly".
func (p Phase) String() string { return phases[p] }

// Words are the phases in words.
func (Phase) Words() []string { return phases[:] }

// MarshalText returns String.
func (p Phase) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// UnmarshalText reads the words of String.
func (p *Phase) UnmarshalText(text []byte) error {
	i := slices.Index(phases[:], string(text))
	if i < 0 {
		return fmt.Errorf("phase %q: %w; write one of %q", text, ErrUnknown, phases)
	}
	*p = Phase(i)
	return nil
}

// Phases returns all phases, in their order.
func Phases() []Phase { return []Phase{Inspect, Choose, Trial, Final, After} }

// A Standing says what is known of an item, best first.
type Standing uint8

const (
	Proven      Standing = iota
	ToOrder              // a part has to be had first
	Undecided            // read, and not well enough
	NotMeasured          // not read, not said, or without limits
	Wrong                // proven wrong
)

var standings = [...]string{Proven: "proven", ToOrder: "to order", Undecided: "undecided", NotMeasured: "not measured", Wrong: "wrong"}

// String returns the standing in a word or two.
func (s Standing) String() string { return standings[s] }

// Words are the standings in words.
func (Standing) Words() []string { return standings[:] }

// MarshalText returns String.
func (s Standing) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads the words of String.
func (s *Standing) UnmarshalText(text []byte) error {
	i := slices.Index(standings[:], string(text))
	if i < 0 {
		return fmt.Errorf("standing %q: %w; write one of %q", text, ErrUnknown, standings)
	}
	*s = Standing(i)
	return nil
}

// An Item is one thing that has to be known before a phase of the build may begin. Its
// name is what it is called everywhere: in the record, and in the job file where it is
// accepted or left out.
type Item struct {
	Name     string   `json:"name"` // "main bearing 2 clearance": its group, location and quantity
	Group    string   `json:"group"`
	Location string   `json:"location"` // empty for what is there once
	Quantity string   `json:"quantity"`
	Before   Phase    `json:"before"` // the first phase whose gate asks for it
	Standing Standing `json:"standing"`
	Why      string   `json:"why"`    // what is known of it, in a sentence
	Bolt     string   `json:"bolt"`   // the bolt that it holds back; empty if it is about none
	Excuse   *Excuse  `json:"excuse"` // by which it opens the gate all the same; null if by none
}

// Passes reports whether the item keeps no gate shut.
func (i Item) Passes() bool { return i.Standing == Proven || i.Excuse != nil }

// An Excuse is somebody's word for an item that is not proven. It opens a gate. It
// proves nothing, and serves for no bolt that is proven wrong.
type Excuse struct {
	What    string `json:"what"` // the item, or the line or part of a line that it belongs to
	LeftOut bool   `json:"left_out"`
	By      string `json:"by"`
	Reason  string `json:"reason"`
}

// A Gate stands before a phase. It is open when nothing keeps it shut.
type Gate struct {
	Before   Phase  `json:"before"`
	Open     bool   `json:"open"`
	Proven   int    `json:"proven"`   // how many items are
	Shut     []Item `json:"shut"`     // what keeps it shut, worst first
	Accepted []Item `json:"accepted"` // what opens it on somebody's word alone
}

// Gate returns the gate before a phase. It asks for everything that this phase and those
// before it ask for.
func (a *Assessment) Gate(p Phase) Gate {
	g := Gate{Before: p, Shut: []Item{}, Accepted: []Item{}}
	for _, i := range a.Items {
		switch {
		case i.Before > p:
		case i.Standing == Proven:
			g.Proven++
		case i.Excuse != nil:
			g.Accepted = append(g.Accepted, i)
		default:
			g.Shut = append(g.Shut, i)
		}
	}
	slices.SortStableFunc(g.Shut, func(a, b Item) int { return int(b.Standing) - int(a.Standing) })
	g.Open = len(g.Shut) == 0 && len(a.Items) > 0
	return g
}

// excuseTable is an [[accepted]] or a [[left_out]] of a job file.
type excuseTable struct {
	What   string `toml:"what"`
	By     string `toml:"by"`
	Reason string `toml:"reason"`
}

// readExcuses reads what was accepted or left out. Whether there is such an item is asked
// when the items are known.
func (r *reader) readExcuses(key string, tables []excuseTable, leftOut bool, seen map[string]string) []Excuse {
	var list []Excuse
	for i, t := range tables {
		path := fmt.Sprintf("%s[%d]", key, i)
		ok1, ok2, ok3 := r.present(path+".what", t.What), r.present(path+".by", t.By), r.present(path+".reason", t.Reason)
		if ok1 && ok2 && ok3 && r.once(path+".what", t.What, "item", seen) {
			list = append(list, Excuse{t.What, leftOut, t.By, t.Reason})
		}
	}
	return list
}
