package job

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// The two ways in which the stations of a part lie, as a job file names them.
const (
	byPlane     = "planes"
	byDirection = "directions"
)

// station says in which plane or direction a reading was made.
func station(way, name string) measure.Condition {
	return measure.Condition{What: strings.TrimSuffix(way, "s"), Is: name}
}

// readStations reads the names of the planes and directions that a size is read in.
func (r *reader) readStations(path string, m *measured, t measureTable) {
	for _, way := range []struct {
		key   string
		names []string
	}{{byPlane, t.Planes}, {byDirection, t.Directions}} {
		if len(way.names) == 0 {
			continue
		}
		if m.form != size {
			r.fail(path+"."+way.key, "%s is not read by planes and directions; leave them out", m.name())
			continue
		}
		r.names(path+"."+way.key, way.names, strings.TrimSuffix(way.key, "s"))
	}
	m.planes, m.directions = t.Planes, t.Directions
}

// located gives each station of a size its plane and its direction, where the job names
// them. One figure for the whole part is at no station.
func (r *reader) located(m *measured, t typed, e entry) bool {
	rows := e.along
	if len(rows)*len(rows[0]) == 1 {
		return true
	}
	for _, way := range []struct {
		key   string
		names []string
		n     int
	}{{byPlane, m.planes, len(rows)}, {byDirection, m.directions, len(rows[0])}} {
		if len(way.names) > 0 && len(way.names) != way.n {
			r.fail(t.path, "%s: %w, %d %s where %d are named, %s; read each, or leave the whole reading open", t.body, ErrCount, way.n, way.key, len(way.names), strings.Join(way.names, ", "))
			return false
		}
	}
	for i, row := range rows {
		for k := range row {
			if len(m.planes) > 0 {
				row[k] = row[k].With(station(byPlane, m.planes[i]))
			}
			if len(m.directions) > 0 {
				row[k] = row[k].With(station(byDirection, m.directions[k]))
			}
		}
	}
	return true
}

// stationsOf are the stations of a reading, with the claims that are made of them: of a
// part that is judged for its form all of them together, else the largest and the smallest.
func (m *measured) stationsOf(e entry) (measure.Stations[units.LengthDim], bool) {
	if e.stations != nil {
		return e.stations()
	}
	s, err := measure.NewStations(e.along, m.claims()...)
	return s, err == nil
}

// claims are those that are made together of several stations.
func (m *measured) claims() []measure.Claim {
	claims := []measure.Claim{measure.Largest, measure.Smallest}
	if m.form == size && m.expected {
		claims = append(claims, measure.Taper, measure.OutOfRound)
	}
	return claims
}

// ends are the least and the greatest of what was read at several places of a part; none
// of a reading of one place.
func (m *measured) ends(e entry) []measure.LengthReading {
	if len(e.along) == 0 || len(e.along)*len(e.along[0]) == 1 {
		return nil
	}
	s, ok := m.stationsOf(e)
	if !ok {
		return nil
	}
	return []measure.LengthReading{s.Find(measure.Smallest), s.Find(measure.Largest)}
}

// hull is the reading of a whole part: what lies between the least and the greatest.
func hull(ends []measure.LengthReading, how string) measure.LengthReading {
	lo, hi := ends[0].Interval(), ends[1].Interval()
	switch {
	case !lo.HasLo() || hi.IsEmpty():
		return measure.LengthReading{}
	case !hi.HasHi():
		return measure.Given(units.AtLeast(lo.Lo()), how)
	}
	return measure.Given(units.MustInterval(lo.Lo(), hi.Hi()), how)
}

// formed is one of the quantities of a size: a diameter, of which the ends are given, a taper,
// an out-of-round.
func (m *measured) formed(e entry, quantity string, ends []measure.LengthReading) measure.LengthReading {
	if quantity == diameter && ends != nil {
		return hull(ends, stationWords(e)).With(m.states...)
	}
	s, ok := m.stationsOf(e)
	if !ok {
		return measure.LengthReading{}
	}
	switch quantity {
	case diameter:
		return e.reading
	case taper:
		return m.byNames(s.Find(measure.Taper), byPlane)
	}
	return m.byNames(s.Find(measure.OutOfRound), byDirection)
}

// byNames asks that the planes or the directions have names, where the line's form means
// little without.
func (m *measured) byNames(r measure.LengthReading, way string) measure.LengthReading {
	r = r.With(m.states...)
	if m.named != way || !r.Taken() {
		return r
	}
	named := measure.Condition{What: way, Is: "named"}
	if way == byPlane && len(m.planes) > 0 || way == byDirection && len(m.directions) > 0 {
		r = r.With(named)
	}
	t := measure.Plus("x", m.name(), r)
	t.Needs = []measure.Condition{named}
	sum := measure.Sum[units.LengthDim]{Name: r.How(units.Millimetre), Symbol: "x", Terms: []measure.Term[units.LengthDim]{t}, NonNegative: true}
	return sum.Reading().With(m.states...)
}

// stationWords say how many stations were read, and with what.
func stationWords(e entry) string {
	return fmt.Sprintf("%d stations, %s", e.stationCount(), howOne(e.along))
}

