package stack_test

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// normals is a gap of three normal parts: then everything has a closed form.
func normals(t *testing.T) stack.Stack {
	return stack.Stack{
		stack.Adds("a", tolerance("10 ±0.03 mm"), stack.Normal(3)),
		stack.Takes("b", tolerance("6 ±0.06 mm"), stack.Normal(3)),
		stack.Takes("c", tolerance("3 ±0.02 mm"), stack.Normal(2)),
	}
}

func TestCapability(t *testing.T) {
	law, err := normals(t).Law()
	if err != nil {
		t.Fatal(err)
	}
	// σ² = 0.01² + 0.02² + 0.01² = 0.0006.
	sigma := math.Sqrt(0.0006)
	c, err := law.Capability(tolerance("0.95..1.10 mm"))
	if err != nil {
		t.Fatal(err)
	}
	if c.Cp == nil || math.Abs(*c.Cp-0.15/(6*sigma)) > 1e-12 || math.Abs(c.Cpk-0.05/(3*sigma)) > 1e-12 {
		t.Errorf("capability %+v", c)
	}
	q := func(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }
	if math.Abs(c.Below.Value-q(0.05/sigma)) > c.Below.Error || math.Abs(c.Above.Value-q(0.10/sigma)) > c.Above.Error {
		t.Errorf("below %v, above %v", c.Below, c.Above)
	}
	if want := 1e6 * (q(0.05/sigma) + q(0.10/sigma)); math.Abs(1e6*c.Outside.Value-want) > 0.1 || !c.Outside.Proven {
		t.Errorf("outside %v, want %g parts per million", c.Outside, want)
	}
	if w, err := law.Working(tolerance("0.95..1.10 mm")); err != nil || !strings.Contains(w.Numbers, "(1.1 - 0.95) / (6 × 0.02449) = 1.021; min(1.1 - 1, 1 - 0.95) / (3 × 0.02449) = 0.680") {
		t.Errorf("working:\n%s", w)
	}
	if upper, err := law.Working(tolerance("<= 1.10 mm")); err != nil || upper.Formula != "Cpk = min(U - μ) / 3σ" {
		t.Errorf("working of one limit %v:\n%s", err, upper)
	}
	one, err := law.Capability(tolerance(">= 1.02 mm"))
	if err != nil || one.Cp != nil || math.Abs(one.Cpk+0.02/(3*sigma)) > 1e-12 || one.Above.Value != 0 {
		t.Errorf("one limit: %+v, %v", one, err)
	}
	if text, err := json.Marshal(one); err != nil || !strings.Contains(string(text), `"cp":null`) {
		t.Errorf("one limit in JSON: %s, %v", text, err)
	}
}

// For normal parts the factor is what makes the limits lie at the quantile of
// the yield.
func TestProportional(t *testing.T) {
	s := normals(t)
	for _, yield := range []float64{0.9, 0.9973, 1 - 1e-9} {
		a, err := s.Allocate(tolerance("0.94..1.06 mm"), yield)
		if err != nil {
			t.Fatal(err)
		}
		z := math.Sqrt2 * math.Erfinv(yield)
		want := 0.06 / (z * math.Sqrt(0.0006))
		for i, f := range a.Factors {
			if math.Abs(f/want-1) > 1e-4 {
				t.Errorf("yield %g: factor %d is %g, want %g", yield, i, f, want)
			}
		}
		if got := a.Stack[1]; !got.Limits.Mid().Equal(mm("6 mm")) || math.Abs(got.Limits.Radius().Float64(units.Millimetre)/(0.06*want)-1) > 1e-4 {
			t.Errorf("yield %g: new limits %s", yield, got.Limits)
		}
	}
}

// What is fixed stays; the others make up for it.
func TestProportionalWithFixed(t *testing.T) {
	parts := normals(t)
	parts[0].Fixed = true
	a, err := stack.Stack(parts).Allocate(tolerance("0.94..1.06 mm"), 0.9973)
	if err != nil {
		t.Fatal(err)
	}
	// (0.06/z)² = 0.01² + f²·(0.02² + 0.01²)
	z := math.Sqrt2 * math.Erfinv(0.9973)
	want := math.Sqrt((math.Pow(0.06/z, 2) - 0.0001) / 0.0005)
	if a.Factors[0] != 1 || math.Abs(a.Factors[1]/want-1) > 1e-4 || a.Factors[1] != a.Factors[2] {
		t.Errorf("factors %v, want 1 and twice %g", a.Factors, want)
	}
	if got := a.Stack[0].Limits; !got.Equal(parts[0].Limits) {
		t.Errorf("fixed limits %s", got)
	}
}

// With equal exponents the least cost has a closed form: the widths go as
// (a·(T/sσ)²)^(1/(e+2)), and the variance is what the yield allows.
func TestLeastCost(t *testing.T) {
	s := normals(t)
	costs := []stack.Cost{{Scale: 2, Exponent: 1}, {Scale: 0.5, Exponent: 1}, {Scale: 7, Exponent: 1}}
	a, err := s.Allocate(tolerance("0.94..1.06 mm"), 0.9973, costs...)
	if err != nil {
		t.Fatal(err)
	}
	k := []float64{3, 3, 2}
	half := []float64{0.03, 0.06, 0.02}
	var shape [3]float64
	var variance, cost float64
	for i := range shape {
		shape[i] = math.Cbrt(costs[i].Scale * k[i] * k[i])
		variance += math.Pow(shape[i]/k[i], 2)
	}
	z := math.Sqrt2 * math.Erfinv(0.9973)
	size := 0.06 / z / math.Sqrt(variance)
	for i := range shape {
		cost += costs[i].Scale / (size * shape[i])
		if want := size * shape[i] / half[i]; math.Abs(a.Factors[i]/want-1) > 1e-4 {
			t.Errorf("factor %d is %g, want %g", i, a.Factors[i], want)
		}
	}
	if a.Cost == nil || math.Abs(*a.Cost/cost-1) > 1e-4 {
		t.Errorf("cost %v, want %g", a.Cost, cost)
	}
}

