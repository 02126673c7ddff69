package job

import (
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A value is what is known of a line at one place, where that is no length.
type value[D units.Dimension] struct {
	reading measure.Reading[D]
	how     string         // how it was made; the reading's own words where empty
	open    string         // what keeps it from being known
	working *units.Working // nil if there is no arithmetic to check
	slip    string         // what it may have been meant as
}

// valueGroup judges a line of any dimension at each of its places.
func valueGroup[D units.Dimension](m *measured, u units.Unit[D], places int32, limits units.Interval[D], of func(location string) value[D]) Group {
	g := Group{Name: m.group, Quantity: m.quantity, Remedy: m.remedy, Limits: "not stated", before: m.before}
	if !limits.IsEmpty() {
		g.Limits = tolerance(limits, u, places)
	}
	var d drawing
	within := toleranceRange(limits, u, places)
	all := make([]units.Interval[D], 0, len(m.at))
	g.Findings = make([]Finding, 0, len(m.at))
	for _, location := range m.at {
		v := of(location)
		all = append(all, v.reading.Interval())
		a := measure.Assess(v.reading, limits)
		f := found(subject{g.Name, location, g.Quantity}, a, within, u, places)
		f.Working = v.working
		switch {
		case !f.Taken:
			f.Advice = v.open
		case v.how != "":
			f.How = v.how
		}
		if f.Taken && a.Verdict == measure.Undecided && !limits.IsEmpty() {
			f.Advice = advice(m, a, u, places)
		}
		if v.slip != "" {
			f.Slip, f.Verdict = v.slip, measure.Undecided
		}
		g.Findings = append(g.Findings, f)
		add(&d, v.reading.Interval(), limits, u)
	}
	d.into(g.Findings)
	g.ask(m, m.quantity, asksLimits(limits, all, u))
	return g
}

// advice says what would settle an undecided value.
func advice[D units.Dimension](m *measured, a measure.Assessment[D], u units.Unit[D], places int32) string {
	switch {
	case len(a.Reading.Unmet()) > 0:
		return a.Reading.Problem() + "; once it was read so, say it under conditions"
	case !a.Reading.Interval().HasHi():
		return openEnded(a)
	case m.form == pressure:
		return "try pressures between, in smaller steps"
	}
	return settles(a, u, places)
}

// limitsOf reads the limits of a quantity that is never below zero; empty if they are
// none.
func limitsOf[D units.Dimension](r *reader, path, text string, parse func(string) (units.Interval[D], error)) units.Interval[D] {
	a, ok := read(r, path, text, parse)
	switch {
	case !ok:
	case !a.HasLo() && !a.HasHi():
		r.fail(path, "%s: limits that allow everything; write one or both", text)
	case a.IsPoint():
		r.oneFigure(path, text)
	case a.HasLo() && a.Lo().Sign() < 0, a.HasHi() && a.Hi().Sign() < 0:
		r.fail(path, "%s: a limit below zero; write limits of zero or more", text)
	default:
		return a
	}
	return units.Interval[D]{}
}

// pressureGroup judges the opening pressures of valves.
func (j *Job) pressureGroup(m *measured) Group {
	return valueGroup(m, j.show.pressure, pressurePlaces, m.pressures, func(location string) value[units.PressureDim] {
		e := m.taken[location]
		v := value[units.PressureDim]{reading: e.pressure}
		if !e.sure {
			v.slip = slip(e.pressure, m.pressures, j.show.pressure, nil, units.Bar, units.PoundForcePerSquareInch, units.Kilopascal)
		}
		return v
	})
}
