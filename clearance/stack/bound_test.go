package stack

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
)

// Closed forms to 60 digits and more, in big.Float, by the plainest series.

// digits is a precision, in bits, that leaves 60 decimal digits of everything here.
const digits = 320

func number(prec uint, x float64) *big.Float { return new(big.Float).SetPrec(prec).SetFloat64(x) }

func ratio(prec uint, r *big.Rat) *big.Float { return new(big.Float).SetPrec(prec).SetRat(r) }

func times(a, b *big.Float) *big.Float { return new(big.Float).SetPrec(a.Prec()).Mul(a, b) }

func over(a, b *big.Float) *big.Float { return new(big.Float).SetPrec(a.Prec()).Quo(a, b) }

func plus(a, b *big.Float) *big.Float { return new(big.Float).SetPrec(a.Prec()).Add(a, b) }

func less(a, b *big.Float) *big.Float { return new(big.Float).SetPrec(a.Prec()).Sub(a, b) }

func root(a *big.Float) *big.Float { return new(big.Float).SetPrec(a.Prec()).Sqrt(a) }

// series adds terms, each made from the one before it, until they no longer count.
func series(first *big.Float, next func(n int, last *big.Float) *big.Float, share func(n int) float64) *big.Float {
	prec := first.Prec()
	sum, part := number(prec, 0), first
	for n := 0; ; n++ {
		add := over(part, number(prec, share(n)))
		sum = plus(sum, add)
		if add.Sign() == 0 || n > 10 && add.MantExp(nil) < -int(prec)-20 && part.MantExp(nil) < -int(prec)-20 {
			return sum
		}
		part = next(n, part)
	}
}

// bigPi is 16·atan(1/5) - 4·atan(1/239).
func bigPi(prec uint) *big.Float {
	atan := func(by float64) *big.Float {
		return series(over(number(prec, 1), number(prec, by)), func(_ int, last *big.Float) *big.Float {
			return over(last, number(prec, -by*by))
		}, func(n int) float64 { return float64(2*n + 1) })
	}
	return less(times(number(prec, 16), atan(5)), times(number(prec, 4), atan(239)))
}

// bigExp is Σ xⁿ/n!, with the reciprocal taken for a negative x.
func bigExp(x *big.Float) *big.Float {
	prec := x.Prec()
	if x.Sign() < 0 {
		return over(number(prec, 1), bigExp(new(big.Float).SetPrec(prec).Neg(x)))
	}
	return series(number(prec, 1), func(n int, last *big.Float) *big.Float {
		return over(times(last, x), number(prec, float64(n+1)))
	}, func(int) float64 { return 1 })
}

// bigErf is 2/√π · Σ (-1)ⁿ·y²ⁿ⁺¹/(n!·(2n+1)).
func bigErf(y *big.Float) *big.Float {
	prec := y.Prec()
	square := times(y, y)
	sum := series(y, func(n int, last *big.Float) *big.Float {
		return over(times(last, square), number(prec, -float64(n+1)))
	}, func(n int) float64 { return float64(2*n + 1) })
	return over(times(number(prec, 2), sum), root(bigPi(prec)))
}

// precisionFor leaves 60 digits of erfc(√q): the series loses q·log₂e bits to
// cancellation, and as many to 1 - erf.
func precisionFor(q float64) uint { return digits + uint(4*q) }

// bigQ is erfc(√q)/2, q = z²/2, for z >= 0.
func bigQ(q *big.Rat) *big.Float {
	f, _ := q.Float64()
	prec := precisionFor(f)
	erf := bigErf(root(ratio(prec, q)))
	return over(less(number(prec, 1), erf), number(prec, 2))
}

// bigAsin is Σ (2n)!/(4ⁿ·n!²)·s²ⁿ⁺¹/(2n+1), for s below 0.8.
func bigAsin(s *big.Float) *big.Float {
	prec := s.Prec()
	return series(s, func(n int, last *big.Float) *big.Float {
		n1 := float64(n + 1)
		return over(times(times(last, times(s, s)), number(prec, 2*n1-1)), number(prec, 2*n1))
	}, func(n int) float64 { return float64(2*n + 1) })
}

// squareOver is x²/2σ² with σ = half/k.
func squareOver(x, half *big.Rat, k float64) *big.Rat {
	z := new(big.Rat).Mul(x, new(big.Rat).SetFloat64(k))
	z.Quo(z, half)
	z.Mul(z, z)
	return z.Quo(z, big.NewRat(2, 1))
}

