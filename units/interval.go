package units

import (
	"math"
	"math/big"

	"github.com/shopspring/decimal"
)

// An Interval is a closed interval of quantities of one dimension: every value
// from Lo to Hi, both included. A reading is an interval, a tolerance is one,
// and an exact value is the interval that holds it alone.
//
// The zero Interval is empty: it stands for what was not measured, not typed or
// not found, and is never 0..0. It holds no value and proves nothing: Contains,
// Within, Below and Overlaps are false of it on either side, so that no verdict
// can rest on it. What is computed from it is empty too (Add, Sub, Neg, Mul, Hull
// and so on), or an error that wraps ErrEmpty; Lo, Hi, Width, Mid, Radius and Gap
// panic. It prints as "none" and travels in JSON as null. IsEmpty tells.
//
// An interval may lack a bound ("<= 0.02 mm"): HasLo and HasHi tell, and Lo or
// Hi of the side that is missing panics.
//
// Interval arithmetic is exact, and pessimistic in one known way: it takes its
// operands to vary independently, so a.Sub(a) is not zero but ± the width of a.
//
// The sum of one interval without a lower bound and one without an upper bound has
// neither; it prints as "any length", and so on for the other dimensions.
type Interval[D Dimension] struct {
	_ [0]func(D) // keeps == from compiling, and one dimension from being converted to another

	// lo and hi count grid steps when x is &grid; else x has the bounds. It is nil
	// in the empty interval alone. Every operation returns the form with x &grid
	// where it can.
	lo, hi int64
	x      *bounds
}

// bounds are those of an interval that does not fit machine integers, in grid
// steps. A nil bound is missing.
type bounds struct {
	lo, hi *big.Rat
}

// grid marks an interval whose bounds are machine integers. Only its address
// is used.
var grid bounds

// fromGrid returns the interval from lo to hi, in grid steps.
func fromGrid[D Dimension](lo, hi int64) Interval[D] { return Interval[D]{lo: lo, hi: hi, x: &grid} }

// fromBounds returns the interval in its one form.
func fromBounds[D Dimension](lo, hi *big.Rat) Interval[D] {
	if isInt64(lo) && isInt64(hi) {
		return fromGrid[D](lo.Num().Int64(), hi.Num().Int64())
	}
	return Interval[D]{x: &bounds{bounded(lo), bounded(hi)}}
}

func isInt64(r *big.Rat) bool { return r != nil && r.IsInt() && r.Num().IsInt64() }

// bounds returns the interval's bounds in grid steps; a missing one is nil. The
// caller must not change them, and must have asked whether a is empty.
func (a Interval[D]) bounds() (lo, hi *big.Rat) {
	if a.x != &grid {
		return a.x.lo, a.x.hi
	}
	return new(big.Rat).SetInt64(a.lo), new(big.Rat).SetInt64(a.hi)
}

// IsEmpty reports whether a is the zero Interval, which holds no value.
func (a Interval[D]) IsEmpty() bool { return a.x == nil }

// NewInterval returns the interval from lo to hi. The error is an *Error of
// kind ErrOrder if lo > hi.
func NewInterval[D Dimension](lo, hi Quantity[D]) (Interval[D], error) {
	if hi.Less(lo) {
		return Interval[D]{}, &Error{Kind: ErrOrder, Found: lo.String() + ".." + hi.String(), Fix: "exchange them"}
	}
	if lo.x == nil && hi.x == nil {
		return fromGrid[D](lo.n, hi.n), nil
	}
	return fromBounds[D](lo.steps(), hi.steps()), nil
}

// MustInterval is NewInterval for bounds known to be in order; it panics if they
// are not.
func MustInterval[D Dimension](lo, hi Quantity[D]) Interval[D] { return must(NewInterval(lo, hi)) }

// Exactly returns the interval that holds q alone.
func Exactly[D Dimension](q Quantity[D]) Interval[D] {
	if q.x == nil {
		return fromGrid[D](q.n, q.n)
	}
	return MustInterval(q, q)
}

// PlusMinus returns the interval q ± u. The sign of u does not matter.
func PlusMinus[D Dimension](q, u Quantity[D]) Interval[D] {
	u = u.Abs()
	lo, hi := q.Sub(u), q.Add(u)
	if lo.x == nil && hi.x == nil {
		return fromGrid[D](lo.n, hi.n)
	}
	return MustInterval(lo, hi)
}

// Between returns the smallest interval that holds a and b, in whatever order.
func Between[D Dimension](a, b Quantity[D]) Interval[D] { return MustInterval(Min(a, b), Max(a, b)) }

// AtMost returns the interval of everything up to hi.
func AtMost[D Dimension](hi Quantity[D]) Interval[D] { return Interval[D]{x: &bounds{nil, hi.steps()}} }

