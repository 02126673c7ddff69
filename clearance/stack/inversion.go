package stack

import (
	"context"
	"math"
	"math/big"
	"sync"
)

// How the distribution of a mixture is computed, with a proven bound.
//
// Let Y = hi - X be how far a bounded term lies below its largest value, M(s) = E exp(-sY),
// σ² the variance of the normal terms, and δ the distance from t up to the largest sum of
// the bounded terms. For any c > 0 the function h(x) = P(S > t+x)·exp(cx) has the Fourier
// transform
//
//	F(c+iu),   F(s) = exp(sδ + s²σ²/2) · Π M(s) / s
//
// and by Poisson's summation formula, with L = 2π/Δ,
//
//	Δ/π · Σ Re F(c + i(k+1/2)Δ) over k >= 0   =   Σ (-1)^m · h(mL) over all m
//
// of which m = 0 is P(S > t). With c where F is smallest on the real axis, the sum does not
// cancel: its terms are of the size of the result, however small that is. The bound adds up:
//
//   - discretisation, the h(mL) other than h(0). Those of m < 0 are together at most
//     exp(-cL)/(1-exp(-cL)). Those of m > 0 are zero if nothing is normal and L >= δ;
//     else P(S > t+mL) <= exp(-(mL-δ)²/2σ²)/2, and the first is more than all others;
//   - truncation after N terms: |M(c+iu)| is at most (1+exp(-wc))/(wu) for a uniform term
//     of width w, the product of that for both widths of a triangular or trapezoidal
//     one, twice the largest density over u for a cut off normal one (by parts; its density
//     rises and falls once), M(c) for others; and |exp(s²σ²/2)| = exp((c²-u²)σ²/2). What is left off
//     is at most the integral of the product from (N-1/2)Δ, for that falls;
//   - quadrature: the M of arcsine and cut off normal terms are sums over so many points,
//     see arcsinePoints and normalPoints;
//   - rounding, carried through each term of the sum with the number of operations; the
//     multiples of Δ are exact, because Δ is cut to 30 bits. A call of sin or cos is
//     allowed the error of library, relative to one.

// The density of S is the same sum with F(s)·s in place of F(s). Then the h(mL) are
// f(t+mL)·exp(cmL): no density of a sum is larger than the largest of any of its terms, and
// beyond the bounded ones it is at most that of the normal terms at mL-δ. What is left off
// loses one power of u, so that two terms with a density, or a normal one, are needed.

// pointsOfRule is how many points a quadrature of M has.
const pointsOfRule = 96

// mostPoints bounds the work of an inversion: terms of the sum times the exponentials in
// each. What it cannot reach is left to estimate.
const mostPoints, mostTerms = 150_000, 1 << 14

// provenEnough is the widest bound, as a part of the value, that is given in place of an
// estimate.
const provenEnough = 1e-4

// A factor is the M of a term.
type factor struct {
	term  term
	width float64 // of a uniform distribution; 0 for points

	// E exp(-sY) as Σ weight·exp(-s·point), with the points known to within moved and the
	// weights to within a part apart.
	points, weights []float64
	moved, apart    float64
}

// invert returns P(S > t), t not below the mean, with a proven bound; ok is false where
// that would take too long or be wider than provenEnough.
func invert(ctx context.Context, terms []term, t *big.Rat) (p Computed, ok bool) {
	return inverted(ctx, terms, t, false)
}

