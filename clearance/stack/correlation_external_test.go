package stack_test

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// following returns contributors that follow a source, each with its part.
func following(source string, s stack.Stack, parts ...float64) stack.Stack {
	s = slices.Clone(s)
	for i := range s {
		if i < len(parts) {
			s[i].Sources = append(slices.Clone(s[i].Sources), stack.Source{Name: source, Part: &parts[i]})
		}
	}
	return s
}

func twoNormals() stack.Stack {
	return stack.Stack{
		stack.Adds("bore", tolerance("40 ±0.03 mm"), stack.Normal(3)),      // 10 µm
		stack.Takes("shaft", tolerance("39.9 ±0.012 mm"), stack.Normal(2)), // 6 µm
	}
}

// Hand arithmetic: r = 0.8·0.75 = 0.6; 10² + 6² - 2·0.6·10·6 = 64 = 8² µm².
func TestCorrelatedNormals(t *testing.T) {
	s := following("setting", twoNormals(), 0.8, 0.75)
	l := law(t, s)
	if !l.StdDev.Equal(mm("0.008 mm")) || !l.Mean.Equal(mm("0.1 mm")) {
		t.Errorf("mean %s, deviation %s", l.Mean, l.StdDev)
	}
	// Q(3.75) (Handbook of Mathematical Functions, from memory: 8.8417e-5)
	if p := l.Above(mm("0.13 mm")); !p.Proven || math.Abs(p.Value-math.Erfc(3.75/math.Sqrt2)/2) > p.Error+1e-18 {
		t.Errorf("above: %v", p)
	}
	// Tolerances of 30 and 12 µm: shared 30·0.8 - 12·0.75 = 15, their own 30·0.6 = 18 and 12·√0.4375 = 7.9373:
	// √(15² + 18² + 63) = √612 = 24.7386338…
	if got := rss(t, s, "1"); !got.Equal(tolerance("0.1 ±0.0247387 mm")) {
		t.Errorf("root-sum-square %s", got.Exact())
	}
	// (100 - 36)/64 and (36 - 36)/64.
	_, shares, err := s.Shares()
	if err != nil || math.Abs(shares[0]-1) > 1e-12 || math.Abs(shares[1]) > 1e-12 {
		t.Errorf("shares %v, %v", shares, err)
	}
	o, err := s.Simulate(t.Context(), units.LengthInterval{}, stack.Simulation{Trials: 200_000, Seed: 5})
	if err != nil || math.Abs(o.StdDev-0.008) > 5*0.008/math.Sqrt(400_000) || math.Abs(o.Mean-0.1) > 5*0.008/math.Sqrt(200_000) {
		t.Errorf("simulated %g, %g, %v", o.Mean, o.StdDev, err)
	}
	// Half the tolerances make half the deviation, 4 µm; then ±12 µm holds 3 deviations.
	a, err := s.Allocate(units.PlusMinus(mm("0.1 mm"), mm("0.012 mm")), 0.9973002039367398)
	if err != nil || math.Abs(a.Factors[0]-0.5) > 1e-6 || a.Factors[0] != a.Factors[1] {
		t.Errorf("allocated %+v, %v", a, err)
	}
}

// The matrix says the same as the parts, for three sizes of which one is twice its share.
func TestCorrelatedByMatrix(t *testing.T) {
	s := stack.Stack{twoNormals()[0], twoNormals()[1], stack.Adds("shim", tolerance("1 ±0.009 mm"), stack.Normal(3))}
	m, err := s.Correlated([][]float64{{1, 0.6, 0.3}, {0.6, 1, -0.2}, {0.3, -0.2, 1}})
	if err != nil {
		t.Fatal(err)
	}
	// 10² + 6² + 3² - 2·0.6·60 + 2·0.3·30 + 2·0.2·18 = 98.2 µm²
	if l := law(t, m); math.Abs(l.StdDev.Float64(units.Micrometre)-math.Sqrt(98.2)) > 1e-6 {
		t.Errorf("deviation %s", l.StdDev)
	}
	one, err := s.Correlated([][]float64{{1, 1, 0}, {1, 1, 0}, {0, 0, 1}}) // of rank two
	if err != nil {
		t.Fatal(err)
	}
	if l := law(t, one); !l.StdDev.Equal(mm("0.005 mm")) { // (10 - 6)² + 3²
		t.Errorf("deviation %s", l.StdDev)
	}
}

