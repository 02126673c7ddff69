package job

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

// The kinds of instrument that a job file may name.
const (
	crushStrip   = "crush strip"
	feelerBlades = "feeler blades"
)

// gauges are the kinds that show a value, good to an uncertainty.
var gauges = []string{"micrometer", "bore gauge", "dial", "caliper", "depth gauge", "gauge"}

// An instrument is one of those that a job names.
type instrument struct {
	kind    string
	gauge   clearance.LengthInstrument
	strip   clearance.Strip
	feelers clearance.Feelers
	bad     bool // something is wrong with it, and has been said
}

// readInstruments reads every instrument of the job.
func (r *reader) readInstruments(tables map[string]instrumentTable) {
	r.instruments = map[string]instrument{}
	for name, t := range tables {
		path := "instruments." + name
		in := instrument{kind: t.Kind}
		ok := false
		switch {
		case t.Kind == crushStrip:
			in.strip, ok = ladder(r, path+".widths", t.Widths, clearance.NewStrip)
			if t.Tolerance != "" && ok {
				in.strip, ok = r.tolerance(path+".tolerance", t.Tolerance, in.strip)
			}
			r.onlyFor(path, t, crushStrip)
		case t.Kind == feelerBlades:
			in.feelers, ok = ladder(r, path+".blades", t.Blades, clearance.NewFeelers)
			r.onlyFor(path, t, feelerBlades)
		case slices.Contains(gauges, t.Kind):
			in.gauge.Name = name
			in.gauge.Uncertainty, ok = read(r, path+".uncertainty", t.Uncertainty, units.ParseLength)
			ok = ok && r.check(path+".uncertainty", in.gauge.Check())
			r.onlyFor(path, t, "")
		case r.present(path+".kind", t.Kind):
			r.oneOf(path+".kind", t.Kind, "kind of instrument", append([]string{crushStrip, feelerBlades}, gauges...))
		}
		in.bad = !ok
		r.instruments[name] = in
	}
}

// onlyFor notes an error for what an instrument of the kind does not have.
func (r *reader) onlyFor(path string, t instrumentTable, kind string) {
	if len(t.Widths) > 0 && kind != crushStrip {
		r.fail(path+".widths", "only a crush strip has widths; leave them out")
	}
	if len(t.Blades) > 0 && kind != feelerBlades {
		r.fail(path+".blades", "only feeler blades have blades; leave them out")
	}
	if t.Tolerance != "" && kind != crushStrip {
		r.fail(path+".tolerance", "only a crush strip has a tolerance; leave it out")
	}
	if t.Uncertainty != "" && kind != "" {
		r.fail(path+".uncertainty", "a %s is read between its marks; leave the uncertainty out", kind)
	}
}

// tolerance reads the tolerance of a strip.
func (r *reader) tolerance(path, text string, strip clearance.Strip) (clearance.Strip, bool) {
	q, ok := read(r, path, text, units.ParseLength)
	if !ok {
		return strip, false
	}
	strip, err := strip.WithTolerance(q)
	return strip, r.check(path, err)
}

// ladder reads an ascending list of lengths.
func ladder[T any](r *reader, path string, texts []string, build func(...units.Length) (T, error)) (t T, ok bool) {
	rungs := make([]units.Length, 0, len(texts))
	for i, text := range texts {
		if l, ok := read(r, fmt.Sprintf("%s[%d]", path, i), text, units.ParseLength); ok {
			rungs = append(rungs, l)
		}
	}
	if len(rungs) < len(texts) {
		return t, false
	}
	t, err := build(rungs...)
	return t, r.check(path, err)
}

// named finds the instrument of the kinds that the text at the path names; with
// no text, the job's only one of those kinds.
func (r *reader) named(path, name string, kinds ...string) (instrument, bool) {
	if name != "" {
		in, ok := r.instruments[name]
		if !ok {
			r.fail(path, "instrument %q: %w; add [instruments.%q], or write one of %s", name, ErrUnknown, name, r.listed(kinds))
			return instrument{}, false
		}
		if !slices.Contains(kinds, in.kind) {
			r.fail(path, "instrument %q is a %s; name a %s", name, in.kind, strings.Join(kinds, " or "))
			return instrument{}, false
		}
		return in, !in.bad
	}
	var found []instrument
	for _, in := range r.instruments {
		if slices.Contains(kinds, in.kind) {
			found = append(found, in)
		}
	}
	switch len(found) {
	case 1:
		return found[0], !found[0].bad
	case 0:
		r.fail(path, "no instrument of the kind %s: %w; add one under [instruments]", strings.Join(kinds, " or "), ErrMissing)
	default:
		r.fail(path, "which %s: %w; name one of %s", strings.Join(kinds, " or "), ErrAmbiguous, r.listed(kinds))
	}
	return instrument{}, false
}

// listed names the instruments of the kinds, for an error.
func (r *reader) listed(kinds []string) string {
	var names []string
	for name, in := range r.instruments {
		if slices.Contains(kinds, in.kind) {
			names = append(names, fmt.Sprintf("%q", name))
		}
	}
	if len(names) == 0 {
		return "none, for there is no " + strings.Join(kinds, " or ")
	}
	slices.Sort(names)
	return strings.Join(names, ", ")
}

// size reads a size: a value with its own uncertainty ("60.012 ±0.003 mm"), or a
// value measured with an instrument that the job names.
func (r *reader) size(path, text, withPath, with string) (clearance.LengthReading, bool) {
	iv, ok := read(r, path, text, units.ParseLengthInterval)
	if !ok {
		return clearance.LengthReading{}, false
	}
	if iv.HasHi() && largest.Less(iv.Hi()) {
		r.fail(path, "%s: a size beyond %s; look at its unit", text, largest)
		return clearance.LengthReading{}, false
	}
	if !iv.IsPoint() {
		if with != "" {
			r.fail(path, "%s has its own uncertainty, and %q has another; leave one out", text, with)
			return clearance.LengthReading{}, false
		}
		if !iv.Bounded() || iv.Lo().Sign() <= 0 {
			r.fail(path, "%s: a size has two bounds, both above zero; write \"60.012 ±0.003 mm\"", text)
			return clearance.LengthReading{}, false
		}
		return clearance.Given(iv, "given as "+text), true
	}
	if with == "" {
		r.fail(path, "%s: %w; write how good it is, as in \"60.012 ±0.003 mm\", or name the instrument with \"with\"", text, ErrNotSure)
		return clearance.LengthReading{}, false
	}
	in, ok := r.named(withPath, with, gauges...)
	if !ok {
		return clearance.LengthReading{}, false
	}
	reading, err := in.gauge.Read(iv.Lo())
	return reading, r.check(path, err)
}
