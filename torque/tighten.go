package torque

import (
	"fmt"
	"math/big"
	"strconv"

	"example.com/closefit/units"
)

// Tighten pulls a bolt until the wrench shows a torque.
type Tighten struct {
	To     units.Torque         `json:"to"`     // the torque to set, above zero; if missing, the middle of Within
	Within units.TorqueInterval `json:"within"` // the tolerance, with To in it; empty for none
	In     units.TorqueUnit     `json:"in"`     // the unit to print in; N·m if left out
	High   bool                 `json:"high"`   // confirms a torque above 1000 N·m
}

func (Tighten) kind() string { return "tighten" }

// words returns "tighten to 23 N·m", with the tolerance if there is one.
func (t Tighten) words() string {
	s := "tighten to " + t.brief()
	if !t.Within.IsEmpty() {
		s += " (" + limits(t.Within, inUnit(t.In)) + ")"
	}
	return s
}

func (t Tighten) brief() string { return shown(t.To, t.In) }

func (t Tighten) exact() []string {
	return []string{t.To.Exact(), exactly(t.Within), t.In.String(), strconv.FormatBool(t.High)}
}

// Bounds on a torque. One above highTorque has to be said to be meant: the bound catches a
// slip of unit or of the decimal point, and proves nothing of a torque that keeps within it.
// 1000 N·m lies just above the 985 N·m that VDI 2230's table A2 gives for M22x1.5 of class
// 10.9 at a friction of 0.14 (a reproduction was read). None is above mostTorque, whatever is
// said, on an engine of any size: common practice, no source.
var (
	highTorque = units.NewtonMetre.OfInt(1000)
	mostTorque = units.NewtonMetre.OfInt(100_000)
)

// check also refuses a torque that says High and is not: the word would let the next slip
// pass.
func (t Tighten) check() *fault {
	if e := checkTarget(t.To, t.Within, "a torque"); e != nil {
		return e
	}
	most := highest(t.To, t.Within)
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

// checkTarget checks that a target is above zero and lies in its tolerance.
func checkTarget[D units.Dimension](target units.Quantity[D], within units.Interval[D], what string) *fault {
	switch {
	case !within.IsEmpty() && !within.Bounded():
		return &fault{found: fmt.Sprintf("a tolerance of %s", within), fix: "write both of its bounds"}
	case target.Sign() <= 0:
		return &fault{found: fmt.Sprintf("%s of %s", what, target), fix: "write one above zero"}
	case !within.IsEmpty() && !within.Contains(target):
		return &fault{found: fmt.Sprintf("a target of %s outside its own tolerance, %s", target, within), fix: "write a target in it"}
	}
	return nil
}

// highest returns the most that a pull may reach: the upper bound of its tolerance, or the
// target where there is none.
func highest[D units.Dimension](target units.Quantity[D], within units.Interval[D]) units.Quantity[D] {
	if within.HasHi() {
		return units.Max(target, within.Hi())
	}
	return target
}

// Passes returns a stage for each share of a final torque, in percent: Passes(t, 70, 100,
// 100) goes round the bolts at 70 % and twice at the final torque. The tolerance is
// shared likewise. It panics on a share of zero or less.
//
// A first pass at 70 %, then the final torque until no bolt moves, is the general order of
// TM 5-3805-248-23-1, torque limits.
//
// One share lowers a torque that a manual states for other threads: Passes(t, 80) takes
// 20 % off. The manual says which share belongs to which threads: TM 5-3805-248-23-1,
// torque limits, takes 10 % off for engine oil and 20 % off for new plated screws; TM
// 9-2320-362-14&P, appendix F, at least 30 % off for threads into aluminium without
// inserts.
func Passes(final Tighten, percent ...int64) []Stage {
	var stages []Stage
	final.To, _ = aim(final.To, final.Within)
	for _, share := range percent {
		if share <= 0 {
			panic("torque: Passes needs shares above zero")
		}
		pass, r := final, big.NewRat(share, 100)
		pass.To, pass.Within = final.To.MulRat(r), final.Within.MulRat(r)
		stages = append(stages, Stage{Pull: Do(pass)})
	}
	return stages
}

// WithRunOn returns t for a self-locking nut. Its own drag has been measured one turn before
// it seats: the prevailing torque of ISO 2320, run-on torque in the trade. The wrench shows
// the drag and the tightening together.
//
//	T' = T + R
//
// T is the torque that the joint needs, R the run-on torque, T' the one to set; the
// tolerance moves with it. The drag turns the nut and stretches nothing, however small it
// is, so all of it is added: a setting without it leaves the preload short by R/T. A
// negative R counts as zero. If the engine maker's torque already includes the drag, do
// not add it again.
//
// Source: TM 1-1500-204-23-6, page 2-83 (a reproduction was read): the torque is the sum of
// the table's and the tare torque. TB 43-0218, paragraph 7c, leaves out a drag of less than
// a third of the torque and adds a larger one whole; that rule jumps at the third, and is
// not used here.
func (t Tighten) WithRunOn(runOn units.Torque) Tighten {
	t.To, _ = aim(t.To, t.Within)
	if runOn.Sign() <= 0 {
		return t
	}
	t.To = t.To.Add(runOn)
	if !t.Within.IsEmpty() {
		t.Within = t.Within.Shift(runOn)
	}
	return t
}