func TestCorrelationsRefused(t *testing.T) {
	two, three := twoNormals(), append(twoNormals(), twoNormals()[0])
	matrix := func(s stack.Stack, r ...[]float64) error {
		_, err := s.Correlated(r)
		return err
	}
	parts := func(sources ...stack.Source) error {
		s := twoNormals()
		s[0].Sources = sources
		_, err := s.Law()
		return err
	}
	uniform := stack.Stack{stack.Adds("a", tolerance("1 ±0.3 mm"), stack.Uniform()), stack.Adds("b", tolerance("1 ±0.2 mm"), stack.Uniform())}
	_, notNormal := following("heat", uniform, 0.5, 0.5).Law()
	_, mixed := following("heat", stack.Stack{uniform[0], two[0]}, 1, 1).Law()
	unknown := slices.Clone(two)
	unknown[0].Sources, unknown[1].Sources = []stack.Source{{Name: "heat"}}, []stack.Source{{Name: "heat", Part: new(0.5)}}
	_, noLaw := unknown.Law()
	_, noTrials := unknown.Simulate(t.Context(), units.LengthInterval{}, stack.Simulation{Trials: 10})
	_, noFunction := unknown.SimulateFunc(t.Context(), func(x []float64) float64 { return x[0] }, anything, stack.Simulation{Trials: 10})
	_, _, noShares := unknown.Shares()
	_, noAllocation := unknown.Allocate(tolerance("0..0.2 mm"), 0.9)
	_, noLine := unknown.Linearise(func(x []float64) float64 { return x[0] })
	exact := stack.Contributor{Name: "block", Sensitivity: ratio("1"), Limits: tolerance("5 mm"), Fixed: true, Sources: []stack.Source{{Name: "heat", Part: new(0.5)}}}
	_, exactFollows := append(two, exact).Law()
	for _, test := range []struct {
		name string
		err  error
		kind error
		says string
	}{
		{"too few rows", matrix(two, []float64{1, 0}), measure.ErrProbability, "1 rows for 2"},
		{"too short", matrix(two, []float64{1, 0}, []float64{0}), measure.ErrProbability, "1 numbers for 2"},
		{"diagonal", matrix(two, []float64{0.9, 0}, []float64{0, 1}), measure.ErrProbability, "0.9 with itself"},
		{"asymmetric", matrix(two, []float64{1, 0.3}, []float64{0.2, 1}), measure.ErrProbability, "0.3 with contributor 2 (shaft), and 0.2 the other way"},
		{"above one", matrix(two, []float64{1, 1.2}, []float64{1.2, 1}), measure.ErrProbability, "from -1 to 1"},
		{"no number", matrix(two, []float64{1, math.NaN()}, []float64{math.NaN(), 1}), measure.ErrProbability, "NaN"},
		// Of the third, the first explains 0.81, and the second beside it (0.9 + 0.81)²/(1 - 0.81) = 15.39.
		{"not positive semidefinite", matrix(three, []float64{1, 0.9, -0.9}, []float64{0.9, 1, 0.9}, []float64{-0.9, 0.9, 1}), measure.ErrProbability, "those before it explain 16.2 times over"},
		{"contradicts what follows", matrix(three, []float64{1, 1, 0.5}, []float64{1, 1, 0.2}, []float64{0.5, 0.2, 1}), measure.ErrProbability, "follows from those before it"},
		{"sources already", matrix(following("heat", two, 0.5), []float64{1, 0}, []float64{0, 1}), stack.ErrUnusable, "either way"},
		{"twice", parts(stack.Source{Name: "heat", Part: new(0.1)}, stack.Source{Name: "heat", Part: new(0.2)}), stack.ErrUnusable, "twice"},
		{"no name", parts(stack.Source{Name: " ", Part: new(0.1)}), stack.ErrUnusable, "without a name"},
		{"too large", parts(stack.Source{Name: "heat", Part: new(-1.01)}), measure.ErrProbability, "from -1 to 1"},
		{"not a number", parts(stack.Source{Name: "heat", Part: new(math.NaN())}), measure.ErrProbability, "from -1 to 1"},
		{"squares", parts(stack.Source{Name: "heat", Part: new(0.8)}, stack.Source{Name: "setting", Part: new(0.7)}), measure.ErrProbability, "sum to 1.13"},
		{"unknown beside known", parts(stack.Source{Name: "heat"}, stack.Source{Name: "setting", Part: new(0.7)}), stack.ErrUnusable, "one source only"},
		{"not normal", notNormal, stack.ErrUnusable, "use Simulate"},
		{"of two shapes", mixed, stack.ErrUnusable, "use Simulate"},
		{"law of unknown parts", noLaw, stack.ErrUnusable, "use RSS or WorstCase"},
		{"simulation of unknown parts", noTrials, stack.ErrUnusable, "not known"},
		{"function of unknown parts", noFunction, stack.ErrUnusable, "not known"},
		{"shares of unknown parts", noShares, stack.ErrUnusable, "not known"},
		{"allocation of unknown parts", noAllocation, stack.ErrUnusable, "not known"},
		{"line of unknown parts", noLine, stack.ErrUnusable, "not known"},
		{"an exact size that follows", exactFollows, stack.ErrUnusable, "does not vary"},
	} {
		if test.err == nil || !errors.Is(test.err, test.kind) || !strings.Contains(test.err.Error(), test.says) {
			t.Errorf("%s: %v, want kind %v saying %q", test.name, test.err, test.kind, test.says)
		}
	}
	// A part that nobody shares changes nothing, known or not.
	alone := slices.Clone(two)
	alone[0].Sources = []stack.Source{{Name: "heat"}}
	if l := law(t, alone); !l.StdDev.Equal(law(t, two).StdDev) {
		t.Errorf("alone: %s", l.StdDev)
	}
}

