package units

import (
	"math/big"

	"github.com/shopspring/decimal"
)

// A Quantity is an exact amount of one dimension: a length, a torque, a
// pressure. It is an immutable value; the zero Quantity is a measured zero (a
// reading that was not taken is a missing Quantity, never a zero one).
//
// The type parameter keeps dimensions apart, so that adding a torque to a
// length does not compile. What it cannot keep apart is two lengths that mean
// different things: a radius and a diameter are both a Length.
//
// Use the names Length, Angle, Torque and so on; Quantity itself is for
// writing functions that serve every dimension.
//
// Quantities are compared with Equal and Cmp. The operator == does not compile on
// them, nor can they be keys of a map, because two equal values can be held in
// different memory.
type Quantity[D Dimension] struct {
	_ [0]func(D) // keeps == from compiling, and one dimension from being converted to another

	// n counts steps of the dimension's grid (picometres for a length) when x
	// is nil. A value that is no whole number of steps, or too large, is x
	// steps instead. Every operation returns the form with x nil where it can,
	// so a value has one form only.
	n int64
	x *big.Rat
}

// fromSteps returns the quantity of r grid steps in its one form. It keeps r.
func fromSteps[D Dimension](r *big.Rat) Quantity[D] {
	if r.IsInt() && r.Num().IsInt64() {
		return Quantity[D]{n: r.Num().Int64()}
	}
	return Quantity[D]{x: bounded(r)}
}

// steps returns q in grid steps. The caller must not change it.
func (q Quantity[D]) steps() *big.Rat {
	if q.x != nil {
		return q.x
	}
	return new(big.Rat).SetInt64(q.n)
}

// Add returns q + r.
func (q Quantity[D]) Add(r Quantity[D]) Quantity[D] {
	s := q.n + r.n
	if q.x == nil && r.x == nil && (q.n^s)&(r.n^s) >= 0 {
		return Quantity[D]{n: s}
	}
	return fromSteps[D](new(big.Rat).Add(q.steps(), r.steps()))
}

// Sub returns q - r.
func (q Quantity[D]) Sub(r Quantity[D]) Quantity[D] {
	d := q.n - r.n
	if q.x == nil && r.x == nil && (q.n^r.n)&(q.n^d) >= 0 {
		return Quantity[D]{n: d}
	}
	return fromSteps[D](new(big.Rat).Sub(q.steps(), r.steps()))
}

// Neg returns -q.
func (q Quantity[D]) Neg() Quantity[D] { return Quantity[D]{}.Sub(q) }

// Abs returns the magnitude of q.
func (q Quantity[D]) Abs() Quantity[D] {
	if q.Sign() < 0 {
		return q.Neg()
	}
	return q
}

// Mul returns q times the pure number d, exactly.
func (q Quantity[D]) Mul(d decimal.Decimal) Quantity[D] {
	return q.MulRat(ratOfDecimal(d))
}

// MulInt returns q times k.
func (q Quantity[D]) MulInt(k int64) Quantity[D] {
	if q.x == nil {
		if p, ok := mulInt64(q.n, k); ok {
			return Quantity[D]{n: p}
		}
	}
	return q.MulRat(new(big.Rat).SetInt64(k))
}

// MulRat returns q times the pure number r, exactly. It is also how to divide:
// a third of q is q.MulRat(big.NewRat(1, 3)), and stays exact.
func (q Quantity[D]) MulRat(r *big.Rat) Quantity[D] {
	return fromSteps[D](new(big.Rat).Mul(q.steps(), r))
}

// half returns q / 2.
func (q Quantity[D]) half() Quantity[D] {
	if q.x == nil && q.n&1 == 0 {
		return Quantity[D]{n: q.n / 2}
	}
	return q.MulRat(big.NewRat(1, 2))
}

// Ratio returns q / r, exactly. It panics if r is zero.
func (q Quantity[D]) Ratio(r Quantity[D]) *big.Rat {
	if r.IsZero() {
		panic("units: Ratio to a zero quantity; test IsZero first")
	}
	return new(big.Rat).Quo(q.steps(), r.steps())
}

// Cmp returns -1 if q < r, 0 if they are equal, +1 if q > r.
func (q Quantity[D]) Cmp(r Quantity[D]) int {
	if q.x != nil || r.x != nil {
		return q.steps().Cmp(r.steps())
	}
	if q.n < r.n {
		return -1
	}
	if q.n > r.n {
		return 1
	}
	return 0
}

// Equal reports whether q and r are the same amount, however they were written:
// 1 in equals 25.4 mm.
func (q Quantity[D]) Equal(r Quantity[D]) bool { return q.Cmp(r) == 0 }

// Less reports whether q < r.
func (q Quantity[D]) Less(r Quantity[D]) bool { return q.Cmp(r) < 0 }

// Sign returns -1, 0 or +1 as q is negative, zero or positive.
func (q Quantity[D]) Sign() int {
	if q.x != nil {
		return q.x.Sign()
	}
	switch {
	case q.n < 0:
		return -1
	case q.n > 0:
		return 1
	}
	return 0
}

// IsZero reports whether q is zero.
func (q Quantity[D]) IsZero() bool { return q.Sign() == 0 }

// Min returns the smallest of its arguments.
func Min[D Dimension](q Quantity[D], rest ...Quantity[D]) Quantity[D] {
	for _, r := range rest {
		if r.Less(q) {
			q = r
		}
	}
	return q
}

// Max returns the largest of its arguments.
func Max[D Dimension](q Quantity[D], rest ...Quantity[D]) Quantity[D] {
	for _, r := range rest {
		if q.Less(r) {
			q = r
		}
	}
	return q
}

// Sum returns the sum of its arguments; of none, zero.
func Sum[D Dimension](terms ...Quantity[D]) Quantity[D] {
	var s Quantity[D]
	for _, q := range terms {
		s = s.Add(q)
	}
	return s
}
