package clearance

import "example.com/closefit/units"

// An Agreement says whether two readings of one quantity can both be right: a
// clearance by strip, and the same from micrometer and bore gauge.
type Agreement[D units.Dimension] struct {
	First, Second Reading[D]

	// Known is false if one of the two was not taken or has nothing in it; then
	// nothing else is.
	Known bool

	// Agree is whether the intervals have a value in common.
	Agree bool

	// Common is the reading of what they have in common, if they agree. It
	// is as sure as the less sure of the two.
	Common Reading[D]

	// Apart is how far the nearer ends lie from each other; zero if they agree.
	Apart units.Quantity[D]
}

// words says whether the two agree.
func (a Agreement[D]) words(u units.Unit[D]) string {
	if a.Agree {
		return "measured in two ways, which agree: both hold in " + span(a.Common.Interval(), u)
	}
	return "measured in two ways, which do not agree: they lie " + written(a.Apart, u) + " apart, and one is wrong"
}

// Compare compares two readings of one quantity. Readings that do not agree
// prove each other wrong, and neither is to be used before it is known why.
func Compare[D units.Dimension](first, second Reading[D]) Agreement[D] {
	a := Agreement[D]{First: first, Second: second, Known: !first.Interval().IsEmpty() && !second.Interval().IsEmpty()}
	if !a.Known {
		return a
	}
	common, ok := first.Interval().Intersect(second.Interval())
	if !ok {
		a.Apart = first.Interval().Gap(second.Interval())
		return a
	}
	a.Agree = true
	a.Common = Reading[D]{bracket: common}.made(byAgreement, "", first, second)
	return a
}
