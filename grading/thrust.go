package grading

import (
	"slices"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// thrust reports whether the site is one of thrust washers.
func (site Site) thrust() bool {
	return !site.Room.IsEmpty() || !site.EndPlay.IsEmpty() || len(site.Fitted) > 0
}

// halves returns where the two parts of the site go.
func (site Site) halves() (first, second Half) {
	if site.thrust() {
		return Front, Rear
	}
	return Upper, Lower
}

// washersMeasured returns an error unless the site says what end plays can be reckoned
// from.
func (s *Scheme) washersMeasured(site Site) error {
	m := site.Room
	if m.IsEmpty() {
		m = site.EndPlay
	}
	switch fitted := len(site.Fitted); {
	case !site.Housing.IsEmpty() || !site.Journal.IsEmpty():
		return s.fault(site.Location, "give two sites", "a bearing's sizes and an end play in one site")
	case site.Room.IsEmpty() == site.EndPlay.IsEmpty(), !m.Bounded(), !site.Room.IsEmpty() && !isSize(m):
		return s.fault(site.Location, "give a room or an end play; a room is above zero, and both have both bounds", "a room of %s, an end play of %s", site.Room, site.EndPlay)
	case fitted != 0 && site.EndPlay.IsEmpty(), fitted != 2 && site.Room.IsEmpty():
		return s.fault(site.Location, "give the front and the rear washer with an end play, and none with a room", "%d washers fitted", fitted)
	}
	for i, f := range site.Fitted {
		half := []Half{Front, Rear}[i]
		switch {
		case f.Half != half && f.Half != Either:
			return s.fault(site.Location, "exchange them", "a %s washer fitted as the %s one", f.Half, half)
		case !isSize(f.Wall):
			return s.fault(site.Location, "write both limits of a size above zero", "the %s washer, %s, has a thickness of %s", half, f.Grade, f.Wall)
		case !slices.ContainsFunc(s.halves(half), func(sh Shell) bool { return sh.Grade == f.Grade }):
			return s.fault(site.Location, "list it, or give the room that it leaves", "a %s washer %q is fitted, and not listed", half, f.Grade)
		}
	}
	return nil
}

// endPlay returns the sum for the end play with a pair. A washer that stays is on both
// sides of it, and left out.
func (s *Scheme) endPlay(site Site, p Pair) (measure.Sum[units.LengthDim], error) {
	sum := measure.Sum[units.LengthDim]{Name: "end play", Symbol: "E'"}
	add := func(term func(symbol, name string, r measure.LengthReading) measure.Term[units.LengthDim], symbol, name string, size units.LengthInterval) {
		sum.Terms = append(sum.Terms, term(symbol, name, measure.Given(size, "")))
	}
	if site.EndPlay.IsEmpty() {
		add(measure.Plus, "R", "room", site.Room)
	} else {
		add(measure.Plus, "E", "end play as measured", site.EndPlay)
	}
	parts := []Part{p.Upper, p.Lower}
	stays := make([]bool, len(parts))
	for i, f := range site.Fitted {
		k := i
		if s.Interchangeable { // either of the two will do, if it has not been taken
			k = slices.IndexFunc(parts, func(part Part) bool { return part.Grade == f.Grade })
			if k >= 0 && stays[k] {
				k = 1 - k
			}
		}
		if k >= 0 && parts[k].Grade == f.Grade && !stays[k] {
			stays[k] = true
			continue
		}
		add(measure.Plus, "t"+"fr"[i:i+1], []string{"front", "rear"}[i]+" washer taken out", f.Wall)
	}
	for i, part := range parts {
		if stays[i] {
			continue
		}
		wall, err := s.wall(part)
		if err != nil {
			return sum, err
		}
		add(measure.Minus, "t"+"fr"[i:i+1]+"'", []string{"front", "rear"}[i]+" washer put in", wall)
	}
	return sum, nil
}
