package stack

import (
	"context"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// tailAt is tail at a float64.
func tailAt(terms []term, t float64) Computed {
	return tail(context.Background(), terms, new(big.Rat).SetFloat64(t))
}

// terms draws a stack's terms of every kind.
func drawTerms(t *rapid.T) []term {
	n := rapid.IntRange(1, 8).Draw(t, "terms")
	terms := make([]term, n)
	for i := range terms {
		half := float64(rapid.IntRange(1, 400).Draw(t, "half")) / 1000
		x := term{half: half, kind: rapid.SampledFrom([]kind{uniform, normal, normalWithin, triangular, arcsine, sampled}).Draw(t, "kind")}
		switch x.kind {
		case normal, normalWithin:
			x.sigma = half / (float64(rapid.IntRange(4, 80).Draw(t, "10 k")) / 10)
		case sampled:
			for range rapid.IntRange(2, 40).Draw(t, "values") {
				x.atoms = append(x.atoms, half*float64(rapid.IntRange(-100, 100).Draw(t, "value"))/100)
			}
			x = x.scaled(1).mirrored()
			x.atoms = append([]float64{-half}, append(x.atoms, half)...)
			for i := range x.atoms { // in order
				for j := i; j > 0 && x.atoms[j] < x.atoms[j-1]; j-- {
					x.atoms[j], x.atoms[j-1] = x.atoms[j-1], x.atoms[j]
				}
			}
		}
		terms[i] = x
	}
	return sorted(terms)
}

// On a lattice, however coarse, a distribution keeps its sum of one, its mean
// and its variance, and so does the convolution of several.
func TestLatticeKeepsMoments(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		terms := drawTerms(t)
		step := float64(rapid.IntRange(1, 200).Draw(t, "step")) / 1000
		sum := lattice{masses: []float64{1}}
		var mean, variance float64
		for _, x := range terms {
			sum = sum.plus(t.Context(), onLattice(x, x.lo(), step))
			mean += x.mean()
			variance += x.variance()
		}
		var one, first, second float64
		for k, m := range sum.masses {
			d := sum.at(k, step) - mean
			one += m
			first += m * d
			second += m * d * d
		}
		scale := math.Sqrt(variance) + step
		if math.Abs(one-1) > 1e-10 || math.Abs(first) > 1e-10*scale || math.Abs(second-variance) > 1e-9*scale*scale {
			t.Fatalf("sum 1%+.2g, mean off by %.2g, variance %g, want %g", one-1, first, second, variance)
		}
	})
}

// The probability above a point and that below it sum to one, within their
// bounds, and fall as the point moves out.
func TestTailsComplement(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		terms := drawTerms(t)
		var mirrored []term
		var sigma float64
		allSampled := true
		for _, x := range terms {
			mirrored = append(mirrored, x.mirrored())
			sigma = math.Hypot(sigma, math.Sqrt(x.variance()))
			allSampled = allSampled && x.kind == sampled
		}
		if allSampled {
			t.Skip("goes in steps")
		}
		at := sigma * float64(rapid.IntRange(-4000, 4000).Draw(t, "thousandths of sigma")) / 1000
		above, below := tailAt(terms, at), tailAt(sorted(mirrored), -at)
		if off := math.Abs(above.Value + below.Value - 1); off > above.Error+below.Error {
			t.Fatalf("above %v, below %v: off by %g", above, below, off)
		}
		further := tailAt(terms, at+sigma/10)
		if further.Value > above.Value+above.Error+further.Error {
			t.Fatalf("above: %v, further out: %v", above, further)
		}
	})
}

// The order of the contributors changes nothing, to the last bit.
func TestOrderChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		terms := drawTerms(t)
		shuffled := append([]term(nil), terms...)
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		r.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		at := terms[0].half
		if a, b := tailAt(terms, at), tailAt(sorted(shuffled), at); a != b {
			t.Fatalf("%v in one order, %v in another", a, b)
		}
	})
}

