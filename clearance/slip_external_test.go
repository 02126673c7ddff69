package clearance_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func TestSlips(t *testing.T) {
	const m, in = units.Millimetre, units.Inch
	for _, test := range []struct {
		name, measured, limits string
		want                   []string
	}{
		{"plausible and inside", "0.038 mm", "0.029..0.057 mm", nil},
		{"plausible and outside", "0.060 mm", "0.029..0.057 mm", nil},
		{"a decimal place too large", "0.38 mm", "0.029..0.057 mm",
			[]string{"probable slip: the decimal point one place to the left would make it 0.038 mm, conforming; read it again"}},
		{"a decimal place too small", "0.0038 mm", "0.029..0.057 mm",
			[]string{"probable slip: the decimal point one place to the right would make it 0.038 mm, conforming; read it again",
				"probable slip: the number in in and not in mm would make it 0.0038 in, above limit; read it again"}},
		{"inches written as millimetres", "0.0015 mm", "0.029..0.057 mm",
			[]string{"probable slip: the number in in and not in mm would make it 0.0015 in, conforming; read it again",
				"probable slip: the decimal point one place to the right would make it 0.015 mm, below limit; read it again"}},
		{"a journal with a lost digit", "4.7986 mm", "47.980..47.992 mm",
			[]string{"probable slip: the decimal point one place to the right would make it 47.986 mm, conforming; read it again"}},
		{"a journal in inches", "1.8892 mm", "47.980..47.992 mm",
			[]string{"probable slip: the number in in and not in mm would make it 1.8892 in, conforming; read it again"}},
		{"implausible, and nothing it may have been", "20 mm", "47.980..47.992 mm", nil},
		{"a single limit, met", "0.4 mm", "<= 0.5 mm", nil},
		{"a single limit, far above", "4 mm", "<= 0.5 mm",
			[]string{"probable slip: the decimal point one place to the left would make it 0.4 mm, conforming; read it again"}},
		{"a single lower limit, far below", "0.02 mm", ">= 0.1 mm",
			[]string{"probable slip: the decimal point one place to the right would make it 0.2 mm, conforming; read it again",
				"probable slip: the number in in and not in mm would make it 0.02 in, conforming; read it again"}},
		{"near a narrow lower limit, and three times the upper", "0.035 mm", "0.001..0.010 mm",
			[]string{"probable slip: the decimal point one place to the left would make it 0.0035 mm, conforming; read it again"}},
		{"an interference", "-0.3 mm", "-0.05..-0.02 mm",
			[]string{"probable slip: the decimal point one place to the left would make it -0.03 mm, conforming; read it again"}},
	} {
		slips := clearance.Slips(measure.Given(span(test.measured), ""), span(test.limits), m, []units.LengthUnit{m, in})
		var got []string
		for _, s := range slips {
			got = append(got, s.String())
			if s.Verdict != measure.Judge(s.Corrected, span(test.limits)) {
				t.Errorf("%s: verdict %s", test.name, s.Verdict)
			}
		}
		if len(got) != len(test.want) {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
			continue
		}
		for i := range got {
			if got[i] != test.want[i] {
				t.Errorf("%s: %q, want %q", test.name, got[i], test.want[i])
			}
		}
	}
	inches := clearance.Slips(given("0.04 in"), span("0.0012..0.0020 in"), in, []units.LengthUnit{m})
	if len(inches) != 2 || inches[0].Unit != "mm" || inches[0].Verdict != measure.Conforming {
		t.Errorf("millimetres written as inches: %v", inches)
	}
	if slips := clearance.Slips(measure.LengthReading{}, span("0.029..0.057 mm"), m, []units.LengthUnit{in}); slips != nil {
		t.Errorf("not taken: %v", slips)
	}
	if slips := clearance.Slips(given("9 mm"), measure.LengthReading{}.Interval(), m, []units.LengthUnit{in}); slips != nil {
		t.Errorf("without limits: %v", slips)
	}
}

// A pressure in bar that was meant in psi.
func TestSlipsOfPressure(t *testing.T) {
	gauge := measure.Instrument[units.PressureDim]{Name: "gauge", Uncertainty: units.MustParse[units.Pressure]("0.1 bar")}
	shut, open := units.MustParse[units.Pressure]("48 bar"), units.MustParse[units.Pressure]("52 bar")
	r, err := measure.Valve(&gauge, "jet 1", &shut, &open)
	if err != nil {
		t.Fatal(err)
	}
	slips := clearance.Slips(r, units.MustParse[units.PressureInterval]("45..55 psi"), units.Bar, []units.Unit[units.PressureDim]{units.PoundForcePerSquareInch})
	if len(slips) != 2 || slips[0].Unit != "psi" || slips[0].Verdict != measure.Conforming {
		t.Errorf("slips %v", slips)
	}
}