// stationCount is how many stations were read.
func (e *entry) stationCount() (n int) {
	for _, plane := range e.along {
		n += len(plane)
	}
	return n
}

// roundness is what a size is out of round by, whatever else is judged of it.
func roundness(e entry) measure.LengthReading {
	if len(e.along) == 0 {
		return measure.LengthReading{}
	}
	s, err := measure.NewStations(e.along, measure.OutOfRound)
	if err != nil {
		return measure.LengthReading{}
	}
	return s.Find(measure.OutOfRound)
}

// spread is the largest of all that was read at a place less the smallest.
func spread(e entry) measure.LengthReading {
	all := slices.Concat(e.along...)
	if len(all) < 2 {
		return measure.LengthReading{}
	}
	s, err := measure.NewStations([][]measure.LengthReading{all}, measure.OutOfRound)
	if err != nil {
		return measure.LengthReading{}
	}
	return s.Find(measure.OutOfRound)
}

// single is a sum of one reading.
func single(symbol, name string, r measure.LengthReading) measure.Sum[units.LengthDim] {
	return measure.Sum[units.LengthDim]{Name: name, Symbol: symbol, Terms: []measure.Term[units.LengthDim]{measure.Plus(symbol, name, r)}}
}

// A stationed sum is a sum at each of several stations of a part.
type stationed struct {
	ends  []measure.LengthReading       // the least and the greatest; none where the stations do not make the sum
	sum   *measure.Sum[units.LengthDim] // another sum of the same, in its place; nil where the stations make it
	how   string
	steps []units.Working
}

// eachOf makes the sum that a line is at each station of a place.
type eachOf func(j *Job, m *measured, location string) stationed

// judged is the fit that is judged: with its stations where it is known by them.
func (x *fitting) judged() clearance.Fit {
	f := x.Fit
	if x.stations.sum != nil {
		f.Sum = *x.stations.sum
	}
	if x.stations.ends != nil {
		f.Sum = single(f.Sum.Symbol, x.stations.how, hull(x.stations.ends, x.stations.how))
	}
	return f
}

// outside says whether the least or the greatest of several stations is proven outside
// limits that the whole, which lies between them, is not; and which of the two.
func (x *fitting) outside(a measure.Assessment[units.LengthDim]) (end measure.Assessment[units.LengthDim], which string, ok bool) {
	if a.Verdict != measure.Undecided || a.Reading.Problem() != "" {
		return end, "", false
	}
	ends := x.stations.ends
	if x.Direct.Taken() && a.Reading.String() == x.Direct.String() {
		ends = x.ends
	}
	for i, r := range ends {
		if end = measure.Assess(r, a.Tolerance); end.Verdict.Outside() {
			return end, [...]string{"smallest", "largest"}[i], true
		}
	}
	return end, "", false
}

// working shows the steps that lead to a fit which is a sum; of a reading alone there are
// none.
func (x *fitting) working(u units.LengthUnit) (w units.Working, ok bool) {
	f := x.final
	if !x.computed.Taken() {
		return w, false
	}
	w = f.Working(u)
	switch {
	case x.stations.ends == nil:
	case x.Direct.Taken():
		w.Steps = append(slices.Clone(x.stations.steps), w.Steps...)
	default:
		w.Formula, w.Numbers, w.Steps = f.Sum.Symbol+": "+x.stations.how, "", x.stations.steps
		w.Source = "the least and the greatest of the stations, each with the doubt of the largest of so many errors"
	}
	return w, true
}

// barrelOf is the barrel of a size: how far it is larger in its middle than at its ends.
func barrelOf(l line) line {
	return line{group: l.group, quantity: "barrel", where: l.where, form: signed, before: l.before, terms: []string{l.name()}, fit: barrelFit, each: barrels,
		how: "read in three planes or more: the middle less the mean of the ends, in each direction", remedy: l.remedy}
}

// barrel is that of one direction; of less than three planes it is not known. It asks of each reading what the part's
// line asks: a housing bore with its bolts loose is no shape that the bearing will have.
func barrel(part *measured, e entry, direction int, atWorst bool) measure.Sum[units.LengthDim] {
	sum := measure.Sum[units.LengthDim]{Name: fmt.Sprintf("direction %d", direction+1), Symbol: "b", AtWorst: atWorst}
	n := len(e.along)
	if n < 3 {
		return single("b", "barrel", measure.LengthReading{})
	}
	add := func(symbol, name string, plane int, factor units.Ratio) {
		sum.Terms = append(sum.Terms, measure.Term[units.LengthDim]{Symbol: symbol, Name: name, Factor: factor, Reading: e.along[plane][direction].With(part.states...), Needs: part.conditions()})
	}
	if n%2 == 1 {
		add("dm", "middle", n/2, units.One.OfInt(1))
	} else {
		add("dm1", "before the middle", n/2-1, half)
		add("dm2", "behind the middle", n/2, half)
	}
	add("d1", "one end", 0, minusHalf)
	add("d2", "the other end", n-1, minusHalf)
	return sum
}