// AtLeast returns the interval of everything from lo up.
func AtLeast[D Dimension](lo Quantity[D]) Interval[D] {
	return Interval[D]{x: &bounds{lo.steps(), nil}}
}

// HasLo reports whether a has a lower bound. The empty interval has none.
func (a Interval[D]) HasLo() bool { return a.x == &grid || a.x != nil && a.x.lo != nil }

// HasHi reports whether a has an upper bound. The empty interval has none.
func (a Interval[D]) HasHi() bool { return a.x == &grid || a.x != nil && a.x.hi != nil }

// Bounded reports whether a has both bounds.
func (a Interval[D]) Bounded() bool { return a.HasLo() && a.HasHi() }

// Lo returns the lower bound. It panics if there is none.
func (a Interval[D]) Lo() Quantity[D] {
	if a.x == &grid {
		return Quantity[D]{n: a.lo}
	}
	if !a.HasLo() {
		a.panicNoBound("Lo", "lower", "HasLo")
	}
	return fromSteps[D](a.x.lo)
}

// Hi returns the upper bound. It panics if there is none.
func (a Interval[D]) Hi() Quantity[D] {
	if a.x == &grid {
		return Quantity[D]{n: a.hi}
	}
	if !a.HasHi() {
		a.panicNoBound("Hi", "upper", "HasHi")
	}
	return fromSteps[D](a.x.hi)
}

func (a Interval[D]) panicNoBound(method, side, ask string) {
	if a.IsEmpty() {
		panic("units: " + method + " of an empty interval; ask IsEmpty first")
	}
	panic("units: " + method + " of an interval without " + withArticle(side) + " bound; ask " + ask + " first")
}

// Width returns Hi - Lo. It panics if a bound is missing.
func (a Interval[D]) Width() Quantity[D] { return a.Hi().Sub(a.Lo()) }

// Mid returns the middle, exactly. It panics if a bound is missing.
func (a Interval[D]) Mid() Quantity[D] { return a.Lo().Add(a.Hi()).half() }

// Radius returns half the width, exactly: the u of q ± u. It panics if a bound
// is missing.
func (a Interval[D]) Radius() Quantity[D] { return a.Width().half() }

// IsPoint reports whether a holds one value alone.
func (a Interval[D]) IsPoint() bool {
	return a.Bounded() && a.Lo().Equal(a.Hi())
}

// Add returns the interval of every sum of a value of a and one of b.
func (a Interval[D]) Add(b Interval[D]) Interval[D] {
	lo, hi := a.lo+b.lo, a.hi+b.hi
	if a.x == &grid && b.x == &grid && ((a.lo^lo)&(b.lo^lo))|((a.hi^hi)&(b.hi^hi)) >= 0 {
		return Interval[D]{lo: lo, hi: hi, x: a.x}
	}
	return a.addSlow(b)
}

func (a Interval[D]) addSlow(b Interval[D]) Interval[D] {
	if a.IsEmpty() || b.IsEmpty() {
		return Interval[D]{}
	}
	alo, ahi := a.bounds()
	blo, bhi := b.bounds()
	return fromBounds[D](sum(alo, blo), sum(ahi, bhi))
}

// Sub returns the interval of every difference of a value of a and one of b.
func (a Interval[D]) Sub(b Interval[D]) Interval[D] {
	lo, hi := a.lo-b.hi, a.hi-b.lo
	if a.x == &grid && b.x == &grid && ((a.lo^b.hi)&(a.lo^lo))|((a.hi^b.lo)&(a.hi^hi)) >= 0 {
		return Interval[D]{lo: lo, hi: hi, x: a.x}
	}
	return a.subSlow(b)
}

func (a Interval[D]) subSlow(b Interval[D]) Interval[D] { return a.addSlow(b.Neg()) }

// Neg returns the interval of the negated values.
func (a Interval[D]) Neg() Interval[D] {
	if a.x == &grid && a.lo != math.MinInt64 && a.hi != math.MinInt64 {
		return fromGrid[D](-a.hi, -a.lo)
	}
	if a.IsEmpty() {
		return a
	}
	lo, hi := a.bounds()
	return fromBounds[D](negated(hi), negated(lo))
}

// Mul returns the interval of every value of a times the pure number d.
func (a Interval[D]) Mul(d decimal.Decimal) Interval[D] { return a.MulRat(ratOfDecimal(d)) }

// MulRat returns the interval of every value of a times r.
func (a Interval[D]) MulRat(r *big.Rat) Interval[D] {
	switch {
	case a.IsEmpty():
		return a
	case r.Sign() == 0:
		return fromGrid[D](0, 0)
	}
	lo, hi := a.bounds()
	if r.Sign() < 0 {
		lo, hi = hi, lo
	}
	return fromBounds[D](product(lo, r), product(hi, r))
}

