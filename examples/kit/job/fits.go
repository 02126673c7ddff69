package job

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// fitTable is a fit that a job has beside those of the inspection: a named sum with its
// limits.
type fitTable struct {
	Name       string             `toml:"name"`    // "idler end float": the part, and in the last word what is judged of it
	Formula    string             `toml:"formula"` // "C = D - 2*t - d"; left out where it is read as it is
	Limits     string             `toml:"limits" beside:"readings"`
	At         []string           `toml:"at"`    // its places; left out, those of the first line in it, or one
	Lines      map[string]string  `toml:"lines"` // the symbols that are lines
	Terms      map[string]fitTerm `toml:"terms"` // those that have readings of their own
	Needs      map[string]string  `toml:"needs"` // what its own readings must state to prove anything
	With       string             `toml:"with"`
	Conditions map[string]string  `toml:"conditions"`
	Reading    string             `toml:"reading"` // of the fit itself, where it is
	Readings   map[string]string  `toml:"readings"`
	Sure       []string           `toml:"sure"`
}

// fitTerm is a term with readings of its own.
type fitTerm struct {
	Name       string            `toml:"name"` // what is measured, for the measuring sheet
	With       string            `toml:"with"`
	Conditions map[string]string `toml:"conditions"` // those of the fit where left out
	Reading    string            `toml:"reading"`
	Readings   map[string]string `toml:"readings"`
	Sure       []string          `toml:"sure"`
}

// fitRemedy is all that can be said about a fit that only its job knows.
var fitRemedy = Remedy{Stop, "Look in the manual what is done about it.", "Look in the manual what is done about it."}

// readFits reads the job's own fits, as lines: one for each fit, and one for each term that
// has readings of its own.
func (r *reader) readFits(e *Engine, tables []fitTable, sources map[string]source) {
	for i, t := range tables {
		path := fmt.Sprintf("fits[%d]", i)
		if !r.present(path+".name", t.Name) {
			continue
		}
		if strings.Join(strings.Fields(t.Name), " ") != t.Name || !strings.Contains(t.Name, " ") {
			r.fail(path+".name", "%q: write the part and what is judged of it, with one blank between words, as in \"idler float\"", t.Name)
			continue
		}
		if find(r.lines, t.Name) != nil {
			r.fail(path+".name", "%q is a line or a fit already: %w; give this one a name of its own", t.Name, ErrTwice)
			continue
		}
		if s, there := sources[t.Name]; there {
			r.fail(s.path, "%q is a fit: %w; write what there is to say of it under [[fits]]", t.Name, ErrTwice)
			delete(sources, t.Name)
		}
		r.readFit(e, path, []string{"fits", strconv.Itoa(i)}, t, sources)
	}
}

// readFit reads one fit.
func (r *reader) readFit(e *Engine, path string, keys []string, t fitTable, sources map[string]source) {
	errs := len(r.errs)
	asItIs := t.Formula == "" && len(t.Lines) == 0 && len(t.Terms) == 0 // a gap between blades, of nothing else
	if asItIs && t.Reading == "" && len(t.Readings) == 0 {
		r.fail(path+".formula", "%w; write formula = \"C = D - 2*t - d\" with what its symbols are, or reading or readings of a fit that is read as it is", ErrMissing)
		return
	}
	var f formula
	if ok := asItIs; !ok {
		if f, ok = read(r, path+".formula", t.Formula, parseFormula); !ok {
			return
		}
	}
	needs := factsOf(t.Needs)
	cut := strings.LastIndex(t.Name, " ")
	l := line{group: t.Name[:cut], quantity: t.Name[cut+1:], form: signed, always: true, before: Final, kinds: slices.Concat(gaugeKinds, []string{feelerBlades}), needs: needs, remedy: fitRemedy}
	if asItIs {
		l.form, l.how = direct, "as the manual says"
	} else {
		l.how = f.String()
	}
	if len(t.At) > 0 {
		r.names(path+".at", t.At, "place")
		l.where = func(*Engine) []string { return t.At }
	}
	for _, x := range f.terms {
		switch name, isLine := t.Lines[x.symbol]; {
		case isLine:
			r.termLine(e, path, x.symbol, name, &l)
		default:
			if _, own := t.Terms[x.symbol]; !own {
				r.fail(path+".formula", "symbol %q: %w; %s", x.symbol, ErrUnknown, those(t))
			}
			l.terms = append(l.terms, itemName(t.Name, "", x.symbol))
		}
	}
	if l.where == nil {
		l.where = atOnce(l.group)
	}
	r.unused(path, f, t)
	if len(r.errs) > errs {
		return
	}
	if !asItIs {
		l.fit = f.fit
	}
	r.lines = append(r.lines, l)
	sources[t.Name] = source{path, measureTable{Limits: t.Limits, With: t.With, Conditions: t.Conditions, Reading: t.Reading, Readings: t.Readings, Sure: t.Sure}, keys}
	for _, symbol := range slices.Sorted(maps.Keys(t.Terms)) {
		x := t.Terms[symbol]
		own := line{group: l.group, quantity: l.quantity + " " + symbol, where: l.where, form: plain, before: Final, kinds: gaugeKinds, needs: needs, how: x.Name, remedy: fitRemedy}
		if own.how == "" {
			own.how = "as the manual says"
		}
		if x.Conditions == nil {
			x.Conditions = t.Conditions
		}
		r.lines = append(r.lines, own)
		sources[own.name()] = source{path + ".terms." + symbol, measureTable{With: x.With, Conditions: x.Conditions, Reading: x.Reading, Readings: x.Readings, Sure: x.Sure}, append(slices.Clone(keys), "terms", symbol)}
	}
}

