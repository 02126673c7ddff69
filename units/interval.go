package units

import (
	"math"
	"math/big"
)

// An Interval is a closed interval of quantities of one dimension. LengthInterval,
// TorqueInterval and so on are its names; Interval itself is for functions that serve
// every dimension.
type Interval[D Dimension] = ClosedInterval[D, D]

// A ClosedInterval holds every Value[D, E] from Lo to Hi, both included. A reading is
// an interval, a tolerance is one, and an exact value is the interval that holds it
// alone. An interval of temperatures takes an interval of differences in Add, as a
// Temperature takes a difference.
//
// The zero ClosedInterval is empty: it stands for a size that nobody measured, typed or
// found, and is never 0..0. It holds no value and proves nothing: Contains, Within, Below
// and Overlaps are false of it on either side, so that no verdict can rest on it. Its
// sums, products and hulls are empty too (Add, Sub, Neg, MulRat, Hull and so on), or an
// error that wraps ErrEmpty; Lo, Hi, Width, Mid and Radius panic. It prints as "none" and
// travels in JSON as null. IsEmpty tells.
//
// An interval may lack a bound ("<= 0.02 mm"): HasLo and HasHi tell, and Lo or
// Hi of the side that is missing panics.
//
// Interval arithmetic is exact, and pessimistic in one known way: it takes its
// operands to vary independently, so a.Sub(a) is not zero but ± the width of a.
//
// The sum of one interval without a lower bound and one without an upper bound has
// neither; it prints as "any length", and so on for the other dimensions.
type ClosedInterval[D, E Dimension] struct {
	_ [0]func(D, E) // keeps == from compiling, and one dimension from being converted to another

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
func fromGrid[D, E Dimension](lo, hi int64) ClosedInterval[D, E] {
	return ClosedInterval[D, E]{lo: lo, hi: hi, x: &grid}
}

// fromBounds returns the interval in its one form.
func fromBounds[D, E Dimension](lo, hi *big.Rat) ClosedInterval[D, E] {
	if isInt64(lo) && isInt64(hi) {
		return fromGrid[D, E](lo.Num().Int64(), hi.Num().Int64())
	}
	return ClosedInterval[D, E]{x: &bounds{bounded(lo), bounded(hi)}}
}

func isInt64(r *big.Rat) bool { return r != nil && r.IsInt() && r.Num().IsInt64() }

// bounds returns the interval's bounds in grid steps; a missing one is nil. The
// caller must not change them, and must have asked whether a is empty.
func (a ClosedInterval[D, E]) bounds() (lo, hi *big.Rat) {
	if a.x != &grid {
		return a.x.lo, a.x.hi
	}
	return new(big.Rat).SetInt64(a.lo), new(big.Rat).SetInt64(a.hi)
}

// IsEmpty reports whether a is the zero Interval, which holds no value.
func (a ClosedInterval[D, E]) IsEmpty() bool { return a.x == nil }

// NewInterval returns the interval from lo to hi. The error is an *Error of
// kind ErrOrder if lo > hi.
func NewInterval[D, E Dimension](lo, hi Value[D, E]) (ClosedInterval[D, E], error) {
	if hi.Less(lo) {
		return ClosedInterval[D, E]{}, &Error{Kind: ErrOrder, Found: lo.String() + ".." + hi.String(), Fix: "exchange them"}
	}
	if lo.x == nil && hi.x == nil {
		return fromGrid[D, E](lo.n, hi.n), nil
	}
	return fromBounds[D, E](lo.steps(), hi.steps()), nil
}

// MustInterval is NewInterval for bounds known to be in order; it panics if they
// are not.
func MustInterval[D, E Dimension](lo, hi Value[D, E]) ClosedInterval[D, E] {
	return must(NewInterval(lo, hi))
}

// Exactly returns the interval that holds q alone.
func Exactly[D, E Dimension](q Value[D, E]) ClosedInterval[D, E] {
	if q.x == nil {
		return fromGrid[D, E](q.n, q.n)
	}
	return fromBounds[D, E](q.x, q.x)
}

// PlusMinus returns the interval q ± u. The sign of u does not matter.
func PlusMinus[D, E Dimension](q Value[D, E], u Value[E, E]) ClosedInterval[D, E] {
	u = u.Abs()
	return Exactly(q).Add(MustInterval(u.Neg(), u))
}

// Between returns the smallest interval that holds a and b, in whatever order.
func Between[D, E Dimension](a, b Value[D, E]) ClosedInterval[D, E] {
	return MustInterval(Min(a, b), Max(a, b))
}

// AtMost returns the interval of everything up to hi.
func AtMost[D, E Dimension](hi Value[D, E]) ClosedInterval[D, E] {
	return ClosedInterval[D, E]{x: &bounds{nil, hi.steps()}}
}

// AtLeast returns the interval of everything from lo up.
func AtLeast[D, E Dimension](lo Value[D, E]) ClosedInterval[D, E] {
	return ClosedInterval[D, E]{x: &bounds{lo.steps(), nil}}
}

// HasLo reports whether a has a lower bound. The empty interval has none.
func (a ClosedInterval[D, E]) HasLo() bool { return a.x == &grid || a.x != nil && a.x.lo != nil }

// HasHi reports whether a has an upper bound. The empty interval has none.
func (a ClosedInterval[D, E]) HasHi() bool { return a.x == &grid || a.x != nil && a.x.hi != nil }

// Bounded reports whether a has both bounds.
func (a ClosedInterval[D, E]) Bounded() bool { return a.HasLo() && a.HasHi() }

// Lo returns the lower bound. It panics if there is none.
func (a ClosedInterval[D, E]) Lo() Value[D, E] {
	if a.x == &grid {
		return Value[D, E]{n: a.lo}
	}
	if !a.HasLo() {
		a.panicNoBound("Lo", "lower", "HasLo")
	}
	return fromSteps[D, E](a.x.lo)
}

// Hi returns the upper bound. It panics if there is none.
func (a ClosedInterval[D, E]) Hi() Value[D, E] {
	if a.x == &grid {
		return Value[D, E]{n: a.hi}
	}
	if !a.HasHi() {
		a.panicNoBound("Hi", "upper", "HasHi")
	}
	return fromSteps[D, E](a.x.hi)
}

func (a ClosedInterval[D, E]) panicNoBound(method, side, ask string) {
	if a.IsEmpty() {
		panic("units: " + method + " of an empty interval; ask IsEmpty first")
	}
	panic("units: " + method + " of an interval without " + withArticle(side) + " bound; ask " + ask + " first")
}

// Width returns Hi - Lo. It panics if a bound is missing.
func (a ClosedInterval[D, E]) Width() Value[E, E] { return a.Hi().Sub(a.Lo()) }

// Mid returns the middle, exactly. It panics if a bound is missing.
func (a ClosedInterval[D, E]) Mid() Value[D, E] { return a.Lo().Add(a.Radius()) }

// Radius returns half the width, exactly: the u of q ± u. It panics if a bound
// is missing.
func (a ClosedInterval[D, E]) Radius() Value[E, E] { return a.Width().half() }

// IsPoint reports whether a holds one value alone.
func (a ClosedInterval[D, E]) IsPoint() bool {
	return a.Bounded() && a.Lo().Equal(a.Hi())
}

// Add returns the interval of every sum of a value of a and one of b.
func (a ClosedInterval[D, E]) Add(b ClosedInterval[E, E]) ClosedInterval[D, E] {
	lo, hi := a.lo+b.lo, a.hi+b.hi
	if a.x == &grid && b.x == &grid && ((a.lo^lo)&(b.lo^lo))|((a.hi^hi)&(b.hi^hi)) >= 0 {
		return ClosedInterval[D, E]{lo: lo, hi: hi, x: a.x}
	}
	return a.addSlow(b)
}

func (a ClosedInterval[D, E]) addSlow(b ClosedInterval[E, E]) ClosedInterval[D, E] {
	if a.IsEmpty() || b.IsEmpty() {
		return ClosedInterval[D, E]{}
	}
	if alo, ahi, ok := a.smalls(); ok {
		if blo, bhi, ok := b.smalls(); ok {
			lo, ok := alo.plus(blo)
			hi, too := ahi.plus(bhi)
			if ok && too {
				return fromSmalls[D, E](lo, hi)
			}
		}
	}
	alo, ahi := a.bounds()
	blo, bhi := b.bounds()
	return fromBounds[D, E](sum(alo, blo), sum(ahi, bhi))
}

// Sub returns the interval of every difference of a value of a and one of b.
func (a ClosedInterval[D, E]) Sub(b ClosedInterval[D, E]) ClosedInterval[E, E] {
	lo, hi := a.lo-b.hi, a.hi-b.lo
	if a.x == &grid && b.x == &grid && ((a.lo^b.hi)&(a.lo^lo))|((a.hi^b.lo)&(a.hi^hi)) >= 0 {
		return ClosedInterval[E, E]{lo: lo, hi: hi, x: a.x}
	}
	return a.subSlow(b)
}

func (a ClosedInterval[D, E]) subSlow(b ClosedInterval[D, E]) ClosedInterval[E, E] {
	return b.Neg().addSlow(ClosedInterval[E, E]{lo: a.lo, hi: a.hi, x: a.x})
}

// Neg returns the interval of the negated values.
func (a ClosedInterval[D, E]) Neg() ClosedInterval[E, E] {
	if a.x == &grid && a.lo != math.MinInt64 && a.hi != math.MinInt64 {
		return fromGrid[E, E](-a.hi, -a.lo)
	}
	if a.IsEmpty() {
		return ClosedInterval[E, E]{}
	}
	if lo, hi, ok := a.smalls(); ok {
		hi, ok := hi.neg()
		lo, too := lo.neg()
		if ok && too {
			return fromSmalls[E, E](hi, lo)
		}
	}
	lo, hi := a.bounds()
	return fromBounds[E, E](negated(hi), negated(lo))
}

// MulRat returns the interval of every value of a times r.
func (a ClosedInterval[D, E]) MulRat(r *big.Rat) ClosedInterval[E, E] {
	switch {
	case a.IsEmpty():
		return ClosedInterval[E, E]{}
	case r.Sign() == 0:
		return fromGrid[E, E](0, 0)
	case a.x == &grid && r.Num().IsInt64():
		lo, exact := mulRatio(a.lo, r)
		hi, too := mulRatio(a.hi, r)
		if exact && too {
			return fromGrid[E, E](min(lo, hi), max(lo, hi))
		}
	}
	if f, ok := smallOf(r); ok {
		if lo, hi, ok := a.timesSmall(f); ok {
			return fromSmalls[E, E](lo, hi)
		}
	}
	lo, hi := a.bounds()
	if r.Sign() < 0 {
		lo, hi = hi, lo
	}
	return fromBounds[E, E](product(lo, r), product(hi, r))
}

// Times is MulRat for a Ratio. It is quicker where the products are whole numbers of steps.
func (a ClosedInterval[D, E]) Times(r Value[RatioDim, RatioDim]) ClosedInterval[E, E] {
	if a.x == &grid && r.x == nil {
		lo, exact := timesRatio(a.lo, r.n)
		hi, too := timesRatio(a.hi, r.n)
		if exact && too {
			return fromGrid[E, E](min(lo, hi), max(lo, hi))
		}
	}
	if f, ok := r.small(); ok && !r.IsZero() {
		if f, ok = f.over(oneInSteps); ok {
			if lo, hi, ok := a.timesSmall(f); ok {
				return fromSmalls[E, E](lo, hi)
			}
		}
	}
	return a.MulRat(r.Rat(One))
}

// timesSmall returns the bounds of a times f; ok is false where one is missing or does not fit.
func (a ClosedInterval[D, E]) timesSmall(f smallRatio) (lo, hi smallRatio, ok bool) {
	if lo, hi, ok = a.smalls(); !ok {
		return lo, hi, false
	}
	lo, ok = lo.times(f)
	hi, too := hi.times(f)
	if f.num < 0 {
		lo, hi = hi, lo
	}
	return lo, hi, ok && too
}

// Shift returns a with q added to both bounds.
func (a ClosedInterval[D, E]) Shift(q Value[E, E]) ClosedInterval[D, E] { return a.Add(Exactly(q)) }

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
func (a ClosedInterval[D, E]) Contains(q Value[D, E]) bool {
	if a.x == &grid && q.x == nil {
		return a.lo <= q.n && q.n <= a.hi
	}
	return !a.IsEmpty() && !(a.HasHi() && a.Hi().Less(q)) && !(a.HasLo() && q.Less(a.Lo()))
}

// Within reports whether every value of a lies in b, and there is one: an empty
// interval, which was not measured, is within nothing.
func (a ClosedInterval[D, E]) Within(b ClosedInterval[D, E]) bool {
	if a.x == b.x { // one form, or one and the same interval, whose lo and hi are zero
		return b.lo <= a.lo && a.hi <= b.hi && a.x != nil
	}
	return a.withinSlow(b)
}

func (a ClosedInterval[D, E]) withinSlow(b ClosedInterval[D, E]) bool {
	if a.IsEmpty() || b.IsEmpty() || b.HasLo() && (!a.HasLo() || a.Lo().Less(b.Lo())) {
		return false
	}
	return !b.HasHi() || a.HasHi() && !b.Hi().Less(a.Hi())
}

// Below reports whether every value of a is less than every value of b, and
// there are such values.
func (a ClosedInterval[D, E]) Below(b ClosedInterval[D, E]) bool {
	if a.x == b.x { // as in Within
		return a.hi < b.lo
	}
	return a.belowSlow(b)
}

func (a ClosedInterval[D, E]) belowSlow(b ClosedInterval[D, E]) bool {
	return a.HasHi() && b.HasLo() && a.Hi().Less(b.Lo())
}

// Overlaps reports whether a and b have a value in common.
func (a ClosedInterval[D, E]) Overlaps(b ClosedInterval[D, E]) bool {
	return !a.IsEmpty() && !b.IsEmpty() && !a.Below(b) && !b.Below(a)
}

// Hull returns the smallest interval that holds a and b. It is empty if one of them is: a
// size that was not measured may lie anywhere.
func (a ClosedInterval[D, E]) Hull(b ClosedInterval[D, E]) ClosedInterval[D, E] {
	if a.x == &grid && b.x == &grid {
		return fromGrid[D, E](min(a.lo, b.lo), max(a.hi, b.hi))
	}
	if a.IsEmpty() || b.IsEmpty() {
		return ClosedInterval[D, E]{}
	}
	alo, ahi := a.bounds()
	blo, bhi := b.bounds()
	return fromBounds[D, E](pick(alo, blo, -1), pick(ahi, bhi, +1))
}

// pick returns the bound that Cmp finds to be on the side of sign; a missing one if
// there is one.
func pick(a, b *big.Rat, sign int) *big.Rat {
	switch {
	case a == nil || b == nil:
		return nil
	case a.Cmp(b) == sign:
		return a
	}
	return b
}

// Equal reports whether a and b hold the same values. Empty equals empty alone.
func (a ClosedInterval[D, E]) Equal(b ClosedInterval[D, E]) bool {
	return a.IsEmpty() && b.IsEmpty() || a.Within(b) && b.Within(a)
}
