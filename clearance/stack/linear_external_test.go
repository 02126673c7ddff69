package stack_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
)

// A sum is its own straight line: its sensitivities are those of the stack, and the line's
// stack has the law of the first.
func TestLinearOfASum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := boundedStacks().Draw(t, "stack")
		l, err := s.Linearise(func(x []float64) float64 {
			var gap float64
			for i, c := range s {
				gap += c.Sensitivity.Float64(units.One) * x[i]
			}
			return gap + 3
		})
		if err != nil {
			t.Fatal(err)
		}
		first := law(t, s)
		for i, c := range s {
			want := c.Sensitivity.Float64(units.One)
			if d := l.Sensitivities[i]; math.Abs(d.Value-want) > d.Error+1e-15 || d.Error > 1e-6 || d.Proven {
				t.Errorf("sensitivity %v, want %g", d, want)
			}
		}
		sigma := first.StdDev.Float64(units.Millimetre)
		if math.Abs(l.StdDev-sigma) > 1e-7*sigma+1e-9 || math.Abs(l.SecondOrder-sigma) > 1e-6*sigma+1e-9 || math.Abs(l.Mean-l.Value) > 1e-8 || !l.Enough {
			t.Fatalf("%+v, want a deviation of %g", l, sigma)
		}
		line := law(t, l.Stack)
		if off := line.Mean.Sub(first.Mean).Sub(mm("3 mm")).Abs(); mm("0.0000001 mm").Less(off) || mm("0.0000001 mm").Less(line.StdDev.Sub(first.StdDev).Abs()) {
			t.Fatalf("the line has %s ± %s, the stack %s ± %s", line.Mean, line.StdDev, first.Mean, first.StdDev)
		}
	})
}

// Two large parts cancel: what is left is small, but each part was rounded.
func TestLinearOfPartsThatCancel(t *testing.T) {
	s := stack.Stack{
		stack.Adds("a", tolerance("0.0005 ±0.0005 mm"), stack.Uniform()),
		stack.Adds("b", tolerance("5000.1 ±0.0005 mm"), stack.Uniform()),
		stack.Takes("c", tolerance("5000.1 ±0.0005 mm"), stack.Uniform()),
	}
	l, err := s.Linearise(func(x []float64) float64 { return x[1]/3 + x[0] - x[2]/3 })
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{1, 1. / 3, -1. / 3} {
		if d := l.Sensitivities[i]; math.Abs(d.Value-want) > d.Error || d.Error > 1e-7 {
			t.Errorf("%d: sensitivity %v, want %g", i, d, want)
		}
	}
}

// A product of two sizes, 30 and 40 mm with deviations of 3 and 2 mm and r = 0.5, by hand:
// u² = (40·3)² + (30·2)² + 2·0.5·40·3·30·2 = 25200; the mean is larger by r·3·2 = 3, the
// variance by (3·2)²·(1 + r²) = 45. A product of normal sizes has no further terms.
func TestLinearOfAProduct(t *testing.T) {
	s := stack.Stack{
		stack.Adds("a", tolerance("30 ±9 mm"), stack.Normal(3)),
		stack.Adds("b", tolerance("40 ±6 mm"), stack.Normal(3)),
	}
	correlated, err := s.Correlated([][]float64{{1, 0.5}, {0.5, 1}})
	if err != nil {
		t.Fatal(err)
	}
	l, err := correlated.Linearise(func(x []float64) float64 { return x[0] * x[1] })
	if err != nil {
		t.Fatal(err)
	}
	near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(b) }
	if l.Value != 1200 || !near(l.Sensitivities[0].Value, 40) || !near(l.Sensitivities[1].Value, 30) || !near(l.StdDev, math.Sqrt(25200)) || !near(l.Mean, 1203) || !near(l.SecondOrder, math.Sqrt(25245)) {
		t.Errorf("%+v", l)
	}
	// Half a unit in the second digit of 159 is 5.
	if !l.Enough {
		t.Error("3 + 2·0.14 is below 5, and enough")
	}
	if w := l.Working(); w.Numbers != "√(120² + 60² + 2 × (0.5 × 120 × 60))" || !strings.Contains(w.Formula, "rᵢⱼ") {
		t.Errorf("working:\n%s", w)
	}
	if w := law(t, l.Stack); math.Abs(w.StdDev.Float64(units.Millimetre)-math.Sqrt(25200)) > 1e-6 || !w.Mean.Sub(mm("1200 mm")).Abs().Less(mm("0.000001 mm")) {
		t.Errorf("line: %s ± %s", w.Mean, w.StdDev)
	}
}

