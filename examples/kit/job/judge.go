package job

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// groups judges every line that is asked for, in the order of the record, several at a
// time: none changes anything.
func (j *Job) groups() []Group {
	each := make([][]Group, len(j.lines))
	together(len(j.lines), func(i int) {
		if m := j.lines[i]; m.expected {
			each[i] = j.groupsOf(m)
		}
	})
	return slices.Concat(each...)
}

// groupsOf judges a line.
func (j *Job) groupsOf(m *measured) []Group {
	switch m.form {
	case state, layout:
		return nil
	case pressure:
		return []Group{j.pressureGroup(m)}
	case mass:
		return []Group{j.massGroup(m)}
	case slope, quotient:
		return []Group{j.ratioGroup(m)}
	case size:
		var all []Group
		for _, q := range m.quantities() {
			all = append(all, j.fitGroup(m, q.quantity))
		}
		return all
	}
	return []Group{j.fitGroup(m, m.quantity)}
}

// line returns what was measured of a line; nil if the engine has no such line.
func (j *Job) line(name string) *measured {
	return j.byName[name]
}

// sized returns the size that a line has at a place, for a sum; a missing reading where it
// was not read. Of several stations it lies between the smallest and the largest.
func (j *Job) sized(name, location string) measure.LengthReading {
	m := j.line(name)
	if m == nil {
		return measure.LengthReading{}
	}
	return m.taken[j.placeOf(m, location)].whole(m.states)
}

// placesOf are where a line is measured that belongs to the place of another one.
func (j *Job) placesOf(m *measured, location string) []string {
	return j.engine.placesOf(m.at, m.group, location)
}

// placeOf is the one place of placesOf; none if there are several.
func (j *Job) placeOf(m *measured, location string) string {
	if at := j.placesOf(m, location); len(at) == 1 {
		return at[0]
	}
	return ""
}

// whole is the reading of the whole part: of one station that station, of several what
// lies between the smallest and the largest.
func (e entry) whole(states []measure.Condition) measure.LengthReading {
	if e.reading.Taken() || e.along == nil {
		return e.reading
	}
	return e.spanned.With(states...)
}

// span is what lies between the smallest and the largest of several stations.
func (e entry) span() measure.LengthReading {
	s, err := measure.NewStations(e.along, measure.Smallest, measure.Largest)
	if err != nil {
		return measure.LengthReading{}
	}
	return hull([]measure.LengthReading{s.Find(measure.Smallest), s.Find(measure.Largest)}, stationWords(e))
}

// howOne is the instrument of stations that are all read with the same.
func howOne(along [][]measure.LengthReading) string {
	name, _, _ := strings.Cut(along[0][0].How(units.Millimetre), ",")
	return name
}

// asked is a reading with what the line asks of it: it proves nothing if it does not say
// so.
func (m *measured) asked(r measure.LengthReading) measure.LengthReading {
	r = stated(m, r)
	if r.Taken() && m.asksAbove() {
		return r.NonNegative()
	}
	return r
}

// asksAbove reports whether what is asked of a reading makes it one that is not below zero.
func (l *line) asksAbove() bool { return l.form == direct && len(l.needs) > 0 }

// stated is asked, of any dimension.
func stated[D units.Dimension](m *measured, r measure.Reading[D]) measure.Reading[D] {
	if !r.Taken() || len(m.needs) == 0 {
		return r
	}
	t := measure.Plus("x", m.name(), r)
	t.Needs = m.conditions()
	sum := measure.Sum[D]{Name: m.name(), Symbol: "x", Terms: []measure.Term[D]{t}}
	return sum.Reading()
}

// A fitting is a quantity at one place, with what is known of it.
type fitting struct {
	location string
	clearance.Fit
	entry    entry                   // the reading made where it is
	direct   measure.LengthReading   // the same, as the instrument has it
	ends     []measure.LengthReading // the least and the greatest of what was read, of several places
	stations stationed               // the sum at each of several stations, in place of Sum
	slipped  []string                // what its readings may have been meant as
	final    clearance.Fit           // the fit that is judged
	computed measure.LengthReading   // what its terms come to
}

// fittingAt is what is judged of a line's quantity at one of its places.
func (j *Job) fittingAt(m *measured, quantity, location string) *fitting {
	if m.shared != nil {
		return m.shared[location]()
	}
	return j.fitting(m, quantity, location)
}