// termLine makes a line of the engine a term of a fit.
func (r *reader) termLine(e *Engine, path, symbol, name string, l *line) {
	at := path + ".lines." + symbol
	part := find(r.lines, name)
	if part == nil {
		var names []string
		for i := range r.lines {
			names = append(names, r.lines[i].name())
		}
		r.unknown(at, "line", name, names)
		return
	}
	if !slices.Contains([]form{direct, size, plain, signed}, part.form) {
		r.fail(at, "%q is no length; name a line that is one", name)
		return
	}
	places := part.where(e)
	if l.where == nil && !slices.Equal(places, []string{part.group}) {
		l.where = part.where
	}
	if l.where == nil {
		l.terms = append(l.terms, name)
		return
	}
	for _, location := range l.where(e) {
		if len(e.placesOf(places, part.group, location)) != 1 {
			r.fail(at, "%q has no one place for %q; its places are %s", name, location, strings.Join(places, ", "))
			break
		}
	}
	l.terms = append(l.terms, name)
}

// unused notes what the formula of a fit does not use.
func (r *reader) unused(path string, f formula, t fitTable) {
	used := func(symbol string) bool {
		return slices.ContainsFunc(f.terms, func(x factored) bool { return x.symbol == symbol })
	}
	for _, symbol := range slices.Sorted(maps.Keys(t.Lines)) {
		if !used(symbol) {
			r.fail(path+".lines."+symbol, "nothing in %q uses %q; leave it out, or write it into the formula", t.Formula, symbol)
		} else if _, both := t.Terms[symbol]; both {
			r.fail(path+".terms."+symbol, "%q stands under lines too: %w; keep one", symbol, ErrTwice)
		}
	}
	for _, symbol := range slices.Sorted(maps.Keys(t.Terms)) {
		if !used(symbol) {
			r.fail(path+".terms."+symbol, "nothing in %q uses %q; leave it out, or write it into the formula", t.Formula, symbol)
		}
	}
}

// those says which symbols a fit has.
func those(t fitTable) string {
	symbols := slices.Sorted(maps.Keys(t.Lines))
	symbols = append(symbols, slices.Sorted(maps.Keys(t.Terms))...)
	if len(symbols) == 0 {
		return "say what it is: under lines the line that it is, or under terms its readings"
	}
	return "there are " + strings.Join(symbols, ", ") + "; write one of these, or say under lines or terms what it is"
}

// factsOf are what readings must state, in the words that the job has for it; a fact that
// other lines ask for keeps its other words.
func factsOf(needs map[string]string) []fact {
	var list []fact
	for _, what := range slices.Sorted(maps.Keys(needs)) {
		f := fact{what: what, is: []string{needs[what]}}
		for _, known := range []fact{boltsDone, shellsOut, notTurned, wipedOff, ringSquare} {
			if known.what == what {
				for _, word := range known.is {
					if word != needs[what] {
						f.is = append(f.is, word)
					}
				}
			}
		}
		list = append(list, f)
	}
	return list
}

// String is the formula as it is shown: "C = D - 2 t - d".
func (f formula) String() string {
	sum := f.sum(nil)
	return sum.Formula()
}

// sum is the formula with what each of its symbols has been read to.
func (f formula) sum(readings []measure.LengthReading) measure.Sum[units.LengthDim] {
	sum := measure.Sum[units.LengthDim]{Symbol: f.result}
	for i, x := range f.terms {
		t := measure.Term[units.LengthDim]{Symbol: x.symbol, Name: x.symbol, Factor: units.One.OfRat(x.factor)}
		if readings != nil {
			t.Reading = readings[i]
		}
		sum.Terms = append(sum.Terms, t)
	}
	return sum
}

// fit is the fit at one place.
func (f formula) fit(j *Job, m *measured, location string) clearance.Fit {
	readings := make([]measure.LengthReading, len(m.terms))
	for i, name := range m.terms {
		readings[i] = j.known(name, location)
	}
	sum := f.sum(readings)
	for i, name := range m.terms {
		part := j.line(name)
		sum.Terms[i].Name = itemName(part.group, j.placeOf(part, location), part.quantity)
		if part.fit == nil { // a sum asks for what its own terms need
			sum.Terms[i].Needs = part.conditions()
		}
	}
	return clearance.Fit{Sum: sum}
}

// known is what is known of a line at the place of another one: its size, or the sum that
// it is.
func (j *Job) known(name, location string) measure.LengthReading {
	m := j.line(name)
	if m == nil || m.fit == nil {
		return j.sized(name, location)
	}
	at := j.placeOf(m, location)
	if at == "" {
		return measure.LengthReading{}
	}
	x := j.fitting(m, m.quantity, at)
	return x.Best()
}