// inverted is invert, or the density of S at t.
func inverted(ctx context.Context, terms []term, t *big.Rat, density bool) (p Computed, ok bool) {
	var factors []factor
	distance, variance := new(big.Rat).Neg(t), new(big.Rat)
	cost := 0
	for _, x := range terms {
		e := x.exactly()
		switch x.kind {
		case normal:
			variance.Add(variance, e.variance)
			continue
		case uniform:
			factors = append(factors, factor{term: x, width: 2 * x.half})
		case triangular, trapezoidal:
			wide, narrow := x.sides()
			factors = append(factors, factor{term: x, width: nearestTo(wide)}, factor{term: x, width: nearestTo(narrow)})
		case arcsine:
			factors = append(factors, arcsinePoints(x))
		case normalWithin:
			factors = append(factors, normalPoints(x))
		case sampled:
			f := factor{term: x}
			top := e.atoms[len(e.atoms)-1]
			for _, a := range e.atoms {
				f.points = append(f.points, nearestTo(new(big.Rat).Sub(top, a)))
				f.weights = append(f.weights, 1/float64(len(e.atoms)))
			}
			f.apart = 2 * halfUlp
			factors = append(factors, f)
			distance.Add(distance, top)
			continue
		}
		distance.Add(distance, e.half)
	}
	for _, f := range factors {
		cost += 1 + len(f.points)
	}
	const fewestTerms = 16
	if cost > mostPoints/fewestTerms {
		return Computed{}, false
	}
	v := inversion{factors: factors, delta: nearestTo(distance), variance: nearestTo(variance), most: 1}
	v.c = v.saddle()
	size := v.size(v.c)
	if density {
		v.density, v.most = true, largestDensity(terms)
		size *= v.c
	}
	if !(size > 1e-280) { // what exp makes of it is no longer precise
		return Computed{}, false
	}
	v.space(size)
	n := v.terms(size, min(mostTerms, mostPoints/(cost+1)))
	return v.sum(ctx, n)
}

// An inversion is the sum above.
type inversion struct {
	factors         []factor
	delta, variance float64 // mm, mm²; each rounded once
	c, step         float64 // 1/mm
	density         bool
	most            float64 // no h(x)·exp(-cx) is larger
}

// largestDensity returns a bound of the density of the sum of terms.
func largestDensity(terms []term) float64 {
	least := math.Inf(1)
	for _, x := range terms {
		switch x.kind {
		case uniform, triangular, trapezoidal:
			least = min(least, x.density(0))
		case normal:
			least = min(least, density(0)/x.sigma)
		case normalWithin:
			least = min(least, density(0)/(x.sigma*x.inside()))
		}
	}
	return least * (1 + 1e-9)
}

// saddle returns about the c where F is smallest on the real axis. Any c > 0 would do,
// but others make the sum cancel.
func (v *inversion) saddle() float64 {
	spread := math.Sqrt(v.variance) // a scale of S
	for _, f := range v.factors {
		spread += f.term.half
	}
	lo, hi := math.Log(1e-2/spread), math.Log(1e-2/spread)
	at := func(x float64) float64 { return v.logSize(math.Exp(x)) }
	for last := at(hi); ; {
		next := at(hi + 1)
		if !(next < last) || hi-lo > 80 {
			break
		}
		hi, last = hi+1, next
	}
	lo, hi = hi-1, hi+1
	for range 12 { // golden section; near enough
		const part = 0.3819660112501051
		a, b := lo+part*(hi-lo), hi-part*(hi-lo)
		if at(a) < at(b) {
			hi = b
		} else {
			lo = a
		}
	}
	return math.Exp((lo + hi) / 2)
}

// logSize returns the logarithm of F at a real c, roughly.
func (v *inversion) logSize(c float64) float64 {
	x := c*v.delta + c*c*v.variance/2 - math.Log(c)
	for _, f := range v.factors {
		x += math.Log(f.real(c))
	}
	return x
}

func (v *inversion) size(c float64) float64 { return math.Exp(v.logSize(c)) }

// real returns M(c), roughly.
func (f factor) real(c float64) float64 {
	if f.width > 0 {
		return -math.Expm1(-f.width*c) / (f.width * c)
	}
	var sum float64
	for i, y := range f.points {
		sum += f.weights[i] * math.Exp(-c*y)
	}
	return max(sum, math.SmallestNonzeroFloat64)
}

