package job

import (
	"fmt"
	"strings"

	"example.com/closefit/units"
)

// show has the units and places that a record is printed in.
type show struct {
	length   units.LengthUnit
	places   int32
	pressure units.PressureUnit
	currency string
}

// pressurePlaces is how many decimal places a limit of pressure is shown with.
const pressurePlaces = 1

// mostPlaces is how many decimal places a job may ask its lengths to be shown with.
const mostPlaces = 9

// readShow reads the units of the record. Without any, they are millimetres to
// three places, and bar. Torques are shown as they were written.
func (r *reader) readShow(t showTable) show {
	s := show{length: units.Millimetre, places: 3, pressure: units.Bar, currency: t.Currency}
	if u, ok := readIf(r, "show.length", t.Length, units.ParseUnit[units.LengthDim]); ok {
		s.length = u
	}
	if u, ok := readIf(r, "show.pressure", t.Pressure, units.ParseUnit[units.PressureDim]); ok {
		s.pressure = u
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
	return written(a, u, places, units.Floor, units.Ceiling)
}

// tolerance writes limits as reading does, but rounded inward, so that the record
// never allows more than the limits do.
func tolerance[D units.Dimension](a units.Interval[D], u units.Unit[D], places int32) string {
	return written(a, u, places, units.Ceiling, units.Floor)
}

// written writes an interval with the rounding of either bound given.
func written[D units.Dimension](a units.Interval[D], u units.Unit[D], places int32, lower, upper units.Rounding) string {
	bound := func(q units.Quantity[D], m units.Rounding) string {
		return q.Format(u, max(places, decimals(q, u, places+1)), m)
	}
	switch {
	case !a.HasLo() && !a.HasHi():
		return "not known"
	case !a.HasLo():
		return "at most " + bound(a.Hi(), upper)
	case !a.HasHi():
		return "at least " + bound(a.Lo(), lower)
	}
	lo, hi := bound(a.Lo(), lower), bound(a.Hi(), upper)
	if lo == hi {
		return lo
	}
	return strings.TrimSuffix(lo, " "+u.String()) + ".." + hi
}

// decimals returns how many places q has in the unit, most if it has more.
func decimals[D units.Dimension](q units.Quantity[D], u units.Unit[D], most int32) int32 {
	places, finite := q.Rat(u).FloatPrec()
	if !finite || places > int(most) {
		return most
	}
	return int32(places)
}

// exact makes the Range of an interval, written for reading as text.
func exact[D units.Dimension](a units.Interval[D], u units.Unit[D], text string) Range {
	r := Range{Text: text}
	if a.HasLo() {
		r.Lo = exactly(a.Lo(), u)
	}
	if a.HasHi() {
		r.Hi = exactly(a.Hi(), u)
	}
	return r
}

// exactPlaces is the most decimal places with which an exact bound is written in
// the record's unit; one with more is written as units.Exact does.
const exactPlaces = 12

// exactly writes q with every digit, in the unit if it has an end there.
func exactly[D units.Dimension](q units.Quantity[D], u units.Unit[D]) *string {
	text := q.Exact()
	if places, finite := q.Rat(u).FloatPrec(); finite && places <= exactPlaces {
		text = fmt.Sprintf("%s %s", q.Rat(u).FloatString(places), u)
	}
	return &text
}
