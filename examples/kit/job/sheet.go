package job

import (
	"fmt"
	"maps"
	"math/big"
	"slices"
	"strings"

	pictures "example.com/closefit/examples/kit/drawing"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Sheet is what is still to be measured of an engine, to write on by hand.
type Sheet struct {
	Title    string
	Parts    []SheetPart
	NoLimits []string // the lines that are judged, and have no limits yet
	NotSaid  []string // the lines that were read without saying how: "main bore (bolts, shells)"
}

// A SheetPart is what is measured of one part of the engine: the block, the crankshaft.
type SheetPart struct {
	Name  string
	Lines []SheetLine
}

// A SheetLine is a line of the inspection with the readings of it that are open.
type SheetLine struct {
	Name       string   // as it stands in the job file
	For        string   // the line that it is only a size of, which is judged; empty if it is judged itself
	Limits     []string // "0.053..0.087 mm", "taper at most 0.01 mm"; "?" where they are open
	With       string   // the instrument of the job that is good enough, or how good one must be
	Conditions []string // "bolts tightened as for assembly"
	How        string   // where and how to measure it
	Picture    string   // which picture shows it; empty if none does
	Stations   int      // how many readings in a row one place has; one if it is not a size with a form
	Planes     int
	Unit       string
	Readings   []string // "main bearing 4 clearance"
}

// Sheet returns what is still to be measured: every reading that is asked for and was not
// taken, and the sizes that an open clearance is the sum of where the job measures it so.
func (j *Job) Sheet() *Sheet {
	s := &Sheet{Title: j.title}
	add := func(part string, l SheetLine) {
		i := slices.IndexFunc(s.Parts, func(p SheetPart) bool { return p.Name == part })
		if i < 0 {
			i = len(s.Parts)
			s.Parts = append(s.Parts, SheetPart{Name: part})
		}
		s.Parts[i].Lines = append(s.Parts[i].Lines, l)
	}
	wanted := j.wanted()
	for _, m := range j.lines {
		if m.expected && m.form != state && m.form != layout && len(m.at) > 0 && len(m.limits) == 0 && m.pressures.IsEmpty() && m.masses.IsEmpty() && m.ratios.IsEmpty() {
			s.NoLimits = append(s.NoLimits, m.name())
		}
		if missing := m.notSaid(); len(missing) > 0 {
			s.NotSaid = append(s.NotSaid, fmt.Sprintf("%s (%s)", m.name(), strings.Join(missing, ", ")))
		}
		if open := wanted[m.name()]; len(open) > 0 {
			add(m.part(), j.sheetLine(m, open))
		}
	}
	for _, set := range j.bolts {
		if l := j.boltLine(set); len(l.Readings) > 0 {
			add("bolts", l)
		}
	}
	slices.SortStableFunc(s.Parts, func(a, b SheetPart) int {
		return slices.Index(sheetParts, a.Name) - slices.Index(sheetParts, b.Name)
	})
	return s
}

// wanted are the places of each line that are still to be read.
func (j *Job) wanted() map[string][]string {
	wanted := map[string][]string{}
	want := func(name, location string) {
		if !slices.Contains(wanted[name], location) {
			wanted[name] = append(wanted[name], location)
		}
	}
	for _, m := range j.lines {
		if !m.expected {
			continue
		}
		for _, location := range m.at {
			if m.has(location) || m.fit != nil && j.computed(m, location) {
				continue
			}
			want(m.name(), location)
			for _, name := range m.terms {
				term := j.line(name)
				if term.workedOut() || !m.workedOut() && !j.bySize(m) {
					continue
				}
				at := j.placesOf(term, location)
				if at == nil {
					at = term.at // of a spread, all of them
				}
				for _, place := range at {
					if !term.has(place) {
						want(name, place)
					}
				}
			}
		}
	}
	return wanted
}

// notSaid are the facts that a line which was read asks for, and that nobody said.
func (m *measured) notSaid() (missing []string) {
	for _, f := range m.needs {
		if len(m.taken) > 0 && !slices.ContainsFunc(m.states, func(c measure.Condition) bool { return c.What == f.what }) {
			missing = append(missing, f.what)
		}
	}
	return missing
}

// has reports whether the line was read at a place.
func (m *measured) has(location string) bool {
	e := m.taken[location]
	return e.reading.Taken() || e.along != nil || e.state != "" || e.pressure.Taken() || e.mass.Taken() || e.ratio.Taken() || e.gaps != nil
}

// computed reports whether a sum is known at a place by its sizes.
func (j *Job) computed(m *measured, location string) bool {
	fit := m.fit(j, m, location)
	return fit.Sum.Reading().Taken()
}

// bySize reports whether the job measures a sum by its sizes: it has read one, or has
// only gauges.
func (j *Job) bySize(m *measured) bool {
	for _, name := range m.terms {
		if term := j.line(name); term != nil && len(term.taken) > 0 {
			return true
		}
	}
	return len(j.gauges) > 0 && !slices.ContainsFunc(m.kinds, func(kind string) bool { return j.owns(kind) })
}

// owns reports whether the job has an instrument of a kind.
func (j *Job) owns(kind string) bool {
	for _, in := range j.instruments {
		if in.kind == kind {
			return true
		}
	}
	return false
}

// sheetParts are the parts of the engine, in the order of a sheet.
var sheetParts = []string{"block", "crankshaft", "shells", "rods", "pistons", "oil", "bolts"}

// part is the part of the engine that a line is measured on, by the words of its name.
func (l *line) part() string {
	name := l.name()
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(" "+name+" ", " "+w+" ") })
	}
	switch {
	case has("wall", "shell", "washer", "shells"):
		return "shells"
	case has("journal", "crankshaft", "crankpin", "main bearing", "thrust"):
		return "crankshaft"
	case has("ring", "piston", "pin", "pistons"):
		return "pistons"
	case has("rod", "rods", "small end", "big end"):
		return "rods"
	}
	if has("oil", "relief valve", "passage") {
		return "oil"
	}
	return "block"
}