// space sets the step so that the discretisation is small beside a result of about
// c·size.
func (v *inversion) space(size float64) {
	small := 36 - math.Log(min(1, v.c*size/v.most)) // the logarithm of one over it
	length := small / v.c
	if sigma := math.Sqrt(v.variance); sigma > 0 {
		w := v.c*sigma + math.Sqrt(v.c*v.c*v.variance+2*max(0, v.c*v.delta+small))
		length = max(length, v.delta+w*sigma)
	} else {
		length = max(length, v.delta*(1+1e-9))
	}
	fraction, exponent := math.Frexp(2 * math.Pi / length)
	v.step = math.Ldexp(math.Floor(fraction*(1<<30)), exponent-30)
}

// discretisation bounds the h(mL) other than h(0).
func (v *inversion) discretisation() float64 {
	length := 2 * math.Pi / v.step
	away := math.Exp(-v.c * length)
	e := v.most * away / (1 - away)
	switch beyond := length - v.delta; {
	case v.variance == 0 && beyond > 1e-12*length:
	case v.variance > 0 && beyond > 0 && length*(2*beyond+length)/(2*v.variance)-v.c*length > 1:
		first := math.Exp(v.c*length - beyond*beyond/(2*v.variance))
		if v.density {
			first *= density(0) / math.Sqrt(v.variance)
		}
		e += first
	default:
		return math.Inf(1)
	}
	return e * (1 + 1e-9)
}

// truncation bounds what the terms from n on add.
func (v *inversion) truncation(n int) float64 {
	u := (float64(n) - 0.5) * v.step
	x := v.c*v.delta + (v.c*v.c-u*u)*v.variance/2
	power := 0.0
	for _, f := range v.factors {
		switch f.term.kind {
		case uniform, triangular, trapezoidal:
			x += math.Log((1 + math.Exp(-f.width*v.c)) / (f.width * u))
			power++
		case normalWithin:
			x += math.Log(2 / (f.term.sigma * math.Sqrt(2*math.Pi) * f.term.inside() * u))
			power++
		default:
			m, e := f.at(complex(v.c, 0)) // M(c)
			x += math.Log(real(m) + e + f.quadrature(v.c, v.c))
		}
	}
	// The integral over u of u^-(power+1)·exp(-u²σ²/2), but for what is in x; for a density
	// of u^-power.
	over, times := math.Inf(1), 1.0
	if v.density {
		power, times = power-1, u
	}
	if power > 0 {
		over = times / power
	}
	over = min(over, times/(u*u*v.variance))
	return math.Exp(x) * over / math.Pi * (1 + 1e-9)
}

// terms returns how many terms make the truncation small, no more than most.
func (v *inversion) terms(size float64, most int) int {
	goal := 1e-14 * v.c * size
	lo, hi := 1, 2
	for hi < most && v.truncation(hi) > goal {
		lo, hi = hi, 2*hi
	}
	for hi = min(hi, most); hi-lo > 1; {
		if n := (lo + hi) / 2; v.truncation(n) > goal {
			lo = n
		} else {
			hi = n
		}
	}
	return hi
}

func (v *inversion) sum(ctx context.Context, n int) (p Computed, ok bool) {
	limit := math.Hypot(v.c, float64(n)*v.step) // |s| is nowhere larger
	slack := make([]float64, len(v.factors))
	for i, f := range v.factors {
		slack[i] = f.quadrature(v.c, limit)
	}
	var sum, sizes, errors float64
	for k := range n {
		if k%64 == 0 && ctx.Err() != nil {
			return Computed{}, false
		}
		u := (float64(k) + 0.5) * v.step // exact
		s := complex(v.c, u)
		re, im := v.c*v.delta+(v.c*v.c-u*u)*v.variance/2, u*v.delta+v.c*u*v.variance
		moves := math.Abs(v.c*v.delta) + u*math.Abs(v.delta) + (v.c*v.c+u*u)*v.variance/2 + v.c*u*v.variance
		sin, cos := math.Sincos(im)
		modulus := math.Exp(re)
		value := complex(modulus*cos, modulus*sin)
		if !v.density {
			modulus /= math.Hypot(v.c, u)
			value /= s
		}
		off := modulus * (6*halfUlp*moves + 3*library) // the exponent, exp, sin and cos, the product and the quotient
		for i, f := range v.factors {
			m, e := f.at(s)
			e += slack[i]
			sizeOfM := math.Hypot(real(m), imag(m))
			off = off*(sizeOfM+e) + modulus*(e+4*halfUlp*sizeOfM)
			modulus *= sizeOfM
			value *= m
		}
		sum += real(value)
		sizes += modulus
		errors += off + 4*halfUlp*modulus
	}
	scale := v.step / math.Pi
	value := sum * scale
	rounding := (errors + float64(n)*halfUlp*(sizes+errors)) * scale
	e := rounding + v.discretisation() + v.truncation(n) + 4*halfUlp*math.Abs(value)
	if !(e <= provenEnough*value) || value > v.most {
		return Computed{}, false
	}
	return Computed{Value: value, Error: e * (1 + 1e-6), Proven: true}, true
}

