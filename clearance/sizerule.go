package clearance

import (
	"github.com/shopspring/decimal"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A SizeRule states limits by a size: so much for each length of it, and a fixed
// part if there is one. A ring's end gap is stated so by its bore, 0.0040 to
// 0.0045 inch to the inch, and a bearing's clearance by its journal, where there
// is no figure for the engine.
type SizeRule struct {
	PerSizeLo decimal.Decimal `json:"per_size_lo"` // limit per size, a pure number
	PerSizeHi decimal.Decimal `json:"per_size_hi"`
	Extra     units.Length    `json:"extra"` // added to both
}

// Limits returns the limits for a size, from the whole of its reading: what is
// inside them obeys the rule at the largest size and at the smallest. The error
// is of kind measure.ErrOrder if PerSizeLo is above PerSizeHi or if the size is
// known too loosely for the rule, measure.ErrNotPositive for a rule or a size that is not
// positive, measure.ErrNotMeasured for a size that was not read.
func (r SizeRule) Limits(size measure.LengthReading) (units.LengthInterval, error) {
	const where = "rule by size"
	rule := r.PerSizeLo.String() + ".." + r.PerSizeHi.String()
	if r.PerSizeLo.Sign() < 0 || r.PerSizeHi.Sign() <= 0 {
		return units.LengthInterval{}, &units.Error{Kind: measure.ErrNotPositive, Where: where, Found: rule, Fix: "give the gap per bore, such as 0.0040 and 0.0045"}
	}
	if r.PerSizeLo.Cmp(r.PerSizeHi) > 0 {
		return units.LengthInterval{}, &units.Error{Kind: measure.ErrOrder, Where: where, Found: rule, Fix: "give the smaller one first"}
	}
	s := size.Interval()
	if s.IsEmpty() {
		return units.LengthInterval{}, notGiven(where + ", size")
	}
	if !s.Bounded() || s.Lo().Sign() <= 0 {
		return units.LengthInterval{}, &units.Error{Kind: measure.ErrNotPositive, Where: where, Found: "a size of " + s.String(), Fix: "give the size, with both its bounds"}
	}
	limits, err := units.NewInterval(s.Hi().Mul(r.PerSizeLo).Add(r.Extra), s.Lo().Mul(r.PerSizeHi).Add(r.Extra))
	if err != nil {
		return units.LengthInterval{}, &units.Error{Kind: measure.ErrOrder, Where: where, Found: "a size of " + s.String(), Fix: "measure it more closely, or give the rule some width"}
	}
	return limits, nil
}

// Working shows Limits with its numbers in the unit. The error is that of Limits.
func (r SizeRule) Working(size measure.LengthReading, u units.LengthUnit) (units.Working, error) {
	limits, err := r.Limits(size)
	if err != nil {
		return units.Working{}, err
	}
	s := size.Interval()
	extra := ""
	if !r.Extra.IsZero() {
		extra = " + " + r.Extra.WrittenBare(u)
	}
	return units.Working{
		Name:    "limits by size",
		Formula: "per size × size + extra, the lower limit at the largest size",
		Numbers: r.PerSizeLo.String() + " × " + s.Hi().WrittenBare(u) + extra + " to " + r.PerSizeHi.String() + " × " + s.Lo().WrittenBare(u) + extra,
		Result:  limits.Written(u),
		Source:  "common practice, no source",
		Steps:   []units.Working{{Name: "size", Numbers: size.How(u), Result: s.Written(u)}},
	}, nil
}