// figures are the pictures by the ends of lines' names, with the planes and the
// directions that they show.
var figures = []struct {
	end, picture       string
	planes, directions int
}{
	{"bearing clearance", pictures.Strip, 1, 1},
	{"bore", pictures.Bore, 2, 3},
	{"small end", pictures.Bore, 2, 2},
	{"journal", pictures.Journal, 2, 2},
	{"cylinder", pictures.Cylinder, 3, 2},
	{"piston diameter", pictures.Piston, 1, 1},
	{"piston clearance", pictures.Piston, 1, 1},
	{"end gap", pictures.Ring, 1, 1},
	{"end play", pictures.EndPlay, 1, 1},
	{"side play", pictures.SidePlay, 1, 1},
	{"wall thickness", pictures.Wall, 1, 1},
}

// sheetLine is a line of the sheet, for the places that are open.
func (j *Job) sheetLine(m *measured, open []string) SheetLine {
	l := SheetLine{Name: m.name(), How: m.how, With: j.goodEnough(m), Planes: 1, Stations: 1, Unit: j.show.length.String()}
	switch m.form {
	case pressure:
		l.Unit = j.show.pressure.String()
	case mass:
		l.Unit = j.show.mass.String()
	case layout:
		l.Unit = units.Degree.String()
	}
	for _, p := range figures {
		if strings.HasSuffix(m.name(), p.end) {
			l.Picture = p.picture
			if m.form == size {
				l.Planes, l.Stations = p.planes, p.directions
			}
			break
		}
	}
	if m.form == state {
		l.Unit = strings.Join(m.words(), " / ")
	} else if m.expected {
		l.Limits = j.limitsOf(m)
	} else if sum := j.sumOf(m); sum != nil {
		l.For = sum.name()
	}
	for _, f := range m.needs {
		l.Conditions = append(l.Conditions, f.what+" "+f.is[0])
	}
	for _, location := range m.at {
		if slices.Contains(open, location) {
			l.Readings = append(l.Readings, itemName(m.group, location, m.quantity))
		}
	}
	return l
}

// limitsOf are the limits of a line as a sheet has them.
func (j *Job) limitsOf(m *measured) (texts []string) {
	stated := func(none bool, text string) []string {
		if none {
			return []string{open}
		}
		return []string{text}
	}
	switch m.form {
	case pressure:
		return stated(m.pressures.IsEmpty(), tolerance(m.pressures, j.show.pressure, pressurePlaces))
	case mass:
		return stated(m.masses.IsEmpty(), tolerance(m.masses, j.show.mass, massPlaces))
	case slope, quotient:
		return stated(m.ratios.IsEmpty(), tolerance(m.ratios, units.One, slopePlaces))
	case layout:
		return stated(j.rings == nil, "as under [ring_positions]")
	}
	for i, q := range m.quantities() {
		text := open
		if limits := m.limits[q.quantity]; !limits.IsEmpty() {
			text = tolerance(limits, j.show.length, j.show.places)
		}
		if i > 0 {
			text = q.quantity + " " + text
		}
		texts = append(texts, text)
	}
	return texts
}

