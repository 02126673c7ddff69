package stack

import (
	"cmp"
	"math"
	"math/big"
	"slices"
	"sort"

	"example.com/closefit/units"
)

// A term is one contributor times its sensitivity, less its centre, which is the middle
// of its limits or the mean of a normal one: a random variable in millimetres, in float64.
// All are symmetrical about zero but samples and those that are cut off about a mean of
// their own.
type term struct {
	kind   kind
	half   float64   // half the width of the limits, > 0
	sigma  float64   // of the normal distributions: before cutting off
	offset float64   // of one that is cut off: its mean before that, from the middle of the limits
	top    float64   // of a trapezoid
	atoms  []float64 // of a sample, in ascending order

	exact *exactTerm // nil for what the fields above hold exactly
}

// An exactTerm is a term before it was rounded to float64. It is never changed.
type exactTerm struct {
	half      *big.Rat   // mm
	variance  *big.Rat   // of the normal distributions, before cutting off; mm²
	deviation *big.Rat   // its root, if that is known exactly; mm
	offset    *big.Rat   // nil for none; mm
	atoms     []*big.Rat // mm, in ascending order
}

func newTerm(c Contributor) term {
	half := c.moved().Radius().Rat(units.Millimetre)
	t := term{kind: c.Distribution.kind, half: nearestTo(half), exact: &exactTerm{half: half}}
	switch t.kind {
	case normal, normalWithin:
		t.sigma = t.half / c.Distribution.k
		sigma := new(big.Rat).SetFloat64(c.Distribution.k)
		sigma.Quo(half, sigma)
		t.exact.deviation, t.exact.variance = sigma, new(big.Rat).Mul(sigma, sigma)
		if mean := c.Distribution.mean; t.kind == normalWithin && mean != nil {
			t.exact.offset = mean.Sub(c.Limits.Mid()).Times(c.Sensitivity).Rat(units.Millimetre)
			t.offset = nearestTo(t.exact.offset)
		}
	case trapezoidal:
		t.top = c.Distribution.top
	case sampled:
		middle, sensitivity := c.Limits.Mid(), c.Sensitivity.Rat(units.One)
		for _, v := range c.Distribution.sample {
			t.exact.atoms = append(t.exact.atoms, v.Sub(middle).MulRat(sensitivity).Rat(units.Millimetre))
		}
		slices.SortFunc(t.exact.atoms, (*big.Rat).Cmp)
		for _, a := range t.exact.atoms {
			t.atoms = append(t.atoms, nearestTo(a))
		}
	}
	return t
}

// exactly returns the term as it was before rounding.
func (t term) exactly() exactTerm {
	if t.exact != nil {
		return *t.exact
	}
	e := exactTerm{half: new(big.Rat).SetFloat64(t.half), variance: new(big.Rat).SetFloat64(t.sigma)}
	e.variance.Mul(e.variance, e.variance)
	if t.offset != 0 {
		e.offset = new(big.Rat).SetFloat64(t.offset)
	}
	for _, a := range t.atoms {
		e.atoms = append(e.atoms, new(big.Rat).SetFloat64(a))
	}
	return e
}

// deviation returns the standard deviation of a normal term.
func (t term) deviation() *big.Rat {
	if t.exact != nil && t.exact.deviation != nil {
		return t.exact.deviation
	}
	return new(big.Rat).SetFloat64(t.sigma)
}

// sides returns the widths of the two uniform variables of which a triangular or
// trapezoidal term is the sum.
func (t term) sides() (wide, narrow *big.Rat) {
	half := t.exactly().half
	if t.top == 0 {
		return half, half
	}
	top := new(big.Rat).SetFloat64(t.top)
	wide, narrow = top.Mul(top, half), new(big.Rat)
	narrow.Sub(half, wide)
	return wide.Add(half, wide), narrow
}

// reach is how many standard deviations a normal term is followed upwards. What
// lies beyond, one part in 10^21, is lost and counted in the estimate of the error.
const reach = 9.5

// reachDown is how many it is followed downwards in P(S > t). That S is large and
// that one of its terms is small go together no more often than by chance, so
// that what is lost is one part in 10^13 of P at the most, and is counted too.
const reachDown = 7.5

// above returns P(Z > z) of a standard normal Z.
func above(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }

func density(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }

// hi returns the largest value that is followed, and lo the smallest.
func (t term) hi() float64 {
	switch t.kind {
	case normal:
		return reach * t.sigma
	case normalWithin:
		return min(t.half, t.offset+reach*t.sigma)
	case sampled:
		return t.atoms[len(t.atoms)-1]
	}
	return t.half
}

