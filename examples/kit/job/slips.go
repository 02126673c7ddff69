package job

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// questioned looks for slips in every reading, once for all that is worked out of it.
func (j *Job) questioned() {
	for _, m := range j.lines {
		m.slips = map[string][]string{}
		for location := range m.taken {
			if said := j.slipsIn(m, location); said != nil {
				m.slips[location] = said
			}
		}
	}
}

// slipsIn says what the reading of a line at a place may have been meant as: against its
// limits, and against its likes at the other places. Nothing, if it is plausible or was
// read again and stands.
func (j *Job) slipsIn(m *measured, location string) []string {
	e := m.taken[location]
	r := e.whole(nil)
	if e.sure || !r.Taken() {
		return nil
	}
	quantity := m.quantities()[0].quantity
	var said []string
	if s := j.implausible(m, e, m.limits[quantity]); s != "" {
		said = append(said, s)
	} else if s := j.unlike(m.taken, m.at, location); s != "" && m.form != signed { // what lies about zero has no likes
		said = append(said, s)
	}
	for i := range said {
		said[i] = fmt.Sprintf("%s: %s; read it again, and if it stands write sure = [%q]", itemName(m.group, location, quantity), said[i], location)
	}
	return said
}

// told says how something was read, and that it was read again.
func (e entry) told(how string) string {
	if e.sure && how != "" {
		return how + "; read again, and it stands"
	}
	return how
}

// slipsOfTerms are the slips of the sizes that a sum is made of.
func (j *Job) slipsOfTerms(m *measured, location string) []string {
	var all []string
	for _, name := range slices.Concat(m.terms, m.also) {
		part := j.line(name)
		if part == nil {
			continue
		}
		for _, at := range j.placesOf(part, location) {
			all = append(all, part.slips[at]...)
			all = append(all, j.slipsOfTerms(part, at)...)
		}
	}
	return all
}

// unlike says what the reading at a place may have been meant as that is far from its
// likes at the others. Far is three times as large or a third, or twice as far as they are
// apart and eight times the doubt of the reading, if a slip of the pen (a decimal point,
// inches for millimetres, or, where there are three likes or more, exchanged digits)
// brings it back among them: nearer ones are what parts are like. Where the slip would have
// moved it by more than its likes are apart, and puts it right between them, it is asked
// after however near it is.
func (j *Job) unlike(taken map[string]entry, at []string, location string) string {
	var likes units.LengthInterval
	n := 0
	for _, other := range at {
		if like := taken[other].whole(nil).Bracket(); other != location && like.Bounded() {
			if likes.IsEmpty() {
				likes = like
			}
			likes = likes.Hull(like)
			n++
		}
	}
	r := taken[location].whole(nil)
	mine, whole := r.Bracket(), r.Interval()
	if n == 0 || !mine.Bounded() || !whole.Bounded() {
		return ""
	}
	grown := func(by units.Length) units.LengthInterval {
		return units.MustInterval(likes.Lo().Sub(by), likes.Hi().Add(by))
	}
	near, around := grown(whole.Radius()), grown(likes.Width().MulInt(2).Add(whole.Radius().MulInt(8)))
	if near.Overlaps(mine) {
		return ""
	}
	far := !around.Overlaps(mine)
	text := fmt.Sprintf("%s is far from its likes, %s", taken[location].text, reading(likes, j.show.length, j.show.places))
	for _, c := range typos(taken[location].text) {
		meant, err := units.ParseLengthInterval(c.text)
		if err != nil || !meant.Bounded() || n < c.likes {
			continue
		}
		back := meant.Within(near) && likes.Width().Less(meant.Mid().Sub(mine.Mid()).Abs())
		if back || far && meant.Within(around) {
			return fmt.Sprintf("%s; with %s it would be %s", text, c.what, c.text)
		}
	}
	if !far {
		return ""
	}
	if likes.Lo().Sign() > 0 && (mine.Hi().MulInt(3).Less(likes.Lo()) || likes.Hi().MulInt(3).Less(mine.Lo())) {
		return text
	}
	return ""
}

// A typo is another text that may have been meant, and how many likes it takes to think
// so.
type typo struct {
	what, text string
	likes      int
}

// typos are the texts that a plain one may have been meant as.
func typos(text string) []typo {
	_, body, ok := strings.Cut(text, ":")
	if !ok {
		body = text
	}
	number, unit, ok := strings.Cut(strings.TrimSpace(body), " ")
	if !ok || strings.ContainsAny(number, "./<>±") && strings.Contains(number, "..") {
		return nil
	}
	var list []typo
	for i := 0; i+1 < len(number); i++ {
		a, b := number[i], number[i+1]
		k := i + 1
		if b == '.' && i+2 < len(number) {
			k, b = i+2, number[i+2]
		}
		if a == b || a < '0' || a > '9' || b < '0' || b > '9' {
			continue
		}
		swapped := []byte(number)
		swapped[i], swapped[k] = b, a
		list = append(list, typo{"two digits exchanged", string(swapped) + " " + unit, 3})
	}
	for _, p := range moved(number) {
		list = append(list, typo{"the decimal point moved", p + " " + unit, 1})
	}
	switch unit {
	case "mm":
		list = append(list, typo{"inches for millimetres", number + " in", 1})
	case "in":
		list = append(list, typo{"millimetres for inches", number + " mm", 1})
	}
	return list
}

// moved are a number with its decimal point one place to either side.
func moved(number string) []string {
	whole, part, _ := strings.Cut(number, ".")
	var list []string
	if part != "" {
		list = append(list, whole+part[:1]+"."+part[1:]+"0")
	} else {
		list = append(list, whole+"0")
	}
	if len(whole) > 1 {
		list = append(list, whole[:len(whole)-1]+"."+whole[len(whole)-1:]+part)
	} else {
		list = append(list, "0."+whole+part)
	}
	return list
}
