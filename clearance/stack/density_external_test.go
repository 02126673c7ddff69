package stack_test

import (
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func law(t interface {
	Helper()
	Fatal(...any)
}, s stack.Stack) *stack.Law {
	t.Helper()
	l, err := s.Law()
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Closed forms, by hand.
func TestDensity(t *testing.T) {
	uniform := stack.Adds("a", tolerance("1 ±0.3 mm"), stack.Uniform())
	shims := stack.Adds("shim", tolerance("0.1..0.3 mm"), stack.Sample(mm("0.1 mm"), mm("0.3 mm"), mm("0.3 mm")))
	for _, test := range []struct {
		name   string
		s      stack.Stack
		at     string
		want   float64
		proven bool
	}{
		{"inside a uniform one", stack.Stack{uniform}, "1.1 mm", 1 / 0.6, true},
		{"at its lower limit, the side within", stack.Stack{uniform}, "0.7 mm", 1 / 0.6, true},
		{"at its upper limit", stack.Stack{uniform}, "1.3 mm", 1 / 0.6, true},
		{"beyond it", stack.Stack{uniform}, "1.300000001 mm", 0, true},
		{"before it", stack.Stack{uniform}, "0.699999999 mm", 0, true},
		// A third of the gaps lies about 1.1 mm, two thirds about 1.3 mm: 0.8..1.4 and 1.0..1.6.
		{"two steps of a sample, the lower", stack.Stack{uniform, shims}, "0.9 mm", 1 / 0.6 / 3, true},
		{"both", stack.Stack{uniform, shims}, "1.2 mm", 1 / 0.6, true},
		{"the upper one", stack.Stack{uniform, shims}, "1.5 mm", 2 / 0.6 / 3, true},
		{"where the upper one begins", stack.Stack{uniform, shims}, "1 mm", 1 / 0.6, true},
		{"the top of a triangle", stack.Stack{stack.Takes("a", tolerance("1 ±0.25 mm"), stack.Triangular())}, "-1 mm", 4, true},
		// Base 0.6, top 0.24: an area of one at the height 1/(0.3 + 0.12).
		{"the top of a trapezoid", stack.Stack{stack.Adds("a", tolerance("1 ±0.3 mm"), stack.Trapezoidal(0.4))}, "1.12 mm", 1 / 0.42, true},
		{"half way down its side", stack.Stack{stack.Adds("a", tolerance("1 ±0.3 mm"), stack.Trapezoidal(0.4))}, "1.21 mm", 1 / 0.84, true},
		{"a normal one off centre, one deviation from its mean", stack.Stack{stack.Adds("a", tolerance("1 ±0.3 mm"), stack.Normal(3).About(mm("1.2 mm")))}, "1.1 mm", math.Exp(-0.5) / math.Sqrt(2*math.Pi) / 0.1, true},
		// Two of 0.3 and 0.4 mm deviation make 0.5 mm.
		{"two normal ones", stack.Stack{stack.Adds("a", tolerance("5 ±0.9 mm"), stack.Normal(3)), stack.Takes("b", tolerance("2 ±0.8 mm"), stack.Normal(2))}, "3 mm", 1 / (0.5 * math.Sqrt(2*math.Pi)), true},
		{"an arcsine one in the middle", stack.Stack{stack.Adds("a", tolerance("0 ±0.2 mm"), stack.Arcsine())}, "0 mm", 1 / (0.2 * math.Pi), true},
	} {
		d, err := law(t, test.s).Density(mm(test.at))
		if err != nil || math.Abs(d.Value-test.want) > d.Error+4e-16*test.want || d.Proven != test.proven || d.Error > 1e-12*test.want {
			t.Errorf("%s: %v, %v; want %g", test.name, d, err, test.want)
		}
	}
}

func TestDensityRefused(t *testing.T) {
	shims := stack.Adds("shim", tolerance("0.1..0.3 mm"), stack.Sample(mm("0.1 mm"), mm("0.3 mm")))
	runout := stack.Adds("runout", tolerance("0 ±0.2 mm"), stack.Arcsine())
	for _, test := range []struct {
		s    stack.Stack
		says string
	}{
		{stack.Stack{shims}, "samples alone"},
		{stack.Stack{runout}, "arcsine size at 0.2 mm"},
		{stack.Stack{runout, runout}, "arcsine sizes alone"},
	} {
		_, err := law(t, test.s).Density(mm("0.2 mm"))
		if !errors.Is(err, stack.ErrUnusable) || !strings.Contains(err.Error(), test.says) || !strings.Contains(err.Error(), "Histogram") {
			t.Errorf("%v, want %q", err, test.says)
		}
	}
}

// Densities gives what Density gives one by one, wherever the gaps lie and whatever they share.
func TestDensitiesAreThoseOneByOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := boundedStacks().Draw(t, "stack")
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
			s = append(s, stack.Adds("n", tolerance("1 ±0.1 mm"), stack.Normal(3)))
		case 1:
			for i := range s { // all with an exact sum
				s[i].Distribution = []stack.Distribution{stack.Uniform(), stack.Triangular(), stack.Trapezoidal(0.3)}[i%3]
			}
		}
		l := law(t, s)
		gaps := []units.Length{l.Mean}
		for range rapid.IntRange(0, 8).Draw(t, "gaps") {
			part := big.NewRat(rapid.Int64Range(-70, 70).Draw(t, "part"), rapid.SampledFrom([]int64{10, 7, 64, 1 << 40}).Draw(t, "of"))
			gaps = append(gaps, l.Mean.Add(l.StdDev.MulRat(part)))
		}
		limit := rapid.SampledFrom(s).Draw(t, "limit of")
		gaps = append(gaps, s.WorstCase().Interval().Lo(), limit.Limits.Hi().MulRat(limit.Sensitivity.Rat(units.One)))
		all, err := l.Densities(gaps...)
		for i, gap := range gaps {
			one, oneErr := l.Density(gap)
			if oneErr != nil {
				if err == nil || err.Error() != oneErr.Error() {
					t.Fatalf("%s: %v together, %v alone", gap, err, oneErr)
				}
				return
			}
			if err == nil && all[i] != one {
				t.Fatalf("%s: %v together, %v alone", gap, all[i], one)
			}
		}
		if err != nil {
			t.Fatalf("%v, of none alone", err)
		}
	})
}

