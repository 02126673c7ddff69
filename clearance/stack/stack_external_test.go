package stack_test

import (
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

var (
	mm        = units.MustParseLength
	tolerance = units.MustParseLengthInterval
)

// ratio is a pure number of decimal digits.
func ratio(s string) units.Ratio { return units.One.Of(decimal.RequireFromString(s)) }

// lever is a gap with three sensitivities that differ in sign and size.
func lever(t *testing.T) stack.Stack {
	return stack.Stack{
		stack.Contributor{Name: "arm", Sensitivity: ratio("2.5"), Limits: tolerance("9.98..10.04 mm"), Distribution: stack.Uniform()},
		stack.Contributor{Name: "post", Sensitivity: ratio("-1"), Limits: tolerance("20 ±0.02 mm"), Distribution: stack.Normal(4)},
		stack.Contributor{Name: "pad", Sensitivity: ratio("-0.5"), Limits: tolerance("3 +0.08/0 mm"), Distribution: stack.Triangular()},
	}
}

func TestWorstCaseAndRSS(t *testing.T) {
	s := lever(t)
	// 2.5×9.98 - 20.02 - 0.5×3.08 = 3.39; 2.5×10.04 - 19.98 - 0.5×3 = 3.62.
	if got := s.WorstCase().Interval(); !got.Equal(tolerance("3.39..3.62 mm")) {
		t.Errorf("worst case %s", got)
	}
	// √((2.5×0.03)² + 0.02² + (0.5×0.04)²) = √0.006425 = 0.080156097709…, about 2.5×10.01 - 20 - 0.5×3.04.
	if got := rss(t, s, "1"); !got.Equal(tolerance("3.505 ±0.0801561 mm")) {
		t.Errorf("root-sum-square %s", got.Exact())
	}
	// One and a half times 0.080156097709… is 0.120234146564…
	if got := rss(t, s, "1.5"); !got.Equal(tolerance("3.505 ±0.1202342 mm")) {
		t.Errorf("inflated %s", got.Exact())
	}
	// 3, 4 and 12 thousandths make 13 exactly: nothing is rounded.
	square := stack.Stack{stack.Adds("a", tolerance("1 ±0.003 mm"), stack.Uniform()),
		stack.Takes("b", tolerance("1 ±0.004 mm"), stack.Uniform()), stack.Adds("c", tolerance("1 ±0.012 mm"), stack.Uniform())}
	if got := rss(t, square, "1"); !got.Radius().Equal(mm("0.013 mm")) {
		t.Errorf("root of a square: ±%s", got.Radius().Exact())
	}
	if _, err := s.RSS(ratio("0.9")); !errors.Is(err, stack.ErrUnusable) {
		t.Errorf("factor below one: %v", err)
	}
	w := s.WorstCase().Working(units.Millimetre).Text()
	if !strings.Contains(w, "gap = 5/2·x1 - x2 - 1/2·x3") || !strings.Contains(w, "x1, arm") || !strings.Contains(w, "3.39..3.62 mm") {
		t.Errorf("working:\n%s", w)
	}
	sum, err := s.RSS(ratio("1"))
	if w := sum.Working(units.Millimetre).Text(); err != nil || !strings.Contains(w, "√(0.075² + 0.02² + 0.02²)") || !strings.Contains(w, "tolerance of x2") {
		t.Errorf("working, %v:\n%s", err, w)
	}
}

// rss is the root-sum-square interval of a gap.
func rss(t interface {
	Helper()
	Fatal(...any)
}, s stack.Stack, inflation string) units.LengthInterval {
	t.Helper()
	sum, err := s.RSS(ratio(inflation))
	if err != nil {
		t.Fatal(err)
	}
	return sum.Interval()
}

// Contributors that are alike are still two parts: their tolerances add up by squares
// and not as one.
func TestEqualPartsAreNotOne(t *testing.T) {
	same := stack.Adds("washer", tolerance("2 ±0.03 mm"), stack.Uniform())
	other := stack.Takes("washer", tolerance("2 ±0.03 mm"), stack.Uniform())
	s := stack.Stack{same, same, other}
	if got := s.WorstCase().Interval(); !got.Equal(tolerance("2 ±0.09 mm")) {
		t.Errorf("worst case %s", got)
	}
	if got := rss(t, s, "1"); !got.Equal(tolerance("2 ±0.0519616 mm")) { // 0.03·√3 = 0.0519615242…
		t.Errorf("root-sum-square %s", got)
	}
}

func TestShares(t *testing.T) {
	ofWidth, ofVariance, err := lever(t).Shares()
	if err != nil {
		t.Fatal(err)
	}
	// Worst case 0.075, 0.02, 0.02. Variance 0.075²/3 = 1.875e-3, (0.02/4)² = 2.5e-5, 0.02²/6 = 6.6667e-5.
	width := []float64{0.075 / 0.115, 0.02 / 0.115, 0.02 / 0.115}
	variance := []float64{1.875e-3 / 1.9666667e-3, 2.5e-5 / 1.9666667e-3, 6.6666667e-5 / 1.9666667e-3}
	for i := range width {
		if math.Abs(ofWidth[i]-width[i]) > 1e-9 || math.Abs(ofVariance[i]-variance[i]) > 1e-7 {
			t.Errorf("contributor %d has %g of the width and %g of the variance, want %g and %g", i, ofWidth[i], ofVariance[i], width[i], variance[i])
		}
	}
}

func TestRefusals(t *testing.T) {
	ok := stack.Adds("good", tolerance("2.5 ±0.02 mm"), stack.Uniform())
	of := func(c stack.Contributor) error { _, err := stack.Stack{ok, c}.Law(); return err }
	still := ok
	still.Sensitivity = units.Ratio{}
	undrawn := stack.Stack{ok, stack.Adds("bare", tolerance("1 ±0.1 mm"), stack.Distribution{})}
	_, errLaw := undrawn.Law()
	_, _, errShares := undrawn.Shares()
	_, errSimulate := undrawn.Simulate(t.Context(), units.LengthInterval{}, stack.Simulation{Trials: 10})
	_, errFunc := undrawn.SimulateFunc(t.Context(), func([]float64) float64 { return 0 }, anything, stack.Simulation{Trials: 10})
	same := stack.Stack{stack.Adds("same", tolerance("1 ±0.1 mm"), stack.Sample(mm("1.05 mm"), mm("1.05 mm")))}
	_, errSame := same.Law()
	_, _, errSameShares := same.Shares()
	by := func(coefficient int64, exponent int32) stack.Contributor {
		c := ok
		c.Sensitivity = units.One.Of(decimal.New(coefficient, exponent))
		return c
	}
	_, errEmpty := stack.Stack{}.Law()
	_, errEmptyRSS := stack.Stack{}.RSS(ratio("1"))
	_, errPointRSS := stack.Stack{ok, stack.Adds("shim", tolerance("1.5 mm"), stack.Uniform())}.RSS(ratio("1"))
	law, err := stack.Stack{ok}.Law()
	if err != nil {
		t.Fatal(err)
	}
	_, errQuantile := law.Quantile(1)
	_, errNaN := law.Quantile(math.NaN())
	_, errFar := law.Quantile(1e-19)
	_, errCoverage := law.Coverage(0)
	_, errNoLimits := law.Capability(tolerance("any length"))
	_, errPoint := law.Capability(tolerance("2.5 mm"))
	for _, test := range []struct {
		name string
		err  error
		kind error
		says string
	}{
		{"empty stack", errEmpty, measure.ErrEmpty, "give the sizes"},
		{"empty stack, root-sum-square", errEmptyRSS, measure.ErrEmpty, "give the sizes"},
		{"no tolerance, root-sum-square", errPointRSS, stack.ErrUnusable, "contributor 2 (shim)"},
		{"no tolerance", of(stack.Adds("shim", tolerance("1.5 mm"), stack.Uniform())), stack.ErrUnusable, "contributor 2 (shim): cannot be used: limits of no width: 1.5 mm"},
		{"one limit", of(stack.Adds("shim", tolerance("<= 1.5 mm"), stack.Uniform())), stack.ErrUnusable, "both limits"},
		{"zero sensitivity", of(still), stack.ErrUnusable, "+1 if it opens the gap"},
		{"k of zero", of(stack.Adds("x", tolerance("1 ±0.1 mm"), stack.Normal(0))), measure.ErrProbability, "such as 3"},
		{"negative k", of(stack.Adds("x", tolerance("1 ±0.1 mm"), stack.NormalWithin(-3))), measure.ErrProbability, "such as 3"},
		{"k that is no number", of(stack.Adds("x", tolerance("1 ±0.1 mm"), stack.Normal(math.NaN()))), measure.ErrProbability, "NaN"},
		{"k without end", of(stack.Adds("x", tolerance("1 ±0.1 mm"), stack.NormalWithin(1001))), measure.ErrProbability, "0.01 to 1000"},
		{"infinite k", of(stack.Adds("x", tolerance("1 ±0.1 mm"), stack.Normal(math.Inf(1)))), measure.ErrProbability, "+Inf"},
		{"empty sample", of(stack.Adds("x", tolerance("1 ±0.1 mm"), stack.Sample())), measure.ErrEmpty, "a sample of 0"},
		{"sample of one", of(stack.Adds("x", tolerance("1 ±0.1 mm"), stack.Sample(mm("1 mm")))), measure.ErrEmpty, "a sample of 1"},
		{"sample outside", of(stack.Adds("x", tolerance("1 ±0.1 mm"), stack.Sample(mm("1 mm"), mm("1.2 mm")))), stack.ErrUnusable, "1.2 mm outside 0.9..1.1 mm"},
		{"no distribution, law", errLaw, measure.ErrEmpty, "contributor 2 (bare)"},
		{"no distribution, shares", errShares, measure.ErrEmpty, "Uniform()"},
		{"no distribution, simulation", errSimulate, measure.ErrEmpty, "Uniform()"},
		{"no distribution, function", errFunc, measure.ErrEmpty, "Uniform()"},
		{"sample without spread, shares", errSameShares, stack.ErrUnusable, "finer steps"},
		{"sensitivity too great", of(by(2, 40)), stack.ErrUnusable, "a sensitivity of 2000"},
		{"sensitivity too small", of(by(-3, -40)), stack.ErrUnusable, "a sensitivity of "},
		{"sample without spread", errSame, stack.ErrUnusable, "finer steps"},
		{"quantile of one", errQuantile, measure.ErrProbability, "between 0 and 1"},
		{"quantile of no number", errNaN, measure.ErrProbability, "NaN"},
		{"quantile too far out", errFar, measure.ErrProbability, "1e-18"},
		{"coverage of nothing", errCoverage, measure.ErrProbability, "0.95"},
		{"limits without a bound", errNoLimits, measure.ErrEmpty, "smallest gap"},
		{"limits of no width", errPoint, stack.ErrUnusable, "differ"},
	} {
		if !errors.Is(test.err, test.kind) || !strings.Contains(test.err.Error(), test.says) {
			t.Errorf("%s: error %v, want kind %v saying %q", test.name, test.err, test.kind, test.says)
		}
	}
	_, err = stack.Stack{still, stack.Adds("x", tolerance("1 mm"), stack.Uniform())}.Law()
	if err == nil || !strings.Contains(err.Error(), "contributor 1 (good)") || !strings.Contains(err.Error(), "contributor 2 (x)") {
		t.Errorf("two bad contributors: %v", err)
	}
	if e, ok := errors.AsType[*units.Error](err); !ok || e.Where != "contributor 1 (good)" {
		t.Errorf("particulars: %+v", e)
	}
}

// The stack may be changed after its law was made without changing that.
func TestLawKeepsACopy(t *testing.T) {
	s := stack.Stack{stack.Adds("a", tolerance("1 ±0.1 mm"), stack.Uniform())}
	law, err := s.Law()
	if err != nil {
		t.Fatal(err)
	}
	s[0].Limits = tolerance("5 ±1 mm")
	if got := law.Stack.WorstCase().Interval(); !got.Equal(tolerance("0.9..1.1 mm")) {
		t.Errorf("worst case %s", got)
	}
}

// What was not said of a size is no size without effect: the worst case then has no bound,
// or one, or is not there.
func TestWorstCaseOfWhatWasNotSaid(t *testing.T) {
	ok := stack.Adds("good", tolerance("2.5 ±0.02 mm"), stack.Uniform())
	for name, test := range map[string]struct {
		of   stack.Contributor
		want units.LengthInterval
	}{
		"no sensitivity": {stack.Contributor{Name: "x", Limits: tolerance("1 ±0.1 mm")}, units.LengthInterval{}},
		"no limits":      {stack.Takes("x", units.LengthInterval{}, stack.Uniform()), units.LengthInterval{}},
		"one limit":      {stack.Takes("x", tolerance("<= 1.1 mm"), stack.Uniform()), tolerance(">= 1.38 mm")}, // 2.48 - 1.1
	} {
		if got := (stack.Stack{ok, test.of}).WorstCase().Interval(); !got.Equal(test.want) {
			t.Errorf("%s: %s, want %s", name, got, test.want)
		}
	}
}

// stacks draws stacks of contributors that cannot leave their limits.
func boundedStacks() *rapid.Generator[stack.Stack] {
	return rapid.Custom(func(t *rapid.T) stack.Stack {
		var s stack.Stack
		for i := range rapid.IntRange(1, 6).Draw(t, "contributors") {
			lo := units.Micrometre.OfInt(rapid.Int64Range(-50_000, 50_000).Draw(t, "lower, µm"))
			width := rapid.Int64Range(1, 900).Draw(t, "width, µm")
			sensitivity := rapid.SampledFrom([]string{"1", "-1", "2", "-0.5", "0.125"}).Draw(t, "sensitivity")
			limits := units.MustInterval(lo, lo.Add(units.Micrometre.OfInt(width)))
			distribution := rapid.SampledFrom([]stack.Distribution{
				stack.Uniform(), stack.Triangular(), stack.Arcsine(), stack.NormalWithin(2.5), stack.NormalWithin(0.7),
				stack.Trapezoidal(0.3), stack.NormalWithin(2).About(limits.Lo().Add(limits.Width().MulRat(big.NewRat(3, 4)))),
				stack.Sample(limits.Lo(), limits.Mid(), limits.Hi(), limits.Hi()),
			}).Draw(t, "distribution")
			s = append(s, stack.Contributor{
				Name: string(rune('a' + i)), Sensitivity: ratio(sensitivity),
				Limits: limits, Distribution: distribution,
			})
		}
		return s
	})
}

// The worst case holds every trial, and the root-sum-square interval lies within
// the worst case.
func TestWorstCaseHoldsEveryTrial(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := boundedStacks().Draw(t, "stack")
		worst := s.WorstCase().Interval()
		o, err := s.Simulate(t.Context(), units.LengthInterval{}, stack.Simulation{Trials: 3000, Seed: rapid.Uint64().Draw(t, "seed")})
		if err != nil {
			t.Fatal(err)
		}
		const ulps = 1e-11 // mm: what float64 sums of such sizes lose
		if o.Min < worst.Lo().Float64(units.Millimetre)-ulps || o.Max > worst.Hi().Float64(units.Millimetre)+ulps {
			t.Fatalf("trials %g..%g, worst case %s", o.Min, o.Max, worst)
		}
		if plain := rss(t, s, "1"); !plain.Within(worst.Outward(units.Nanometre, 0)) {
			t.Fatalf("root-sum-square %s, worst case %s", plain, worst)
		}
	})
}

