package clearance

// A MeasuredBearing is a Bearing of readings.
type MeasuredBearing struct {
	HousingBore, UpperWall, LowerWall, Journal LengthReading
}

const runningClearance = "running clearance"

// Clearance returns the running clearance C = D - t1 - t2 - d by the rule. It is
// not taken if one of the four is not.
func (b *MeasuredBearing) Clearance(rule Combination) LengthReading {
	parts := [...]part{{+1, &b.HousingBore}, {-1, &b.UpperWall}, {-1, &b.LowerWall}, {-1, &b.Journal}}
	return combineParts(runningClearance, rule, parts[:])
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
