package job

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// The kinds of instrument that a job file may name.
const (
	crushStrip    = "crush strip"
	feelerBlades  = "feeler blades"
	settingPiece  = "setting piece" // a ring or a rod: only to set an instrument on
	pressureGauge = "pressure gauge"
)

// gauges are the kinds that show a value, good to an uncertainty, with the steps in which
// a turn of their thimble or their hand may be lost.
var gauges = map[string][]string{
	"micrometer":  {"0.5 mm", "0.025 in"},
	"bore gauge":  {"1 mm", "0.1 in"},
	"dial":        {"1 mm", "0.1 in"},
	"caliper":     nil,
	"depth gauge": {"0.5 mm", "0.025 in"},
	"gauge":       nil,
}

// gaugeKinds are their names.
var gaugeKinds = []string{"micrometer", "bore gauge", "dial", "caliper", "depth gauge", "gauge"}

// otherKinds are the names of the kinds that no size is read with.
var otherKinds = []string{crushStrip, feelerBlades, pressureGauge, scale, settingPiece}

// isKind reports whether there is a kind of instrument of that name.
func isKind(name string) bool {
	return slices.Contains(gaugeKinds, name) || slices.Contains(otherKinds, name)
}

// An instrument is one of those that a job names.
type instrument struct {
	name     string
	kind     string
	gauge    measure.LengthInstrument
	pressure measure.Instrument[units.PressureDim]
	mass     measure.Instrument[units.MassDim]
	turns    []units.Length
	strip    measure.Strip
	feelers  measure.Feelers
	marks    []units.Length // of a strip the clearances, of blades their thicknesses
	bad      bool           // something is wrong with it, and has been said
}

// readInstruments reads every instrument of the job, each after the one that it was set
// on.
func (r *reader) readInstruments(tables map[string]instrumentTable) {
	r.instruments, r.declared = map[string]instrument{}, tables
	for _, name := range slices.Sorted(maps.Keys(tables)) {
		r.readInstrument(tables, name, nil)
	}
}

// readInstrument reads one instrument unless it was read. waiting are those that are set
// on it, or on what is set on it.
func (r *reader) readInstrument(tables map[string]instrumentTable, name string, waiting []string) {
	if _, ok := r.instruments[name]; ok {
		return
	}
	t, path := tables[name], "instruments."+name
	in := instrument{name: name, kind: t.Kind}
	ok := false
	t = r.unexchanged(path, t)
	r.onlyFor(path, t)
	for i, key := range t.Sure {
		r.oneOf(fmt.Sprintf("%s.sure[%d]", path, i), key, "key", []string{"uncertainty", "limit_of_error", "tolerance", "widths", "blades"})
	}
	_, isGauge := gauges[t.Kind]
	switch {
	case t.Kind == crushStrip:
		if in.strip.Prints, ok = r.ladder(path+".widths", t.Widths); ok {
			ok = r.check(path+".widths", in.strip.Check())
		}
		if t.Tolerance != "" && ok {
			in.strip.Tolerance, ok = read(r, path+".tolerance", t.Tolerance, units.ParseLength)
			ok = ok && r.check(path+".tolerance", in.strip.Check())
		}
	case t.Kind == feelerBlades:
		in.feelers.Set = name
		if in.feelers.Blades, ok = r.ladder(path+".blades", t.Blades); ok {
			ok = r.check(path+".blades", in.feelers.Check())
		}
		if t.Tolerance != "" && ok {
			in.feelers.Tolerance, ok = read(r, path+".tolerance", t.Tolerance, units.ParseLength)
			ok = ok && r.check(path+".tolerance", in.feelers.Check())
		}
	case t.Kind == pressureGauge:
		in.pressure, ok = gaugeOf(r, path, name, t, units.ParsePressure)
	case t.Kind == scale:
		in.mass, ok = gaugeOf(r, path, name, t, units.Parse[units.Mass])
	case t.Kind == settingPiece:
		// Its error is one error, whatever is set on it.
		if in.gauge, ok = gaugeOf(r, path, name, t, units.ParseLength); ok && in.gauge.Repeats.IsZero() {
			in.gauge.Common, in.gauge.Uncertainty = in.gauge.Uncertainty, units.Length{}
		}
	case isGauge:
		in.gauge, ok = gaugeOf(r, path, name, t, units.ParseLength)
		in.turns = r.turns(path, t)
		if t.SetOn != "" {
			set, known := r.setOn(tables, name, append(waiting, name))
			in.gauge.SetOn, ok = set, ok && known
		}
	case r.present(path+".kind", t.Kind):
		r.oneOf(path+".kind", t.Kind, "kind of instrument", slices.Concat(otherKinds, gaugeKinds))
	}
	in.bad = !ok
	for _, text := range slices.Concat(t.Widths, t.Blades) {
		if mark, err := units.ParseLength(text); err == nil {
			in.marks = append(in.marks, mark)
		}
	}
	r.instruments[name] = in
}

