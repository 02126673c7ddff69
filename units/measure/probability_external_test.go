package measure_test

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func conformity(t testing.TB, r measure.LengthReading, tolerance units.LengthInterval) (p probability) {
	t.Helper()
	var err error
	if p.Least, p.Greatest, err = measure.Conformity(r, tolerance); err != nil {
		t.Fatal(err)
	}
	return p
}

type probability struct{ Least, Greatest float64 }

// Normal probabilities from tables of Φ: Φ(1) = 0.841345, Φ(2) = 0.977250.
func TestConformityOfAValue(t *testing.T) {
	in := measure.LengthInstrument{Name: "micrometer", Uncertainty: mm("0.002")}
	r := read(t, in, "size", "10")
	for _, c := range []struct {
		tolerance units.LengthInterval
		want      float64
	}{
		{units.AtMost(mm("10.001")), 0.841345}, {units.AtLeast(mm("10.001")), 0.158655},
		{span("9.998..10.001"), 0.841345 - 0.022750}, {span("10.001..10.002"), 0.977250 - 0.841345},
	} {
		p := conformity(t, r, c.tolerance)
		if p.Least != p.Greatest || math.Abs(p.Least-c.want) > 1e-6 {
			t.Errorf("%s: %v, want %v", c.tolerance, p, c.want)
		}
	}
}

// A dial of 0..0.001 mm with U = 0.003 mm against 0..0.010 mm conforms, and is as
// probable as that says.
func TestConformityCutAtZero(t *testing.T) {
	dial := measure.LengthInstrument{Name: "dial", Uncertainty: mm("0.003")}
	r, err := dial.Travel("end play", mm("0"), mm("0.001"))
	if err != nil {
		t.Fatal(err)
	}
	limits := span("0..0.010")
	if v := measure.Judge(r.Interval(), limits); v != measure.Conforming {
		t.Fatalf("%s is %s", r.Interval(), v)
	}
	// Conditional on not being below zero: (Φ(6) - Φ(-2/3)) / (1 - Φ(-2/3)).
	if p := conformity(t, r, limits); math.Abs(p.Least-1) > 1e-8 {
		t.Errorf("probability %v, want 1 but for 1e-9", p)
	}
}

// Over a bracket, and over correlations that are not known, it runs from a least to a
// greatest.
func TestConformityWithinBounds(t *testing.T) {
	in := measure.LengthInstrument{Name: "micrometer", Uncertainty: mm("0.002")}
	s := measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{
		measure.Plus("a", "a", read(t, in, "a", "10")), measure.Plus("b", "b", read(t, in, "b", "20")),
	}}
	// U is from 0 (opposed) to 0.004: at 30.002 the probability from Φ(1) to 1.
	p := conformity(t, s.Reading(), units.AtMost(mm("30.002")))
	if math.Abs(p.Least-0.841345) > 1e-6 || p.Greatest < 0.999999 {
		t.Errorf("probability %v, want from 0.841345 to 1", p)
	}
	g := measure.Given(span("0.1..0.3"), "a gap")
	if p := conformity(t, g, units.AtMost(mm("0.2"))); p.Least != 0 || p.Greatest != 1 {
		t.Errorf("a bracket across a limit: %v, want from 0 to 1", p)
	}
	for name, p := range map[string]struct {
		r         measure.LengthReading
		tolerance units.LengthInterval
	}{"not measured": {measure.LengthReading{}, span("0..1")}, "no limits": {g, units.LengthInterval{}}} {
		if least, greatest, err := measure.Conformity(p.r, p.tolerance); err == nil || least != 0 || greatest != 0 {
			t.Errorf("%s: a probability from %v to %v, %v", name, least, greatest, err)
		}
	}
	// What cannot be negative lies in no limits below zero, whatever a dial shows.
	dial := measure.LengthInstrument{Name: "dial", Uncertainty: mm("0.003")}
	r, err := dial.Travel("end play", mm("0"), mm("0.001"))
	if err != nil {
		t.Fatal(err)
	}
	if p := conformity(t, r, span("-0.004..-0.001")); p.Least != 0 || p.Greatest != 0 {
		t.Errorf("a play below zero: %v", p)
	}
	// Among the plays that can be: with σ 0.0015, from 0 to 0.0025 it is (Φ(1) - Φ(-2/3)) / Φ(2/3).
	if p := conformity(t, r, span("0..0.0025")); math.Abs(p.Least-0.787754) > 1e-6 || p.Least != p.Greatest {
		t.Errorf("a play that may be near zero: %v, want 0.787754", p)
	}
	// Limits beside a bracket, as wide as it: however it lies in there, it is outside.
	for _, limits := range []string{"0.4..0.6", "-0.3..0"} {
		if p := conformity(t, g, span(limits)); p.Least != 0 || p.Greatest != 0 {
			t.Errorf("0.1..0.3 mm in %s mm: %v", limits, p)
		}
	}
	// A bracket around limits: with u = 0.01 mm its middle may be that of 0.02 mm, which
	// hold Φ(1) - Φ(-1) of it; its ends are outside.
	around := sumOf([]measure.LengthReading{g, read(t, measure.LengthInstrument{Name: "other", Uncertainty: mm("0.02")}, "b", "1")}, nil)
	if p := conformity(t, around.Reading(), span("1.19..1.21")); p.Least > 1e-12 || math.Abs(p.Greatest-0.682689) > 1e-6 {
		t.Errorf("1.1..1.3 mm around 1.19..1.21 mm: %v", p)
	}
}

