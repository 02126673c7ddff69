package clearance

import (
	"fmt"
	"math/big"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Slip is a likely meaning of an implausible reading: the decimal point one place
// further, the same number in another unit, or a turn of the thimble more or less. Show
// it beside the reading; it never takes its place.
type Slip[D units.Dimension] struct {
	What      string            `json:"what"`      // "the decimal point one place to the left"
	Corrected units.Interval[D] `json:"corrected"` // what was meant, if so
	Verdict   measure.Verdict   `json:"verdict"`   // of Corrected
	Unit      string            `json:"unit"`      // the symbol of the unit that was meant
}

// plausible is how far from its limits a reading may be before a slip is looked
// for: this many times their width, and this many times a limit or this part of
// it. It is about half a decimal place, and a matter of judgement.
const plausible = 3

// Slips returns the likely meanings of a reading that is implausible against its limits,
// conforming ones first; none if the reading is plausible or missing, or without limits.
// typed is the unit that it was written in, and others are units that may have been
// meant. turns are the steps by which its instrument may be miscounted: a thimble moves
// on by 0.5 mm or 0.025 in a turn, a dial's hand goes round in 1 mm or 0.1 in.
//
// A reading is implausible if no part of it lies within three times the width of the
// limits from them, or if all of it is below a third of the lower limit or above three
// times the upper one. A slip must be plausible itself. It moves the value or the bracket
// that was read and keeps the instrument's uncertainty. Limits wider than about a seventh
// of a turn never reveal a lost turn.
func Slips[D units.Dimension](r measure.Reading[D], tolerance units.Interval[D], typed units.Unit[D], others []units.Unit[D], turns ...units.Quantity[D]) []Slip[D] {
	m := r.Interval()
	if m.IsEmpty() || !tolerance.HasLo() && !tolerance.HasHi() || !implausible(m, tolerance) {
		return nil
	}
	var conforming, rest []Slip[D]
	add := func(what string, bracket units.Interval[D], meant units.Unit[D]) {
		corrected := bracket.Add(units.PlusMinus(units.Quantity[D]{}, r.Expanded()))
		if implausible(corrected, tolerance) {
			return
		}
		found := Slip[D]{What: what, Corrected: corrected, Verdict: measure.Judge(corrected, tolerance), Unit: meant.String()}
		if found.Verdict == measure.Conforming {
			conforming = append(conforming, found)
		} else {
			rest = append(rest, found)
		}
	}
	read := r.Bracket()
	add("the decimal point one place to the left", read.MulRat(big.NewRat(1, 10)), typed)
	add("the decimal point one place to the right", read.MulRat(big.NewRat(10, 1)), typed)
	for _, u := range others {
		if u != typed {
			add(fmt.Sprintf("the number in %s and not in %s", u, typed), read.MulRat(new(big.Rat).Quo(u.Factor(), typed.Factor())), u)
		}
	}
	for _, turn := range turns {
		if turn.Sign() > 0 {
			add("one turn of "+turn.Written(typed)+" less", read.Shift(turn.Neg()), typed)
			add("one turn of "+turn.Written(typed)+" more", read.Shift(turn), typed)
		}
	}
	return append(conforming, rest...)
}

// String says the likely meaning: "probable slip: the decimal point one place to the left
// would make it 0.038 mm, conforming".
func (s Slip[D]) String() string {
	u, err := units.Parse[units.Unit[D]](s.Unit)
	if err != nil {
		u = 0 // the first unit of the dimension
	}
	return fmt.Sprintf("probable slip: %s would make it %s, %s; read it again", s.What, s.Corrected.Written(u), s.Verdict)
}

// implausible reports whether a reading is too far from its limits to be meant.
func implausible[D units.Dimension](m, tolerance units.Interval[D]) bool {
	if !near(m, tolerance) {
		return true
	}
	third := big.NewRat(1, plausible)
	if tolerance.HasLo() && tolerance.Lo().Sign() > 0 && m.HasHi() && m.Hi().Less(tolerance.Lo().MulRat(third)) {
		return true
	}
	return tolerance.HasHi() && tolerance.Hi().Sign() > 0 && m.HasLo() && tolerance.Hi().MulInt(plausible).Less(m.Lo())
}

// near reports whether part of m lies within so many widths of the limits; a
// single limit counts for the width itself.
func near[D units.Dimension](m, tolerance units.Interval[D]) bool {
	switch {
	case tolerance.Bounded():
		reach := tolerance.Width().MulInt(plausible)
		return m.Overlaps(tolerance.Add(units.PlusMinus(units.Quantity[D]{}, reach)))
	case tolerance.HasHi():
		return m.Overlaps(units.AtMost(tolerance.Hi().Add(tolerance.Hi().Abs().MulInt(plausible - 1))))
	}
	return m.Overlaps(units.AtLeast(tolerance.Lo().Sub(tolerance.Lo().Abs())))
}