// The series against mpmath 1.2.1 at 60 digits: π, e, 1/e, erfc(1)/2, erfc(5)/2; and
// asin(1/2) = π/6.
func TestSeriesForBounds(t *testing.T) {
	for _, test := range []struct {
		name string
		got  *big.Float
		want string
	}{
		{"π", bigPi(digits), "3.14159265358979323846264338327950288419716939937510"},
		{"e", bigExp(number(digits, 1)), "2.71828182845904523536028747135266249775724709369996"},
		{"1/e", bigExp(number(digits, -1)), "0.36787944117144232159552377016146086744581113103177"},
		{"erfc(1)/2", bigQ(big.NewRat(1, 1)), "0.0786496035251425653293896824586953703519665010168485"},
		{"erfc(5)/2", bigQ(big.NewRat(25, 1)), "7.6872989721401742509417174269168944505902515736169e-13"},
		{"6·asin(1/2)", times(number(digits, 6), bigAsin(number(digits, 0.5))), "3.14159265358979323846264338327950288419716939937510"},
	} {
		want, _, err := big.ParseFloat(test.want, 10, digits, big.ToNearestEven)
		if err != nil {
			t.Fatal(err)
		}
		if off, _ := over(less(test.got, want), want).Float64(); math.Abs(off) > 1e-48 {
			t.Errorf("%s: %.55g, off by %g", test.name, test.got, off)
		}
	}
}

// holds fails unless the probability is proven, lies within its error of the true
// value, and has an error that is useful: below 1e-9 of the smaller tail, and zero only
// for what is exact.
func holds(t interface {
	Helper()
	Errorf(string, ...any)
}, what string, got Computed, want *big.Float) {
	t.Helper()
	if !got.Proven {
		t.Errorf("%s: %v is not proven", what, got)
	}
	wide := new(big.Float).SetPrec(2 * want.Prec())
	off := wide.Sub(wide.SetFloat64(got.Value), want)
	rounded := times(number(digits, 1e-90), want) // of the true value itself
	if off.Abs(off).Cmp(plus(rounded, number(digits, got.Error))) > 0 {
		t.Errorf("%s: %v, want %.25g: off by %.3g", what, got, want, off)
	}
	small, _ := want.Float64()
	if v := less(number(want.Prec(), 1), want); v.Cmp(want) < 0 {
		small = 1 // above the middle: what is there is one less the tail, to the last place of one
	}
	if small > 1e-300 && got.Error > 1e-9*small {
		t.Errorf("%s: %v: an error of %.2g of it", what, got, got.Error/small)
	}
}

func onlyLaw(t interface {
	Helper()
	Fatal(...any)
}, parts ...Contributor) *Law {
	t.Helper()
	l, err := Stack(parts).Law()
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func mm(r *big.Rat) units.Length { return units.Millimetre.OfRat(r) }

func plusMinus(half *big.Rat) units.LengthInterval {
	return units.PlusMinus(units.Length{}, mm(half))
}

// The true value of a normal part alone, cut off at its limits or not.
func bigNormal(x, half *big.Rat, k float64, within bool) *big.Float {
	q := bigQ(squareOver(x, half, k))
	if within {
		cut := bigQ(squareOver(half, half, k))
		prec := max(q.Prec(), cut.Prec())
		q, cut = q.SetPrec(prec), cut.SetPrec(prec)
		q = over(less(q, cut), less(number(prec, 1), plus(cut, cut)))
	}
	if x.Sign() < 0 {
		q = less(number(q.Prec(), 1), q)
	}
	return q
}

// One normal part, from the middle to 37 standard deviations, cut off anywhere or not
// at all, and as near to the end as a picometre.
func TestBoundOfOneNormal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := float64(rapid.IntRange(1, 1100).Draw(t, "k, hundredths")) / 100 * rapid.SampledFrom([]float64{1, 1.0 / 3, 3}).Draw(t, "times")
		k = max(k, 0.01)
		half := big.NewRat(rapid.Int64Range(1, 50_000).Draw(t, "half width, µm"), 1000)
		sigma := new(big.Rat).Quo(half, new(big.Rat).SetFloat64(k))
		within := rapid.Bool().Draw(t, "cut off")
		x := new(big.Rat)
		if within && rapid.Bool().Draw(t, "near the end") {
			x.Sub(half, new(big.Rat).Mul(half, big.NewRat(rapid.Int64Range(1, 999).Draw(t, "from the end"), rapid.SampledFrom([]int64{1e3, 1e6, 1e9, 1e12}).Draw(t, "of"))))
		} else {
			x.Mul(sigma, big.NewRat(rapid.Int64Range(-6_000, 37_000).Draw(t, "thousandths of a deviation"), 1000))
		}
		if within && x.Cmp(half) >= 0 {
			t.Skip("beyond the end")
		}
		if within && new(big.Rat).Neg(x).Cmp(half) > 0 {
			t.Skip("beyond the end")
		}
		d := Normal(k)
		if within {
			d = NormalWithin(k)
		}
		law := onlyLaw(t, Adds("x", plusMinus(half), d))
		above, below := law.Above(mm(x)), law.Below(mm(x))
		want := bigNormal(x, half, k, within)
		holds(t, "above", above, want)
		holds(t, "below", below, less(number(want.Prec(), 1), want))
	})
}