// agree fails if a computed tail lies farther from the closed form than its bound
// says, or its bound is wider than one per cent.
func agree(t interface {
	Helper()
	Errorf(string, ...any)
}, what string, got Computed, want, slack float64) {
	t.Helper()
	if off := math.Abs(got.Value - want); off > got.Error+slack*want {
		t.Errorf("%s: %v, want %.6g: off by %.2g", what, got, want, off)
	}
	if want >= 1e-12 && got.Error > 0.01*want {
		t.Errorf("%s: bound %.2g of %.2g is wider than one per cent", what, got.Error, want)
	}
}

// Sums of normal variables are normal: P = erfc(z/√2)/2.
func TestSumsOfNormals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var terms []term
		var sigma float64
		for range rapid.IntRange(1, 12).Draw(t, "terms") {
			s := float64(rapid.IntRange(1, 300).Draw(t, "sigma")) / 100
			terms = append(terms, term{kind: normal, half: 3 * s, sigma: s})
			sigma = math.Hypot(sigma, s)
		}
		z := float64(rapid.IntRange(-30, 70).Draw(t, "tenths of z")) / 10
		agree(t, fmt.Sprintf("%d terms, z = %g", len(terms), z), estimate(t.Context(), sorted(terms), z*sigma), math.Erfc(z/math.Sqrt2)/2, 1e-12)
	})
}

// uniformsAbove returns P(Σ Uᵢ > b - x), Uᵢ uniform on a width wᵢ, b the largest
// sum, in exact rationals:
//
//	Σ over subsets A of (-1)^|A| · max(0, x - Σ_A w)^n / (n!·Π w)
//
// It is Irwin-Hall's distribution for widths of one. x and the widths are in
// thousandths.
func uniformsAbove(widths []int64, x int64) float64 {
	n := len(widths)
	sum := new(big.Int)
	for subset := range 1 << n {
		left, sign := x, int64(1)
		for i, w := range widths {
			if subset>>i&1 == 1 {
				left -= w
				sign = -sign
			}
		}
		if left > 0 {
			power := new(big.Int).Exp(big.NewInt(left), big.NewInt(int64(n)), nil)
			sum.Add(sum, power.Mul(power, big.NewInt(sign)))
		}
	}
	denominator := new(big.Int).MulRange(1, int64(n))
	for _, w := range widths {
		denominator.Mul(denominator, big.NewInt(w))
	}
	p, _ := new(big.Rat).SetFrac(sum, denominator).Float64()
	return p
}

func TestSumsOfUniforms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var terms []term
		var widths []int64
		var all int64
		for range rapid.IntRange(1, 10).Draw(t, "terms") {
			w := rapid.Int64Range(1, 2000).Draw(t, "width")
			terms = append(terms, term{kind: uniform, half: float64(w) / 2000})
			widths = append(widths, w)
			all += w
		}
		x := rapid.Int64Range(1, all).Draw(t, "x")
		want := uniformsAbove(widths, x)
		agree(t, fmt.Sprintf("widths %v, x = %d", widths, x), estimate(t.Context(), sorted(terms), float64(all)/2000-float64(x)/1000), want, 1e-10)
	})
}

// The tails that the package promises: Irwin-Hall down to 1e-12 and beyond.
func TestIrwinHallFarOut(t *testing.T) {
	for _, n := range []int{2, 3, 5, 10, 14} {
		widths := make([]int64, n)
		terms := make([]term, n)
		for i := range terms {
			widths[i], terms[i] = 1000, term{kind: uniform, half: 0.5}
		}
		for _, x := range []int64{2, 50, 300, 570, 900} {
			want := uniformsAbove(widths, x)
			agree(t, fmt.Sprintf("n = %d, x = %d", n, x), estimate(t.Context(), terms, float64(n)/2-float64(x)/1000), want, 1e-9)
		}
	}
}

