package demo_test

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

// bearingFigures are the bearings of one kind. The clearance is a part of the journal's
// diameter; the shells follow from it.
type bearingFigures struct {
	Name      string            `toml:"name"`
	Locations []string          `toml:"locations"`
	Journal   string            `toml:"journal"` // the largest diameter
	Width     string            `toml:"width"`
	Share     string            `toml:"share"` // of the gas force, that one bearing takes
	Bears     string            `toml:"bears"` // the unit load that the lining is used up to
	Clearance rule              `toml:"clearance"`
	Form      *journalForm      `toml:"form"` // where journals are judged by themselves
	Shells    *shellFigures     `toml:"shells"`
	Stock     []any             `toml:"stock"`
	Packs     []any             `toml:"packs"`
	With      map[string]string `toml:"with"` // what sizes are measured with
	Built     []builtBearing    `toml:"built"`
}

// shellFigures are the grades of shell, each thicker than the one before by a step. The
// bores of the housings and the journals come in classes as wide as that step, so that a
// grade makes up for a class: the upper for that of the bore and the lower for that of the
// journal, or both together for both.
type shellFigures struct {
	Thinnest       string   `toml:"thinnest"` // its wall
	Step           string   `toml:"step"`
	Tolerance      string   `toml:"tolerance"` // of a wall, to both sides
	Grades         []string `toml:"grades"`    // thinnest first
	Shared         bool     `toml:"shared"`    // both halves make up for both parts, as evenly as they can
	Coded          string   `toml:"coded"`     // how a class is stamped: "last two figures", "strokes", "letters", "numbers", or not
	Housing        []string `toml:"housing"`   // the code of each class, smallest bore first
	Journal        []string `toml:"journal"`   // and of each class of journals, largest first
	StampedHousing string   `toml:"stamped_housing"`
	StampedJournal string   `toml:"stamped_journal"`
	Begins         string   `toml:"begins"`  // the location that both rows begin at; none where they read the same from either end
	Mark           string   `toml:"mark"`    // beside the first code on the block
	MarkAt         string   `toml:"mark_at"` // the location that it stands at
}

// journalForm are the limits of the journals themselves: their classes, less what may be
// worn off the smallest, and the limits of their form.
type journalForm struct {
	Wear string `toml:"wear"`
	formFigures
}

// builtBearing is a bearing as it was built, its true sizes or its true clearance, and
// how it was read.
type builtBearing struct {
	Location  string            `toml:"location"`
	Clearance string            `toml:"clearance"`
	Bore      string            `toml:"bore"`
	UpperWall string            `toml:"upper_wall"`
	LowerWall string            `toml:"lower_wall"`
	Journal   string            `toml:"journal"` // at its stations, if there are several
	Worn      bool              `toml:"worn"`    // the journal is smaller than its class
	Read      string            `toml:"read"`    // "strip between", "strip nearest", "sizes" or "not"
	Sheet     map[string]string `toml:"sheet"`   // sizes taken from a sheet, with their limits
}

// part is what the names of its parts begin with: "main" of "main bearing".
func (b bearingFigures) part() string {
	part, _, _ := strings.Cut(b.Name, " ")
	return part
}

// The conditions that readings are taken under, in the words of a job.
var (
	asStrip = map[string]any{"bolts": "tightened as for assembly", "crankshaft": "not turned", "oil": "wiped off"}
	asBored = map[string]any{"bolts": "tightened as for assembly", "shells": "out"}
)

