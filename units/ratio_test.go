package units

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
)

// Pure numbers, read in the ways that people write them. A percent is a hundredth
// and a ppm a millionth (SI Brochure, 9th ed., 5.4.7).
func TestRatios(t *testing.T) {
	readsAs(t, ParseRatio, "0.12", "0.12", " 0.12 ", ".12", "12 %", "12%", "12 percent", "12 per cent", "120000 ppm", "12e-2", "3/25", "(3/25)")
	readsAs(t, ParseRatio, "0.00012", "120 ppm", "120ppm", "0.012 %", "1.2e-4")
	readsAs(t, ParseRatio, "0.0000117", "11.7e-6", "11.7 ppm", "0.00117 %")
	readsAs(t, ParseRatio, "-1", "-1", "−1", "-100 %")
	readsAs(t, ParseRatio, "0.5", "1/2", "50 %", "1⁄2")
	readsAs(t, ParseRatio, "1.5", "1 1/2", "3/2", "150 %")
	readsAs(t, ParseRatio, "(2/3)", "2/3", "(2/3)", "(200/3) %")
	readsAs(t, Parse[RatioInterval], "0.12..0.16", "0.12..0.16", "0.12 .. 0.16", "12..16 %", "12 %..16 %", "0.14 ±0.02", "14 % ±2 %", "0.14 +0.02/-0.02", "3/25..4/25")
	readsAs(t, Parse[RatioInterval], ">= 0.1", ">= 0.1", "≥0.1", ">= 10 %")
	readsAs(t, Parse[RatioInterval], "<= 0.1", "<= 1/10")
	readsAs(t, Parse[RatioInterval], "0.12", "0.12", "12 %")
	readsAs(t, Parse[RatioInterval], "any pure number", "any pure number")
}