// partOfWidth is how many times the limits of a quantity are as wide as the whole of the
// doubt of an instrument that is good enough for it, from -U to +U (common practice, no
// source).
const partOfWidth = 4

// goodEnough says which instrument of the job is good enough for a line, or how good one
// must be.
func (j *Job) goodEnough(m *measured) string {
	if m.workedOut() {
		return "nothing: it is worked out from " + strings.Join(m.terms, ", ")
	}
	switch m.form {
	case state, layout:
		return "by eye"
	case mass:
		return goodOf(j, m.kinds, either(m.kinds), m.masses, j.show.mass, massPlaces, massReach)
	case slope:
		return either(m.kinds)
	case pressure:
		return goodOf(j, m.kinds, either(m.kinds), m.pressures, j.show.pressure, pressurePlaces, pressureReach)
	}
	if len(m.kinds) == 0 {
		return "worked out from " + strings.Join(m.terms, ", ")
	}
	var narrowest units.LengthInterval
	for _, q := range m.quantities() {
		if limits := m.limits[q.quantity]; !limits.IsEmpty() && (narrowest.IsEmpty() || wide(limits).Less(wide(narrowest))) {
			narrowest = limits
		}
	}
	u, places := j.show.length, j.show.places
	if sum := j.sumOf(m); narrowest.IsEmpty() && !m.expected && sum != nil && !sum.limits[sum.quantity].IsEmpty() {
		return fmt.Sprintf("%s; the sizes together must be good to %s", j.best(m), mostDoubt(wide(sum.limits[sum.quantity]), u, places))
	}
	kinds, sizes := either(m.kinds), ""
	if m.isBearing() && !narrowest.IsEmpty() {
		kinds = "a finer strip, or better instruments for its sizes"
		bore, micrometer := j.finest("bore gauge"), j.finest("micrometer")
		if both, ok := j.together(bore, micrometer); ok && !wide(narrowest).Less(both.MulInt(2*partOfWidth)) {
			kinds = "a finer strip"
			sizes = fmt.Sprintf("; or its sizes, with %s and %s, good to ±%s together", bore.Name, micrometer.Name, doubt(both, u, places, units.Ceiling))
		}
	}
	return goodOf(j, m.kinds, kinds, narrowest, u, places, reachOf) + sizes
}

// sumOf is the line that is asked for, and that a line is a term of; nil if there is none.
func (j *Job) sumOf(m *measured) *measured {
	i := slices.IndexFunc(j.lines, func(sum *measured) bool {
		return sum.expected && slices.Contains(slices.Concat(sum.terms, sum.also), m.name())
	})
	if i < 0 {
		return nil
	}
	return j.lines[i]
}

// best names the instrument of a line, or the finest of the first of its kinds that the
// job has.
func (j *Job) best(m *measured) string {
	in := j.instruments[m.with]
	gauge := &in.gauge
	for i := 0; in.kind == "" && i < len(m.kinds); i++ {
		if gauge = j.finest(m.kinds[i]); gauge != nil {
			break
		}
	}
	if gauge == nil || gauge.Name == "" {
		return "the job has none: " + either(m.kinds)
	}
	return fmt.Sprintf("%s, good to ±%s", gauge.Name, doubt(reach(gauge), j.show.length, j.show.places, units.Ceiling))
}

// doubt writes how far something may be off, with two places more than the record where it
// has them.
func doubt[D units.Dimension](q units.Quantity[D], u units.Unit[D], places int32, how units.Rounding) string {
	return q.Format(u, max(places, decimals(q, u, places+2)), how)
}

// mostDoubt is the doubt that limits of a width allow, to either side.
func mostDoubt[D units.Dimension](width units.Quantity[D], u units.Unit[D], places int32) string {
	return "±" + doubt(width.MulRat(big.NewRat(1, 2*partOfWidth)), u, places, units.Floor) + " or better"
}

// wide is how wide limits are; from zero up where they have no lower one.
func wide[D units.Dimension](limits units.Interval[D]) units.Quantity[D] {
	if limits.IsEmpty() || !limits.HasHi() {
		return units.Quantity[D]{}
	}
	if !limits.HasLo() {
		return limits.Hi()
	}
	return limits.Width()
}

