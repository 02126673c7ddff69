package job

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// measureTable is a line as a job file has it.
type measureTable struct {
	Limits     string            `toml:"limits" beside:"readings"`
	Taper      string            `toml:"taper"`
	OutOfRound string            `toml:"out_of_round"`
	With       string            `toml:"with"`
	Planes     []string          `toml:"planes"`
	Directions []string          `toml:"directions"`
	Conditions map[string]string `toml:"conditions"`
	Reading    string            `toml:"reading"`
	Readings   map[string]string `toml:"readings"`
	Sure       []string          `toml:"sure"`
}

// A measured line is a line with what a job says of it.
type measured struct {
	*line
	expected  bool
	with      string                          // the instrument that the line names
	at        []string                        // its locations
	limits    map[string]units.LengthInterval // of each of its quantities; empty where none are stated
	pressures units.PressureInterval
	masses    units.Interval[units.MassDim]
	ratios    units.RatioInterval
	rule      string           // by which the limits follow from the bore; empty where they are plain
	taken     map[string]entry // by location; none where it was not read
	states    []measure.Condition
	slips     map[string][]string // what readings may have been meant as, by location
	sureOf    []string            // the keys of limits that were looked up again
	source    source              // what the job says of it; its table's keys alone where that is nothing

	shared map[string]func() *fitting // what is judged of a bearing at each place, worked out once

	planes, directions []string // the names of the stations; none where they have none
}

// An entry is what was read of a line at one place.
type entry struct {
	path     string
	text     string
	reading  measure.LengthReading
	along    [][]measure.LengthReading                        // of what was read at several stations, by plane and direction
	spanned  measure.LengthReading                            // of several stations, the span
	stations func() (measure.Stations[units.LengthDim], bool) // stationsOf, once the job is read
	by       string                                           // the instrument of a size
	with     string                                           // the instrument, of whatever kind; empty for what was given
	cold     *uncorrected                                     // as it was read; nil where it was not corrected to 20 °C
	pressure measure.Reading[units.PressureDim]
	mass     measure.Reading[units.MassDim]
	ratio    measure.Reading[units.RatioDim]
	over     units.LengthInterval // the distance over which a difference was read
	gaps     []units.Angle        // where the gaps of a piston's rings stand
	state    string
	untried  []units.Length // blades of the set between the one that goes and the one that does not
	turns    []units.Length // in what steps its instrument loses a turn
	sure     bool           // it was read again, and stands
}

// quantities are what is judged of a line, by the keys of their limits.
func (l *line) quantities() []judged {
	if l.form == size {
		return []judged{{diameter, "limits"}, {taper, "taper"}, {outOfRound, "out_of_round"}}
	}
	return []judged{{l.quantity, "limits"}}
}

// limitsKey reports whether a name is the key of one of the line's limits.
func (l *line) limitsKey(name string) bool {
	return slices.ContainsFunc(l.quantities(), func(q judged) bool { return q.key == name })
}

// judged is a quantity and the key of its limits.
type judged struct{ quantity, key string }

// A source is what a job says of a line, and where.
type source struct {
	path  string
	table measureTable
	keys  []string // of the table, as tomlfile.SetText takes them
}