// The cases that a computation by differences of erf, or by lattices that end at 9.5
// standard deviations, gets wrong without saying so; true values to ten digits.
func TestBoundWhereDifferencesFail(t *testing.T) {
	for _, test := range []struct {
		name string
		d    Distribution
		half *big.Rat
		at   *big.Rat
		want string
	}{
		{"cut off at 8, at 7 standard deviations", NormalWithin(8), big.NewRat(8, 1), big.NewRat(7, 1), "1.279190448e-12"},
		{"cut off at 10, at 9", NormalWithin(10), big.NewRat(10, 1), big.NewRat(9, 1), "1.1285e-19"},
		{"a nanometre within the end of ±50 mm", Uniform(), big.NewRat(50, 1), big.NewRat(49_999_999_998, 1_000_000_000), "2e-11"},
	} {
		got := onlyLaw(t, Adds("x", plusMinus(test.half), test.d)).Above(mm(test.at))
		want, _, err := big.ParseFloat(test.want, 10, digits, big.ToNearestEven)
		if err != nil {
			t.Fatal(err)
		}
		if off, _ := over(less(number(digits, got.Value), want), want).Float64(); math.Abs(off) > 1e-4 || !got.Proven || got.Error > 1e-12*got.Value {
			t.Errorf("%s: %v, want %s", test.name, got, test.want)
		}
	}
}

// Normal parts of any deviations: their sum is normal, whatever the ratio.
func TestBoundOfNormals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s Stack
		variance := new(big.Rat)
		for i := range rapid.IntRange(1, 8).Draw(t, "contributors") {
			scale := rapid.SampledFrom([]int64{1, 1000, 100_000_000}).Draw(t, "finer")
			half := big.NewRat(rapid.Int64Range(1, 5000).Draw(t, "half width"), scale)
			k := float64(rapid.IntRange(5, 60).Draw(t, "k, tenths")) / 10
			add := Adds
			if i%2 == 1 {
				add = Takes
			}
			s = append(s, add("x", plusMinus(half), Normal(k)))
			sigma := new(big.Rat).Quo(half, new(big.Rat).SetFloat64(k))
			variance.Add(variance, sigma.Mul(sigma, sigma))
		}
		deviation, _ := variance.Float64()
		at := new(big.Rat).SetFloat64(math.Sqrt(deviation) * float64(rapid.IntRange(-40, 250).Draw(t, "tenths of z")) / 10)
		q := new(big.Rat).Mul(at, at)
		q.Quo(q, new(big.Rat).Add(variance, variance))
		want := bigQ(q)
		if at.Sign() < 0 {
			want = less(number(want.Prec(), 1), want)
		}
		holds(t, "above", onlyLaw(t, s...).Above(mm(at)), want)
	})
}

// bruteUniforms is P(Σ X > t), X uniform on ±w/2, by the sum over all subsets in exact
// fractions, one after another and nothing merged:
//
//	1/(n!·Π w) · Σ over subsets A of (-1)^|A| · max(0, Σ w/2 - t - Σ_A w)^n
func bruteUniforms(widths []*big.Rat, t *big.Rat) *big.Float {
	n := len(widths)
	sum := new(big.Rat)
	for subset := range 1 << n {
		left := new(big.Rat).Neg(t)
		sign := big.NewRat(1, 1)
		for i, w := range widths {
			half := new(big.Rat).Quo(w, big.NewRat(2, 1))
			if subset>>i&1 == 1 {
				half.Neg(half)
				sign.Neg(sign)
			}
			left.Add(left, half)
		}
		if left.Sign() > 0 {
			for range n {
				sign.Mul(sign, left)
			}
			sum.Add(sum, sign)
		}
	}
	for i, w := range widths {
		sum.Quo(sum, w)
		sum.Quo(sum, big.NewRat(int64(i+1), 1))
	}
	return ratio(4*digits, sum)
}

