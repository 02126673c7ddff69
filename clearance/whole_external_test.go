package clearance_test

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// drawReading draws a reading of any kind: a bracket with both ends, one or
// none, a value with an uncertainty, or none at all.
func drawReading(t *rapid.T, label string, lo, hi int64) measure.LengthReading {
	switch rapid.IntRange(0, 6).Draw(t, label+" kind") {
	case 0:
		return measure.LengthReading{}
	case 1:
		return measure.Given(units.AtLeast(drawLength(t, label, lo, hi)), "")
	case 2:
		return measure.Given(units.AtMost(drawLength(t, label, lo, hi)), "")
	case 3:
		return measure.Given(drawInterval(t, label, lo, hi), "drawing")
	}
	in := measure.LengthInstrument{Name: "gauge", Uncertainty: drawLength(t, label+" uncertainty", 1, 20), Freedom: rapid.SampledFrom([]int{0, 0, 3}).Draw(t, label+" freedom")}
	if rapid.Bool().Draw(t, label+" travel") {
		r, err := in.Travel(label, drawLength(t, label+" from", -hi, hi), drawLength(t, label+" to", -hi, hi))
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	r, err := in.Read(label, drawLength(t, label, max(lo, 1), hi))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// drawLimits draws limits with two ends, one or none.
func drawLimits(t *rapid.T, label string, lo, hi int64) units.LengthInterval {
	switch rapid.IntRange(0, 5).Draw(t, label+" kind") {
	case 0:
		return units.AtLeast(drawLength(t, label, lo, hi))
	case 1:
		return units.AtMost(drawLength(t, label, lo, hi))
	case 2:
		return span("any length")
	}
	return drawInterval(t, label, lo, hi)
}

// Whatever is measured, however little of it, the whole way from readings to
// advice gives answers that fit together, and no panic.
func TestTheWholeWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limits := drawLimits(t, "limits", -50, 150)
		bore, shaft := drawReading(t, "bore", 20_000, 20_100), drawReading(t, "shaft", 19_950, 20_050)
		f := clearance.BoreFit("pin clearance", bore, shaft)
		f.Sum.AtWorst = rapid.Bool().Draw(t, "at worst")
		if rapid.Bool().Draw(t, "direct") {
			f.Direct = drawReading(t, "direct", 0, 150)
		}
		a := f.Assess(limits)
		if a.Verdict != measure.Judge(a.Reading.Interval(), limits) {
			t.Fatalf("verdict %s", a.Verdict)
		}
		if lower, upper := a.Meets(); (lower && upper) != (a.Verdict == measure.Conforming) {
			t.Fatalf("%s, and above %t, below %t", a.Verdict, lower, upper)
		}
		if _, ok := a.Outside(); ok != a.Verdict.Outside() {
			t.Fatalf("%s, and outside %t", a.Verdict, ok)
		}
		if _, ok := a.Margin(); ok && a.Verdict != measure.Conforming {
			t.Fatalf("%s with a margin", a.Verdict)
		}
		if needed, ok := a.Settling(measure.NineInTen); ok && (a.Verdict != measure.Undecided || needed.Sign() <= 0) {
			t.Fatalf("%s needs %s", a.Verdict, needed)
		}
		if a.Working(units.Millimetre).Text() == "" || f.Working(units.Inch).Text() == "" {
			t.Fatal("no working")
		}
		if least, greatest, err := measure.Conformity(a.Reading, limits); err == nil && (least < 0 || greatest > 1 || greatest < least) {
			t.Fatalf("probability %v to %v", least, greatest)
		} else if err != nil && !errors.Is(err, measure.ErrProbability) {
			t.Fatal(err)
		}
		for _, s := range clearance.Slips(a.Reading, limits, units.Millimetre, []units.LengthUnit{units.Inch}, mm("0.5 mm")) {
			if s.String() == "" {
				t.Fatal("a slip without words")
			}
		}
		if filing, ok := clearance.File(a.Reading, limits); ok && filing.Working(units.Millimetre).Text() == "" {
			t.Fatal("no working")
		}
		if wanted, ok, err := f.Wanted(limits, "d"); err != nil || ok && wanted.String() == "" {
			t.Fatal(err)
		}
		another := clearance.Alternative{Term: "d", Name: "another", Reading: drawReading(t, "another", 19_950, 20_050)}
		remedies, err := f.Remedies(limits, another)
		both := f.Agreement()
		if errors.Is(err, measure.ErrContradiction) != (both.Known && !both.Agree) ||
			err != nil && !errors.Is(err, measure.ErrContradiction) && !errors.Is(err, measure.ErrNotMeasured) {
			t.Fatalf("agreement %+v, remedies: %v", both, err)
		}
		for _, r := range remedies {
			if measure.Judge(r.Result.Interval(), limits) != measure.Conforming {
				t.Fatalf("a remedy that leaves %s", r.Result)
			}
		}
		offered := map[string][]measure.LengthInstrument{"D": {{Name: "bore gauge", Uncertainty: drawLength(t, "offered", 1, 9)}}}
		for _, m := range f.Remeasurements(limits, measure.NineInTen, offered) {
			if _, bore := m.With["D"]; len(m.With) != 1 || !bore {
				t.Fatalf("%+v", m)
			}
		}
	})
}

// The zero values answer, and say that nothing is known.
func TestZeroValues(t *testing.T) {
	var a measure.Assessment[units.LengthDim]
	if a.Working(units.Millimetre).Text() == "" || meets(a) {
		t.Error("the zero Assessment")
	}
	if text := (clearance.Filing{}).Working(units.Millimetre).Text(); text == "" {
		t.Error("the zero Filing")
	}
	if text := (clearance.Fit{}).Working(units.Millimetre).Text(); text == "" {
		t.Error("the zero Fit")
	}
}
