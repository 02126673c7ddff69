package job

import (
	"fmt"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// notStated stands where the limits would.
const notStated = "not stated"

// subject is what a finding is about.
type subject struct {
	group, location, quantity string
}

// Name is what the finding is called everywhere: "main bearing 2 clearance".
func (f Finding) Name() string { return itemName(f.Group, f.Location, f.Quantity) }

// standing is what is known of a finding.
func (f Finding) standing() Standing {
	switch {
	case !f.Taken:
		return NotMeasured
	case f.Tolerance.Lo == nil && f.Tolerance.Hi == nil:
		return NotMeasured
	case f.Verdict.Outside():
		return Wrong
	case f.Verdict == measure.Undecided:
		return Undecided
	}
	return Proven
}

// summary says what is known of a finding, beside the word of its standing.
func (f Finding) summary() string {
	switch f.standing() {
	case NotMeasured:
		if f.Taken && f.Advice != "" {
			return f.Measured.Text + "; " + f.Advice
		}
		if f.Taken {
			return f.Measured.Text + "; no limits are stated"
		}
		if f.Tolerance.Lo == nil && f.Tolerance.Hi == nil {
			return "no limits are stated"
		}
		return "the limits are " + f.Tolerance.Text
	case Proven:
		return f.Measured.Text
	case Undecided:
		return fmt.Sprintf("%s, limits %s", f.Measured.Text, f.Tolerance.Text)
	}
	return fmt.Sprintf("%s, limits %s: %s", f.Measured.Text, f.Tolerance.Text, f.Verdict)
}

// toleranceRange is what findings show of the limits that they are judged by.
func toleranceRange[D units.Dimension](limits units.Interval[D], u units.Unit[D], places int32) Range {
	if limits.IsEmpty() {
		return Range{Text: notStated}
	}
	return exact(limits, u, tolerance(limits, u, places), units.Ceiling, units.Floor)
}

// found makes an assessment a finding, with the toleranceRange of its limits. One that would
// prove something if its conditions were met shows what that is, and stays undecided.
func found[D units.Dimension](s subject, a measure.Assessment[D], within Range, u units.Unit[D], places int32) Finding {
	limits := a.Tolerance // alone, so that the rest is not kept
	f := Finding{
		Group: s.group, Location: s.location, Quantity: s.quantity,
		Measured:  Range{Text: "not measured"},
		Tolerance: within,
		Verdict:   a.Verdict,
		Taken:     a.Reading.Taken(),
		limits:    func(text []byte) []byte { return measure.AppendBounds(text, limits) },
	}
	if !f.Taken {
		return f
	}
	measured := a.Reading.Supposed()
	f.Measured = exact(measured, u, reading(measured, u, places), units.Floor, units.Ceiling)
	f.How = a.Reading.How(u)
	if by, outside := a.Outside(); outside {
		f.Advice = "by " + reading(by, u, places)
	}
	return f
}

// settles says how good another measurement has to be.
func settles[D units.Dimension](a measure.Assessment[D], u units.Unit[D], places int32) string {
	if problem := a.Reading.Problem(); problem != "" {
		return problem
	}
	needed, ok := a.Settling(measure.NineInTen)
	if !ok {
		return "no measurement can promise to settle it"
	}
	return fmt.Sprintf("measure it to ±%s, which settles it nine times in ten", needed.Format(u, shownAt(needed, u, places+1), units.Floor))
}

// shownAt returns how many places, at least so many, show more than zeros of what is not
// zero.
func shownAt[D units.Dimension](q units.Quantity[D], u units.Unit[D], places int32) int32 {
	for places < mostPlaces && q.Rounded(u, places, units.Floor).IsZero() {
		places++
	}
	return places
}

// openEnded says what is known of a reading without an upper bound.
func openEnded[D units.Dimension](a measure.Assessment[D]) string {
	if lower, _ := a.Meets(); !lower {
		return "find what it does not reach"
	}
	return "it is not below the limit; find what it does not reach"
}

// slip says what an implausible reading may have been meant as; nothing if it is
// plausible. turns are the steps in which a turn of its instrument may be lost.
func slip[D units.Dimension](r measure.Reading[D], limits units.Interval[D], u units.Unit[D], turns []units.Quantity[D], others ...units.Unit[D]) string {
	slips := clearance.Slips(r, limits, u, others, turns...)
	if len(slips) == 0 {
		return ""
	}
	return slips[0].String() // what would be right comes first
}

// chances says a chance in words: "6 times in 10".
func chances(p float64) string {
	switch n := int(p * 10); {
	case n == 0:
		return "hardly ever"
	default:
		return strings.Replace(fmt.Sprintf("%d times in 10", n), "1 times", "once", 1)
	}
}
