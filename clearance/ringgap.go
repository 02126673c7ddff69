package clearance

import (
	"math/big"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// A RingGapRule states the end gap of a ring by its bore: so much gap for each
// length of bore, 0.0040 to 0.0045 inch to the inch, and a fixed part if there is
// one. It is how ring makers state it when they give no figure for the engine.
type RingGapRule struct {
	PerBoreLo, PerBoreHi decimal.Decimal // gap per bore, a pure number
	Extra                units.Length    // added to both
}

// Limits returns the limits of the gap in a bore, from the whole of its reading:
// a gap inside them obeys the rule in the largest bore and in the smallest. The
// error is an *Error of kind ErrOrder if PerBoreLo is above PerBoreHi or if the
// bore is known too loosely for the rule, ErrNotPositive for a rule or a bore
// that is not positive.
func (r RingGapRule) Limits(bore LengthReading) (units.LengthInterval, error) {
	const where = "ring gap rule"
	if r.PerBoreLo.Sign() < 0 || r.PerBoreHi.Sign() <= 0 {
		return units.LengthInterval{}, &Error{Kind: ErrNotPositive, Where: where, Found: r.PerBoreLo.String() + ".." + r.PerBoreHi.String(), Fix: "give the gap per bore, such as 0.0040 and 0.0045"}
	}
	if r.PerBoreLo.Cmp(r.PerBoreHi) > 0 {
		return units.LengthInterval{}, &Error{Kind: ErrOrder, Where: where, Found: r.PerBoreLo.String() + " before " + r.PerBoreHi.String(), Fix: "give the smaller one first"}
	}
	b := bore.Interval()
	if !b.Bounded() || b.Lo().Sign() <= 0 {
		return units.LengthInterval{}, &Error{Kind: ErrNotPositive, Where: where + ", bore", Found: b.String(), Fix: "give the bore, with both its bounds"}
	}
	limits, err := units.NewInterval(b.Hi().Mul(r.PerBoreLo).Add(r.Extra), b.Lo().Mul(r.PerBoreHi).Add(r.Extra))
	if err != nil {
		return units.LengthInterval{}, &Error{Kind: ErrOrder, Where: where, Found: "a bore of " + b.String(), Fix: "measure the bore more closely, or give the rule some width"}
	}
	return limits, nil
}

// A Filing says how much to file off a ring's ends for its gap to be proven
// inside its limits.
type Filing struct {
	// Amount is how much, at least and at most. Of a gap that is inside already
	// it begins at zero: nothing need be filed.
	Amount units.LengthInterval

	// Needed is whether at least something must come off.
	Needed bool
}

// File returns how much to file off a ring whose gap was read, for the gap to be
// proven inside the limits: from L - g_lo to H - g_hi, with L and H the limits and
// g the gap. ok is false if no filing can do it: because the gap may already be
// too wide, and another ring is wanted, or because it is known less closely than
// the limits are apart. Both limits and both bounds of the gap must be there. File
// a little, square to the ring, and measure again: nothing can be put back.
func File(gap LengthReading, limits units.LengthInterval) (f Filing, ok bool) {
	g := gap.Interval()
	if !g.Bounded() || !limits.Bounded() {
		return f, false
	}
	least, most := limits.Lo().Sub(g.Lo()), limits.Hi().Sub(g.Hi())
	if most.Sign() < 0 || most.Less(least) {
		return f, false
	}
	f.Needed = least.Sign() > 0
	f.Amount = units.MustInterval(units.Max(least, units.Length{}), most)
	return f, true
}

// GapGrowth returns by how much a ring's gap opens when its bore is larger by an
// amount, through wear or honing:
//
//	Δg = π·ΔD
//
// from the length of a circle, π taken outward to fifteen places.
func GapGrowth(bore units.LengthInterval) units.LengthInterval {
	lo, hi := piBounds()
	return times(bore, lo, hi)
}

// times returns the interval of every product of a size and a factor from lo to
// hi, both above zero or both below.
func times(size units.LengthInterval, lo, hi *big.Rat) units.LengthInterval {
	return size.MulRat(lo).Hull(size.MulRat(hi))
}
