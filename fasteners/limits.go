package fasteners

import (
	"slices"
	"strings"

	"example.com/closefit/units"
)

// Limits are the limits of size of a thread made to a tolerance class. Of a bolt, the
// minor diameter has no lower limit; of a nut, the major diameter has no upper one:
// there the thread may only not reach through the basic profile.
type Limits struct {
	Thread Thread               `json:"thread"`
	Class  string               `json:"class"` // "6g", "6H", "2A", "2B"
	Major  units.LengthInterval `json:"major"`
	Pitch  units.LengthInterval `json:"pitch"`
	Minor  units.LengthInterval `json:"minor"`

	// Tabulated reports whether the standard's tables cover the thread, so that the limits
	// are those that it prints. If not, at least one comes from the standard's formulas, and
	// another print may differ in the last digit.
	Tabulated bool `json:"tabulated"`
}

// UnmarshalJSON reads the exchange form. Limits that are not those of the thread's class
// are an error.
func (l *Limits) UnmarshalJSON(data []byte) error {
	type limits Limits
	var w limits
	if err := units.DecodeObject(data, &w); err != nil {
		return err
	}
	standard, err := w.Thread.Limits(w.Class)
	if err != nil {
		return err
	}
	if !w.Major.Equal(standard.Major) || !w.Pitch.Equal(standard.Pitch) || !w.Minor.Equal(standard.Minor) || w.Tabulated != standard.Tabulated {
		return notWritten("limits of "+w.Thread.String(), "others than those of class "+w.Class, "write what Thread.Limits returns")
	}
	*l = standard
	return nil
}

// The tolerance classes that this package holds. Capitals count: g is a bolt, H a nut.
const (
	class6g = "6g" // metric, external
	class6H = "6H" // metric, internal
	class2A = "2A" // unified, external
	class2B = "2B" // unified, internal
)

// Limits returns the thread's limits of size for a normal length of engagement, as the
// standard's tables print them: to 0.001 mm, or to 0.0001 in (the minor diameter of a
// 2B thread from #6 up to 0.001 in). The class is "6g" for a bolt or "6H" for a nut of a
// metric thread, "2A" for a bolt or "2B" for a nut of a unified one.
//
// The error is of kind ErrImpossible for another class, for one that does not belong to the
// thread's form, and for a metric thread outside ISO 965-1's ranges, above
// 0.99 mm to 355 mm with a pitch of 0.2 mm to 8 mm.
//
// Of a metric thread the tables print the pitches of ISO 261 in the ranges of diameter where
// they are in use; of a unified one, the standard series up to 4 in (2A), or the coarse and the
// fine one (2B), were read. See Tabulated.
//
// Source: ISO 965-1:2013, tables 1 and 3 to 6, and clause 13; ASME B1.1-2003, table 2 and 5.8.
func (t Thread) Limits(class string) (Limits, error) {
	c := strings.TrimSpace(class)
	if err := t.checkClass(c); err != nil {
		return Limits{}, err
	}
	l := Limits{Thread: t, Class: c}
	major, pitch, minor := t.major, t.tabulated(t.PitchDiameter()), t.tabulated(t.MinorDiameter())
	switch c {
	case class6g:
		tol, err := metricTolerances(t)
		if err != nil {
			return Limits{}, err
		}
		l.Major = below(major.Sub(tol.deviation), tol.major)
		l.Pitch = below(pitch.Sub(tol.deviation), tol.externalPitch)
		l.Minor = units.AtMost(minor.Sub(tol.deviation))
		l.Tabulated = tol.external
	case class6H:
		tol, err := metricTolerances(t)
		if err != nil {
			return Limits{}, err
		}
		l.Major = units.AtLeast(major)
		l.Pitch = above(pitch, tol.internalPitch)
		l.Minor = above(minor, tol.minor)
		l.Tabulated = tol.internal
	case class2A:
		tol := unifiedTolerances(t)
		l.Major = below(t.tabulated(major.Sub(tol.allowance)), tol.major)
		l.Pitch = below(pitch.Sub(tol.allowance), tol.externalPitch)
		l.Minor = units.AtMost(minor.Sub(tol.allowance))
		l.Tabulated = tol.external
	case class2B:
		tol := unifiedTolerances(t)
		l.Major = units.AtLeast(major)
		l.Pitch = above(pitch, tol.internalPitch)
		l.Minor = units.MustInterval(tol.leastMinor, tol.printedMinor(minor.Add(tol.minor)))
		l.Tabulated = tol.internal
	}
	return l, nil
}

// checkClass refuses a tolerance class that is unknown or belongs to the other form of thread.
func (t Thread) checkClass(class string) error {
	const what = "tolerance class"
	inch := []string{class2A, class2B}
	if !slices.Contains([]string{class6g, class6H, class2A, class2B}, class) {
		fix := "the choice is 6g and 6H for a metric thread, 2A and 2B for a unified one"
		if capitals := strings.ToUpper(class); slices.Contains(inch, capitals) {
			fix = "write " + quoted(capitals)
		}
		return impossible(what, quoted(class), fix)
	}
	isInch := slices.Contains(inch, class)
	switch {
	case t.form == noForm:
		return impossible(what+" for "+t.String(), quoted(class), "set the thread first, by ParseThread")
	case t.form == metric && isInch:
		return impossible(what+" for "+t.String(), quoted(class), "a metric thread has the classes 6g (bolt) and 6H (nut)")
	case t.form == unified && !isInch:
		return impossible(what+" for "+t.String(), quoted(class), "a unified thread has the classes 2A (bolt) and 2B (nut)")
	}
	return nil
}

// below returns the interval of a width below its upper bound.
func below(hi, width units.Length) units.LengthInterval {
	return units.MustInterval(hi.Sub(width), hi)
}

// above returns the interval of a width above its lower bound.
func above(lo, width units.Length) units.LengthInterval {
	return units.MustInterval(lo, lo.Add(width))
}