// share makes known once what the clearance of a bearing is, which other lines start from, and
// the stations of a size, by which its form is judged too.
func (j *Job) share() {
	j.atMiddle = sync.OnceValue(j.exactlyWarm)
	for _, m := range j.lines {
		for location, e := range m.taken {
			if m.form == size && len(e.along) > 0 && e.stations == nil {
				of := e
				e.stations = sync.OnceValues(func() (measure.Stations[units.LengthDim], bool) { return m.stationsOf(of) })
				m.taken[location] = e
			}
		}
		if !m.isBearing() {
			continue
		}
		m.shared = map[string]func() *fitting{}
		for _, location := range m.at {
			m.shared[location] = sync.OnceValue(func() *fitting { return j.fitting(m, m.quantity, location) })
		}
	}
}

// fitting is what is judged of a line's quantity at one place.
func (j *Job) fitting(m *measured, quantity, location string) *fitting {
	x := j.gathered(m, quantity, location)
	x.final = x.judged()
	x.computed = x.final.Sum.Reading()
	return x
}

// gathered is a fitting with all that was read for it.
func (j *Job) gathered(m *measured, quantity, location string) *fitting {
	e := m.taken[location]
	x := &fitting{location: location, entry: e, Fit: clearance.DirectFit(itemName(m.group, location, quantity), measure.LengthReading{})}
	switch m.form {
	case size:
		if quantity == diameter {
			x.slipped, x.ends = m.slips[location], m.ends(e)
		}
		x.direct = m.formed(e, quantity, x.ends)
	case plain:
		x.direct, x.slipped, x.ends = e.whole(m.states), m.slips[location], m.ends(e)
	default:
		if m.fit != nil {
			x.Fit = m.fit(j, m, location)
			x.Fit.Notes = append(x.Fit.Notes, j.sharing(m)...)
			x.Fit.Sum.Name, x.Fit.Sum.AtWorst = itemName(m.group, location, m.quantity), j.atWorst
		}
		x.slipped = slices.Concat(m.slips[location], j.slipsOfTerms(m, location))
		switch {
		case len(m.kinds) == 0:
			x.direct = x.Direct // of a sum, what its own terms were read to
		case !m.within: // else it is a term of the sum
			x.direct, x.ends = e.reading, m.ends(e)
		}
		if m.each != nil {
			x.stations = m.each(j, m, location)
		}
	}
	x.Direct = m.asked(x.direct)
	switch {
	case m.isBearing():
		x.inShells(j, m)
	case m.form == size && quantity != diameter:
		x.Direct = x.Direct.NonNegative() // largest less smallest
	}
	return x
}

// readFor are the lines that are read for one that is worked out.
func (j *Job) readFor(m *measured) (names []string) {
	for _, name := range m.terms {
		if part := j.line(name); part != nil && part.fit == nil {
			names = append(names, name)
		}
	}
	return names
}

// unread says which of its sizes keep a sum from being known, where some were read.
func unread(x *fitting) string {
	missing := x.Sum.Missing()
	if len(missing) == 0 || len(missing) == len(x.Sum.Terms) {
		return ""
	}
	return "still to read: " + strings.Join(missing, ", ")
}

// joined are two parts of an advice.
func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "; " + b
}

// isBearing reports whether the line is a running clearance.
func (l *line) isBearing() bool { return len(l.kinds) > 0 && l.kinds[0] == crushStrip }