// A gap with so many digits that its sum is not worked out exactly takes nothing from the others.
func TestDensitiesBesideOneThatIsTooLong(t *testing.T) {
	var s stack.Stack
	for i := range int64(12) {
		width := units.Micrometre.OfInt(100 + 1<<i)
		s = append(s, stack.Adds(string(rune('a'+i)), units.PlusMinus(units.Length{}, width), stack.Uniform()))
	}
	l := law(t, s)
	plain := mm("0.5 mm")
	power := new(big.Int).Exp(big.NewInt(3), big.NewInt(190), nil)
	long := plain.Add(mm("1 mm").MulRat(new(big.Rat).SetFrac(big.NewInt(1), power)))
	alone, err := l.Density(plain)
	if err != nil || alone.Error > 1e-15*alone.Value {
		t.Fatal(alone, err)
	}
	other, err := l.Density(long)
	if err != nil || other.Error < 1e-14*other.Value {
		t.Fatalf("%v, %v: not too long for this test", other, err)
	}
	if all, err := l.Densities(plain, long); err != nil || all[0] != alone || all[1] != other {
		t.Errorf("together %v, %v; alone %v and %v", all, err, alone, other)
	}
	if none, err := l.Densities(); err != nil || len(none) != 0 {
		t.Errorf("of no gap: %v, %v", none, err)
	}
}

// The density integrates to differences of Below: by Simpson's rule over a piece without a
// corner, or near enough to one.
func TestDensityIntegratesToBelow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := boundedStacks().Draw(t, "stack")
		if rapid.Bool().Draw(t, "with a normal one") {
			s = append(s, stack.Adds("n", tolerance("1 ±0.1 mm"), stack.Normal(3)))
		}
		l := law(t, s)
		const pieces = 32
		sigma := l.StdDev.Float64(units.Millimetre)
		from := l.Mean.Float64(units.Millimetre) + sigma*float64(rapid.IntRange(-5, 4).Draw(t, "from, half deviations"))/2
		at := func(i int) units.Length {
			q, err := units.Millimetre.OfFloat64(from+sigma/2*float64(i)/pieces, 12)
			if err != nil {
				t.Fatal(err)
			}
			return q
		}
		width := at(pieces).Sub(at(0)).Float64(units.Millimetre)
		var sum, e, most, coarse float64
		for i := range pieces + 1 {
			d, err := l.Density(at(i))
			if errors.Is(err, stack.ErrUnusable) {
				t.Skip("no density")
			}
			if err != nil || d.Value < 0 || !(d.Error >= 0) {
				t.Fatal(d, err)
			}
			weight := 2.0
			switch {
			case i == 0 || i == pieces:
				weight = 1
			case i%2 == 1:
				weight = 4
			}
			sum += weight * d.Value
			e = max(e, d.Error)
			most = max(most, d.Value)
			switch {
			case i%2 == 1:
			case i == 0 || i == pieces:
				coarse += d.Value
			case i%4 == 2:
				coarse += 4 * d.Value
			default:
				coarse += 2 * d.Value
			}
		}
		sum *= width / pieces / 3
		coarse *= width / pieces / 3 * 2
		lo, hi := l.Below(at(0)), l.Below(at(pieces))
		if len(l.Stack) == 1 { // a step may lie between two points
			e += most / pieces
		}
		if off := math.Abs(hi.Value - lo.Value - sum); off > hi.Error+lo.Error+e*width+math.Abs(sum-coarse)+most*width/pieces/3 {
			t.Fatalf("the density integrates to %g, Below differs by %g", sum, hi.Value-lo.Value)
		}
	})
}

