package measure_test

import (
	"fmt"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func mm(s string) units.Length           { return units.MustParseLength(s + " mm") }
func span(s string) units.LengthInterval { return units.MustParseLengthInterval(s + " mm") }

// read returns what the instrument reads; a fault of the test's own ends it.
func read(t rapid.TB, in measure.LengthInstrument, at, value string) measure.LengthReading {
	t.Helper()
	r, err := in.Read(at, mm(value))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// expanded fails unless the uncertainty at k = 2 is √square, in micrometres and
// rounded up by at most a tenth of a nanometre.
func expanded(t *testing.T, r measure.LengthReading, square *big.Rat) {
	t.Helper()
	u := r.Expanded().Rat(units.Micrometre)
	above := new(big.Rat).Mul(u, u)
	less := new(big.Rat).Sub(u, big.NewRat(1, 10_000))
	below := new(big.Rat).Mul(less, less)
	if above.Cmp(square) < 0 || less.Sign() > 0 && below.Cmp(square) >= 0 {
		t.Errorf("U = %s µm, want the root of %s rounded up", u.FloatString(5), square.FloatString(4))
	}
}

// The instruments of the worked cases: a micrometer, a bore gauge set in it, a ball
// micrometer. Their figures are chosen so that every part shows in the sum.
func instruments(t *testing.T) (m, g, b measure.LengthInstrument) {
	m = measure.LengthInstrument{Name: "micrometer", Common: mm("0.003"), Repeats: mm("0.001")}
	g = measure.LengthInstrument{Name: "bore gauge", Common: mm("0.001"), Repeats: mm("0.0015"), SetOn: read(t, m, "setting of the bore gauge", "60")}
	b = measure.LengthInstrument{Name: "ball micrometer", Common: mm("0.001"), Repeats: mm("0.0005")}
	return m, g, b
}

func TestGaugeSetInTheMicrometer(t *testing.T) {
	m, g, b := instruments(t)
	bearing := measure.Sum[units.LengthDim]{Name: "main 1, running clearance", Symbol: "C", Terms: []measure.Term[units.LengthDim]{
		measure.Plus("D", "housing bore", read(t, g, "main 1, bore", "60.012")),
		measure.Minus("t1", "upper wall", read(t, b, "main 1, upper", "2.001")),
		measure.Minus("t2", "lower wall", read(t, b, "main 1, lower", "2.002")),
		measure.Minus("d", "journal", read(t, m, "main 1, journal", "55.971")),
	}}
	c := bearing.Reading()
	if got, want := c.Bracket(), span("0.038"); !got.Equal(want) {
		t.Errorf("C = %s, want %s", got, want)
	}
	// The micrometer's common part cancels (+1 - 1). Left, in µm: its repeat in the
	// setting 1 and the gauge's 1.5; reading the bore 1.5 and the gauge's common 1;
	// the ball micrometer's common twice, 2, and its repeats 0.5 and 0.5; the
	// micrometer's repeat 1. 1 + 2.25 + 2.25 + 1 + 4 + 0.25 + 0.25 + 1 = 12.
	expanded(t, c, big.NewRat(12, 1))
	if got := bearing.Interval(); !got.Equal(c.Interval()) {
		t.Errorf("Interval is %s, and that of the reading %s", got, c.Interval())
	}
}

func TestOneMicrometerThreeTimes(t *testing.T) {
	m := measure.LengthInstrument{Name: "micrometer", Uncertainty: mm("0.003")}
	g := measure.LengthInstrument{Name: "bore gauge", Uncertainty: mm("0.004")}
	bearing := measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{
		measure.Plus("D", "housing bore", read(t, g, "bore", "60.012")),
		measure.Minus("t1", "upper wall", read(t, m, "upper", "2.001")),
		measure.Minus("t2", "lower wall", read(t, m, "lower", "2.002")),
		measure.Minus("d", "journal", read(t, m, "journal", "55.971")),
	}}
	// 3 + 3 + 3 = 9 at the worst, and 4: √(81 + 16).
	expanded(t, bearing.Reading(), big.NewRat(97, 1))
	if got := bearing.Interval(); !got.Equal(bearing.Reading().Interval()) {
		t.Errorf("Interval is %s, and that of the reading %s", got, bearing.Reading().Interval())
	}
	bearing.AtWorst = true
	expanded(t, bearing.Reading(), big.NewRat(13*13, 1))
}

func TestBushLessShaft(t *testing.T) {
	m, g, _ := instruments(t)
	bush := measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{
		measure.Plus("D", "bush", read(t, g, "bush", "20.021")),
		measure.Minus("d", "shaft", read(t, m, "shaft", "19.995")),
	}}
	// Setting 1 and 1.5, reading 1.5 and 1, the shaft's repeat 1.
	expanded(t, bush.Reading(), big.NewRat(75, 10))
}

