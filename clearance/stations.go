package clearance

import (
	"fmt"
	"math/big"

	"example.com/closefit/units"
)

// Stations are the readings of one journal or one bore at several planes along
// it, in several directions around it in each plane: the same directions in every
// plane. A crush strip is read in one direction, at each end of its length.
//
// What they show is a difference of two of the readings, with the uncertainty of
// both by root-sum-square. Where one instrument errs by the same in all of them
// the difference is better known than that, and never worse.
type Stations struct {
	planes [][]LengthReading
}

// NewStations returns the stations of the planes given, each the readings of its
// directions. The error is an *Error of kind ErrEmpty if there are none,
// ErrStations if two planes have a different number of directions, ErrNotMeasured
// for a reading that was not taken or has nothing in it.
func NewStations(planes ...[]LengthReading) (Stations, error) {
	const where = "stations"
	if len(planes) == 0 || len(planes[0]) == 0 {
		return Stations{}, &Error{Kind: ErrEmpty, Where: where, Fix: "give the readings of each plane, one for each direction"}
	}
	copied := make([][]LengthReading, len(planes))
	for i, plane := range planes {
		if len(plane) != len(planes[0]) {
			return Stations{}, &Error{Kind: ErrStations, Where: where,
				Found: fmt.Sprintf("plane %d has %d readings, plane 1 has %d", i+1, len(plane), len(planes[0])),
				Fix:   "read every plane in the same directions"}
		}
		for j, r := range plane {
			if r.Interval().IsEmpty() {
				return Stations{}, &Error{Kind: ErrNotMeasured, Where: where,
					Found: fmt.Sprintf("plane %d, direction %d", i+1, j+1), Fix: "read it, or leave out its plane or direction everywhere"}
			}
		}
		copied[i] = append([]LengthReading(nil), plane...)
	}
	return Stations{copied}, nil
}

// Taper returns how much the size changes along the axis: in each direction, the
// largest plane less the smallest; of the directions, the most. With one plane
// nothing is known of it, and the reading is not taken.
func (s Stations) Taper() LengthReading {
	if len(s.planes) < 2 {
		return LengthReading{}
	}
	var along [][]LengthReading
	for j := range s.planes[0] {
		var line []LengthReading
		for _, plane := range s.planes {
			line = append(line, plane[j])
		}
		along = append(along, line)
	}
	return widest("taper", along)
}

// OutOfRound returns how far the section is from a circle: in each plane, the
// largest direction less the smallest; of the planes, the most. Diameters in a
// few directions see an oval, and cannot see a shape of three lobes. With one
// direction nothing is known of it, and the reading is not taken.
func (s Stations) OutOfRound() LengthReading {
	if len(s.planes) == 0 || len(s.planes[0]) < 2 {
		return LengthReading{}
	}
	return widest("out-of-round", s.planes)
}

// Smallest returns the smallest reading, as an interval that holds the smallest
// of the true sizes.
func (s Stations) Smallest() LengthReading { return s.extreme(-1) }

// Largest returns the largest reading, as an interval that holds the largest of
// the true sizes.
func (s Stations) Largest() LengthReading { return s.extreme(+1) }

// Extremes returns the reading from the smallest to the largest: what to put
// into a fit, whose clearance then holds that of every station. It is not taken
// if there are none.
func (s Stations) Extremes() LengthReading {
	all := s.all()
	if len(all) == 0 {
		return LengthReading{}
	}
	r := LengthReading{how: byExtremes, name: all[0].source(), seen: &seen[units.LengthDim]{count: len(all)}}
	r.bracket = all[0].bracket
	for _, o := range all {
		r.bracket = r.bracket.Hull(o.bracket)
		r.doubtOf(o)
	}
	return r
}

