package job

import (
	"fmt"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

// clearanceOf is the running clearance at one location.
type clearanceOf struct {
	location string
	reading  clearance.LengthReading
	sizes    *clearance.Bearing // nil unless the clearance follows from sizes
}

// readClearances reads the running clearance of every location that has one.
func (r *reader) readClearances(path string, t bearingsTable) map[string]clearanceOf {
	clearances := map[string]clearanceOf{}
	seen := map[string]string{}
	for i, t2 := range t.Readings {
		at := fmt.Sprintf("%s.readings[%d]", path, i)
		if !r.present(at+".location", t2.Location) ||
			!r.oneOf(at+".location", t2.Location, "location", t.Locations) ||
			!r.once(at+".location", t2.Location, "location", seen) {
			continue
		}
		c := r.clearance(at, t2)
		c.location = t2.Location
		clearances[t2.Location] = c
	}
	return clearances
}

// clearance reads one running clearance in the way that its keys tell.
func (r *reader) clearance(path string, t clearanceReading) clearanceOf {
	with := withTable{}
	if t.With != nil {
		with = *t.With
	}
	sizes := t.Bore != "" || t.UpperWall != "" || t.LowerWall != "" || t.Journal != ""
	switch {
	case t.Strip != "" && sizes:
		r.fail(path, "a clearance read in two ways: %w; keep the strip, or the sizes", ErrAmbiguous)
	case t.Strip != "":
		reading, _ := r.strip(path, t.Strip, with)
		return clearanceOf{reading: reading}
	case sizes:
		return r.fromSizes(path, t, with)
	}
	return clearanceOf{}
}

// strip reads a crush strip: "0.038 mm" is nearest to that print, "0.025..0.038
// mm" lies between two.
func (r *reader) strip(path, text string, with withTable) (reading clearance.LengthReading, ok bool) {
	in, known := r.named(path+".with.strip", with.Strip, crushStrip)
	iv, ok := read(r, path+".strip", text, units.ParseLengthInterval)
	if !known || !ok {
		return reading, false
	}
	var err error
	switch {
	case !iv.HasLo():
		reading, err = in.strip.Tighter()
	case !iv.HasHi():
		reading, err = in.strip.Looser()
	case iv.IsPoint():
		reading, err = in.strip.Nearest(iv.Lo())
	default:
		reading, err = in.strip.Between(iv.Lo(), iv.Hi())
	}
	return reading, r.check(path+".strip", err)
}

// fromSizes works a clearance out from the sizes of its parts.
func (r *reader) fromSizes(path string, t clearanceReading, with withTable) clearanceOf {
	bore, ok1 := r.size(path+".bore", t.Bore, path+".with.bore", with.Bore)
	upper, ok2 := r.size(path+".upper_wall", t.UpperWall, path+".with.walls", with.Walls)
	lower, ok3 := r.size(path+".lower_wall", t.LowerWall, path+".with.walls", with.Walls)
	journal, ok4 := r.size(path+".journal", t.Journal, path+".with.journal", with.Journal)
	if !ok1 || !ok2 || !ok3 || !ok4 {
		return clearanceOf{}
	}
	b := clearance.Bearing{
		HousingBore: bore.Interval(), UpperWall: upper.Interval(),
		LowerWall: lower.Interval(), Journal: journal.Interval(),
	}
	return clearanceOf{reading: clearance.Given(b.Clearance(), "worked out from bore, walls and journal"), sizes: &b}
}
