package units

import (
	"fmt"
	"math/big"
)

// FormatInchFraction returns the length as the nearest fraction of an inch, and what
// that leaves unless it is zero: "1 3/64 in", "3/8 in - 0.0021 in". The denominator
// is at most finest, a power of two such as 64, and the fraction in lowest terms;
// exactly half goes to the even numerator. What is left is rounded to six places of
// an inch and marked "≈" if it has more. It panics if finest is no power of two, and
// on a length of more inches than an int64 counts.
func FormatInchFraction(l Length, finest int64) string {
	if finest < 1 || finest&(finest-1) != 0 {
		panic(fmt.Sprintf("units: inch fractions have a denominator that is a power of two, not %d; use 64", finest))
	}
	parts := roundRat(new(big.Rat).Mul(l.Abs().Rat(Inch), new(big.Rat).SetInt64(finest)), HalfEven)
	if !parts.IsInt64() {
		panic("units: a length beyond any inch rule")
	}
	whole, part := parts.Int64()/finest, big.NewRat(parts.Int64()%finest, finest) // in lowest terms
	shown := Inch.OfInt(whole).Add(Inch.OfRat(part))
	s := ""
	if l.Sign() < 0 && !shown.IsZero() {
		s, shown = "-", shown.Neg()
	}
	switch {
	case part.Sign() == 0:
		s += fmt.Sprintf("%d in", whole)
	case whole == 0:
		s += fmt.Sprintf("%s in", part)
	default:
		s += fmt.Sprintf("%d %s in", whole, part)
	}
	rest := l.Sub(shown)
	if rest.IsZero() {
		return s
	}
	sign := " + "
	if rest.Sign() < 0 {
		sign = " - "
	}
	return s + sign + digits(rest.Abs().Rat(Inch), stringPlaces) + " in"
}