// The square of a size whose mean is zero has no straight line at all. Its moments, exactly:
// E x² = σ², Var x² = (κ-1)·σ⁴; and of a skewed sample (-1, -1, 2), E x² = 2, x² is 1, 1, 4:
// Var 2; of (x+1)², 0, 0, 9: mean 3, Var 18.
func TestLinearIsNotEnough(t *testing.T) {
	for _, test := range []struct {
		name           string
		d              stack.Distribution
		square, spread float64
	}{
		{"uniform", stack.Uniform(), 4. / 3, (9./5 - 1) * 16 / 9},
		{"triangular", stack.Triangular(), 4. / 6, (12./5 - 1) * 16 / 36},
		{"arcsine", stack.Arcsine(), 2, (3./2 - 1) * 4},
		{"normal", stack.Normal(2), 1, 2},
		// Sides of 1.4 and 0.6: σ² = (1.96 + 0.36)/3; fourth moment (1.4⁴ + 0.6⁴)/5 + 6·(1.96/3)·(0.36/3).
		{"trapezoidal", stack.Trapezoidal(0.4), 2.32 / 3, (3.8416+0.1296)/5 + 6*1.96/3*0.36/3 - 2.32*2.32/9},
		{"sample", stack.Sample(mm("-1 mm"), mm("-1 mm"), mm("2 mm")), 2, 2},
	} {
		s := stack.Stack{stack.Adds("x", tolerance("0 ±2 mm"), test.d)}
		l, err := s.Linearise(func(x []float64) float64 { return x[0] * x[0] })
		if err != nil || math.Abs(l.StdDev) > 1e-12 || l.Enough || math.Abs(l.Mean-test.square) > 1e-9 || math.Abs(l.SecondOrder-math.Sqrt(test.spread)) > 1e-9 {
			t.Errorf("%s: %+v, %v; want %g and %g", test.name, l, err, test.square, math.Sqrt(test.spread))
		}
	}
	s := stack.Stack{stack.Adds("x", tolerance("0 ±2 mm"), stack.Sample(mm("-1 mm"), mm("-1 mm"), mm("2 mm")))}
	l, err := s.Linearise(func(x []float64) float64 { return (x[0] + 1) * (x[0] + 1) })
	if err != nil || math.Abs(l.Mean-3) > 1e-9 || math.Abs(l.SecondOrder-math.Sqrt(18)) > 1e-9 || math.Abs(l.StdDev-2*math.Sqrt(2)) > 1e-9 {
		t.Errorf("skewed: %+v, %v", l, err)
	}
	flat, err := s.Linearise(func(x []float64) float64 { return x[0] * x[0] })
	if err != nil || len(flat.Stack) != 1 || !strings.Contains(flat.Working().String(), "simulate") || !strings.Contains(flat.Working().Numbers, "flat") {
		t.Errorf("flat: %+v, %v\n%s", flat, err, flat.Working())
	}
}

