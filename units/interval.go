package units

import (
	"fmt"
	"math"
	"math/big"

	"github.com/shopspring/decimal"
)

// An Interval is a closed interval of quantities of one dimension: every value
// from Lo to Hi, both included. A reading is an interval, a tolerance is one,
// and an exact value is the interval that holds it alone.
//
// An interval may lack a bound ("<= 0.02 mm"): HasLo and HasHi tell, and Lo or
// Hi of the side that is missing panics. The zero Interval is empty: nothing was
// said. It has no bounds, holds no value, and lies within, below and above nothing;
// what is reckoned from it is empty as well.
//
// Interval arithmetic is exact, and pessimistic in one known way: it takes its
// operands to vary independently, so a.Sub(a) is not zero but ± the width of a.
//
// The sum of one interval without a lower bound and one without an upper bound has
// neither; it prints as "any length", and so on for the other dimensions.
type Interval[D Dimension] struct {
	_ [0]func(D) // keeps == from compiling, and one dimension from being converted to another

	// lo and hi count grid steps when x is small; else x has the bounds, or is nil
	// in the empty interval. Every operation returns the form with x small where it
	// can.
	lo, hi int64
	x      *bounds
}

// small marks an interval whose bounds are in lo and hi. Nobody looks into it.
var small = new(bounds)

// bounds are those of an interval that does not fit machine integers, in grid
// steps. A nil bound is missing.
type bounds struct {
	lo, hi *big.Rat
}

// fromBounds returns the interval in its one form.
func fromBounds[D Dimension](lo, hi *big.Rat) Interval[D] {
	if isInt64(lo) && isInt64(hi) {
		return Interval[D]{lo: lo.Num().Int64(), hi: hi.Num().Int64(), x: small}
	}
	return Interval[D]{x: &bounds{lo, hi}}
}

// IsEmpty reports whether a is the empty interval, the zero Interval.
func (a Interval[D]) IsEmpty() bool { return a.x == nil }

func isInt64(r *big.Rat) bool { return r != nil && r.IsInt() && r.Num().IsInt64() }

// bounds returns the bounds in grid steps of an interval that is not empty; a
// missing one is nil. The caller must not change them.
func (a Interval[D]) bounds() (lo, hi *big.Rat) {
	if a.x != small {
		return a.x.lo, a.x.hi
	}
	return new(big.Rat).SetInt64(a.lo), new(big.Rat).SetInt64(a.hi)
}

// NewInterval returns the interval from lo to hi. The error is an *OrderError,
// which wraps ErrOrder, if lo > hi.
func NewInterval[D Dimension](lo, hi Quantity[D]) (Interval[D], error) {
	if hi.Less(lo) {
		return Interval[D]{}, &OrderError{Lo: lo.String(), Hi: hi.String()}
	}
	if lo.x == nil && hi.x == nil {
		return Interval[D]{lo: lo.n, hi: hi.n, x: small}, nil
	}
	return fromBounds[D](lo.steps(), hi.steps()), nil
}

// MustInterval is NewInterval for bounds known to be in order; it panics if they
// are not.
func MustInterval[D Dimension](lo, hi Quantity[D]) Interval[D] { return must(NewInterval(lo, hi)) }

// An OrderError says that an interval's bounds are the wrong way round.
type OrderError struct {
	Lo, Hi string
}

func (e *OrderError) Error() string {
	return fmt.Sprintf("lower bound %s above upper bound %s; exchange them", e.Lo, e.Hi)
}

// Unwrap returns ErrOrder.
func (e *OrderError) Unwrap() error { return ErrOrder }

// Exactly returns the interval that holds q alone.
func Exactly[D Dimension](q Quantity[D]) Interval[D] {
	if q.x == nil {
		return Interval[D]{lo: q.n, hi: q.n, x: small}
	}
	return MustInterval(q, q)
}