// Whatever conforms at a coverage is at least as probable: of values, brackets, sums,
// small samples, and quantities that cannot be negative.
func TestVerdictAndProbabilityAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		micro := func(label string, lo, hi int) units.Length {
			return units.Micrometre.OfRat(big.NewRat(int64(rapid.IntRange(10*lo, 10*hi).Draw(t, label)), 10))
		}
		var s measure.Sum[units.LengthDim]
		for i := range rapid.IntRange(1, 4).Draw(t, "terms") {
			in := measure.LengthInstrument{
				Name:    rapid.SampledFrom([]string{"M", "G"}).Draw(t, "name"),
				Freedom: rapid.SampledFrom([]int{0, 0, 1, 4}).Draw(t, "freedom"),
			}
			if rapid.Bool().Draw(t, "split") {
				in.Name += " split"
				in.Common, in.Repeats = micro("common", 0, 5), micro("repeats", 1, 5)
			} else {
				in.Uncertainty = micro("U", 1, 5)
			}
			var r measure.LengthReading
			var err error
			at := fmt.Sprint(i)
			switch rapid.IntRange(0, 2).Draw(t, "how") {
			case 0:
				r, err = in.Indicate(at, micro("shown", -5, 40))
			case 1:
				v := micro("value", 5, 40)
				r, err = in.Read(at, v, v.Add(micro("apart", 0, 4)))
			case 2:
				lo := micro("lo", 0, 40)
				r = measure.Given(units.MustInterval(lo, lo.Add(micro("width", 0, 9))), "a bracket")
			}
			if err != nil {
				t.Fatal(err)
			}
			f := rapid.SampledFrom([]int64{1, -1, 2}).Draw(t, "factor")
			s.Terms = append(s.Terms, measure.Term[units.LengthDim]{Factor: units.One.OfInt(f), Reading: r})
		}
		s.NonNegative = rapid.Bool().Draw(t, "cannot be negative")
		s.AtWorst = rapid.IntRange(0, 4).Draw(t, "at worst") == 0
		r := s.Reading()
		c := rapid.SampledFrom([]string{"0.5", "0.9", "0.9545", "0.99"}).Draw(t, "coverage")
		at := r.At(factor(t, c, 0))
		if at.IsEmpty() {
			return
		}
		// Limits that the reading just keeps, on one side or on both.
		tolerance := at
		switch rapid.IntRange(0, 3).Draw(t, "limits") {
		case 1:
			tolerance = units.AtMost(at.Hi())
		case 2:
			tolerance = units.AtLeast(at.Lo())
		case 3:
			tolerance = at.Hull(units.Exactly(units.Length{}))
		}
		if v := measure.Judge(at, tolerance); v != measure.Conforming {
			t.Fatalf("%s against itself is %s", at, v)
		}
		least, greatest, err := measure.Conformity(r, tolerance)
		if err != nil {
			t.Fatal(err)
		}
		p := probability{least, greatest}
		if want, _ := strconv.ParseFloat(c, 64); p.Least < want-2e-6 {
			t.Fatalf("%s conforms to %s at %v, with a probability of %v only", r, tolerance, want, p)
		}
		if p.Greatest < p.Least || p.Greatest > 1+1e-12 || p.Least < 0 {
			t.Fatalf("no probability: %v", p)
		}
	})
}

