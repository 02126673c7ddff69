package units

import (
	"math/big"

	"github.com/shopspring/decimal"
)

// A Quantity is an exact amount of one dimension: a length, a torque, a
// pressure. Use the names Length, Angle, Torque and so on; Quantity itself is for
// functions that serve every dimension.
type Quantity[D Dimension] = Value[D, D]

// A Value is the exact value of a quantity of dimension D; the difference of two
// of them is a Quantity of dimension E. For every quantity but one the two are the
// same, and a Value is a Quantity. A Temperature is a point on a scale, and the
// difference of two is a TemperatureDifference.
//
// A Value is immutable. The zero Value is a measured zero, and the zero Temperature
// is absolute zero; a reading that was not taken is a missing Value, never a zero one.
//
// The type parameters keep dimensions apart: adding a torque to a length does not
// compile, nor does adding a temperature to another. They cannot keep apart two lengths
// of different meaning: a radius and a diameter are both a Length. A Value of two
// dimensions that do not belong together can be declared, but no function here makes one.
//
// Values are compared with Equal, Cmp and Less. The operator == does not compile on
// them, nor can they be keys of a map, because two equal values can be held in
// different memory.
type Value[D, E Dimension] struct {
	// The methods say Value[E, E] and not Quantity[E]: Go 1.26 deadlocks when another
	// package imports a method whose signature has an alias of the method's own type.

	_ [0]func(D, E) // keeps == from compiling, and one dimension from being converted to another

	// n counts steps of the dimension's grid (picometres for a length) when x
	// is nil. A value that is no whole number of steps, or too large, is x
	// steps instead. Every operation returns the form with x nil where it can,
	// so a value has one form only.
	n int64
	x *big.Rat
}

// fromSteps returns the value of r grid steps in its one form. It keeps r.
func fromSteps[D, E Dimension](r *big.Rat) Value[D, E] {
	if r.IsInt() && r.Num().IsInt64() {
		return Value[D, E]{n: r.Num().Int64()}
	}
	return Value[D, E]{x: bounded(r)}
}

// steps returns q in grid steps. The caller must not change it.
func (q Value[D, E]) steps() *big.Rat {
	if q.x != nil {
		return q.x
	}
	return new(big.Rat).SetInt64(q.n)
}

// Add returns q + r.
func (q Value[D, E]) Add(r Value[E, E]) Value[D, E] {
	s := q.n + r.n
	if q.x == nil && r.x == nil && (q.n^s)&(r.n^s) >= 0 {
		return Value[D, E]{n: s}
	}
	if a, ok := q.small(); ok {
		if b, ok := r.small(); ok {
			if sum, ok := a.plus(b); ok {
				return fromSmall[D, E](sum)
			}
		}
	}
	return fromSteps[D, E](new(big.Rat).Add(q.steps(), r.steps()))
}

// Sub returns q - r.
func (q Value[D, E]) Sub(r Value[D, E]) Value[E, E] {
	d := q.n - r.n
	if q.x == nil && r.x == nil && (q.n^r.n)&(q.n^d) >= 0 {
		return Value[E, E]{n: d}
	}
	if a, ok := q.small(); ok {
		if b, ok := r.small(); ok {
			if b, ok = b.neg(); ok {
				if difference, ok := a.plus(b); ok {
					return fromSmall[E, E](difference)
				}
			}
		}
	}
	return fromSteps[E, E](new(big.Rat).Sub(q.steps(), r.steps()))
}

// Neg returns -q. Neg, Abs and the products count a Temperature from absolute zero,
// and return a TemperatureDifference.
func (q Value[D, E]) Neg() Value[E, E] { return Value[D, E]{}.Sub(q) }

// Abs returns the magnitude of q.
func (q Value[D, E]) Abs() Value[E, E] {
	if q.Sign() < 0 {
		return q.Neg()
	}
	return Value[E, E]{n: q.n, x: q.x}
}

// Mul returns q times the pure number d, exactly.
func (q Value[D, E]) Mul(d decimal.Decimal) Value[E, E] {
	return q.MulRat(ratOfDecimal(d))
}

// MulInt returns q times k.
func (q Value[D, E]) MulInt(k int64) Value[E, E] {
	if q.x == nil {
		if p, ok := mulInt64(q.n, k); ok {
			return Value[E, E]{n: p}
		}
	}
	return q.MulRat(new(big.Rat).SetInt64(k))
}

// MulRat returns q times the pure number r, exactly. It is also how to divide:
// a third of q is q.MulRat(big.NewRat(1, 3)), and stays exact.
func (q Value[D, E]) MulRat(r *big.Rat) Value[E, E] {
	if q.x == nil && r.Num().IsInt64() {
		if n, ok := mulRatio(q.n, r); ok {
			return Value[E, E]{n: n}
		}
	}
	if a, ok := q.small(); ok {
		if b, ok := smallOf(r); ok {
			if product, ok := a.times(b); ok {
				return fromSmall[E, E](product)
			}
		}
	}
	return fromSteps[E, E](new(big.Rat).Mul(q.steps(), r))
}

// Times is MulRat for a Ratio. It is quicker where the product is a whole number of steps.
func (q Value[D, E]) Times(r Value[RatioDim, RatioDim]) Value[E, E] {
	if q.x == nil && r.x == nil {
		if n, ok := timesRatio(q.n, r.n); ok {
			return Value[E, E]{n: n}
		}
	}
	if a, ok := q.small(); ok {
		if b, ok := r.small(); ok {
			if b, ok = b.over(oneInSteps); ok {
				if product, ok := a.times(b); ok {
					return fromSmall[E, E](product)
				}
			}
		}
	}
	return q.MulRat(r.Rat(One))
}

// half returns q / 2.
func (q Value[D, E]) half() Value[E, E] {
	if q.x == nil && q.n&1 == 0 {
		return Value[E, E]{n: q.n / 2}
	}
	return q.MulRat(big.NewRat(1, 2))
}

// Ratio returns q / r, exactly. It panics if r is zero.
func (q Value[D, E]) Ratio(r Value[D, E]) *big.Rat {
	if r.IsZero() {
		panic("units: Ratio to a zero quantity; test IsZero first")
	}
	return new(big.Rat).Quo(q.steps(), r.steps())
}

// Cmp returns -1 if q < r, 0 if they are equal, +1 if q > r.
func (q Value[D, E]) Cmp(r Value[D, E]) int {
	if q.x != nil || r.x != nil {
		if a, ok := q.small(); ok {
			if b, ok := r.small(); ok {
				return a.cmp(b)
			}
		}
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
func (q Value[D, E]) Equal(r Value[D, E]) bool {
	return q.n == r.n && q.x == r.x || q.Cmp(r) == 0
}

// Less reports whether q < r.
func (q Value[D, E]) Less(r Value[D, E]) bool { return q.Cmp(r) < 0 }

// Sign returns -1, 0 or +1 as q is negative, zero or positive.
func (q Value[D, E]) Sign() int {
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
func (q Value[D, E]) IsZero() bool { return q.Sign() == 0 }

// Min returns the smallest of its arguments.
func Min[D, E Dimension](q Value[D, E], rest ...Value[D, E]) Value[D, E] {
	for _, r := range rest {
		if r.Less(q) {
			q = r
		}
	}
	return q
}

// Max returns the largest of its arguments.
func Max[D, E Dimension](q Value[D, E], rest ...Value[D, E]) Value[D, E] {
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