// gaugeOf reads how far an instrument that shows a value can be trusted.
func gaugeOf[D units.Dimension](r *reader, path, name string, t instrumentTable, parse func(string) (units.Quantity[D], error)) (in measure.Instrument[D], ok bool) {
	in.Name, ok = name, true
	figure := func(key, text string) units.Quantity[D] {
		if text == open {
			r.fail(path+"."+key, "%w; write how far it may be off to either side, as its certificate or its maker says, as in \"0.003 mm\"", ErrMissing)
			ok = false
			return units.Quantity[D]{}
		}
		q, good := readIf(r, path+"."+key, text, parse)
		if good && q.Sign() < 0 {
			good = r.check(path+"."+key, &units.Error{Kind: measure.ErrNotPositive, Found: text, Fix: "write how far it may be off to either side, as in 0.003 mm"})
		}
		ok = ok && (good || text == "")
		return q
	}
	if t.LimitOfError == "" {
		ok = r.present(path+".uncertainty", t.Uncertainty)
	}
	in.Uncertainty, in.Repeats = figure("uncertainty", t.Uncertainty), figure("repeats", t.Repeats)
	in.LimitOfError = figure("limit_of_error", t.LimitOfError)
	if t.K != nil {
		in.K = decimal.NewFromFloat(*t.K)
		if in.K.Sign() <= 0 {
			r.fail(path+".k", "k = %s: write a coverage factor above zero, such as 2", in.K)
			ok = false
		}
	}
	if t.Freedom != nil {
		in.Freedom = *t.Freedom
		if in.Freedom < 1 {
			r.fail(path+".freedom", "%d degrees of freedom; write one or more, or leave the key out", in.Freedom)
			ok = false
		}
	}
	if !ok {
		return in, false
	}
	if t.Repeats != "" {
		common, err := measure.Split(in.Uncertainty, in.Repeats)
		if !r.check(path+".repeats", err) {
			return in, false
		}
		in.Common, in.Uncertainty = common, units.Quantity[D]{}
	}
	return in, r.check(path+"."+blamed(t), in.Check())
}

// blamed is the key that an error of an instrument's figures is put to.
func blamed(t instrumentTable) string {
	switch {
	case t.K != nil:
		return "k"
	case t.Uncertainty != "":
		return "uncertainty"
	}
	return "limit_of_error"
}

// setOn returns the act of setting an instrument: one look at the instrument, or at the
// piece, that it was set on.
func (r *reader) setOn(tables map[string]instrumentTable, name string, waiting []string) (set measure.LengthReading, ok bool) {
	path, on := "instruments."+name+".set_on", tables[name].SetOn
	if i := slices.Index(waiting, on); i >= 0 {
		circle := append(slices.Clone(waiting[i:]), on)
		r.fail(path, "%w: %s is set on %s; one of them is set on something else", ErrCircle, circle[0], strings.Join(circle[1:], ", which is set on "))
		return set, false
	}
	kinds := append([]string{settingPiece}, gaugeKinds...)
	if t, there := tables[on]; !there || !slices.Contains(kinds, t.Kind) {
		r.named(path, on, kinds...)
		return set, false
	}
	r.readInstrument(tables, on, waiting)
	master := r.instruments[on]
	if master.bad {
		return set, false
	}
	at := "setting of " + name
	if master.kind == settingPiece {
		at = on // one piece, whatever is set on it
	}
	set, err := master.gauge.Indicate(at, units.Length{})
	return set, r.check(path, err)
}

// turns reads in what steps a turn may be lost: what the job says, or what is common.
func (r *reader) turns(path string, t instrumentTable) []units.Length {
	if t.Turn == "" {
		var common []units.Length
		for _, text := range gauges[t.Kind] {
			common = append(common, units.MustParseLength(text))
		}
		return common
	}
	turn, ok := read(r, path+".turn", t.Turn, units.ParseLength)
	if ok && turn.Sign() <= 0 {
		r.fail(path+".turn", "%s: write how far one turn goes, such as 0.5 mm", t.Turn)
		return nil
	}
	return []units.Length{turn}
}