// Both allocations reach the yield with the tolerances they give, and the one by
// cost is no dearer than the one in proportion.
func TestAllocationsReachTheYield(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		distributions := rapid.SampledFrom([]stack.Distribution{stack.Uniform(), stack.Triangular(), stack.Normal(3), stack.NormalWithin(2), stack.Arcsine()})
		var parts []stack.Contributor
		var costs []stack.Cost
		for range rapid.IntRange(2, 3).Draw(t, "contributors") {
			limits := units.PlusMinus(mm("5 mm"), units.Micrometre.OfInt(rapid.Int64Range(5, 60).Draw(t, "half width, µm")))
			parts = append(parts, stack.Adds("x", limits, distributions.Draw(t, "distribution")))
			costs = append(costs, stack.Cost{
				Scale:    float64(rapid.IntRange(1, 50).Draw(t, "scale")) / 10,
				Exponent: float64(rapid.IntRange(5, 20).Draw(t, "exponent")) / 10,
			})
		}
		s := stack.Stack(parts)
		within := units.PlusMinus(s.WorstCase().Interval().Mid().Add(mm("0.003 mm")), mm("0.05 mm"))
		yield := rapid.SampledFrom([]float64{0.9, 0.99, 0.9999}).Draw(t, "yield")
		proportional, err := s.Allocate(within, yield)
		if err != nil {
			t.Fatal(err)
		}
		least, err := s.Allocate(within, yield, costs...)
		if err != nil {
			t.Fatal(err)
		}
		for name, a := range map[string]*stack.Allocation{"proportional": proportional, "least cost": least} {
			law, err := a.Stack.Law()
			if err != nil {
				t.Fatal(err)
			}
			c, err := law.Capability(within)
			if err != nil {
				t.Fatal(err)
			}
			p := c.Outside
			if allowed := 1 - yield; p.Value > allowed || p.Proven && p.Value+p.Error > allowed || p.Value < 0.999*allowed {
				t.Errorf("%s: %v outside, allowed %g", name, p, allowed)
			}
		}
		var cost float64
		for i, c := range costs {
			cost += c.Scale / math.Pow(proportional.Stack[i].Limits.Radius().Float64(units.Millimetre), c.Exponent)
		}
		if *least.Cost > 1.0001*cost || proportional.Cost != nil {
			t.Errorf("least cost %g, in proportion %g", *least.Cost, cost)
		}
	})
}

func TestAllocationRefusals(t *testing.T) {
	s := normals(t)
	limits := tolerance("0.94..1.06 mm")
	proportional := func(s stack.Stack, l units.LengthInterval, yield float64) error {
		_, err := s.Allocate(l, yield)
		return err
	}
	costs := func(c ...stack.Cost) error {
		_, err := s.Allocate(limits, 0.99, c...)
		return err
	}
	fixed := slices.Clone(s)
	for i := range fixed {
		fixed[i].Fixed = true
	}
	wide := slices.Clone(s)
	wide[0].Fixed, wide[0].Limits = true, tolerance("10 ±0.3 mm")
	one := stack.Cost{Scale: 1, Exponent: 1}
	for _, test := range []struct {
		name string
		err  error
		kind error
		says string
	}{
		{"yield of one", proportional(s, limits, 1), measure.ErrProbability, "between 0 and 1"},
		{"limits without a bound", proportional(s, tolerance("any length"), 0.99), measure.ErrEmpty, "smallest gap"},
		{"middle outside the limits", proportional(s, tolerance("1.01..1.06 mm"), 0.99), stack.ErrUnreachable, "middle of 1 mm"},
		{"reached by any tolerance", proportional(s, tolerance(">= 0.9 mm"), 0.3), stack.ErrUnreachable, "greater yield"},
		{"all fixed", proportional(stack.Stack(fixed), limits, 0.99), stack.ErrUnreachable, "Fixed unset"},
		{"what is fixed varies too much", proportional(stack.Stack(wide), limits, 0.99), stack.ErrUnreachable, "fix fewer"},
		{"too few costs", costs(one, one), stack.ErrUnusable, "2 costs for 3 contributors"},
		{"cost of nothing", costs(one, stack.Cost{Exponent: 1}, one), stack.ErrUnusable, "contributor 2 (b)"},
		{"scale that is no number", costs(one, one, stack.Cost{Scale: math.NaN(), Exponent: 1}), stack.ErrUnusable, "NaN / T^1"},
		{"exponent that overflows", costs(one, stack.Cost{Scale: 1, Exponent: 400}, one), stack.ErrUnusable, "1 / T^400"},
		{"negative exponent", costs(one, one, stack.Cost{Scale: 1, Exponent: -1}), stack.ErrUnusable, "contributor 3 (c)"},
	} {
		if !errors.Is(test.err, test.kind) || !strings.Contains(test.err.Error(), test.says) {
			t.Errorf("%s: error %v, want kind %v saying %q", test.name, test.err, test.kind, test.says)
		}
	}
}