// A hundred contributors: Irwin-Hall's distribution in exact rationals,
//
//	P(sum > n - x) = Σ (-1)^k·C(n,k)·(x-k)^n / n!,  k = 0..⌊x⌋
func TestHundredContributors(t *testing.T) {
	const n = 100
	var terms []term
	for range n {
		terms = append(terms, term{kind: uniform, half: 0.5})
	}
	for _, x := range []int64{29, 31, 33, 45} { // 7.3, 6.6, 5.9 and 1.7 standard deviations
		sum := new(big.Int)
		for k := range x {
			power := new(big.Int).Exp(big.NewInt(x-k), big.NewInt(n), nil)
			power.Mul(power, new(big.Int).Binomial(n, k))
			if k%2 == 1 {
				power.Neg(power)
			}
			sum.Add(sum, power)
		}
		want, _ := new(big.Rat).SetFrac(sum, new(big.Int).MulRange(1, n)).Float64()
		agree(t, fmt.Sprintf("x = %d", x), estimate(t.Context(), terms, n/2-float64(x)), want, 1e-10)
	}
}

// A triangular variable is the sum of two uniform ones.
func TestSumsOfTriangulars(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var terms []term
		var widths []int64
		var all int64
		for range rapid.IntRange(1, 5).Draw(t, "terms") {
			w := rapid.Int64Range(1, 2000).Draw(t, "width")
			terms = append(terms, term{kind: triangular, half: float64(w) / 1000})
			widths = append(widths, w, w)
			all += 2 * w
		}
		x := rapid.Int64Range(1, all).Draw(t, "x")
		want := uniformsAbove(widths, x)
		agree(t, fmt.Sprintf("widths %v, x = %d", widths, x), estimate(t.Context(), sorted(terms), float64(all)/2000-float64(x)/1000), want, 1e-10)
	})
}

// Far out in the corner where every arcsine variable is near its limit T, the tail is
//
//	P(Σ X > n·T - δ) = (2πT)^(-n/2) · δ^(n/2) / Γ(n/2+1) · (1 + δ/8T·n/(n/2+1)·… ),
//
// from the density 1/(π√(2Te)) at a distance e from the limit, whose next term is
// a factor 1 + e/4T.
func TestSumsOfArcsinesFarOut(t *testing.T) {
	for _, n := range []int{2, 4, 7} {
		terms := make([]term, n)
		for i := range terms {
			terms[i] = term{kind: arcsine, half: 1}
		}
		for _, delta := range []float64{1e-2, 1e-3, 1e-4} {
			h := float64(n) / 2
			want := math.Pow(2*math.Pi, -h) * math.Pow(delta, h) / math.Gamma(h+1)
			want *= 1 + delta/4*h/(h+1) // the mean of Σ e over the corner is δ·h/(h+1)
			agree(t, fmt.Sprintf("n = %d, δ = %g", n, delta), estimate(t.Context(), terms, float64(n)-delta), want, delta*delta+1e-10)
		}
	}
}

// In the middle, any mixture is checked against its characteristic function:
//
//	P(S > t) = 1/2 - 1/π ∫ sin(ut)/u · Π φᵢ(u) du   over u > 0
//
// for symmetrical terms; φ: sin(Tu)/(Tu) uniform, its square at half the width
// triangular, J₀(Tu) arcsine, exp(-σ²u²/2) normal.
func TestMixturesAgainstCharacteristicFunction(t *testing.T) {
	sinc := func(x float64) float64 {
		if x == 0 {
			return 1
		}
		return math.Sin(x) / x
	}
	terms := sorted([]term{
		{kind: uniform, half: 0.7},
		{kind: arcsine, half: 1.1},
		{kind: triangular, half: 0.9},
		{kind: normal, half: 0.6, sigma: 0.2},
		{kind: arcsine, half: 0.4},
		{kind: uniform, half: 0.25},
	})
	phi := func(u float64) float64 {
		half := sinc(0.9 * u / 2)
		return sinc(0.7*u) * math.J0(1.1*u) * half * half * math.Exp(-0.2*0.2*u*u/2) * math.J0(0.4*u) * sinc(0.25*u)
	}
	for _, at := range []float64{-1.3, 0, 0.4, 1.7, 2.6} {
		const step, end = 1e-3, 45.0
		var integral float64
		for u := step / 2; u < end; u += step {
			integral += step * at * sinc(u*at) * phi(u)
		}
		want := 0.5 - integral/math.Pi
		agree(t, fmt.Sprintf("t = %g", at), estimate(t.Context(), terms, at), want, 1e-7)
	}
}