// Parts that are not known are added at their worst, whatever their signs: 30 + 12 µm, and
// beside them 5 µm by squares: √(42² + 5²) = 42.29657… µm.
func TestUnknownPartsAtTheirWorst(t *testing.T) {
	s := append(twoNormals(), stack.Takes("shim", tolerance("1 ±0.005 mm"), stack.Normal(3)))
	s[0].Sources, s[1].Sources = []stack.Source{{Name: "heat"}}, []stack.Source{{Name: "heat", Part: new(0.9)}}
	if got := rss(t, s, "1"); !got.Equal(tolerance("-0.9 ±0.0422966 mm")) {
		t.Errorf("root-sum-square %s", got.Exact())
	}
}

// TestUnknownPartsOfNobodyElse: a part that is not known makes no difference where nobody shares its source, or the
// others have none of it.
func TestUnknownPartsOfNobodyElse(t *testing.T) {
	limits := tolerance("0 .. 0.1 mm")
	plain := stack.Stack{stack.Adds("bore", tolerance("40 ±0.03 mm"), stack.Normal(3)), stack.Takes("pin", tolerance("39.95 ±0.02 mm"), stack.Uniform())}
	type answers struct {
		Capability      stack.Capability
		Width, Variance []float64
		Working         units.Working
	}
	of := func(t *testing.T, s stack.Stack) (a answers) {
		t.Helper()
		law, err := s.Law()
		if err != nil {
			t.Fatal(err)
		}
		var errs [3]error
		a.Capability, errs[0] = law.Capability(limits)
		a.Width, a.Variance, errs[1] = s.Shares()
		a.Working, errs[2] = law.Working(limits)
		if _, err := s.Simulate(t.Context(), limits, stack.Simulation{Trials: 100}); errors.Join(append(errs[:], err)...) != nil {
			t.Fatal(errs, err)
		}
		return a
	}
	want := of(t, plain)
	for name, sources := range map[string][2][]stack.Source{
		"one each":         {{{Name: "lathe"}}, {{Name: "grinder"}}},
		"one alone":        {{{Name: "lathe"}}, nil},
		"the other":        {nil, {{Name: "grinder"}}},
		"none of it":       {{{Name: "lathe"}}, {{Name: "lathe", Part: new(0.0)}}},
		"none of it there": {{{Name: "lathe", Part: new(0.0)}}, {{Name: "lathe"}}},
	} {
		t.Run(name, func(t *testing.T) {
			s := slices.Clone(plain)
			s[0].Sources, s[1].Sources = sources[0], sources[1]
			if got := of(t, s); !reflect.DeepEqual(got, want) {
				t.Errorf("%+v, want %+v", got, want)
			}
		})
	}
}

