package clearance

import (
	"math/big"

	"example.com/closefit/units"
)

// An Assessment is a reading judged against its tolerance interval, with what
// is proven on each side and what would prove more.
type Assessment[D units.Dimension] struct {
	Reading   Reading[D]
	Tolerance units.Interval[D]
	Verdict   Verdict
}

// Assess judges a reading by the default rule of ISO 14253-1.
func Assess[D units.Dimension](reading Reading[D], tolerance units.Interval[D]) Assessment[D] {
	return Assessment[D]{Reading: reading, Tolerance: tolerance, Verdict: Judge(reading.Interval(), tolerance)}
}

// Working shows the verdict with its numbers in the unit: which side is proven,
// and by how much.
func (a Assessment[D]) Working(u units.Unit[D]) units.Working {
	w := units.Working{
		Name:    "verdict",
		Formula: "all of the reading within the limits: conforming; none of it: outside",
		Numbers: span(a.Reading.Interval(), u) + " to " + span(a.Tolerance, u),
		Result:  a.Verdict.String(),
		Source:  "ISO 14253-1:2017, default rule",
	}
	if margin, ok := a.Margin(); ok {
		w.Notes = append(w.Notes, "inside by "+written(margin, u)+" at least")
	}
	if by, ok := a.Outside(); ok {
		w.Notes = append(w.Notes, "outside by "+span(by, u))
	}
	if a.Tolerance.IsEmpty() {
		w.Notes = append(w.Notes, "no tolerance was given: nothing is proven")
	}
	if a.Verdict != Undecided || !a.Reading.Taken() {
		return w
	}
	if a.AboveLower() && a.Tolerance.HasLo() {
		w.Notes = append(w.Notes, "proven not to be below the lower limit")
	}
	if a.BelowUpper() && a.Tolerance.HasHi() {
		w.Notes = append(w.Notes, "proven not to be above the upper limit")
	}
	if needed, ok := a.Needed(); ok {
		w.Notes = append(w.Notes, "an expanded uncertainty of "+written(needed, u)+" would settle it")
	}
	return w
}

// AboveLower reports whether it is proven that the value is not below the lower
// limit. So it is when the tolerance has no lower limit; without a reading or a
// tolerance nothing is proven.
func (a Assessment[D]) AboveLower() bool {
	m := a.Reading.Interval()
	if m.IsEmpty() || a.Tolerance.IsEmpty() {
		return false
	}
	return !a.Tolerance.HasLo() || m.HasLo() && a.Tolerance.Lo().Cmp(m.Lo()) <= 0
}

// BelowUpper reports whether it is proven that the value is not above the upper
// limit. So it is when the tolerance has no upper limit; without a reading or a
// tolerance nothing is proven.
func (a Assessment[D]) BelowUpper() bool {
	m := a.Reading.Interval()
	if m.IsEmpty() || a.Tolerance.IsEmpty() {
		return false
	}
	return !a.Tolerance.HasHi() || m.HasHi() && m.Hi().Cmp(a.Tolerance.Hi()) <= 0
}

// Margin returns how far inside the limits the value is proven to be, at the
// least: the distance from the reading to the nearer limit. ok is false unless
// the verdict is Conforming, and when there is no limit at all.
func (a Assessment[D]) Margin() (margin units.Quantity[D], ok bool) {
	if a.Verdict != Conforming {
		return margin, false
	}
	m := a.Reading.Interval()
	if a.Tolerance.HasLo() {
		margin, ok = m.Lo().Sub(a.Tolerance.Lo()), true
	}
	if a.Tolerance.HasHi() {
		above := a.Tolerance.Hi().Sub(m.Hi())
		if !ok || above.Less(margin) {
			margin, ok = above, true
		}
	}
	return margin, ok
}

// Outside returns by how much the value is proven to be outside the limits: at
// least its lower bound, at most its upper one, if it has one. ok is false
// unless the verdict is BelowLimit or AboveLimit.
func (a Assessment[D]) Outside() (by units.Interval[D], ok bool) {
	switch a.Verdict {
	case BelowLimit:
		return units.Exactly(a.Tolerance.Lo()).Sub(a.Reading.Interval()), true
	case AboveLimit:
		return a.Reading.Interval().Sub(units.Exactly(a.Tolerance.Hi())), true
	}
	return by, false
}