// bearings works out a kind of bearing.
func (d *design) bearings(b bearingFigures) {
	if b.Share == "1" && len(b.Locations) != d.Engine.Cylinders {
		panic(fmt.Errorf("%s: %d for %d cylinders", b.Name, len(b.Locations), d.Engine.Cylinders))
	}
	if b.Share != "1" {
		d.declared("engine.mains", b.Locations)
	}
	d.followf("%s", b.Name)
	d.unitLoad(b)
	allowed, g := limits(b.Clearance, length(b.Journal))
	d.followf("  clearance %s: %s", b.Clearance.of(b.Journal), g.span(allowed))
	d.line(b.line()+".limits", g.span(allowed))
	if slices.ContainsFunc(b.Built, func(x builtBearing) bool { return strings.HasPrefix(x.Read, "strip") }) {
		d.verbatim(b.line()+".conditions", asStrip)
	}
	key := "shells." + b.part()
	d.verbatim(key+".stock", b.Stock)
	d.verbatim(key+".packs", b.Packs)
	var s *shells
	if b.Shells != nil {
		s = newShells(b, allowed, g)
		d.shells(key, s)
	}
	if b.Form != nil {
		d.journals(b, s, g)
	}
	for _, x := range b.Built {
		if !slices.Contains(b.Locations, x.Location) {
			panic(fmt.Errorf("%s: built at %q, where there is none", b.Name, x.Location))
		}
		if s != nil && x.Bore != "" {
			s.holds(x)
		}
		d.readBearing(b, x)
		if x.Read != "not" {
			d.truths[b.Name+" "+x.Location+" clearance"] = truth{trueClearance(x), allowed}
		}
		d.followf("  %s has %s", x.Location, g.finer(1).exactly(trueClearance(x)))
	}
}

// journals adds what is judged of the journals themselves.
func (d *design) journals(b bearingFigures, s *shells, g grain[units.LengthDim]) {
	name := b.part() + " journal"
	line, with := "measure."+name, b.With["journal"]
	worn := s.journals[len(s.journals)-1].Lo().Sub(length(b.Form.Wear))
	allowed := units.MustInterval(worn, s.journals[0].Hi())
	d.followf("  %s, worn by %s at most: %s", name, b.Form.Wear, g.span(allowed))
	d.line(line+".limits", g.span(allowed))
	d.line(line+".with", with)
	built := map[string]stations{}
	for _, x := range b.Built {
		built[x.Location] = newStations(x.Journal)
		d.line(readings(line, x.Location, len(b.Locations)), built[x.Location].shownBy(d.named(with)))
		d.truths[name+" "+x.Location+" diameter"] = truth{spread(built[x.Location].all()), allowed}
		d.followf("  journal %s has %s", x.Location, x.Journal)
	}
	d.form(name, b.Form.formFigures, b.Journal, g, built)
}

// line is the key of its clearance.
func (b bearingFigures) line() string { return "measure." + b.Name + " clearance" }

// declared adds a part of the engine: how many there are, or their names.
func (d *design) declared(key string, names []string) {
	for i, name := range names {
		if name != fmt.Sprint(i+1) {
			d.stated(key, names)
			return
		}
	}
	d.line(key, fmt.Sprint(len(names)))
}

// readings is the key of a line's reading at a place: there is one place, or several.
func readings(line, location string, places int) string {
	if places == 1 {
		return line + ".reading"
	}
	return line + ".readings." + location
}

// trueClearance returns the clearance of a bearing as it was built: from the least to the
// most where its journal has several sizes.
func trueClearance(x builtBearing) units.LengthInterval {
	if x.Clearance != "" {
		return units.Exactly(length(x.Clearance))
	}
	exactly := func(text string) units.LengthInterval { return units.Exactly(length(text)) }
	return clearance.Bearing{
		HousingBore: exactly(x.Bore), UpperWall: exactly(x.UpperWall), LowerWall: exactly(x.LowerWall), Journal: spread(newStations(x.Journal).all()),
	}.Clearance()
}

// readBearing adds the lines of a reading.
func (d *design) readBearing(b bearingFigures, x builtBearing) {
	places := len(b.Locations)
	switch how, way, _ := strings.Cut(x.Read, " "); how {
	case "strip":
		d.line(readings(b.line(), x.Location, places), d.only("crush strip").strip(trueClearance(x).Mid(), way))
	case "sizes":
		for _, size := range []struct{ key, part, with, text string }{
			{"bore", "bore", "bore", x.Bore}, {"upper_wall", "upper wall thickness", "walls", x.UpperWall},
			{"lower_wall", "lower wall thickness", "walls", x.LowerWall}, {"journal", "journal", "journal", x.Journal},
		} {
			line := "measure." + b.part() + " " + size.part
			if size.key == "bore" {
				d.verbatim(line+".conditions", asBored)
			}
			if sheet := x.Sheet[size.key]; sheet != "" {
				if !must(units.ParseLengthInterval(sheet)).Contains(length(size.text)) {
					panic(fmt.Errorf("%s %s: %s of %s is not in %s", b.Name, x.Location, size.key, size.text, sheet))
				}
				d.line(readings(line, x.Location, places), sheet)
				continue
			}
			with := b.With[size.with]
			d.line(readings(line, x.Location, places), newStations(size.text).shownBy(d.named(with)))
			d.line(line+".with", with)
		}
	case "not":
		d.line(readings(b.line(), x.Location, places), "?")
	default:
		panic(fmt.Errorf("%s %s: read %q", b.Name, x.Location, x.Read))
	}
}

