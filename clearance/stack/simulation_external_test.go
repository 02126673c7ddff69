package stack_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/shopspring/decimal"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// endPlayParts are contributors of every distribution.
func endPlayParts() []stack.Contributor {
	return []stack.Contributor{
		stack.Adds("journal", tolerance("32.00 +0.05/0 mm"), stack.Normal(3)),
		stack.Takes("bearing", tolerance("27.00 +0/-0.08 mm"), stack.Uniform()),
		stack.Takes("front washer", tolerance("2.42 ±0.02 mm"), stack.NormalWithin(2)),
		stack.Takes("rear washer", tolerance("2.42 ±0.03 mm"), stack.Triangular()),
		stack.Takes("runout", tolerance("0 ±0.01 mm"), stack.Arcsine()),
		stack.Takes("shim", tolerance("0.10..0.12 mm"), stack.Sample(mm("0.103 mm"), mm("0.108 mm"), mm("0.104 mm"), mm("0.119 mm"))),
	}
}

// anything is no limits for a function.
var anything units.RatioInterval

// summary is everything that a run finds.
type summary struct {
	mean, sd, least, most, q001, q500, q999 float64
	below, above                            int64
}

func summarize(t *testing.T, o *stack.Outcome) summary {
	t.Helper()
	quantile := func(p float64) float64 {
		v, _, err := o.Quantile(p)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	return summary{o.Mean, o.StdDev, o.Min, o.Max, quantile(0.001), quantile(0.5), quantile(0.999), o.Below, o.Above}
}

// A seed gives the same trials, to the last bit, whatever the number of workers
// and whatever the order of the contributors.
func TestSimulationRepeats(t *testing.T) {
	parts := endPlayParts()
	s := stack.Stack(parts)
	slices.Reverse(parts)
	reversed := stack.Stack(parts)
	run := func(s stack.Stack, workers int, seed uint64) summary {
		o, err := s.Simulate(t.Context(), tolerance("0.05..0.16 mm"), stack.Simulation{Trials: 123_457, Seed: seed, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		return summarize(t, o)
	}
	want := run(s, 1, 99)
	if want.below == 0 || want.above == 0 {
		t.Fatalf("nothing outside: %+v", want)
	}
	for _, workers := range []int{2, 3, 7, 0} {
		if got := run(s, workers, 99); got != want {
			t.Errorf("%d workers: %+v, one has %+v", workers, got, want)
		}
	}
	if got := run(reversed, 2, 99); got != want {
		t.Errorf("contributors in another order: %+v, want %+v", got, want)
	}
	if got := run(s, 1, 100); got.mean == want.mean {
		t.Error("another seed gives the same trials")
	}
	f := func(workers int) summary {
		o, err := s.SimulateFunc(t.Context(), func(x []float64) float64 { return x[0] * x[3] / x[5] },
			anything, stack.Simulation{Trials: 50_001, Seed: 4, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		return summarize(t, o)
	}
	if one, three := f(1), f(3); one != three {
		t.Errorf("function: one worker %+v, three %+v", one, three)
	}
}

// A simulated linear function is the simulated gap but for other trials, and
// both agree with the true distribution.
func TestSimulationAgreesWithLaw(t *testing.T) {
	s := stack.Stack(endPlayParts())
	law, err := s.Law()
	if err != nil {
		t.Fatal(err)
	}
	limits := tolerance("0.06..0.17 mm")
	capability, err := law.Capability(limits)
	if err != nil {
		t.Fatal(err)
	}
	const n = 1_000_000
	sim := stack.Simulation{Trials: n, Seed: 21}
	gap, err := s.Simulate(t.Context(), limits, sim)
	if err != nil {
		t.Fatal(err)
	}
	function, err := s.SimulateFunc(t.Context(), func(x []float64) float64 { return x[0] - x[1] - x[2] - x[3] - x[4] - x[5] }, units.MustInterval(units.One.Of(decimal.RequireFromString("0.06")), units.One.Of(decimal.RequireFromString("0.17"))), sim)
	if err != nil {
		t.Fatal(err)
	}
	sigma := law.StdDev.Float64(units.Millimetre)
	for name, o := range map[string]*stack.Outcome{"gap": gap, "function": function} {
		for _, count := range []struct {
			name string
			got  int64
			p    stack.Computed
		}{{"below", o.Below, capability.Below}, {"above", o.Above, capability.Above}} {
			if want := n * count.p.Value; math.Abs(float64(count.got)-want) > 4*math.Sqrt(want) {
				t.Errorf("%s: %d %s, want %.0f", name, count.got, count.name, want)
			}
		}
		if math.Abs(o.Mean-law.Mean.Float64(units.Millimetre)) > 4*sigma/1000 || math.Abs(o.StdDev/sigma-1) > 0.004 {
			t.Errorf("%s: mean %g ± %g, law has %s ± %g", name, o.Mean, o.StdDev, law.Mean, sigma)
		}
		for _, p := range []float64{0.001, 0.025, 0.5, 0.975, 0.999} {
			v, resolution, err := o.Quantile(p)
			if err != nil || resolution > 0.0013*sigma {
				t.Fatalf("quantile %g: resolution %g, %v", p, resolution, err)
			}
			// The true probability below the quantile found, against chance.
			at, err := units.Millimetre.OfFloat64(v, 9)
			if err != nil {
				t.Fatal(err)
			}
			if got := law.Below(at).Value; math.Abs(got-p) > 4*math.Sqrt(p*(1-p)/n)+0.0001*p {
				t.Errorf("%s: quantile %g at %g has %g below it", name, p, v, got)
			}
		}
	}
}

// Quantiles of the distribution invert its probabilities.
func TestQuantilesInvert(t *testing.T) {
	law, err := stack.Stack(endPlayParts()).Law()
	if err != nil {
		t.Fatal(err)
	}
	turned := slices.Clone(law.Stack)
	for i := range turned {
		turned[i].Sensitivity = turned[i].Sensitivity.Neg()
	}
	mirrored, err := turned.Law()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []float64{1e-12, 1e-9, 1e-6, 0.01, 0.3, 0.5, 0.8, 0.999} {
		lo, errLo := law.Quantile(p)
		hi, errHi := mirrored.Quantile(p)
		if err := errors.Join(errLo, errHi); err != nil {
			t.Fatal(err)
		}
		for name, got := range map[string]float64{"lower": law.Below(lo).Value, "upper": law.Above(hi.Neg()).Value} {
			if math.Abs(got/p-1) > 1e-4 {
				t.Errorf("%s quantile %g: its probability is %g", name, p, got)
			}
		}
	}
	c, err := law.Coverage(0.95)
	lo, _ := law.Quantile(0.025)
	hi, _ := law.Quantile(0.975)
	if err != nil || !c.Lo().Sub(lo).Abs().Less(mm("0.00000001 mm")) || !c.Hi().Sub(hi).Abs().Less(mm("0.00000001 mm")) {
		t.Errorf("coverage %s, quantiles %s and %s, %v", c, lo, hi, err)
	}
}

func TestSimulationStops(t *testing.T) {
	s := stack.Stack(endPlayParts())
	ctx, cancel := context.WithCancel(t.Context())
	var calls int
	o, err := s.Simulate(ctx, units.LengthInterval{}, stack.Simulation{Trials: 1 << 40, Progress: func(done, total int64) {
		if calls++; calls == 3 {
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) || o != nil {
		t.Errorf("cancelled: %v, %v", o, err)
	}

	synctest.Test(t, func(t *testing.T) { // the clock is the test's own, and only the function takes time
		for _, most := range []time.Duration{20 * time.Millisecond, 700 * time.Millisecond} { // before the workers, and in them
			slow, stop := context.WithTimeout(t.Context(), most)
			begin := time.Now()
			_, err := s.SimulateFunc(slow, func(x []float64) float64 { time.Sleep(time.Millisecond / 4); return x[0] }, anything, stack.Simulation{Trials: 1 << 40, Workers: 2})
			if !errors.Is(err, context.DeadlineExceeded) {
				t.Errorf("out of time: %v", err)
			}
			if took := time.Since(begin) - most; took < 0 || took > 50*time.Millisecond {
				t.Errorf("stopped %v after its time of %v", took, most)
			}
			stop()
		}
	})
}

func TestProgress(t *testing.T) {
	const n = 100_000
	var last int64
	var inside atomic.Int32
	_, err := stack.Stack(endPlayParts()).Simulate(t.Context(), units.LengthInterval{}, stack.Simulation{Trials: n, Workers: 4, Progress: func(done, total int64) {
		if inside.Add(1) != 1 || done <= last || total != n {
			t.Errorf("progress %d of %d after %d", done, total, last)
		}
		last = done
		inside.Add(-1)
	}})
	if err != nil || last != n {
		t.Errorf("last progress %d, %v", last, err)
	}
}

func TestSimulationRefusals(t *testing.T) {
	s := stack.Stack(endPlayParts())
	of := func(sim stack.Simulation) error {
		_, err := s.Simulate(t.Context(), units.LengthInterval{}, sim)
		return err
	}
	function := func(f func([]float64) float64, sim stack.Simulation) error {
		_, err := s.SimulateFunc(t.Context(), f, anything, sim)
		return err
	}
	first := func(x []float64) float64 { return x[0] }
	o, err := s.Simulate(t.Context(), units.LengthInterval{}, stack.Simulation{Trials: 2})
	if err != nil {
		t.Fatal(err)
	}
	_, _, errQuantile := o.Quantile(1.5)
	for _, test := range []struct {
		name string
		err  error
		kind error
		says string
	}{
		{"no trials", of(stack.Simulation{}), stack.ErrUnusable, "0 trials"},
		{"one trial of a function", function(first, stack.Simulation{Trials: 1}), stack.ErrUnusable, "two or more"},
		{"negative workers", of(stack.Simulation{Trials: 10, Workers: -1}), stack.ErrUnusable, "-1 workers"},
		{"result whose square overflows", function(func([]float64) float64 { return -1e160 }, stack.Simulation{Trials: 10}), units.ErrSyntax, "-1e+160 for the sizes"},
		{"result that is no number", function(func(x []float64) float64 { return math.Sqrt(31.9 - x[0]) }, stack.Simulation{Trials: 10}), units.ErrSyntax, "NaN for the sizes [32"},
		{"infinite result, late", function(func(x []float64) float64 {
			if x[0] > 32.055 {
				return math.Inf(1)
			}
			return x[0]
		}, stack.Simulation{Trials: 10_000_000}), units.ErrSyntax, "+Inf"},
		{"quantile", errQuantile, measure.ErrProbability, "between 0 and 1"},
	} {
		if !errors.Is(test.err, test.kind) || !strings.Contains(test.err.Error(), test.says) {
			t.Errorf("%s: error %v, want kind %v saying %q", test.name, test.err, test.kind, test.says)
		}
	}
}

// A function that is the same everywhere has quantiles, too.
func TestConstantFunction(t *testing.T) {
	o, err := stack.Stack(endPlayParts()).SimulateFunc(t.Context(), func([]float64) float64 { return 7 }, anything, stack.Simulation{Trials: 5000})
	if err != nil {
		t.Fatal(err)
	}
	if v, _, err := o.Quantile(0.3); v != 7 || o.Mean != 7 || o.StdDev != 0 || err != nil {
		t.Errorf("%+v, quantile %g, %v", o, v, err)
	}
}

// A function of heavy tails does not break the histogram: what lies beyond it is
// counted, and the quantile says how poorly it is known there.
func TestHeavyTails(t *testing.T) {
	s := stack.Stack{stack.Adds("x", tolerance("0..1 mm"), stack.Uniform())}
	o, err := s.SimulateFunc(t.Context(), func(x []float64) float64 { return 1 / math.Sqrt(x[0]+1e-12) }, anything, stack.Simulation{Trials: 400_000, Seed: 2})
	if err != nil {
		t.Fatal(err)
	}
	median, fine, err := o.Quantile(0.5)
	if err != nil || math.Abs(median-math.Sqrt2) > 0.02 || fine > 0.05 {
		t.Errorf("median %g ± %g, want √2, %v", median, fine, err)
	}
	far, coarse, err := o.Quantile(0.99999)
	if err != nil || far > o.Max || coarse < 1 {
		t.Errorf("far quantile %g ± %g, %v", far, coarse, err)
	}
}

// A result too far out for a whole number of bins counts above, and not below.
func TestResultsFarBeyondTheBins(t *testing.T) {
	s := stack.Stack{stack.Adds("x", tolerance("0..1 mm"), stack.Uniform())}
	o, err := s.SimulateFunc(t.Context(), func(x []float64) float64 {
		if x[0] > 0.9999 {
			return 1e100 // too rare for the pilot run to set the bins by
		}
		return x[0]
	}, anything, stack.Simulation{Trials: 100_000, Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	if above := o.Bins[len(o.Bins)-1]; o.Max != 1e100 || above == 0 || o.Bins[0] != 0 {
		t.Errorf("largest %g, %d above the bins, %d below", o.Max, above, o.Bins[0])
	}
}

// Four rectangular quantities of standard deviation 1: the 95 % interval of their
// sum has the exact ends ±2√3·(2 - (3/5)^(1/4)) (JCGM 101:2008, 9.2.3, from
// memory; the tail x^4/24 of four uniform variables on 0..1 is 1/40 there).
func TestFourRectangularQuantities(t *testing.T) {
	half, err := units.Millimetre.OfFloat64(math.Sqrt(3), 9)
	if err != nil {
		t.Fatal(err)
	}
	var parts []stack.Contributor
	for range 4 {
		parts = append(parts, stack.Adds("x", units.PlusMinus(units.Length{}, half), stack.Uniform()))
	}
	law, err := stack.Stack(parts).Law()
	if err != nil {
		t.Fatal(err)
	}
	c, err := law.Coverage(0.95)
	if err != nil {
		t.Fatal(err)
	}
	want := 2 * math.Sqrt(3) * (2 - math.Pow(0.6, 0.25))
	for _, end := range []float64{-c.Lo().Float64(units.Millimetre), c.Hi().Float64(units.Millimetre)} {
		if math.Abs(end-want) > 2e-6 {
			t.Errorf("end of the interval ±%.9f, want ±%.9f", end, want)
		}
	}
}

// Normal contributors are added in closed form, whatever stands between them.
func TestNormalsAreAdded(t *testing.T) {
	var parts, merged []stack.Contributor
	for i := range int64(5) {
		parts = append(parts, stack.Adds("n", units.PlusMinus(mm("1 mm"), units.Micrometre.OfInt(12*i+9)), stack.Normal(3)))
	}
	// Half widths 9, 21, 33, 45, 57: √(81 + 441 + 1089 + 2025 + 3249) = √6885 µm, at 3 standard deviations.
	half, err := units.Micrometre.OfFloat64(math.Sqrt(6885), 6)
	if err != nil {
		t.Fatal(err)
	}
	u := stack.Takes("u", tolerance("2 ±0.05 mm"), stack.Uniform())
	parts = append([]stack.Contributor{u}, parts...)
	merged = append(merged, u, stack.Adds("all", units.PlusMinus(mm("5 mm"), half), stack.Normal(3)))
	a, errA := stack.Stack(parts).Law()
	b, errB := stack.Stack(merged).Law()
	if err := errors.Join(errA, errB); err != nil {
		t.Fatal(err)
	}
	for _, gap := range []string{"2.9 mm", "3.05 mm", "3.2 mm"} {
		p, q := a.Above(mm(gap)), b.Above(mm(gap))
		if math.Abs(p.Value-q.Value) > 1e-6*q.Value {
			t.Errorf("above %s: %v from five, %v from their sum", gap, p, q)
		}
	}
}
