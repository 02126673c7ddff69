package units

import (
	"fmt"
	"math"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"
)

// A Unit is a unit of one dimension: Millimetre, PoundForceFoot.
type Unit[D Dimension] = Scale[D, D]

// A Scale is a unit, or a scale of temperature with a zero of its own. The units that
// programs name are constants, each documented with its exact factor and where that
// comes from. A unit without a constant is read in text like any other; Parse finds
// it by its symbol, Units lists them all, and Factor and Source tell its size.
type Scale[D, E Dimension] uint8

// def returns the unit's definition. It panics on a Unit made by conversion
// from a number that names none.
func (u Scale[D, E]) def() *unitDef {
	d := dimensionOf[D]()
	if int(u) >= len(d.units) {
		panic(fmt.Sprintf("units: %d is no unit of %s; use the package's constants", u, d.name))
	}
	return &d.units[u]
}

// Of returns d of the unit, exactly. It panics if d's exponent lies beyond
// ±1000; text from outside goes through Parse, which bounds it.
func (u Scale[D, E]) Of(d decimal.Decimal) Value[D, E] { return u.OfRat(ratOfDecimal(d)) }

// OfInt returns n of the unit, exactly.
func (u Scale[D, E]) OfInt(n int64) Value[D, E] {
	if f := u.def().whole; f != 0 {
		if p, ok := mulInt64(n, f); ok {
			return Value[D, E]{n: p}
		}
	}
	return u.OfRat(new(big.Rat).SetInt64(n))
}

// OfRat returns r of the unit, exactly.
func (u Scale[D, E]) OfRat(r *big.Rat) Value[D, E] {
	return fromSteps[D, E](u.def().toSteps(r))
}

// OfFloat64 returns f of the unit, rounded half to even to so many decimal places of it:
// the one way for a float64 result (a stiffness, a quantile) to become an exact quantity,
// with the rounding in plain view. The error is an *Error of kind ErrSyntax if f is NaN
// or infinite.
func (u Scale[D, E]) OfFloat64(f float64, places int32) (Value[D, E], error) {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return Value[D, E]{}, &Error{Kind: ErrSyntax, Found: strings.TrimSpace(fmt.Sprint(f, " ", u)), Fix: "look for its cause, such as a division by zero"}
	}
	r := new(big.Rat)
	r.SetFloat64(f)
	n := roundRat(scaled(r, places), HalfEven)
	return u.OfRat(scaled(new(big.Rat).SetInt(n), -places)), nil
}

// String returns the unit's symbol: "mm", "lbf·ft".
func (u Scale[D, E]) String() string { return u.def().symbol }

// Factor returns the unit's size, exactly, in the SI unit of its dimension: the
// metre, newton metre, pascal, kelvin and so on. For an angle it is the size in
// degrees, and for a rotational speed in r/min, which keep these exact.
func (u Scale[D, E]) Factor() *big.Rat { return new(big.Rat).Set(u.def().si) }

// Source says where the unit's factor comes from.
func (u Scale[D, E]) Source() string { return u.def().source }

// Units returns every unit of the dimension, the one that String prints in first.
func Units[D Dimension]() []Unit[D] {
	us := make([]Unit[D], len(dimensionOf[D]().units))
	for i := range us {
		us[i] = Unit[D](i)
	}
	return us
}

// LookUp returns the unit with a symbol or one of its usual spellings. Unlike Parse it makes
// no error that says what else was meant, so that many texts can be asked that are no unit.
func LookUp[D Dimension](spelling string) (u Unit[D], ok bool) {
	i, ok := dimensionOf[D]().spelled(spelling)
	return Unit[D](i), ok
}

// read reads a symbol or one of its usual spellings.
func (Scale[D, E]) read(text string, _ int) (Scale[D, E], error) {
	i, err := dimensionOf[D]().lookUp(text, text, 0)
	return Scale[D, E](i), err
}

// Rat returns q in the unit, exactly. (For the radian, as exactly as its factor,
// which holds pi to 50 decimal places.)
func (q Value[D, E]) Rat(u Scale[D, E]) *big.Rat {
	def := u.def()
	if def.whole > 0 {
		if f, ok := q.small(); ok {
			if f, ok = f.over(def.whole); ok {
				return f.rat()
			}
		}
	}
	s := q.steps()
	r := new(big.Rat)
	if def.offset != nil {
		s = r.Sub(s, def.offset)
	}
	return r.Quo(s, def.factor)
}

// maxExact bounds the integers that are all float64.
const maxExact = 1 << 53

// Float64 returns the float64 nearest to q in the unit: an approximation, for
// plotting and for what works in floating point.
func (q Value[D, E]) Float64(u Scale[D, E]) float64 {
	// Both are float64 without rounding, and their quotient is rounded once.
	if whole := u.def().whole; q.x == nil && 0 < whole && whole <= maxExact && -maxExact <= q.n && q.n <= maxExact {
		return float64(q.n) / float64(whole)
	}
	f, _ := q.Rat(u).Float64()
	return f
}