// at returns M(s) and a bound on its rounding.
func (f factor) at(s complex128) (m complex128, e float64) {
	if f.width > 0 {
		z := complex(f.width*real(s), f.width*imag(s))
		return uniformTransform(z)
	}
	var sum complex128
	var sizes float64
	most := math.Abs(real(s)) + math.Abs(imag(s))
	for i, y := range f.points {
		decay := f.weights[i] * math.Exp(-real(s)*y)
		sin, cos := math.Sincos(-imag(s) * y)
		sum += complex(decay*cos, decay*sin)
		sizes += decay
		e += decay * most * (f.moved + 2*halfUlp*y)
	}
	e += sizes * (3*library + f.apart + float64(len(f.points)+4)*halfUlp)
	return sum, e * (1 + 1e-9)
}

// uniformTransform returns (1-exp(-z))/z, Re z > 0, and a bound on its error, where z has
// parts with a relative error of 2·2^-53. Up to |z| = 1 it is Σ (-z)ⁿ/(n+1)! to n = 19, whose
// remainder is below 2^-65; no sum and no product there is larger than two, and each of the
// 20 steps, a product and a sum of complex numbers, adds no more than 6·2^-53 divided by the
// factorial that it starts from, which makes less than 20·2^-53 in all. Beyond, exp(-z) moves
// by |z| times the relative error of z.
func uniformTransform(z complex128) (m complex128, e float64) {
	x, y := real(z), imag(z)
	size := math.Hypot(x, y)
	if size <= 1 {
		m = 1
		for n := 20.0; n >= 2; n-- {
			m *= z
			m = complex(1-real(m)/n, -imag(m)/n)
		}
		return m, 24 * halfUlp
	}
	decay := math.Exp(-x)
	sin, cos := math.Sincos(y)
	top := complex(1-decay*cos, decay*sin)
	m = top / z
	e = decay*(2*halfUlp*(x+math.Abs(y))+3*library) + 2*halfUlp
	return m, (e + 8*halfUlp*(1+decay)) / size
}

// arcsinePoints returns the M of an arcsine term, Y = T·(1 - cos θ) with θ evenly spread
// over 0..π, as the mean over the midpoints of equal parts.
func arcsinePoints(t term) factor {
	f := factor{term: t, apart: 2 * halfUlp}
	for j := range pointsOfRule {
		half := math.Sin(math.Pi / 2 * (float64(j) + 0.5) / pointsOfRule)
		f.points = append(f.points, 2*t.half*half*half)
		f.weights = append(f.weights, 1.0/pointsOfRule)
	}
	f.moved = 2 * t.half * (2*library + 6*halfUlp)
	return f
}

// rule returns the points and weights of the Gauss-Legendre rule on [-1, 1].
var rule = sync.OnceValues(func() (x, w []float64) { return legendre(pointsOfRule) })

