package job

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// groups judges every line that is asked for, in the order of the record.
func (j *Job) groups() []Group {
	var all []Group
	for _, m := range j.lines {
		if !m.expected {
			continue
		}
		switch m.form {
		case state:
		case pressure:
			all = append(all, j.pressureGroup(m))
		case size:
			for _, q := range m.quantities() {
				all = append(all, j.fitGroup(m, q.quantity))
			}
		default:
			all = append(all, j.fitGroup(m, m.quantity))
		}
	}
	return all
}

// line returns what was measured of a line; nil if the engine has no such line.
func (j *Job) line(name string) *measured {
	if i := slices.IndexFunc(j.lines, func(m *measured) bool { return m.name() == name }); i >= 0 {
		return j.lines[i]
	}
	return nil
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

// placeOf is where a line is measured that belongs to the place of another one: the pin of
// a rod, and the place itself where the line has it.
func (j *Job) placeOf(m *measured, location string) string {
	if !slices.Contains(m.at, location) {
		return j.engine.pinOf(location)
	}
	return location
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
	s, err := measure.NewStations(e.along)
	if err != nil {
		return measure.LengthReading{}
	}
	lo, hi := s.Find(measure.Smallest).Interval(), s.Find(measure.Largest).Interval()
	if !lo.HasLo() || !hi.HasHi() {
		return measure.LengthReading{}
	}
	n := 0
	for _, row := range e.along {
		n += len(row)
	}
	return measure.Given(units.MustInterval(lo.Lo(), hi.Hi()), fmt.Sprintf("%d stations, %s", n, howOne(e.along)))
}

// howOne is the instrument of stations that are all read with the same.
func howOne(along [][]measure.LengthReading) string {
	name, _, _ := strings.Cut(along[0][0].How(units.Millimetre), ",")
	return name
}

// asked is a reading with what the line asks of it: it proves nothing if it does not say
// so.
func (m *measured) asked(r measure.LengthReading) measure.LengthReading {
	if !r.Taken() || len(m.needs) == 0 {
		return r
	}
	var needs []measure.Condition
	for _, f := range m.needs {
		needs = append(needs, f.condition())
	}
	t := measure.Plus("x", m.name(), r)
	t.Needs = needs
	sum := measure.Sum[units.LengthDim]{Name: m.name(), Symbol: "x", Terms: []measure.Term[units.LengthDim]{t}}
	asked := sum.Reading()
	if m.form == direct {
		asked = asked.NonNegative()
	}
	return asked
}

// A fitting is a quantity at one place, with what is known of it.
type fitting struct {
	location string
	clearance.Fit
	entry   entry                 // the reading made where it is
	direct  measure.LengthReading // the same, as the instrument has it
	slipped []string              // what its readings may have been meant as
}

// fittings are what is judged of a line's quantity, at each of its places.
func (j *Job) fittings(m *measured, quantity string) []fitting {
	var list []fitting
	for _, location := range m.at {
		e := m.taken[location]
		x := fitting{location: location, entry: e, Fit: clearance.DirectFit(itemName(m.group, location, quantity), measure.LengthReading{})}
		switch m.form {
		case size:
			x.direct = e.formed(quantity, m.states)
			if quantity == diameter {
				x.slipped = j.slipsOf(m, location)
			}
		case plain:
			x.direct, x.slipped = e.reading, j.slipsOf(m, location)
		default:
			if m.fit != nil {
				x.Fit = m.fit(j, m, location)
				x.Fit.Sum.Name, x.Fit.Sum.AtWorst = itemName(m.group, location, m.quantity), j.atWorst
			}
			x.direct, x.slipped = e.reading, append(j.slipsOf(m, location), j.slipsOfTerms(m, location)...)
		}
		x.Direct = m.asked(x.direct)
		list = append(list, x)
	}
	return list
}

// formed is one of the quantities of a size: a diameter, a taper, an out-of-round.
func (e entry) formed(quantity string, states []measure.Condition) measure.LengthReading {
	if quantity == diameter {
		return e.whole(states)
	}
	if e.along == nil || quantity == taper && len(e.along) < 2 || quantity == outOfRound && len(e.along[0]) < 2 {
		return measure.LengthReading{}
	}
	s, err := measure.NewStations(e.along)
	if err != nil {
		return measure.LengthReading{}
	}
	if quantity == taper {
		return s.Find(measure.Taper).With(states...)
	}
	return s.Find(measure.OutOfRound).With(states...)
}

// bearingFit is a running clearance by sizes: bore less walls less journal.
func bearingFit(j *Job, m *measured, location string) clearance.Fit {
	b := clearance.MeasuredBearing{
		HousingBore: j.sized(m.terms[0], location), UpperWall: j.sized(m.terms[1], location),
		LowerWall: j.sized(m.terms[2], location), Journal: j.sized(m.terms[3], location),
	}
	return b.Fit()
}

// isBearing reports whether the line is a running clearance.
func (l *line) isBearing() bool { return len(l.kinds) > 0 && l.kinds[0] == crushStrip }

// fitGroup judges a line's quantity at each of its places.
func (j *Job) fitGroup(m *measured, quantity string) Group {
	u, places := j.show.length, j.show.places
	limits := m.limits[quantity]
	g := Group{Name: m.group, Quantity: quantity, Remedy: m.remedy, Limits: notStated, before: m.before}
	if !limits.IsEmpty() {
		g.Limits = tolerance(limits, u, places)
	}
	var d drawing
	for _, x := range j.fittings(m, quantity) {
		a := x.Fit.Assess(limits)
		f := found(subject{g.Name, x.location, g.Quantity}, a, u, places)
		if f.Taken {
			f.How = how(x, a, u)
		}
		if a.Verdict == measure.Undecided && f.Taken && !limits.IsEmpty() {
			f.Advice = j.advise(m, x, a)
		}
		if computed := x.Sum.Reading(); computed.Taken() {
			w := x.Working(u)
			w.Name = f.Name()
			f.Working = &w
		}
		if len(x.slipped) > 0 {
			f.Slip = x.slipped[0]
			f.Verdict = measure.Undecided
		}
		if m.isBearing() && f.Taken && f.Verdict != measure.Conforming && len(x.slipped) == 0 {
			f.Remedies = j.remedies(m, x)
		}
		g.Findings = append(g.Findings, f)
		add(&d, a.Reading.Supposed(), limits, u)
	}
	d.into(g.Findings)
	return g
}

// pressureGroup judges the opening pressures of valves.
func (j *Job) pressureGroup(m *measured) Group {
	u := j.show.pressure
	g := Group{Name: m.group, Quantity: m.quantity, Remedy: m.remedy, Limits: notStated, before: m.before}
	if !m.pressures.IsEmpty() {
		g.Limits = tolerance(m.pressures, u, pressurePlaces)
	}
	var d drawing
	for _, location := range m.at {
		e := m.taken[location]
		a := measure.Assess(e.pressure, m.pressures)
		f := found(subject{g.Name, location, g.Quantity}, a, u, pressurePlaces)
		if f.Taken && a.Verdict == measure.Undecided && !m.pressures.IsEmpty() {
			f.Advice = "try pressures between, in smaller steps"
			if !a.Reading.Interval().HasHi() {
				f.Advice = openEnded(a)
			}
		}
		if !e.sure {
			if s := slip(e.pressure, m.pressures, u, nil, units.Bar, units.PoundForcePerSquareInch, units.Kilopascal); s != "" {
				f.Slip, f.Verdict = s, measure.Undecided
			}
		}
		g.Findings = append(g.Findings, f)
		add(&d, e.pressure.Interval(), m.pressures, u)
	}
	d.into(g.Findings)
	return g
}

// how says how a quantity came to be known: by the reading made where it is, by its
// sizes, or by both.
func how(x fitting, a measure.Assessment[units.LengthDim], u units.LengthUnit) string {
	const sizes = "from its sizes"
	computed := x.Sum.Reading()
	switch {
	case !x.direct.Taken():
		return sizes
	case !computed.Taken() || len(computed.Unmet()) > 0:
		return x.direct.How(u)
	case a.Reading.Problem() != "":
		return x.direct.How(u) + "; and " + sizes
	case a.Reading.String() == x.Direct.String():
		return x.direct.How(u) + ", which its sizes bear out"
	}
	return sizes + ", which the " + x.direct.How(u) + " bears out"
}

// advise says what would settle an undecided quantity.
func (j *Job) advise(m *measured, x fitting, a measure.Assessment[units.LengthDim]) string {
	u, places := j.show.length, j.show.places
	if both := x.Agreement(); both.Known && !both.Agree {
		return fmt.Sprintf("the %s and the sizes do not agree: they differ by %s, so one is wrong; measure both again",
			m.kinds[0], reading(both.Difference.Interval(), u, places))
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
	if m.isBearing() {
		return j.remeasure(x, a)
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
// with the job's own instruments if they are good enough.
func (j *Job) remeasure(x fitting, a measure.Assessment[units.LengthDim]) string {
	u, places := j.show.length, j.show.places
	if found := x.Remeasurements(a.Tolerance, measure.NineInTen, j.offered()); len(found) > 0 && !x.Direct.Taken() {
		var uses []string
		for _, t := range x.Sum.Terms {
			if with, ok := found[0].With[t.Symbol]; ok {
				uses = append(uses, fmt.Sprintf("%s with the %s", t.Name, with.Name))
			}
		}
		return fmt.Sprintf("measure the %s: that makes it good to ±%s, and settles it nine times in ten",
			strings.Join(uses, " and the "), found[0].Expanded.Format(u, places+1, units.Ceiling))
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
