package clearance_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

func lengths(texts ...string) []units.Length {
	var list []units.Length
	for _, text := range texts {
		list = append(list, mm(text))
	}
	return list
}

func dec(text string) decimal.Decimal { return decimal.RequireFromString(text) }

func TestSeries(t *testing.T) {
	s, err := clearance.NewSeries(lengths("47.985 mm", "47.987 mm", "47.986 mm", "47.990 mm")...)
	if err != nil {
		t.Fatal(err)
	}
	// Mean 47.987; deviations -2, 0, -1, 3 µm; squares 4 + 0 + 1 + 9 = 14; s² = 14/3.
	if !s.Mean().Equal(mm("47.987 mm")) {
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
		tie, err := clearance.NewSeries(mm("0 mm"), mm(text), mm(text).MulRat(ratio(1, 2)))
		if err != nil {
			t.Fatal(err)
		}
		if got := tie.Spread(units.Millimetre, 0); !got.Equal(dec(want)) {
			t.Errorf("spread of 0, %s and its half: %s, want %s", text, got, want)
		}
	}
	same, err := clearance.NewSeries(lengths("1 mm", "1 mm")...)
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := same.Autocorrelation(); ok || same.Variance(units.Millimetre).Sign() != 0 || !same.Spread(units.Millimetre, 3).IsZero() {
		t.Error("equal readings vary")
	}
	if _, err := clearance.NewSeries(mm("1 mm")); !errors.Is(err, clearance.ErrTooFew) {
		t.Errorf("one reading: %v", err)
	}
}

func TestRepeat(t *testing.T) {
	in := clearance.LengthInstrument{Name: "micrometer", Uncertainty: mm("0.004 mm")}
	r, err := in.Repeat(lengths("47.985 mm", "47.987 mm", "47.986 mm", "47.990 mm")...)
	if err != nil {
		t.Fatal(err)
	}
	// In µm: s²/n = 14/12, (U/2)² = 4, u² = 5.1667, 2u = 4.5461 up to 4.547 (in nm
	// 4546.06.. up to 4547). ν = 3·(5.1667/1.16667)² = 58.8, cut to 58.
	if !r.Bracket().Equal(span("47.987 mm")) || !r.Expanded().Equal(mm("0.004547 mm")) || r.Freedom() != 58 {
		t.Errorf("%s, expanded %s, freedom %d", r, r.Expanded(), r.Freedom())
	}
	// t for 95.45 % and 58 degrees lies above 2, so the interval is wider than k = 2.
	if u := r.Interval().Radius(); !mm("0.004547 mm").Less(u) || !u.Less(mm("0.0048 mm")) {
		t.Errorf("interval ±%s", u)
	}
	if got, want := r.How(units.Millimetre), "micrometer, mean 47.987 mm of 4 readings"; got != want {
		t.Errorf("how is %q, want %q", got, want)
	}
	steady, err := in.Repeat(lengths("5 mm", "5 mm", "5 mm")...)
	if err != nil || steady.Freedom() != 0 || !steady.Interval().Equal(span("5 ±0.004 mm")) {
		t.Errorf("equal readings: %s, %v", steady, err)
	}
	in.Freedom = 4
	// ν = 5.1667²/(1.16667²/3 + 4²/4) = 26.694/4.4537 = 5.99.
	if r, err = in.Repeat(lengths("47.985 mm", "47.987 mm", "47.986 mm", "47.990 mm")...); err != nil || r.Freedom() != 5 {
		t.Errorf("with 4 degrees of freedom behind the instrument: %d, %v", r.Freedom(), err)
	}
	for _, test := range []struct {
		name string
		in   clearance.LengthInstrument
		list []units.Length
		kind error
	}{
		{"no uncertainty", clearance.LengthInstrument{}, lengths("1 mm", "2 mm"), clearance.ErrNoUncertainty},
		{"negative freedom", clearance.LengthInstrument{Uncertainty: mm("1 mm"), Freedom: -1}, lengths("1 mm", "2 mm"), clearance.ErrTooFew},
		{"one", in, lengths("1 mm"), clearance.ErrTooFew},
		{"a negative one", in, lengths("1 mm", "-1 mm"), clearance.ErrNotPositive},
	} {
		if _, err := test.in.Repeat(test.list...); !errors.Is(err, test.kind) {
			t.Errorf("%s: %v", test.name, err)
		}
	}
}

