package job

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// The parts whose temperature a job may state.
const (
	ofBlock   = "block"
	ofCrank   = "crankshaft"
	ofRods    = "rods"
	ofPistons = "pistons"
)

// partsWithWarmth are their names.
var partsWithWarmth = []string{ofBlock, ofCrank, ofRods, ofPistons, "main shells", "rod shells"}

// warmthTable says what a part or an instrument is made of and how warm it is, by names:
// those of one material grow alike, and those of one temperature are equally warm,
// however closely either is known.
type warmthTable struct {
	Material string `toml:"material"`
	Measured string `toml:"measured"` // when it was measured
	Running  string `toml:"running"`  // when the engine runs
}

// A warm body is a part or an instrument with its temperatures; none where it is not said.
type warmBody struct {
	measured, running clearance.Body
}

// readWarmth reads the temperatures of parts and instruments.
func (r *reader) readWarmth(temperatures, materials map[string]string, tables map[string]warmthTable) map[string]warmBody {
	degrees, growths := map[string]units.TemperatureInterval{}, map[string]units.RatioInterval{}
	for _, name := range slices.Sorted(maps.Keys(temperatures)) {
		path := "temperatures." + name
		t, ok := read(r, path, temperatures[name], units.Parse[units.TemperatureInterval])
		if ok && !(t.HasLo() && t.HasHi()) {
			r.fail(path, "%s: a temperature has two bounds; write \"85..95 °C\"", temperatures[name])
		}
		degrees[name] = t
	}
	for _, name := range slices.Sorted(maps.Keys(materials)) {
		growths[name], _ = read(r, "materials."+name, materials[name], units.Parse[units.RatioInterval])
	}
	known := append(slices.Clone(partsWithWarmth), slices.Sorted(maps.Keys(r.instruments))...)
	bodies := map[string]warmBody{}
	for _, name := range slices.Sorted(maps.Keys(tables)) {
		t, path := tables[name], "warmth."+name
		if !r.oneOf(path, name, "part or instrument", known) || !r.present(path+".material", t.Material) ||
			!r.defined(path+".material", "material", t.Material, "materials", "11..12 ppm", slices.Sorted(maps.Keys(growths))) {
			continue
		}
		body := func(key, temperature string) (b clearance.Body) {
			if temperature == "" || !r.defined(path+"."+key, "temperature", temperature, "temperatures", "20..24 °C", slices.Sorted(maps.Keys(degrees))) {
				return b
			}
			b = clearance.Body{Material: t.Material, PerKelvin: growths[t.Material], With: temperature, Temperature: degrees[temperature],
				In: planfile.UnitOf(temperatures[temperature], units.Parse[units.TemperatureUnit])} // as it was typed
			if len(r.errs) == 0 {
				_, err := b.Warmed(measure.LengthReading{}, r.unit())
				r.check(path+"."+key, err)
			}
			return b
		}
		if t.Measured == "" && t.Running == "" {
			r.fail(path, "%s without a temperature: %w; write measured = \"...\" or running = \"...\", the name of one under [temperatures]", name, ErrMissing)
		}
		bodies[name] = warmBody{body("measured", t.Measured), body("running", t.Running)}
	}
	return bodies
}

// untyped are the parts among the lines that a sum is made of whose temperature the job does
// not state, where there are several parts: they are taken to share one, that of 20 °C.
func (j *Job) untyped(m *measured) (parts []string) {
	all := map[string]bool{}
	for _, name := range slices.Concat(m.terms, m.also) {
		part := j.line(name)
		if part == nil || part.body == "" || len(part.taken) == 0 {
			continue
		}
		all[part.body] = true
		if j.bodies[part.body].measured.Temperature.IsEmpty() && !slices.Contains(parts, part.body) {
			parts = append(parts, part.body)
		}
	}
	if len(all) < 2 {
		return nil
	}
	return parts
}

// sharing says, of a sum of the sizes of several parts, how warm they are taken to be.
func (j *Job) sharing(m *measured) []string {
	parts := j.untyped(m)
	if len(parts) == 0 {
		return nil
	}
	return []string{fmt.Sprintf("taken to be at 20 °C, which was not typed: %s; where they were not, write [warmth]", strings.Join(parts, ", "))}
}

// sharedWarmth is the caution about every part that is taken to be at 20 °C, though nobody
// said so. A bench without a thermometer proves something all the same: parts that lay
// together for hours share a temperature, and if they are of one material, it cancels.
func (j *Job) sharedWarmth() []string {
	var parts []string
	for _, m := range j.lines {
		if !m.expected || m.fit == nil {
			continue
		}
		for _, part := range j.untyped(m) {
			if !slices.Contains(parts, part) {
				parts = append(parts, part)
			}
		}
	}
	if len(parts) == 0 {
		return nil
	}
	// 60 mm × 10 K × (23 - 11.5) ppm/K = 0.0069 mm
	return []string{fmt.Sprintf("No temperature was typed for %s: fits by their sizes take all of them, and what measured them, to be at 20 °C. "+
		"Let them lie together for some hours before measuring. 10 °C more or less make a bore of 60 mm in aluminium and its steel journal differ by 0.007 mm; write [warmth] where that matters.", strings.Join(parts, ", "))}
}

// defined reports whether a name stands in the table where such names are defined.
func (r *reader) defined(path, what, name, table, example string, known []string) bool {
	if len(known) == 0 {
		r.fail(path, "%s %q: %w; add [%s] with %s = %q", what, name, ErrUnknown, table, key(name), example)
		return false
	}
	return r.oneOf(path, name, what, known)
}

