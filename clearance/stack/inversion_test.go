package stack

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// within fails unless the true value lies within the error.
func within(t interface {
	Helper()
	Errorf(string, ...any)
}, what string, got Computed, want *big.Float) (part float64) {
	t.Helper()
	wide := new(big.Float).SetPrec(2 * want.Prec())
	off := wide.Sub(wide.SetFloat64(got.Value), want)
	if off.Abs(off).Cmp(number(digits, got.Error)) > 0 {
		t.Errorf("%s: %v, want %.25g: off by %.3g", what, got, want, off)
	}
	o, _ := off.Float64()
	return o / got.Error
}

// Sums of uniform and triangular terms by inversion, against the exact ones.
func TestInversionOfUniforms(t *testing.T) {
	reached := 0
	var tightest float64
	rapid.Check(t, func(t *rapid.T) {
		var terms []term
		var end float64
		for range rapid.IntRange(2, 9).Draw(t, "terms") {
			half := float64(rapid.IntRange(1, 900).Draw(t, "half width")) / rapid.SampledFrom([]float64{8, 512}).Draw(t, "finer")
			terms = append(terms, term{kind: rapid.SampledFrom([]kind{uniform, triangular}).Draw(t, "kind"), half: half})
			end += half
		}
		at := new(big.Rat).SetFloat64(end * (1 - float64(rapid.IntRange(1, 100).Draw(t, "from the end"))/rapid.SampledFrom([]float64{100, 1e4, 1e8}).Draw(t, "of")))
		exact, ok := rational(t.Context(), terms, at)
		if !ok {
			t.Skip("not exact")
		}
		if p, ok := invert(t.Context(), terms, at); ok {
			reached++
			tightest = max(tightest, within(t, "inversion", p, number(digits, exact.Value))-exact.Error/p.Error)
		}
	})
	if t.Logf("reached %d; off by %.2g of the bound at the most", reached, tightest); reached == 0 {
		t.Error("nothing was reached")
	}
}

// uniformAndNormal is P(U + N > t), U on ±half, N normal or cut off at k σ:
//
//	1/2a · ∫ Q((t-u)/σ) du = σ/2a · (R((t-a)/σ) - R((t+a)/σ)),   R(z) = φ(z) - z·Q(z)
//
// and with the normal one cut off, Q(z) replaced by (Q(z)-Q(k))/(1-2Q(k)) within ±k, by 0
// beyond and by 1 below.
func uniformAndNormal(at, a, sigma *big.Rat, k *big.Rat) *big.Float {
	z := func(sign int64) *big.Rat {
		x := new(big.Rat).Mul(a, big.NewRat(sign, 1))
		return x.Quo(x.Add(at, x), sigma)
	}
	lo, hi := z(-1), z(+1)
	const far = 26 // Q is below 1e-148 there: left out
	outer := max(math.Abs(nearestTo(lo)), math.Abs(nearestTo(hi)))
	if k != nil {
		outer = max(outer, nearestTo(k))
	}
	outer = min(outer, far)
	prec := precisionFor(outer * outer)
	isFar := func(z *big.Rat) bool { return math.Abs(nearestTo(z)) > far }
	tail := func(z *big.Rat) *big.Float {
		if isFar(z) {
			return number(prec, float64((1-z.Sign())/2))
		}
		q := new(big.Rat).Mul(z, z)
		p := bigQ(q.Quo(q, big.NewRat(2, 1)))
		p = new(big.Float).SetPrec(prec).Set(p)
		if z.Sign() < 0 {
			p = less(number(prec, 1), p)
		}
		return p
	}
	r := func(z *big.Rat) *big.Float {
		if isFar(z) {
			return new(big.Float).SetPrec(prec).Neg(times(ratio(prec, z), tail(z)))
		}
		half := new(big.Rat).Mul(z, z)
		half.Quo(half, big.NewRat(-2, 1))
		phi := over(bigExp(ratio(prec, half)), root(times(number(prec, 2), bigPi(prec))))
		return less(phi, times(ratio(prec, z), tail(z)))
	}
	width := less(ratio(prec, hi), ratio(prec, lo))
	if k == nil {
		return over(less(r(lo), r(hi)), width)
	}
	minus := new(big.Rat).Neg(k)
	sum := number(prec, 0)
	if lo.Cmp(minus) < 0 { // certain there
		end := minus
		if hi.Cmp(minus) < 0 {
			end = hi
		}
		sum = plus(sum, less(ratio(prec, end), ratio(prec, lo)))
	}
	from, to := lo, hi
	if from.Cmp(minus) < 0 {
		from = minus
	}
	if to.Cmp(k) > 0 {
		to = k
	}
	if from.Cmp(to) < 0 {
		cut := tail(k)
		part := less(less(r(from), r(to)), times(cut, less(ratio(prec, to), ratio(prec, from))))
		sum = plus(sum, over(part, less(number(prec, 1), plus(cut, cut))))
	}
	return over(sum, width)
}

