package job

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// doubts compares the sizes of a location with those that its stamped codes stand for, and
// a ground journal with its undersize. What does not belong together is said once, with
// what it may be, and stands until somebody has looked again.
func (j *Job) doubts(set *shellSet, location string) []string {
	if set.scheme == nil || slices.Contains(set.sure, location) {
		return nil
	}
	var said []string
	for _, side := range []grading.Side{grading.Housing, grading.Journal} {
		size := j.knownSize(set.line(side), location)
		if size.IsEmpty() {
			continue
		}
		if s := set.ground[location]; s != nil && side == grading.Journal {
			said = append(said, j.notGround(set, s, location, size)...)
			continue
		}
		classes := set.classes(side, location)
		if classes == nil || slices.ContainsFunc(classes, func(c grading.Code) bool { return c.Size.Overlaps(size) }) {
			continue
		}
		said = append(said, j.outOfClass(set, side, location, size, classes))
	}
	return said
}

// line is the line that measures a side.
func (set *shellSet) line(side grading.Side) string {
	if side == grading.Housing {
		return set.part + " bore"
	}
	return set.part + " journal"
}

// classes are the codes that a location can have on a side, with their sizes; none if the
// size of one of them is not known.
func (set *shellSet) classes(side grading.Side, location string) []grading.Code {
	i := slices.IndexFunc(set.coded, func(a grading.Assignment) bool { return a.Location == location })
	if i < 0 {
		return nil
	}
	stamp := set.coded[i].Housing
	if side == grading.Journal {
		stamp = set.coded[i].Journal
	}
	var list []grading.Code
	for _, c := range codesOf(set.scheme, side) {
		if slices.Contains(stamp.Possible, c.Code) {
			if c.Size.IsEmpty() {
				return nil
			}
			list = append(list, c)
		}
	}
	return list
}

func codesOf(s *grading.Scheme, side grading.Side) []grading.Code {
	if side == grading.Housing {
		return s.Housing
	}
	return s.Journal
}

// outOfClass says what a size may be that none of its codes has.
func (j *Job) outOfClass(set *shellSet, side grading.Side, location string, size units.LengthInterval, classes []grading.Code) string {
	u, places := j.show.length, j.show.places
	name := itemName(set.line(side), j.placeOf(j.line(set.line(side)), location), "")
	var texts []string
	for _, c := range classes {
		texts = append(texts, fmt.Sprintf("code %s is %s", c.Code, reading(c.Size, u, places)))
	}
	smaller := size.Below(classes[0].Size)
	cause := "It may be worn, or its code was read wrong"
	switch {
	case side == grading.Journal && !smaller:
		cause = "No journal grows: its code was read wrong, or it is of another crankshaft"
	case side == grading.Housing && smaller:
		cause = "There may be dirt under the cap, or a cap in the wrong place, or its code was read wrong"
	}
	for _, c := range codesOf(set.scheme, side) {
		if c.Size.Overlaps(size) {
			cause += ": it has the size of code " + c.Code
			break
		}
	}
	if other := j.exchanged(set, side, location, size, classes); other != "" {
		cause = fmt.Sprintf("Exchanged with that of %s, both would have the sizes of their codes. %s", other, cause)
	}
	return fmt.Sprintf("%s measures %s, and %s. %s. Look again, and if both stand write sure = [%s] under %s.",
		name, reading(size, u, places), strings.Join(texts, ", "), cause, j.alsoAt(set, side, location), set.path())
}

// alsoAt are the locations that a size belongs to, in quotes: all rods on a journal.
func (j *Job) alsoAt(set *shellSet, side grading.Side, location string) string {
	m := j.line(set.line(side))
	var list []string
	for _, l := range set.locations {
		if j.placeOf(m, l) == j.placeOf(m, location) {
			list = append(list, fmt.Sprintf("%q", l))
		}
	}
	return strings.Join(list, ", ")
}

// exchanged is where a size was read that belongs here, while the one from here belongs
// there: a place whose size is out of its class too, if there is one.
func (j *Job) exchanged(set *shellSet, side grading.Side, location string, size units.LengthInterval, classes []grading.Code) string {
	fits := func(size units.LengthInterval, classes []grading.Code) bool {
		return slices.ContainsFunc(classes, func(c grading.Code) bool { return c.Size.Overlaps(size) })
	}
	found := ""
	for _, other := range set.locations {
		theirs, their := j.knownSize(set.line(side), other), set.classes(side, other)
		if other == location || theirs.IsEmpty() || their == nil || side == grading.Journal && set.ground[other] != nil {
			continue
		}
		if fits(size, their) && fits(theirs, classes) {
			place := j.placeOf(j.line(set.line(side)), other)
			if !fits(theirs, their) {
				return place
			}
			if found == "" {
				found = place
			}
		}
	}
	return found
}

// notGround says that a journal does not have the size that it was ground to: with the
// sizes of codes less the undersize, a journal that was just ground is within them all.
func (j *Job) notGround(set *shellSet, s *grading.Scheme, location string, size units.LengthInterval) []string {
	var all units.LengthInterval
	for _, c := range s.Journal {
		switch {
		case c.Size.IsEmpty():
			return nil
		case all.IsEmpty():
			all = c.Size
		default:
			all = all.Hull(c.Size)
		}
	}
	if all.IsEmpty() || all.Overlaps(size) {
		return nil
	}
	u, places := j.show.length, j.show.places
	return []string{fmt.Sprintf("%s measures %s, and ground to %s it would be %s: is the undersize right, and was this journal ground? If both stand, write sure = [%s] under %s.",
		itemName(set.line(grading.Journal), j.placeOf(j.line(set.line(grading.Journal)), location), ""), reading(size, u, places), s.Ground, reading(all, u, places), j.alsoAt(set, grading.Journal, location), set.path())}
}