// readMeasured reads every line of the job, in the order of the engine's. declared are
// those that a table of their own asks for.
func (r *reader) readMeasured(e *Engine, f file, declared []string) []*measured {
	r.engine, r.lines = e, linesOf(e)
	sources := map[string]source{}
	for name, t := range f.Measure {
		sources[name] = source{"measure." + name, t, []string{"measure", name}}
	}
	r.readFits(e, f.Fits, sources)
	inspect, tables := f.Engine.Inspect, f.Measure
	var names []string
	for i := range r.lines {
		r.lines[i].called = r.lines[i].name()
		names = append(names, r.lines[i].called)
	}
	seen := map[string]string{}
	for i, name := range inspect {
		at := fmt.Sprintf("engine.inspect[%d]", i)
		if l := find(r.lines, name); l == nil {
			r.unknown(at, "line", name, names)
		} else if r.once(at, name, "line", seen) && l.always {
			r.fail(at, "%q is always asked for; leave it out here", name)
		} else if len(l.where(e)) == 0 {
			r.fail(at, "the engine has no place for %q; leave it out here", name)
		}
	}
	written := map[string]string{} // what a line is called in the file, by its name
	for _, name := range slices.Sorted(maps.Keys(tables)) {
		if find(r.lines, name) != nil {
			written[name] = name
			continue
		}
		r.unknown("measure."+name, "line", name, names)
		if near := tomlfile.Nearest(name, names); near != "" && written[near] == "" {
			if _, there := tables[near]; !there {
				written[near] = name // so that what else is wrong with it is said at once
			}
		}
	}
	all := make([]*measured, 0, len(r.lines))
	for i := range r.lines {
		l := &r.lines[i]
		_, inspected := seen[l.name()]
		m := &measured{line: l, expected: l.always || inspected || l.group == "oil jet" && len(e.Jets) > 0 || slices.Contains(declared, l.name()), at: l.where(e),
			limits: map[string]units.LengthInterval{}, taken: map[string]entry{}}
		s, there := sources[l.name()]
		if !there {
			s, there = sources[written[l.name()]]
		}
		if there {
			m.source = s
		} else {
			m.source.keys = []string{"measure", m.name()}
		}
		all = append(all, m)
	}
	errs := make([]tomlfile.Errors, len(all))
	together(len(all), func(i int) { // none asks for another
		if m := all[i]; m.source.path != "" {
			own := *r
			own.errs = nil
			own.readLine(m, m.source)
			errs[i] = own.errs
		}
	})
	r.errs = append(r.errs, slices.Concat(errs...)...)
	for _, m := range all {
		_, there := sources[m.name()]
		switch {
		case !there || m.expected:
		case !feeds(all, m):
			r.fail("measure."+m.name(), "%q is measured, and nothing asks for it; write it under engine in inspect = [%q]", m.name(), m.name())
		case len(m.limits) > 0: // they would look as if they were kept
			r.fail("measure."+m.name(), "%q has limits, and nothing asks for it to be judged by them; write it under engine in inspect = [%q], or leave its limits out", m.name(), m.name())
		}
	}
	return all
}

// feeds reports whether a line is a term of one that is asked for, or of one that feeds it.
func feeds(all []*measured, m *measured) bool {
	return slices.ContainsFunc(all, func(sum *measured) bool {
		return slices.Contains(slices.Concat(sum.terms, sum.also), m.name()) && (sum.expected || feeds(all, sum))
	})
}

// readLine reads one line.
func (r *reader) readLine(m *measured, s source) {
	path, t := s.path, s.table
	if t.With == open {
		t.With = ""
	}
	m.with = t.With
	r.lineLimits(path, m, t)
	if len(m.at) == 0 {
		r.fail(path, "the engine has no place for %s; leave it out", m.name())
		return
	}
	if m.line.workedOut() {
		m.sureOf = t.Sure
		r.workedOut(path, m, t)
		return
	}
	if m.form == state && t.With != "" {
		r.fail(path+".with", "%s is looked at, with no instrument; leave it out", m.name())
	} else if t.With != "" {
		r.named(path+".with", t.With, m.kinds...)
	}
	m.states = r.conditions(path+".conditions", t.Conditions, m.line)
	m.at = m.unsupported()
	if len(m.at) == 0 {
		r.fail(path+".conditions", "there is no other place to read %q at; leave it out of inspect", m.name())
		return
	}
	r.readStations(path, m, t)
	readings, at := t.Readings, path+".readings"
	if t.Reading != "" {
		if len(m.at) != 1 {
			r.fail(path+".reading", "there are %d places; write readings = { %s = %q, … }", len(m.at), key(m.at[0]), t.Reading)
			return
		}
		if len(t.Readings) > 0 {
			r.fail(path+".reading", "a reading beside readings: %w; keep one", ErrTwice)
			return
		}
		readings, at = map[string]string{m.at[0]: t.Reading}, path
	}
	m.taken = make(map[string]entry, len(readings))
	for _, location := range slices.Sorted(maps.Keys(readings)) {
		here := at + "." + location
		if t.Reading != "" {
			here = path + ".reading"
		}
		text := readings[location]
		known := slices.Contains(m.at, location)
		if !known {
			r.unknown(here, m.group, location, m.at)
		}
		if text == open || !r.present(here, text) {
			continue
		}
		if e, ok := r.entry(m, location, r.typed(here, text, path+".with", t.With)); ok && known { // else for what is wrong with the text
			if r.atWorst {
				if e = r.each(e, m.worst); m.form == slope && e.reading.Taken() {
					e = e.sloped(text)
					e.ratio = e.ratio.With(m.states...)
				}
			}
			e.path, e.text = here, text
			m.taken[location] = e
		}
	}
	for i, location := range t.Sure {
		here := fmt.Sprintf("%s.sure[%d]", path, i)
		e, there := m.taken[location]
		if m.limitsKey(location) {
			m.sureOf = append(m.sureOf, location)
		} else if !slices.Contains(m.at, location) {
			r.unknown(here, m.group, location, m.at)
		} else if there {
			e.sure = true
			m.taken[location] = e
		}
	}
}

