package stack

import (
	"errors"
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

	Limits       units.LengthInterval `json:"limits"` // both bounds, and not the same
	Distribution Distribution         `json:"distribution"`

	// Fixed marks a size that nobody can make closer, such as a bought part: Allocate
	// leaves it as it is. A measured sample is fixed. A fixed size with limits of no width
	// and no distribution is exact.
	Fixed bool `json:"fixed"`

	// Sources are what moves the size together with others of the stack, each once. Two sizes
	// that name one source have the correlation part·part; over several sources these add.
	// What the parts leave, with squares that sum to one, is the size's own. A size without
	// sources is independent of all others.
	//
	// If a part is not known, RSS takes it at its worst, and what needs to know it is an
	// error. A size that is not normal has the rank that its sources and its own part give it
	// (a normal copula): its parts are correlations of ranks as normal scores, and those of
	// the sizes themselves differ a little.
	//
	//	c.Sources = []stack.Source{{Name: "setting of the lathe", Part: new(0.8)}}
	Sources []Source `json:"sources"`
}

// Adds returns a contributor that opens the gap.
func Adds(name string, limits units.LengthInterval, d Distribution) Contributor {
	return contributor(name, 1, limits, d)
}

// Takes returns a contributor that closes the gap.
func Takes(name string, limits units.LengthInterval, d Distribution) Contributor {
	return contributor(name, -1, limits, d)
}

func contributor(name string, sign int64, limits units.LengthInterval, d Distribution) Contributor {
	return Contributor{Name: name, Sensitivity: units.One.OfInt(sign), Limits: limits, Distribution: d}
}

// exact reports whether the contributor does not vary, and says so.
func (c Contributor) exact() bool {
	return c.Fixed && c.Limits.Bounded() && c.Limits.IsPoint() && c.Distribution.kind == noDistribution
}

// centre returns the size about which the contributor varies.
func (c Contributor) centre() units.Length { return c.Distribution.centre(c.Limits) }

// check returns what is wrong with the contributor.
func (c Contributor) check(where string) error {
	switch {
	case c.Sensitivity.IsZero():
		return wrong(ErrUnusable, where, "a sensitivity of zero", "give +1 if it opens the gap, -1 if it closes it; leave it out if it does neither")
	case !c.Limits.Bounded():
		return wrong(ErrUnusable, where, "one limit: "+c.Limits.String(), "give both limits, such as 2.48..2.52 mm")
	case c.Limits.IsPoint() && !c.exact():
		return wrong(ErrUnusable, where, "limits of no width: "+c.Limits.Lo().String(), "give the limits it may have, such as 2.5 ±0.02 mm; set Fixed and give no distribution if it is exact")
	case c.exact() && len(c.Sources) > 0:
		return wrong(ErrUnusable, where, "sources of an exact size", "leave them out: it does not vary")
	case !c.computable():
		return wrong(ErrUnusable, where, "a sensitivity of "+c.Sensitivity.WrittenBare(units.One)+" with limits "+c.Limits.String(),
			"give a sensitivity and limits that make between 1e-30 mm and 1e30 mm of the gap")
	}
	return errors.Join(c.Distribution.check(where, c.Limits), c.checkSources(where))
}

// moved returns the limits as the gap sees them, but for the sign.
func (c Contributor) moved() units.LengthInterval {
	return c.Limits.Times(c.Sensitivity.Abs())
}

// mostMoved is the largest size of which the computations here keep track, in mm.
const mostMoved = 1e30

// computable reports whether what the contributor does to the gap lies where float64
// and exact arithmetic both reach.
func (c Contributor) computable() bool {
	const least, most = 1e-30, mostMoved
	moved := c.moved()
	half := moved.Radius().Float64(units.Millimetre)
	if c.exact() {
		half = 1
	}
	return half >= least && half <= most && math.Abs(moved.Mid().Float64(units.Millimetre)) <= most
}
