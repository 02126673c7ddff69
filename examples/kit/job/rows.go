package job

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/grading"
)

// codesTable has the rows of codes as stamped: those of the housings, which choose
// the upper shells, and those of the journals, which choose the lower ones; or both
// together both.
type codesTable struct {
	Upper    string    `toml:"upper"`
	Lower    string    `toml:"lower"`
	UpperRow *rowTable `toml:"upper_row"`
	LowerRow *rowTable `toml:"lower_row"`
}

// rowTable says how a row of codes is read.
type rowTable struct {
	Begins  string `toml:"begins"`  // the location to which its first code belongs
	Mark    string `toml:"mark"`    // what stands beside the codes and is none
	MarkAt  string `toml:"mark_at"` // the location beside which it stands
	Upright bool   `toml:"upright"` // it is known to stand the right way up
}

// codeRow is a row of codes.
type codeRow struct {
	key     string // "upper_row"
	reading grading.RowReading
}

// assign finds the shells that the stamped codes call for. A journal that was ground has
// no code that counts.
func (r *reader) assign(j *Job, set *shellSet, t codesTable) {
	if rowOpen(t.Upper) || rowOpen(t.Lower) {
		set.unread = true
		return
	}
	r.assignRows(j, set, t)
}

// assignRows is assign for rows of which something was read.
func (r *reader) assignRows(j *Job, set *shellSet, t codesTable) {
	path := set.path() + ".codes"
	housing, ok1 := r.row(path+".upper", t.Upper, t.UpperRow, grading.Housing, set.scheme, set.stampedAt(j, "upper"))
	journal, ok2 := r.row(path+".lower", t.Lower, t.LowerRow, grading.Journal, set.scheme, set.stampedAt(j, "lower"))
	if !ok1 || !ok2 {
		return
	}
	if set.part == "rod" {
		journal = j.onRods(journal)
	}
	coded, err := set.scheme.Assign(housing, journal)
	if !r.check(path, err) {
		return
	}
	set.rows = map[grading.Side]codeRow{grading.Housing: {"upper_row", housing}, grading.Journal: {"lower_row", journal}}
	set.coded = coded
}

// stampedAt are the locations of the codes that choose the shells of a half: a pin that rods share has one.
func (set *shellSet) stampedAt(j *Job, half string) []string {
	if set.part == "rod" && half == "lower" {
		return j.engine.pinNames()
	}
	return set.locations
}

// rowOpen reports whether nothing of a row was read yet: it is all question marks.
func rowOpen(row string) bool {
	return strings.Contains(row, open) && strings.Trim(row, open+" ") == ""
}

// onRods gives each rod the code of the pin that it is on.
func (j *Job) onRods(row grading.RowReading) grading.RowReading {
	spread := func(stamps []grading.Stamp) []grading.Stamp {
		var list []grading.Stamp
		for _, rod := range j.engine.Cylinders {
			pin := j.engine.pinOf(rod)
			i := slices.IndexFunc(stamps, func(s grading.Stamp) bool { return s.Location == pin })
			stamp := stamps[i]
			stamp.Location = rod
			list = append(list, stamp)
		}
		return list
	}
	row.Stamps, row.Others = spread(row.Stamps), slices.Clone(row.Others)
	for i := range row.Others {
		row.Others[i].Stamps = spread(row.Others[i].Stamps)
	}
	row.Tell = slices.Clone(row.Tell)
	for i, pin := range row.Tell {
		for _, p := range j.engine.Pins {
			if p.Name == pin {
				row.Tell[i] = p.Rods[0]
			}
		}
	}
	return row
}

// row reads a row of codes as stamped.
func (r *reader) row(path, text string, how *rowTable, side grading.Side, s *grading.Scheme, locations []string) (grading.RowReading, bool) {
	if !r.present(path, text) {
		return grading.RowReading{}, false
	}
	row := grading.Row{Text: text, Side: side, Locations: locations, Codes: s.Codes(side)}
	if how != nil {
		ok1, ok2 := r.end(path+"_row.begins", how.Begins, locations), r.end(path+"_row.mark_at", how.MarkAt, locations)
		if !ok1 || !ok2 {
			return grading.RowReading{}, false
		}
		row.From, row.MarkAt = how.Begins, how.MarkAt
		row.Mark, row.Upright = how.Mark, how.Upright
	}
	reading, err := row.Read()
	if errors.Is(err, grading.ErrLocations) {
		return grading.RowReading{}, false // said of the list of locations itself
	}
	return reading, r.check(path, err)
}

// end checks that a name, if there is one, is of an end of the engine: of its first or
// its last location.
func (r *reader) end(path, name string, locations []string) bool {
	switch {
	case name == "":
		return true
	case len(locations) == 0:
		return false // an error of its own
	case name == locations[0], name == locations[len(locations)-1]:
		return true
	}
	r.fail(path, "location %q: %w; a row begins at one of its ends: write %q or %q", name, ErrUnknown, locations[0], locations[len(locations)-1])
	return false
}

// question says what codes leave open, and what to do about it: why is what the scheme
// says of a location.
func (set *shellSet) question(location, why string) string {
	for _, row := range set.rows {
		if strings.HasPrefix(why, fmt.Sprintf("%s codes %q", row.reading.Row.Side, row.reading.Row.Text)) {
			return row.question(why)
		}
	}
	return fmt.Sprintf("location %s, %s; or write %s in fit, under %s.", location, why, "its shells", set.path())
}

// question says how to state which way a row is read.
func (row codeRow) question(why string) string {
	var keys []string
	ends, upright := false, false
	for _, a := range row.reading.Others {
		ends, upright = ends || a.Reversed, upright || a.UpsideDown
	}
	if l := row.reading.Row.Locations; ends {
		keys = append(keys, fmt.Sprintf("begins = %q or %q", l[0], l[len(l)-1]))
	}
	if upright {
		keys = append(keys, "upright = true once it is read the right way up")
	}
	return fmt.Sprintf("%s. Then write it under codes, in %s: %s.", why, row.key, strings.Join(keys, "; "))
}