// barrelFit is the barrel of what was read in one direction.
func barrelFit(j *Job, m *measured, location string) clearance.Fit {
	part := j.line(m.terms[0])
	e := part.taken[location]
	if len(e.along) == 0 || len(e.along[0]) > 1 {
		return clearance.Fit{Sum: single("b", "barrel", measure.LengthReading{})}
	}
	return clearance.Fit{Sum: barrel(part, e, 0, j.atWorst)}
}

// barrels are those of several directions.
func barrels(j *Job, m *measured, location string) (p stationed) {
	part := j.line(m.terms[0])
	e := part.taken[location]
	if len(e.along) < 3 || len(e.along[0]) < 2 {
		return p
	}
	var each []measure.LengthReading
	for k := range e.along[0] {
		sum := barrel(part, e, k, j.atWorst)
		if k < len(part.directions) {
			sum.Name = part.directions[k]
		}
		each = append(each, sum.Reading())
		if each[0].Problem() != "" { // what is not stated of the part is said of one direction
			return stationed{sum: &sum}
		}
		p.steps = append(p.steps, sum.Working(j.show.length))
	}
	s, err := measure.NewStations([][]measure.LengthReading{each}, measure.Smallest, measure.Largest)
	if err != nil {
		return stationed{}
	}
	p.ends, p.how = []measure.LengthReading{s.Find(measure.Smallest), s.Find(measure.Largest)}, fmt.Sprintf("the least to the greatest of %d directions", len(each))
	return p
}

// tapered is how far a clearance changes along a part where it was read at several places
// of it, as along a crush strip.
func tapered(j *Job, m *measured, location string) clearance.Fit {
	part := j.line(m.terms[0])
	e := part.taken[location]
	var taper measure.LengthReading
	if len(e.along) > 1 {
		if s, err := measure.NewStations(e.along, measure.Taper); err == nil {
			taper = s.Find(measure.Taper).With(part.states...)
		}
	}
	sum := single("t", "largest less smallest along the strip", taper)
	sum.Terms[0].Needs = part.conditions()
	sum.NonNegative = true
	return clearance.Fit{Sum: sum}
}

// implausible says what a reading, or one of several stations, may have been meant as: by
// its limits, or because it is three times as large as the others of its part, or a third.
func (j *Job) implausible(m *measured, e entry, limits units.LengthInterval) string {
	all := slices.Concat(e.along...)
	if len(all) < 2 {
		return slip(e.whole(nil), limits, j.show.length, e.turns, units.Millimetre, units.Inch)
	}
	for i, r := range all {
		if s := slip(r, limits, j.show.length, e.turns, units.Millimetre, units.Inch); s != "" {
			return fmt.Sprintf("station %d: %s", i+1, s)
		}
	}
	if m.form != size && m.form != plain {
		return ""
	}
	for i, r := range all {
		before, after := all[(i+len(all)-1)%len(all)], all[(i+1)%len(all)]
		if farFrom(r, before) && farFrom(r, after) {
			return fmt.Sprintf("station %d, %s, is far from its neighbour, %s", i+1, reading(r.Bracket(), j.show.length, j.show.places), reading(after.Bracket(), j.show.length, j.show.places))
		}
		if numbers, unit := numbersOf(e.text); len(numbers) == len(all) {
			var others []units.LengthInterval
			for k, o := range all {
				if k != i {
					others = append(others, o.Bracket())
				}
			}
			say := func(a units.LengthInterval) string { return reading(a, j.show.length, j.show.places) }
			if s := unlikeOthers(numbers[i]+" "+unit, r.Bracket(), others, units.ParseLengthInterval, say); s != "" {
				return fmt.Sprintf("station %d: %s", i+1, s)
			}
		}
	}
	return ""
}

// numbersOf are the numbers of a text of several stations, and their unit.
func numbersOf(text string) (numbers []string, unit string) {
	if _, body, ok := strings.Cut(text, ":"); ok {
		text = body
	}
	fields := strings.Fields(strings.ReplaceAll(text, ";", " "))
	if len(fields) < 2 {
		return nil, ""
	}
	return fields[:len(fields)-1], fields[len(fields)-1]
}

// farFrom reports whether one of two sizes is more than three times the other.
func farFrom(one, other measure.LengthReading) bool {
	a, b := one.Bracket(), other.Bracket()
	return a.Bounded() && b.Bounded() && (a.Hi().MulInt(3).Less(b.Lo()) || b.Hi().MulInt(3).Less(a.Lo()))
}

// worst is a reading whose doubts add up at their worst.
func (m *measured) worst(r measure.LengthReading) (measure.LengthReading, error) {
	sum := single("x", r.How(units.Millimetre), r)
	sum.AtWorst, sum.NonNegative = true, m.form == direct
	return sum.Reading().With(r.Conditions()...), nil
}

// wholes keeps the reading of each whole part that was read at several stations: much is
// held against it.
func (j *Job) wholes() {
	for _, m := range j.lines {
		for location, e := range m.taken {
			if e.stationCount() > 1 && !e.reading.Taken() {
				e.reading = e.whole(m.states)
				m.taken[location] = e
			}
		}
	}
}
