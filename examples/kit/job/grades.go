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

// byGrade stands for the limits of a wall, which its grade has.
const byGrade = "by grade"

// shellItems are what has to be known of the shells of a set: which they are and that they
// are there, and of each wall that was measured that it is of the grade called for.
func (j *Job) shellItems(set *shellSet) []Item {
	var items []Item
	for _, location := range set.locations {
		items = append(items, newItem(set.name(), location, "shells", Trial))
	}
	for _, half := range []string{"upper", "lower"} {
		for _, location := range j.walled(set, half) {
			items = append(items, newItem(set.part+" "+half+" wall", location, "grade", Final))
		}
	}
	return items
}

// walled are the locations of which a wall was measured, where the walls of grades are
// known and something calls for one.
func (j *Job) walled(set *shellSet, half string) []string {
	m := j.line(set.part + " " + half + " wall thickness")
	if set.scheme == nil || len(set.scheme.Shells) == 0 || m == nil {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(set.locations), func(location string) bool {
		called := set.coded != nil || set.unread || set.fit[location] != nil || set.choose == bySizes
		return !called || !m.taken[location].reading.Taken()
	})
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
		g := Group{Name: m.group, Quantity: "grade", Limits: byGrade, Remedy: wallGradeRemedy, before: Final}
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
			f := found(subject{g.Name, c.location, g.Quantity}, a, toleranceRange(a.Tolerance, u, places), u, places)
			switch {
			case wall.IsEmpty():
				f.Advice = "which grade is called for is open"
			case a.Verdict == measure.Undecided:
				settling := settles(a, u, places)
				if known := j.atMiddle(); known != nil {
					if middle := known.sized(m.name(), c.location).Interval(); measure.Judge(middle, wall) == measure.Conforming {
						settling = doubtfulWarmth("it would be " + reading(middle, u, places) + ", conforming")
					}
				}
				f.Advice = fmt.Sprintf("%s is called for; %s", grade, settling)
			case a.Verdict.Outside():
				f.Advice += fmt.Sprintf(", and not %s, which is called for", grade)
				if is := set.gradeThatIs(c.location, half, r); is != "" {
					f.Advice += "; it measures as " + is
				}
			}
			if slips := m.slips[c.location]; len(slips) > 0 {
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

// gradeThatIs is the grade that a wall is nearest to of those that it can be of; empty if
// it can be of none.
func (set *shellSet) gradeThatIs(location, half string, r measure.LengthReading) string {
	s, measured := set.at(location), r.Interval()
	nearest, off := "", units.Length{}
	for _, grade := range s.Grades() {
		wall := wallOf(s, partOf(s, grade, half))
		if wall.IsEmpty() || !wall.Overlaps(measured) {
			continue
		}
		if by := wall.Mid().Sub(measured.Mid()).Abs(); nearest == "" || by.Less(off) {
			nearest, off = grade, by
		}
	}
	return nearest
}

// wrongBySizes says that shells are proven wrong by the sizes of their location and the
// walls of their grades.
func (j *Job) wrongBySizes(set *shellSet, c *chosen) string {
	s, ok := j.limited(set, set.at(c.location))
	site, whole := j.site(set, c.location)
	if !ok || !whole || len(c.parts) != 2 {
		return ""
	}
	clear := clearanceWith(s, site, c.parts)
	if v := measure.Judge(clear, s.Limits); v.Outside() {
		return fmt.Sprintf("by its sizes the clearance with %s would be %s, %s", fitText(c.parts), reading(clear, j.show.length, j.show.places), v)
	}
	return ""
}
