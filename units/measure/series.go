package measure

import (
	"math/big"

	"example.com/closefit/units"
)

// A Series is several readings of the same size, in the order in which they were
// read. Its statistics are exact. Mean panics on an empty one, Variance and
// Autocorrelation on fewer than two readings.
type Series[D units.Dimension] []units.Quantity[D]

// Mean returns the arithmetic mean.
func (s Series[D]) Mean() units.Quantity[D] {
	if len(s) == 0 {
		panic("measure: statistics of an empty Series; give its readings")
	}
	return units.Sum(s...).MulRat(big.NewRat(1, int64(len(s))))
}

// Variance returns the experimental variance in the square of the unit; its root is
// the experimental standard deviation:
//
//	s² = Σ (xᵢ - x̄)² / (n - 1)
//
// JCGM 100:2008, 4.2.2.
func (s Series[D]) Variance(u units.Unit[D]) *big.Rat {
	if len(s) < 2 {
		panic("measure: a variance of fewer than two readings")
	}
	sum := s.products(0, u)
	return sum.Quo(sum, big.NewRat(int64(len(s)-1), 1))
}

// Autocorrelation returns the correlation of each reading with the next one; ok is
// false if all readings are equal. Readings that wander, because the part warms in the
// hand, are near +1; their scatter says little about the doubt of their mean.
//
//	r = Σ (xᵢ - x̄)(xᵢ₊₁ - x̄) / Σ (xᵢ - x̄)²
func (s Series[D]) Autocorrelation() (r *big.Rat, ok bool) {
	if s.Variance(0).Sign() == 0 {
		return nil, false
	}
	sum := s.products(1, 0)
	return sum.Quo(sum, s.products(0, 0)), true
}

// products returns Σ (xᵢ - x̄)(xᵢ₊ₖ - x̄) in the square of the unit.
func (s Series[D]) products(k int, u units.Unit[D]) *big.Rat {
	mean, sum := s.Mean(), new(big.Rat)
	for i := range s[k:] {
		a, b := s[i].Sub(mean).Rat(u), s[i+k].Sub(mean).Rat(u)
		sum.Add(sum, a.Mul(a, b))
	}
	return sum
}
