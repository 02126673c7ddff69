package torque

import (
	"math/big"
	"strings"

	"example.com/closefit/units"
)

// shown returns a quantity in the unit with all its digits. If it has more than four places,
// it is rounded to two, or to more where it is less than one, and marked "≈".
func shown[D units.Dimension](q units.Quantity[D], in units.Unit[D]) string {
	if places, finite := q.Rat(in).FloatPrec(); finite && places <= 4 {
		return q.Format(in, int32(places), units.HalfEven)
	}
	places := int32(2)
	for tenth := in.OfInt(1); places < 12 && q.Abs().Less(tenth); tenth = tenth.MulRat(big.NewRat(1, 10)) {
		places++
	}
	return "≈" + q.Format(in, places, units.HalfEven)
}

// limits returns an interval with its bounds as show writes them.
func limits[D units.Dimension](a units.Interval[D], show func(units.Quantity[D]) string) string {
	switch {
	case a.Bounded():
		return show(a.Lo()) + " to " + show(a.Hi())
	case a.HasLo():
		return "at least " + show(a.Lo())
	case a.HasHi():
		return "at most " + show(a.Hi())
	}
	return a.String()
}

// inUnit returns shown for one unit.
func inUnit[D units.Dimension](in units.Unit[D]) func(units.Quantity[D]) string {
	return func(q units.Quantity[D]) string { return shown(q, in) }
}

// degrees returns an angle as "90°".
func degrees(a units.Angle) string { return strings.Replace(a.String(), " °", "°", 1) }

// exactly returns an interval with every digit; no text for none.
func exactly[D units.Dimension](a units.Interval[D]) string {
	if a.IsEmpty() {
		return ""
	}
	return a.Exact()
}