// Needed returns the largest expanded uncertainty (k = 2) that would settle an
// undecided reading. ok is false if the verdict is proven already, if nothing
// was measured or no tolerance given, or if no uncertainty would be small enough.
//
// A reading that is a value with an uncertainty is taken to stay where it is: it
// is settled when its uncertainty no longer reaches a limit, so the distance to
// the nearest limit is what is needed. (A value beyond a limit must clear it;
// one within may touch it.)
//
// A bracket has no middle to stay at; the value may be anywhere in it. The limits
// cut it into parts, below, inside and above, and what is needed is half the
// width of the narrowest: then each answer that is still open can be proven by a
// reading in the middle of its part. A value that turns out to lie nearer to a
// limit than the new uncertainty stays undecided even so, and no instrument can
// promise more. Of a reading without an upper bound, the part above the last
// limit counts as wide.
func (a Assessment[D]) Needed() (expanded units.Quantity[D], ok bool) {
	if a.Verdict != Undecided || a.Reading.Interval().IsEmpty() || a.Tolerance.IsEmpty() {
		return expanded, false
	}
	if b := a.Reading.Bracket(); b.IsPoint() {
		expanded = a.nearestLimit(b.Lo())
		return expanded, expanded.Sign() > 0
	}
	return a.narrowestPart()
}

// nearestLimit returns the distance from the value to the nearest limit.
func (a Assessment[D]) nearestLimit(value units.Quantity[D]) units.Quantity[D] {
	var nearest units.Quantity[D]
	found := false
	for _, limit := range a.limits() {
		if d := limit.Sub(value).Abs(); !found || d.Less(nearest) {
			nearest, found = d, true
		}
	}
	return nearest
}

// limits returns the limits that there are, ascending.
func (a Assessment[D]) limits() []units.Quantity[D] {
	var limits []units.Quantity[D]
	if a.Tolerance.HasLo() {
		limits = append(limits, a.Tolerance.Lo())
	}
	if a.Tolerance.HasHi() {
		limits = append(limits, a.Tolerance.Hi())
	}
	return limits
}

// narrowestPart returns half the width of the narrowest part that the limits cut
// the reading into.
func (a Assessment[D]) narrowestPart() (expanded units.Quantity[D], ok bool) {
	m := a.Reading.Interval()
	var ends []units.Quantity[D]
	if m.HasLo() {
		ends = append(ends, m.Lo())
	}
	for _, limit := range a.limits() {
		if m.Contains(limit) {
			ends = append(ends, limit)
		}
	}
	if m.HasHi() {
		ends = append(ends, m.Hi())
	}
	for i := 1; i < len(ends); i++ {
		width := ends[i].Sub(ends[i-1])
		if width.Sign() > 0 && (!ok || width.Less(expanded)) {
			expanded, ok = width, true
		}
	}
	return expanded.MulRat(big.NewRat(1, 2)), ok
}

// SettledBy reports whether an uncertainty (k = 2) is small enough to settle an
// undecided reading, as Needed has it.
func (a Assessment[D]) SettledBy(expanded units.Quantity[D]) bool {
	needed, ok := a.Needed()
	if !ok || expanded.Sign() <= 0 {
		return false
	}
	if b := a.Reading.Bracket(); b.IsPoint() && !a.Tolerance.Contains(b.Lo()) {
		return expanded.Less(needed)
	}
	return expanded.Cmp(needed) <= 0
}

// Settling returns those of the instruments that would settle an undecided
// reading by measuring the quantity directly, in the order given: by their
// uncertainty at k = 2, or wider where its degrees of freedom are limited. One that
// Check refuses settles nothing.
func (a Assessment[D]) Settling(instruments ...Instrument[D]) []Instrument[D] {
	var good []Instrument[D]
	for _, in := range instruments {
		if in.Check() == nil && a.SettledBy(in.reach()) {
			good = append(good, in)
		}
	}
	return good
}

// Together returns the expanded uncertainty (k = 2) of a sum or a difference of
// one reading with each of the instruments, by root-sum-square: of a bore gauge,
// and of a micrometer once for each wall and once for the journal.
func Together[D units.Dimension](instruments ...Instrument[D]) units.Quantity[D] {
	doubts := make([]units.Quantity[D], len(instruments))
	for i, in := range instruments {
		doubts[i] = in.Uncertainty
	}
	return units.RootSumSquare(outwardStep[D](), doubts...)
}
