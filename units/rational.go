package units

import (
	"math/big"

	"github.com/shopspring/decimal"
)

// maxPlaces bounds the decimal places and exponents this package works with:
// far beyond any use, near enough that nothing large is ever built.
const maxPlaces = 1000

// maxBits bounds the ratio that a value may be held as, numerator and denominator
// together: near 20,000 digits, so that whatever is held can be written and read
// again. Only a long chain of exact steps that nobody rounds comes near it.
const maxBits = 1 << 16

// bounded returns r, which may be nil. It panics if r is too large to be held.
func bounded(r *big.Rat) *big.Rat {
	if !storable(r) {
		panic("units: an exact value of more than 65536 bits; round between the steps that made it, with Rounded, Inward or Outward")
	}
	return r
}

func storable(r *big.Rat) bool { return r == nil || r.Num().BitLen()+r.Denom().BitLen() <= maxBits }

// ratOfDecimal returns d exactly. It panics on an exponent that only a program
// can have made, since text is bounded where it is parsed.
func ratOfDecimal(d decimal.Decimal) *big.Rat {
	e := int64(d.Exponent())
	if e > maxPlaces || e < -maxPlaces {
		panic("units: a decimal with an exponent beyond ±1000; bound what comes from outside, or use Parse")
	}
	return d.Rat()
}

// mulRatio returns n·r where that is a whole number in machine arithmetic, the numerator
// of r being an int64; ok is false where it is not.
func mulRatio(n int64, r *big.Rat) (product int64, ok bool) {
	if r.IsInt() {
		return mulInt64(n, r.Num().Int64())
	}
	d := r.Denom()
	if !d.IsInt64() || n%d.Int64() != 0 { // r is in lowest terms, so nothing else divides
		return 0, false
	}
	return mulInt64(n/d.Int64(), r.Num().Int64())
}

// pow10 returns 10^|e|.
func pow10(e int64) *big.Int {
	if e < 0 {
		e = -e
	}
	return new(big.Int).Exp(big.NewInt(10), big.NewInt(e), nil)
}

// scaled returns r × 10^places.
func scaled(r *big.Rat, places int32) *big.Rat {
	if places > maxPlaces || places < -maxPlaces {
		panic("units: more than 1000 decimal places asked for")
	}
	f := new(big.Rat).SetInt(pow10(int64(places)))
	if places < 0 {
		return f.Quo(r, f)
	}
	return f.Mul(r, f)
}
