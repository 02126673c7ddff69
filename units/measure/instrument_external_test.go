package measure_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// TestSplit: 5² - 4² = 3², whatever the unit, and a repeatability that is the whole leaves
// nothing.
func TestSplit(t *testing.T) {
	for _, want := range []struct{ whole, repeats, common string }{
		{"0.005 mm", "0.004 mm", "0.003 mm"},
		{"13 in", "5 in", "12 in"},
		{"0.005 mm", "0.005 mm", "0 mm"},
		{"0.005 mm", "0 mm", "0.005 mm"},
	} {
		got, err := measure.Split(units.MustParseLength(want.whole), units.MustParseLength(want.repeats))
		if err != nil || !got.Equal(units.MustParseLength(want.common)) {
			t.Errorf("%s of which %s repeats: %s, %v; want %s", want.whole, want.repeats, got, err, want.common)
		}
	}
	if _, err := measure.Split(units.MustParseLength("0.004 mm"), units.MustParseLength("0.0041 mm")); !errors.Is(err, measure.ErrOrder) {
		t.Errorf("a part above the whole: %v", err)
	}
}

// TestCheck: what an instrument may not state is refused with what to give instead, and what
// lies just beside it is taken.
func TestCheck(t *testing.T) {
	fine := measure.LengthInstrument{Name: "M", Uncertainty: mm("0.003")}
	stations := func(c measure.Claim) measure.LengthReading {
		s, err := measure.NewStations([][]measure.LengthReading{{read(t, fine, "1", "50"), read(t, fine, "2", "50.01")}})
		if err != nil {
			t.Fatal(err)
		}
		return s.Find(c)
	}
	for name, c := range map[string]struct {
		change func(*measure.LengthInstrument)
		kind   error
		says   string
	}{
		"one figure":         {func(in *measure.LengthInstrument) {}, nil, ""},
		"nothing":            {func(in *measure.LengthInstrument) { in.Uncertainty = mm("0") }, measure.ErrNoUncertainty, "give its expanded uncertainty (k = 2), as its certificate states it"},
		"a graduation alone": {func(in *measure.LengthInstrument) { in.Uncertainty, in.Graduation = mm("0"), mm("0.01") }, measure.ErrNoUncertainty, "; the graduation alone accounts for half of 0.01 mm"},
		"both parts": {func(in *measure.LengthInstrument) {
			in.Uncertainty, in.Common, in.Repeats = mm("0"), mm("0.002"), mm("0.001")
		}, nil, ""},
		"the common part":             {func(in *measure.LengthInstrument) { in.Uncertainty, in.Common = mm("0"), mm("0.002") }, nil, ""},
		"the repeatability":           {func(in *measure.LengthInstrument) { in.Uncertainty, in.Repeats = mm("0"), mm("0.002") }, nil, ""},
		"the whole and a common part": {func(in *measure.LengthInstrument) { in.Common = mm("0.002") }, measure.ErrNoUncertainty, "an uncertainty beside its parts"},
		"the whole and a repeat":      {func(in *measure.LengthInstrument) { in.Repeats = mm("0.002") }, measure.ErrNoUncertainty, "an uncertainty beside its parts"},
		"a limit of error":            {func(in *measure.LengthInstrument) { in.Uncertainty, in.LimitOfError = mm("0"), mm("0.01") }, nil, ""},
		"a whole below zero":          {func(in *measure.LengthInstrument) { in.Uncertainty = mm("-0.003") }, measure.ErrNotPositive, "M, uncertainty"},
		"a common part below zero":    {func(in *measure.LengthInstrument) { in.Common = mm("-0.003") }, measure.ErrNotPositive, "M, common part"},
		"a repeat below zero":         {func(in *measure.LengthInstrument) { in.Repeats = mm("-0.003") }, measure.ErrNotPositive, "M, repeatability"},
		"a limit below zero":          {func(in *measure.LengthInstrument) { in.LimitOfError = mm("-0.003") }, measure.ErrNotPositive, "M, limit of error"},
		"a graduation below zero":     {func(in *measure.LengthInstrument) { in.Graduation = mm("-0.003") }, measure.ErrNotPositive, "M, graduation"},
		"freedom below zero":          {func(in *measure.LengthInstrument) { in.Freedom = -1 }, measure.ErrNotPositive, "M, degrees of freedom"},
		"few degrees of freedom":      {func(in *measure.LengthInstrument) { in.Freedom = 1 }, nil, ""},
		"k below zero":                {func(in *measure.LengthInstrument) { in.K = decimal.NewFromInt(-2) }, measure.ErrProbability, "give one above zero"},
		"k of 3":                      {func(in *measure.LengthInstrument) { in.K = decimal.NewFromInt(3) }, nil, ""},
		"k above 3":                   {func(in *measure.LengthInstrument) { in.K = decimal.New(301, -2) }, measure.ErrProbability, "a factor above 3 comes from few degrees of freedom"},
		"k above 3, explained":        {func(in *measure.LengthInstrument) { in.K, in.Freedom = decimal.New(331, -2), 3 }, nil, ""},
		"set on a size":               {func(in *measure.LengthInstrument) { in.SetOn = measure.Given(span("50 ±0.001"), "a ring") }, nil, ""},
		"set on what has no end":      {func(in *measure.LengthInstrument) { in.SetOn = measure.Given(units.AtLeast(mm("50")), "a blade") }, measure.ErrNotMeasured, "it lacks a bound: >= 50 mm"},
		"set on the largest":          {func(in *measure.LengthInstrument) { in.SetOn = stations(measure.Largest) }, measure.ErrNotMeasured, "it is what several stations show"},
		"set on the mean":             {func(in *measure.LengthInstrument) { in.SetOn = stations(measure.MeanSize) }, nil, ""},
	} {
		in := fine
		c.change(&in)
		if err := in.Check(); !errors.Is(err, c.kind) || c.kind != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %v saying %q", name, err, c.kind, c.says)
		}
	}
}

