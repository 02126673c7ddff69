package measure

import (
	"math"

	"example.com/closefit/units"
)

// NineInTen is the usual chance to ask of a proposed measurement: nine such readings in
// ten settle the verdict.
const NineInTen = 0.9

// Chance returns the chance that a reading by another instrument, with the expanded
// uncertainty (k = 2) given, settles an undecided verdict: that it lies further from
// every limit than its uncertainty reaches. A chance is all that can be said, because the
// size may lie at a limit. ok is false if the verdict is proven already, if no reading
// could settle it, or if the size may lie anywhere, as in a gap without an upper bound.
//
// For planning only: the size is taken as normal about a value that was read, with
// the standard uncertainty of that, and as evenly spread over a bracket. In float64.
func (a Assessment[D]) Chance(expanded units.Quantity[D]) (chance float64, ok bool) {
	if !a.plannable() || expanded.Sign() <= 0 {
		return 0, false
	}
	return a.chance(expanded.Float64(0)), true
}

// Settling returns the largest expanded uncertainty (k = 2) with which a reading by
// another instrument settles an undecided verdict with the chance given, rounded down. ok
// is false where [Assessment.Chance] says so, or unless 0 < chance < 1.
func (a Assessment[D]) Settling(chance float64) (expanded units.Quantity[D], ok bool) {
	if !a.plannable() || !(chance > 0 && chance < 1) {
		return expanded, false
	}
	b := a.Reading.bracket()
	most := b.Width().Float64(0) + 2*a.Reading.expanded(coverage{}).Float64(0)
	for _, limit := range limits(a.Tolerance) {
		most += limit.Sub(b.Lo()).Abs().Float64(0)
	}
	least := most * 1e-9
	if a.chance(least) < chance {
		return expanded, false
	}
	// The chance falls as the uncertainty grows; look for where it passes.
	for range 200 {
		if middle := math.Sqrt(least * most); a.chance(middle) >= chance {
			least = middle
		} else {
			most = middle
		}
	}
	const first = 0
	q, err := units.Unit[D](first).OfFloat64(least, 12)
	if err != nil {
		return expanded, false
	}
	expanded = units.Unit[D](first).Of(q.Rounded(first, places, units.Floor))
	return expanded, expanded.Sign() > 0
}

// plannable reports whether the verdict is open and something is known of where the
// size may lie.
func (a Assessment[D]) plannable() bool {
	return a.Verdict == Undecided && a.Reading.Problem() == "" && a.Reading.bracket().Bounded() && len(limits(a.Tolerance)) > 0
}

// chance is Chance of an uncertainty in the dimension's first unit.
func (a Assessment[D]) chance(reach float64) float64 {
	b := a.Reading.bracket()
	least := math.Inf(-1) // below which a new reading contradicts itself
	if a.Reading.nonNegative {
		b, least = above(b), -reach
	}
	lo, hi := b.Lo().Float64(0), b.Hi().Float64(0)
	u := a.Reading.expanded(coverage{}).Float64(0) / 2
	s := math.Hypot(u, reach/2) // of the new reading about the bracket
	between := func(from, to float64) float64 {
		return max(0, meanBelow(to, lo, hi, s)-meanBelow(max(from, least), lo, hi, s))
	}
	from, to := math.Inf(-1), math.Inf(1)
	var outside float64
	if t := a.Tolerance; t.HasLo() && !(a.Reading.nonNegative && t.Lo().Sign() <= 0) {
		from = t.Lo().Float64(0) + reach
		outside += between(math.Inf(-1), t.Lo().Float64(0)-reach)
	}
	if t := a.Tolerance; t.HasHi() {
		to = t.Hi().Float64(0) - reach
		outside += between(t.Hi().Float64(0)+reach, math.Inf(1))
	}
	if a.Reading.nonNegative && to < 0 { // what is read below zero is moved there, and reaches above the limit
		return outside
	}
	return outside + between(from, to)
}

// meanBelow returns the probability that a normal about a middle that is evenly
// spread from lo to hi lies below y: the mean of Φ, whose integral is zΦ(z) + φ(z).
func meanBelow(y, lo, hi, s float64) float64 {
	switch {
	case math.IsInf(y, 1):
		return 1
	case math.IsInf(y, -1):
		return 0
	case (hi-lo)/s < 1e-6: // the middle's, within 1e-13
		return normal((y - lo/2 - hi/2) / s)
	}
	area := func(z float64) float64 { return z*normal(z) + density(z) }
	return (area((y-lo)/s) - area((y-hi)/s)) * s / (hi - lo)
}

// normal is Φ, and density its derivative.
func normal(z float64) float64  { return math.Erfc(-z/math.Sqrt2) / 2 }
func density(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }
