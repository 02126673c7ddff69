package measure

import "example.com/closefit/units"

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

// Working shows the verdict with its numbers in the unit: which side is proven, by how
// much, and what would settle an undecided one.
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