// shells are grades of shell with the classes that they make up for.
type shells struct {
	shellFigures
	of        string // the bearings
	locations []string
	walls     []units.LengthInterval
	bores     []units.LengthInterval
	journals  []units.LengthInterval
	grain     grain[units.LengthDim]
}

// newShells works out classes and walls. The middle of what the classes and walls leave
// is the middle of the limits, to a step of theirs:
//
//	D0 = d0 + 2 t0 + (lo + hi)/2 - w
//
// D0 is the smallest bore, d0 the largest journal, t0 the thinnest wall, w the width of a
// class. Bores of class i begin at D0 + i w, journals of class j end at d0 - j w.
func newShells(b bearingFigures, allowed units.LengthInterval, g grain[units.LengthDim]) *shells {
	s := &shells{shellFigures: *b.Shells, of: b.Name, locations: b.Locations, grain: g}
	largest, thinnest, step := length(b.Journal), length(s.Thinnest), length(s.Step)
	tolerance := length(s.Tolerance)
	smallest := g.near(largest.Add(thinnest.MulInt(2)).Add(allowed.Mid()).Sub(step))
	for i := range s.Grades {
		s.walls = append(s.walls, units.PlusMinus(thinnest.Add(step.MulInt(int64(i))), tolerance))
	}
	for i := range max(len(s.Housing), 1) {
		lo := smallest.Add(step.MulInt(int64(i)))
		s.bores = append(s.bores, units.MustInterval(lo, lo.Add(step)))
	}
	for i := range max(len(s.Journal), 1) {
		hi := largest.Sub(step.MulInt(int64(i)))
		s.journals = append(s.journals, units.MustInterval(hi.Sub(step), hi))
	}
	for i, bore := range s.bores {
		for j, journal := range s.journals {
			upper, lower := s.pair(i, j)
			if upper >= len(s.walls) || lower >= len(s.walls) {
				panic(fmt.Errorf("%s: fewer grades than bore %d and journal %d call for", b.Name, i, j))
			}
			fit := clearance.Bearing{HousingBore: bore, UpperWall: s.walls[upper], LowerWall: s.walls[lower], Journal: journal}.Clearance()
			if !fit.Within(allowed) {
				panic(fmt.Errorf("%s: bore %d and journal %d leave %s, limits %s", b.Name, i, j, fit, allowed))
			}
		}
	}
	return s
}

// pair returns the grades for a class of bores and one of journals. Where halves share what
// they make up for, the upper is the thicker one.
func (s *shells) pair(bore, journal int) (upper, lower int) {
	if s.Shared {
		return (bore + journal + 1) / 2, (bore + journal) / 2
	}
	return bore, journal
}

// shells adds the lines of codes and walls, and says the classes.
func (d *design) shells(key string, s *shells) {
	s.coded(s.Housing, s.bores)
	s.coded(s.Journal, s.journals)
	for i, bore := range s.bores {
		d.followf("  housing%s bored %s", code(s.Housing, i), s.grain.span(bore))
	}
	for i, journal := range s.journals {
		d.followf("  journal%s ground %s", code(s.Journal, i), s.grain.span(journal))
	}
	for i, grade := range s.Grades {
		d.followf("  shell %s, wall %s", grade, s.grain.span(s.walls[i]))
	}
	if len(s.Housing) == 0 {
		return
	}
	d.line(key+".codes.upper", s.StampedHousing)
	d.line(key+".codes.lower", s.StampedJournal)
	d.line(key+".codes.upper_row.begins", s.Begins)
	d.line(key+".codes.lower_row.begins", s.Begins)
	d.line(key+".codes.upper_row.mark", s.Mark)
	d.line(key+".codes.upper_row.mark_at", s.MarkAt)
	if s.Shared {
		d.matrix(key+".matrix", s)
	} else {
		for i, c := range s.Housing {
			d.line(key+".grades.upper."+c, s.Grades[i])
		}
		for i, c := range s.Journal {
			d.line(key+".grades.lower."+c, s.Grades[i])
		}
	}
	for i, grade := range s.Grades {
		for _, half := range []string{"upper", "lower"} {
			d.line(key+".walls."+half+"."+grade, s.grain.span(s.walls[i]))
		}
	}
}

