package clearance

import (
	"math/big"

	"example.com/closefit/units"
)

// piBounds returns bounds of π.
func piBounds() (lo, hi *big.Rat) {
	return big.NewRat(314159265358979, 100000000000000), big.NewRat(314159265358980, 100000000000000)
}

// timesPi returns the interval multiplied by π, outward.
func timesPi[D units.Dimension](a units.Interval[D]) units.Interval[D] {
	lo, hi := piBounds()
	return a.MulRat(lo).Hull(a.MulRat(hi))
}

// GapGrowth returns by how much a ring's gap opens when its bore is larger by an
// amount, through wear or honing:
//
//	Δg = π·ΔD
//
// from the length of a circle, π taken outward to fifteen places.
func GapGrowth(bore units.LengthInterval) units.LengthInterval { return timesPi(bore) }

// Crush is how far two half shells, each pressed into its half of the housing
// under the gauge's load with one end flush, stand out at the other end: what the
// cap must close up, and what holds the shells in place.
type Crush struct {
	Upper units.LengthInterval `json:"upper"`
	Lower units.LengthInterval `json:"lower"`
}

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
	excess := c.Upper.Add(c.Lower)
	return excess.MulRat(lo.Inv(lo)).Hull(excess.MulRat(hi.Inv(hi)))
}

// Working shows Interference with its numbers in the unit, the result rounded outward to
// six places.
func (c Crush) Working(u units.LengthUnit) units.Working {
	return units.Working{
		Name:    "interference on the diameter from crush",
		Formula: "δ = (h1 + h2)/π",
		Numbers: "(" + c.Upper.Written(u) + " + " + c.Lower.Written(u) + ")/π",
		Result:  c.Interference().Outward(u, 6).Written(u),
		Source:  "the length of a circle",
	}
}
