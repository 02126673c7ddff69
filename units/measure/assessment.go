package measure

import (
	"fmt"

	"example.com/closefit/units"
)

// An Assessment is a reading judged against its tolerance interval, with what
// is proven on each side.
type Assessment[D units.Dimension] struct {
	Reading   Reading[D]        `json:"reading"`
	Tolerance units.Interval[D] `json:"tolerance"` // empty if no limits were given: then nothing is proven
	Verdict   Verdict           `json:"verdict"`
}

// Assess judges a reading by the default rule of ISO 14253-1.
func Assess[D units.Dimension](reading Reading[D], tolerance units.Interval[D]) Assessment[D] {
	return Assessment[D]{Reading: reading, Tolerance: tolerance, Verdict: Judge(reading.Interval(), tolerance)}
}

// Meets reports for each limit whether it is proven to be met: that the value is not
// below the lower one, and not above the upper one. An absent limit is met. A reading
// that proves nothing meets neither, and without limits none is met.
func (a Assessment[D]) Meets() (lower, upper bool) {
	m := a.Reading.Interval()
	if m.IsEmpty() || a.Tolerance.IsEmpty() {
		return false, false
	}
	lower = !a.Tolerance.HasLo() || m.HasLo() && !m.Lo().Less(a.Tolerance.Lo())
	upper = !a.Tolerance.HasHi() || m.HasHi() && !a.Tolerance.Hi().Less(m.Hi())
	return lower, upper
}

// Margin returns how far inside the limits the value is proven to be, at the least: the
// distance from the reading to the nearer limit. ok is false unless the verdict is
// Conforming and there is a limit.
func (a Assessment[D]) Margin() (margin units.Quantity[D], ok bool) {
	if a.Verdict != Conforming {
		return margin, false
	}
	m := a.Reading.Interval()
	if a.Tolerance.HasLo() {
		margin, ok = m.Lo().Sub(a.Tolerance.Lo()), true
	}
	if a.Tolerance.HasHi() {
		above := a.Tolerance.Hi().Sub(m.Hi())
		if !ok || above.Less(margin) {
			margin, ok = above, true
		}
	}
	return margin, ok
}

// Outside returns by how much the value is proven to be outside the limits: at
// least its lower bound, at most its upper one, if it has one. ok is false
// unless the verdict is BelowLimit or AboveLimit.
func (a Assessment[D]) Outside() (by units.Interval[D], ok bool) {
	switch a.Verdict {
	case BelowLimit:
		return units.Exactly(a.Tolerance.Lo()).Sub(a.Reading.Interval()), true
	case AboveLimit:
		return a.Reading.Interval().Sub(units.Exactly(a.Tolerance.Hi())), true
	}
	return by, false
}

// limits returns the limits that there are, ascending.
func limits[D units.Dimension](tolerance units.Interval[D]) []units.Quantity[D] {
	var found []units.Quantity[D]
	if tolerance.HasLo() {
		found = append(found, tolerance.Lo())
	}
	if tolerance.HasHi() {
		found = append(found, tolerance.Hi())
	}
	return found
}

// Working shows the verdict with its numbers in the unit: the acceptance interval, with the
// expanded uncertainty as guard band, in which the bracket must lie; the probability of
// conformity; which side is proven, by how much, and what would settle an undecided one.
func (a Assessment[D]) Working(u units.Unit[D]) units.Working {
	w := units.Working{
		Name:    "verdict",
		Formula: "all of the reading within the limits: conforming; none of it: outside",
		Numbers: a.Reading.Supposed().Written(u) + " against " + a.Tolerance.Written(u),
		Result:  a.Verdict.String(),
		Source:  "ISO 14253-1:2017, default rule",
	}
	if a.Tolerance.IsEmpty() {
		w.Numbers = a.Reading.Supposed().Written(u)
		w.Notes = append(w.Notes, "no limits were given")
	}
	if problem := a.Reading.Problem(); problem != "" {
		w.Notes = append(w.Notes, problem)
		return w
	}
	if !a.Tolerance.IsEmpty() {
		w.Steps = a.steps(u)
	}
	if margin, ok := a.Margin(); ok {
		w.Notes = append(w.Notes, "inside by "+margin.Written(u)+" at least")
	}
	if by, ok := a.Outside(); ok {
		w.Notes = append(w.Notes, "outside by "+by.Written(u))
	}
	if a.Verdict != Undecided || a.Tolerance.IsEmpty() {
		return w
	}
	lower, upper := a.Meets()
	if lower && a.Tolerance.HasLo() {
		w.Notes = append(w.Notes, "proven not to be below the lower limit")
	}
	if upper && a.Tolerance.HasHi() {
		w.Notes = append(w.Notes, "proven not to be above the upper limit")
	}
	if needed, ok := a.Settling(NineInTen); ok {
		w.Notes = append(w.Notes, "another instrument with an expanded uncertainty of "+needed.Written(u)+" would settle it nine times in ten")
	}
	return w
}

// steps shows the acceptance interval and the probability of conformity.
func (a Assessment[D]) steps(u units.Unit[D]) []units.Working {
	var steps []units.Working
	tolerance, expanded := a.Tolerance, a.Reading.expanded(coverage{})
	if a.Reading.nonNegative && tolerance.HasLo() && tolerance.Lo().Sign() <= 0 && tolerance.HasHi() {
		tolerance = units.AtMost(tolerance.Hi()) // the lower limit needs no guard band
	}
	if !expanded.IsZero() {
		step := acceptingStep(tolerance, expanded, u)
		step.Notes = append(step.Notes, "w is the expanded uncertainty: what is read, "+a.Reading.bracket().Written(u)+", conforms if it lies here")
		steps = append(steps, step)
	}
	least, greatest, err := Conformity(a.Reading, a.Tolerance)
	if err != nil {
		return steps
	}
	p := units.Working{Name: "probability of conformity", Result: fmt.Sprintf("%.3g", least), Source: "JCGM 106:2012, 7"}
	if places := 3; greatest-least > 5e-4 {
		p.Result = fmt.Sprintf("%.*g to %.*g", places, least, places, greatest)
		p.Notes = append(p.Notes, "where in its bracket the value lies is not known, nor how doubts of one instrument hang together")
	}
	laws := a.Reading.laws()
	if b := a.Reading.bracket(); b.IsPoint() && !a.Reading.nonNegative && len(laws) == 1 && laws[0].normal() && !expanded.IsZero() {
		p.Formula, p.Numbers = normalConformity(tolerance, b.Lo(), expanded, u)
	}
	return append(steps, p)
}

// normalConformity writes the probability that a normal value lies inside limits.
func normalConformity[D units.Dimension](tolerance units.Interval[D], value, expanded units.Quantity[D], u units.Unit[D]) (formula, numbers string) {
	term := func(bound string, limit units.Quantity[D]) (formula, numbers string) {
		return "Φ((" + bound + " - y)/u)", "Φ((" + limit.WrittenBare(u) + " - " + value.WrittenBare(u) + ") / (" + expanded.WrittenBare(u) + " / 2))"
	}
	formula, numbers = "1", "1"
	if tolerance.HasHi() {
		formula, numbers = term("U", tolerance.Hi())
	}
	if tolerance.HasLo() {
		f, n := term("L", tolerance.Lo())
		formula, numbers = formula+" - "+f, numbers+" - "+n
	}
	return "p = " + formula, numbers
}