// Parts of 1 and -1 make two sizes of one shape one size: the sum or the difference of
// their tolerances, of the same distribution. Parts of 0 leave them independent.
func TestExtremeParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shape := rapid.SampledFrom([]stack.Distribution{stack.Uniform(), stack.Normal(2.5), stack.NormalWithin(2), stack.Triangular(), stack.Trapezoidal(0.4), stack.Arcsine()}).Draw(t, "shape")
		a, b := rapid.Int64Range(1, 300).Draw(t, "a, µm"), rapid.Int64Range(1, 300).Draw(t, "b, µm")
		size := func(name string, half int64, d stack.Distribution) stack.Contributor {
			return stack.Adds(name, units.PlusMinus(units.Length{}, units.Micrometre.OfInt(half)), d)
		}
		other := stack.Takes("c", tolerance("1 ±0.1 mm"), stack.Triangular())
		sign := rapid.SampledFrom([]float64{-1, 0, 1}).Draw(t, "part")
		second := size("b", b, shape)
		if rapid.Bool().Draw(t, "closes") {
			second.Sensitivity = ratio("-1")
		}
		pair := following("source", stack.Stack{size("a", a, shape), second, other}, 1, sign)
		want := stack.Stack{size("a", a, shape), size("b", b, shape), other}
		switch opposed := (sign < 0) != (second.Sensitivity.Sign() < 0); {
		case sign == 0:
		case !opposed:
			want = stack.Stack{size("ab", a+b, shape), other}
		case a == b:
			want = stack.Stack{other}
		default:
			want = stack.Stack{size("ab", max(a-b, b-a), shape), other}
		}
		got, expected := law(t, pair), law(t, want)
		if !got.StdDev.Equal(expected.StdDev) || !got.Mean.Equal(expected.Mean) {
			t.Fatalf("%s about %s, want %s about %s", got.StdDev, got.Mean, expected.StdDev, expected.Mean)
		}
		for k := range int64(4) {
			at := got.Mean.Add(got.StdDev.MulInt(k))
			if p, q := got.Above(at), expected.Above(at); math.Abs(p.Value-q.Value) > 1e-12 && math.Abs(p.Value-q.Value) > p.Error+q.Error {
				t.Fatalf("above %s: %v, want %v", at, p, q)
			}
		}
	})
}