// A uniform part and normal ones, in any ratio to 1 : 10⁸: what is proven holds, and
// so does what is estimated, where a true value can be had.
func TestBoundOfUniformAndNormal(t *testing.T) {
	proven := 0
	rapid.Check(t, func(t *rapid.T) {
		a := big.NewRat(rapid.Int64Range(1, 2000).Draw(t, "half width, µm"), 1000)
		sigma := big.NewRat(rapid.Int64Range(1, 2000).Draw(t, "deviation, µm"), 1000*rapid.SampledFrom([]int64{1, 1, 1, 1000, 100_000_000}).Draw(t, "finer"))
		if rapid.Bool().Draw(t, "swapped") {
			a, sigma = sigma, a
		}
		var k *big.Rat
		times := rapid.IntRange(2, 40).Draw(t, "k, quarters")
		d := Normal(float64(times) / 4)
		half := new(big.Rat).Mul(sigma, big.NewRat(int64(times), 4))
		if rapid.Bool().Draw(t, "cut off") {
			k, d = big.NewRat(int64(times), 4), NormalWithin(float64(times)/4)
		}
		at := new(big.Rat).Add(a, new(big.Rat).Mul(sigma, big.NewRat(int64(min(times, 32)), 4)))
		at.Mul(at, big.NewRat(rapid.Int64Range(-300, 999).Draw(t, "thousandths of the end"), 1000))
		law := onlyLaw(t, Adds("u", plusMinus(a), Uniform()), Takes("n", plusMinus(half), d))
		want := uniformAndNormal(at, a, sigma, k)
		if nearestFloat(want) < 1e-130 {
			t.Skip("too far out for what was left out")
		}
		got := law.Above(mm(at))
		if got.Proven {
			proven++
		}
		within(t, "above", got, want)
		if v, _ := want.Float64(); v > 1e-12 && got.Error > 0.01*v {
			t.Errorf("%v: wider than a hundredth", got)
		}
		within(t, "below", law.Below(mm(at)), less(number(want.Prec(), 1), want))
	})
	if t.Logf("proven: %d", proven); proven == 0 {
		t.Error("nothing is proven")
	}
}

// An arcsine part and a normal one, against the mean over θ of Q((t - T·cos θ)/σ), which
// the rule of equal parts gives to all digits, for it is a smooth function that repeats: the
// second half of the points changes nothing.
func TestBoundOfArcsineAndNormal(t *testing.T) {
	for _, test := range []struct{ half, sigma, at float64 }{
		{0.5, 0.25, 0.125}, {0.5, 0.25, 1.5}, {1, 0.5, 3.75}, {0.25, 1, 6},
	} {
		mean := func(points int) *big.Float {
			sum := number(digits, 0)
			for j := range points {
				z := (test.at - test.half*math.Cos(2*math.Pi*(float64(j)+0.5)/float64(points))) / test.sigma
				exact := new(big.Rat).SetFloat64(z)
				exact.Quo(exact.Mul(exact, exact), big.NewRat(2, 1))
				q := bigQ(exact)
				if z < 0 {
					q = less(number(q.Prec(), 1), q)
				}
				sum = plus(sum, q)
			}
			return over(sum, number(digits, float64(points)))
		}
		want := mean(96)
		if half := mean(48); math.Abs(nearestFloat(less(half, want))) > 1e-13*nearestFloat(want) {
			t.Fatalf("the rule has not settled: %g, %g", half, want)
		}
		terms := sorted([]term{{kind: arcsine, half: test.half}, {kind: normal, half: 3 * test.sigma, sigma: test.sigma}})
		got, ok := invert(t.Context(), terms, new(big.Rat).SetFloat64(test.at))
		// The angles are float64, which moves z by some 1e-16 and Q by some 1e-14.
		if off := math.Abs(got.Value - nearestFloat(want)); !ok || off > got.Error+3e-15*got.Value || got.Error > 1e-9*got.Value {
			t.Errorf("%+v: %v, %t, want %.17g", test, got, ok, want)
		}
	}
}

