package ask

import (
	"math"
	"strings"

	"example.com/closefit/units"
	"github.com/shopspring/decimal"
)

// shownPlaces is to how many places of the asked unit a computed bound is rounded.
const shownPlaces = 9

// shownOutward writes a computed interval in a unit, rounded outward.
func shownOutward[D units.Dimension](a units.Interval[D], u units.Unit[D]) (b Bounds) {
	if a.HasLo() {
		b.Lo = ptr(inUnit(a.Lo().Rounded(u, shownPlaces, units.Floor), u))
	}
	if a.HasHi() {
		b.Hi = ptr(inUnit(a.Hi().Rounded(u, shownPlaces, units.Ceiling), u))
	}
	return b
}

// shownInward writes a computed interval of sizes that serve, rounded inward; nil if nothing is left.
func shownInward[D units.Dimension](a units.Interval[D], u units.Unit[D]) *Bounds {
	in, err := a.Inward(u, shownPlaces)
	if err != nil {
		return nil
	}
	return ptr(shownOutward(in, u))
}

// inUnit writes a number with its unit, without zeros at its end.
func inUnit[D units.Dimension](d decimal.Decimal, u units.Unit[D]) string {
	return strings.TrimSpace(d.String() + " " + u.String())
}

// exactly writes limits with every digit: in the unit, or in another one where they have no
// end in it.
func exactly[D units.Dimension](a units.Interval[D], u units.Unit[D]) (b Bounds) {
	text := func(q units.Quantity[D]) *string {
		if n := ratio(q.Rat(u)); n[0] != '(' {
			return ptr(strings.TrimSpace(n + " " + u.String()))
		}
		return ptr(q.Exact())
	}
	if a.HasLo() {
		b.Lo = text(a.Lo())
	}
	if a.HasHi() {
		b.Hi = text(a.Hi())
	}
	return b
}

// significant rounds a number that was searched for in floating point down to three digits.
func significant(d decimal.Decimal) decimal.Decimal {
	f, _ := d.Float64()
	if f == 0 {
		return d
	}
	return d.RoundFloor(2 - int32(math.Floor(math.Log10(math.Abs(f)))))
}
