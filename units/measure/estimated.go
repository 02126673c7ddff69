package measure

import "example.com/closefit/units"

// Estimated returns the reading of a value v that comes from elsewhere with an expanded
// uncertainty (k = 2): a figure from a certificate or a handbook, a size whose tolerance
// is taken as a spread (Type B of JCGM 100:2008, 4.3). source says where it comes from,
// in the words of the record; two values of one source may share any of their doubt, and
// are added at their worst. The error is of kind [ErrNotPositive] for an uncertainty
// below zero.
func Estimated[D units.Dimension](v, expanded units.Quantity[D], source string) (Reading[D], error) {
	if expanded.Sign() < 0 {
		return Reading[D]{}, &units.Error{Kind: ErrNotPositive, Where: source + ", uncertainty", Found: expanded.String(), Fix: "give one above zero, or none"}
	}
	in := Instrument[D]{Name: source, Uncertainty: expanded}
	return in.made(act[D]{means: value, bracket: units.Exactly(v)}, [2]units.Quantity[D]{v}, 0), nil
}
