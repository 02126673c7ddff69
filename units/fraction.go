package units

import (
	"fmt"
	"math/big"
)

// An InchFraction is a length as inches and a fraction, and what that leaves.
type InchFraction struct {
	Negative    bool   `json:"negative"`
	Whole       int64  `json:"whole"`       // whole inches
	Numerator   int64  `json:"numerator"`   // 0 if there is no fraction; else odd, in lowest terms
	Denominator int64  `json:"denominator"` // a power of two
	Remainder   Length `json:"remainder"`   // the length minus the fraction: zero if it is exact
}

// UnmarshalJSON reads the exchange form. It refuses what is no inch fraction.
func (f *InchFraction) UnmarshalJSON(data []byte) error {
	var read InchFraction
	if err := DecodeObject(data, &read); err != nil {
		return err
	}
	if d := read.Denominator; read.Whole < 0 || d < 1 || d&(d-1) != 0 || read.Numerator < 0 || read.Numerator >= d || d > 1 && read.Numerator%2 == 0 {
		return notWritten("inch fraction", fmt.Sprintf("%d %d/%d", read.Whole, read.Numerator, read.Denominator), "write a fraction in lowest terms over a power of two")
	}
	*f = read
	return nil
}

// NearestInchFraction returns the nearest inch fraction with a denominator of at
// most finest, which is a power of two such as 64; exactly half goes to the even
// numerator. It panics on any other finest, or on a length of more inches than
// an int64 counts.
func NearestInchFraction(l Length, finest int64) InchFraction {
	if finest < 1 || finest&(finest-1) != 0 {
		panic(fmt.Sprintf("units: inch fractions have a denominator that is a power of two, not %d; use 64", finest))
	}
	scaled := new(big.Rat).Mul(l.Abs().Rat(Inch), new(big.Rat).SetInt64(finest))
	parts := roundRat(scaled, HalfEven)
	if !parts.IsInt64() {
		panic("units: a length beyond any inch rule")
	}
	f := InchFraction{
		Negative:    l.Sign() < 0,
		Whole:       parts.Int64() / finest,
		Numerator:   parts.Int64() % finest,
		Denominator: finest,
	}
	for f.Numerator%2 == 0 && f.Denominator > 1 {
		f.Numerator /= 2
		f.Denominator /= 2
	}
	if parts.Sign() == 0 {
		f.Negative = false
	}
	f.Remainder = l.Sub(f.Length())
	return f
}

// Length returns the fraction without its remainder.
func (f InchFraction) Length() Length {
	r := big.NewRat(f.Numerator, f.Denominator)
	l := Inch.OfInt(f.Whole).Add(Inch.OfRat(r))
	if f.Negative {
		return l.Neg()
	}
	return l
}

// String returns the fraction, and the remainder unless it is zero: "1 3/64 in",
// "3/8 in - 0.0021 in". A remainder of more than six places of an inch is
// rounded there and marked "≈".
func (f InchFraction) String() string {
	s := ""
	if f.Negative {
		s = "-"
	}
	switch {
	case f.Numerator == 0:
		s += fmt.Sprintf("%d in", f.Whole)
	case f.Whole == 0:
		s += fmt.Sprintf("%d/%d in", f.Numerator, f.Denominator)
	default:
		s += fmt.Sprintf("%d %d/%d in", f.Whole, f.Numerator, f.Denominator)
	}
	if f.Remainder.IsZero() {
		return s
	}
	sign := " + "
	if f.Remainder.Sign() < 0 {
		sign = " - "
	}
	return s + sign + digits(f.Remainder.Abs().Rat(Inch), stringPlaces) + " in"
}
