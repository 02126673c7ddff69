package measure

import (
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// A Series is several readings of the same size, taken one after another. Its
// statistics are exact.
type Series[D units.Dimension] struct {
	values []units.Quantity[D]
}

// NewSeries returns the series of the values given, in the order in which they
// were read. The error is of kind ErrTooFew for less than two.
func NewSeries[D units.Dimension](values ...units.Quantity[D]) (Series[D], error) {
	if len(values) < 2 {
		return Series[D]{}, &units.Error{Kind: ErrTooFew, Where: "repeated readings", Found: fmt.Sprint(len(values)),
			Fix: "give two or more; a single one is read with the instrument's uncertainty alone"}
	}
	return Series[D]{append([]units.Quantity[D](nil), values...)}, nil
}

// Len returns the number of readings.
func (s Series[D]) Len() int { return len(s.values) }

// Mean returns the arithmetic mean, exactly. It panics on the zero Series, as do
// the other statistics.
func (s Series[D]) Mean() units.Quantity[D] {
	return units.Sum(s.values...).MulRat(s.over(1))
}

// over returns k over the number of readings.
func (s Series[D]) over(k int64) *big.Rat {
	if len(s.values) < 2 {
		panic("measure: statistics of an empty Series; make it with NewSeries")
	}
	return big.NewRat(k, int64(len(s.values)))
}

// Variance returns the experimental variance in the square of the unit, exactly:
//
//	s² = Σ (xᵢ - x̄)² / (n - 1)
//
// JCGM 100:2008, 4.2.2.
func (s Series[D]) Variance(u units.Unit[D]) *big.Rat {
	sum := s.squares(u)
	return sum.Quo(sum, new(big.Rat).SetInt64(int64(len(s.values)-1)))
}

// Spread returns the experimental standard deviation s in the unit, rounded half
// to even to so many places.
func (s Series[D]) Spread(u units.Unit[D], places int32) decimal.Decimal {
	return decimal.NewFromBigInt(nearestRoot(s.Variance(u), places), -places)
}

// Autocorrelation returns the correlation of each reading with the next one,
// exactly; ok is false if all readings are equal. Readings that wander, because
// the part warms in the hand, are near +1; their scatter says little about
// the doubt of their mean.
//
//	r = Σ (xᵢ - x̄)(xᵢ₊₁ - x̄) / Σ (xᵢ - x̄)²
func (s Series[D]) Autocorrelation() (r *big.Rat, ok bool) {
	const u = 0
	squares := s.squares(u)
	if squares.Sign() == 0 {
		return nil, false
	}
	sum := new(big.Rat)
	mean := s.Mean()
	for i := range s.values[1:] {
		a, b := s.values[i].Sub(mean).Rat(u), s.values[i+1].Sub(mean).Rat(u)
		sum.Add(sum, a.Mul(a, b))
	}
	return sum.Quo(sum, squares), true
}

// squares returns Σ (xᵢ - x̄)² in the square of the unit.
func (s Series[D]) squares(u units.Unit[D]) *big.Rat {
	mean := s.Mean()
	sum := new(big.Rat)
	for _, v := range s.values {
		d := v.Sub(mean).Rat(u)
		sum.Add(sum, d.Mul(d, d))
	}
	return sum
}

// nearestRoot returns √r × 10^places rounded half to even. (The root of a
// rational is never exactly half-way unless it is rational; then even wins.)
func nearestRoot(r *big.Rat, places int32) *big.Int {
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(2*int64(places)), nil)
	num := new(big.Int).Mul(r.Num(), scale)
	// n is the root rounded down; the root lies above n + 1/2 when r·10^2p does
	// above (n + 1/2)².
	n := new(big.Int).Sqrt(new(big.Int).Quo(num, r.Denom()))
	middle := new(big.Rat).Add(new(big.Rat).SetInt(n), big.NewRat(1, 2))
	switch new(big.Rat).SetFrac(num, r.Denom()).Cmp(middle.Mul(middle, middle)) {
	case +1:
		n.Add(n, big.NewInt(1))
	case 0:
		if n.Bit(0) == 1 {
			n.Add(n, big.NewInt(1))
		}
	}
	return n
}
