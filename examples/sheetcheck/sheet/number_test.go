package sheet

import (
	"math/big"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

func TestNumber(t *testing.T) {
	comma := Notation{Decimal: ','}
	for _, test := range []struct {
		text        string
		notation    Notation
		coefficient int64
		places      int32
	}{
		{"60.012", Notation{}, 60012, 3},
		{" 60.012 ", Notation{}, 60012, 3},
		{"'60.012", Notation{}, 60012, 3},
		{"\u00a060.012", Notation{}, 60012, 3},
		{"60,012", comma, 60012, 3},
		{"-0.5", Notation{}, -5, 1},
		{"+.5", Notation{}, 5, 1},
		{"5.", Notation{}, 5, 0},
		{"0.0380", Notation{}, 380, 4},
		{"007", Notation{}, 7, 0},
		{"3.79E-2", Notation{}, 379, 4},
		{"3.79e+2", Notation{}, 379, 0},
		{"12E3", Notation{}, 12000, 0},
		{"59.999000000000002", Notation{}, 59999, 3},               // what a spreadsheet stores for 59.999
		{"3.7999999999998146E-2", Notation{}, 379999999999981, 16}, // residue stays: 15 digits of it
		{"0.12345678901234567", Notation{}, 123456789012346, 15},
		{"0.999999999999999999", Notation{}, 1, 0},
		{"123456789012345", Notation{}, 123456789012345, 0},
		{"123456789012345.6", Notation{}, 123456789012346, 0},
		{"0,25", comma, 25, 2},
		{"0", Notation{}, 0, 0},
		{"-0.000", Notation{}, 0, 3},
	} {
		n, ok := test.notation.Number(test.text)
		if !ok || n.Coefficient != test.coefficient || n.Places != test.places {
			t.Errorf("Number(%q) = %v, %t; want %d and %d places", test.text, n, ok, test.coefficient, test.places)
		}
	}
}

func TestNotANumber(t *testing.T) {
	for _, text := range []string{
		"", " ", "'", ".", "-", "+-1", "-.", "1.2.3", "60,012", "1,234.5", "6O.012", "60.012 mm", "1e", "1e+", "1e99", "1e-99", "0x10",
		"1234567890123456", "١", "NaN", "inf", "1_000", "--1", "1-", "1 2", "0." + strings.Repeat("0", 60) + "1", "9e30",
	} {
		if n, ok := (Notation{}).Number(text); ok {
			t.Errorf("Number(%q) = %v; want none", text, n)
		}
	}
}

// TestNumberIsExact: up to 15 digits a number is what decimal reads in it.
func TestNumberIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coefficient := rapid.Int64Range(-999_999_999_999_999, 999_999_999_999_999).Draw(t, "coefficient")
		places := rapid.Int32Range(0, 15).Draw(t, "places")
		text := decimal.New(coefficient, -places).StringFixed(places)
		n, ok := (Notation{}).Number(text)
		if !ok || n.Coefficient != coefficient || n.Places != places {
			t.Fatalf("Number(%q) = %v, %t", text, n, ok)
		}
	})
}

// TestTypedNumberComesBack: a number of up to 15 digits, held in binary and written
// with 17 digits, comes back as it was typed.
func TestTypedNumberComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		typed := decimal.New(rapid.Int64Range(1, 99_999_999).Draw(t, "coefficient"), -rapid.Int32Range(0, 6).Draw(t, "places"))
		binary := typed.InexactFloat64()
		stored := new(big.Float).SetFloat64(binary).Text('g', 17)
		n, ok := (Notation{}).Number(stored)
		if !ok || !decimal.New(n.Coefficient, -n.Places).Equal(typed) {
			t.Fatalf("%s, stored as %s, came back as %v, %t", typed, stored, n, ok)
		}
	})
}

func TestRounded(t *testing.T) {
	for _, test := range []struct {
		n      Number
		places int
		want   Number
	}{
		{Number{380, 4}, 3, Number{38, 3}},
		{Number{385, 4}, 3, Number{39, 3}},
		{Number{-385, 4}, 3, Number{-39, 3}},
		{Number{-384, 4}, 3, Number{-38, 3}},
		{Number{38, 3}, 4, Number{38, 3}},
		{Number{379999999999981, 16}, 3, Number{38, 3}},
		{Number{5, 25}, 3, Number{0, 3}},
	} {
		if got := test.n.Rounded(test.places); got != test.want {
			t.Errorf("%v rounded to %d places is %v, want %v", test.n, test.places, got, test.want)
		}
	}
}

func FuzzNumber(f *testing.F) {
	f.Add("60.012")
	f.Add("-1.5E-07")
	f.Add("0.037999999999998146")
	f.Fuzz(func(t *testing.T, text string) {
		n, ok := (Notation{}).Number(text)
		if !ok {
			return
		}
		trimmed := strings.Trim(text, " '\t\u00a0\u202f")
		want, good := new(big.Rat).SetString(trimmed)
		if !good || len(trimmed) > 60 {
			return
		}
		got, _ := new(big.Rat).SetString(decimal.New(n.Coefficient, -n.Places).String())
		difference := new(big.Rat).Sub(got, want)
		if difference.Abs(difference).Cmp(new(big.Rat).Mul(new(big.Rat).Abs(want), big.NewRat(1, 1e14))) > 0 {
			t.Errorf("Number(%q) = %v", text, n)
		}
	})
}

// TestLeading: the short way gives what the long way gives.
func TestLeading(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		decimal := rapid.SampledFrom([]byte{'.', ','}).Draw(t, "decimal")
		text := rapid.StringMatching(`[-+]?[0-9]{0,17}[.,]?[0-9]{0,4}( mm|e2|;|;1| )?`).Draw(t, "text")
		n := Notation{Decimal: decimal}
		got, end, ok := n.leading(text, ';')
		if !ok {
			return
		}
		cell, _, _ := strings.Cut(text, ";")
		want, good := n.Number(cell)
		if !good || got != want || end != len(cell) {
			t.Fatalf("leading(%q) = %v, %d; Number gives %v, %t", text, got, end, want, good)
		}
	})
}