// Mean returns the mean size, exactly, with the largest of the uncertainties,
// since readings with one instrument share its error. It is not taken if there
// are no stations.
func (s Stations) Mean() LengthReading {
	all := s.all()
	if len(all) == 0 {
		return LengthReading{}
	}
	bracket := units.Exactly(units.Length{})
	r := LengthReading{how: asGiven, name: fmt.Sprintf("%s: mean of %d readings", all[0].source(), len(all))}
	for _, o := range all {
		bracket = bracket.Add(o.bracket)
		r.doubtOf(o)
	}
	r.bracket = bracket.MulRat(big.NewRat(1, int64(len(all))))
	return r
}

// all returns every reading.
func (s Stations) all() []LengthReading {
	var all []LengthReading
	for _, plane := range s.planes {
		all = append(all, plane...)
	}
	return all
}

// extreme returns the smallest (-1) or largest (+1) reading.
func (s Stations) extreme(sign int) LengthReading {
	all := s.all()
	if len(all) == 0 {
		return LengthReading{}
	}
	r := all[0]
	for _, o := range all[1:] {
		r.bracket = outermost(r.bracket, o.bracket, sign)
		r.doubtOf(o)
	}
	word := "largest"
	if sign < 0 {
		word = "smallest"
	}
	r.name = fmt.Sprintf("%s: %s of %d readings", r.source(), word, len(all))
	r.how = asGiven
	return r
}

// outermost returns the interval of the smaller (-1) or larger (+1) of a value of
// a and one of b.
func outermost(a, b units.LengthInterval, sign int) units.LengthInterval {
	if sign < 0 {
		return outermost(a.Neg(), b.Neg(), +1).Neg()
	}
	if a.HasLo() && (!b.HasLo() || b.Lo().Less(a.Lo())) {
		a, b = b, a // b has the higher lower bound
	}
	switch {
	case !b.HasLo():
		return a.Hull(b)
	case !a.HasHi() || !b.HasHi():
		return units.AtLeast(b.Lo())
	}
	return units.MustInterval(b.Lo(), units.Max(a.Hi(), b.Hi()))
}

// widest returns the reading of the largest difference within a row, of all rows.
func widest(name string, rows [][]LengthReading) LengthReading {
	var most LengthReading
	count := 0
	for _, row := range rows {
		count = max(count, len(row))
		for i, a := range row {
			for _, b := range row[i+1:] {
				most = larger(most, difference(a, b))
			}
		}
	}
	most.how, most.name, most.seen = bySpread, name, &seen[units.LengthDim]{count: count}
	return most
}

// difference returns the reading of |a - b|.
func difference(a, b LengthReading) LengthReading {
	d := combine("", ByKind, []Term{{Times: +1, Reading: a}, {Times: -1, Reading: b}})
	d.bracket, d.floored = magnitude(d.bracket), true
	return d
}

// magnitude returns the interval of the absolute values of those of a.
func magnitude(a units.LengthInterval) units.LengthInterval {
	if a.HasLo() && a.Lo().Sign() >= 0 {
		return a
	}
	if a.HasHi() && a.Hi().Sign() <= 0 {
		return a.Neg()
	}
	if !a.Bounded() {
		return units.AtLeast(units.Length{})
	}
	return units.MustInterval(units.Length{}, units.Max(a.Lo().Neg(), a.Hi()))
}

// larger returns the reading of the larger of two quantities.
func larger(a, b LengthReading) LengthReading {
	if !a.Taken() {
		return b
	}
	a.bracket = outermost(a.bracket, b.bracket, +1)
	a.doubtOf(b)
	return a
}

// doubtOf gives r the larger of its uncertainty and that of another reading.
func (r *Reading[D]) doubtOf(o Reading[D]) {
	r.expanded = units.Max(r.expanded, o.expanded)
	r.freedom = fewer(r.freedom, o.freedom)
}

// fewer returns the smaller number of degrees of freedom, of which 0 is
// unlimited.
func fewer(a, b int32) int32 {
	if a == 0 || b > 0 && b < a {
		return b
	}
	return a
}
