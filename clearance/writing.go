package clearance

import (
	"maps"
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// writtenPlaces is how many decimal places a number in words shows at the most.
const writtenPlaces = 6

// number writes q in the unit with no more digits than it has, marked "≈" if it
// has more than writtenPlaces.
func number[D units.Dimension](q units.Quantity[D], u units.Unit[D]) string {
	r := q.Rat(u)
	if places, finite := r.FloatPrec(); finite && places <= writtenPlaces {
		return r.FloatString(places)
	}
	text := q.In(u, writtenPlaces).String()
	return "≈" + text
}

// written is number with the unit's symbol.
func written[D units.Dimension](q units.Quantity[D], u units.Unit[D]) string {
	return number(q, u) + " " + u.String()
}

// span writes an interval in the unit: "0.022..0.038 mm", ">= 0.15 mm".
func span[D units.Dimension](a units.Interval[D], u units.Unit[D]) string {
	switch {
	case !a.HasLo() && !a.HasHi():
		return "not known"
	case !a.HasLo():
		return "<= " + written(a.Hi(), u)
	case !a.HasHi():
		return ">= " + written(a.Lo(), u)
	case a.IsPoint():
		return written(a.Lo(), u)
	}
	return number(a.Lo(), u) + ".." + written(a.Hi(), u)
}

// minus joins numbers with the sign, bracketing those that have one themselves.
func minus(numbers ...string) string {
	for i, n := range numbers {
		if i > 0 && strings.HasPrefix(n, "-") {
			numbers[i] = "(" + n + ")"
		}
	}
	return strings.Join(numbers, " - ")
}

func half() *big.Rat { return big.NewRat(1, 2) }
func one() *big.Rat  { return big.NewRat(1, 1) }

// outwardStep is the step that uncertainties are rounded up to: the sixth place
// of the dimension's first unit.
func outwardStep[D units.Dimension]() units.Quantity[D] {
	const first = 0
	return units.Unit[D](first).OfInt(1).MulRat(big.NewRat(1, 1_000_000))
}

// roundUp returns q rounded up to a whole multiple of outwardStep.
func roundUp[D units.Dimension](q units.Quantity[D]) units.Quantity[D] {
	const first = 0
	return units.Unit[D](first).Of(q.Rounded(first, writtenPlaces, units.Ceiling))
}

// sortedKeys returns the keys in order, so that the first error is always the
// same one.
func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