// corrected corrects the sizes of parts that were not at 20 °C when they were measured.
// That takes the temperatures of the instrument and of what it was set on.
func (r *reader) corrected(j *Job, instruments map[string]instrumentTable) {
	for _, m := range j.lines {
		if !m.correctedFor(j.bodies) {
			continue
		}
		for _, location := range slices.Sorted(maps.Keys(m.taken)) {
			m.taken[location] = r.correctedEntry(m, m.taken[location], j.bodies, instruments, j.show.length)
		}
	}
}

// correctedFor reports whether the sizes of a line are corrected: its part was measured at a
// temperature of its own.
func (m *measured) correctedFor(bodies map[string]warmBody) bool {
	return m.body != "" && !bodies[m.body].measured.Temperature.IsEmpty() && (m.form == size || m.form == plain)
}

// correctedEntry is what was read at one place, corrected to 20 °C; its words are in the unit.
func (r *reader) correctedEntry(m *measured, e entry, bodies map[string]warmBody, instruments map[string]instrumentTable, in units.LengthUnit) entry {
	if e.by == "" {
		return e // a part's own limits hold at 20 °C
	}
	instrument, master, ok := r.warmInstrument(e, m, bodies, instruments)
	if !ok {
		return e
	}
	part := bodies[m.body].measured
	corrected := r.each(e, func(reading measure.LengthReading) (measure.LengthReading, error) {
		return part.AtReference(reading, instrument, master, in)
	})
	if corrected.cold = (&uncorrected{e.along, part, instrument, master}); len(e.along) == 0 {
		corrected.cold.along = [][]measure.LengthReading{{e.reading}}
	}
	return corrected
}

// uncorrected is what was read of a part that was not at 20 °C, and how warm it was.
type uncorrected struct {
	along                    [][]measure.LengthReading
	part, instrument, master clearance.Body
}

// exactlyWarm is the job as if every part and instrument had been at the middle of its
// temperatures when it was measured, and grew by the middle of its coefficients. It is nil
// if nothing was corrected by what is not known exactly.
func (j *Job) exactlyWarm() *Job {
	middle := func(b clearance.Body) clearance.Body {
		b.Temperature, b.PerKelvin = units.Exactly(b.Temperature.Mid()), units.Exactly(b.PerKelvin.Mid())
		return b
	}
	exact := func(b clearance.Body) bool { return b.Temperature.Radius().IsZero() && b.PerKelvin.Radius().IsZero() }
	c, r, doubted := j.copied(), &reader{}, false
	for _, m := range c.lines {
		taken := make(map[string]entry, len(m.taken))
		for location, e := range m.taken {
			if w := e.cold; w != nil {
				doubted = doubted || !exact(w.part) || !exact(w.instrument) || !exact(w.master)
				e.along, e.stations = w.along, nil
				e.reading, e.spanned = measure.LengthReading{}, e.span()
				if e.stationCount() == 1 {
					e.reading, e.spanned = w.along[0][0], measure.LengthReading{}
				}
				e = r.each(e, func(reading measure.LengthReading) (measure.LengthReading, error) {
					return middle(w.part).AtReference(reading, middle(w.instrument), middle(w.master), j.show.length)
				})
			}
			taken[location] = e
		}
		m.taken = taken
	}
	if !doubted || len(r.errs) > 0 {
		return nil
	}
	c.wholes()
	c.share()
	return c
}

// doubtfulWarmth says that what is not known of temperatures and expansion is all that keeps
// something open, and what it would be without.
func doubtfulWarmth(without string) string {
	return "what is not known of temperatures and expansion keeps it open: at the middle of what is stated " + without +
		"; state it more closely under [temperatures] or [materials]"
}

// warmInstrument returns how warm the instrument of a size was, and what it was set on. One
// that is set on nothing is right at 20 °C.
func (r *reader) warmInstrument(e entry, m *measured, bodies map[string]warmBody, instruments map[string]instrumentTable) (instrument, master clearance.Body, ok bool) {
	find := func(name string) (clearance.Body, bool) {
		b := bodies[name].measured
		if b.Temperature.IsEmpty() {
			if !r.cold[name] { // once for all that it read
				r.cold[name] = true
				r.fail(e.path, "%s is measured at its own temperature, and that of %q is not said: %w; write %s = { material = \"...\", measured = \"...\" } under [warmth]", m.body, name, ErrMissing, key(name))
			}
			return b, false
		}
		return b, true
	}
	instrument, ok = find(e.by)
	master = instrument
	if set := instruments[e.by].SetOn; set != "" && ok {
		master, ok = find(set)
	} else {
		master.With, master.Temperature = "", units.MustParse[units.TemperatureInterval]("20 °C")
	}
	return instrument, master, ok
}

// each changes every reading of an entry.
func (r *reader) each(e entry, change func(measure.LengthReading) (measure.LengthReading, error)) entry {
	along := make([][]measure.LengthReading, len(e.along))
	for i, row := range e.along {
		along[i] = slices.Clone(row)
		for k := range row {
			var err error
			if along[i][k], err = change(row[k]); err != nil {
				r.check(e.path, err)
				return e
			}
		}
	}
	e.along = along
	if e.spanned.Taken() {
		e.spanned = e.span()
	}
	if e.reading.Taken() {
		var err error
		if e.reading, err = change(e.reading); err != nil {
			r.check(e.path, err)
		}
	}
	return e
}