// PlusMinus returns the interval q ± u. The sign of u does not matter.
func PlusMinus[D Dimension](q, u Quantity[D]) Interval[D] {
	u = u.Abs()
	lo, hi := q.Sub(u), q.Add(u)
	if lo.x == nil && hi.x == nil {
		return Interval[D]{lo: lo.n, hi: hi.n, x: small}
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

// HasLo reports whether a has a lower bound.
func (a Interval[D]) HasLo() bool { return a.x == small || a.x != nil && a.x.lo != nil }

// HasHi reports whether a has an upper bound.
func (a Interval[D]) HasHi() bool { return a.x == small || a.x != nil && a.x.hi != nil }

// Bounded reports whether a has both bounds.
func (a Interval[D]) Bounded() bool { return a.HasLo() && a.HasHi() }

// Lo returns the lower bound. It panics if there is none.
func (a Interval[D]) Lo() Quantity[D] {
	if a.x == small {
		return Quantity[D]{n: a.lo}
	}
	if !a.HasLo() {
		panic("units: Lo of an interval without a lower bound; ask HasLo first")
	}
	return fromSteps[D](a.x.lo)
}

// Hi returns the upper bound. It panics if there is none.
func (a Interval[D]) Hi() Quantity[D] {
	if a.x == small {
		return Quantity[D]{n: a.hi}
	}
	if !a.HasHi() {
		panic("units: Hi of an interval without an upper bound; ask HasHi first")
	}
	return fromSteps[D](a.x.hi)
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
	return a.x == small && a.lo == a.hi || a.Bounded() && a.Lo().Equal(a.Hi())
}

// Add returns the interval of every sum of a value of a and one of b.
func (a Interval[D]) Add(b Interval[D]) Interval[D] {
	lo, hi := a.lo+b.lo, a.hi+b.hi
	if a.x == small && b.x == small && (a.lo^lo)&(b.lo^lo) >= 0 && (a.hi^hi)&(b.hi^hi) >= 0 {
		return Interval[D]{lo: lo, hi: hi, x: small}
	}
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
	if a.x == small && b.x == small && ((a.lo^b.hi)&(a.lo^lo))|((a.hi^b.lo)&(a.hi^hi)) >= 0 {
		return Interval[D]{lo: lo, hi: hi, x: small}
	}
	return a.Add(b.Neg())
}

// Neg returns the interval of the negated values.
func (a Interval[D]) Neg() Interval[D] {
	if a.x == small && a.lo != math.MinInt64 && a.hi != math.MinInt64 {
		return Interval[D]{lo: -a.hi, hi: -a.lo, x: small}
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
	if a.IsEmpty() {
		return a
	}
	if r.Sign() == 0 {
		return Interval[D]{x: small}
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
	if a.x == small && q.x == nil {
		return a.lo <= q.n && q.n <= a.hi
	}
	return !a.IsEmpty() && !a.endsBelow(q) && !a.beginsAbove(q)
}

func (a Interval[D]) endsBelow(q Quantity[D]) bool   { return a.HasHi() && a.Hi().Less(q) }
func (a Interval[D]) beginsAbove(q Quantity[D]) bool { return a.HasLo() && q.Less(a.Lo()) }

// Within reports whether every value of a lies in b.
func (a Interval[D]) Within(b Interval[D]) bool {
	if a.x == small && b.x == small {
		return b.lo <= a.lo && a.hi <= b.hi
	}
	return a.withinSlow(b)
}

func (a Interval[D]) withinSlow(b Interval[D]) bool {
	if a.IsEmpty() || b.IsEmpty() {
		return false
	}
	if b.HasLo() && (!a.HasLo() || a.Lo().Less(b.Lo())) {
		return false
	}
	return !b.HasHi() || a.HasHi() && !b.Hi().Less(a.Hi())
}

// Below reports whether every value of a is less than every value of b.
func (a Interval[D]) Below(b Interval[D]) bool {
	if a.x == small && b.x == small {
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
// a value in common.
func (a Interval[D]) Gap(b Interval[D]) Quantity[D] {
	switch {
	case a.Below(b):
		return b.Lo().Sub(a.Hi())
	case b.Below(a):
		return a.Lo().Sub(b.Hi())
	}
	return Quantity[D]{}
}

// Hull returns the smallest interval that holds a and b.
func (a Interval[D]) Hull(b Interval[D]) Interval[D] {
	if a.x == small && b.x == small {
		return Interval[D]{lo: min(a.lo, b.lo), hi: max(a.hi, b.hi), x: small}
	}
	switch {
	case a.IsEmpty():
		return b
	case b.IsEmpty():
		return a
	}
	alo, ahi := a.bounds()
	blo, bhi := b.bounds()
	return fromBounds[D](pick(alo, blo, -1, nil), pick(ahi, bhi, +1, nil))
}

// Intersect returns the values that a and b have in common; ok is false if there
// are none.
func (a Interval[D]) Intersect(b Interval[D]) (common Interval[D], ok bool) {
	if !a.Overlaps(b) {
		return Interval[D]{}, false
	}
	if a.x == small && b.x == small {
		return Interval[D]{lo: max(a.lo, b.lo), hi: min(a.hi, b.hi), x: small}, true
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

// Equal reports whether a and b hold the same values. The empty interval equals
// itself alone.
func (a Interval[D]) Equal(b Interval[D]) bool {
	return a.Within(b) && b.Within(a) || a.IsEmpty() && b.IsEmpty()
}
