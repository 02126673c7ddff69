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
	Limits     string            `toml:"limits"`
	Taper      string            `toml:"taper"`
	OutOfRound string            `toml:"out_of_round"`
	With       string            `toml:"with"`
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
	taken     map[string]entry // by location; none where it was not read
	states    []measure.Condition
}

// An entry is what was read of a line at one place.
type entry struct {
	path     string
	text     string
	reading  measure.LengthReading
	along    [][]measure.LengthReading // of a size, by plane and direction
	spanned  measure.LengthReading     // of several stations, the span
	pressure measure.Reading[units.PressureDim]
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

// judged is a quantity and the key of its limits.
type judged struct{ quantity, key string }

// readMeasured reads every line of the job, in the order of the engine's.
func (r *reader) readMeasured(e *Engine, inspect []string, tables map[string]measureTable) []*measured {
	r.lines = linesOf(e)
	var names []string
	for i := range r.lines {
		names = append(names, r.lines[i].name())
	}
	seen := map[string]string{}
	for i, name := range inspect {
		at := fmt.Sprintf("engine.inspect[%d]", i)
		if l := find(r.lines, name); l == nil {
			r.unknown(at, "line", name, names)
		} else if r.once(at, name, "line", seen) && l.always {
			r.fail(at, "%q is always asked for; leave it out here", name)
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
	var all []*measured
	for i := range r.lines {
		l := &r.lines[i]
		t, there := tables[written[l.name()]]
		_, inspected := seen[l.name()]
		m := &measured{line: l, expected: l.always || inspected || l.group == "oil jet" && len(e.Jets) > 0, at: l.where(e),
			limits: map[string]units.LengthInterval{}, taken: map[string]entry{}}
		if there {
			r.readLine("measure."+written[l.name()], m, t)
		}
		all = append(all, m)
	}
	for _, m := range all {
		if _, there := tables[m.name()]; there && !m.expected && !feeds(all, m) {
			r.fail("measure."+m.name(), "%q is measured, and nothing asks for it; write it under engine in inspect = [%q]", m.name(), m.name())
		}
	}
	return all
}

// feeds reports whether a line is a term of one that is asked for.
func feeds(all []*measured, m *measured) bool {
	return slices.ContainsFunc(all, func(sum *measured) bool { return sum.expected && slices.Contains(sum.terms, m.name()) })
}

// readLine reads one line, which stands at the path.
func (r *reader) readLine(path string, m *measured, t measureTable) {
	if t.With == open {
		t.With = ""
	}
	m.with = t.With
	r.lineLimits(path, m, t)
	if m.form == state && t.With != "" {
		r.fail(path+".with", "%s is looked at, with no instrument; leave it out", m.name())
	} else if t.With != "" {
		r.named(path+".with", t.With, m.kinds...)
	}
	m.states = r.conditions(path+".conditions", t.Conditions, m.line)
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
	for _, location := range slices.Sorted(maps.Keys(readings)) {
		here := at + "." + location
		if t.Reading != "" {
			here = path + ".reading"
		}
		text := readings[location]
		if !slices.Contains(m.at, location) {
			r.unknown(here, m.group, location, m.at)
			continue
		}
		if text == open || !r.present(here, text) {
			continue
		}
		if e, ok := r.entry(m, location, r.typed(here, text, path+".with", t.With)); ok {
			e.path, e.text = here, text
			m.taken[location] = e
		}
	}
	for i, location := range t.Sure {
		here := fmt.Sprintf("%s.sure[%d]", path, i)
		e, there := m.taken[location]
		if !slices.Contains(m.at, location) {
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
		e, ok := r.size(what, t, m.kinds)
		e.reading = e.reading.With(m.states...)
		return e, ok
	case size:
		return r.stations(what, m, t)
	}
	e, ok := r.gap(what, t, m.kinds, m.form == signed)
	e.reading = e.reading.With(m.states...)
	return e, ok
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
		r.fail(t.path, "%s: no unit at its end; write \"62.893 62.891; 62.894 62.892 mm\", a semicolon between planes and a blank between directions", t.body)
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
			e.turns = got.turns
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
	return e, true
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
		case pressure:
			iv, ok := read(r, path+"."+q.key, text, units.Parse[units.PressureInterval])
			if ok && !iv.HasLo() && !iv.HasHi() {
				r.fail(path+"."+q.key, "%s: limits that allow everything; write one or both", text)
				ok = false
			}
			if ok {
				m.pressures = iv
			}
		default:
			if iv, ok := r.limits(path+"."+q.key, text, m.form == signed); ok {
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