// A histogram sums to one, and each of its parts is a difference of Below; the trials of a
// simulation have the same parts.
func TestHistogram(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := boundedStacks().Draw(t, "stack")
		l := law(t, s)
		at, parts, err := l.Histogram()
		if err != nil || len(parts) != len(at)+1 || len(at) < 3 || len(at) > 80 {
			t.Fatalf("%d parts, %d edges, %v", len(parts), len(at), err)
		}
		o, err := s.Simulate(t.Context(), units.LengthInterval{}, stack.Simulation{Trials: 20_000, Seed: rapid.Uint64().Draw(t, "seed")})
		if err != nil {
			t.Fatal(err)
		}
		counted, err := o.Histogram(at...)
		if err != nil || len(counted) != len(parts) {
			t.Fatalf("%d counted, %v", len(counted), err)
		}
		sampled := false // a value may lie at an edge, or an ulp beside it
		for _, c := range s {
			sampled = sampled || strings.HasPrefix(c.Distribution.String(), "sample")
		}
		var sum, e, trials float64
		for i, p := range parts {
			sum, e, trials = sum+p.Value, e+p.Error, trials+counted[i].Value
			if off := math.Abs(p.Value - counted[i].Value); !sampled && off > p.Error+5.5*counted[i].Error+1e-4 {
				t.Errorf("bin %d: %v, trials have %v", i, p, counted[i])
			}
		}
		if math.Abs(sum-1) > e+1e-14 || math.Abs(trials-1) > 1e-12 {
			t.Errorf("parts sum to %.17g, trials to %.17g", sum, trials)
		}
	})
}

// By hand: a uniform size of 0.6 mm, and three measured shims.
func TestHistogramByHand(t *testing.T) {
	l := law(t, stack.Stack{stack.Adds("a", tolerance("1 ±0.3 mm"), stack.Uniform())})
	at, parts, err := l.Histogram(mm("0.6 mm"), mm("0.85 mm"), mm("1.15 mm"))
	for i, want := range []float64{0, 0.25, 0.5, 0.25} {
		if err != nil || len(parts) != 4 || math.Abs(parts[i].Value-want) > 1e-15 || !parts[i].Proven {
			t.Fatalf("%v, %v", parts, err)
		}
	}
	if len(at) != 3 || at[1] != 0.85 {
		t.Errorf("edges %v", at)
	}
	// Of 0.1, 0.2, 0.2, 0.3 mm, one below 0.2, two in 0.2..0.3 without its end, one at 0.3.
	_, parts, err = law(t, stack.Stack{stack.Adds("shim", tolerance("0.1..0.3 mm"), stack.Sample(mm("0.1 mm"), mm("0.2 mm"), mm("0.2 mm"), mm("0.3 mm")))}).Histogram(mm("0.2 mm"), mm("0.3 mm"))
	for i, want := range []float64{0.25, 0.5, 0.25} {
		if err != nil || parts[i].Value != want {
			t.Errorf("shims: %v, %v", parts, err)
		}
	}
	// Chosen edges: 0.4 of 0.1 mm is 0.04 mm, and 0.02 mm the largest step below it.
	at, parts, err = law(t, stack.Stack{stack.Adds("a", tolerance("1 ±0.3 mm"), stack.Normal(3))}).Histogram()
	if err != nil || at[0] != 0.6 || at[1] != 0.62 || at[len(at)-1] != 1.4 || len(parts) != 42 {
		t.Errorf("chosen %v, %v", at, err)
	}
	if _, _, err := l.Histogram(mm("1 mm"), mm("1 mm")); !errors.Is(err, measure.ErrOrder) {
		t.Errorf("equal edges: %v", err)
	}
	o := stack.Outcome{Trials: 4, Min: 1, Max: 5, BinStart: 2, BinWidth: 1, Bins: []int64{1, 2, 0, 1}} // 1..2, 2..3, 3..4, 4..5
	counted, err := o.Histogram(2, 2.5, 4.5)
	for i, want := range []float64{0.25, 0.25, 0.375, 0.125} {
		if err != nil || math.Abs(counted[i].Value-want) > 1e-15 || counted[i].Proven {
			t.Errorf("counted %v, %v", counted, err)
		}
	}
	// √(0.25×0.75/4) = 0.2165 is below 1/4; two trials lie in the bin that 2.5 cuts.
	if math.Abs(counted[1].Error-0.75) > 1e-15 || math.Abs(counted[0].Error-0.25) > 1e-15 {
		t.Errorf("errors %v", counted)
	}
	for _, bad := range []struct {
		o     stack.Outcome
		edges []float64
		kind  error
	}{{o, nil, measure.ErrEmpty}, {stack.Outcome{}, []float64{1}, measure.ErrEmpty}, {o, []float64{2, 1}, measure.ErrOrder}, {o, []float64{math.NaN()}, measure.ErrOrder}} {
		if _, err := bad.o.Histogram(bad.edges...); !errors.Is(err, bad.kind) {
			t.Errorf("%v: %v", bad.edges, err)
		}
	}
}