// A normal distribution cut off at its limits, alone and in a sum with a uniform
// one, against the integral of its density by a fine midpoint rule.
func TestCutOffNormal(t *testing.T) {
	n := term{kind: normalWithin, half: 2, sigma: 0.8}
	u := term{kind: uniform, half: 1.5}
	for _, at := range []float64{-1, 0.3, 2.2, 3.1, 3.45} {
		const steps = 200000
		var want float64
		inside := math.Erf(2 / 0.8 / math.Sqrt2)
		for i := range steps {
			x := -2 + 4*(float64(i)+0.5)/steps
			want += 4.0 / steps * density(x/0.8) / 0.8 / inside * u.above(at-x)
		}
		agree(t, fmt.Sprintf("t = %g", at), estimate(t.Context(), sorted([]term{n, u}), at), want, 1e-8)
	}
}

// Limits that a normal distribution never nears cut nothing off, and cost nothing.
func TestCutOffFarAway(t *testing.T) {
	terms := sorted([]term{
		{kind: normalWithin, half: 900, sigma: 1}, {kind: normalWithin, half: 800, sigma: 2}, {kind: normalWithin, half: 1000, sigma: 2},
	})
	for _, z := range []float64{0.5, 4, 6.5} {
		agree(t, fmt.Sprintf("z = %g", z), estimate(t.Context(), terms, 3*z), math.Erfc(z/math.Sqrt2)/2, 1e-10)
	}
}

func TestSamplesOneByOne(t *testing.T) {
	a := term{kind: sampled, half: 3, atoms: []float64{-2, 0, 0, 3}}
	b := term{kind: sampled, half: 5, atoms: []float64{-1, 4, 5}}
	// Sums of a and b: -3 2 3, twice -1 4 5, 2 7 8. Above 3.5: twice 4 and 5, then 7 and 8: 6 of 12.
	if got := tailAt(sorted([]term{a, b}), 3.5); math.Abs(got.Value-0.5) > got.Error {
		t.Errorf("%v, want 6/12", got)
	}
	u := term{kind: uniform, half: 1}
	// Above 3: a = 0 and 0 need u > 3; a = 3 gives one half.
	if got := tailAt(sorted([]term{a, u}), 3); math.Abs(got.Value-0.125) > got.Error {
		t.Errorf("%v, want 1/8", got)
	}
}

func TestNothingBeyondTheEnd(t *testing.T) {
	terms := []term{{kind: uniform, half: 0.5}, {kind: triangular, half: 1}, {kind: uniform, half: 2}}
	if got := tailAt(sorted(terms), 3.5); got.Value != 0 {
		t.Errorf("at the end: %v", got)
	}
	if got := tailAt(sorted(terms), 9); got.Value != 0 || got.Error != 0 {
		t.Errorf("beyond the end: %v", got)
	}
	if got := tailAt(sorted(terms), -9); math.Abs(got.Value-1) > got.Error || got.Error > 1e-9 {
		t.Errorf("beyond the other end: %v", got)
	}
}

// The five-point rule is exact up to the ninth degree.
func TestGauss(t *testing.T) {
	for degree := range 10 {
		var got float64
		gauss(-1, 3, func(x, w float64) { got += w * math.Pow(x, float64(degree)) })
		n := float64(degree + 1)
		want := (math.Pow(3, n) - math.Pow(-1, n)) / n
		if math.Abs(got-want) > 1e-12*math.Abs(want) {
			t.Errorf("degree %d: %.17g, want %.17g", degree, got, want)
		}
	}
}