// matrix adds the table of both codes, a row for each class of bores.
func (d *design) matrix(key string, s *shells) {
	d.lines[key+"[0][0]"] = ""
	d.behind(key+"[0]", s.Journal)
	for i, c := range s.Housing {
		row := []string{}
		for j := range s.Journal {
			upper, lower := s.pair(i, j)
			cell := s.Grades[upper] + "/" + s.Grades[lower]
			if upper == lower {
				cell = s.Grades[upper]
			}
			row = append(row, cell)
			d.followf("  housing %s and journal %s: %s", c, s.Journal[j], cell)
		}
		d.line(fmt.Sprintf("%s[%d][0]", key, i+1), c)
		d.behind(fmt.Sprintf("%s[%d]", key, i+1), row)
	}
}

// behind adds a list that stands behind a first element.
func (d *design) behind(key string, texts []string) {
	for i, text := range texts {
		d.line(fmt.Sprintf("%s[%d]", key, i+1), text)
	}
}

// coded checks that the codes are what the way of coding gives the classes.
func (s *shells) coded(codes []string, classes []units.LengthInterval) {
	for i, c := range codes {
		var want string
		switch s.Coded {
		case "last two figures":
			number, _, _ := strings.Cut(s.grain.write(classes[i].Lo()), " ")
			want = number[len(number)-2:]
		case "strokes":
			want = strings.Repeat("I", i+1)
		case "numbers": // from one on
			want = fmt.Sprint(i + 1)
		case "letters": // of the alphabet, from the one that begins the classes on
			want = string(codes[0][0] + byte(i))
		}
		if c != want {
			panic(fmt.Errorf("%s: class %s is stamped %q, and %q by %q", s.of, classes[i], c, want, s.Coded))
		}
	}
}

func code(codes []string, i int) string {
	if len(codes) == 0 {
		return ""
	}
	return " " + codes[i]
}

// holds checks that a bearing was built of parts of the classes that are stamped, and
// with the shells that they call for; a worn journal is smaller than its class.
func (s *shells) holds(x builtBearing) {
	at := slices.Index(s.locations, x.Location)
	bore, journal := class(s.Housing, strings.TrimPrefix(s.StampedHousing, s.Mark+" "), at), class(s.Journal, s.StampedJournal, at)
	upper, lower := s.pair(bore, journal)
	for _, part := range []struct {
		name, size string
		within     units.LengthInterval
	}{
		{"bore", x.Bore, s.bores[bore]}, {"upper wall", x.UpperWall, s.walls[upper]},
		{"journal", x.Journal, s.journals[journal]}, {"lower wall", x.LowerWall, s.walls[lower]},
	} {
		size := spread(newStations(part.size).all())
		if part.name == "journal" && x.Worn {
			if !size.Below(part.within) {
				panic(fmt.Errorf("%s %s: a worn journal of %s, class %s", s.of, x.Location, part.size, part.within))
			}
			continue
		}
		if !size.Within(part.within) {
			panic(fmt.Errorf("%s %s: %s of %s, class %s", s.of, x.Location, part.name, part.size, part.within))
		}
	}
}

// class returns which of the codes is stamped for a location.
func class(codes []string, stamped string, at int) int {
	if len(codes) == 0 {
		return 0
	}
	words := strings.Fields(stamped)
	if at >= len(words) || !slices.Contains(codes, words[at]) {
		panic(fmt.Errorf("%q has no code for location %d", stamped, at+1))
	}
	return slices.Index(codes, words[at])
}
