package stack

import (
	"context"
	"math"
	"math/big"
	"slices"

	"example.com/closefit/units"
)

// Density returns the probability density of the gap, for each millimetre of gap. Its
// error is a proven bound or an estimate, as that of Above and Below is:
//
//   - of uniform, triangular, trapezoidal and sampled contributors it is the derivative of
//     the exact sum, a ratio of integers that is rounded once: proven;
//   - of normal ones, and of one that is cut off or arcsine, each alone or with samples, it
//     is the closed form: proven;
//   - of mixtures it is the inversion of their transform, where that converges: proven;
//   - beside a uniform side of width w it is the difference of two tails of the others,
//     (P(R > t - w/2) - P(R > t + w/2))/w, as good as these are; all else is an estimate.
//
// Where the density has a step, as at a limit of a single uniform size, it is the larger of
// the two sides. The error is of kind ErrUnusable where there is no density: for samples
// alone, whose gaps are single values, each with a probability of its own; at a limit of an
// arcsine size, where it is infinite; and for two arcsine sizes or more with nothing
// smoother, where it can be infinite. Use Histogram there.
func (l *Law) Density(gap units.Length) (Computed, error) {
	all, err := l.Densities(gap)
	if err != nil {
		return Computed{}, err
	}
	return all[0], nil
}

// Densities returns the density at each gap, in their order: the same numbers as Density gives one by one. What the
// gaps share is worked out once, so that a curve takes a fraction of the time; most for uniform, triangular,
// trapezoidal and sampled contributors. The error is the first that Density has for one of them.
func (l *Law) Densities(gaps ...units.Length) ([]Computed, error) {
	ts := make([]*big.Rat, len(gaps))
	down := make([]bool, len(gaps)) // whether a gap lies below the mean
	var sides [2][]*big.Rat
	for i, gap := range gaps {
		t := gap.Sub(l.centre).Rat(units.Millimetre)
		side := 0
		if down[i] = nearestTo(t) < l.mean; down[i] {
			side, t = 1, t.Neg(t)
		}
		ts[i], sides[side] = t, append(sides[side], t)
	}
	above, below := curveOf(l.ctx, l.up, sides[0]), curveOf(l.ctx, l.down, sides[1])
	all := make([]Computed, len(gaps))
	for i, t := range ts {
		c := above
		if down[i] {
			c = below
		}
		d, err := c.at(l.ctx, t)
		if ended := l.ctx.Err(); ended != nil {
			return nil, ended
		}
		if err != nil {
			return nil, err
		}
		if math.IsInf(d.Value, 1) {
			return nil, wrong(ErrUnusable, densityOfGap, "the limit of an arcsine size at "+gaps[i].String(), "use Histogram, or a gap beside it: the density is infinite there")
		}
		all[i] = d
	}
	return all, nil
}

const densityOfGap = "density of the gap"

// A curve is what the densities at several gaps share.
type curve struct {
	terms            []term
	arcsines, smooth int      // how many terms are arcsine, and how many have a density without a pole
	highest          *big.Rat // the largest sum; nil where there is none
	steps            sumOfSteps
	sums             sampleSums
	one              term    // with the samples; see sumsOfSamples
	spread           float64 // of that one
	exact, closed    bool    // whether steps, or sums and one, serve
	again            bool    // whether one gap alone may have steps
}

// curveOf returns what the densities at each t share.
func curveOf(ctx context.Context, terms []term, ts []*big.Rat) curve {
	c := curve{terms: terms, highest: new(big.Rat)}
	if len(ts) == 0 {
		return c
	}
	bounded, inSteps := true, true
	for _, x := range terms {
		switch x.kind {
		case arcsine:
			c.arcsines++
		case sampled:
		default:
			c.smooth++
		}
		bounded = bounded && x.kind != normal
		inSteps = inSteps && x.inSteps()
		e := x.exactly()
		if x.kind == sampled {
			c.highest.Add(c.highest, e.atoms[len(e.atoms)-1])
		} else {
			c.highest.Add(c.highest, e.half)
		}
	}
	if !bounded {
		c.highest = nil
	}
	if c.arcsines+c.smooth == 0 {
		return c
	}
	if c.steps, c.exact = stepsOf(ctx, terms, ts...); c.exact {
		return c
	}
	c.again = inSteps && len(ts) > 1
	if c.sums, c.one, c.closed = sumsOfSamples(ctx, terms); c.closed {
		c.spread = c.one.spread()
	}
	return c
}

// at returns the density at t, which is infinite at a limit of an arcsine size.
func (c *curve) at(ctx context.Context, t *big.Rat) (Computed, error) {
	switch {
	case c.arcsines+c.smooth == 0:
		return Computed{}, wrong(ErrUnusable, densityOfGap, "samples alone", "use Histogram, or Above and Below: such a gap has single values, each with a probability, and no density between them")
	case c.highest != nil && t.Cmp(c.highest) > 0:
		return exactly(0), nil
	case c.smooth == 0 && c.arcsines > 1:
		return Computed{}, wrong(ErrUnusable, densityOfGap, "arcsine sizes alone", "use Histogram: the density of such a sum is infinite at some gaps")
	case c.exact:
		return c.steps.density(t), nil
	case c.again:
		alone := curveOf(ctx, c.terms, []*big.Rat{t})
		return alone.at(ctx, t)
	case c.closed:
		return closedDensity(c.sums, c.one, c.spread, t), nil
	}
	terms := c.terms
	if d, ok := inverted(ctx, terms, t, true); ok {
		return d, nil
	}
	if d, ok := differenceOfTails(ctx, terms, t); ok {
		return d, nil
	}
	at := slices.IndexFunc(terms, func(x term) bool { return x.kind == normalWithin || x.kind == normal })
	for i, x := range terms {
		if (x.kind == normalWithin || x.kind == normal) && x.smoothness()*x.half > terms[at].smoothness()*terms[at].half {
			at = i
		}
	}
	last := terms[at]
	reordered := append(slices.Delete(slices.Clone(terms), at, at+1), last)
	return estimated(ctx, reordered, nearestTo(t), largestDensity(terms), func(x term, v float64) float64 {
		if v < -x.half && x.kind != normal || v > x.half && x.kind != normal {
			return 0
		}
		return x.density(v)
	}), nil
}

