package stack

import (
	"math"

	"example.com/closefit/units"
)

// A Contributor is one size in a stack.
type Contributor struct {
	Name string `json:"name"`

	// Sensitivity is by how much the gap grows when the size grows by one: +1 for a size
	// that opens the gap, -1 for one that closes it, any other number for a lever, an
	// angle, or a diameter that counts as a radius. It is never zero.
	Sensitivity units.Ratio `json:"sensitivity"`

	// Nominal is the size that the drawing names. Only Stack.Nominal uses it; it may lie
	// outside the limits.
	Nominal units.Length `json:"nominal"`

	Limits       units.LengthInterval `json:"limits"` // both bounds, and not the same
	Distribution Distribution         `json:"distribution"`

	// Fixed marks a size that nobody can make closer, such as a bought part: Allocate
	// leaves it as it is. A measured sample is fixed.
	Fixed bool `json:"fixed"`
}

// Adds returns a contributor that opens the gap, with the middle of its limits
// as its nominal size.
func Adds(name string, limits units.LengthInterval, d Distribution) Contributor {
	return contributor(name, 1, limits, d)
}

// Takes returns a contributor that closes the gap, with the middle of its limits
// as its nominal size.
func Takes(name string, limits units.LengthInterval, d Distribution) Contributor {
	return contributor(name, -1, limits, d)
}

func contributor(name string, sign int64, limits units.LengthInterval, d Distribution) Contributor {
	c := Contributor{Name: name, Sensitivity: units.One.OfInt(sign), Limits: limits, Distribution: d}
	if limits.Bounded() {
		c.Nominal = limits.Mid()
	}
	return c
}

// check returns what is wrong with the contributor.
func (c Contributor) check(where string) error {
	switch {
	case c.Sensitivity.IsZero():
		return wrong(ErrUnusable, where, "a sensitivity of zero", "give +1 if it opens the gap, -1 if it closes it; leave it out if it does neither")
	case !c.Limits.Bounded():
		return wrong(ErrUnusable, where, "one limit: "+c.Limits.String(), "give both limits, such as 2.48..2.52 mm")
	case c.Limits.IsPoint():
		return wrong(ErrUnusable, where, "limits of no width: "+c.Limits.Lo().String(), "give the limits it may have, such as 2.5 ±0.02 mm")
	case !c.computable():
		return wrong(ErrUnusable, where, "a sensitivity of "+c.Sensitivity.WrittenBare(units.One)+" with limits "+c.Limits.String(),
			"give a sensitivity and limits that make between 1e-30 mm and 1e30 mm of the gap")
	}
	return c.Distribution.check(where, c.Limits)
}

// moved returns the limits as the gap sees them, but for the sign.
func (c Contributor) moved() units.LengthInterval {
	return c.Limits.MulRat(c.Sensitivity.Abs().Rat(units.One))
}

// computable reports whether what the contributor does to the gap lies where float64
// and exact arithmetic both reach.
func (c Contributor) computable() bool {
	const least, most = 1e-30, 1e30
	moved := c.moved()
	half := moved.Radius().Float64(units.Millimetre)
	return half >= least && half <= most && math.Abs(moved.Mid().Float64(units.Millimetre)) <= most
}
