package sheet

import (
	"math/big"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

func TestNumeral(t *testing.T) {
	for _, test := range []struct {
		text  string
		comma bool
		want  string
	}{
		{"60.012", false, "60.012"},
		{" 60.012 ", false, "60.012"},
		{"'60.012", false, "60.012"},
		{"\u00a060.012", false, "60.012"},
		{"60,012", true, "60.012"},
		{"60", true, "60"},
		{"-0.5", false, "-0.5"},
		{"+.5", false, "0.5"},
		{"5.", false, "5."},
		{"0.0380", false, "0.0380"},
		{" 0.0380", false, "0.0380"},
		{"007", false, "007"},
		{"3.79E-2", false, "0.0379"},
		{"3.79e+2", false, "379"},
		{"12E3", false, "12000"},
		{"59.999000000000002", false, "59.999"},                // what a spreadsheet stores for 59.999
		{"3.7999999999998146E-2", false, "0.0379999999999981"}, // residue stays: 15 digits of it
		{"0.12345678901234567", false, "0.123456789012346"},
		{"0.999999999999999999", false, "1"},
		{"123456789012345", false, "123456789012345"},
		{"123456789012345.6", false, "123456789012346"},
		{"0,25", true, "0.25"},
		{"0", false, "0"},
		{"-0.000", false, "-0.000"},
	} {
		c := Cell{Text: test.text, comma: test.comma}
		got, ok := c.Numeral()
		n, alsoOK := c.Number()
		if !ok || got != test.want {
			t.Errorf("Numeral of %q is %q, %t; want %q", test.text, got, ok, test.want)
		}
		if want := decimal.RequireFromString(test.want); !alsoOK || !n.Equal(want) || n.Exponent() != want.Exponent() {
			t.Errorf("Number of %q is %s, %t; want %s", test.text, n, alsoOK, want)
		}
	}
}

func TestNotANumber(t *testing.T) {
	for _, text := range []string{
		"", " ", "'", ".", "-", "+-1", "-.", "1.2.3", "60,012", "1,234.5", "6O.012", "60.012 mm", "1e", "1e+", "1e99", "1e-99", "0x10",
		"1234567890123456", "١", "NaN", "inf", "1_000", "--1", "1-", "1 2", "0." + strings.Repeat("0", 60) + "1", "9e30", "1e999999999", "#REF!",
	} {
		c := Cell{Text: text}
		if got, ok := c.Numeral(); ok {
			t.Errorf("Numeral of %q is %q; want none", text, got)
		}
		if n, ok := c.Number(); ok {
			t.Errorf("Number of %q is %s; want none", text, n)
		}
	}
	for _, text := range []string{"1.5", "1.234,5", "1,2,3"} {
		c := Cell{Text: text, comma: true}
		if got, ok := c.Numeral(); ok {
			t.Errorf("with a decimal comma, %q is %q; want none", text, got)
		}
	}
}

// TestNumeralIsExact: up to 15 digits a number is what decimal reads in it, places
// included.
func TestNumeralIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := decimal.New(rapid.Int64Range(-999_999_999_999_999, 999_999_999_999_999).Draw(t, "coefficient"), -rapid.Int32Range(0, 15).Draw(t, "places"))
		text := want.StringFixed(-want.Exponent())
		c := Cell{Text: rapid.SampledFrom([]string{text, " " + text, text + "\t"}).Draw(t, "text")}
		if rapid.Bool().Draw(t, "comma") {
			c = Cell{Text: strings.Replace(c.Text, ".", ",", 1), comma: true}
		}
		if got, ok := c.Numeral(); !ok || got != text {
			t.Fatalf("Numeral of %q is %q, %t", c.Text, got, ok)
		}
	})
}

// TestTypedNumberComesBack: a number of up to 15 digits, held in binary and written
// with 17 digits, comes back as it was typed.
func TestTypedNumberComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		typed := decimal.New(rapid.Int64Range(1, 99_999_999).Draw(t, "coefficient"), -rapid.Int32Range(0, 6).Draw(t, "places"))
		c := Cell{Text: new(big.Float).SetFloat64(typed.InexactFloat64()).Text('g', 17)}
		if n, ok := c.Number(); !ok || !n.Equal(typed) {
			t.Fatalf("%s, stored as %s, came back as %s, %t", typed, c.Text, n, ok)
		}
	})
}

func FuzzNumeral(f *testing.F) {
	f.Add("60.012")
	f.Add("-1.5E-07")
	f.Add("0.037999999999998146")
	f.Fuzz(func(t *testing.T, text string) {
		c := Cell{Text: text}
		numeral, ok := c.Numeral()
		if !ok {
			return
		}
		want, good := new(big.Rat).SetString(c.Pointed())
		got, plain := new(big.Rat).SetString(numeral)
		if !good || !plain {
			t.Fatalf("Numeral of %q is %q", text, numeral)
		}
		difference := new(big.Rat).Sub(got, want)
		if difference.Abs(difference).Cmp(new(big.Rat).Mul(new(big.Rat).Abs(want), big.NewRat(1, 1e14))) > 0 {
			t.Errorf("Numeral of %q is %q", text, numeral)
		}
	})
}

func TestIsError(t *testing.T) {
	for text, want := range map[string]bool{
		"#REF!": true, "#N/A": true, "#DIV/0!": true, " #NAME? ": true, "#VALUE!": true, "#NULL!": true,
		"#": false, "#1": false, "OK!": false, "#low!": false, "": false,
	} {
		if got := (&Cell{Text: text}).IsError(); got != want {
			t.Errorf("%q is an error value: %t, want %t", text, got, want)
		}
	}
}