// Shift returns a with q added to both bounds.
func (a Interval[D]) Shift(q Quantity[D]) Interval[D] { return a.Add(Exactly(q)) }

// sum, negated and product work on bounds, of which a missing one stays missing.

func sum(a, b *big.Rat) *big.Rat {
	if a == nil || b == nil {
		return nil
	}
	return new(big.Rat).Add(a, b)
}

func negated(a *big.Rat) *big.Rat {
	if a == nil {
		return nil
	}
	return new(big.Rat).Neg(a)
}

func product(a, b *big.Rat) *big.Rat {
	if a == nil {
		return nil
	}
	return new(big.Rat).Mul(a, b)
}

// Contains reports whether q lies in a, bounds included.
func (a Interval[D]) Contains(q Quantity[D]) bool {
	if a.x == &grid && q.x == nil {
		return a.lo <= q.n && q.n <= a.hi
	}
	return !a.IsEmpty() && !(a.HasHi() && a.Hi().Less(q)) && !(a.HasLo() && q.Less(a.Lo()))
}

// Within reports whether every value of a lies in b, and there is one: an empty
// interval, which was not measured, is within nothing.
func (a Interval[D]) Within(b Interval[D]) bool {
	if a.x == b.x { // one form, or one and the same interval, whose lo and hi are zero
		return b.lo <= a.lo && a.hi <= b.hi && a.x != nil
	}
	return a.withinSlow(b)
}

func (a Interval[D]) withinSlow(b Interval[D]) bool {
	if a.IsEmpty() || b.IsEmpty() || b.HasLo() && (!a.HasLo() || a.Lo().Less(b.Lo())) {
		return false
	}
	return !b.HasHi() || a.HasHi() && !b.Hi().Less(a.Hi())
}

// Below reports whether every value of a is less than every value of b, and
// there are such values.
func (a Interval[D]) Below(b Interval[D]) bool {
	if a.x == b.x { // as in Within
		return a.hi < b.lo
	}
	return a.belowSlow(b)
}

func (a Interval[D]) belowSlow(b Interval[D]) bool {
	return a.HasHi() && b.HasLo() && a.Hi().Less(b.Lo())
}

// Overlaps reports whether a and b have a value in common.
func (a Interval[D]) Overlaps(b Interval[D]) bool {
	return !a.IsEmpty() && !b.IsEmpty() && !a.Below(b) && !b.Below(a)
}

// Gap returns the distance from the nearer bounds of a and b: zero if they have
// a value in common. It panics if a or b is empty.
func (a Interval[D]) Gap(b Interval[D]) Quantity[D] {
	switch {
	case a.IsEmpty() || b.IsEmpty():
		panic("units: Gap to an empty interval; ask IsEmpty first")
	case a.Below(b):
		return b.Lo().Sub(a.Hi())
	case b.Below(a):
		return a.Lo().Sub(b.Hi())
	}
	return Quantity[D]{}
}

// Hull returns the smallest interval that holds a and b. It is empty if one of
// them is: what was not measured may lie anywhere.
func (a Interval[D]) Hull(b Interval[D]) Interval[D] {
	if a.x == &grid && b.x == &grid {
		return fromGrid[D](min(a.lo, b.lo), max(a.hi, b.hi))
	}
	if a.IsEmpty() || b.IsEmpty() {
		return Interval[D]{}
	}
	alo, ahi := a.bounds()
	blo, bhi := b.bounds()
	return fromBounds[D](pick(alo, blo, -1, nil), pick(ahi, bhi, +1, nil))
}

// Intersect returns the values that a and b have in common; ok is false, and the
// interval empty, if there are none.
func (a Interval[D]) Intersect(b Interval[D]) (common Interval[D], ok bool) {
	if !a.Overlaps(b) {
		return Interval[D]{}, false
	}
	if a.x == &grid && b.x == &grid {
		return fromGrid[D](max(a.lo, b.lo), min(a.hi, b.hi)), true
	}
	alo, ahi := a.bounds()
	blo, bhi := b.bounds()
	return fromBounds[D](pick(alo, blo, +1, present(alo, blo)), pick(ahi, bhi, -1, present(ahi, bhi))), true
}

// pick returns the bound that Cmp finds to be on the side of sign; if one is
// missing, missing.
func pick(a, b *big.Rat, sign int, missing *big.Rat) *big.Rat {
	switch {
	case a == nil || b == nil:
		return missing
	case a.Cmp(b) == sign:
		return a
	}
	return b
}

// present returns the first bound that is not missing.
func present(a, b *big.Rat) *big.Rat {
	if a != nil {
		return a
	}
	return b
}

// Equal reports whether a and b hold the same values. Empty equals empty alone.
func (a Interval[D]) Equal(b Interval[D]) bool {
	return a.IsEmpty() && b.IsEmpty() || a.Within(b) && b.Within(a)
}
