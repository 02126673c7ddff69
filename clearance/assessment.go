package clearance

import "example.com/closefit/units"

// An Assessment is a reading judged against its tolerance interval, with what
// is proven on each side.
type Assessment[D units.Dimension] struct {
	Reading   Reading[D]
	Tolerance units.Interval[D]
	Verdict   Verdict
}

// Assess judges a reading.
func Assess[D units.Dimension](reading Reading[D], tolerance units.Interval[D]) Assessment[D] {
	return Assessment[D]{Reading: reading, Tolerance: tolerance, Verdict: Judge(reading.Interval(), tolerance)}
}

// AboveLower reports whether it is proven that the value is not below the lower
// limit. So it is when there is no lower limit.
func (a Assessment[D]) AboveLower() bool {
	if !a.Tolerance.HasLo() {
		return true
	}
	m := a.Reading.Interval()
	return m.HasLo() && a.Tolerance.Lo().Cmp(m.Lo()) <= 0
}

// BelowUpper reports whether it is proven that the value is not above the upper
// limit. So it is when there is no upper limit.
func (a Assessment[D]) BelowUpper() bool {
	if !a.Tolerance.HasHi() {
		return true
	}
	m := a.Reading.Interval()
	return m.HasHi() && m.Hi().Cmp(a.Tolerance.Hi()) <= 0
}
