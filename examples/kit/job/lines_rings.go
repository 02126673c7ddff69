package job

import (
	"fmt"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// ringLines are the lines of the rings and their grooves.
func ringLines(e *Engine) []line {
	var lines []line
	for _, ring := range e.Rings {
		lines = append(lines, line{group: ring, quantity: "end gap", where: atRods, form: direct, always: true, before: Final, kinds: gapKinds,
			needs: []fact{ringSquare, ringDepth}, filed: true, ofBore: true,
			how: "ring square in its own bore, pushed in with a piston to the depth that the manual says", remedy: ringGapRemedy})
	}
	for _, ring := range e.Rings {
		lines = append(lines,
			line{group: ring, quantity: "groove width", where: atCylinders, form: plain, before: Choose, kinds: boreKinds, how: "across the groove's faces, at several places around", remedy: otherPart},
			line{group: ring, quantity: "height", where: atCylinders, form: plain, before: Choose, kinds: sizeKinds, how: "between the ring's upper and lower face", remedy: otherPart},
			line{group: ring, quantity: "side clearance", where: atCylinders, form: direct, before: Final, kinds: gapKinds,
				terms: []string{ring + " groove width", ring + " height"}, fit: shaftIn("side clearance"),
				how: "ring in its groove, blade above it, at three places around; or groove less ring", remedy: otherPart},
			line{group: ring, quantity: "groove depth", where: atCylinders, form: plain, before: Choose, kinds: []string{"depth gauge", "caliper", "gauge"}, how: "from the land to the groove's bottom", remedy: otherPart},
			line{group: ring, quantity: "thickness", where: atCylinders, form: plain, before: Choose, kinds: sizeKinds, how: "from the ring's running face to its back", remedy: otherPart},
			line{group: ring, quantity: "back clearance", where: atCylinders, form: direct, before: Final, kinds: []string{"depth gauge", "caliper", "dial", "gauge"},
				terms: []string{ring + " groove depth", ring + " thickness"}, fit: shaftIn("back clearance"),
				how: "ring pushed home in its groove, from the land down to its face; or the groove's depth less the ring's thickness", remedy: otherPart})
	}
	return lines
}

// ofTheBore ends limits that are stated by the bore: "0.0040..0.0045 of the bore".
const ofTheBore = " of the bore"

// byBore reads limits that are stated by the nominal bore, "0.0040..0.0045".
func (r *reader) byBore(path, rule string, l *line) (limits units.LengthInterval, ok bool) {
	if !l.ofBore {
		r.fail(path, "limits by the bore belong to ring gaps and to the clearance of pistons; write those of %s as lengths", l.name())
		return limits, false
	}
	per, ok := read(r, path, rule, units.Parse[units.RatioInterval])
	if !ok {
		return limits, false
	}
	if !r.bore.Taken() {
		r.fail(path, "limits by the bore, and no bore: %w; write under engine bore = \"84 mm\"", ErrMissing)
		return limits, false
	}
	limits, err := clearance.SizeRule{PerSize: per}.Limits(r.bore)
	return limits, r.check(path, err)
}

// filing says how much to file off a ring of which the gap is not proven wide enough, and
// by how much a bore larger than the nominal one has opened a gap that is too wide.
func (j *Job) filing(x *fitting, a measure.Assessment[units.LengthDim]) string {
	u, places := j.show.length, j.show.places
	if a.Verdict == measure.AboveLimit {
		return j.grown(x.location)
	}
	if wide, _ := a.Meets(); wide || a.Verdict == measure.Conforming || len(a.Reading.Unmet()) > 0 {
		return ""
	}
	f, ok := clearance.File(a.Reading, a.Tolerance)
	if !ok {
		return ""
	}
	return fmt.Sprintf("file %s off the ends in all, a little at a time, and measure again", inward(f.Amount, u, places))
}

// inward writes an amount that must not grow.
func inward(a units.LengthInterval, u units.LengthUnit, places int32) string {
	return tolerance(a, u, places)
}

// grown says by how much a bore that is larger than nominal opens a gap.
func (j *Job) grown(location string) string {
	nominal, size := j.engine.bore.Interval(), j.sized("cylinder", location).Interval()
	if nominal.IsEmpty() || !size.Bounded() || !nominal.Below(size) {
		return ""
	}
	u, places := j.show.length, j.show.places
	by := size.Sub(nominal)
	return fmt.Sprintf("its cylinder is larger than nominal by %s, which alone opens the gap by %s",
		reading(by, u, places), reading(clearance.GapGrowth(by), u, places))
}

// ringTable has the rules for where the gaps of a piston's rings stand.
type ringTable struct {
	Rings      []string   `toml:"rings"` // rails included, from the top; those of the engine where left out
	Mark       string     `toml:"mark"`  // what the angles count from
	Neighbours string     `toml:"neighbours"`
	Any        string     `toml:"any"`
	Forbidden  []arcTable `toml:"forbidden"`
}

type arcTable struct {
	Name   string `toml:"name"`
	Centre string `toml:"centre"`
	Reach  string `toml:"reach"`
}

// ringRules are the rules, and the layout that obeys them with the most to spare.
type ringRules struct {
	clearance.RingLayout
	mark   string
	at     []units.Angle
	margin units.Angle
}

// ringPositions is the line that the rules ask for.
const ringPositions = "piston ring positions"

// readRings reads the rules; nil without them.
func (r *reader) readRings(e *Engine, t *ringTable, declared []string) (*ringRules, []string) {
	if t == nil {
		return nil, declared
	}
	declared = append(declared, ringPositions)
	rules, errs := ringRules{mark: t.Mark}, len(r.errs)
	rules.Rings = t.Rings
	if len(t.Rings) == 0 {
		rules.Rings = e.Rings
	}
	r.names("ring_positions.rings", t.Rings, "ring")
	r.present("ring_positions.mark", t.Mark)
	rules.Neighbours, _ = read(r, "ring_positions.neighbours", t.Neighbours, units.ParseAngle)
	rules.Any, _ = readIf(r, "ring_positions.any", t.Any, units.ParseAngle)
	for i, arc := range t.Forbidden {
		at := fmt.Sprintf("ring_positions.forbidden[%d]", i)
		r.present(at+".name", arc.Name)
		centre, _ := read(r, at+".centre", arc.Centre, units.ParseAngle)
		reach, _ := read(r, at+".reach", arc.Reach, units.ParseAngle)
		rules.Forbidden = append(rules.Forbidden, clearance.Arc{Name: arc.Name, Centre: centre, Reach: reach})
	}
	if len(r.errs) > errs {
		return nil, declared
	}
	var err error
	if rules.at, rules.margin, err = rules.Plan(); !r.check("ring_positions", err) {
		return nil, declared
	}
	r.rings = rules.Rings
	return &rules, declared
}

// gapsAt reads where the gaps of a piston's rings stand: "45° 165° 285°".
func (r *reader) gapsAt(t typed) (e entry, ok bool) {
	if r.rings == nil {
		r.fail(t.path, "where the gaps stand, without the rules for it: %w; write [ring_positions]", ErrMissing)
		return e, false
	}
	fields := strings.Fields(t.text)
	if len(fields) != len(r.rings) {
		r.fail(t.path, "%s: %w; write one angle for each of %s", t.text, ErrCount, strings.Join(r.rings, ", "))
		return e, false
	}
	for _, f := range fields {
		angle, ok := read(r, t.path, f, units.ParseAngle)
		if !ok {
			return e, false
		}
		if angle.Sign() < 0 || units.Turn.OfInt(1).Less(angle) {
			r.fail(t.path, "%s: an angle outside 0° to 360°; count clockwise from the mark, seen from above", f)
			return e, false
		}
		e.gaps = append(e.gaps, angle)
	}
	return e, true
}

// stands says where the gaps of a piston's rings stand, or have to.
func (rules *ringRules) stands(at []units.Angle) string {
	texts := make([]string, len(at))
	for i, a := range at {
		texts[i] = fmt.Sprintf("%s %s", rules.Rings[i], a)
	}
	return strings.Join(texts, ", ")
}

// ringsLooked judges where the gaps of each piston's rings stand.
func (j *Job) ringsLooked(m *measured) []Looked {
	var list []Looked
	first := "" // the first piston of which it is not said
	for _, location := range m.at {
		l := Looked{Group: m.group, Location: location, Quantity: m.quantity}
		gaps := m.taken[location].gaps
		switch {
		case j.rings == nil:
			l.State, l.open, l.do = "not said", true, "write their rules under [ring_positions]"
		case gaps == nil && first != "":
			l.State, l.open, l.do = "not said", true, "set the gaps as in piston "+first
		case gaps == nil:
			first = location
			l.State, l.open = "not said", true
			l.do = fmt.Sprintf("set the gaps at %s, clockwise from %s, seen from above (%s to spare), and write where they stand", j.rings.stands(j.rings.at), j.rings.mark, j.rings.margin)
		default:
			faults, err := j.rings.Judge(gaps...)
			if err != nil {
				faults = []string{err.Error()}
			}
			l.State, l.Good = j.rings.stands(gaps), len(faults) == 0
			l.Basis = gapsBasis(j.rings.RingLayout, gaps)
			if !l.Good {
				l.do = strings.Join(faults, "; ")
			}
		}
		list = append(list, l)
	}
	return list
}
