package check

import (
	"fmt"
	"math/big"
	"strings"

	"example.com/closefit/units"
)

// A unit is what a column's numbers are in, of whichever dimension.
type unit struct {
	symbol    string
	dimension string
	length    bool
	factor    *big.Rat // how many of the dimension's own unit it is
	source    string   // of the factor
	number    func(text string) (*big.Rat, error)
	limits    func(text string) (lo, hi *big.Rat, err error) // nil for no limit
	confused  []confusion
}

// A confusion is a number in another unit that is taken for one in this unit.
type confusion struct {
	mistake, unit string
	factor        float64 // that the number comes to
}

// unit returns the unit of a text, which is read once; ok is false if it is none.
func (k *checking) unit(text string) (u unit, ok bool) {
	u, ok = k.units[text]
	if !ok {
		u, _ = unitOf(text)
		k.units[text] = u
	}
	return u, u.factor != nil
}

// unitOf reads a unit of any dimension that is measured.
func unitOf(text string) (unit, error) {
	for _, read := range []func(string) (unit, bool){
		unitIn[units.LengthDim], unitIn[units.TorqueDim], unitIn[units.ForceDim], unitIn[units.PressureDim],
		unitIn[units.AreaDim], unitIn[units.AngleDim], unitIn[units.VolumeDim],
	} {
		if u, ok := read(text); ok {
			return u, nil
		}
	}
	return unit{}, fmt.Errorf("%q is no unit that is known; write one such as mm, in, N·m, ft-lb, kN, bar, mm², °", text)
}

func unitIn[D units.Dimension](text string) (u unit, ok bool) {
	of, err := units.Parse[units.Unit[D]](text)
	if err != nil {
		return u, false
	}
	var d D
	_, length := any(d).(units.LengthDim)
	u = unit{symbol: of.String(), dimension: fmt.Sprintf("%T", d), length: length, factor: of.Factor(), source: of.Source()}
	u.number = func(text string) (*big.Rat, error) {
		var q units.Quantity[D]
		if err := q.UnmarshalText([]byte(text)); err != nil {
			return nil, err
		}
		return q.Rat(of), nil
	}
	u.limits = func(text string) (lo, hi *big.Rat, err error) {
		var l units.Interval[D]
		if err := l.UnmarshalText([]byte(text)); err != nil {
			return nil, nil, err
		}
		if l.HasLo() {
			lo = l.Lo().Rat(of)
		}
		if l.HasHi() {
			hi = l.Hi().Rat(of)
		}
		return lo, hi, nil
	}
	for _, other := range units.Units[D]() {
		r, _ := new(big.Rat).Quo(other.Factor(), of.Factor()).Float64()
		if c, confusable := confusedWith(of.String(), other.String(), r); confusable {
			u.confused = append(u.confused, c)
		}
	}
	return u, true
}

// confusedWith says how two units are mixed up, one of which is so many times the other. Where
// the ratio is a power of ten, that moves the decimal point; where it is beyond 50, the number is absurd.
func confusedWith(of, other string, ratio float64) (c confusion, ok bool) {
	if ratio > 50 || ratio < 1.0/50 {
		return c, false
	}
	for _, power := range []float64{0.1, 1, 10} {
		if off := ratio/power - 1; off > -1e-9 && off < 1e-9 {
			return c, false
		}
	}
	c = confusion{OtherUnit, other, 1 / ratio}
	switch pair := of + " " + other; {
	case strings.Contains("in mm in", pair):
		c.mistake = Inch
	case strings.Contains("lbf·ft lbf·in lbf·ft", pair):
		c.mistake = FootPounds
	}
	return c, true
}

// numeral writes a number in full; ok is false if it has no end, or a far one.
func numeral(r *big.Rat) (text string, ok bool) {
	places, ends := r.FloatPrec()
	return r.FloatString(min(places, 30)), ends && places <= 20
}

// times writes a formula multiplied by a factor, in the plainest way that is exact.
func times(formula string, factor *big.Rat) string {
	if factor.Cmp(big.NewRat(1, 1)) == 0 {
		return formula
	}
	if strings.ContainsAny(formula, "+-") {
		formula = "(" + formula + ")"
	}
	if text, ok := numeral(factor); ok {
		return formula + "*" + text
	}
	if text, ok := numeral(new(big.Rat).Inv(factor)); ok {
		return formula + "/" + text
	}
	return formula + "*" + factor.Num().String() + "/" + factor.Denom().String()
}

// written writes a number to twelve places, without the zeros behind its last.
func written(r *big.Rat) string {
	return strings.TrimSuffix(strings.TrimRight(r.FloatString(12), "0"), ".")
}
