package measure_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func lengths(texts ...string) []units.Length {
	var list []units.Length
	for _, text := range texts {
		list = append(list, sized(text))
	}
	return list
}

func TestSeries(t *testing.T) {
	s, err := measure.NewSeries(lengths("47.985 mm", "47.987 mm", "47.986 mm", "47.990 mm")...)
	if err != nil {
		t.Fatal(err)
	}
	// Mean 47.987; deviations -2, 0, -1, 3 µm; squares 4 + 0 + 1 + 9 = 14; s² = 14/3.
	if !s.Mean().Equal(sized("47.987 mm")) {
		t.Errorf("mean %s", s.Mean())
	}
	if got := s.Variance(units.Micrometre); got.Cmp(ratio(14, 3)) != 0 {
		t.Errorf("variance %s", got)
	}
	// √(14/3) = 2.16024689946928694...
	if got := s.Spread(units.Micrometre, 12); !got.Equal(dec("2.160246899469")) {
		t.Errorf("spread %s", got)
	}
	// (-2·0 + 0·-1 + -1·3)/14
	if got, ok := s.Autocorrelation(); !ok || got.Cmp(ratio(-3, 14)) != 0 {
		t.Errorf("autocorrelation %s, %t", got, ok)
	}
	// 0, 1 and 0.5 have s = 0.5 exactly, half-way between whole numbers, which goes to
	// the even 0; 0, 3 and 1.5 have 1.5, which goes to 2.
	for text, want := range map[string]string{"1 mm": "0", "3 mm": "2"} {
		tie, err := measure.NewSeries(sized("0 mm"), sized(text), sized(text).MulRat(ratio(1, 2)))
		if err != nil {
			t.Fatal(err)
		}
		if got := tie.Spread(units.Millimetre, 0); !got.Equal(dec(want)) {
			t.Errorf("spread of 0, %s and its half: %s, want %s", text, got, want)
		}
	}
	same, err := measure.NewSeries(lengths("1 mm", "1 mm")...)
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := same.Autocorrelation(); ok || same.Variance(units.Millimetre).Sign() != 0 || !same.Spread(units.Millimetre, 3).IsZero() {
		t.Error("equal readings vary")
	}
	if _, err := measure.NewSeries(sized("1 mm")); !errors.Is(err, measure.ErrTooFew) {
		t.Errorf("one reading: %v", err)
	}
}

func TestRepeat(t *testing.T) {
	in := measure.LengthInstrument{Name: "micrometer", Uncertainty: sized("0.004 mm")}
	r, err := in.Repeat("", lengths("47.985 mm", "47.987 mm", "47.986 mm", "47.990 mm")...)
	if err != nil {
		t.Fatal(err)
	}
	// In µm: s²/n = 14/12, expanded by t(95.45 %, 3) = 3.30682.. of JCGM 100:2008, table G.2
	// (3.31): 3.5717..; beside the instrument's 4: √(3.5717² + 4²) = 5.3626..
	if u := r.Interval().Radius(); !r.Bracket().Equal(within("47.987 mm")) || u.Less(sized("0.00536 mm")) || sized("0.00537 mm").Less(u) {
		t.Errorf("%s, ±%s", r, u)
	}
	if got, want := r.How(units.Millimetre), "micrometer, mean 47.987 mm of 4 readings ±0.0053627 mm (95.45 %)"; got != want {
		t.Errorf("how is %q, want %q", got, want)
	}
	steady, err := in.Repeat("", lengths("5 mm", "5 mm", "5 mm")...)
	if err != nil || !steady.Interval().Equal(within("5 ±0.004 mm")) {
		t.Errorf("equal readings: %s, %v", steady, err)
	}
	for _, test := range []struct {
		name string
		in   measure.LengthInstrument
		list []units.Length
		kind error
	}{
		{"no uncertainty", measure.LengthInstrument{}, lengths("1 mm", "2 mm"), measure.ErrNoUncertainty},
		{"negative freedom", measure.LengthInstrument{Uncertainty: sized("1 mm"), Freedom: -1}, lengths("1 mm", "2 mm"), measure.ErrTooFew},
		{"one", in, lengths("1 mm"), measure.ErrTooFew},
		{"a negative one", in, lengths("1 mm", "-1 mm"), measure.ErrNotPositive},
	} {
		if _, err := test.in.Repeat("", test.list...); !errors.Is(err, test.kind) {
			t.Errorf("%s: %v", test.name, err)
		}
	}
}