// legendre returns the points and weights of the Gauss-Legendre rule of n points on [-1, 1]: the zeros of
// Pₙ by Newton's steps from about where they are, cos(π·(i+3/4)/(n+1/2)), and
//
//	w = 2 / ((1-x²)·P'ₙ(x)²),   P'ₙ(x) = n·(Pₙ₋₁(x) - x·Pₙ(x)) / (1-x²)
//
// (Handbook of Mathematical Functions, 1964, 25.4.29 and 22.8.5; from memory). Near the ends
// 1-x² loses the digits that x does not hold, so that the last step, which is too small for x,
// enters the weight: there (1-x²)·P'ₙ² grows by 2x·P'ₙ² for each unit of x.
func legendre(n int) (x, w []float64) {
	for i := range n {
		at := math.Cos(math.Pi * (float64(i) + 0.75) / (float64(n) + 0.5))
		var slope, step float64
		for range 6 {
			at += step
			before, p := 1.0, at
			for k := 2; k <= n; k++ {
				before, p = p, (float64(2*k-1)*at*p-float64(k-1)*before)/float64(k)
			}
			slope = float64(n) * (before - at*p) / ((1 - at) * (1 + at))
			step = -p / slope
		}
		x = append(x, at+step)
		w = append(w, 2/(((1-at)*(1+at)+2*at*step)*slope*slope))
	}
	return x, w
}

// normalPoints returns the M of a cut off normal term by the Gauss-Legendre rule.
func normalPoints(t term) factor {
	f := factor{term: t}
	x, w := rule()
	k, m := t.half/t.sigma, t.offset/t.half
	inside := t.sigma * t.inside() * math.Sqrt(2*math.Pi)
	for i := range x {
		f.points = append(f.points, t.half*(1-x[i]))
		f.weights = append(f.weights, w[i]*t.half*math.Exp(-k*k*(x[i]-m)*(x[i]-m)/2)/inside)
	}
	k *= 1 + math.Abs(m) // how many deviations the farther limit lies from the mean
	// A test finds the points of the rule good to 4e-16 and its weights to 1e-13 of each.
	f.moved = t.half * 1e-15
	f.apart = 2e-13 + 2*library + (10+4*k*k)*halfUlp + k*k*1e-15
	return f
}

// quadrature bounds the error of M by the rule, for Re s = c and |s| up to limit.
//
// Arcsine: the midpoints give the mean of exp(zcos θ), z = sT, but for twice the sum of the
// Bessel functions I₂ₙ, I₄ₙ, … with n points, and |I_v(z)| <= (|z|/2)^v/v! · exp(Re z)
// (Handbook of Mathematical Functions, 1964, 9.1.62; from memory).
//
// Cut off normal: the rule of n points on [-1, 1] errs by at most
//
//	64·M / (15·(1 - ρ^-2)·ρ^(2n-2))
//
// for a function that is analytic and at most M in the ellipse with semi-axes
// (ρ±1/ρ)/2 (Approximation Theory and Approximation Practice, 2013, theorem 19.3; from memory).
func (f factor) quadrature(c, limit float64) float64 {
	const n = 2 * pointsOfRule
	switch f.term.kind {
	case arcsine:
		z := limit * f.term.half
		if z > n/2 {
			return math.Inf(1)
		}
		factorial, _ := math.Lgamma(n + 1)
		return 3 * math.Exp(n*math.Log(z/2)-factorial)
	case normalWithin:
		k := f.term.half / f.term.sigma
		density := k / (math.Sqrt(2*math.Pi) * f.term.inside())
		least := math.Inf(1)
		for _, rho := range [...]float64{1.2, 1.5, 2, 2.5, 3, 4, 6, 9} {
			a, b := (rho+1/rho)/2, (rho-1/rho)/2
			largest := k*k*b*b/2 + c*f.term.half*(a-1) + limit*f.term.half*b
			least = min(least, largest-(n-2)*math.Log(rho)-math.Log1p(-1/(rho*rho)))
		}
		return 64.0 / 15 * density * math.Exp(least) * (1 + 1e-9)
	}
	return 0
}
