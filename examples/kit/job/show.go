package job

import (
	"strings"

	"example.com/closefit/units"
)

// show has the units and places that a record is printed in.
type show struct {
	length   units.LengthUnit
	places   int32
	pressure units.Unit[units.PressureDim]
	mass     units.Unit[units.MassDim]
	currency string
}

// shownIn is the unit and the places of a line: those of the job, but of a roughness
// micrometres, as drawings have it.
func (j *Job) shownIn(m *measured) (units.LengthUnit, int32) {
	if m.smooth {
		return units.Micrometre, 2
	}
	return j.show.length, j.show.places
}

// pressurePlaces is how many decimal places a limit of pressure is shown with.
const pressurePlaces = 1

// mostPlaces is how many decimal places a job may ask its lengths to be shown with.
const mostPlaces = 9

// readShow reads the units of the record. Without any, they are millimetres to
// three places, and bar. Torques are shown as they were written.
func (r *reader) readShow(t showTable) show {
	s := show{length: units.Millimetre, places: 3, pressure: units.Bar, mass: units.Gram, currency: t.Currency}
	if u, ok := readIf(r, "show.length", t.Length, units.Parse[units.LengthUnit]); ok {
		s.length = u
	}
	if u, ok := readIf(r, "show.pressure", t.Pressure, units.Parse[units.Unit[units.PressureDim]]); ok {
		s.pressure = u
	}
	if u, ok := readIf(r, "show.mass", t.Mass, units.Parse[units.Unit[units.MassDim]]); ok {
		s.mass = u
	}
	if t.Places != nil {
		if *t.Places < 0 || *t.Places > mostPlaces {
			r.fail("show.length_places", "%d places; write a number from 0 to %d", *t.Places, mostPlaces)
		} else {
			s.places = int32(*t.Places)
		}
	}
	return s
}

// reading writes what was measured. A bound has the digits that it needs, at least
// places and at most one more; beyond that it is rounded outward.
func reading[D units.Dimension](a units.Interval[D], u units.Unit[D], places int32) string {
	return written(a, func(q units.Quantity[D], lower bool) string {
		return q.Format(u, max(places, decimals(q, u, places+1)), outward(lower))
	})
}

// tolerance writes limits with all the digits that they have. Limits that have no
// end in the unit are rounded inward, so that the record never allows more than
// they do, with as many places as keep them from crossing.
func tolerance[D units.Dimension](a units.Interval[D], u units.Unit[D], places int32) string {
	places++
	for places < exactPlaces {
		if _, err := a.Inward(u, places); err == nil {
			break
		}
		places++
	}
	return written(a, func(q units.Quantity[D], lower bool) string {
		return q.Format(u, max(places-1, decimalsOr(q, u, mostPlaces, places)), outward(!lower))
	})
}

// outward is the rounding that keeps what was measured inside.
func outward(lower bool) units.Rounding {
	if lower {
		return units.Floor
	}
	return units.Ceiling
}

// written writes an interval with the way given to write its lower and upper bound.
func written[D units.Dimension](a units.Interval[D], bound func(q units.Quantity[D], lower bool) string) string {
	switch {
	case !a.HasLo() && !a.HasHi():
		return "not known"
	case !a.HasLo():
		return "at most " + bound(a.Hi(), false)
	case !a.HasHi():
		return "at least " + bound(a.Lo(), true)
	}
	lo, hi := bound(a.Lo(), true), bound(a.Hi(), false)
	if lo == hi {
		return lo
	}
	number, unit, _ := strings.Cut(lo, " ")
	if strings.HasSuffix(hi, " "+unit) {
		lo = number
	}
	return lo + ".." + hi
}

// decimals returns how many places q has in the unit, most if it has more.
func decimals[D units.Dimension](q units.Quantity[D], u units.Unit[D], most int32) int32 {
	return decimalsOr(q, u, most, most)
}

// decimalsOr is decimals with something else for more than most.
func decimalsOr[D units.Dimension](q units.Quantity[D], u units.Unit[D], most, instead int32) int32 {
	if text := q.WrittenBare(u); !strings.HasPrefix(text, "≈") { // every digit is there
		_, part, _ := strings.Cut(text, ".")
		if len(part) > int(most) {
			return instead
		}
		return int32(len(part))
	}
	places, finite := q.Rat(u).FloatPrec()
	if !finite || places > int(most) {
		return instead
	}
	return int32(places)
}

// exact makes the Range of an interval, written for reading as text. A bound that
// has no end in the unit is rounded there to nine places, in the way given.
func exact[D units.Dimension](a units.Interval[D], u units.Unit[D], text string, lower, upper units.Rounding) Range {
	r := Range{Text: text}
	if a.HasLo() {
		r.Lo = exactly(a.Lo(), u, lower)
	}
	if a.HasHi() {
		r.Hi = exactly(a.Hi(), u, upper)
	}
	return r
}

// exactPlaces is the most decimal places that a bound is written with.
const exactPlaces = 12

// exactly writes q in the unit with every digit, or rounded to nine places if it
// has more than twelve.
func exactly[D units.Dimension](q units.Quantity[D], u units.Unit[D], m units.Rounding) *string {
	text := q.Format(u, decimalsOr(q, u, exactPlaces, mostPlaces), m)
	return &text
}

// Units are those that a job is shown in, by their names.
type Units struct{ Length, Pressure, Mass string }

// Units returns the units in which readings are typed and shown.
func (j *Job) Units() Units {
	return Units{j.show.length.String(), j.show.pressure.String(), j.show.mass.String()}
}