// density returns the density of the sum: the derivative of its probability, with the power
// one lower. Of one uniform side that is a staircase, and at a step of it the larger side
// counts.
func (s *sumOfSteps) density(t *big.Rat) Computed {
	at := s.distance(t)
	d := s.power(s.powers-1, at, false)
	if s.powers == 1 {
		if p := s.power(0, at, true); p.Cmp(d) > 0 {
			d = p
		}
	}
	return nearest(d.Mul(d, new(big.Rat).SetInt(s.whole.perMillimetre)))
}

// closedDensity returns the density of samples and of one more term that is normal, normal
// cut off, or arcsine, by the closed form of that one. It is
// infinite at a limit of an arcsine term. The bound is that of the closed form, and for n
// sums as in closed. spread is that of the one term.
func closedDensity(sums sampleSums, one term, spread float64, t *big.Rat) (d Computed) {
	d.Proven = true
	left, right := 0.0, 0.0 // at a limit, the side that lies within
	for _, s := range sums.values {
		x := t
		if s.at.Sign() != 0 {
			x = new(big.Rat).Sub(t, s.at)
		}
		value, relative := one.exactDensity(x, spread)
		weight := s.weight
		d.Error += weight * value * relative
		if one.kind == normal || x.Cmp(one.exactly().half) < 0 {
			right += weight * value
		}
		if one.kind == normal || x.Cmp(new(big.Rat).Neg(one.exactly().half)) > 0 {
			left += weight * value
		}
	}
	d.Value = max(left, right)
	d.Error = (d.Error+sums.relative*d.Value)*widened + 4*math.SmallestNonzeroFloat64
	return d
}

// exactDensity returns the density at x with a bound on its relative error: x, T and σ are
// exact and enter as a ratio that is rounded once, exp(-q) changes by q times the relative
// change of q, and each call and operation adds its own.
func (t term) exactDensity(x *big.Rat, spread float64) (d, relative float64) {
	e := t.exactly()
	if t.kind != normal && new(big.Rat).Abs(x).Cmp(e.half) > 0 {
		return 0, 0
	}
	if t.kind == arcsine {
		square := new(big.Rat).Mul(e.half, e.half)
		square.Sub(square, new(big.Rat).Mul(x, x))
		return 1 / (math.Pi * math.Sqrt(nearestTo(square))), 6 * halfUlp
	}
	if e.offset != nil {
		x = new(big.Rat).Sub(x, e.offset)
	}
	q := halfSquareNear(x, e.variance)
	return math.Exp(-q) / spread, 2*library + (q+12)*halfUlp
}

// spread returns √(2π)·σ of a normal term, times the part of it within the limits of one that is cut off.
func (t term) spread() float64 {
	if t.kind == arcsine {
		return 0
	}
	e := t.exactly()
	inside := 1.0
	if t.kind == normalWithin {
		inside = e.inside()
	}
	return math.Sqrt(2*math.Pi) * math.Sqrt(nearestTo(e.variance)) * inside
}

// differenceOfTails returns the density of a sum of which one uniform side, of width w, is
// left out:
//
//	f(t) = (P(R > t - w/2) - P(R > t + w/2)) / w
//
// R is the sum of all else. The widest side is the one. ok is false if there is none.
func differenceOfTails(ctx context.Context, terms []term, t *big.Rat) (d Computed, ok bool) {
	at, width := -1, new(big.Rat)
	rest := new(big.Rat) // of a triangular or trapezoidal term, its other side
	for i, x := range terms {
		wide, narrow := new(big.Rat).Add(x.exactly().half, x.exactly().half), new(big.Rat)
		switch x.kind {
		case uniform:
		case triangular, trapezoidal:
			wide, narrow = x.sides()
		default:
			continue
		}
		if wide.Cmp(width) > 0 {
			at, width, rest = i, wide, narrow
		}
	}
	if at < 0 {
		return Computed{}, false
	}
	others := slices.Delete(slices.Clone(terms), at, at+1)
	half := big.NewRat(1, 2)
	if rest.Sign() > 0 {
		other := new(big.Rat).Mul(rest, half)
		others = append(others, term{kind: uniform, half: nearestTo(other), exact: &exactTerm{half: other}})
	}
	others = sorted(others)
	by := half.Mul(half, width)
	near, far := tail(ctx, others, new(big.Rat).Sub(t, by)), tail(ctx, others, new(big.Rat).Add(t, by))
	w := nearestTo(width)
	d = Computed{Value: max(0, near.Value-far.Value) / w, Proven: near.Proven && far.Proven}
	d.Error = ((near.Error+far.Error+halfUlp*near.Value)/w + 4*halfUlp*d.Value) * widened
	return d, true
}