// Uniform and triangular parts, of widths in any ratio to 1 : 10⁸, anywhere and near
// the end.
func TestBoundOfUniformsAndTriangulars(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s Stack
		var widths []*big.Rat
		end := new(big.Rat)
		for i := range rapid.IntRange(1, 5).Draw(t, "contributors") {
			scale := rapid.SampledFrom([]int64{10, 1000, 1_000_000_000}).Draw(t, "finer")
			half := big.NewRat(rapid.Int64Range(1, 900).Draw(t, "half width"), scale)
			end.Add(end, half)
			d := Uniform()
			if rapid.Bool().Draw(t, "triangular") {
				d = Triangular()
				widths = append(widths, half, half)
			} else {
				widths = append(widths, new(big.Rat).Add(half, half))
			}
			add := Adds
			if i%2 == 1 {
				add = Takes
			}
			s = append(s, add("x", plusMinus(half), d))
		}
		part := big.NewRat(rapid.Int64Range(1, 1_999).Draw(t, "from the end"), rapid.SampledFrom([]int64{1e3, 1e6, 1e10}).Draw(t, "of"))
		at := new(big.Rat).Mul(end, new(big.Rat).Sub(big.NewRat(1, 1), part))
		law := onlyLaw(t, s...)
		want := bruteUniforms(widths, at)
		holds(t, "above", law.Above(mm(at)), want)
		holds(t, "below", law.Below(mm(new(big.Rat).Neg(at))), want)
		holds(t, "not above", law.Below(mm(at)), less(number(want.Prec(), 1), want))
	})
}

// An arcsine part alone: P = (2/π)·asin(√((1 - x/T)/2)) above the middle.
func TestBoundOfOneArcsine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		half := big.NewRat(rapid.Int64Range(1, 50_000).Draw(t, "half width, µm"), 1000)
		part := big.NewRat(rapid.Int64Range(1, 1000).Draw(t, "from the end"), rapid.SampledFrom([]int64{1e3, 1e6, 1e11}).Draw(t, "of"))
		x := new(big.Rat).Mul(half, new(big.Rat).Sub(big.NewRat(1, 1), part))
		s := root(ratio(digits, new(big.Rat).Quo(part, big.NewRat(2, 1))))
		want := over(times(number(digits, 2), bigAsin(s)), bigPi(digits))
		law := onlyLaw(t, Takes("x", plusMinus(half), Arcsine()))
		holds(t, "above", law.Above(mm(x)), want)
		holds(t, "below", law.Below(mm(new(big.Rat).Neg(x))), want)
		holds(t, "not above", law.Below(mm(x)), less(number(digits, 1), want))
	})
}

// Samples, alone and with one part that is normal or uniform, against every
// combination one by one.
func TestBoundOfSamples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s Stack
		sums := []*big.Rat{new(big.Rat)}
		for range rapid.IntRange(1, 3).Draw(t, "samples") {
			var values []units.Length
			var next []*big.Rat
			for range rapid.IntRange(2, 6).Draw(t, "values") {
				v := big.NewRat(rapid.Int64Range(-1000, 1000).Draw(t, "µm"), 1000)
				values = append(values, mm(v))
				for _, s := range sums {
					next = append(next, new(big.Rat).Add(s, v))
				}
			}
			sums = next
			s = append(s, Adds("s", plusMinus(big.NewRat(1, 1)), Sample(values...)))
		}
		half := big.NewRat(rapid.Int64Range(1, 2000).Draw(t, "half width, µm"), 1000)
		with := rapid.SampledFrom([]string{"nothing", "normal", "uniform"}).Draw(t, "with")
		switch with {
		case "nothing":
			s = append(s, Adds("s", plusMinus(half), Sample(mm(half), mm(new(big.Rat).Neg(half)))))
			for _, s := range slices.Clone(sums) {
				sums = append(sums, new(big.Rat).Sub(s, half))
				s.Add(s, half)
			}
		case "normal":
			s = append(s, Adds("n", plusMinus(half), Normal(3)))
		case "uniform":
			s = append(s, Takes("u", plusMinus(half), Uniform()))
		}
		// A thousandth on, now and then: onto the values themselves.
		at := big.NewRat(rapid.Int64Range(-3000, 3000).Draw(t, "at, µm"), 1000)
		const prec = 4 * digits
		want := number(prec, 0)
		for _, s := range sums {
			x := new(big.Rat).Sub(at, s)
			var each *big.Float
			switch with {
			case "nothing":
				each = number(prec, 0)
				if x.Sign() < 0 {
					each = number(prec, 1)
				}
			case "normal":
				if x.Cmp(new(big.Rat).Mul(half, big.NewRat(12, 1))) > 0 {
					each = number(prec, 0) // beyond 36 deviations: below 1e-280
					break
				}
				if x.Cmp(new(big.Rat).Mul(half, big.NewRat(-12, 1))) < 0 {
					each = number(prec, 1)
					break
				}
				each = bigNormal(x, half, 3, false)
			case "uniform":
				each = bruteUniforms([]*big.Rat{new(big.Rat).Add(half, half)}, x)
			}
			want = plus(want, each)
		}
		want = over(want, number(prec, float64(len(sums))))
		if s, _ := want.Float64(); with == "normal" && (s < 1e-250 || s > 1-1e-15) {
			t.Skip("too far out for what was left off")
		}
		law := onlyLaw(t, s...)
		holds(t, "above", law.Above(mm(at)), want)
	})
}

