package units

import (
	"math/big"
	"testing"
)

// Every rounding on both sides of zero, below, at and above a half.
func TestRoundings(t *testing.T) {
	hair := Inch.OfRat(big.NewRat(1, 1<<62))
	tests := []struct {
		text                               string
		even, away, floor, ceiling, toward string
	}{
		{"2.34 in", "2.3 in", "2.3 in", "2.3 in", "2.4 in", "2.3 in"},
		{"2.35 in", "2.4 in", "2.4 in", "2.3 in", "2.4 in", "2.3 in"},
		{"2.45 in", "2.4 in", "2.5 in", "2.4 in", "2.5 in", "2.4 in"},
		{"2.46 in", "2.5 in", "2.5 in", "2.4 in", "2.5 in", "2.4 in"},
		{"-2.34 in", "-2.3 in", "-2.3 in", "-2.4 in", "-2.3 in", "-2.3 in"},
		{"-2.35 in", "-2.4 in", "-2.4 in", "-2.4 in", "-2.3 in", "-2.3 in"},
		{"-2.45 in", "-2.4 in", "-2.5 in", "-2.5 in", "-2.4 in", "-2.4 in"},
		{"0.05 in", "0.0 in", "0.1 in", "0.0 in", "0.1 in", "0.0 in"},
		{"-0.04 in", "0.0 in", "0.0 in", "-0.1 in", "0.0 in", "0.0 in"},
	}
	for _, test := range tests {
		q := MustParseLength(test.text)
		for m, want := range map[Rounding]string{HalfEven: test.even, HalfAwayZero: test.away, Floor: test.floor, Ceiling: test.ceiling, TowardZero: test.toward} {
			if got := q.Format(Inch, 1, m); got != want {
				t.Errorf("%s rounded %s: %s, want %s", test.text, m, got, want)
			}
		}
		// A hair towards the even digit decides, and only the ratio form can hold it.
		if got, want := q.Add(hair).Format(Inch, 1, HalfEven), slowText(q.Add(hair).Rat(Inch), 1, HalfEven)+" in"; got != want {
			t.Errorf("%s and a hair, rounded half to even: %s, want %s", test.text, got, want)
		}
	}
}

func TestRoundingNames(t *testing.T) {
	for m, want := range map[Rounding]string{HalfEven: "half to even", HalfAwayZero: "half away from zero", Floor: "down",
		Ceiling: "up", TowardZero: "toward zero", Rounding(77): "unknown rounding"} {
		if m.String() != want {
			t.Errorf("%d is %q, want %q", m, m, want)
		}
	}
}

func TestString(t *testing.T) {
	for text, want := range map[string]string{
		"60.0120 mm":      "60.012 mm",
		"0.0001 µm":       "≈0 mm", // 10⁻⁷ mm
		"0.001 µm":        "0.000001 mm",
		"(-1/3) mm":       "≈-0.333333 mm",
		"(1/3) in":        "≈8.466667 mm",
		"2 in":            "50.8 mm",
		"123456789012 mm": "123456789012 mm",
		"1e20 mm":         "100000000000000000000 mm",
	} {
		if got := MustParseLength(text).String(); got != want {
			t.Errorf("%s prints as %s, want %s", text, got, want)
		}
	}
	for text, want := range map[string]string{
		"50 psi":       "50 psi",
		"1 Torr":       "1 Torr",
		"(1/7) psi":    "(" + slowRat("1/7*"+slowPsi+"/1000").RatString() + ") kPa",
		"1e-20 Pa":     "0.00000000000000000000001 kPa",
		"22 lbf/in2":   "22 psi",
		"101.325 kPa":  "101.325 kPa",
		"14.5037 psi":  "14.5037 psi",
		"50.00000 psi": "50 psi",
	} {
		if got := MustParse[Pressure](text).Exact(); got != want {
			t.Errorf("%s in full is %s, want %s", text, got, want)
		}
	}
	third := MustParseLengthInterval("(1/3)..(2/3) mm")
	for want, got := range map[string]string{
		"≈0.333333..≈0.666667 mm": third.String(),
		"(1/3)..(2/3) mm":         third.Exact(),
		"0.333..0.667 mm":         third.FormatOutward(Millimetre, 3),
		"0.334..0.666 mm":         third.FormatInward(Millimetre, 3),
		"50 psi..400 kPa":         MustParse[PressureInterval]("50 psi..400 kPa").Exact(),
	} {
		if got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}
