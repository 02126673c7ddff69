package fasteners

import "example.com/closefit/units"

// CheckNeck judges how much thinner a bolt is at its thinnest than where it cannot have
// stretched:
//
//	Δd = d - dmin
//
// shank is the diameter at an unstretched place of the same nominal size, thinnest the
// smallest diameter found along the stretched length, both with their uncertainty; limit
// is the largest reduction allowed. A bolt that proves thicker there is Undecided: it was
// measured in the wrong places.
//
// The error wraps ErrReading for a diameter that has no two bounds above zero, and for a
// negative limit.
//
// Source: common practice, no source; the limit is the engine maker's.
func CheckNeck(thinnest, shank units.LengthInterval, limit units.Length) (Check, error) {
	if err := positive("thinnest diameter", thinnest); err != nil {
		return Check{}, err
	}
	if err := positive("diameter of the shank", shank); err != nil {
		return Check{}, err
	}
	if limit.Sign() < 0 {
		return Check{}, readingError("limit of the reduction", limit.String(), "write zero or more")
	}
	c := Check{
		Name: "neck-down", Measured: shank.Sub(thinnest), Limit: limit,
		formula: "Δd = d - dmin", operands: []units.LengthInterval{shank, thinnest},
	}
	c.judge()
	if c.Measured.Hi().Sign() < 0 {
		c.Outcome = Undecided
		c.doubt = "the thinnest place measures thicker than the shank: measure both again"
	}
	return c, nil
}

// CheckDiameter judges a bolt's diameter against the smallest allowed, for manuals that
// print that instead of a reduction.
//
// The error wraps ErrReading for a diameter or a limit that is not above zero.
func CheckDiameter(now units.LengthInterval, least units.Length) (Check, error) {
	if err := positive("diameter now", now); err != nil {
		return Check{}, err
	}
	if least.Sign() <= 0 {
		return Check{}, readingError("smallest diameter allowed", least.String(), "write a diameter above zero")
	}
	c := Check{
		Name: "diameter", Measured: now, Limit: least, atLeast: true,
		formula: "d", operands: []units.LengthInterval{now},
	}
	c.judge()
	return c, nil
}