// entry reads what was read at one place, in the way of the line's form.
func (r *reader) entry(m *measured, location string, t typed) (entry, bool) {
	what := itemName(m.group, location, m.quantity)
	switch m.form {
	case state:
		return r.looked(t, m.line)
	case pressure:
		return r.pressures(what, t, m.kinds)
	case plain:
		if m.many && several(t.body) {
			return r.stations(what, m, t)
		}
		e, ok := r.size(what, t, m.kinds)
		e.reading = e.reading.With(m.states...)
		return e, ok
	case size:
		return r.stations(what, m, t)
	case layout:
		return r.gapsAt(t)
	case mass:
		return r.weighed(what, t, m.kinds)
	case slope:
		e, ok := r.slope(what, t, m.kinds)
		e.ratio = e.ratio.With(m.states...)
		return e, ok
	}
	if strings.Contains(t.body, ";") {
		return r.gaps(what, m, t)
	}
	e, ok := r.gap(what, t, m.kinds, m.form == signed)
	e.reading = e.reading.With(m.statesOf(t)...)
	return e, ok
}

// statesOf are the facts about how a text was read: those of the line, and that a travel
// was from stop to stop.
func (m *measured) statesOf(t typed) []measure.Condition {
	if strings.Contains(t.body, " to ") && slices.ContainsFunc(m.needs, func(f fact) bool { return f.what == pushed.what && f.is[0] == pushed.is[0] }) {
		return append(slices.Clone(m.states), pushed.condition())
	}
	return m.states
}

// gaps reads a gap or a clearance at several places of a part, with semicolons between
// them: "0.060; 0.060..0.080; 0.080 mm". On a crush strip they are places along one strip,
// which is off by one tolerance.
func (r *reader) gaps(what string, m *measured, t typed) (e entry, ok bool) {
	unit := t.body[strings.LastIndexAny(t.body, "; ")+1:]
	if unit == "" || unit[0] >= '0' && unit[0] <= '9' {
		r.fail(t.path, "%s: no unit at its end; write \"0.060; 0.060..0.080 mm\", a semicolon between places", t.body)
		return e, false
	}
	t.batch = what
	for i, place := range strings.Split(t.body, ";") {
		one := t
		if one.body = strings.TrimSpace(place); one.body == "" || one.body == open {
			r.fail(t.path, "%s: a place that was not read; leave the whole reading open until all are, or leave the place out", t.body)
			return e, false
		}
		if !strings.HasSuffix(one.body, unit) {
			one.body += " " + unit
		}
		got, good := r.gap(fmt.Sprintf("%s, place %d", what, i+1), one, m.kinds, m.form == signed)
		if !good {
			return e, false
		}
		e.along = append(e.along, []measure.LengthReading{got.reading.With(m.statesOf(one)...)})
		e.untried, e.turns, e.with = append(e.untried, got.untried...), got.turns, got.with
	}
	states, ends := m.statesOf(t), m.ends(e)
	if ends == nil {
		r.fail(t.path, "%s: one of its places proves nothing; read it again", t.body)
		return e, false
	}
	e.reading = hull(ends, stationWords(e)).With(states...)
	if m.form != signed {
		e.reading = e.reading.NonNegative()
	}
	return e, true
}

// workedOut notes an error for whatever is read of a line that follows from others.
func (r *reader) workedOut(path string, m *measured, t measureTable) {
	for _, k := range []struct {
		key   string
		there bool
	}{{"reading", t.Reading != "" && t.Reading != open}, {"readings", slices.ContainsFunc(slices.Collect(maps.Values(t.Readings)), func(text string) bool { return text != open })}, {"with", t.With != ""}, {"conditions", len(t.Conditions) > 0},
		{byPlane, len(t.Planes) > 0}, {byDirection, len(t.Directions) > 0}, {"sure", slices.ContainsFunc(t.Sure, func(key string) bool { return !m.limitsKey(key) })}} {
		if k.there {
			r.fail(path+"."+k.key, "%s is worked out from %s; leave it out here, and write it there", m.name(), strings.Join(m.terms, ", "))
		}
	}
}

