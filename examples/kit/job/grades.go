package job

import (
	"fmt"
	"slices"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// wallGradeRemedy is what can be done about a shell whose wall is not of its grade (common
// practice, no source).
var wallGradeRemedy = Remedy{Order,
	"The shell is thinner than its grade: look at its mark, or fit another.",
	"The shell is thicker than its grade: look at its mark, or fit another."}

// shellItems are what has to be known of the shells of a set: which they are and that they
// are there, and of each wall that was measured that it is of the grade called for.
func (j *Job) shellItems(set *shellSet) []Item {
	var items []Item
	for _, location := range set.locations {
		items = append(items, Item{Name: itemName(set.name(), location, "shells"), Before: Trial, Standing: NotMeasured})
	}
	for _, half := range []string{"upper", "lower"} {
		for _, location := range j.walled(set, half) {
			items = append(items, Item{Name: itemName(set.part+" "+half+" wall", location, "grade"), Before: Final, Standing: NotMeasured})
		}
	}
	return items
}

// walled are the locations of which a wall was measured, where the walls of grades are
// known.
func (j *Job) walled(set *shellSet, half string) []string {
	m := j.line(set.part + " " + half + " wall thickness")
	if set.scheme == nil || len(set.scheme.Shells) == 0 || m == nil {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(set.locations), func(location string) bool { return !m.taken[location].reading.Taken() })
}

// gradeGroups compares the walls that were measured with those of the grades called for.
// What the clearance is by its sizes does not depend on it.
func (j *Job) gradeGroups(set *shellSet, list []chosen) []Group {
	u, places := j.show.length, j.show.places
	var groups []Group
	for _, half := range []string{"upper", "lower"} {
		at := j.walled(set, half)
		if len(at) == 0 {
			continue
		}
		m := j.line(set.part + " " + half + " wall thickness")
		g := Group{Name: m.group, Quantity: "grade", Limits: "the wall of each grade", Remedy: wallGradeRemedy, before: Final}
		var d drawing
		for _, c := range list {
			if !slices.Contains(at, c.location) {
				continue
			}
			var wall units.LengthInterval
			grade := ""
			for _, p := range c.parts {
				if p.half == half {
					wall, grade = wallOf(set.at(c.location), p.part), p.part.Grade
				}
			}
			r := m.taken[c.location].whole(m.states)
			a := measure.Assess(r, wall)
			f := found(subject{g.Name, c.location, g.Quantity}, a, u, places)
			switch {
			case wall.IsEmpty():
				f.Advice = "which grade is called for is open"
			case a.Verdict == measure.Undecided:
				f.Advice = fmt.Sprintf("%s is called for; %s", grade, settles(a, u, places))
			case a.Verdict.Outside():
				f.Advice += fmt.Sprintf(", and not %s, which is called for%s.", grade, j.gradeThatIs(set, c.location, half, r))
			}
			if slips := j.slipsOf(m, c.location); len(slips) > 0 {
				f.Slip, f.Verdict = slips[0], measure.Undecided
			}
			g.Findings = append(g.Findings, f)
			add(&d, a.Reading.Supposed(), wall, u)
		}
		d.into(g.Findings)
		groups = append(groups, g)
	}
	return groups
}

// gradeThatIs says which grade a wall can be of.
func (j *Job) gradeThatIs(set *shellSet, location, half string, r measure.LengthReading) string {
	s := set.at(location)
	for _, grade := range gradesOf(s) {
		if wall := wallOf(s, partOf(s, grade, half)); !wall.IsEmpty() && wall.Overlaps(r.Interval()) {
			return "; it measures as " + grade
		}
	}
	return ""
}

// wrongBySizes says that the shells chosen are proven wrong by the sizes of the location
// and the walls of their grades.
func (j *Job) wrongBySizes(set *shellSet, c *chosen) string {
	s, ok := j.limited(set, set.at(c.location))
	site, whole := j.site(set, c.location)
	if !ok || !whole || len(c.parts) != 2 {
		return ""
	}
	clear := site.Housing.Sub(wallOf(s, c.parts[0].part)).Sub(wallOf(s, c.parts[1].part)).Sub(site.Journal)
	if v := measure.Judge(clear, s.Limits); v.Outside() {
		return fmt.Sprintf("by its sizes the clearance with %s would be %s, %s", fitText(c.parts), reading(clear, j.show.length, j.show.places), v)
	}
	return ""
}
