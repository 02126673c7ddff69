package units

import (
	"cmp"
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"
)

// ConversionPlaces returns the number of decimal places to which the limits of a
// toleranced length are rounded when they are converted to millimetres from
// inches, or to inches from millimetres: as many as keep the rounding small
// against the tolerance, whose whole width is given.
//
//	a tolerance from 10⁻ᵏ up to 10¹⁻ᵏ in      k places of a millimetre, k = 1 … 5
//	a tolerance from 5·10⁻ᵏ up to 5·10¹⁻ᵏ mm  k+1 places of an inch, k = 2 … 4
//	a tolerance from 0.5 mm up                2 places of an inch
//
// ok is false for a width outside these ranges or another unit; the caller then chooses
// the places. Source: ISO 370:1975, tables 1 and 2 (from memory).
func ConversionPlaces(width Length, to LengthUnit) (places int32, ok bool) {
	switch to {
	case Millimetre:
		for places = 5; places >= 1; places-- {
			lower := Inch.Of(decimal.New(1, -places))
			if !width.Less(lower) && width.Less(lower.MulInt(10)) {
				return places, true
			}
		}
	case Inch:
		for places = 2; places <= 5; places++ {
			if !width.Less(Millimetre.Of(decimal.New(5, 1-places))) {
				return places, true
			}
		}
	}
	return 0, false
}

// Inward returns a with its bounds rounded to so many decimal places of the
// unit, towards the inside: Inward lies within a. It is the conversion of limits
// that protects the tolerance: a part that passes the converted limits passes the
// original ones. The error is an *Error of kind ErrEmpty if a is
// empty, or no value of so few places lies in it. A missing bound stays missing.
// Source: ISO 370:1975, method B (from memory).
func (a ClosedInterval[D, E]) Inward(u Scale[D, E], places int32) (ClosedInterval[D, E], error) {
	if a.IsEmpty() {
		return a, &Error{Kind: ErrEmpty, Where: "limits", Fix: "give both bounds, or one"}
	}
	lo, hi := a.rounded(u, places, Ceiling, Floor)
	if a.Bounded() && lo.Cmp(hi) > 0 {
		return ClosedInterval[D, E]{}, &Error{Kind: ErrEmpty, Where: fmt.Sprintf("%s, converted to %s with %d decimal places", a, cmp.Or(u.String(), "a number"), places), Fix: "ask for more places"}
	}
	return fromBounds[D, E](lo, hi), nil
}

// Outward returns a with its bounds rounded to so many decimal places of the
// unit, towards the outside: a lies within Outward. It is for readings, whose
// uncertainty must not shrink by rounding.
func (a ClosedInterval[D, E]) Outward(u Scale[D, E], places int32) ClosedInterval[D, E] {
	if a.IsEmpty() {
		return a
	}
	return fromBounds[D, E](a.rounded(u, places, Floor, Ceiling))
}

// rounded returns the bounds in grid steps, each rounded to so many decimal places
// of the unit; a missing one is nil.
func (a ClosedInterval[D, E]) rounded(u Scale[D, E], places int32, lower, upper Rounding) (lo, hi *big.Rat) {
	if a.HasLo() {
		lo = u.Of(a.Lo().Rounded(u, places, lower)).steps()
	}
	if a.HasHi() {
		hi = u.Of(a.Hi().Rounded(u, places, upper)).steps()
	}
	return lo, hi
}
