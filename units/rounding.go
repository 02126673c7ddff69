package units

import (
	"fmt"
	"math/big"
	"math/bits"
	"slices"
	"strings"

	"github.com/shopspring/decimal"
)

// A Rounding is a rule for dropping digits.
type Rounding uint8

const (
	HalfEven     Rounding = iota // to nearest; exactly half goes to the even digit (the default of In)
	HalfAwayZero                 // to nearest; exactly half goes away from zero
	Floor                        // towards minus infinity: lower bounds outward, upper bounds inward
	Ceiling                      // towards plus infinity: upper bounds outward, lower bounds inward
	TowardZero                   // drop the digits
)

var roundingWords = [...]string{HalfEven: "half to even", HalfAwayZero: "half away from zero", Floor: "down", Ceiling: "up", TowardZero: "toward zero"}

// String returns the name of the rounding in words.
func (m Rounding) String() string {
	if int(m) >= len(roundingWords) {
		return "unknown rounding"
	}
	return roundingWords[m]
}

// MarshalText returns the words of String. It returns an error for a Rounding that is not
// one of the constants.
func (m Rounding) MarshalText() ([]byte, error) {
	if int(m) >= len(roundingWords) {
		return nil, notWritten("rounding", fmt.Sprint(uint8(m)), "use the package's constants")
	}
	return []byte(roundingWords[m]), nil
}

// UnmarshalText reads the words of String.
func (m *Rounding) UnmarshalText(text []byte) error {
	i := slices.Index(roundingWords[:], string(text))
	if i < 0 {
		return notWritten("rounding", fmt.Sprintf("%.40q", text), `write "`+strings.Join(roundingWords[:], `" or "`)+`"`)
	}
	*m = Rounding(i)
	return nil
}

// In returns q in the unit, rounded half to even to so many decimal places.
// Negative places round to tens, hundreds and so on.
func (q Value[D, E]) In(u Scale[D, E], places int32) decimal.Decimal {
	return q.Rounded(u, places, HalfEven)
}

// Rounded returns q in the unit, rounded in the way given to so many decimal
// places.
func (q Value[D, E]) Rounded(u Scale[D, E], places int32, m Rounding) decimal.Decimal {
	if n, ok := q.scaledInt64(u, places, m); ok {
		return decimal.New(n, -places)
	}
	return decimal.NewFromBigInt(roundRat(scaled(q.Rat(u), places), m), -places)
}

// scaledInt64 returns q × 10^places in the unit as a rounded integer, in machine
// arithmetic; ok is false where that does not fit.
func (q Value[D, E]) scaledInt64(u Scale[D, E], places int32, m Rounding) (n int64, ok bool) {
	n, _, ok = q.scaledTo(u, places, m)
	return n, ok
}

// scaledTo is scaledInt64, and says whether nothing was dropped.
func (q Value[D, E]) scaledTo(u Scale[D, E], places int32, m Rounding) (n int64, exact, ok bool) {
	def := u.def()
	f, ok := q.small()
	if !ok || def.whole <= 0 || places < 0 || int(places) >= len(powersOf10) {
		return 0, false, false
	}
	divisor := uint64(def.whole)
	if f.den > 1 {
		d, ok := mulInt64(int64(f.den), def.whole)
		if !ok {
			return 0, false, false
		}
		divisor = uint64(d)
	}
	hi, lo := bits.Mul64(magnitude(f.num), uint64(powersOf10[places]))
	if hi >= divisor {
		return 0, false, false
	}
	quotient, rest := bits.Div64(hi, lo, divisor)
	if rest != 0 && away(m, f.num < 0, quotient&1 == 1, compareHalf(rest, divisor)) {
		quotient++
	}
	n, ok = signed(0, quotient, f.num < 0)
	return n, rest == 0, ok
}

// compareHalf compares rest with half of divisor.
func compareHalf(rest, divisor uint64) int {
	switch other := divisor - rest; {
	case rest < other:
		return -1
	case rest > other:
		return 1
	}
	return 0
}

// away reports whether dropping a part that is not zero moves the last digit
// away from zero. half compares the part with a half.
func away(m Rounding, negative, odd bool, half int) bool {
	switch m {
	case HalfEven:
		return half > 0 || half == 0 && odd
	case HalfAwayZero:
		return half >= 0
	case Floor:
		return negative
	case Ceiling:
		return !negative
	case TowardZero:
		return false
	}
	panic("units: unknown Rounding; use the package's constants")
}

// roundRat rounds r to an integer.
func roundRat(r *big.Rat, m Rounding) *big.Int {
	quotient, rest := new(big.Int).QuoRem(r.Num(), r.Denom(), new(big.Int))
	if rest.Sign() == 0 {
		return quotient
	}
	half := rest.Abs(rest).Lsh(rest, 1).Cmp(r.Denom())
	if away(m, r.Sign() < 0, quotient.Bit(0) == 1, half) {
		quotient.Add(quotient, big.NewInt(int64(r.Sign())))
	}
	return quotient
}