// JCGM 100:2008, 5.2.2, example: ten resistors of 1000 Ω, each compared with
// one standard of u = 100 mΩ, the comparison's own uncertainty negligible, in
// series: u = 1 Ω, and not 0.32 Ω. Here a millimetre stands for an ohm.
func TestTenResistors(t *testing.T) {
	standard := measure.LengthInstrument{Name: "standard", Common: mm("0.2")}
	var series measure.Sum[units.LengthDim]
	for i := range 10 {
		series.Terms = append(series.Terms, measure.Plus("R", "resistor", read(t, standard, fmt.Sprint("resistor ", i+1), "1000")))
	}
	r := series.Reading()
	if got, want := r.Expanded(), mm("2"); !got.Equal(want) {
		t.Errorf("U = %s, want %s: u = 1 at k = 2", got, want)
	}
}

// A gauge set on the journal itself shows the clearance: the journal's micrometer
// drops out with its repeat.
func TestGaugeSetOnTheJournal(t *testing.T) {
	m := measure.LengthInstrument{Name: "micrometer", Common: mm("0.004"), Repeats: mm("0.001")}
	journal := read(t, m, "journal", "47.986")
	gauge := measure.LengthInstrument{Name: "comparator", Repeats: mm("0.0008"), SetOn: journal}
	bore, err := gauge.Indicate("bore", mm("0.044"))
	if err != nil {
		t.Fatal(err)
	}
	c := measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{
		measure.Plus("B", "bore with shells", bore), measure.Minus("d", "journal", journal),
	}}
	r := c.Reading()
	if got, want := r.Bracket(), span("0.044"); !got.Equal(want) {
		t.Errorf("C = %s, want %s", got, want)
	}
	expanded(t, r, big.NewRat(128, 100)) // 0.8 in setting and 0.8 in reading
}

func TestOneActIsOneError(t *testing.T) {
	for name, in := range map[string]measure.LengthInstrument{
		"not split": {Name: "micrometer", Uncertainty: mm("0.003")},
		"split":     {Name: "micrometer", Common: mm("0.003"), Repeats: mm("0.001")},
		"limit":     {Name: "micrometer", LimitOfError: mm("0.004")},
	} {
		d := read(t, in, "journal", "47.986")
		nothing := measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{measure.Plus("d", "journal", d), measure.Minus("d", "journal", d)}}
		if got, want := nothing.Interval(), span("0"); !got.Equal(want) {
			t.Errorf("%s: d - d = %s, want %s", name, got, want)
		}
		again := read(t, in, "journal", "47.987")
		other := measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{measure.Plus("d", "journal", d), measure.Minus("d", "journal", again)}}
		if got := other.Interval(); got.IsPoint() {
			t.Errorf("%s: two readings called the same, that saw different sizes, cancel: %s", name, got)
		}
	}
}

func TestSilence(t *testing.T) {
	m := measure.LengthInstrument{Name: "micrometer", Uncertainty: mm("0.003")}
	missing := measure.Sum[units.LengthDim]{Name: "C", Terms: []measure.Term[units.LengthDim]{
		measure.Plus("D", "bore", measure.LengthReading{}), measure.Minus("d", "journal", read(t, m, "journal", "47.986")),
	}}
	for _, tolerance := range []units.LengthInterval{span("0.02..0.05"), units.AtLeast(mm("-1000")), {}} {
		if v := measure.Judge(missing.Interval(), tolerance); v != measure.Undecided {
			t.Errorf("a sum without its bore is %s against %s", v, tolerance)
		}
	}
	if got := missing.Missing(); len(got) != 1 || got[0] != "bore" {
		t.Errorf("missing are %q, want the bore alone", got)
	}
	var none measure.Sum[units.LengthDim]
	if v := measure.Judge(none.Interval(), units.AtLeast(mm("-1000"))); v != measure.Undecided {
		t.Errorf("a sum of nothing is %s", v)
	}
}

func TestConditions(t *testing.T) {
	tight := measure.Condition{What: "bolts", Is: "tightened to 60 N·m"}
	loose := measure.Condition{What: "bolts", Is: "loose"}
	m := measure.LengthInstrument{Name: "micrometer", Uncertainty: mm("0.003")}
	g := measure.LengthInstrument{Name: "bore gauge", Uncertainty: mm("0.002")}
	bore, journal := read(t, g, "bore", "48.030"), read(t, m, "journal", "47.990")
	limits := span("0.02..0.06")
	for _, c := range []struct {
		name string
		has  []measure.Condition
		want measure.Verdict
	}{
		{"stated", []measure.Condition{tight}, measure.Conforming},
		{"not stated", nil, measure.Undecided},
		{"otherwise", []measure.Condition{loose}, measure.Undecided},
		{"corrected later", []measure.Condition{loose, tight}, measure.Conforming},
	} {
		s := measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{
			measure.Plus("D", "bore", bore.With(c.has...)), measure.Minus("d", "journal", journal),
		}}
		s.Terms[0].Needs = []measure.Condition{tight}
		if v := measure.Judge(s.Interval(), limits); v != c.want {
			t.Errorf("%s: %s, want %s", c.name, v, c.want)
		}
		r := s.Reading()
		if v := measure.Judge(r.Interval(), limits); v != c.want {
			t.Errorf("%s: the reading is %s, want %s", c.name, v, c.want)
		}
		if (r.Problem() == "") != (c.want == measure.Conforming) {
			t.Errorf("%s: problem %q", c.name, r.Problem())
		}
		// What is not proven stays so in a sum of the sum.
		outer := measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{measure.Plus("C", "clearance", r)}}
		if v := measure.Judge(outer.Interval(), limits); v != c.want {
			t.Errorf("%s: in another sum it is %s, want %s", c.name, v, c.want)
		}
	}
}

