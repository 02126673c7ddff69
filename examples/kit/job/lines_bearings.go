package job

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// loaded is how a shell stood in its gauge when its crush was read.
var (
	loaded   = fact{what: "load", is: []string{"as the maker says", "other"}}
	shellsIn = fact{what: "shells", is: []string{clearance.ShellsIn().Is, clearance.ShellsOut().Is}}
)

// bearingLines are the lines of the bearings of one kind: bores and journals, shells, and
// the clearances that they make.
func bearingLines(group, part, housing string, where, pins places) []line {
	shells := part + " shells"
	bore := line{group: part + " bore", where: where, form: size, before: Choose, kinds: boreKinds, needs: []fact{boltsDone, shellsOut}, body: housing, named: byDirection,
		how: "shells out, cap tightened as for assembly; front and rear; at the crown, square to the parting line, and 30° from the joint on either side", remedy: boreRemedy}
	journal := line{group: part + " journal", where: pins, form: size, before: Choose, kinds: sizeKinds, body: ofCrank, named: byDirection,
		how: "front, middle and rear, in two directions square to each other or more", remedy: journalRemedy}
	shell := func(half, quantity string, kinds []string, needs []fact, how string) line {
		return line{group: part + " " + half, quantity: quantity, where: where, form: plain, before: Choose, kinds: kinds, needs: needs, body: shells, how: how, remedy: wallRemedy}
	}
	lines := []line{bore, barrelOf(bore), journal, barrelOf(journal)}
	for _, half := range []string{"upper", "lower"} {
		wall := half + " wall"
		lines = append(lines,
			shell(wall, "thickness", sizeKinds, nil, "at the crown, with a ball on the inside"),
			shell(wall, "joint thickness", sizeKinds, nil, "30° from the joint, with a ball on the inside; the thinner of the two ends"),
			line{group: part + " " + wall, quantity: "eccentricity", where: where, form: signed, before: Choose,
				terms: []string{part + " " + wall + " thickness", part + " " + wall + " joint thickness"}, fit: difference,
				how: "wall at the crown less wall near the joint", remedy: wallRemedy},
			shell(half+" shell", "free spread", []string{"caliper", "micrometer", "gauge"}, nil, "over the parting faces of the loose shell"),
			shell(half+" shell", "crush height", gapKinds, []fact{loaded}, "one end flush in the gauge's half bore, loaded as the maker says: what the other end stands out"))
	}
	sizes := []string{part + " bore", part + " upper wall thickness", part + " lower wall thickness", part + " journal"}
	others := []string{group + " bore", part + " upper wall joint thickness", part + " lower wall joint thickness"}
	return append(lines,
		line{group: part + " shells", quantity: "crush", where: where, form: direct, before: Choose, terms: []string{part + " upper shell crush height", part + " lower shell crush height"}, fit: crushFit,
			how: "both crush heights over π: what the shells are larger than their bore by", remedy: wallRemedy},
		line{group: group + " bore", where: where, form: size, before: Final, kinds: boreKinds, needs: []fact{boltsDone, shellsIn}, named: byDirection,
			how: "shells in, cap tightened as for assembly; front and rear, at the crown and 30° from the joint", remedy: boreRemedy},
		line{group: group, quantity: "clearance", where: where, form: direct, always: true, before: Final, kinds: []string{crushStrip},
			needs: []fact{boltsDone, notTurned, wipedOff}, terms: sizes, also: others, fit: bearingFit, each: bearingParts,
			how: "a strip along the journal, oil wiped off, cap tightened as for assembly, crank not turned; or bore, walls and journal by size", remedy: bearingRemedy},
		line{group: group, quantity: "clearance taper", where: where, form: direct, before: Final, terms: []string{group + " clearance"}, fit: tapered,
			how: "strip read at several places along it: largest less smallest", remedy: bearingRemedy},
		line{group: group, quantity: "warm clearance", where: where, form: direct, before: Final, terms: append([]string{group + " clearance"}, sizes...), also: others, fit: warmFit, each: warmParts, warm: true,
			how: "the clearance, with each part as warm as it is when the engine runs", remedy: bearingRemedy})
}

// bearingFit is a running clearance by sizes: bore less walls less journal.
func bearingFit(j *Job, m *measured, location string) clearance.Fit {
	b := clearance.MeasuredBearing{
		HousingBore: j.sized(m.terms[0], location), UpperWall: j.sized(m.terms[1], location),
		LowerWall: j.sized(m.terms[2], location), Journal: j.sized(m.terms[3], location),
	}
	return b.Fit()
}

