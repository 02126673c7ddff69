package clearance

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
// were read. The error is an *Error of kind ErrTooFew for less than two.
func NewSeries[D units.Dimension](values ...units.Quantity[D]) (Series[D], error) {
	if len(values) < 2 {
		return Series[D]{}, &Error{Kind: ErrTooFew, Where: "repeated readings", Found: fmt.Sprint(len(values)),
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
		panic("clearance: statistics of an empty Series; make it with NewSeries")
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
	middle := new(big.Rat).Add(new(big.Rat).SetInt(n), half())
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

// Repeat returns the reading of a size that was read several times with the
// instrument: the mean, with the scatter of the readings and the instrument's
// own uncertainty combined by root-sum-square,
//
//	u² = s²/n + (U/2)²
//
// with s their experimental standard deviation, n their number and U the
// instrument's expanded uncertainty. The interval uses Student's t with the
// effective degrees of freedom, cut to a whole number,
//
//	ν = u⁴ / ((s²/n)²/(n - 1) + (U/2)⁴/ν_U)
//
// of which the last term is missing if those behind U are unlimited (JCGM
// 100:2008, 4.2.3, 5.1.2 and G.4). Its half-width is rounded up; the mean stays
// exact. The error is an *Error: what Check returns, ErrTooFew, or ErrNotPositive
// for a value of zero or less.
func (in Instrument[D]) Repeat(values ...units.Quantity[D]) (Reading[D], error) {
	if err := in.Check(); err != nil {
		return Reading[D]{}, err
	}
	s, err := NewSeries(values...)
	if err != nil {
		return Reading[D]{}, err
	}
	for _, v := range values {
		if v.Sign() <= 0 {
			return Reading[D]{}, positive(in.label(), v)
		}
	}
	const u = 0
	n := int64(len(values))
	scatter := s.Variance(u)
	scatter.Quo(scatter, new(big.Rat).SetInt64(n))
	own := in.Uncertainty.MulRat(half()).Rat(u)
	own.Mul(own, own)
	total := new(big.Rat).Add(scatter, own)

	r := Reading[D]{how: byRepeats, name: in.label(), seen: &seen[D]{a: s.Mean(), count: len(values)}}
	r.bracket = units.Exactly(r.seen.a)
	r.expanded = expandedOfVariance[D](total)
	square := func(x *big.Rat) *big.Rat { return new(big.Rat).Mul(x, x) }
	shares := new(big.Rat).Quo(square(scatter), new(big.Rat).SetInt64(n-1))
	if in.Freedom > 0 {
		shares.Add(shares, new(big.Rat).Quo(square(own), new(big.Rat).SetInt64(int64(in.Freedom))))
	}
	if shares.Sign() > 0 {
		nu := shares.Quo(square(total), shares)
		if whole := new(big.Int).Quo(nu.Num(), nu.Denom()); whole.IsInt64() {
			r.freedom = freedom(int(whole.Int64()))
		}
	}
	return r, nil
}

// expandedOfVariance returns 2√v rounded up to outwardStep, for v in the square
// of the dimension's first unit.
func expandedOfVariance[D units.Dimension](v *big.Rat) units.Quantity[D] {
	const u = 0
	four := new(big.Rat).Mul(v, big.NewRat(4_000_000_000_000, 1)) // (2 × 10⁶)²
	q := new(big.Int).Quo(four.Num(), four.Denom())
	n := new(big.Int).Sqrt(q)
	if new(big.Rat).SetInt(new(big.Int).Mul(n, n)).Cmp(four) < 0 {
		n.Add(n, big.NewInt(1))
	}
	return units.Unit[D](u).OfRat(new(big.Rat).SetFrac(n, big.NewInt(1_000_000)))
}
