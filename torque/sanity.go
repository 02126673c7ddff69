package torque

import (
	"fmt"

	"example.com/closefit/units"
)

// Bounds on what is taken without a word. They catch a slip of unit or of the decimal
// point, and prove nothing of a pull that keeps within them.
//
// 1000 N·m lies just above the 985 N·m that VDI 2230's table A2 gives for M22x1.5 of
// class 10.9 at a friction of 0.14 (a reproduction was read). A full turn is four times
// the usual 90°: common practice, no source.
var (
	highTorque = units.NewtonMetre.OfInt(1000)
	fullTurn   = units.Turn.OfInt(1)
)

// Bounds on what a wrench can do to a bolt of an engine, large ones included, whatever is
// said: common practice, no source.
var (
	mostTorque = units.NewtonMetre.OfInt(100_000)
	mostTurn   = units.Turn.OfInt(3)
)

// checkHigh refuses a torque above highTorque that does not say so, and one that says so
// and is not: the word would let the next slip pass.
func (t Tighten) checkHigh() *fault {
	most := t.To
	if !t.Within.IsEmpty() {
		most = units.Max(most, t.Within.Hi())
	}
	high := highTorque.Less(most)
	switch {
	case mostTorque.Less(most):
		return &fault{found: fmt.Sprintf("a torque of %s, beyond %s", shown(most, t.In), shown(mostTorque, t.In)), fix: "look at its unit"}
	case high && !t.High:
		return &fault{found: fmt.Sprintf("a torque of %s, above %s", shown(most, t.In), shown(highTorque, t.In)),
			fix: "look at the unit and the decimal point; if it is meant, set High"}
	case t.High && !high:
		return &fault{found: fmt.Sprintf("it says High, and its torque of %s is not above %s", shown(most, t.In), shown(highTorque, t.In)),
			fix: "take High out"}
	}
	return nil
}

// checkBeyond does the same with a turn that takes a bolt from so far past snug.
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
func (t Turn) furthest() units.Angle {
	if t.Within.IsEmpty() {
		return t.By
	}
	return units.Max(t.By, t.Within.Hi())
}