// Readings with limited degrees of freedom keep them in a fit: by hand, with
// u = 2 and 3 µm, ν = (4 + 9)²/(4²/5 + 9²/10) = 169/11.3 = 14.96.
func TestEffectiveFreedom(t *testing.T) {
	read := func(uncertainty string, freedom int, value string) clearance.LengthReading {
		in := clearance.LengthInstrument{Name: "m", Uncertainty: mm(uncertainty), Freedom: freedom}
		return reading[units.LengthDim](t)(in.Read(mm(value)))
	}
	r := clearance.PinFit(read("0.004 mm", 5, "22.05 mm"), read("0.006 mm", 10, "22.00 mm")).Reading(clearance.ByKind)
	if r.Freedom() != 14 {
		t.Errorf("%d degrees of freedom", r.Freedom())
	}
	// 2√13 = 7.2111.. µm up to 7.212, and t(95.45 %, 14) = 2.195: ± 7.915 to 7.92.
	if u := r.Interval().Radius(); !mm("0.00791 mm").Less(u) || !u.Less(mm("0.00793 mm")) {
		t.Errorf("±%s", u)
	}
	text := clearance.PinFit(read("0.004 mm", 5, "22.05 mm"), read("0.006 mm", 10, "22.00 mm")).Working(clearance.ByKind, units.Millimetre).Text()
	if !strings.Contains(text, "14 effective degrees of freedom") {
		t.Errorf("working:\n%s", text)
	}
	unlimited := clearance.PinFit(read("0.004 mm", 0, "22.05 mm"), read("0.006 mm", 2_000_000, "22.00 mm")).Reading(clearance.ByKind)
	if unlimited.Freedom() != 0 || !unlimited.Interval().Radius().Equal(mm("0.007212 mm")) {
		t.Errorf("unlimited: %s", unlimited)
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
		a, err1 := clearance.NewSeries(values...)
		b, err2 := clearance.NewSeries(turned...)
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
	var zero clearance.Coverage
	if got := zero.String(); got != "k = 2 (95.45 %)" {
		t.Errorf("the zero Coverage is %q", got)
	}
	if got := zero.Factor(0); !got.Equal(dec("2")) {
		t.Errorf("its factor is %s", got)
	}
	p95, err := clearance.CoverageProbability(dec("0.95"))
	if err != nil {
		t.Fatal(err)
	}
	// The quantile 1.9599639845.. rounded up.
	if got := p95.Factor(0); !got.Equal(dec("1.959964")) {
		t.Errorf("95 %% is k = %s", got)
	}
	k3, err := clearance.CoverageFactor(dec("3"))
	if err != nil {
		t.Fatal(err)
	}
	r := read(t, "m", "47.986 mm", "0.004 mm")
	if got := r.At(k3); !got.Equal(span("47.986 ±0.006 mm")) {
		t.Errorf("at k = 3: %s", got)
	}
	if got := r.At(zero); !got.Equal(r.Interval()) {
		t.Errorf("at k = 2: %s", got)
	}
	// 0.004/2 × 1.959964 = 0.003919928, up to the nanometre.
	if got := r.At(p95); !got.Equal(span("47.986 ±0.003920 mm")) {
		t.Errorf("at 95 %%: %s", got)
	}
	// t of one degree of freedom is cot(π·miss/2), miss the probability outside:
	// erfc(10/√2) = 1.524e-23, so about 2/(π·1.524e-23) = 4.177e22 at k = 10.
	k10, err := clearance.CoverageFactor(dec("10"))
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
		if _, err := clearance.CoverageFactor(dec(k)); !errors.Is(err, clearance.ErrCoverage) {
			t.Errorf("k = %s: %v", k, err)
		}
	}
	for _, p := range []string{"0", "1", "95", "-0.5"} {
		if _, err := clearance.CoverageProbability(dec(p)); !errors.Is(err, clearance.ErrCoverage) {
			t.Errorf("p = %s: %v", p, err)
		}
	}
}