func (t term) lo() float64 {
	switch t.kind {
	case normal:
		return -reachDown * t.sigma
	case normalWithin:
		return max(-t.half, t.offset-reachDown*t.sigma)
	case sampled:
		return t.atoms[0]
	}
	return -t.half
}

// mirrored returns the term with the other sign.
func (t term) mirrored() term {
	m := t
	if t.kind != sampled {
		if t.offset == 0 {
			return t
		}
		m.offset = -t.offset
		if t.exact != nil {
			m.exact = &exactTerm{half: t.exact.half, variance: t.exact.variance, offset: new(big.Rat).Neg(t.exact.offset)}
		}
		return m
	}
	m.atoms = make([]float64, len(t.atoms))
	for i, a := range t.atoms {
		m.atoms[len(m.atoms)-1-i] = -a
	}
	if t.exact != nil {
		m.exact = &exactTerm{half: t.exact.half, atoms: make([]*big.Rat, len(t.atoms))}
		for i, a := range t.exact.atoms {
			m.exact.atoms[len(m.atoms)-1-i] = new(big.Rat).Neg(a)
		}
	}
	return m
}

// scaled returns the term times f > 0, but for its offset, of which only a term with none
// may be scaled.
func (t term) scaled(f float64) term {
	t.exact = nil
	t.half *= f
	t.sigma *= f
	t.atoms = slices.Clone(t.atoms)
	for i := range t.atoms {
		t.atoms[i] *= f
	}
	return t
}

func (t term) mean() float64 {
	var sum float64
	if t.offset != 0 {
		t.measure(-t.half, t.half, func(x, w float64) { sum += w * x })
		return sum
	}
	for _, a := range t.atoms {
		sum += a
	}
	if len(t.atoms) == 0 {
		return 0
	}
	return sum / float64(len(t.atoms))
}

// variance returns the variance:
//
//	uniform T²/3, triangular T²/6, arcsine T²/2 (JCGM 101:2008, 6.4.2, 6.4.5, 6.4.6)
//	trapezoidal T²·(1+β²)/6 (JCGM 101:2008, 6.4.4)
//	normal (T/k)²; cut off at ±kσ: σ²·(1 - 2k·φ(k)/(1 - 2·Q(k)))
//
// T: half the width of the limits; β: top of the trapezoid over its base; φ, Q: density
// and upper tail of the standard normal distribution. One that is cut off about a mean of
// its own is integrated.
func (t term) variance() float64 {
	switch t.kind {
	case noDistribution: // an exact size
		return 0
	case uniform:
		return t.half * t.half / 3
	case triangular:
		return t.half * t.half / 6
	case trapezoidal:
		return t.half * t.half * (1 + t.top*t.top) / 6
	case arcsine:
		return t.half * t.half / 2
	case normal:
		return t.sigma * t.sigma
	case normalWithin:
		if t.offset != 0 {
			mean, sum := t.mean(), 0.0
			t.measure(-t.half, t.half, func(x, w float64) { sum += w * (x - mean) * (x - mean) })
			return sum
		}
		k := t.half / t.sigma
		if k < 0.05 { // the difference below would lose its digits; the law is flat to k²/6
			return t.half * t.half / 3 * (1 - 2*k*k/15)
		}
		return t.sigma * t.sigma * (1 - 2*k*density(k)/math.Erf(k/math.Sqrt2))
	}
	m := t.mean()
	var sum float64
	for _, a := range t.atoms {
		sum += (a - m) * (a - m)
	}
	return sum / float64(len(t.atoms))
}

// above returns P(X > x) in float64, to nearly full relative precision far out.
func (t term) above(x float64) float64 {
	if t.kind == normal {
		return above(x / t.sigma)
	}
	if x >= t.half {
		return 0
	}
	if x < -t.half {
		return 1
	}
	switch t.kind {
	case uniform:
		return (t.half - x) / (2 * t.half)
	case triangular:
		u := x / t.half
		if u >= 0 {
			return (1 - u) * (1 - u) / 2
		}
		return 1 - (1+u)*(1+u)/2
	case trapezoidal:
		u := math.Abs(x / t.half)
		p := (1 + t.top - 2*u) / (2 * (1 + t.top))
		if u > t.top {
			p = (1 - u) * (1 - u) / (2 * (1 - t.top*t.top))
		}
		if x < 0 {
			return 1 - p
		}
		return p
	case arcsine:
		return 2 * math.Asin(math.Sqrt((1-x/t.half)/2)) / math.Pi
	case normalWithin:
		if x < t.offset {
			return 1 - t.mirrored().above(-x)
		}
		k := (t.half - t.offset) / t.sigma / math.Sqrt2
		return (math.Erfc((x-t.offset)/t.sigma/math.Sqrt2) - math.Erfc(k)) / (2 * t.inside())
	}
	return float64(len(t.atoms)-sort.Search(len(t.atoms), func(i int) bool { return t.atoms[i] > x })) / float64(len(t.atoms))
}

