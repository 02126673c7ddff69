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

// find judges a reading and says what follows. advise says what would settle it if
// it is undecided.
func find[D units.Dimension](s subject, r clearance.Reading[D], limits units.Interval[D], u units.Unit[D], places int32, advise func(clearance.Assessment[D]) string) Finding {
	a := clearance.Assess(r, limits)
	f := Finding{
		Group: s.group, Location: s.location, Quantity: s.quantity,
		Measured:  Range{Text: "not measured"},
		Tolerance: exact(limits, u, tolerance(limits, u, places), units.Ceiling, units.Floor),
		Verdict:   a.Verdict,
		Taken:     r.Taken(),
	}
	if !r.Taken() {
		return f
	}
	measured := r.Interval()
	f.Measured = exact(measured, u, reading(measured, u, places), units.Floor, units.Ceiling)
	f.How = r.How(u)
	if by, outside := a.Outside(); outside {
		f.Advice = "by " + reading(by, u, places)
	} else if a.Verdict == clearance.Undecided {
		f.Advice = advise(a)
	}
	return f
}

// enough says how good a measurement can settle an undecided reading.
func enough[D units.Dimension](a clearance.Assessment[D], u units.Unit[D], places int32) string {
	needed, ok := a.Needed()
	if !ok {
		return "it lies on the limit, and no measurement can settle it"
	}
	return fmt.Sprintf("a measurement good to ±%s can settle it", needed.Format(u, places+1, units.Floor))
}

// openEnded says what is known of a reading without an upper bound.
func openEnded[D units.Dimension](a clearance.Assessment[D], u units.Unit[D], places int32) string {
	if !a.AboveLower() {
		return "nothing is known of how much more it is"
	}
	known := a.Reading.Interval().Lo()
	return fmt.Sprintf("it is proven not to be below the limit, and nothing is known of how much more than %s it is: find what it does not reach",
		known.Format(u, max(places, decimalsOr(known, u, mostPlaces, places+1)), units.Floor))
}

// slip says what an implausible reading may have been meant as; nothing if it is
// plausible.
func slip[D units.Dimension](r clearance.Reading[D], limits units.Interval[D], u units.Unit[D], others ...units.Unit[D]) string {
	slips := clearance.Slips(r, limits, u, others...)
	if len(slips) == 0 {
		return ""
	}
	return slips[0].String()
}
