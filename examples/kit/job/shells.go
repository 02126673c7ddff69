package job

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
)

// shellsTable is the shells of one kind of bearing: which of them the stamped codes call
// for, which exist, which are on hand and on sale, and how they are chosen.
type shellsTable struct {
	Codes *codesTable `toml:"codes"`

	Scheme          string                `toml:"scheme"` // a file beside the job, that says what the keys down to undersizes do
	Grades          *halvesTable          `toml:"grades"`
	Matrix          [][]string            `toml:"matrix"`
	Sum             []sumTable            `toml:"sum"`
	Numbers         *numbersTable         `toml:"numbers"`
	Sizes           *halvesTable          `toml:"sizes"`
	Walls           *wallsTable           `toml:"walls"`
	Interchangeable bool                  `toml:"interchangeable"`
	Mix             *int                  `toml:"mix"`
	Wanted          string                `toml:"wanted"`
	Undersizes      map[string]wallsTable `toml:"undersizes"`

	Ground    any               `toml:"ground"`    // "all", or a list of journals
	Undersize any               `toml:"undersize"` // of all that are ground, or of each
	Choose    string            `toml:"choose"`
	Fit       map[string]string `toml:"fit"`
	Sure      []string          `toml:"sure"`
	Stock     []partTable       `toml:"stock"`
	Packs     []packTable       `toml:"packs"`
}

// halvesTable has a text for each code: its grade of shell, or its size.
type halvesTable struct {
	Upper map[string]string `toml:"upper"`
	Lower map[string]string `toml:"lower"`
}

// shellSet is the shells of one kind of bearing: the mains, or the rods.
type shellSet struct {
	part      string // "main"
	locations []string

	scheme *grading.Scheme            // for journals that were never ground
	ground map[string]*grading.Scheme // by location, for those that are

	codes  codesTable               // as the job says them
	rows   map[grading.Side]codeRow // as stamped
	coded  []grading.Assignment     // by location, what the codes call for; none without codes
	unread bool                     // there are codes, and they were not read yet

	choose string              // byCodes, bySizes or empty
	fit    map[string][]partAt // by location, what somebody chose
	sure   []string            // the locations of which a doubt was answered
	order  request             // what is on hand and on sale
}

// partAt is a shell in a half of its location.
type partAt struct {
	half string // "upper" or "lower"
	part grading.Part
}

// The ways to choose shells. The first two can be asked for.
const (
	byCodes  = "by codes"
	bySizes  = "by sizes"
	byHand   = "fit"
	asFitted = "as fitted" // those that were in when the clearance was proven inside
)

// name is what the bearings are called.
func (set *shellSet) name() string { return set.part + " bearing" }

// path is the key of the set in a job file.
func (set *shellSet) path() string { return "shells." + set.part }

// at is the scheme for a location.
func (set *shellSet) at(location string) *grading.Scheme {
	if s := set.ground[location]; s != nil {
		return s
	}
	return set.scheme
}

// schemes are those for the journals that were ground, in their order.
func (set *shellSet) schemes() (list []*grading.Scheme) {
	for _, location := range set.locations {
		if s := set.ground[location]; s != nil {
			list = append(list, s)
		}
	}
	return list
}

// readShells reads the shells of every kind of bearing.
func (r *reader) readShells(j *Job, tables map[string]shellsTable) []shellSet {
	kinds := map[string][]string{"main": j.engine.Mains, "rod": j.engine.Cylinders}
	for _, name := range slices.Sorted(maps.Keys(tables)) {
		if kinds[name] == nil {
			r.unknown("shells."+name, "kind of bearing", name, []string{"main", "rod"})
		}
	}
	var sets []shellSet
	for _, name := range []string{"main", "rod"} {
		if t, ok := tables[name]; ok {
			set := shellSet{part: name, locations: kinds[name]}
			r.readShellSet(j, &set, t)
			sets = append(sets, set)
		}
	}
	return sets
}

