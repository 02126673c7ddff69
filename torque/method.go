package torque

import (
	"errors"
	"fmt"
	"math"
	"math/big"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// ErrMethod is the kind of error for an unknown method of tightening or a scatter that
// cannot be.
var ErrMethod = errors.New("no such method or scatter")

// A Method is a way of tightening, with how far the preloads of equal bolts lie apart.
type Method struct {
	Key    string
	Name   string
	Factor FactorRange
	Source string
}

// A FactorRange is the range of the tightening factor αA, the largest preload of equal
// bolts over the smallest.
type FactorRange struct {
	Lo, Hi decimal.Decimal
}

// Methods returns the ways of tightening with the tightening factors that VDI 2230 gives as
// guide values, from the least scatter to the most.
//
// Source: VDI 2230-1:2003, table A8, as recalled; the ranges of torque wrenches and impact
// wrenches agree with published copies.
func Methods() []Method {
	const table = "VDI 2230-1:2003, table A8"
	of := func(key, name, lo, hi string) Method {
		return Method{Key: key, Name: name, Source: table,
			Factor: FactorRange{Lo: decimal.RequireFromString(lo), Hi: decimal.RequireFromString(hi)}}
	}
	return []Method{
		of("ultrasonic", "elongation measured by ultrasound", "1.05", "1.2"),
		of("elongation", "elongation measured mechanically", "1.1", "1.5"),
		of("yield", "to yield, by an instrument that senses it", "1.2", "1.4"),
		of("angle", "torque, then angle into yield", "1.2", "1.4"),
		of("hydraulic", "hydraulic tensioner", "1.2", "1.6"),
		of("torque-measured", "torque wrench, friction measured on the part", "1.4", "1.6"),
		of("torque-estimated", "torque wrench, friction estimated within 0.08 to 0.16", "1.6", "2"),
		of("torque-unknown", "torque wrench, friction estimated within 0.04 to 0.10", "1.7", "2.5"),
		of("screwdriver", "power screwdriver", "1.7", "2.5"),
		of("impact", "impact wrench", "2.5", "4"),
	}
}

// MethodByKey returns the method of a key. The error wraps ErrMethod and names the keys.
func MethodByKey(key string) (Method, error) {
	methods := Methods()
	keys := make([]string, len(methods))
	for i, m := range methods {
		if m.Key == key {
			return m, nil
		}
		keys[i] = m.Key
	}
	return Method{}, fmt.Errorf("%q: %w; write one of %q", key, ErrMethod, keys)
}

// LeastPreload returns the smallest preload of equal bolts whose largest is known:
//
//	FMmin = FMmax / αA
//
// for both ends of the method's range of αA, exactly. It panics for a method without a
// factor.
//
// Source: VDI 2230-1:2015, 5.4.3.
func (m Method) LeastPreload(largest units.Force) units.ForceInterval {
	if m.Factor.Lo.Sign() <= 0 || m.Factor.Hi.Sign() <= 0 {
		panic("torque: a method without a tightening factor; take one of Methods")
	}
	at := func(factor decimal.Decimal) units.Force {
		return largest.MulRat(new(big.Rat).Inv(factor.Rat()))
	}
	return units.Between(at(m.Factor.Hi), at(m.Factor.Lo))
}

// FactorOfScatter returns the tightening factor of preloads that scatter by a share to
// both sides of their mean:
//
//	αA = (1 + t) / (1 - t)
//
// t is the scatter as a part of one: 0.23 for ±23 %. The error wraps ErrMethod unless 0 <=
// t < 1.
//
// Source: VDI 2230-1:1986, definition of αA.
func FactorOfScatter(t decimal.Decimal) (*big.Rat, error) {
	one := big.NewRat(1, 1)
	if t.Sign() < 0 || t.Rat().Cmp(one) >= 0 {
		return nil, fmt.Errorf("scatter %v: %w; write a part of one, as in 0.23 for ±23 %%", t, ErrMethod)
	}
	r := t.Rat()
	return new(big.Rat).Quo(new(big.Rat).Add(one, r), new(big.Rat).Sub(one, r)), nil
}

// Factor returns the tightening factor of an interval of preloads, Hi/Lo, exactly. The
// error wraps ErrMethod if the lower bound is not above zero: such a bolt may be loose, and
// no factor says how badly.
func Factor(preload units.ForceInterval) (*big.Rat, error) {
	if !preload.Bounded() || preload.Lo().Sign() <= 0 {
		return nil, fmt.Errorf("preload %v: %w; a factor needs a lower bound above zero", preload, ErrMethod)
	}
	return preload.Hi().Ratio(preload.Lo()), nil
}

// Scatter returns how far an interval of preloads reaches to both sides of its middle, as
// a part of the middle: (Hi - Lo)/(Hi + Lo), exactly. The error is that of Factor.
func Scatter(preload units.ForceInterval) (*big.Rat, error) {
	if _, err := Factor(preload); err != nil {
		return nil, err
	}
	return preload.Width().Ratio(preload.Hi().Add(preload.Lo())), nil
}

// MeanAndDeviation returns the mean of measured preloads and their sample standard
// deviation, for those who test their own bolts. The deviation's root is taken in float64.
//
//	m = Σ F / n,  s = √( Σ (F - m)² / (n - 1) )
//
// The error wraps ErrMethod for fewer than two preloads.
//
// Source: JCGM 100:2008, 4.2.
func MeanAndDeviation(preloads []units.Force) (mean, deviation units.Force, err error) {
	if len(preloads) < 2 {
		return mean, deviation, fmt.Errorf("%d preloads: %w; a deviation needs two", len(preloads), ErrMethod)
	}
	n := int64(len(preloads))
	mean = units.Sum(preloads...).MulRat(big.NewRat(1, n))
	squares := new(big.Rat)
	for _, f := range preloads {
		d := f.Sub(mean).Rat(units.Newton)
		squares.Add(squares, d.Mul(d, d))
	}
	variance, _ := squares.Mul(squares, big.NewRat(1, n-1)).Float64()
	return mean, newtons(math.Sqrt(variance)), nil
}

// An Accuracy is what a handbook says of a way of tightening: how far the preload lies from
// the one aimed at, to both sides.
type Accuracy struct {
	Method string
	Lo, Hi decimal.Decimal // parts of one: 0.25 for ±25 %; equal unless the handbook gives a range
	Source string
}

// Accuracies returns what two handbooks say, each from the least accurate way on.
//
// Source: as each entry says.
func Accuracies() []Accuracy {
	const handbook, manual = "Machinery's Handbook, accuracy of bolt preload by method", "NSTS 08307, preload uncertainties"
	of := func(source, method, lo, hi string) Accuracy {
		return Accuracy{Method: method, Lo: decimal.RequireFromString(lo), Hi: decimal.RequireFromString(hi), Source: source}
	}
	return []Accuracy{
		of(handbook, "by feel", "0.35", "0.35"),
		of(handbook, "torque wrench", "0.25", "0.25"),
		of(handbook, "turn-of-nut", "0.15", "0.15"),
		of(handbook, "preload indicating washer", "0.10", "0.10"),
		of(handbook, "yield-point sensing", "0.08", "0.08"),
		of(handbook, "bolt elongation", "0.03", "0.05"),
		of(handbook, "strain gages", "0.01", "0.01"),
		of(handbook, "ultrasonic sensing", "0.01", "0.01"),
		of(manual, "torque, unlubricated bolts", "0.35", "0.35"),
		of(manual, "torque, cad-plated bolts", "0.30", "0.30"),
		of(manual, "torque, lubricated bolts", "0.25", "0.25"),
		of(manual, "hydraulic tensioners", "0.15", "0.15"),
		of(manual, "preload indicating washers", "0.10", "0.10"),
		of(manual, "ultrasonic devices", "0.10", "0.10"),
		of(manual, "bolt elongation measurement", "0.05", "0.05"),
		of(manual, "instrumented bolts", "0.05", "0.05"),
	}
}