// exp of a normal size, whose moments are known: mean exp(σ²/2), variance
// (exp(σ²)-1)·exp(σ²) = σ² + 1.5σ⁴ + …, of which the note gives the first two.
func TestLinearAndSimulation(t *testing.T) {
	s := stack.Stack{stack.Adds("x", tolerance("0 ±0.6 mm"), stack.Normal(3))}
	f := func(x []float64) float64 { return math.Exp(x[0]) }
	l, err := s.Linearise(f)
	if err != nil {
		t.Fatal(err)
	}
	const v = 0.04
	exact := math.Sqrt((math.Exp(v) - 1) * math.Exp(v))
	if math.Abs(l.Sensitivities[0].Value-1) > l.Sensitivities[0].Error || math.Abs(l.StdDev-0.2) > 1e-4 || l.Enough {
		t.Errorf("%+v", l)
	}
	// The next term of the mean is σ⁴/8 = 2e-4, of the deviation about σ⁵·0.4; steps of half a
	// deviation change a third derivative by 1/4·σ² of it.
	if math.Abs(l.Mean-math.Exp(v/2)) > 3e-4 || math.Abs(l.SecondOrder-exact) > 3e-4 {
		t.Errorf("%+v, want %g and %g", l, math.Exp(v/2), exact)
	}
	o, err := s.SimulateFunc(t.Context(), f, anything, stack.Simulation{Trials: 400_000, Seed: 3})
	if err != nil || math.Abs(o.StdDev-l.SecondOrder) > 5e-4+3e-4 || math.Abs(o.Mean-l.Mean) > 5*0.21/math.Sqrt(400_000)+3e-4 {
		t.Errorf("simulated %g ± %g, %v", o.Mean, o.StdDev, err)
	}
}

func TestLinearRefused(t *testing.T) {
	s := stack.Stack{stack.Adds("x", tolerance("0 ±2 mm"), stack.Uniform())}
	_, err := s.Linearise(func(x []float64) float64 { return math.Sqrt(x[0]) })
	if !errors.Is(err, units.ErrSyntax) || !strings.Contains(err.Error(), "for the sizes [-") {
		t.Errorf("outside where the function is: %v", err)
	}
	if _, err := (stack.Stack{}).Linearise(func([]float64) float64 { return 1 }); err == nil {
		t.Error("no sizes")
	}
}

// A proportion near 0.0027 good to 0.0001: 0.0027·0.9973/1e-8 = 269 271.
func TestTrialsFor(t *testing.T) {
	for _, test := range []struct {
		p, u   float64
		trials int64
	}{{0.0027, 0.0001, 269_271}, {0.5, 0.01, 2500}, {0.5, 1, 2}} {
		if got, _, err := stack.TrialsFor(test.p, test.u); got != test.trials || err != nil {
			t.Errorf("%g, %g: %d, %v", test.p, test.u, got, err)
		}
	}
	for _, bad := range [][2]float64{{0, 0.1}, {1, 0.1}, {0.1, 0}, {0.1, math.NaN()}, {0.1, 1e-9}} {
		if _, _, err := stack.TrialsFor(bad[0], bad[1]); err == nil {
			t.Errorf("%v", bad)
		}
	}
}

func TestOutcomeWorking(t *testing.T) {
	p, u, none := 0.0625, 0.015, 0.0
	o := stack.Outcome{Trials: 256, Mean: 1.5, StdDev: 0.32, Below: 6, Above: 10, Outside: &p, Uncertainty: &u}
	w := o.Working()
	// √(0.0625·0.9375/256) = 0.01513; 0.32/16 = 0.02; half a unit of the second digit of 0.32 is 0.005.
	if w.Result != "mean 1.5 with a standard uncertainty of 0.02" || len(w.Steps) != 1 || w.Steps[0].Numbers != "(6 + 10) / 256; √(0.0625 × 0.9375 / 256)" ||
		w.Steps[0].Result != "p = 0.0625 with a standard uncertainty of 0.015" || !strings.Contains(w.Notes[0], "±0.005, the run is not settled") {
		t.Errorf("working:\n%s", w)
	}
	o = stack.Outcome{Trials: 1_000_000, Mean: 1.5, StdDev: 0.32, Outside: &none, Uncertainty: &none}
	if w := o.Working(); !strings.Contains(w.Notes[0], "is settled") || len(w.Steps[0].Notes) != 1 {
		t.Errorf("none outside:\n%s", w)
	}
	if w := new(stack.Outcome).Working(); w.Result != "not known" {
		t.Errorf("no trials:\n%s", w)
	}
}
