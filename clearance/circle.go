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

// GapGrowth returns how much a ring's gap opens when wear or honing makes its bore
// larger:
//
//	Δg = π·ΔD
//
// from the length of a circle, π taken outward to fifteen places.
func GapGrowth(bore units.LengthInterval) units.LengthInterval { return timesPi(bore) }

// Crush is the height of two half shells above the joint: each is pressed into its half
// of the housing under the gauge's load, with one end flush, and stands out at the other.
// The cap closes it up, and it holds the shells in place.
type Crush struct {
	Upper units.LengthInterval `json:"upper"`
	Lower units.LengthInterval `json:"lower"`
}

// Interference returns the crush as an interference on the diameter:
//
//	δ = (h1 + h2)/π
//
// with h1 and h2 the two crush heights. π is taken between 3.14159265358979 and
// 3.14159265358980, outward. From the length of a circle around a diameter; the
// interference widens the housing and thins the shell, and a bore measured with the
// shells in shows both.
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