// A reading without a bound has a probability against limits without one.
func TestConformityWithoutBounds(t *testing.T) {
	in := measure.LengthInstrument{Name: "micrometer", Uncertainty: mm("0.002")}
	open := func(b units.LengthInterval) measure.LengthReading {
		s := sumOf([]measure.LengthReading{read(t, in, "size", "10"), measure.Given(b, "a gap")}, nil)
		return s.Reading()
	}
	for _, c := range []struct {
		r               measure.LengthReading
		tolerance       units.LengthInterval
		least, greatest float64
	}{
		{open(units.AtMost(mm("1"))), units.AtMost(mm("11.002")), 0.977250, 1},
		{open(units.AtMost(mm("1"))), units.AtLeast(mm("11.002")), 0, 0.022750},
		{open(units.AtLeast(mm("1"))), units.AtLeast(mm("10.998")), 0.977250, 1},
		{open(units.AtLeast(mm("1"))), span("10.998..11.002"), 0, 0.954500},
	} {
		p := conformity(t, c.r, c.tolerance)
		if !(math.Abs(p.Least-c.least) < 1e-6 && math.Abs(p.Greatest-c.greatest) < 1e-6) {
			t.Errorf("%s in %s: %v, want from %v to %v", c.r, c.tolerance, p, c.least, c.greatest)
		}
	}
}

// Several stations bound an error's magnitude, and only at k = 2 and above: nothing
// is known below, and a limit on one side is not safer than the level.
func TestConformityOfStations(t *testing.T) {
	in := measure.LengthInstrument{Name: "M", Repeats: mm("0.002")}
	var row []measure.LengthReading
	for _, at := range []string{"1", "2", "3"} {
		row = append(row, read(t, in, at, "50"))
	}
	row = append(row, read(t, in, "4", "50.01"))
	s, err := measure.NewStations([][]measure.LengthReading{row}, measure.OutOfRound)
	if err != nil {
		t.Fatal(err)
	}
	oor := s.Find(measure.OutOfRound) // 0.010 ± 0.003683, q = 3.6830
	for _, c := range []struct {
		tolerance       units.LengthInterval
		least, greatest float64
	}{
		{units.AtMost(mm("0.012")), 0, 1},
		{units.AtMost(mm("0.008")), 0, 1},
		{units.AtMost(mm("0.0134")), 0, 1}, // 1.85 standard uncertainties are fewer than 2
		{units.AtMost(mm("0.0136831")), 0.954500, 1},
		{units.AtMost(mm("0.0063169")), 0, 0.045500},
		{span("0..0.0136831"), 0.954500, 1},
	} {
		p := conformity(t, oor, c.tolerance)
		if math.Abs(p.Least-c.least) > 1e-4 || math.Abs(p.Greatest-c.greatest) > 1e-4 {
			t.Errorf("%s in %s: %v, want from %v to %v", oor, c.tolerance, p, c.least, c.greatest)
		}
	}
	// Near zero a limit of 0 asks for nothing more, since nothing is below it; one above zero does.
	row[3] = read(t, in, "4", "50.001")
	if s, err = measure.NewStations([][]measure.LengthReading{row}, measure.OutOfRound); err != nil {
		t.Fatal(err)
	}
	oor = s.Find(measure.OutOfRound) // 0.001 ± 0.003683
	for _, c := range []struct {
		tolerance units.LengthInterval
		least     float64
	}{
		{units.AtMost(mm("0.0046831")), 0.954500}, {span("0..0.0046831"), 0.954500}, {span("0.0001..0.0046831"), 0},
	} {
		if p := conformity(t, oor, c.tolerance); math.Abs(p.Least-c.least) > 1e-4 {
			t.Errorf("%s in %s: %v, want at least %v", oor, c.tolerance, p, c.least)
		}
	}
}
