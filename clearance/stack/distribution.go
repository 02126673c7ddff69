package stack

import (
	"fmt"
	"math"
	"slices"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Distribution says how the actual sizes of a contributor lie within its limits. It is
// an immutable value. The zero Distribution is none: it serves for the worst case and
// root-sum-square, and is an error wherever a probability is asked for.
type Distribution struct {
	kind   kind
	k      float64       // of the normal ones
	top    float64       // of a trapezoid
	mean   *units.Length // of the normal ones; nil for the middle of the limits
	sample []units.Length
}

type kind uint8

const (
	noDistribution kind = iota
	uniform
	normal
	normalWithin
	triangular
	arcsine
	sampled
	trapezoidal
)

// Uniform is the distribution to take if only the limits are known: every size between
// them is as likely as any other. Standard deviation: half the width over √3 (JCGM
// 100:2008, 4.3.7).
func Uniform() Distribution { return Distribution{kind: uniform} }

// Normal is the normal distribution whose limits lie k standard deviations on
// either side of its mean, the middle of the limits. It reaches beyond the limits,
// by 0.27 % of all parts at k = 3. k lies between 0.01 and 1000.
func Normal(k float64) Distribution { return Distribution{kind: normal, k: k} }

// NormalWithin is the normal distribution of parts that are inspected and sorted:
// as Normal with the same k, but nothing lies outside the limits.
func NormalWithin(k float64) Distribution { return Distribution{kind: normalWithin, k: k} }

// Triangular is the distribution that falls off in a straight line from the
// middle of the limits to none at either limit. Standard deviation: half the
// width over √6 (JCGM 100:2008, 4.3.9).
func Triangular() Distribution { return Distribution{kind: triangular} }

// Trapezoidal is the distribution with a flat top in the middle of the limits, top times
// as wide as they are, that falls off in a straight line to none at either limit: a size
// that two steps make, each uniform. 0 < top < 1; Triangular and Uniform are the ends.
// Standard deviation: half the width times √((1+top²)/6) (JCGM 101:2008, 6.4.4).
func Trapezoidal(top float64) Distribution { return Distribution{kind: trapezoidal, top: top} }

// Arcsine is the distribution of a size that swings as a sine between the limits, such as
// the runout of a shaft in any position: most likely at the limits. Standard deviation:
// half the width over √2 (JCGM 101:2008, 6.4.6).
func Arcsine() Distribution { return Distribution{kind: arcsine} }

// About returns a normal distribution whose mean is the size given in place of the middle
// of the limits: a process that is set off centre. Its standard deviation is still half
// the width of the limits over k. For NormalWithin it is the mean of the process before
// inspection, and must lie within the limits; sorting moves the mean of the parts that are
// left. Allocate leaves the mean where it is.
func (d Distribution) About(mean units.Length) Distribution {
	d.mean = &mean
	return d
}

// Sample is the distribution of measured parts: each of the values is as likely
// as any other, and no other value occurs. Its variance is that of the values
// about their mean, with the number of values as the divisor. The values must lie
// within the contributor's limits, and there must be two or more.
func Sample(values ...units.Length) Distribution {
	return Distribution{kind: sampled, sample: slices.Clone(values)}
}

// String names the distribution: "normal, limits at 3 standard deviations".
func (d Distribution) String() string {
	if d.mean != nil {
		mean := *d.mean
		d.mean = nil
		return d.String() + ", about " + mean.String()
	}
	switch d.kind {
	case uniform:
		return "uniform"
	case normal:
		return fmt.Sprintf("normal, limits at %g standard deviations", d.k)
	case normalWithin:
		return fmt.Sprintf("normal, cut off at limits at %g standard deviations", d.k)
	case triangular:
		return "triangular"
	case trapezoidal:
		return fmt.Sprintf("trapezoidal, top %g of the width", d.top)
	case arcsine:
		return "arcsine"
	case sampled:
		return fmt.Sprintf("sample of %d", len(d.sample))
	}
	return "no distribution"
}

// Bounds on what limits can be in standard deviations; far beyond any use.
const leastCoverage, mostCoverage = 0.01, 1000

// leastTop is the narrowest top of a trapezoid, and the narrowest side.
const leastTop = 0.001

// centre returns the size about which the distribution lies: that given, or the middle of
// the limits. A sorted process lies about the middle here, whatever its mean.
func (d Distribution) centre(limits units.LengthInterval) units.Length {
	if d.kind == normal && d.mean != nil {
		return *d.mean
	}
	return limits.Mid()
}

// check returns what is wrong with the distribution for the limits given.
func (d Distribution) check(where string, limits units.LengthInterval) error {
	switch {
	case d.mean == nil:
	case d.kind != normal && d.kind != normalWithin:
		return wrong(ErrUnusable, where, fmt.Sprintf("a mean of %s for the distribution %q", d.mean, d.String()), "give a mean to a normal distribution only; a sample has its own")
	case d.kind == normalWithin && !limits.Contains(*d.mean):
		return wrong(ErrUnusable, where, fmt.Sprintf("a mean of %s outside %s", d.mean, limits), "give a mean within the limits: of a process that is set outside them, inspection leaves nearly nothing")
	case math.Abs(d.mean.Float64(units.Millimetre)) > mostMoved:
		return wrong(ErrUnusable, where, fmt.Sprintf("a mean of %s", d.mean), "give the mean of the process, below 1e30 mm")
	}
	switch d.kind {
	case normal, normalWithin:
		if !(d.k >= leastCoverage && d.k <= mostCoverage) {
			return wrong(measure.ErrProbability, where, fmt.Sprintf("limits at %g standard deviations", d.k), "give how many standard deviations the limits lie from the mean, such as 3; from 0.01 to 1000")
		}
	case trapezoidal:
		if !(d.top >= leastTop && d.top <= 1-leastTop) {
			return wrong(ErrUnusable, where, fmt.Sprintf("a trapezoid with a top %g times as wide as the limits", d.top), "give a top between 0.001 and 0.999, or Triangular for none and Uniform for all")
		}
	case sampled:
		if len(d.sample) < 2 {
			return wrong(measure.ErrEmpty, where, fmt.Sprintf("a sample of %d", len(d.sample)), "give at least two measured values, or a distribution within the limits")
		}
		for _, v := range d.sample {
			if !limits.Contains(v) {
				return wrong(ErrUnusable, where, fmt.Sprintf("the measured value %s outside %s", v, limits), "give limits that hold every measured value, or leave out the parts that were rejected")
			}
		}
	}
	return nil
}