// inShells takes the clearance of a bore that was read inside its shells, D - d, in place
// of that by walls which were not read. Beside those it stands as a reading made where the
// clearance is does.
func (x *fitting) inShells(j *Job, m *measured) {
	sum := measure.Sum[units.LengthDim]{Name: "bore inside its shells less journal", Symbol: "C", AtWorst: j.atWorst,
		Terms: []measure.Term[units.LengthDim]{j.term("D", m.also[0], x.location, units.One.OfInt(1)), j.term("d", m.terms[3], x.location, units.One.OfInt(-1))}}
	r, byWalls := sum.Reading(), x.judged().Sum
	switch walls := byWalls.Reading(); {
	case !r.Taken():
		return
	case !walls.Taken():
		x.stations = stationed{sum: &sum, how: sum.Name}
		return
	case x.Direct.Taken() && len(r.Unmet()) > 0:
		return // it is no second opinion
	case x.Direct.Taken() && len(x.Direct.Unmet()) == 0:
		r = measure.Compare(x.Direct, r).Best()
	}
	if r.String() != x.Direct.String() {
		x.Direct, x.ends, x.direct = r, nil, r
	}
}

// bearingParts are the clearances by station of a bearing whose bore and journal were
// read at the same ones.
func bearingParts(j *Job, m *measured, location string) stationed {
	return j.bearingStations(append(slices.Clone(m.terms), m.also...), location, nil)
}

// bearingStations are the clearances of a bearing in each plane and direction in which its
// bore and its journal were both read, those parts as warm as the bodies. In a direction
// that is called crown the walls are those of the crown, in one near the joint those
// near the joint, and without them the clearance is not known; a direction of another name
// has no walls, and is left out.
func (j *Job) bearingStations(sizes []string, location string, bodies map[string]clearance.Body) (p stationed) {
	bore, journal := j.line(sizes[0]), j.line(sizes[3])
	be, je := bore.taken[j.placeOf(bore, location)], journal.taken[j.placeOf(journal, location)]
	if !sameStations(bore, be, journal, je) {
		return p
	}
	warm := func(symbol string, r measure.LengthReading) measure.LengthReading {
		if b, ok := bodies[symbol]; ok {
			r, _ = b.Warmed(r, j.show.length) // what cannot be warmed is missing
		}
		return r
	}
	var planes [][]clearance.MeasuredBearing
	// The walls at the crown and those near the joint, read and as warm as they are.
	var walls [2][2]measure.LengthReading
	for i, names := range [][]string{sizes[1:3], sizes[5:7]} {
		for k, name := range names {
			walls[i][k] = warm([]string{"t1", "t2"}[k], j.sized(name, location))
		}
	}
	var sums []measure.Sum[units.LengthDim]
	var unread []string
	atCrown := false
	for i := range be.along {
		var plane []clearance.MeasuredBearing
		for k, direction := range bore.directions {
			crown, joint := strings.Contains(direction, "crown"), strings.Contains(direction, "joint")
			if crown == joint {
				continue
			}
			atCrown = atCrown || crown
			which, names := 0, sizes[1:3]
			if joint {
				which, names = 1, sizes[5:7]
			}
			t1, t2 := walls[which][0], walls[which][1]
			for k, wall := range walls[which] {
				if !wall.Taken() && !slices.Contains(unread, names[k]) {
					unread = append(unread, names[k])
				}
			}
			place := []measure.Condition{station(byDirection, direction)}
			name := direction
			if len(bore.planes) > 0 {
				place, name = append(place, station(byPlane, bore.planes[i])), bore.planes[i]+", "+direction
			}
			b := clearance.MeasuredBearing{
				HousingBore: warm("D", be.along[i][k]), Journal: warm("d", je.along[i][k]),
				UpperWall: t1.With(place...), LowerWall: t2.With(place...), Place: place,
			}
			fit := b.Fit()
			fit.Sum.Name = name
			sums, plane = append(sums, fit.Sum), append(plane, b)
		}
		planes = append(planes, plane)
	}
	if !atCrown {
		return stationed{}
	}
	if len(unread) > 0 {
		missing := single("C", "walls", measure.LengthReading{})
		return stationed{sum: &missing, how: "still to read: " + strings.Join(unread, ", ")}
	}
	s, err := clearance.BearingStations(planes...)
	if err != nil {
		return stationed{} // what is not stated of the bore is said of the whole
	}
	p.ends = []measure.LengthReading{s.Find(measure.Smallest), s.Find(measure.Largest)}
	p.how = fmt.Sprintf("the least to the greatest of %d stations, from their sizes", len(sums))
	p.steps = j.workingsOf(sums)
	return p
}

