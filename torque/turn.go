package torque

import (
	"fmt"
	"strconv"

	"example.com/closefit/units"
)

// Turn turns a bolt further by an angle, from its position after the stage before.
type Turn struct {
	By     units.Angle         `json:"by"`     // how far, above zero; if missing, the middle of Within
	Within units.AngleInterval `json:"within"` // the tolerance, with By in it; empty for none
	Beyond bool                `json:"beyond"` // confirms a turn that takes the bolt more than a full turn past snug
}

// BackOff loosens a bolt.
type BackOff struct {
	By units.Angle // how far, at most a full turn; zero means until it turns freely
}

func (Turn) kind() string    { return "turn" }
func (BackOff) kind() string { return "back off" }

// words returns "turn 55° further", with the tolerance if there is one.
func (t Turn) words() string {
	s := "turn " + degrees(t.By) + " further"
	if !t.Within.IsEmpty() {
		s += " (" + limits(t.Within, degrees) + ")"
	}
	return s
}

// words returns "back off until it turns freely" or "back off 90°".
func (b BackOff) words() string {
	if b.By.IsZero() {
		return "back off until it turns freely"
	}
	return "back off " + degrees(b.By)
}

func (t Turn) brief() string  { return "+" + degrees(t.By) }
func (BackOff) brief() string { return "back off" }

func (t Turn) exact() []string {
	return []string{t.By.Exact(), exactly(t.Within), strconv.FormatBool(t.Beyond)}
}

func (b BackOff) exact() []string { return []string{b.By.Exact()} }

// Bounds on a turn. One that takes a bolt further than fullTurn past snug has to be said to
// be meant: the bound is four times the usual 90° and catches a slip of unit. None goes
// beyond mostTurn, whatever is said. Common practice, no source.
var (
	fullTurn = units.Turn.OfInt(1)
	mostTurn = units.Turn.OfInt(3)
)

func (t Turn) check() *fault { return checkTarget(t.By, t.Within, "an angle") }

// checkBeyond checks a turn that begins so far past snug. It also refuses one that says
// Beyond and is not: the word would let the next slip pass.
func (t Turn) checkBeyond(past units.Angle) *fault {
	total := past.Add(t.furthest())
	beyond := fullTurn.Less(total)
	switch {
	case mostTurn.Less(total):
		return &fault{kind: ErrBeyondTurn, found: fmt.Sprintf("it takes the bolt %s past snug, beyond three turns", degrees(total)), fix: "look at its unit"}
	case beyond && !t.Beyond:
		return &fault{kind: ErrBeyondTurn, found: fmt.Sprintf("it takes the bolt %s past snug, more than a full turn", degrees(total)),
			fix: "look at the unit; if it is meant, set Beyond"}
	case t.Beyond && !beyond:
		return &fault{found: fmt.Sprintf("it says Beyond, and takes the bolt %s past snug, no more than a full turn", degrees(total)),
			fix: "take Beyond out"}
	}
	return nil
}

// furthest returns the largest angle that the turn allows.
func (t Turn) furthest() units.Angle { return highest(t.By, t.Within) }

func (b BackOff) check() *fault {
	switch {
	case b.By.Sign() < 0:
		return &fault{found: "a negative angle, " + degrees(b.By), fix: "write how far to loosen, without a sign"}
	case fullTurn.Less(b.By):
		return &fault{kind: ErrBeyondTurn, found: fmt.Sprintf("it backs off by %s, more than a full turn", degrees(b.By)),
			fix: "look at the unit; if it is meant, back off until it turns freely"}
	}
	return nil
}