// fitGroup judges a line's quantity at each of its places.
func (j *Job) fitGroup(m *measured, quantity string) Group {
	u, places := j.shownIn(m)
	limits := m.limits[quantity]
	g := Group{Name: m.group, Quantity: quantity, Remedy: m.remedy, Limits: notStated, before: m.before}
	if !limits.IsEmpty() {
		g.Limits = tolerance(limits, u, places)
	}
	if m.workedOut() {
		g.from = j.readFor(m)
	}
	if m.rule != "" {
		g.Limits += " (" + m.rule + ")"
	}
	var d drawing
	within := toleranceRange(limits, u, places)
	all := make([]units.LengthInterval, 0, len(m.at))
	g.Findings = make([]Finding, 0, len(m.at))
	for _, location := range m.at {
		x := j.fittingAt(m, quantity, location)
		a := measure.Assess(x.final.BestBeside(x.computed), limits)
		all = append(all, a.Reading.Interval())
		f := found(subject{g.Name, x.location, g.Quantity}, a, within, u, places)
		if end, which, ok := x.outside(a); ok {
			by, _ := end.Outside()
			f.Verdict, a.Verdict, f.Advice = end.Verdict, end.Verdict, "by "+reading(by, u, places)+" where it is "+which
		}
		if f.Taken {
			f.How = x.entry.told(how(x, a, u))
		}
		if !f.Taken {
			f.Advice = x.stations.how
		}
		if a.Verdict == measure.Undecided && f.Taken && !limits.IsEmpty() {
			f.Advice = j.advise(m, quantity, x, a)
		}
		if !f.Taken && f.Advice == "" {
			f.Advice = unread(x)
		}
		if m.filed && !limits.IsEmpty() && len(x.slipped) == 0 {
			f.Advice = joined(f.Advice, j.filing(x, a))
		}
		if len(x.slipped) > 0 {
			f.Slip = x.slipped[0]
			f.Verdict = measure.Undecided
		}
		if !j.trying {
			j.explain(&f, m, x, a)
		}
		g.Findings = append(g.Findings, f)
		add(&d, a.Reading.Supposed(), limits, u)
	}
	d.into(g.Findings)
	why := m.asksForm(quantity, u)
	if why == "" {
		why = asksLimits(limits, all, u)
	}
	g.ask(m, quantity, why)
	return g
}

// explain adds to a finding the steps that lead to it, and the changes of parts that would bring it inside.
func (j *Job) explain(f *Finding, m *measured, x *fitting, a measure.Assessment[units.LengthDim]) {
	u, _ := j.shownIn(m)
	if w, ok := x.working(u); ok {
		w.Name = f.Name()
		f.Working = &w
	}
	if !f.Taken || f.Verdict == measure.Conforming || len(x.slipped) > 0 {
		return
	}
	if m.isBearing() {
		f.Remedies = j.remedyTexts(m, x, f.Verdict)
	} else if m.name() == "crankshaft end play" {
		f.Remedies = j.instead(a.Reading, a.Tolerance)
	}
}

// how says how a quantity came to be known: by the reading made where it is, by its
// sizes, or by both.
func how(x *fitting, a measure.Assessment[units.LengthDim], u units.LengthUnit) string {
	const sizes = "from its sizes"
	switch {
	case !x.direct.Taken() && x.stations.how != "":
		return x.stations.how
	case !x.direct.Taken():
		return sizes
	case !x.computed.Taken() || len(x.computed.Unmet()) > 0:
		return x.direct.How(u)
	case a.Reading.Problem() != "":
		return x.direct.How(u) + "; and " + sizes
	case a.Reading.String() == x.Direct.String():
		return x.direct.How(u) + ", which its sizes bear out"
	}
	return sizes + ", which the " + x.direct.How(u) + " bears out"
}

// advise says what would settle an undecided quantity.
func (j *Job) advise(m *measured, quantity string, x *fitting, a measure.Assessment[units.LengthDim]) string {
	u, places := j.shownIn(m)
	if both := x.final.Agreement(); both.Known && !both.Agree {
		what := "bore inside the shells"
		if x.entry.reading.Taken() {
			what = m.kinds[0]
		}
		return fmt.Sprintf("the %s and the sizes do not agree: they differ by %s, so one is wrong; measure both again",
			what, reading(both.Difference.Interval(), u, places))
	}
	if problem := a.Reading.Problem(); strings.Contains(problem, "do not agree") {
		return problem
	}
	if len(a.Reading.Unmet()) > 0 {
		return a.Reading.Problem() + "; once it was read so, say it under conditions"
	}
	if len(x.entry.untried) > 0 {
		return "try the blades between: " + list(x.entry.untried, u)
	}
	if !a.Reading.Interval().HasHi() {
		return openEnded(a)
	}
	if c := j.atMiddle(); c != nil {
		y := c.fittingAt(c.line(m.name()), quantity, x.location)
		if b := measure.Assess(y.final.BestBeside(y.computed), a.Tolerance); b.Verdict == measure.Conforming {
			return doubtfulWarmth("it would be " + reading(b.Reading.Interval(), u, places) + ", conforming")
		}
	}
	if m.isBearing() {
		return j.remeasure(m, x, a)
	}
	words := settles(a, u, places)
	if dial := j.finest("dial"); dial != nil && m.form == direct {
		reach := reach(dial)
		if chance, ok := a.Chance(reach); ok && chance >= measure.NineInTen {
			words += fmt.Sprintf("; the %s is good to ±%s", dial.Name, reach.Format(u, places+1, units.Ceiling))
		}
	}
	return words
}

