package fasteners

import (
	"strings"

	"example.com/closefit/units"
)

// Limits are the limits of size of a thread made to a tolerance class. A bolt's minor
// diameter has no lower limit, and a nut's major diameter no upper limit: there the
// thread need only stay clear of the basic profile.
type Limits struct {
	Thread Thread               `json:"thread"`
	Class  string               `json:"class"` // "6g", "6H", "2A", "2B"
	Major  units.LengthInterval `json:"major"`
	Pitch  units.LengthInterval `json:"pitch"`
	Minor  units.LengthInterval `json:"minor"`

	// Tabulated reports whether the limits are the printed ones of the standard's tables.
	// If not, at least one comes from the standard's formulas, and another print may
	// differ in the last digit.
	Tabulated bool `json:"tabulated"`
}

// UnmarshalJSON reads the exchange form. Limits that contradict the thread's class are an
// error.
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

// Limits returns the thread's limits of size for a normal length of engagement, as the
// standard's tables print them: to 0.001 mm, or to 0.0001 in (the minor diameter of a
// 2B thread from #6 up to 0.001 in). The class is "6g" for a bolt or "6H" for a nut of a
// metric thread, "2A" for a bolt or "2B" for a nut of a unified one; capitals count.
//
// The error is of kind ErrImpossible for another class, for one that does not belong to the
// thread's form, and for a metric thread outside ISO 965-1's ranges, above 0.99 mm to 355 mm
// with a pitch of 0.2 mm to 8 mm.
//
// The tables print the pitches of ISO 261 in the ranges of diameter where they are in use; for
// unified threads, the standard series up to 4 in (2A), or the coarse and the fine one (2B),
// were read. See Tabulated.
//
// Source: ISO 965-1:2013, tables 1 and 3 to 6, and clause 13; ASME B1.1-2003, table 2 and 5.8.
func (t Thread) Limits(class string) (Limits, error) {
	c := strings.TrimSpace(class)
	var bolt, nut, fix string
	switch t.form {
	case metric:
		bolt, nut, fix = "6g", "6H", "a metric thread has the classes 6g (bolt) and 6H (nut)"
	case unified:
		bolt, nut, fix = "2A", "2B", "a unified thread has the classes 2A (bolt) and 2B (nut)"
		if capitals := strings.ToUpper(c); capitals == bolt || capitals == nut {
			fix = "write " + quoted(capitals)
		}
	default:
		return Limits{}, impossible("limits", "of no thread", "set the thread first, by ParseThread")
	}
	if c != bolt && c != nut {
		return Limits{}, impossible("tolerance class for "+t.String(), quoted(c), fix)
	}
	tol, err := t.tolerances()
	if err != nil {
		return Limits{}, err
	}
	pitch, minor := t.tabulated(t.PitchDiameter()), t.tabulated(t.MinorDiameter())
	if c == bolt {
		return Limits{
			Thread: t, Class: c, Tabulated: tol.external,
			Major: below(t.tabulated(t.major.Sub(tol.deviation)), tol.major),
			Pitch: below(pitch.Sub(tol.deviation), tol.externalPitch),
			Minor: units.AtMost(minor.Sub(tol.deviation)),
		}, nil
	}
	return Limits{
		Thread: t, Class: c, Tabulated: tol.internal,
		Major: units.AtLeast(t.major),
		Pitch: units.MustInterval(pitch, pitch.Add(tol.internalPitch)),
		Minor: units.MustInterval(tol.leastMinor, tol.mostMinor),
	}, nil
}

// A tolerance holds what a standard gives for one thread: 6g and 6H, or 2A and 2B.
type tolerance struct {
	deviation     units.Length // es: how far the largest bolt stays below the basic profile
	major         units.Length // Td, of the bolt
	externalPitch units.Length // Td2, of the bolt
	internalPitch units.Length // TD2, of the nut
	minor         units.Length // TD1, of the nut
	leastMinor    units.Length // of the nut
	mostMinor     units.Length // of the nut

	external, internal bool // the tables print all that the bolt, or the nut, needs
}

func (t Thread) tolerances() (tolerance, error) {
	if t.form == metric {
		return metricTolerances(t)
	}
	return unifiedTolerances(t), nil
}

// below returns the interval of a width below its upper bound.
func below(hi, width units.Length) units.LengthInterval {
	return units.MustInterval(hi.Sub(width), hi)
}
