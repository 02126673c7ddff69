package clearance

import (
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Filing says how much to file off a ring's ends to prove its gap inside its limits.
type Filing struct {
	// Amount is how much, at least and at most. If the gap is inside already, the amount
	// begins at zero.
	Amount units.LengthInterval `json:"amount"`

	// Gap is the gap that was read, and Limits are those it is filed to.
	Gap    measure.LengthReading `json:"gap"`
	Limits units.LengthInterval  `json:"limits"`
}

// File returns how much to file off a ring to prove its gap inside the limits: from L -
// g_lo to H - g_hi, with L and H the limits and g the gap that was read. ok is false if
// filing cannot do it: the gap may already be too wide, which takes another ring; it is
// known less closely than the limits are apart; or a bound is missing. File a little,
// square to the ring, and measure again: filing cannot be undone.
func File(gap measure.LengthReading, limits units.LengthInterval) (f Filing, ok bool) {
	g := gap.Interval()
	if !g.Bounded() || !limits.Bounded() {
		return f, false
	}
	off, ok := within(limits, g)
	if !ok || off.Hi().Sign() < 0 {
		return f, false
	}
	return Filing{Amount: units.MustInterval(units.Max(off.Lo(), units.Length{}), off.Hi()), Gap: gap, Limits: limits}, true
}

// Working shows the amount with its numbers in the unit. For the zero Filing it says
// that the amount is not known.
func (f Filing) Working(u units.LengthUnit) units.Working {
	g := f.Gap.Interval()
	if !g.Bounded() || !f.Limits.Bounded() {
		return units.Working{Name: "to file off", Result: "not known"}
	}
	return units.Working{
		Name:    "to file off",
		Formula: "L - g_lo to H - g_hi, and not less than nothing",
		Numbers: f.Limits.Lo().WrittenBare(u) + " - " + g.Lo().WrittenBare(u) + " to " + f.Limits.Hi().WrittenBare(u) + " - " + g.Hi().WrittenBare(u),
		Result:  f.Amount.Written(u),
		Notes:   []string{"file a little, square to the ring, and measure again"},
		Steps:   []units.Working{{Name: "g, gap", Numbers: f.Gap.How(u), Result: g.Written(u)}},
	}
}
