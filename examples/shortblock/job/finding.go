package job

import (
	"fmt"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

// subject is what a finding is about.
type subject struct {
	group, location, quantity string
}

// find judges a reading and says what follows.
func find[D units.Dimension](s subject, r clearance.Reading[D], limits units.Interval[D], u units.Unit[D], places int32) Finding {
	a := clearance.Assess(r, limits)
	f := Finding{
		Group: s.group, Location: s.location, Quantity: s.quantity,
		Measured:  Range{Text: "not measured"},
		Tolerance: exact(limits, u, tolerance(limits, u, places)),
		Verdict:   a.Verdict,
		Taken:     r.Taken(),
	}
	if r.Taken() {
		measured := r.Interval()
		f.Measured = exact(measured, u, reading(measured, u, places))
		f.How = r.How(u)
		f.Advice = advice(a, u, places)
	}
	return f
}

// advice says by how much a reading is outside, and what would settle one that is
// undecided.
func advice[D units.Dimension](a clearance.Assessment[D], u units.Unit[D], places int32) string {
	m, t := a.Reading.Interval(), a.Tolerance
	switch {
	case a.Verdict == clearance.BelowLimit:
		return fmt.Sprintf("by %s at least", t.Lo().Sub(m.Hi()).Format(u, places+1, units.Floor))
	case a.Verdict == clearance.AboveLimit:
		return fmt.Sprintf("by %s at least", m.Lo().Sub(t.Hi()).Format(u, places+1, units.Floor))
	case a.Verdict == clearance.Conforming:
		return ""
	case !m.HasHi() && a.AboveLower():
		return fmt.Sprintf("it is proven to be %s or more, and nothing is known of how much more: find the blade that does not go", t.Lo().Format(u, places, units.Ceiling))
	case !m.HasHi():
		return "nothing is known of how much more it is"
	case !m.HasLo():
		return "nothing is known of how much less it is"
	}
	enough := nearestLimit(m.Mid(), t)
	if enough.IsZero() {
		return "its middle lies on the limit: measure with the best instrument there is"
	}
	return fmt.Sprintf("a measurement good to ±%s in all would settle it, if the middle is true", enough.Format(u, places+1, units.Floor))
}

// nearestLimit returns how far q is from the nearer limit.
func nearestLimit[D units.Dimension](q units.Quantity[D], limits units.Interval[D]) units.Quantity[D] {
	switch {
	case !limits.HasLo():
		return q.Sub(limits.Hi()).Abs()
	case !limits.HasHi():
		return q.Sub(limits.Lo()).Abs()
	}
	return units.Min(q.Sub(limits.Lo()).Abs(), q.Sub(limits.Hi()).Abs())
}