// The order of readings changes nothing but their autocorrelation, and no size of
// the unit changes the mean.
func TestSeriesIsUnordered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := make([]units.Length, rapid.IntRange(2, 9).Draw(t, "n"))
		for i := range values {
			values[i] = drawLength(t, "value", 40_000, 40_020)
		}
		turned := rapid.Permutation(values).Draw(t, "order")
		a, err1 := measure.NewSeries(values...)
		b, err2 := measure.NewSeries(turned...)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if !a.Mean().Equal(b.Mean()) || a.Variance(units.Inch).Cmp(b.Variance(units.Inch)) != 0 {
			t.Fatalf("%s and %s", a.Mean(), b.Mean())
		}
		lo, hi := units.Min(values[0], values[1:]...), units.Max(values[0], values[1:]...)
		if m := a.Mean(); m.Less(lo) || hi.Less(m) {
			t.Fatalf("mean %s outside %s..%s", m, lo, hi)
		}
	})
}

func TestCoverage(t *testing.T) {
	var zero measure.Coverage
	if got := zero.String(); got != "k = 2 (95.45 %)" {
		t.Errorf("the zero Coverage is %q", got)
	}
	if got := zero.Factor(0); !got.Equal(dec("2")) {
		t.Errorf("its factor is %s", got)
	}
	p95, err := measure.CoverageProbability(dec("0.95"))
	if err != nil {
		t.Fatal(err)
	}
	// The quantile 1.9599639845.. rounded up.
	if got := p95.Factor(0); !got.Equal(dec("1.959964")) {
		t.Errorf("95 %% is k = %s", got)
	}
	k3, err := measure.CoverageFactor(dec("3"))
	if err != nil {
		t.Fatal(err)
	}
	r := by(t, "m", "47.986 mm", "0.004 mm")
	if got := r.At(k3); !got.Equal(within("47.986 ±0.006 mm")) {
		t.Errorf("at k = 3: %s", got)
	}
	if got := r.At(zero); !got.Equal(r.Interval()) {
		t.Errorf("at k = 2: %s", got)
	}
	// 0.004/2 × 1.959964 = 0.003919928, up to the nanometre.
	if got := r.At(p95); !got.Equal(within("47.986 ±0.003920 mm")) {
		t.Errorf("at 95 %%: %s", got)
	}
	// t of one degree of freedom is cot(π·miss/2), miss the probability outside:
	// erfc(10/√2) = 1.524e-23, so about 2/(π·1.524e-23) = 4.177e22 at k = 10.
	k10, err := measure.CoverageFactor(dec("10"))
	if err != nil {
		t.Fatal(err)
	}
	if got := k10.Factor(1).InexactFloat64(); math.Abs(got/4.177e22-1) > 1e-3 {
		t.Errorf("k = 10 with one degree of freedom: %g", got)
	}
	bracket := given("0.025..0.038 mm")
	if got := bracket.At(k3); !got.Equal(bracket.Interval()) {
		t.Errorf("a bracket at k = 3: %s", got)
	}
	for _, k := range []string{"0", "-2", "10.1"} {
		if _, err := measure.CoverageFactor(dec(k)); !errors.Is(err, measure.ErrCoverage) {
			t.Errorf("k = %s: %v", k, err)
		}
	}
	for _, p := range []string{"0", "1", "95", "-0.5"} {
		if _, err := measure.CoverageProbability(dec(p)); !errors.Is(err, measure.ErrCoverage) {
			t.Errorf("p = %s: %v", p, err)
		}
	}
}