// What may mean two things, or has a unit of measure, is refused with the way out.
func TestRatioMistakes(t *testing.T) {
	one := func(s string) error { _, err := ParseRatio(s); return err }
	interval := func(s string) error { _, err := Parse[RatioInterval](s); return err }
	for _, test := range []struct {
		parse  func(string) error
		text   string
		kind   error
		column int
		what   string
		fix    string
	}{
		{one, "", ErrSyntax, 1, "nothing", "write a number"},
		{one, "%", ErrSyntax, 1, "no number", "write a number"},
		{one, "0,12", ErrSyntax, 2, "a decimal comma", `write "0.12"`},
		{one, "0.12 mm", ErrWrongDimension, 6, `"mm", a unit of length where a pure number is wanted`, "write a number alone, or with % or ppm"},
		{one, "12 ‰", ErrWrongDimension, 4, `"‰"`, "a per mille is a tenth of a percent; write %"},
		{one, "12 PPM", ErrSyntax, 4, `"PPM"`, "write ppm"},
		{one, "12 pcs", ErrSyntax, 4, `"pcs" behind a pure number`, "write a number alone, or with % or ppm"},
		{one, "0.12.", ErrSyntax, 5, `"."`, "write a number alone, or with % or ppm"},
		{one, "0.12 -", ErrSyntax, 6, `"-"`, "write a number alone, or with % or ppm"},
		{one, "11.7e-6/K", ErrWrongDimension, 8, `"/K"`, "a pure number has no unit; write what a coefficient comes to for each kelvin as a number, 11.7e-6 or 11.7 ppm"},
		{one, "11.7 ppm/K", ErrWrongDimension, 6, `"ppm/K"`, "a pure number has no unit; write what a coefficient comes to for each kelvin as a number, 11.7e-6 or 11.7 ppm"},
		{one, "6.5e-6 /°F", ErrWrongDimension, 8, `"/°F"`, "a pure number has no unit; multiply what a coefficient comes to for each degree Fahrenheit by 1.8 for each kelvin, and write it as a number"},
		{one, "12/16", ErrSyntax, 1, "may part the bounds", `write "12..16" for a range; write a fraction in lowest terms, or as a decimal`},
		{one, "12/16 %", ErrSyntax, 1, "does not make a fraction of %", `write "12..16 %" for a range; write a fraction as a decimal: with a stroke only inches and feet (3/64 in) and turns (1/4 turn) have one`},
		{one, "1-1/2", ErrSyntax, 1, "may be a minus sign", "write the number as a decimal"},
		{one, "5/0", ErrSyntax, 3, "a fraction over zero", "write a denominator such as 64"},
		{one, "0.12/0.16", ErrSyntax, 5, "a range written with a stroke", `write "0.12..0.16"`},
		{one, "0.12..0.16", ErrSyntax, 5, "an interval where one value is wanted", "write one number"},
		{one, ">= 0.1", ErrSyntax, 1, "a limit where one value is wanted", "write a number"},
		{interval, "0.12-0.16", ErrSyntax, 5, "a range written with a dash", `write "0.12..0.16"`},
		{interval, "0.16..0.12", ErrOrder, 1, "a lower bound above the upper bound", `write "0.12..0.16"`},
		{interval, "12 %..16", ErrSyntax, 5, "% behind one number and not behind the other", `write both numbers alike, as in "12..16 %" or "0.12..0.16"`},
		{interval, "12 % ±2", ErrSyntax, 6, "% behind one number and not behind the other", `write both numbers alike, as in "12..16 %" or "0.12..0.16"`},
		{interval, "0.14 ±10 %", ErrSyntax, 6, "may be a part of the number before it", `write both numbers alike, as in "0.14 ±0.02" or "14 % ±2 %"`},
		{interval, "0.14 +10/-10 %", ErrSyntax, 6, "may be a part of the number before it", `write both numbers alike, as in "0.14 ±0.02" or "14 % ±2 %"`},
		{interval, "60 ±5 mm", ErrWrongDimension, 7, `"mm", a unit of length`, "write a number alone, or with % or ppm"},
	} {
		err := test.parse(test.text)
		e, ok := errors.AsType[*Error](err)
		if !ok || e.Kind != test.kind || e.Column != test.column || !strings.Contains(e.Found, test.what) || e.Fix != test.fix {
			t.Errorf("%v\nwant column %d: %s; %s", err, test.column, test.what, test.fix)
		}
	}
	for text, parse := range map[string]func(string) error{
		"12 %":   func(s string) error { _, err := ParseLength(s); return err },
		"12 ppm": func(s string) error { _, err := Parse[TorqueInterval](s); return err },
	} {
		if err := parse(text); !errors.Is(err, ErrWrongDimension) || !strings.Contains(err.Error(), "which makes a pure number where") {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// A pure number prints without a unit and without a blank where one would stand,
// and in percent only where that is asked for.
func TestRatioPrints(t *testing.T) {
	third := MustParseRatio("1/3")
	for _, test := range []struct{ got, want string }{
		{MustParseRatio("12 %").String(), "0.12"},
		{MustParseRatio("11.7 ppm").String(), "0.0000117"},
		{third.String(), "≈0.333333333"},
		{third.Exact(), "(1/3)"},
		{MustParseRatio("0.125").Format(One, 2, HalfEven), "0.12"},
		{MustParseRatio("0.125").Format(Percent, 1, HalfEven), "12.5 %"},
		{MustParseRatio("0.12").Written(One), "0.12"},
		{MustParseRatio("0.12").Written(Percent), "12 %"},
		{MustParse[RatioInterval]("12..16 %").String(), "0.12..0.16"},
		{MustParse[RatioInterval]("0.12..0.16").FormatOutward(Percent, 1), "12.0..16.0 %"},
		{MustParse[RatioInterval]("0.1234..0.1678").FormatInward(One, 2), "0.13..0.16"},
		{MustParse[RatioInterval]("0.1234..0.1678").Written(One), "0.1234..0.1678"},
		{MustParse[RatioInterval](">= 10 %").String(), ">= 0.1"},
		{One.String(), ""},
	} {
		if test.got != test.want {
			t.Errorf("%q, want %q", test.got, test.want)
		}
	}
	b, err := json.Marshal(map[string]any{"friction": MustParse[RatioInterval]("0.12..0.16"), "scatter": MustParseRatio("23 %")})
	if want := `{"friction":"0.12..0.16","scatter":"0.23"}`; err != nil || string(b) != want {
		t.Errorf("%s, %v, want %s", b, err, want)
	}
	var q Ratio
	err = json.Unmarshal([]byte("0.12"), &q)
	if !errors.Is(err, ErrSyntax) || err.Error() != `pure number: not a quantity: JSON 0.12; write a string with a number, such as "60.012"` {
		t.Errorf("a JSON number, which need not be exact: %v", err)
	}
	if u, err := Parse[Unit[RatioDim]](""); err != nil || u != One {
		t.Errorf("%v, %v", u, err)
	}
}
