package fasteners

import (
	"fmt"
	"strings"

	"example.com/closefit/units"
)

// A Class is a tolerance class of threads: how far a thread may lie from its basic
// profile.
type Class string

const (
	Class6g Class = "6g" // metric, external: ISO 965-1, the usual bolt
	Class6H Class = "6H" // metric, internal: ISO 965-1, the usual nut
	Class2A Class = "2A" // unified, external: ASME B1.1, the usual bolt
	Class2B Class = "2B" // unified, internal: ASME B1.1, the usual nut
)

// ParseClass reads a tolerance class. Capitals count: 6g is a bolt and 6H a nut. The
// error wraps ErrClass; this package holds the four classes above.
func ParseClass(s string) (Class, error) {
	switch c := Class(strings.TrimSpace(s)); c {
	case Class6g, Class6H, Class2A, Class2B:
		return c, nil
	}
	fix := `the choice is 6g and 6H for a metric thread, 2A and 2B for a unified one`
	switch c := Class(strings.ToUpper(strings.TrimSpace(s))); c {
	case Class2A, Class2B:
		fix = fmt.Sprintf("write %q", c)
	}
	return "", &ClassError{Class: shortened(s), What: "tolerance class", Fix: fix}
}

// External reports whether the class is for bolts.
func (c Class) External() bool { return c == Class6g || c == Class2A }

// Limits are the limits of size of a thread made to a tolerance class. Of a bolt, the
// minor diameter has no lower limit; of a nut, the major diameter has no upper one:
// there the thread may only not reach through the basic profile.
type Limits struct {
	Thread Thread
	Class  Class
	Major  units.LengthInterval
	Pitch  units.LengthInterval
	Minor  units.LengthInterval

	// Tabulated reports whether the standard's tables cover the thread, so that the limits
	// are those that it prints. If not, at least one comes from the standard's formulas, and
	// another print may differ in the last digit.
	Tabulated bool
}

// Limits returns the thread's limits of size for a normal length of engagement, as the
// standard's tables print them: to 0.001 mm, or to 0.0001 in (the minor diameter of a
// 2B thread from #6 up to 0.001 in).
//
// The error wraps ErrClass if the class does not belong to the thread's form, and
// ErrThread for a metric thread outside ISO 965-1's ranges, above 0.99 mm to 355 mm with a
// pitch of 0.2 mm to 8 mm.
//
// Of a metric thread the tables print the pitches of ISO 261 in the ranges of diameter where
// they are in use; of a unified one, the standard series up to 4 in (2A), or the coarse and the
// fine one (2B), were read. See Tabulated.
//
// Source: ISO 965-1:2013, tables 1 and 3 to 6, and clause 13; ASME B1.1-2003, table 2 and 5.8.
func (t Thread) Limits(c Class) (Limits, error) {
	c, err := ParseClass(string(c))
	if err != nil {
		return Limits{}, err
	}
	isMetric := c == Class6g || c == Class6H
	if isMetric != (t.form == metric) || t.form == noForm {
		fix := `a metric thread has the classes 6g (bolt) and 6H (nut)`
		switch t.form {
		case unified:
			fix = `a unified thread has the classes 2A (bolt) and 2B (nut)`
		case noForm:
			fix = "set the thread first, by ParseThread or MetricThread"
		}
		return Limits{}, &ClassError{Class: string(c), What: "tolerance class", For: t.String(), Fix: fix}
	}
	l := Limits{Thread: t, Class: c}
	major, pitch, minor := t.major, t.Tabulated(t.PitchDiameter()), t.Tabulated(t.MinorDiameter())
	switch c {
	case Class6g:
		tol, err := metricTolerances(t)
		if err != nil {
			return Limits{}, err
		}
		l.Major = below(major.Sub(tol.deviation), tol.major)
		l.Pitch = below(pitch.Sub(tol.deviation), tol.externalPitch)
		l.Minor = units.AtMost(minor.Sub(tol.deviation))
		l.Tabulated = tol.external
	case Class6H:
		tol, err := metricTolerances(t)
		if err != nil {
			return Limits{}, err
		}
		l.Major = units.AtLeast(major)
		l.Pitch = above(pitch, tol.internalPitch)
		l.Minor = above(minor, tol.minor)
		l.Tabulated = tol.internal
	case Class2A:
		tol := unifiedTolerances(t)
		l.Major = below(t.Tabulated(major.Sub(tol.allowance)), tol.major)
		l.Pitch = below(pitch.Sub(tol.allowance), tol.externalPitch)
		l.Minor = units.AtMost(minor.Sub(tol.allowance))
		l.Tabulated = tol.external
	case Class2B:
		tol := unifiedTolerances(t)
		l.Major = units.AtLeast(major)
		l.Pitch = above(pitch, tol.internalPitch)
		l.Minor = units.MustInterval(tol.leastMinor, tol.printedMinor(minor.Add(tol.minor)))
		l.Tabulated = tol.internal
	}
	return l, nil
}

// below returns the interval of a width below its upper bound.
func below(hi, width units.Length) units.LengthInterval {
	return units.MustInterval(hi.Sub(width), hi)
}

// above returns the interval of a width above its lower bound.
func above(lo, width units.Length) units.LengthInterval {
	return units.MustInterval(lo, lo.Add(width))
}
