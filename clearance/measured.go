package clearance

import "example.com/closefit/units"

// A MeasuredBearing is a Bearing of readings.
type MeasuredBearing struct {
	HousingBore, UpperWall, LowerWall, Journal LengthReading
}

const runningClearance = "running clearance"

// Clearance returns the running clearance C = D - t1 - t2 - d by the rule. It is
// not taken if one of the four is not.
//
// It is what Fit computes. A job asks for it of every location under the default
// rule, and that way is written out.
func (b *MeasuredBearing) Clearance(rule Combination) (r LengthReading) {
	if rule != ByKind || !b.simple() {
		return b.Fit().Computed(rule)
	}
	r.bracket = b.HousingBore.bracket.Sub(b.UpperWall.bracket).Sub(b.LowerWall.bracket).Sub(b.Journal.bracket)
	r.expanded = units.RootSumSquare(nanometre, b.HousingBore.expanded, b.UpperWall.expanded, b.LowerWall.expanded, b.Journal.expanded)
	r.how, r.rule, r.name = byCombination, rule, runningClearance
	return r
}

// simple reports whether all four were taken, none with limited degrees of
// freedom.
func (b *MeasuredBearing) simple() bool {
	return b.HousingBore.how != notTaken && b.UpperWall.how != notTaken && b.LowerWall.how != notTaken && b.Journal.how != notTaken &&
		b.HousingBore.freedom|b.UpperWall.freedom|b.LowerWall.freedom|b.Journal.freedom == 0
}

// Fit returns the bearing as a Fit, for its working, its agreement with a strip,
// and its remedies.
func (b *MeasuredBearing) Fit() Fit {
	return Fit{Name: runningClearance, Symbol: "C", Terms: []Term{
		{Symbol: "D", Name: "housing bore", Times: +1, Reading: b.HousingBore},
		{Symbol: "t1", Name: "upper wall", Times: -1, Reading: b.UpperWall},
		{Symbol: "t2", Name: "lower wall", Times: -1, Reading: b.LowerWall},
		{Symbol: "d", Name: "journal", Times: -1, Reading: b.Journal},
	}}
}

// Bearing returns the bearing of the readings' intervals.
func (b *MeasuredBearing) Bearing() Bearing {
	return Bearing{
		HousingBore: b.HousingBore.Interval(), UpperWall: b.UpperWall.Interval(),
		LowerWall: b.LowerWall.Interval(), Journal: b.Journal.Interval(),
	}
}