// remeasure says what would settle an undecided running clearance: another measurement
// with the job's own instruments if they are good enough. Where sizes are corrected, what
// temperatures leave open is not in that.
func (j *Job) remeasure(m *measured, x *fitting, a measure.Assessment[units.LengthDim]) string {
	u, places := j.show.length, j.show.places
	if found := x.Remeasurements(a.Tolerance, measure.NineInTen, j.offered()); len(found) > 0 && !x.Direct.Taken() {
		var uses []string
		for _, t := range x.Sum.Terms {
			if with, ok := found[0].With[t.Symbol]; ok {
				uses = append(uses, fmt.Sprintf("%s with the %s", t.Name, with.Name))
			}
		}
		warmth := ""
		if slices.ContainsFunc(m.terms, func(name string) bool { t := j.line(name); return t != nil && t.correctedFor(j.bodies) }) {
			warmth = " when all of them are at 20 °C"
		}
		return fmt.Sprintf("measure the %s%s: that makes it good to ±%s, and settles it nine times in ten",
			strings.Join(uses, " and the "), warmth, found[0].Expanded.Format(u, places+1, units.Ceiling))
	}
	words := settles(a, u, places)
	bore, micrometer := j.finest("bore gauge"), j.finest("micrometer")
	if bore == nil || micrometer == nil {
		return words
	}
	together, ok := j.together(bore, micrometer)
	chance, known := a.Chance(together)
	if !ok || !known {
		return words
	}
	mine := fmt.Sprintf("%s and %s, ±%s together,", bore.Name, micrometer.Name, together.Format(u, places+1, units.Ceiling))
	if chance >= measure.NineInTen {
		return words + ": " + mine + " do"
	}
	return words + "; " + mine + " settle it " + chances(chance)
}

// together returns how good a clearance is whose bore is read with one instrument, and
// whose walls and journal are read with another.
func (j *Job) together(bore, micrometer *measure.LengthInstrument) (units.Length, bool) {
	if bore == nil || micrometer == nil {
		return units.Length{}, false
	}
	fit := (&clearance.MeasuredBearing{}).Fit()
	fit.Sum.AtWorst = j.atWorst
	for i := range fit.Sum.Terms {
		term, in := &fit.Sum.Terms[i], micrometer
		if i == 0 {
			in = bore
		}
		r, err := in.Read(term.Name, units.Millimetre.OfInt(1))
		if err != nil {
			return units.Length{}, false
		}
		term.Reading = r.With(term.Needs...)
	}
	c := fit.Sum.Interval()
	if !c.Bounded() {
		return units.Length{}, false
	}
	return c.Radius(), true
}

// offered are the job's gauges for each size of a bearing.
func (j *Job) offered() map[string][]measure.LengthInstrument {
	of := func(kind string) (list []measure.LengthInstrument) {
		for _, in := range j.gauges {
			if in.kind == kind {
				list = append(list, in.gauge)
			}
		}
		return list
	}
	return map[string][]measure.LengthInstrument{
		"D": of("bore gauge"), "t1": of("micrometer"), "t2": of("micrometer"), "d": of("micrometer"),
	}
}

// finest returns the gauge of the kind that reaches the least to either side, or nil.
func (j *Job) finest(kind string) *measure.LengthInstrument {
	var best *measure.LengthInstrument
	for i := range j.gauges {
		if in := &j.gauges[i]; in.kind == kind && !in.bad && (best == nil || reach(&in.gauge).Less(reach(best))) {
			best = &in.gauge
		}
	}
	return best
}

// reach returns how far a reading of the instrument reaches to either side.
func reach(in *measure.LengthInstrument) units.Length {
	r, err := in.Read("", units.Millimetre.OfInt(1))
	if err != nil {
		return largest
	}
	return r.Interval().Radius()
}

// list writes lengths with the digits that they have.
func list(lengths []units.Length, u units.LengthUnit) string {
	texts := make([]string, len(lengths))
	for i, l := range lengths {
		texts[i] = l.Format(u, decimals(l, u, mostPlaces), units.HalfEven)
	}
	return strings.Join(texts, ", ")
}