// stations reads a size: one, or one for each direction in each plane, "62.893 62.891;
// 62.894 62.892 mm", planes with semicolons between them and directions with blanks.
func (r *reader) stations(what string, m *measured, t typed) (e entry, ok bool) {
	body, unit := t.body, unitOf(t.body[strings.LastIndexAny(t.body, "; ")+1:])
	if !strings.Contains(body, ";") && !several(body) {
		e, ok = r.size(what, t, m.kinds)
		e.reading = e.reading.With(m.states...)
		e.along = [][]measure.LengthReading{{e.reading}}
		return e, ok
	}
	if unit == "" {
		r.fail(t.path, "%s: no unit at its end; write %q, a semicolon between planes and a blank between directions", t.body, strings.ReplaceAll(t.body, ", ", " ")+" "+r.usual())
		return e, false
	}
	body = strings.TrimSpace(strings.TrimSuffix(body, unit))
	if plain := strings.NewReplacer(", ", " ", " "+unit, "", unit, "").Replace(body); plain != body {
		r.fail(t.path, "%s: write a blank between directions, a semicolon between planes, and the unit once, at the end: %q", t.body, plain+" "+unit)
		return e, false
	}
	for i, plane := range strings.Split(body, ";") {
		var row []measure.LengthReading
		for k, number := range strings.Fields(plane) {
			if number == open {
				r.fail(t.path, "%s: a station that was not read; leave the whole reading open until all are, or leave the plane out", t.body)
				return e, false
			}
			one := t
			one.body = number + " " + unit
			got, good := r.size(fmt.Sprintf("%s, plane %d, direction %d", what, i+1, k+1), one, m.kinds)
			if !good {
				return e, false
			}
			row = append(row, got.reading.With(m.states...))
			e.turns, e.by, e.with = got.turns, got.by, got.with
		}
		if len(row) == 0 || i > 0 && len(row) != len(e.along[0]) {
			r.fail(t.path, "%s: %w; read each plane in the same directions", t.body, ErrCount)
			return e, false
		}
		e.along = append(e.along, row)
	}
	if len(e.along) == 1 && len(e.along[0]) == 1 {
		e.reading = e.along[0][0]
	} else {
		e.spanned = e.span()
	}
	return e, r.located(m, t, e)
}

// several reports whether a text has more than one number in it.
func several(body string) bool {
	n := 0
	for _, f := range strings.Fields(body) {
		if f[0] >= '0' && f[0] <= '9' && !strings.ContainsAny(f, "/±") {
			n++
		}
	}
	return n > 1 && !strings.Contains(body, " to ") && !strings.Contains(body, "/")
}

// lineLimits reads the limits of each quantity of a line.
func (r *reader) lineLimits(path string, m *measured, t measureTable) {
	texts := map[string]string{"limits": t.Limits, "taper": t.Taper, "out_of_round": t.OutOfRound}
	for _, q := range m.quantities() {
		text := texts[q.key]
		delete(texts, q.key)
		if text == "" || text == open {
			continue
		}
		switch m.form {
		case state:
			r.fail(path+"."+q.key, "%s is looked at, and has no limits; leave them out", m.name())
		case layout:
			r.fail(path+"."+q.key, "%s has rules; write them under [ring_positions], and leave the limits out", m.name())
		case pressure:
			m.pressures = limitsOf(r, path+"."+q.key, text, units.Parse[units.PressureInterval])
		case mass:
			m.masses = limitsOf(r, path+"."+q.key, text, units.Parse[units.Interval[units.MassDim]])
		case slope, quotient:
			m.ratios = limitsOf(r, path+"."+q.key, text, units.Parse[units.RatioInterval])
		default:
			if rule, isRule := strings.CutSuffix(text, ofTheBore); isRule {
				if iv, ok := r.byBore(path+"."+q.key, rule, m.line); ok {
					m.limits[q.quantity], m.rule = iv, text
				}
			} else if iv, ok := r.limits(path+"."+q.key, text, m.form == signed); ok {
				m.limits[q.quantity] = iv
			}
		}
	}
	for _, k := range slices.Sorted(maps.Keys(texts)) {
		if texts[k] != "" {
			r.fail(path+"."+k, "%s has no %s; leave it out", m.name(), strings.ReplaceAll(k, "_", "-"))
		}
	}
}

// key writes a name as a key of a file: in quotes where it needs them.
func key(name string) string {
	for _, c := range name {
		if !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '_') {
			return fmt.Sprintf("%q", name)
		}
	}
	return name
}
