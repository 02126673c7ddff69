package stack

import (
	"context"
	"fmt"
	"math"
	"math/big"
	"slices"

	"gonum.org/v1/gonum/mathext"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Law is the probability distribution of a stack's gap. Its contributors are independent
// of each other or normal, or so bound together that they are one variable. Changing its fields changes no probability: it answers for the stack that
// it was made from.
//
// Every probability comes with its error, which is a proven bound (Computed.Proven)
// or an estimate:
//
//   - Uniform, triangular and sampled contributors: proven. The exact sum is a ratio of
//     integers, whatever the ratio of the widths, and is rounded once.
//   - Normal contributors, whose sum is normal; one that is cut off or arcsine; each
//     alone or with samples: proven, by the closed form. The error holds the rounding of
//     every step and what the math library may add, and stays below 2e-11 of the smaller
//     tail to 37 standard deviations.
//   - Mixtures of these: proven if the inversion of their transform converges, which it
//     does quickly where a normal contributor is not small or several others share the
//     spread; and where what is small lies below 1e-5 of the largest. The error is then
//     below 1e-4 of the smaller tail, and mostly below 1e-10 of it. See inversion.go.
//   - All else: an estimate, by convolution on lattices (see convolution.go): three times
//     the largest difference between lattices of different fineness, with rounding and
//     cutting off added. It holds against every closed form in the tests, and is below 1 %
//     of the smaller tail for probabilities from 1e-12 up and a hundred contributors; but not
//     for samples alone that are too many for the exact sum, because their probabilities go
//     in steps, which a lattice smooths.
//
// An error is proven for the stated distribution. Whether sizes follow it is for the user
// to know.
//
// A Law of LawContext computes until its context ends. After that its methods return the
// context's error, and those that have none a value that is NaN with an infinite error.
//
// In JSON a Law is its stack; everything else follows from that.
type Law struct {
	Stack  Stack        `json:"stack"`
	Mean   units.Length `json:"-"` // of the gap, rounded to the picometre
	StdDev units.Length `json:"-"` // of the gap, √(Σ (sᵢ·σᵢ)²), rounded to the picometre

	ctx      context.Context
	up, down []term // in the order of compare; down with the other sign
	centre   units.Length
	mean     float64 // mm, from centre
	sigma    float64 // mm
}

// Law returns the distribution of the gap. Normal sizes may share sources, and so may sizes
// of one shape whose parts of one source are 1 or -1. The errors are those of Stack, and
// ErrUnusable if other sizes hang together, if it is not known how far some do, or if
// nothing varies, because every sample has one value only or sizes cancel.
func (s Stack) Law() (*Law, error) { return s.LawContext(context.Background()) }

// LawContext is Law with a context within which everything is computed that the Law is asked. Some
// stacks of many contributors take seconds for one probability.
func (s Stack) LawContext(ctx context.Context) (*Law, error) {
	terms, err := s.terms()
	if err != nil {
		return nil, err
	}
	merged, err := s.merged(terms)
	if err != nil {
		return nil, err
	}
	l := newLaw(s.centre(), merged)
	if l.sigma == 0 {
		return nil, nothingVaries()
	}
	l.Stack, l.ctx = slices.Clone(s), ctx
	return l, ctx.Err()
}

func newLaw(centre units.Length, terms []term) *Law {
	l := &Law{ctx: context.Background(), up: withNormalsAdded(sorted(terms)), centre: centre}
	mirrored := make([]term, len(l.up))
	var variance float64
	for i, t := range l.up {
		mirrored[i] = t.mirrored()
		l.mean += t.mean()
		variance += t.variance()
	}
	l.down = sorted(mirrored)
	l.sigma = math.Sqrt(variance)
	l.Mean, l.StdDev = l.at(l.mean), millimetres(l.sigma)
	return l
}

// nothingVaries is the error for samples that leave the gap one value.
func nothingVaries() error {
	return wrong(ErrUnusable, "distribution of the gap", "nothing that varies: samples with equal values, exact sizes, or sizes that cancel", "measure in finer steps, or give a distribution within the limits")
}

// withNormalsAdded returns the terms with all normal ones replaced by their sum.
func withNormalsAdded(terms []term) []term {
	sum := term{kind: normal, exact: &exactTerm{half: new(big.Rat), variance: new(big.Rat)}}
	var all []term
	for _, t := range terms {
		if t.kind == normal {
			sum.sigma = math.Hypot(sum.sigma, t.sigma)
			sum.half += t.half
			e := t.exactly()
			sum.exact.half.Add(sum.exact.half, e.half)
			sum.exact.variance.Add(sum.exact.variance, e.variance)
			continue
		}
		all = append(all, t)
	}
	if sum.sigma > 0 {
		all = append(all, sum)
	}
	return sorted(all)
}

// at returns the gap x mm from the centre.
func (l *Law) at(x float64) units.Length { return l.centre.Add(millimetres(x)) }

// millimetres returns x mm, rounded to the picometre. x is finite.
func millimetres(x float64) units.Length {
	q, err := units.Millimetre.OfFloat64(x, 9)
	if err != nil {
		panic("stack: " + err.Error())
	}
	return q
}

func (l *Law) from(gap units.Length) float64 { return gap.Sub(l.centre).Float64(units.Millimetre) }

// Above returns the probability that the gap is greater than the one given.
func (l *Law) Above(gap units.Length) Computed {
	return l.tail(l.up, gap.Sub(l.centre))
}

// Below returns the probability that the gap is less than the one given.
func (l *Law) Below(gap units.Length) Computed {
	return l.tail(l.down, l.centre.Sub(gap))
}

// tail returns the probability of a sum beyond t.
func (l *Law) tail(terms []term, t units.Length) Computed {
	p := tail(l.ctx, terms, t.Rat(units.Millimetre))
	if l.ctx.Err() != nil {
		return Computed{Value: math.NaN(), Error: math.Inf(1)}
	}
	return p
}

// outside returns the probabilities of a gap below and above limits; a bound
// that the limits lack is never passed, exactly.
func (l *Law) outside(limits units.LengthInterval) (below, above Computed) {
	below, above = exactly(0), exactly(0)
	if limits.HasLo() {
		below = l.Below(limits.Lo())
	}
	if limits.HasHi() {
		above = l.Above(limits.Hi())
	}
	return below, above
}

// Quantile returns the gap that the part p of all gaps lies below, rounded to the
// picometre; 0 < p < 1. Its probability is as good as that of Below and Above, and near
// one as good as float64 holds p, 1e-16: for rarer gaps, ask for the quantile of the
// stack with the sign of every sensitivity turned. The error is of kind
// [measure.ErrProbability]; also for a p below 1e-18, beyond the range of normal
// contributors here.
func (l *Law) Quantile(p float64) (units.Length, error) {
	if err := checkProbability("quantile of the gap", p); err != nil {
		return units.Length{}, err
	}
	q := units.Length{}
	if p > 0.5 {
		q = l.upper(1 - p)
	} else {
		q = l.lower(p)
	}
	if err := l.ctx.Err(); err != nil {
		return units.Length{}, err
	}
	return q, nil
}

// lower returns the gap below which lies the part p, upper the one above which it does.
func (l *Law) lower(p float64) units.Length {
	return l.at(-quantile(l.ctx, l.down, p, -l.mean, l.sigma))
}
func (l *Law) upper(p float64) units.Length { return l.at(quantile(l.ctx, l.up, p, l.mean, l.sigma)) }

// Coverage returns the interval that holds the part p of all gaps, with equal probability
// below and above it: the probabilistically symmetric coverage interval of JCGM 101:2008,
// 3.15. 0 < p < 1.
func (l *Law) Coverage(p float64) (units.LengthInterval, error) {
	if err := checkProbability("coverage of the gap", p); err != nil {
		return units.LengthInterval{}, err
	}
	outside := (1 - p) / 2
	var a units.LengthInterval
	if l.mean == 0 && !slices.ContainsFunc(l.up, func(t term) bool { return t.kind == sampled || t.exactly().offset != nil }) {
		x := quantile(l.ctx, l.up, outside, 0, l.sigma) // each term is its own mirror image
		a = units.Between(l.at(-x), l.at(x))
	} else {
		a = units.Between(l.lower(outside), l.upper(outside))
	}
	if err := l.ctx.Err(); err != nil {
		return units.LengthInterval{}, err
	}
	return a, nil
}

// leastQuantile is the smallest probability whose quantile is looked for.
const leastQuantile = 1e-18

func checkProbability(where string, p float64) error {
	if !(p > 0 && p < 1) {
		return wrong(measure.ErrProbability, where, fmt.Sprintf("a probability of %g", p), "give a number between 0 and 1, such as 0.95")
	}
	if p < leastQuantile {
		return wrong(measure.ErrProbability, where, fmt.Sprintf("a probability of %g", p), "give 1e-18 or more: the computation does not reach farther out")
	}
	return nil
}

// quantile returns the t with P(S > t) = p; anything once the context has ended.
func quantile(ctx context.Context, terms []term, p, mean, sigma float64) float64 {
	short := func(t float64) float64 { // rises: how far the logarithm of the tail lies below that of p
		v := tail(ctx, terms, new(big.Rat).SetFloat64(t)).Value
		return math.Log(p / max(v, 0))
	}
	// It begins where a normal law has it: short(lo) < 0 <= short(hi), once widened.
	guess, step := mean-mathext.NormalQuantile(p)*sigma, sigma/64
	lo, hi := guess-step, guess+step
	atLo, atHi := short(lo), short(hi)
	for ; atLo >= 0 && ctx.Err() == nil; atLo = short(lo) {
		hi, atHi = lo, atLo
		step *= 2
		lo -= step
	}
	for ; atHi < 0 && ctx.Err() == nil; atHi = short(hi) {
		lo, atLo = hi, atHi
		step *= 2
		hi += step
	}
	if ctx.Err() != nil {
		return mean
	}
	lo, hi = narrowed(short, lo, hi, atLo, atHi, 1e-13*(math.Abs(mean)+sigma), 1e-11)
	return (lo + hi) / 2
}

// narrowed returns the ends between which a rising function passes zero, no farther apart
// than width, or one point where it is nearer to zero than close. It goes by the secant
// through the ends (the Illinois form of the false position), and by halves where that
// moves too little or an end is infinite.
func narrowed(f func(x float64) float64, lo, hi, atLo, atHi, width, close float64) (float64, float64) {
	for side := 0; hi-lo > width; {
		x := lo + (hi-lo)*atLo/(atLo-atHi)
		if !(x-lo > width/4 && hi-x > width/4) {
			x = (lo + hi) / 2
		}
		at := f(x)
		switch {
		case math.Abs(at) < close:
			return x, x
		case at <= 0 && side < 0:
			atHi /= 2 // the same end twice: the other must move too
		case at > 0 && side > 0:
			atLo /= 2
		}
		if at <= 0 {
			lo, atLo, side = x, at, -1
		} else {
			hi, atHi, side = x, at, +1
		}
	}
	return lo, hi
}