// workingsOf are what each of several stations comes to, and the steps that lead to the
// least and to the greatest of them.
func (j *Job) workingsOf(sums []measure.Sum[units.LengthDim]) []units.Working {
	u := j.show.length
	var each []string
	var brackets []units.LengthInterval
	least, greatest := 0, 0
	for i := range sums {
		r := sums[i].Reading()
		b := r.Bracket()
		if brackets = append(brackets, b); !b.Bounded() {
			return nil // bore and journal are sizes, which are bounded
		}
		each = append(each, sums[i].Name+" "+b.Written(u))
		if b.Lo().Less(brackets[least].Lo()) {
			least = i
		}
		if brackets[greatest].Hi().Less(b.Hi()) {
			greatest = i
		}
	}
	steps := []units.Working{{Name: "each station, without its doubt", Numbers: strings.Join(each, "; ")}}
	for _, x := range []struct {
		i    int
		word string
	}{{least, "the least"}, {greatest, "the greatest"}} {
		w := sums[x.i].Working(u)
		w.Name = x.word + ", " + w.Name
		steps = append(steps, w)
	}
	return steps
}

// sameStations reports whether a bore and a journal were read in the same planes and
// directions, by their names.
func sameStations(bore *measured, be entry, journal *measured, je entry) bool {
	if len(be.along) == 0 || len(be.along) != len(je.along) || len(be.along[0]) != len(je.along[0]) || len(be.along)*len(be.along[0]) == 1 {
		return false
	}
	return len(bore.directions) > 0 && slices.Equal(bore.directions, journal.directions) && slices.Equal(bore.planes, journal.planes) &&
		(len(bore.planes) > 0 || len(be.along) == 1)
}

// warmFit is a running clearance with each part as warm as it is when the engine runs; it
// is missing if the job does not say how warm each is.
func warmFit(j *Job, m *measured, location string) clearance.Fit {
	missing := clearance.Fit{Sum: (&clearance.MeasuredBearing{}).Fit().Sum}
	bodies, ok := j.running(m)
	if !ok {
		return missing
	}
	warm, err := j.line(m.terms[0]).shared[location]().Warm(bodies, j.show.length)
	if err != nil {
		return missing
	}
	return warm
}

// warmParts are the warm clearances by station.
func warmParts(j *Job, m *measured, location string) stationed {
	if bodies, ok := j.running(m); ok {
		return j.bearingStations(append(slices.Clone(m.terms[1:]), m.also...), location, bodies)
	}
	return stationed{}
}

// running are the bodies of a bearing's sizes as warm as they run; false unless the job
// says so of each.
func (j *Job) running(m *measured) (map[string]clearance.Body, bool) {
	bodies := map[string]clearance.Body{}
	for i, symbol := range []string{"D", "t1", "t2", "d"} {
		b, ok := j.bodies[j.line(m.terms[1+i]).body]
		if !ok || b.running.Temperature.IsEmpty() {
			return nil, false
		}
		bodies[symbol] = b.running
	}
	return bodies, true
}

// crushFit is the interference of a pair of shells in their bore.
func crushFit(j *Job, m *measured, location string) clearance.Fit {
	h1, h2 := j.term("h1", m.terms[0], location, units.One.OfInt(1)), j.term("h2", m.terms[1], location, units.One.OfInt(1))
	c := clearance.Crush{Upper: h1.Reading.Interval(), Lower: h2.Reading.Interval()}
	if !h1.Reading.Taken() || !h2.Reading.Taken() {
		return clearance.Fit{Sum: single("δ", "crush", measure.LengthReading{})}
	}
	w := c.Working(j.show.length)
	r := measure.Given(c.Interference(), w.Formula+" = "+w.Numbers)
	for _, said := range h1.Reading.Conditions() {
		if slices.Contains(h2.Reading.Conditions(), said) {
			r = r.With(said)
		}
	}
	sum := single("δ", w.Name, r)
	sum.Terms[0].Needs = h1.Needs // and the other asks for the same
	return clearance.Fit{Sum: sum}
}
