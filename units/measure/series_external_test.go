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
	s := measure.Series[units.LengthDim](lengths("47.985 mm", "47.987 mm", "47.986 mm", "47.990 mm"))
	// Mean 47.987; deviations -2, 0, -1, 3 µm; squares 4 + 0 + 1 + 9 = 14; s² = 14/3.
	if !s.Mean().Equal(sized("47.987 mm")) {
		t.Errorf("mean %s", s.Mean())
	}
	if got := s.Variance(units.Micrometre); got.Cmp(ratio(14, 3)) != 0 {
		t.Errorf("variance %s", got)
	}
	// (-2·0 + 0·-1 + -1·3)/14
	if got, ok := s.Autocorrelation(); !ok || got.Cmp(ratio(-3, 14)) != 0 {
		t.Errorf("autocorrelation %s, %t", got, ok)
	}
	same := measure.Series[units.LengthDim](lengths("1 mm", "1 mm"))
	if _, ok := same.Autocorrelation(); ok || same.Variance(units.Millimetre).Sign() != 0 {
		t.Error("equal readings vary")
	}
}

func TestRepeat(t *testing.T) {
	in := measure.LengthInstrument{Name: "micrometer", Uncertainty: sized("0.004 mm")}
	r, err := in.Read("", lengths("47.985 mm", "47.987 mm", "47.986 mm", "47.990 mm")...)
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
	steady, err := in.Read("", lengths("5 mm", "5 mm", "5 mm")...)
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
		{"negative freedom", measure.LengthInstrument{Uncertainty: sized("1 mm"), Freedom: -1}, lengths("1 mm", "2 mm"), measure.ErrNotPositive},
		{"none", in, nil, measure.ErrEmpty},
		{"a negative one", in, lengths("1 mm", "-1 mm"), measure.ErrNotPositive},
		{"a negative one first", in, lengths("-1 mm", "1 mm"), measure.ErrNotPositive},
	} {
		if _, err := test.in.Read("", test.list...); !errors.Is(err, test.kind) {
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
		a, b := measure.Series[units.LengthDim](values), measure.Series[units.LengthDim](turned)
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
	// The quantile 1.9599639845.. rounded up.
	p95 := factor(t, "0.95", 0)
	if !p95.Equal(dec("1.959964")) {
		t.Errorf("95 %% is k = %s", p95)
	}
	// The quantile 1.644853627.. at 0.95 rounded up: 90 % between two such limits.
	if k := factor(t, "0.90", 0); !k.Equal(dec("1.644854")) {
		t.Errorf("a risk of 5 %% is k = %s", k)
	}
	// JCGM 100:2008, table G.2: t of 95 % is 12.71 for 1 degree of freedom, 2.26 for 9; and
	// the t of a million is the normal quantile to six places.
	for freedom, want := range map[int]float64{1: 12.71, 9: 2.26, 2_000_000: 1.959964} {
		if k := factor(t, "0.95", freedom).InexactFloat64(); math.Abs(k-want) > 0.005 || freedom > 9 && k != want {
			t.Errorf("95 %% with %d degrees of freedom is k = %v, want %v", freedom, k, want)
		}
	}
	r := by(t, "m", "47.986 mm", "0.004 mm")
	if got := r.At(dec("3")); !got.Equal(within("47.986 ±0.006 mm")) {
		t.Errorf("at k = 3: %s", got)
	}
	if got := r.At(dec("2")); !got.Equal(r.Interval()) {
		t.Errorf("at k = 2: %s", got)
	}
	// 0.004/2 × 1.959964 = 0.003919928, up to the tenth of a nanometre.
	if got := r.At(p95); !got.Equal(within("47.986 ±0.003920 mm")) {
		t.Errorf("at 95 %%: %s", got)
	}
	// t of one degree of freedom is cot(π·miss/2), miss the probability outside:
	// erfc(10/√2) = 1.524e-23, so about 2/(π·1.524e-23) = 4.177e22 at k = 10.
	few := measure.LengthInstrument{Name: "m", Uncertainty: sized("2 mm"), Freedom: 1}
	far := good[units.LengthDim](t)(few.Read("", sized("1 m")))
	if got := far.At(dec("10")).Radius().Float64(units.Millimetre); math.Abs(got/4.177e22-1) > 1e-3 {
		t.Errorf("k = 10 with one degree of freedom: %g", got)
	}
	bracket := given("0.025..0.038 mm")
	if got := bracket.At(dec("3")); !got.Equal(bracket.Interval()) {
		t.Errorf("a bracket at k = 3: %s", got)
	}
	for _, k := range []string{"0", "-2", "10.1"} {
		if got := bracket.At(dec(k)); !got.IsEmpty() {
			t.Errorf("at k = %s: %s", k, got)
		}
	}
	for _, p := range []string{"0", "1", "95", "-0.5"} {
		if _, err := measure.CoverageFactor(dec(p), 0); !errors.Is(err, measure.ErrProbability) {
			t.Errorf("p = %s: %v", p, err)
		}
	}
	if _, err := measure.CoverageFactor(dec("0.95"), -1); !errors.Is(err, measure.ErrNotPositive) {
		t.Errorf("negative degrees of freedom: %v", err)
	}
}