// inside returns which part of a normal term that is cut off lay within the limits before.
func (t term) inside() float64 {
	if t.offset == 0 {
		return math.Erf(t.half / t.sigma / math.Sqrt2)
	}
	return (math.Erf((t.half-t.offset)/t.sigma/math.Sqrt2) + math.Erf((t.half+t.offset)/t.sigma/math.Sqrt2)) / 2
}

// density returns the density at x, which lies within the limits; at a limit it is that
// beside it, inside. It is for all kinds but samples; that of an arcsine term is infinite
// at its limits.
func (t term) density(x float64) float64 {
	switch t.kind {
	case uniform:
		return 1 / (2 * t.half)
	case triangular:
		return (1 - math.Abs(x)/t.half) / t.half
	case trapezoidal:
		u := max(t.top, math.Abs(x)/t.half)
		return (1 - u) / (1 - t.top*t.top) / t.half
	case arcsine:
		return 1 / (math.Pi * math.Sqrt((t.half-x)*(t.half+x)))
	case normal:
		return density(x/t.sigma) / t.sigma
	}
	return density((x-t.offset)/t.sigma) / (t.sigma * t.inside())
}

// measure calls add with points and weights that integrate over the part of the
// distribution in [a, b], which lies within lo and hi: Σ w·g(x) is E g(X) there,
// for a smooth g. It is for all kinds but samples.
func (t term) measure(a, b float64, add func(x, w float64)) {
	weighted := func(x, w float64) { add(x, w*t.density(x)) }
	switch t.kind {
	case uniform:
		gauss(a, b, func(x, w float64) { add(x, w/(2*t.half)) })
	case triangular, trapezoidal: // straight from corner to corner
		for _, corner := range []float64{-t.top * t.half, t.top * t.half} {
			if a < corner && corner < b {
				gauss(a, corner, weighted)
				a = corner
			}
		}
		gauss(a, b, weighted)
	case arcsine: // x = T·sin φ, φ uniform in ±π/2
		angle := func(x float64) float64 { return math.Asin(max(-1, min(1, x/t.half))) }
		panels(angle(a), angle(b), 0.25, func(phi, w float64) { add(t.half*math.Sin(phi), w/math.Pi) })
	case normal:
		panels(a, b, t.sigma/2, weighted)
	case normalWithin:
		inside := t.inside() // once
		panels(a, b, t.sigma/2, func(x, w float64) { add(x, w*density((x-t.offset)/t.sigma)/(t.sigma*inside)) })
	}
}

// panels is gauss over parts of [a, b] no wider than most.
func panels(a, b, most float64, add func(x, w float64)) {
	n := math.Ceil((b - a) / most)
	width := (b - a) / n
	for i := range int(n) {
		from := a + float64(i)*width
		gauss(from, from+width, add)
	}
}

// gauss calls add with the five points and weights of the Gauss-Legendre rule on
// [a, b], exact for polynomials up to the ninth degree (Handbook of Mathematical
// Functions, 1964, table 25.4, from memory; a test proves the degree).
func gauss(a, b float64, add func(x, w float64)) {
	middle, half := (a+b)/2, (b-a)/2
	for i, x := range gaussPoints {
		add(middle+half*x, half*gaussWeights[i])
	}
}

var (
	gaussPoints  = [...]float64{-0.906179845938664, -0.538469310105683, 0, 0.538469310105683, 0.906179845938664}
	gaussWeights = [...]float64{0.236926885056189, 0.478628670499366, 0.568888888888889, 0.478628670499366, 0.236926885056189}
)

// smoothness weighs how well a term serves as the one that is not put on the
// lattice: see convolve.
func (t term) smoothness() float64 {
	switch t.kind {
	case normal:
		return 2
	case normalWithin, triangular, trapezoidal:
		return 1.5
	case uniform:
		return 1
	case arcsine:
		return 0.5
	}
	return 0
}

// compare orders terms so that the order in which contributors were given
// changes nothing, not even the rounding: the one that serves best as the last
// comes last.
func compare(a, b term) int {
	return cmp.Or(
		cmp.Compare(a.smoothness()*a.half, b.smoothness()*b.half),
		cmp.Compare(a.kind, b.kind),
		cmp.Compare(a.half, b.half),
		cmp.Compare(a.sigma, b.sigma),
		cmp.Compare(a.offset, b.offset),
		cmp.Compare(a.top, b.top),
		slices.Compare(a.atoms, b.atoms),
	)
}