// readShellSet reads the shells of one kind of bearing.
func (r *reader) readShellSet(j *Job, set *shellSet, t shellsTable) {
	path := set.path()
	errs := len(r.errs)
	whole := r.readScheme(set, t)
	var known []string
	if whole != nil {
		known = grown(whole.Grades(), t.Walls.grades())
	}
	if whole != nil && len(r.errs) == errs {
		r.schemeLimits(j, set, whole)
		r.readGround(j, set, t, whole)
		for _, s := range set.schemes() { // an undersize may have no walls of its own
			known = grown(known, s.Grades())
		}
	}
	alike := t.Interchangeable || whole != nil && whole.Interchangeable
	set.order.Stock = r.counts(path+".stock", t.Stock, known, alike)
	set.order.Packs = r.packs(path+".packs", t.Packs, known, alike)
	if whole == nil || len(r.errs) > errs {
		return // what follows would be said of a scheme that is not known
	}
	r.checkParts(path+".stock", set.order.Stock, set, whole)
	for i, p := range set.order.Packs {
		r.checkParts(fmt.Sprintf("%s.packs[%d].holds", path, i), p.Parts, set, whole)
	}
	if t.Codes != nil {
		set.codes = *t.Codes
		r.assign(j, set, *t.Codes)
	}
	if t.Choose != "" && r.oneOf(path+".choose", t.Choose, "way to choose", []string{byCodes, bySizes}) {
		set.choose = t.Choose
		switch {
		case t.Choose == byCodes && t.Codes == nil:
			r.fail(path+".choose", "%q without codes: %w; add [%s.codes], with the codes as stamped", byCodes, ErrMissing, path)
		case t.Choose == bySizes && len(whole.Shells) == 0 && len(t.Walls.grades()) == 0:
			r.fail(path+".choose", "%q without walls: %w; add [%s.walls], with the wall of each grade that exists", bySizes, ErrMissing, path)
		}
	}
	set.fit = map[string][]partAt{}
	for _, location := range slices.Sorted(maps.Keys(t.Fit)) {
		if at := path + ".fit." + location; r.oneOf(at, location, set.name(), set.locations) {
			set.fit[location] = r.fitted(at, t.Fit[location], set.at(location), t.Walls)
		}
	}
	for i, location := range t.Sure {
		r.oneOf(fmt.Sprintf("%s.sure[%d]", path, i), location, set.name(), set.locations)
	}
	set.sure = t.Sure
}

// checkParts notes what the schemes of a set cannot have of the shells on hand or in a pack. A
// grade whose wall is still open is known to the job alone.
func (r *reader) checkParts(path string, counts []purchase.Count[grading.Part], set *shellSet, whole *grading.Scheme) {
	schemes := append([]*grading.Scheme{whole}, set.schemes()...)
	for i, c := range counts {
		if k := slices.IndexFunc(schemes, func(s *grading.Scheme) bool { return slices.Contains(s.Grades(), c.Part.Grade) }); k >= 0 {
			r.check(fmt.Sprintf("%s[%d].grade", path, i), schemes[k].CheckParts(counts[i:i+1]))
		}
	}
}

// fitted reads the shells that somebody chose for a location: "upper yew, lower oak", one
// of them, or a grade for both.
func (r *reader) fitted(path, text string, s *grading.Scheme, t *wallsTable) []partAt {
	if text == open || !r.present(path, text) {
		return nil
	}
	var list []partAt
	known := s.Grades()
	if s.Ground == "" {
		known = grown(known, t.grades())
	}
	for shell := range strings.SplitSeq(text, ",") {
		halves, grade := []string{"upper", "lower"}, strings.TrimSpace(shell)
		if half, rest, ok := strings.Cut(grade, " "); ok && slices.Contains(halves, half) {
			halves, grade = []string{half}, strings.TrimSpace(rest)
		}
		if !r.oneOf(path, grade, "grade", known) {
			return nil
		}
		for _, half := range halves {
			if slices.ContainsFunc(list, func(p partAt) bool { return p.half == half }) {
				r.fail(path, "the %s shell: %w; write it as in \"upper %s, lower %s\"", half, ErrTwice, grade, grade)
				return nil
			}
			p := partAt{half, partOf(s, grade, half)}
			if len(s.Shells) > 0 && wallOf(s, p.part).IsEmpty() {
				r.fail(path, "no %s shell of grade %q is listed: %w; add it to the walls, or write another", half, grade, ErrMissing)
				return nil
			}
			list = append(list, p)
		}
	}
	return list
}

// partOf is the shell of a grade for a half.
func partOf(s *grading.Scheme, grade, half string) grading.Part {
	switch {
	case s.Interchangeable:
		return grading.Part{Grade: grade}
	case half == "upper":
		return grading.Part{Grade: grade, Half: grading.Upper}
	}
	return grading.Part{Grade: grade, Half: grading.Lower}
}

// partsOf are the shells of a pair in their halves.
func partsOf(p grading.Pair) []partAt { return []partAt{{"upper", p.Upper}, {"lower", p.Lower}} }

// fitText is how a job file has shells: "upper yew, lower oak".
func fitText(parts []partAt) string {
	texts := make([]string, len(parts))
	for i, p := range parts {
		texts[i] = p.half + " " + p.part.Grade
	}
	return strings.Join(texts, ", ")
}

// grown is a list with what else there is.
func grown(list, more []string) []string {
	for _, s := range more {
		if !slices.Contains(list, s) {
			list = append(list, s)
		}
	}
	return list
}
