package clearance

import (
	"math/big"

	"example.com/closefit/units"
)

// Undersized returns the bearing with its journal ground to an undersize, which is
// stated on the diameter, and shells of that undersize: the journal less the undersize,
// and each wall thicker by half of it, since two of them go round the journal. Of a
// cylinder, a piston or a thrust washer an oversize is a shift of its limits.
func (b Bearing) Undersized(by units.Length) Bearing {
	half := by.MulRat(big.NewRat(1, 2))
	b.Journal, b.UpperWall, b.LowerWall = b.Journal.Shift(by.Neg()), b.UpperWall.Shift(half), b.LowerWall.Shift(half)
	return b
}

// Crush is how far two half shells, each pressed into its half of the housing
// under the gauge's load with one end flush, stand out at the other end: what the
// cap must close up, and what holds the shells in place.
type Crush struct {
	Upper units.LengthInterval `json:"upper"`
	Lower units.LengthInterval `json:"lower"`
}

// Excess returns how much longer the two shells are around than their housing:
// the sum of both heights.
func (c Crush) Excess() units.LengthInterval { return c.Upper.Add(c.Lower) }

// Interference returns the interference on the diameter that the crush amounts
// to:
//
//	δ = (h1 + h2)/π
//
// with h1 and h2 the two crush heights. π is taken between 3.14159265358979 and
// 3.14159265358980, outward. From the length of a circle around a diameter; how
// the interference divides into a wider housing and a thinner shell depends on
// both, and is in the bore if that is measured with the shells in.
func (c Crush) Interference() units.LengthInterval {
	lo, hi := piBounds()
	e := c.Excess()
	return e.MulRat(lo.Inv(lo)).Hull(e.MulRat(hi.Inv(hi)))
}

// Working shows Interference with its numbers in the unit.
func (c Crush) Working(u units.LengthUnit) units.Working {
	return units.Working{
		Name:    "interference on the diameter from crush",
		Formula: "δ = (h1 + h2)/π",
		Numbers: "(" + c.Upper.Written(u) + " + " + c.Lower.Written(u) + ")/π",
		Result:  c.Interference().Outward(u, outwardPlaces).Written(u),
		Source:  "the length of a circle",
	}
}

// piBounds returns bounds of π.
func piBounds() (lo, hi *big.Rat) {
	return big.NewRat(314159265358979, 100000000000000), big.NewRat(314159265358980, 100000000000000)
}
