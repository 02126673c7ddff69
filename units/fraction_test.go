package units

import (
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestFormatInchFraction(t *testing.T) {
	tests := []struct {
		length string
		finest int64
		want   string
	}{
		{"1 3/64 in", 64, "1 3/64 in"},
		{"3/8 in", 64, "3/8 in"},
		{"2 in", 64, "2 in"},
		{"0 mm", 64, "0 in"},
		{"0.3729 in", 64, "3/8 in - 0.0021 in"},
		{"-0.3729 in", 64, "-3/8 in + 0.0021 in"},
		{"9.5 mm", 64, "3/8 in - ≈0.000984 in"}, // 9.525 - 9.5 = 0.025 mm; ÷ 25.4 = 0.00098425
		{"0.001 in", 64, "0 in + 0.001 in"},
		{"-0.001 in", 64, "0 in - 0.001 in"},
		{"0.999 in", 64, "1 in - 0.001 in"},
		{"1/128 in", 64, "0 in + ≈0.007812 in"},    // half a 64th: to the even 0
		{"3/128 in", 64, "1/32 in - ≈0.007812 in"}, // half again: to the even 2/64
		{"5/16 in", 8, "1/4 in + 0.0625 in"},
		{"7/16 in", 8, "1/2 in - 0.0625 in"},
		{"2.7 in", 1, "3 in - 0.3 in"},
	}
	for _, test := range tests {
		if got := FormatInchFraction(MustParseLength(test.length), test.finest); got != test.want {
			t.Errorf("%s to 1/%d: %s, want %s", test.length, test.finest, got, test.want)
		}
	}
}

func TestInchFractionProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Micrometre.OfInt(rapid.Int64Range(-1_000_000_000, 1_000_000_000).Draw(t, "µm"))
		finest := int64(1) << rapid.IntRange(0, 7).Draw(t, "power of the denominator")
		fraction, sign, rest := FormatInchFraction(l, finest), 1, "0"
		if before, after, ok := strings.Cut(strings.TrimSuffix(fraction, " in"), " in + "); ok {
			fraction, rest = before+" in", after
		} else if before, after, ok := strings.Cut(strings.TrimSuffix(fraction, " in"), " in - "); ok {
			fraction, rest, sign = before+" in", after, -1
		}
		shown, left := MustParseLength(fraction), MustParseLength(strings.TrimPrefix(rest, "≈")+" in").MulInt(int64(sign))
		if off := shown.Add(left).Sub(l).Abs(); MustParseLength("0.5e-6 in").Less(off) {
			t.Fatalf("%s is %s off %s", FormatInchFraction(l, finest), off, l)
		}
		if half := Inch.OfRat(big.NewRat(1, 2*finest)).Add(MustParseLength("0.5e-6 in")); half.Less(left.Abs()) {
			t.Fatalf("%s leaves more than half a step", FormatInchFraction(l, finest))
		}
		if !shown.Rat(Inch).Mul(shown.Rat(Inch), big.NewRat(finest, 1)).IsInt() {
			t.Fatalf("%s is no whole number of parts of 1/%d", fraction, finest)
		}
	})
}

func TestFormatInchFractionPanics(t *testing.T) {
	panics(t, "units: inch fractions have a denominator that is a power of two, not 10; use 64", func() { FormatInchFraction(Length{}, 10) })
	panics(t, "units: a length beyond any inch rule", func() { FormatInchFraction(MustParseLength("1e50 m"), 64) })
}
