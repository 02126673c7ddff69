package units

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// Products on both sides of each end of int64.
func TestMulInt64(t *testing.T) {
	tests := []struct {
		a, b int64
		fits bool
	}{
		{math.MaxInt64, 1, true}, {math.MaxInt64, -1, true}, {-math.MaxInt64, -1, true},
		{math.MinInt64, 0, true}, {math.MinInt64, -1, false}, {1 << 62, 2, false}, {-(1 << 62), -2, false},
		{1 << 31, 1<<32 - 1, true}, {1 << 31, 1 << 32, false}, {3037000499, 3037000499, true}, {3037000500, 3037000500, false},
		{3037000500, -3037000500, false}, {1 << 33, 1 << 33, false}, {7, -9, true},
	}
	for _, test := range tests {
		got, ok := mulInt64(test.a, test.b)
		if ok != test.fits || ok && got != test.a*test.b {
			t.Errorf("%d × %d: %d, %v, want %v", test.a, test.b, got, ok, test.fits)
		}
	}
}

// A product that is said to fit is right, and one that is said not to is out of
// range; but for the smallest integer, which is left to the slow way.
func TestMulInt64AgainstBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Int64().Draw(t, "a")
		b := rapid.Int64().Draw(t, "b")
		if near := rapid.Int64Range(-2, 2).Draw(t, "near the end"); rapid.Bool().Draw(t, "close") && b != 0 {
			a = math.MaxInt64/b + near
		}
		got, ok := mulInt64(a, b)
		want := new(big.Int).Mul(big.NewInt(a), big.NewInt(b))
		if fits := want.IsInt64() && want.Int64() != math.MinInt64; ok != fits || ok && got != want.Int64() {
			t.Fatalf("%d × %d: %d, %v, want %s", a, b, got, ok, want)
		}
	})
}

// The ends of int64 as quantities: each step across one changes the form and not
// the value.
func TestEndsOfTheMachineInteger(t *testing.T) {
	step := MustParseLength("1e-12 m")
	most, least := step.MulInt(math.MaxInt64), step.MulInt(math.MinInt64)
	for name, test := range map[string]struct {
		got  Length
		want string
	}{
		"most":          {most, "9223372036.854775807 mm"},
		"most + step":   {most.Add(step), "9223372036.854775808 mm"},
		"most doubled":  {most.MulInt(2), "18446744073.709551614 mm"},
		"least":         {least, "-9223372036.854775808 mm"},
		"-least":        {least.Neg(), "9223372036.854775808 mm"},
		"|least|":       {least.Abs(), "9223372036.854775808 mm"},
		"least - step":  {least.Sub(step), "-9223372036.854775809 mm"},
		"0 - least":     {Length{}.Sub(least), "9223372036.854775808 mm"},
		"least × -1":    {least.MulInt(-1), "9223372036.854775808 mm"},
		"back again":    {most.Add(step).Sub(step), "9223372036.854775807 mm"},
		"2^62 by 2":     {step.MulInt(1 << 62).MulInt(2), "9223372036.854775808 mm"},
		"2^62 by -2":    {step.MulInt(1 << 62).MulInt(-2), "-9223372036.854775808 mm"},
		"most and hull": {Between(least, most).Neg().Hi(), "9223372036.854775808 mm"},
	} {
		if test.got.Exact() != test.want {
			t.Errorf("%s: %s, want %s", name, test.got.Exact(), test.want)
		}
	}
	for text, want := range map[string]string{
		least.Format(Millimetre, 9, HalfEven): "-9223372036.854775808 mm",
		least.Format(Nanometre, 0, HalfEven):  "-9223372036854776 nm",
		most.Format(Millimetre, 2, Ceiling):   "9223372036.86 mm",
		most.Format(Nanometre, 18, HalfEven):  "9223372036854775.807000000000000000 nm",
		most.Format(Metre, 0, TowardZero):     "9223372 m",
		least.Format(microinch, 0, HalfEven):  slowText(least.Rat(microinch), 0, HalfEven) + " µin",
	} {
		if text != want {
			t.Errorf("%s, want %s", text, want)
		}
	}
}

// A number of more digits than a machine integer holds is read in full, and not what is
// left of it: 2⁶⁴ + 1 nm is not 1 nm.
func TestParseBeyondMachineIntegers(t *testing.T) {
	for text, want := range map[string]string{ // in nm, worked by moving the point
		"18446744073709551617 nm":     "18446744073709551617",
		"18446744073709.551617 mm":    "18446744073709551617",
		"-18446744073709551.617 µm":   "-18446744073709551617",
		"1.8446744073709551617 mm":    "1844674.4073709551617",
		"9223372036854775808 nm":      "9223372036854775808", // 2⁶³
		"0.00000000000000000001 m":    "0.00000000001",
		"999999999999999999.9 nm":     "999999999999999999.9",
		"00000000000000000000.001 mm": "1000",
	} {
		if got := MustParseLength(text).Rat(Nanometre); got.Cmp(rat(want)) != 0 {
			t.Errorf("%s is %s nm, want %s", text, got.FloatString(12), want)
		}
	}
}
