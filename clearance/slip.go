package clearance

import (
	"fmt"
	"math/big"

	"example.com/closefit/units"
)

// A Slip is what an implausible reading may have been meant as: the decimal
// point one place further, or the same number in another unit. It is shown
// beside the reading, and never takes its place.
type Slip[D units.Dimension] struct {
	What      string            // "the decimal point one place to the left"
	Corrected Reading[D]        // what was meant, if so
	Verdict   Verdict           // of Corrected
	Factor    *big.Rat          // Corrected over the reading
	Unit      units.Unit[D]     // the unit that was meant
	Tolerance units.Interval[D] // what both are judged against
}

// plausible is how far from its limits a reading may be before a slip is looked
// for: this many times their width, and this many times a limit or this part of
// it. It is about half a decimal place, and a matter of judgement.
const plausible = 3

// Slips returns what a reading that is implausible against its limits may have
// been meant as, those that would conform first; none for a reading that is
// plausible, or was not taken, or against a tolerance without limits. typed is
// the unit that it was written in, and others are those that it may have been
// meant in.
//
// A reading is implausible if no part of it lies within three times the width of
// the limits from them, or if all of it is below a third of the lower limit or
// above three times the upper one. What was meant must not be so. A slip moves what
// was read, value or bracket; an uncertainty is the instrument's, and stays.
func Slips[D units.Dimension](r Reading[D], tolerance units.Interval[D], typed units.Unit[D], others ...units.Unit[D]) []Slip[D] {
	if r.Interval().IsEmpty() || !tolerance.HasLo() && !tolerance.HasHi() || !implausible(r.Interval(), tolerance) {
		return nil
	}
	type candidate struct {
		what   string
		factor *big.Rat
		unit   units.Unit[D]
	}
	candidates := []candidate{
		{"the decimal point one place to the left", big.NewRat(1, 10), typed},
		{"the decimal point one place to the right", big.NewRat(10, 1), typed},
	}
	for _, u := range others {
		if u != typed {
			candidates = append(candidates, candidate{
				fmt.Sprintf("the number in %s and not in %s", u, typed), new(big.Rat).Quo(u.Factor(), typed.Factor()), u})
		}
	}
	var conforming, rest []Slip[D]
	for _, c := range candidates {
		meant := r.Times(c.factor)
		meant.expanded = r.expanded // the instrument's own, which no slip changes
		if implausible(meant.Interval(), tolerance) {
			continue
		}
		meant.how, meant.name = asGiven, "if it was a slip: "+c.what
		s := Slip[D]{What: c.what, Corrected: meant, Factor: c.factor, Unit: c.unit, Tolerance: tolerance,
			Verdict: Judge(meant.Interval(), tolerance)}
		if s.Verdict == Conforming {
			conforming = append(conforming, s)
		} else {
			rest = append(rest, s)
		}
	}
	return append(conforming, rest...)
}

// String says what may have been meant: "probable slip: the decimal point one
// place to the left would make it 0.038 mm, conforming".
func (s Slip[D]) String() string {
	return fmt.Sprintf("probable slip: %s would make it %s, %s; read it again", s.What, span(s.Corrected.Interval(), s.Unit), s.Verdict)
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
