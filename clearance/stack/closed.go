package stack

import (
	"context"
	"math"
	"math/big"
)

// halfUlp is how far rounding to nearest moves a float64, relative to it, at the most:
// half a unit in the last place.
const halfUlp = 1.0 / (1 << 53)

// widened covers the rounding of the bounds themselves, which are sums and products of
// fewer than a million positive numbers.
const widened = 1 + 1e-9

// library bounds the relative error of math.Exp, Erf, Erfc and Asin. Go documents none.
// The comments of math/erf.go put its approximations at 2^-57 and less, and what is
// left is the rounding of two exponentials, a product and a quotient: some four units in
// the last place (2^-52). A test measures all four functions against 60-digit values;
// the worst stays below a quarter of this.
const library = 16 * 2 * halfUlp

// closed returns P(S > t) of samples and of one more term that is normal, normal cut
// off, or arcsine, by the closed form of that one; ok is false elsewhere, and for samples
// with more sums than one would go through. The bound is that of the closed form, see
// term.tail, and for n sums half a unit in the last place for each product and addition
// of positive numbers: (n+2)·2^-53 of the value.
func closed(ctx context.Context, terms []term, t *big.Rat) (p Computed, ok bool) {
	sums, one, ok := sumsOfSamples(ctx, terms)
	if !ok {
		return Computed{}, false
	}
	if sums.samples == 0 {
		return one.tail(t), true
	}
	p = Computed{Proven: true}
	for _, s := range sums.values {
		if ctx.Err() != nil {
			return Computed{}, false
		}
		each := one.tail(new(big.Rat).Sub(t, s.at))
		p.Value += s.weight * each.Value
		p.Error += s.weight * each.Error
	}
	p.Error = (p.Error + sums.relative*p.Value) * widened
	if p.Value != 0 && p.Value != 1 {
		p.Error += math.SmallestNonzeroFloat64
	}
	p.Value = min(1, p.Value)
	return p, true
}

// sampleSums are the values that a sum of samples has, and their probabilities.
type sampleSums struct {
	values   []weighted
	samples  int
	relative float64 // bound of the rounding of a mean over the values, as a part of it
}

type weighted struct {
	at     *big.Rat
	weight float64
}

// sumsOfSamples returns the sums of the samples among the terms, and the one other term; ok
// is false if there is none or more than one, or if there are too many sums.
func sumsOfSamples(ctx context.Context, terms []term) (sums sampleSums, one term, ok bool) {
	var samples [][]*big.Rat
	whole, reach := grid{big.NewInt(1)}, new(big.Rat)
	for _, x := range terms {
		if x.kind != sampled {
			if one.kind != noDistribution {
				return sums, one, false
			}
			one = x
			continue
		}
		atoms := x.exactly().atoms
		samples = append(samples, atoms)
		reach.Add(reach, new(big.Rat).Sub(atoms[len(atoms)-1], atoms[0]))
		for _, a := range atoms {
			whole.hold(a)
		}
	}
	switch one.kind {
	case normal, normalWithin, arcsine:
	default:
		return sums, one, false
	}
	const most = 1 << 12
	end := new(big.Int).Add(whole.of(reach), big.NewInt(1))
	steps := []step{{new(big.Int), big.NewInt(1)}} // distances above the smallest values
	lowest, count := new(big.Rat), 1.0
	for _, atoms := range samples {
		if ctx.Err() != nil {
			return sums, one, false
		}
		above := make([]*big.Int, len(atoms))
		bottom := whole.of(atoms[0])
		for i, a := range atoms {
			above[i] = new(big.Int).Sub(whole.of(a), bottom)
		}
		lowest.Add(lowest, atoms[0])
		count *= float64(len(atoms))
		if steps, ok = spread(steps, above, +1, end, most); !ok {
			return sums, one, false
		}
	}
	sums.samples = len(samples)
	for _, s := range steps {
		x := new(big.Rat).SetFrac(s.at, whole.perMillimetre)
		weight, _ := new(big.Float).SetInt(s.count).Float64()
		sums.values = append(sums.values, weighted{x.Add(x, lowest), weight / count})
	}
	// A weight has errors of its own: of the count, of the product of the numbers of
	// values, and of their quotient.
	sums.relative = float64(len(steps)+2+2+len(samples)) * halfUlp
	return sums, one, true
}

// tail returns P(X > x) of one normal, cut off normal or arcsine term, with a bound
// that is proven from these parts:
//
//   - x, T and σ are exact, and enter as a ratio that is rounded once, so that a root of
//     it has a relative error of 2·2^-53;
//   - erfc(y) changes by at most 2y²+1 times the relative change of y (from
//     erfc y > (2/√π)·exp(-y²)/(y+√(y²+2)); Handbook of Mathematical Functions, 1964,
//     7.1.13; from memory), the arcsine, below √½, by less than 1.3 times;
//   - each call of the math library adds what library says;
//   - each operation adds half a unit in the last place, 2^-53.
//
// Below the middle it is one less the tail on the other side, so that nothing small is
// ever the difference of two large numbers.
func (t term) tail(x *big.Rat) Computed {
	e := t.exactly()
	beyond := x // the mean, before cutting off
	if e.offset != nil {
		beyond = new(big.Rat).Sub(x, e.offset)
	}
	if beyond.Sign() < 0 {
		return t.mirrored().tail(new(big.Rat).Neg(x)).other()
	}
	switch t.kind {
	case normal:
		p, relative := normalTail(halfSquareNear(x, e.variance))
		return Computed{Value: p, Error: p*relative*widened + 4*math.SmallestNonzeroFloat64, Proven: true}
	case normalWithin:
		if x.Cmp(e.half) >= 0 {
			return exactly(0)
		}
		inside := e.inside()
		e.half = new(big.Rat).Sub(e.half, new(big.Rat).Sub(x, beyond)) // from the mean
		p, relative := normalBetween(beyond, e)
		relative += library + 6*halfUlp // of inside, whose own condition is at most one, and the quotient
		return Computed{Value: p / inside, Error: p/inside*relative*widened + 4*math.SmallestNonzeroFloat64/inside, Proven: true}
	case arcsine:
		if x.Cmp(e.half) >= 0 {
			return exactly(0)
		}
		part := new(big.Rat).Sub(e.half, x)
		part.Quo(part, new(big.Rat).Add(e.half, e.half))
		p := 2 / math.Pi * math.Asin(math.Sqrt(nearestTo(part)))
		return Computed{Value: p, Error: p * (1.3*2*halfUlp + library + 4*halfUlp) * widened, Proven: true}
	}
	panic("stack: no closed form of one " + Distribution{kind: t.kind}.String())
}