// TestFactor: an uncertainty of 0.003 mm at k = 3 is one of 0.002 mm at k = 2, and of a
// factor that comes from 3 degrees of freedom, 3.31 (JCGM 100:2008, table G.2, for 95.45 %),
// it stays as it is.
func TestFactor(t *testing.T) {
	for _, c := range []struct {
		k, freedom int64 // k in hundredths
		least, u   string
	}{{0, 0, "0.003", "0.003"}, {200, 0, "0.003", "0.003"}, {300, 0, "0.002", "0.002"}, {100, 0, "0.006", "0.006"}, {331, 3, "0.002995", "0.003005"}} {
		in := measure.LengthInstrument{Name: "M", Uncertainty: mm("0.003"), K: decimal.New(c.k, -2), Freedom: int(c.freedom)}
		r := read(t, in, "a", "10")
		if got := r.Interval().Radius(); got.Less(mm(c.least)) || mm(c.u).Less(got) {
			t.Errorf("k = %d/100, %d degrees of freedom: U = %s, want %s to %s mm", c.k, c.freedom, got, c.least, c.u)
		}
	}
}

// From a million degrees of freedom on an uncertainty is that of a normal distribution: three
// standard deviations are 1.5 times two. With one degree less Student's t is larger, by 3 in a
// million, and the uncertainty is rounded up.
func TestFreedomThatIsUnlimited(t *testing.T) {
	for freedom, want := range map[int]string{1_000_000: "9.997..10.003", 999_999: "9.9969999..10.0030001"} {
		r := read(t, measure.LengthInstrument{Name: "gauge", Uncertainty: mm("0.002"), Freedom: freedom}, "bore", "10")
		if got := r.At(dec("3")); !got.Equal(span(want)) {
			t.Errorf("%d degrees of freedom: %s, want %s", freedom, got, want)
		}
	}
}

// The travel of a dial is one look at it, and no mean.
func TestTravelIsNoMean(t *testing.T) {
	in := measure.LengthInstrument{Name: "dial", Uncertainty: mm("0.01")}
	r, err := in.Travel("end play", mm("0.06"), mm("0.33"))
	if err != nil {
		t.Fatal(err)
	}
	s := measure.Sum[units.LengthDim]{Symbol: "x", Terms: []measure.Term[units.LengthDim]{measure.Plus("x", "end play", r)}}
	if text := r.How(units.Millimetre) + s.Working(units.Millimetre).Text(); strings.Contains(text, "mean") {
		t.Error(text)
	}
	form, err := json.Marshal(r)
	if err != nil || !strings.Contains(string(form), `"count":0`) {
		t.Errorf("%s, %v", form, err)
	}
}