// The distribution lies within the worst case, its mean and deviation are those
// of many trials, and so is a probability.
func TestLawAgreesWithTrials(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := boundedStacks().Draw(t, "stack")
		law, err := s.Law()
		if err != nil {
			t.Fatal(err)
		}
		worst := s.WorstCase().Interval()
		if law.Above(worst.Hi().Add(mm("0.000001 mm"))).Value != 0 || law.Below(worst.Lo().Sub(mm("0.000001 mm"))).Value != 0 {
			t.Fatalf("a gap outside the worst case has a probability")
		}
		const n = 20_000
		at := law.Mean.Add(law.StdDev.MulInt(rapid.Int64Range(-2, 2).Draw(t, "sigmas")))
		o, err := s.Simulate(t.Context(), units.AtMost(at), stack.Simulation{Trials: n, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		sigma := law.StdDev.Float64(units.Millimetre)
		if off := math.Abs(o.Mean - law.Mean.Float64(units.Millimetre)); off > 5*sigma/math.Sqrt(n)+1e-9 {
			t.Errorf("mean %g, trials have %g", law.Mean.Float64(units.Millimetre), o.Mean)
		}
		p := law.Above(at)
		share := *o.Outside
		uncertainty := math.Sqrt(p.Value * (1 - p.Value) / n) // of what is to be expected, not of what few trials outside happened to show
		near := law.Above(at.Sub(mm("0.000001 mm")))          // a jump of measured values may lie there
		low, high := min(p.Value, near.Value, law.Above(at.Add(mm("0.000001 mm"))).Value), max(p.Value, near.Value)
		if share < low-p.Error-5*uncertainty-1e-4 || share > high+p.Error+5*uncertainty+1e-4 {
			t.Errorf("above %s: %v, trials have %g ± %g", at, p, share, uncertainty)
		}
	})
}