// inside returns which part of a normal term that is cut off lay within the limits before.
// The mean lies there too, so that nothing is subtracted.
func (e exactTerm) inside() float64 {
	if e.offset == nil {
		return math.Erf(math.Sqrt(nearestTo(halfSquare(e.half, e.variance))))
	}
	up, down := new(big.Rat).Sub(e.half, e.offset), new(big.Rat).Add(e.half, e.offset)
	return (math.Erf(math.Sqrt(nearestTo(halfSquare(up, e.variance)))) + math.Erf(math.Sqrt(nearestTo(halfSquare(down, e.variance))))) / 2
}

// halfSquare returns x²/2σ².
func halfSquare(x, variance *big.Rat) *big.Rat {
	q := new(big.Rat).Mul(x, x)
	return q.Quo(q, new(big.Rat).Add(variance, variance))
}

// halfSquareNear is halfSquare rounded once, by whole numbers whose common divisors stay.
func halfSquareNear(x, variance *big.Rat) float64 {
	a := new(big.Int).Mul(x.Num(), x.Num())
	a.Mul(a, variance.Denom())
	b := new(big.Int).Mul(x.Denom(), x.Denom())
	b.Mul(b, variance.Num())
	return quotient(a, b.Lsh(b, 1))
}

// quotient returns a/b, rounded once; a is not negative and b is positive.
func quotient(a, b *big.Int) float64 {
	if a.Sign() == 0 {
		return 0
	}
	// The quotient gets 63 or 64 bits. Its last stands for all that is left, so that it is rounded but once.
	shift := 63 - (a.BitLen() - b.BitLen())
	if shift > 1000 || shift < -900 { // near the ends of float64, where there are fewer bits
		f, _ := new(big.Rat).SetFrac(a, b).Float64()
		return f
	}
	if shift > 0 {
		a = new(big.Int).Lsh(a, uint(shift))
	} else {
		b = new(big.Int).Lsh(b, uint(-shift))
	}
	q, rest := new(big.Int).QuoRem(a, b, new(big.Int))
	bits := q.Uint64()
	if rest.Sign() != 0 {
		bits |= 1
	}
	return math.Ldexp(float64(bits), -shift)
}

func nearestTo(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}

// normalTail returns Q(z) = erfc(z/√2)/2 for the square z²/2, rounded once, and its relative error.
func normalTail(square float64) (p, relative float64) {
	return math.Erfc(math.Sqrt(square)) / 2, library + (2*square+1)*2*halfUlp
}

// normalBetween returns Q(z) - Q(k), 0 <= z < k, and its relative error: z is x/σ, k is
// T/σ. Q(k) is at most exp(-e) times Q(z), e = (k²-z²)/2, for Q(z)·exp(z²/2) falls.
// For an e from 1/16 the difference is therefore taken as it stands, and its error is at
// most (1+exp(-1/16))/(1-exp(-1/16)) < 33 times that of its terms. For a smaller e it is
// the integral over d = k - z
//
//	φ(z) · ∫ exp(-z·v - v²/2) dv,   v from 0 to d
//
// by the five-point rule, whose error is d¹¹·(5!)⁴/(11·(10!)³) times the tenth
// derivative, He₁₀(z+v) times the integrand. There d² <= 1/8 and (z+d)·d <= 1/8, so that
// d¹⁰·|He₁₀| <= 0.0485, and the relative error is below 2.1e-14.
func normalBetween(x *big.Rat, e exactTerm) (p, relative float64) {
	near, far := halfSquare(x, e.variance), halfSquare(e.half, e.variance)
	if nearestTo(new(big.Rat).Sub(far, near)) >= 1.0/16 {
		p, relative = normalTail(nearestTo(near))
		cutOff, relativeThere := normalTail(nearestTo(far))
		p -= cutOff
		return p, (max(relative, relativeThere) + halfUlp) * 33
	}
	sigma := math.Sqrt(nearestTo(e.variance))
	z := nearestTo(x) / sigma
	d := nearestTo(new(big.Rat).Sub(e.half, x)) / sigma
	var sum float64
	gauss(0, d, func(v, w float64) { sum += w * math.Exp(-v*(z+v/2)) })
	q := nearestTo(near)
	p = sum * math.Exp(-q) / math.Sqrt(2*math.Pi)
	// The points and weights of the rule are good to 1e-15; the exponents below
	// e <= 1/16 to ten roundings; q to one.
	const rule, constants = 2.1e-14, 1e-14
	return p, rule + constants + 2*library + (q+40)*halfUlp
}
