package preload

import (
	"math/big"

	"example.com/closefit/units"
)

// A Method is a way of tightening, with how far the preloads of equal bolts lie apart: as
// its source gives it, by a factor or by a scatter. The other of the two is empty.
type Method struct {
	Key     string              `json:"key"` // a short name; empty where the source gives a scatter
	Name    string              `json:"name"`
	Factor  units.RatioInterval `json:"factor"`  // αA, the largest preload of equal bolts over the smallest
	Scatter units.RatioInterval `json:"scatter"` // how far the preload lies from the one aimed at, to both sides: 0.25 for ±25 %
	Source  string              `json:"source"`
}

// Methods returns the ways of tightening that three handbooks name, each handbook's in its
// own order: the tightening factors that VDI 2230 gives as guide values, from the least
// scatter to the most; then the accuracies of two others, from the least accurate on.
//
// Source: VDI 2230-1:2003, table A8, as recalled; the ranges of torque wrenches and impact
// wrenches agree with published copies. The others as each entry says.
func Methods() []Method {
	const vdi, handbook, manual = "VDI 2230-1:2003, table A8", "Machinery's Handbook, accuracy of bolt preload by method", "NSTS 08307, preload uncertainties"
	rows := []struct{ source, key, name, span string }{
		{vdi, "ultrasonic", "elongation measured by ultrasound", "1.05..1.2"},
		{vdi, "elongation", "elongation measured mechanically", "1.1..1.5"},
		{vdi, "yield", "to yield, by an instrument that senses it", "1.2..1.4"},
		{vdi, "angle", "torque, then angle into yield", "1.2..1.4"},
		{vdi, "hydraulic", "hydraulic tensioner", "1.2..1.6"},
		{vdi, "torque-measured", "torque wrench, friction measured on the part", "1.4..1.6"},
		{vdi, "torque-estimated", "torque wrench, friction estimated within 0.08 to 0.16", "1.6..2"},
		{vdi, "torque-unknown", "torque wrench, friction estimated within 0.04 to 0.10", "1.7..2.5"},
		{vdi, "screwdriver", "power screwdriver", "1.7..2.5"},
		{vdi, "impact", "impact wrench", "2.5..4"},
		{handbook, "", "by feel", "0.35"},
		{handbook, "", "torque wrench", "0.25"},
		{handbook, "", "turn-of-nut", "0.15"},
		{handbook, "", "preload indicating washer", "0.10"},
		{handbook, "", "yield-point sensing", "0.08"},
		{handbook, "", "bolt elongation", "0.03..0.05"},
		{handbook, "", "strain gages", "0.01"},
		{handbook, "", "ultrasonic sensing", "0.01"},
		{manual, "", "torque, unlubricated bolts", "0.35"},
		{manual, "", "torque, cad-plated bolts", "0.30"},
		{manual, "", "torque, lubricated bolts", "0.25"},
		{manual, "", "hydraulic tensioners", "0.15"},
		{manual, "", "preload indicating washers", "0.10"},
		{manual, "", "ultrasonic devices", "0.10"},
		{manual, "", "bolt elongation measurement", "0.05"},
		{manual, "", "instrumented bolts", "0.05"},
	}
	methods := make([]Method, len(rows))
	for i, r := range rows {
		m := Method{Key: r.key, Name: r.name, Source: r.source}
		if r.source == vdi {
			m.Factor = units.MustParse[units.RatioInterval](r.span)
		} else {
			m.Scatter = units.MustParse[units.RatioInterval](r.span)
		}
		methods[i] = m
	}
	return methods
}

// LeastPreload returns the smallest preload of equal bolts that are tightened by the method, and
// of which the largest is known:
//
//	FMmin = FMmax / αA,   αA = (1 + t) / (1 - t)
//
// for both ends of the range of αA, or of the scatter t, rounded outward to 1 µN.
//
// The error is of kind ErrImpossible for a preload not above zero, a factor below 1, a scatter
// that is not a part of one, either without both bounds, and a method that has both or neither.
//
// Source: VDI 2230-1:2015, 5.4.3; of αA by the scatter, VDI 2230-1:1986.
func (m Method) LeastPreload(largest units.Force) (units.ForceInterval, error) {
	one := units.One.OfInt(1)
	var mildest, worst *big.Rat // αA
	switch {
	case largest.Sign() <= 0:
		return units.ForceInterval{}, impossible("largest preload", largest.String(), "write a force above zero")
	case m.Factor.IsEmpty() == m.Scatter.IsEmpty():
		return units.ForceInterval{}, impossible("method "+m.Name, "not one of a factor and a scatter", "give the one that its source gives")
	case m.Factor.IsEmpty():
		if !m.Scatter.Bounded() || m.Scatter.Lo().Sign() < 0 || !m.Scatter.Hi().Less(one) {
			return units.ForceInterval{}, impossible("scatter", m.Scatter.String(), "write a part of one, as in 0.23 for ±23 %")
		}
		factor := func(t units.Ratio) *big.Rat { return one.Add(t).Ratio(one.Sub(t)) }
		mildest, worst = factor(m.Scatter.Lo()), factor(m.Scatter.Hi())
	default:
		if !m.Factor.Bounded() || m.Factor.Lo().Less(one) {
			return units.ForceInterval{}, impossible("tightening factor", m.Factor.String(), "write the largest preload over the smallest, 1 or more")
		}
		mildest, worst = m.Factor.Lo().Rat(units.One), m.Factor.Hi().Rat(units.One)
	}
	return units.MustInterval(largest.MulRat(worst.Inv(worst)), largest.MulRat(mildest.Inv(mildest))).Outward(units.Newton, 6), nil
}