// The order of contributors changes nothing, and a wider tolerance never makes the
// deviation smaller where nothing cancels.
func TestCorrelatedInAnyOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s stack.Stack
		for i := range rapid.IntRange(2, 5).Draw(t, "contributors") {
			c := stack.Adds(fmt.Sprint(i), units.PlusMinus(units.Length{}, units.Micrometre.OfInt(rapid.Int64Range(1, 400).Draw(t, "half, µm"))), stack.Normal(3))
			for _, source := range []string{"heat", "setting"} {
				if rapid.Bool().Draw(t, source) {
					part := float64(rapid.IntRange(0, 7).Draw(t, "part")) / 10
					c.Sources = append(c.Sources, stack.Source{Name: source, Part: &part})
				}
			}
			s = append(s, c)
		}
		l := law(t, s)
		order := rapid.Permutation(s).Draw(t, "order")
		other := law(t, order)
		at := l.Mean.Add(l.StdDev.MulInt(3))
		if !l.StdDev.Equal(other.StdDev) || l.Above(at) != other.Above(at) || !rss(t, s, "1").Equal(rss(t, order, "1")) {
			t.Fatalf("%s and %s", l.StdDev, other.StdDev)
		}
		wider := slices.Clone(s)
		wider[0].Limits = units.PlusMinus(units.Length{}, wider[0].Limits.Hi().MulInt(2))
		if law(t, wider).StdDev.Less(l.StdDev) {
			t.Fatalf("wider has %s, less than %s", law(t, wider).StdDev, l.StdDev)
		}
		// The covariances, by hand.
		var variance float64
		for i, a := range s {
			for j, b := range s {
				r := 0.0
				for _, x := range a.Sources {
					for _, y := range b.Sources {
						if x.Name == y.Name {
							r += *x.Part * *y.Part
						}
					}
				}
				if i == j {
					r = 1
				}
				variance += r * a.Limits.Hi().Float64(units.Millimetre) * b.Limits.Hi().Float64(units.Millimetre) / 9
			}
		}
		if off := math.Abs(l.StdDev.Float64(units.Millimetre) - math.Sqrt(variance)); off > 1e-9 {
			t.Fatalf("deviation %s, want %g", l.StdDev, math.Sqrt(variance))
		}
	})
}

// Sizes that are not normal keep their own distributions, and their correlation is that of
// a normal copula: of two uniform ones (6/π)·asin(r/2), of r = 0.8·0.9 = 0.72.
func TestCorrelatedTrials(t *testing.T) {
	pair := following("heat", stack.Stack{
		stack.Adds("a", tolerance("0 ±1 mm"), stack.Uniform()),
		stack.Adds("b", tolerance("0 ±1 mm"), stack.Uniform()),
	}, 0.8, 0.9)
	const n = 400_000
	o, err := pair.SimulateFunc(t.Context(), func(x []float64) float64 { return 3 * x[0] * x[1] }, anything, stack.Simulation{Trials: n, Seed: 8})
	want := 6 / math.Pi * math.Asin(0.36)
	if err != nil || math.Abs(o.Mean-want) > 5*o.StdDev/math.Sqrt(n) {
		t.Errorf("correlation %g, want %g, %v", o.Mean, want, err)
	}
	for _, d := range []stack.Distribution{stack.Uniform(), stack.Triangular(), stack.Trapezoidal(0.4), stack.Arcsine(), stack.Normal(3), stack.NormalWithin(1.5),
		stack.NormalWithin(1.5).About(mm("0.5 mm")), stack.Sample(mm("-1 mm"), mm("0.2 mm"), mm("0.3 mm"), mm("1 mm"))} {
		s := following("heat", stack.Stack{stack.Adds("a", tolerance("0 ±1 mm"), d), stack.Takes("b", tolerance("0 ±1 mm"), stack.Uniform())}, -0.6, 0.7)
		o, err := s.SimulateFunc(t.Context(), func(x []float64) float64 { return x[0] }, anything, stack.Simulation{Trials: 40_000, Seed: 9})
		if err != nil {
			t.Fatal(err)
		}
		at, exact, err := law(t, s[:1]).Histogram()
		if err != nil {
			t.Fatal(err)
		}
		counted, err := o.Histogram(at...)
		for i := range exact {
			if err != nil || math.Abs(exact[i].Value-counted[i].Value) > 5.5*counted[i].Error+1e-4 {
				t.Errorf("%s, bin %d: %v, want %v, %v", d, i, counted[i], exact[i], err)
			}
		}
	}
}