// goodOf names the job's instruments of the kinds that are good enough for limits, by how
// far a reading of each reaches to either side.
func goodOf[D units.Dimension](j *Job, kinds []string, otherwise string, limits units.Interval[D], u units.Unit[D], places int32, reach func(instrument, units.Interval[D]) (units.Quantity[D], bool)) string {
	width := wide(limits)
	if width.Sign() <= 0 {
		if limits.IsEmpty() {
			return otherwise + "; how good follows from the limits"
		}
		return otherwise + "; one limit alone does not say how good"
	}
	var good, poor []string
	for _, kind := range kinds {
		for _, name := range slices.Sorted(maps.Keys(j.instruments)) {
			in := j.instruments[name]
			if in.kind != kind || in.bad {
				continue
			}
			reaches, ok := reach(in, limits)
			switch {
			case !ok:
				poor = append(poor, name+" does not reach over the limits")
			case width.Less(reaches.MulInt(2 * partOfWidth)):
				poor = append(poor, fmt.Sprintf("%s: ±%s", name, doubt(reaches, u, places, units.Ceiling)))
			default:
				good = append(good, fmt.Sprintf("%s, good to ±%s", name, doubt(reaches, u, places, units.Ceiling)))
			}
		}
	}
	if len(good) > 0 {
		return strings.Join(good, "; or ")
	}
	must := fmt.Sprintf("it takes %s: %s", mostDoubt(width, u, places), otherwise)
	if len(poor) > 0 {
		return "none of the job's is good enough (" + strings.Join(poor, "; ") + "); " + must
	}
	return "the job has none; " + must
}

// reachOf is how far a reading of an instrument reaches to either side, of one that is read
// between marks half the widest step that the limits touch. ok is false if the limits
// reach beyond its marks.
func reachOf(in instrument, limits units.LengthInterval) (units.Length, bool) {
	if len(in.marks) == 0 {
		return reach(&in.gauge), true
	}
	var widest units.Length
	if limits.HasHi() && in.marks[len(in.marks)-1].Less(limits.Hi()) {
		return widest, false
	}
	before := units.Length{} // no gap is below zero
	for i, mark := range in.marks {
		if step := mark.Sub(before); widest.Less(step) && !mark.Less(lowest(limits)) && !limits.Hi().Less(before) {
			widest = step
		}
		if i == 0 && in.kind == crushStrip && limits.HasLo() && limits.Lo().Less(mark) {
			return widest, false // tighter than the first print is all that it says there
		}
		before = mark
	}
	return widest.MulRat(big.NewRat(1, 2)), true
}

func lowest(limits units.LengthInterval) units.Length {
	if limits.HasLo() {
		return limits.Lo()
	}
	return units.Length{}
}

// massReach is reachOf for a scale.
func massReach(in instrument, _ units.Interval[units.MassDim]) (units.Quantity[units.MassDim], bool) {
	r, err := in.mass.Read("", units.Gram.OfInt(1))
	if err != nil {
		return units.Quantity[units.MassDim]{}, false
	}
	return r.Interval().Radius(), true
}

// pressureReach is reachOf for a pressure gauge.
func pressureReach(in instrument, _ units.PressureInterval) (units.Pressure, bool) {
	r, err := in.pressure.Read("", units.Bar.OfInt(1))
	if err != nil || !r.Interval().Bounded() {
		return units.Pressure{}, false
	}
	return r.Interval().Radius(), true
}

// boltLine is the line of the sheet for a group of bolts of which nothing is known yet.
func (j *Job) boltLine(set boltSet) SheetLine {
	l := SheetLine{Name: itemName(set.group, "", set.quantity), How: "new, sound or scrap: thread and head undamaged, no neck, runs down by hand", With: "by eye",
		Planes: 1, Stations: 1, Unit: "new / sound / scrap"}
	if set.quantity != "" {
		limits := units.AtMost(set.limit)
		l.Limits, l.Unit = []string{tolerance(limits, j.show.length, j.show.places)}, j.show.length.String()
		l.How = "new, or its whole length, between its ends; thread, head and neck looked at"
		l.With = either(sizeKinds)
	}
	for _, c := range set.bolts {
		if c.state == "" && !c.entry.reading.Taken() {
			l.Readings = append(l.Readings, itemName(set.group, c.bolt, ""))
		}
	}
	return l
}