// onlyFor notes an error for what an instrument of its kind does not have.
func (r *reader) onlyFor(path string, t instrumentTable) {
	_, isGauge := gauges[t.Kind]
	shows := isGauge || t.Kind == settingPiece || t.Kind == pressureGauge || t.Kind == scale
	marks := t.Kind == crushStrip || t.Kind == feelerBlades
	for _, key := range []struct {
		key      string
		there    bool
		allowed  bool
		who, fix string
	}{
		{"widths", len(t.Widths) > 0, t.Kind == crushStrip, "only a crush strip has widths", "leave them out"},
		{"blades", len(t.Blades) > 0, t.Kind == feelerBlades, "only feeler blades have blades", "leave them out"},
		{"tolerance", t.Tolerance != "", marks, "only a crush strip and feeler blades have a tolerance", "leave it out"},
		{"uncertainty", t.Uncertainty != "", shows, "a " + t.Kind + " is read between its marks", "leave the uncertainty out"},
		{"k", t.K != nil, shows, "only what has an uncertainty has a k", "leave it out"},
		{"freedom", t.Freedom != nil, shows, "only what has an uncertainty has degrees of freedom", "leave them out"},
		{"repeats", t.Repeats != "", shows, "only what shows a value repeats it", "leave it out"},
		{"limit_of_error", t.LimitOfError != "", shows, "only what shows a value has a limit of error", "leave it out"},
		{"set_on", t.SetOn != "", isGauge, "only an instrument that shows a length is set on another", "leave it out"},
		{"turn", t.Turn != "", isGauge, "only an instrument that shows a length has turns", "leave it out"},
	} {
		known := shows || marks // of no known kind is an error of its own
		if key.there && !key.allowed && known {
			r.fail(path+"."+key.key, "%s; %s", key.who, key.fix)
		}
	}
	if t.Repeats != "" && t.Uncertainty == "" {
		r.fail(path+".repeats", "the part of an uncertainty that repeats, without the whole: %w; write uncertainty = \"...\"", ErrMissing)
	}
}

// unexchanged puts the marks of a strip that are called blades, and the blades that are called
// widths, where they belong, and notes it: what is wrong with the marks themselves is said in
// the same try.
func (r *reader) unexchanged(path string, t instrumentTable) instrumentTable {
	exchanged := func(found, belongs, what string, marks []string) {
		r.fail(path+"."+found, "the key %s stands where %s belongs: %s; write %s = [%q, …]", found, belongs, what, belongs, marks[0])
	}
	switch {
	case t.Kind == crushStrip && len(t.Widths) == 0 && len(t.Blades) > 0:
		exchanged("blades", "widths", "a crush strip has the clearances of its printed widths", t.Blades)
		t.Widths, t.Blades = t.Blades, nil
	case t.Kind == feelerBlades && len(t.Blades) == 0 && len(t.Widths) > 0:
		exchanged("widths", "blades", "feeler blades have thicknesses", t.Widths)
		t.Widths, t.Blades = nil, t.Widths
	}
	return t
}

// ladder reads a list of lengths.
func (r *reader) ladder(path string, texts []string) (rungs []units.Length, ok bool) {
	for i, text := range texts {
		if l, ok := read(r, fmt.Sprintf("%s[%d]", path, i), text, units.ParseLength); ok {
			rungs = append(rungs, l)
		}
	}
	return rungs, len(rungs) == len(texts)
}

// named finds the instrument of the kinds that the text at the path names; with
// no text, the job's only one of those kinds.
func (r *reader) named(path, name string, kinds ...string) (instrument, bool) {
	if name != "" {
		in, ok := r.instruments[name]
		if !ok {
			r.noInstrument(path, name, kinds)
			return instrument{}, false
		}
		if in.bad && !isKind(in.kind) {
			return instrument{}, false // its kind is wrong, and that has been said
		}
		if !slices.Contains(kinds, in.kind) {
			r.fail(path, "instrument %q is of the kind %s; name one of the kind %s", name, in.kind, strings.Join(kinds, " or "))
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
		r.fail(path, "which %s: %w; name one of %s", strings.Join(kinds, " or "), ErrAmbiguous, quotedNames(r.ofKinds(kinds)))
	}
	return instrument{}, false
}

// noInstrument notes the name of an instrument that there is not, with the nearest of those
// that there are.
func (r *reader) noInstrument(path, name string, kinds []string) {
	all := slices.Sorted(maps.Keys(r.declared)) // one that is written wrongly too
	if name[0] >= '0' && name[0] <= '9' && unitOf(name) != "" {
		r.fail(path, "%q is what was read, and no instrument; write the instrument here, and what it showed as the reading", name)
		return
	}
	if near := tomlfile.Nearest(name, all); near != "" && len(name) > 2 {
		r.fail(path, "instrument %q: %w; write %q", name, ErrUnknown, near)
	} else if there := r.ofKinds(kinds); len(there) > 0 {
		r.fail(path, "instrument %q: %w; add [instruments.%q], or write one of %s", name, ErrUnknown, name, quotedNames(there))
	} else {
		r.fail(path, "instrument %q: %w; add [instruments.%q], of the kind %s", name, ErrUnknown, name, strings.Join(kinds, " or "))
	}
}

// ofKinds are the names of the instruments of the kinds.
func (r *reader) ofKinds(kinds []string) (names []string) {
	for _, name := range slices.Sorted(maps.Keys(r.declared)) {
		if slices.Contains(kinds, r.declared[name].Kind) {
			names = append(names, name)
		}
	}
	return names
}
