package torque

import (
	"fmt"
	"strings"
	"time"

	"example.com/closefit/units"
)

// Wait lets time pass, for a gasket or a sealant to settle.
type Wait struct {
	For time.Duration // above zero
	Why string        // may be empty
}

// An Inspection asks someone to look or measure before the work goes on.
type Inspection struct {
	Ask    string               `json:"ask"`    // "does the crank turn freely by hand?"
	Within units.LengthInterval `json:"within"` // the limits of a measured length; empty if nothing is measured
	In     units.LengthUnit     `json:"in"`     // the unit to print it in; mm if left out
	IfNot  string               `json:"if_not"` // what to do otherwise; "stop and find out why" if empty
}

func (Wait) kind() string       { return "wait" }
func (Inspection) kind() string { return "check" }

// words returns "wait 10m" and why.
func (w Wait) words() string {
	if w.Why == "" {
		return w.brief()
	}
	return w.brief() + ", " + w.Why
}

// words returns the question, what a measured length must lie in, and what to do
// if it does not.
func (c Inspection) words() string {
	s := c.Ask
	if !c.Within.IsEmpty() {
		s += " It must be " + limits(c.Within, inUnit(c.In)) + "."
	}
	if c.IfNot == "" {
		return s + " If not: stop and find out why."
	}
	return s + " If not: " + strings.TrimSuffix(c.IfNot, ".") + "."
}

// brief returns "wait 10m", without the seconds and minutes that it has not.
func (w Wait) brief() string {
	s := w.For.String()
	if strings.HasSuffix(s, "m0s") {
		s = strings.TrimSuffix(s, "0s")
	}
	if strings.HasSuffix(s, "h0m") {
		s = strings.TrimSuffix(s, "0m")
	}
	return "wait " + s
}

func (Inspection) brief() string { return "check" }

func (w Wait) exact() []string { return []string{w.For.String(), w.Why} }

func (c Inspection) exact() []string {
	return []string{c.Ask, exactly(c.Within), c.In.String(), c.IfNot}
}

func (w Wait) check() *fault {
	if w.For <= 0 {
		return &fault{found: fmt.Sprintf("a wait of %s", w.For), fix: "write a time above zero"}
	}
	return checkText(w.Why)
}

func (c Inspection) check() *fault {
	if strings.TrimSpace(c.Ask) == "" {
		return &fault{found: "a check that asks nothing", fix: "write the question"}
	}
	return checkText(c.Ask + c.IfNot)
}