// An exact size moves the gap and nothing else.
func TestExactSize(t *testing.T) {
	block := stack.Contributor{Name: "block", Sensitivity: ratio("-2"), Limits: tolerance("5 mm"), Fixed: true}
	plain, with := lever(t), append(lever(t), block)
	a, b := law(t, plain), law(t, with)
	if !b.StdDev.Equal(a.StdDev) || !a.Mean.Sub(b.Mean).Equal(mm("10 mm")) || b.Above(mm("-6.4 mm")) != a.Above(mm("3.6 mm")) {
		t.Errorf("mean %s, deviation %s", b.Mean, b.StdDev)
	}
	if got := rss(t, with, "1"); !got.Add(units.Exactly(mm("10 mm"))).Equal(rss(t, plain, "1")) {
		t.Errorf("root-sum-square %s", got)
	}
	widths, variances, err := with.Shares()
	if err != nil || widths[3] != 0 || variances[3] != 0 {
		t.Errorf("shares %v %v %v", widths, variances, err)
	}
	o, err := with.Simulate(t.Context(), units.LengthInterval{}, stack.Simulation{Trials: 1000, Seed: 2})
	p, errPlain := plain.Simulate(t.Context(), units.LengthInterval{}, stack.Simulation{Trials: 1000, Seed: 2})
	if err := errors.Join(err, errPlain); err != nil || math.Abs(p.Mean-o.Mean-10) > 1e-12 {
		t.Errorf("simulated %v", err)
	}
	if _, err := (stack.Stack{block}).Law(); !errors.Is(err, stack.ErrUnusable) {
		t.Errorf("nothing but exact sizes: %v", err)
	}
	block.Fixed = false
	if _, err := (stack.Stack{lever(t)[0], block}).Law(); err == nil || !strings.Contains(err.Error(), "set Fixed") {
		t.Errorf("a size without a tolerance that is not said to be exact: %v", err)
	}
}

func TestOffCentre(t *testing.T) {
	s := stack.Stack{
		stack.Adds("a", tolerance("10 ±0.03 mm"), stack.Normal(3).About(mm("10.02 mm"))),
		stack.Takes("b", tolerance("4 ±0.06 mm"), stack.Normal(3).About(mm("4.07 mm"))), // set outside its limits
	}
	// 10.02 - 4.07 = 5.95; √(0.01² + 0.02²); and the tolerances about the same mean: √(0.03² + 0.06²) = 0.0670820393…
	l := law(t, s)
	if !l.Mean.Equal(mm("5.95 mm")) || math.Abs(l.StdDev.Float64(units.Millimetre)-math.Sqrt(5e-4)) > 1e-9 {
		t.Errorf("mean %s, deviation %s", l.Mean, l.StdDev)
	}
	if got := rss(t, s, "1"); !got.Equal(tolerance("5.95 ±0.0670821 mm")) {
		t.Errorf("root-sum-square %s", got.Exact())
	}
	for _, test := range []struct {
		d    stack.Distribution
		says string
	}{
		{stack.Uniform().About(mm("10 mm")), "normal distribution only"},
		{stack.NormalWithin(3).About(mm("10.04 mm")), "outside"},
		{stack.Trapezoidal(1), "Uniform for all"},
		{stack.Trapezoidal(math.NaN()), "top"},
	} {
		if _, err := (stack.Stack{stack.Adds("a", tolerance("10 ±0.03 mm"), test.d)}).Law(); !errors.Is(err, stack.ErrUnusable) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v", test.d, err)
		}
	}
	if got := stack.Normal(3).About(mm("10.02 mm")).String(); got != "normal, limits at 3 standard deviations, about 10.02 mm" {
		t.Error(got)
	}
}