// A play cannot be negative. Readings that make it so by more than their doubt
// contradict themselves.
func TestNonNegative(t *testing.T) {
	dial := measure.LengthInstrument{Name: "dial", Uncertainty: mm("0.003")}
	for _, c := range []struct {
		d, lo, hi string
	}{
		{"0.010", "0.007", "0.013"},
		{"0.001", "0", "0.004"},
		{"-0.002", "0", "0.003"}, // moved to zero, widened, cut
		{"-0.004", "", ""},
	} {
		r, err := dial.Indicate("play", mm(c.d))
		if err != nil {
			t.Fatal(err)
		}
		got := r.NonNegative().Interval()
		want := units.LengthInterval{}
		if c.lo != "" {
			want = span(c.lo + ".." + c.hi)
		}
		if !got.Equal(want) {
			t.Errorf("%s is %s, want %s", c.d, got, want)
		}
		if inner := (&measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{measure.Plus("p", "play", r.NonNegative())}}); !inner.Interval().Equal(units.PlusMinus(mm(c.d), mm("0.003"))) {
			t.Errorf("%s as a term is %s; a term is never moved", c.d, inner.Interval())
		}
	}
}

// The way that makes no reading says the same as the reading.
func TestIntervalIsThatOfTheReading(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := measure.Sum[units.LengthDim]{Name: "s", NonNegative: rapid.Bool().Draw(t, "cannot be negative")}
		for range rapid.IntRange(0, 5).Draw(t, "terms") {
			f := rapid.SampledFrom([]int64{1, -1, 2, 0}).Draw(t, "factor")
			s.Terms = append(s.Terms, measure.Term[units.LengthDim]{Factor: units.One.OfInt(f), Reading: drawReading(t)})
		}
		r := s.Reading()
		if got, want := s.Interval(), r.Interval(); !got.Equal(want) {
			t.Fatalf("%s, and by the reading %s", got, want)
		}
	})
}

// TestDifference: the quick way to a difference, and the quick way to a sum, are that of
// the sum's reading, whatever instruments read its terms and whatever they state.
func TestDifference(t *testing.T) {
	asked := measure.Condition{What: "cap", Is: "on"}
	plain := []measure.LengthInstrument{{Name: "gauge", Uncertainty: mm("0.003")}, {Name: "micrometer", Uncertainty: mm("0.002")}, {Uncertainty: mm("0.001")}}
	rapid.Check(t, func(t *rapid.T) {
		draw := func() measure.LengthReading {
			r := drawReading(t)
			if rapid.IntRange(0, 3).Draw(t, "any") > 0 {
				in := rapid.SampledFrom(plain).Draw(t, "instrument")
				var err error
				if r, err = in.Read(rapid.SampledFrom([]string{"", "bore", "wall", "journal"}).Draw(t, "what"), drawLength(t, "size", 1, 90_000)); err != nil {
					t.Fatal(err)
				}
			}
			if rapid.Bool().Draw(t, "stated") {
				r = r.With(measure.Condition{What: "cap", Is: rapid.SampledFrom([]string{"on", "on", "off"}).Draw(t, "cap")})
			}
			return r
		}
		var needs []measure.Condition
		if rapid.Bool().Draw(t, "asked") {
			needs = append(needs, asked)
		}
		one := draw()
		first := measure.Plus("", "", one)
		first.Needs = needs
		s := measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{first}}
		var others []*measure.LengthReading
		for range rapid.IntRange(0, 9).Draw(t, "others") {
			r := draw()
			others, s.Terms = append(others, &r), append(s.Terms, measure.Minus("", "", r))
		}
		want := s.Reading().Interval()
		if got := measure.Difference(needs, &one, others...); !got.Equal(want) {
			t.Fatalf("the difference is %s, and that of the sum %s", got, want)
		}
		s.NonNegative = rapid.Bool().Draw(t, "non-negative")
		if got, want := s.Interval(), s.Reading().Interval(); !got.Equal(want) {
			t.Fatalf("the interval is %s, and that of the reading %s", got, want)
		}
	})
}

// Few degrees of freedom count the quick way too: u = 1 µm with two of them is 4.53 µm at 95.45 %
// (JCGM 100:2008, table G.2).
func TestIntervalOfFewDegreesOfFreedom(t *testing.T) {
	s := measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{
		measure.Plus("D", "bore", read(t, measure.LengthInstrument{Name: "gauge", Uncertainty: mm("0.002"), Freedom: 2}, "bore", "10"))}}
	if got := s.Interval().Radius().Float64(units.Micrometre); math.Abs(got-4.53) > 0.005 {
		t.Errorf("U = %.4f µm, want 4.53", got)
	}
}
