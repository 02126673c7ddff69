package clearance

import (
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A SizeRule states limits in proportion to a size, with a fixed part if there is one.
// The trade states a ring's end gap by its bore, 0.0040 to 0.0045 inch to the inch, and a
// bearing's clearance by its journal, for an engine without figures of its own.
type SizeRule struct {
	PerSize units.RatioInterval `json:"per_size"` // the limits over the size: "0.0040..0.0045"
	Extra   units.Length        `json:"extra"`    // added to both limits
}

// Limits returns the limits for a size, from the whole of its reading: a gap inside them
// obeys the rule at the largest size and at the smallest. The error is of kind
// measure.ErrNotPositive for a rule or a size that may be zero or less or lacks a bound,
// measure.ErrNotMeasured for a size that was not read, measure.ErrOrder if the size is
// known too loosely for the rule.
func (r SizeRule) Limits(size measure.LengthReading) (units.LengthInterval, error) {
	const where = "rule by size"
	if !r.PerSize.Bounded() || r.PerSize.Lo().Sign() < 0 || r.PerSize.Hi().Sign() <= 0 {
		return units.LengthInterval{}, &units.Error{Kind: measure.ErrNotPositive, Where: where, Found: r.PerSize.String(), Fix: "give the gap per bore, such as 0.0040..0.0045"}
	}
	s := size.Interval()
	if s.IsEmpty() {
		return units.LengthInterval{}, notGiven(where + ", size")
	}
	if !s.Bounded() || s.Lo().Sign() <= 0 {
		return units.LengthInterval{}, &units.Error{Kind: measure.ErrNotPositive, Where: where, Found: "a size of " + s.String(), Fix: "give the size, with both its bounds"}
	}
	limit := func(size units.Length, per units.Ratio) units.Length {
		return size.Times(per).Add(r.Extra)
	}
	limits, err := units.NewInterval(limit(s.Hi(), r.PerSize.Lo()), limit(s.Lo(), r.PerSize.Hi()))
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
	numbers := func(per units.Ratio, size units.Length) string {
		text := per.WrittenBare(units.One) + " × " + size.WrittenBare(u)
		if !r.Extra.IsZero() {
			text += " + " + r.Extra.WrittenBare(u)
		}
		return text
	}
	return units.Working{
		Name:    "limits by size",
		Formula: "per size × size + extra, the lower limit at the largest size",
		Numbers: numbers(r.PerSize.Lo(), s.Hi()) + " to " + numbers(r.PerSize.Hi(), s.Lo()),
		Result:  limits.Written(u),
		Source:  "common practice, no source",
		Steps:   []units.Working{{Name: "size", Numbers: size.How(u), Result: s.Written(u)}},
	}, nil
}