func nearestFloat(x *big.Float) float64 { f, _ := x.Float64(); return f }

// Mixtures of every kind: what is proven and what is estimated agree.
func TestInversionAgreesWithLattices(t *testing.T) {
	reached := 0
	rapid.Check(t, func(t *rapid.T) {
		terms := withNormalsAdded(drawTerms(t))
		if len(terms) < 2 {
			t.Skip("one term")
		}
		var mean, variance float64
		for _, x := range terms {
			mean += x.mean()
			variance += x.variance()
		}
		at := mean + math.Sqrt(variance)*float64(rapid.IntRange(0, 600).Draw(t, "hundredths of a deviation"))/100
		p, ok := invert(t.Context(), terms, new(big.Rat).SetFloat64(at))
		if !ok {
			return
		}
		reached++
		if q := estimate(t.Context(), terms, at); math.Abs(p.Value-q.Value) > p.Error+q.Error {
			t.Errorf("proven %v, estimated %v", p, q)
		}
	})
	if t.Logf("reached %d", reached); reached == 0 {
		t.Error("nothing was reached")
	}
}

// The transform of a uniform variable against its series in big numbers.
func TestUniformTransform(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := math.Pow(10, float64(rapid.IntRange(-120, 19).Draw(t, "tenths of an exponent"))/10)
		x := size * float64(rapid.IntRange(1, 100).Draw(t, "real")) / 100
		y := size * float64(rapid.IntRange(0, 100).Draw(t, "imaginary")) / 100
		m, e := uniformTransform(complex(x, y))
		// Σ (-z)ⁿ/(n+1)!
		const prec = 900
		re, im := number(prec, 0), number(prec, 0)
		a, b := number(prec, 1), number(prec, 0)
		for n := 1.0; n < 900; n++ {
			re, im = plus(re, a), plus(im, b)
			bx, by := number(prec, -x), number(prec, -y)
			a, b = less(times(a, bx), times(b, by)), plus(times(a, by), times(b, bx))
			a, b = over(a, number(prec, n+1)), over(b, number(prec, n+1))
		}
		off := math.Hypot(nearestFloat(less(number(prec, real(m)), re)), nearestFloat(less(number(prec, imag(m)), im)))
		if off > e || e > 1e-12 {
			t.Errorf("z = %g%+gi: %g ± %g, off by %g", x, y, m, e, off)
		}
	})
}

// The Gauss-Legendre rule is as good as normalPoints says: P₉₆ is nothing at its points,
// and the weights are 2/((1-x²)·P'₉₆²).
func TestRule(t *testing.T) {
	x, w := rule()
	var worst, worstWeight float64
	for i := range x {
		at := number(digits, x[i])
		for range 3 { // Newton's steps from the float64
			last, p := number(digits, 1), at
			for n := 2.0; n <= pointsOfRule; n++ {
				next := less(times(number(digits, 2*n-1), times(at, p)), times(number(digits, n-1), last))
				last, p = p, over(next, number(digits, n))
			}
			inner := less(number(digits, 1), times(at, at))
			slope := over(times(number(digits, pointsOfRule), less(last, times(at, p))), inner)
			weight := over(number(digits, 2), times(inner, times(slope, slope)))
			worstWeight = math.Abs(nearestFloat(over(less(number(digits, w[i]), weight), weight)))
			at = less(at, over(p, slope))
		}
		worst = max(worst, math.Abs(nearestFloat(less(at, number(digits, x[i])))))
		if worstWeight > 1e-13 || worst > 4e-16 {
			t.Errorf("point %d: off by %g, its weight by %g of it", i, worst, worstWeight)
		}
	}
}