// The margin that the bounds leave for the math library is four times what is
// measured.
func TestMathLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, f := range []struct {
		name  string
		of    func(float64) float64
		exact func(*big.Float) *big.Float
		upTo  float64
	}{
		{"erfc", math.Erfc, func(x *big.Float) *big.Float { return less(number(x.Prec(), 1), bigErf(x)) }, 8},
		{"erfc, far out", math.Erfc, func(x *big.Float) *big.Float { return less(number(x.Prec(), 1), bigErf(x)) }, 26.5},
		{"erf", math.Erf, bigErf, 6},
		{"exp", math.Exp, bigExp, 26},
		{"exp(-x)", func(x float64) float64 { return math.Exp(-x) }, func(x *big.Float) *big.Float { return bigExp(new(big.Float).Neg(x)) }, 700},
		{"asin", math.Asin, bigAsin, math.Sqrt(0.5)},
	} {
		var worst float64
		n := 500
		if f.upTo > 10 {
			n = 100
		}
		if !thorough {
			n /= 5
		}
		for range n {
			x := f.upTo * r.Float64()
			want := f.exact(number(precisionFor(min(x*x, 750)), x))
			off, _ := over(less(number(want.Prec(), f.of(x)), want), want).Float64()
			worst = max(worst, math.Abs(off))
		}
		t.Logf("%s: %.2f of 2^-52", f.name, worst/epsilon)
		if worst > library/4 {
			t.Errorf("%s is off by %.3g, more than a quarter of the margin", f.name, worst)
		}
	}
}

// Nothing but a value that is exact has an error of zero.
func TestErrorIsZeroOnlyForWhatIsExact(t *testing.T) {
	half := big.NewRat(3, 1)
	for _, d := range []Distribution{Uniform(), Triangular(), Arcsine(), Normal(3), NormalWithin(3)} {
		parts := []Contributor{Adds("x", plusMinus(half), d)}
		for _, more := range []Distribution{{}, Uniform(), Arcsine(), NormalWithin(9)} {
			if more.kind != noDistribution {
				parts = []Contributor{parts[0], Takes("y", plusMinus(big.NewRat(1, 3)), more)}
			}
			law := onlyLaw(t, parts...)
			for _, at := range []*big.Rat{big.NewRat(-1, 10), big.NewRat(7, 10), big.NewRat(298, 100), big.NewRat(40, 1), big.NewRat(4000, 1)} {
				p := law.Above(mm(at))
				what := fmt.Sprintf("%s and %s above %s", d, more, at.FloatString(2))
				bounded := d.kind != normal
				if beyond := bounded && at.Cmp(big.NewRat(10, 3)) >= 0; beyond != (p.Error == 0) || beyond != (p.Value == 0) && bounded {
					t.Errorf("%s: %v", what, p)
				}
			}
		}
	}
}

// The tail of one arcsine part of ±T beyond x is acos(x/T)/π; T is not 1 here, where a product and a quotient by it
// are the same.
func TestTailOfArcsine(t *testing.T) {
	part := term{kind: arcsine, half: 2}
	for x, want := range map[float64]float64{1: 1. / 3, -1: 2. / 3, 0: 0.5, math.Sqrt2: 0.25, math.Sqrt(3): 1. / 6} {
		if got := part.above(x); !(math.Abs(got-want) <= 1e-15) { // not a number is wrong, too
			t.Errorf("beyond %g of ±2: %g, want %g", x, got, want)
		}
	}
}
