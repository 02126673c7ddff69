package torque

import (
	"fmt"
	"math/big"

	"example.com/closefit/units"
)

// Ductility is what a bolt can still stretch, and what each use takes of it.
//
// It explains why a yielded bolt is scrap. It is no permission to use one again: the
// reserve is an upper estimate, and a maker that wants a bolt used once has reasons that
// this arithmetic does not see.
type Ductility struct {
	Reserve units.Length         // the most that the stretched length can give before it breaks
	PerUse  units.LengthInterval // permanent stretch of one tightening: State.Stretch
}

// StretchReserve returns the most that a length of bolt can stretch before it breaks:
//
//	Δl = A l
//
// A is the elongation after fracture of the class, as a part of one; l the length that
// yields, which is the free thread, or the waist of a bolt with one. A is measured over
// five diameters with the neck in them, so that the bolt's thread gives less.
//
// The error wraps ErrScrew for an elongation that is missing or not above zero, or a length
// that is not.
//
// Source: ISO 898-1:2013, 9.7, definition of A.
func StretchReserve(length units.Length, elongation *big.Rat) (units.Length, error) {
	if elongation == nil || elongation.Sign() <= 0 {
		return units.Length{}, &ScrewError{What: "elongation after fracture", Value: "missing", Fix: "write it as a part of one, as in 0.09; the standard gives none for cold-formed classes"}
	}
	if length.Sign() <= 0 {
		return units.Length{}, &ScrewError{What: "length that yields", Value: length.String(), Fix: "write a length above zero"}
	}
	return length.MulRat(elongation), nil
}

// Left returns which part of the reserve is left after so many uses, at the least and at
// the most, exactly:
//
//	1 - n Δl / reserve, but at least 0
//
// n is the number of uses, Δl the permanent stretch of one. The error wraps ErrScrew for a
// reserve not above zero, a stretch below zero or fewer than zero uses.
//
// Source: definition.
func (d Ductility) Left(uses int) (lo, hi *big.Rat, err error) {
	if d.Reserve.Sign() <= 0 {
		return nil, nil, &ScrewError{What: "reserve of stretch", Value: d.Reserve.String(), Fix: "take StretchReserve"}
	}
	if err := notNegative("permanent stretch of one use", d.PerUse); err != nil {
		return nil, nil, err
	}
	if uses < 0 {
		return nil, nil, &ScrewError{What: "number of uses", Value: fmt.Sprint(uses), Fix: "write zero or more"}
	}
	left := func(stretch units.Length) *big.Rat {
		used := stretch.MulInt(int64(uses)).Ratio(d.Reserve)
		rest := new(big.Rat).Sub(big.NewRat(1, 1), used)
		if rest.Sign() < 0 {
			return new(big.Rat)
		}
		return rest
	}
	return left(d.PerUse.Hi()), left(d.PerUse.Lo()), nil
}

// Working returns what is left after each of so many uses, with lengths in the unit to so
// many places. The errors are those of Left.
func (d Ductility) Working(uses int, u units.LengthUnit, places int32) (units.Working, error) {
	w := units.Working{
		Name:    "stretch left in a yielded bolt, at the most",
		Formula: "1 - n Δl / reserve",
		Numbers: fmt.Sprintf("Δl = %s, reserve = %s", d.PerUse.FormatOutward(u, places), d.Reserve.Format(u, places, units.HalfEven)),
		Source:  "ISO 898-1:2013, 9.7, for the elongation",
		Notes: []string{
			"a bolt that was tightened past yield is scrap: this shows why, and permits nothing",
			"the engine maker's manual comes first",
		},
	}
	for n := range uses {
		lo, hi, err := d.Left(n + 1)
		if err != nil {
			return units.Working{}, err
		}
		w.Steps = append(w.Steps, units.Working{Name: fmt.Sprintf("after use %d", n+1), Result: percent(lo) + " to " + percent(hi)})
	}
	return w, nil
}