// An instrument's uncertainty is its own, and does not shrink or grow with the
// number that was misread.
func TestASlipKeepsTheUncertainty(t *testing.T) {
	for _, test := range []struct{ value, want string }{
		{"479.86 mm", "47.982..47.990 mm"},
		{"4.7986 mm", "47.982..47.990 mm"},
	} {
		slips := clearance.Slips(read(t, "m", test.value, "0.004 mm"), span("47.981..47.992 mm"), units.Millimetre, []units.LengthUnit{units.Inch})
		if len(slips) != 1 || slips[0].Verdict != measure.Conforming || !slips[0].Corrected.Equal(span(test.want)) {
			t.Errorf("%s: %v", test.value, slips)
		}
	}
	// ±0.004 mm does not fit between limits 0.006 mm apart, wherever the point stood.
	slips := clearance.Slips(read(t, "m", "479.86 mm", "0.004 mm"), span("47.983..47.989 mm"), units.Millimetre, nil)
	if len(slips) != 1 || slips[0].Verdict != measure.Undecided {
		t.Errorf("between narrow limits: %v", slips)
	}
}

// A slip of a unit that is not known is written in the dimension's first unit, which is
// the millimetre.
func TestASlipWithoutItsUnit(t *testing.T) {
	s := clearance.Slip[units.LengthDim]{What: "something", Corrected: span("0.04 mm"), Verdict: measure.Conforming}
	if got, want := s.String(), "probable slip: something would make it 0.04 mm, conforming; read it again"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// Nothing that conforms or is undecided is ever called a slip.
func TestNoSlipWhereItMayBeRight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := measure.Given(drawInterval(t, "measured", 0, 5000), "")
		limits := drawInterval(t, "limits", 0, 500)
		slips := clearance.Slips(r, limits, units.Millimetre, []units.LengthUnit{units.Inch}, mm("0.5 mm"))
		if len(slips) > 0 && !measure.Judge(r.Interval(), limits).Outside() {
			t.Fatalf("%s to %s: %v", r, limits, slips)
		}
	})
}

// A turn lost on a thimble or on a dial: the size is off by the turn, and by nothing
// that a unit would explain.
func TestLostTurns(t *testing.T) {
	for _, test := range []struct {
		name, measured, limits, turn string
		want                         []string
	}{
		{"a thimble of half a millimetre, one turn short", "47.486 mm", "47.980..47.992 mm", "0.5 mm",
			[]string{"probable slip: one turn of 0.5 mm more would make it 47.986 mm, conforming; read it again"}},
		{"a dial's hand once round too often", "1.14 mm", "0.10..0.20 mm", "1 mm",
			[]string{"probable slip: the decimal point one place to the left would make it 0.114 mm, conforming; read it again",
				"probable slip: one turn of 1 mm less would make it 0.14 mm, conforming; read it again"}},
		{"a thimble in inches", "2.1004 in", "2.1249..2.1256 in", "0.025 in",
			[]string{"probable slip: one turn of 0.635 mm more would make it 53.98516 mm, conforming; read it again"}},
		{"outside, but by no turn", "47.700 mm", "47.980..47.992 mm", "0.5 mm", nil},
		{"plausible", "47.986 mm", "47.980..47.992 mm", "0.5 mm", nil},
		{"limits too wide to show it", "47.4 mm", "47.8..48.2 mm", "0.5 mm", nil},
		{"no turn", "47.486 mm", "47.980..47.992 mm", "0 mm", nil},
	} {
		var got []string
		for _, s := range clearance.Slips(measure.Given(span(test.measured), ""), span(test.limits), units.Millimetre, nil, mm(test.turn)) {
			got = append(got, s.String())
		}
		if !slices.Equal(got, test.want) {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
	if slips := clearance.Slips(measure.LengthReading{}, span("0..1 mm"), units.Millimetre, nil, mm("0.5 mm")); slips != nil {
		t.Errorf("not taken: %v", slips)
	}
}
