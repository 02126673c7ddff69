package job

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// questioned looks for slips in every reading, once for all that is worked out of it.
func (j *Job) questioned() {
	together(len(j.lines), func(i int) {
		m := j.lines[i]
		m.slips = map[string][]string{}
		if len(m.taken) == 0 {
			return
		}
		shown := make(map[string]units.LengthInterval, len(m.taken))
		for location, e := range m.taken {
			shown[location] = e.shown()
		}
		for location := range m.taken {
			if said := j.slipsIn(m, shown, location); said != nil {
				m.slips[location] = said
			}
		}
	})
}

// slipsIn says what the reading of a line at a place may have been meant as: against its
// limits, and against its likes, of which shown says what each shows. Nothing, if it is
// plausible or was read again and stands.
func (j *Job) slipsIn(m *measured, shown map[string]units.LengthInterval, location string) []string {
	e := m.taken[location]
	quantity := m.quantities()[0].quantity
	var said []string
	if r := e.whole(nil); e.sure || !r.Taken() && !e.mass.Taken() {
		return nil
	} else if m.form == mass {
		said = j.massSlips(m, location)
	} else if s := j.implausible(m, e, m.limits[quantity]); s != "" {
		said = append(said, s)
	} else if s := j.unlike(e.text, shown, m.at, location); s != "" && m.form != signed { // what lies about zero has no likes
		said = append(said, s)
	}
	for i := range said {
		said[i] = fmt.Sprintf("%s: %s%s, and if it stands write sure = [%q]", itemName(m.group, location, quantity), strings.TrimSuffix(said[i], againAndSure), againAndSure, location)
	}
	return said
}

// againAndSure begins what a job's author is told to do about a slip.
const againAndSure = "; read it again"

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
// apart and sixteen of its last digits, if a slip of the pen (a decimal point,
// inches for millimetres, or, where there are three likes or more, exchanged digits)
// brings it back among them: nearer ones are what parts are like. Where the slip would have
// moved it by more than its likes are apart, and puts it right between them, to two of its
// last digits, it is asked after however near it is. The doubt of the reading has no part
// in it: with a worse instrument a slip would be asked after no more, and might be proven.
func (j *Job) unlike(text string, shown map[string]units.LengthInterval, at []string, location string) string {
	others := make([]units.LengthInterval, 0, len(at))
	for _, other := range at {
		if other != location {
			others = append(others, shown[other])
		}
	}
	return unlikeOthers(text, shown[location], others, units.ParseLengthInterval, func(a units.LengthInterval) string { return reading(a, j.show.length, j.show.places) })
}

// unlikeOthers is unlike, of any dimension: text says what is shown, and its others are
// likes that show something.
func unlikeOthers[D units.Dimension](text string, shown units.Interval[D], others []units.Interval[D], parse func(string) (units.Interval[D], error), say func(units.Interval[D]) string) string {
	var likes units.Interval[D]
	n := 0
	for _, like := range others {
		if !like.Bounded() {
			continue
		}
		if likes.IsEmpty() {
			likes = like
		}
		likes = likes.Hull(like)
		n++
	}
	if n == 0 || !shown.Bounded() {
		return ""
	}
	step := printed(text, parse)
	grown := func(by units.Quantity[D]) units.Interval[D] {
		return units.MustInterval(likes.Lo().Sub(by), likes.Hi().Add(by))
	}
	near, around := grown(step.MulInt(2)), grown(likes.Width().MulInt(2).Add(step.MulInt(16)))
	if near.Overlaps(shown) {
		return ""
	}
	far := !around.Overlaps(shown)
	alike := likes.Lo().Sign() <= 0 || likes.Hi().Less(likes.Lo().MulInt(3)) // else one of them is the slip
	found := fmt.Sprintf("%s is far from its likes, %s", text, say(likes))
	for _, c := range typos(text) {
		meant, err := parse(c.text)
		if err != nil || !meant.Bounded() || n < c.likes {
			continue
		}
		near, around := near, around
		if !strings.HasSuffix(c.text, " "+unitOf(text)) { // a step of the unit that was meant
			step := units.Max(step, printed(c.text, parse))
			near, around = grown(step.MulInt(2)), grown(likes.Width().MulInt(2).Add(step.MulInt(16)))
		}
		back := alike && meant.Within(near) && likes.Width().Less(meant.Mid().Sub(shown.Mid()).Abs())
		if back || far && meant.Within(around) {
			return fmt.Sprintf("%s; with %s it would be %s", found, c.what, c.text)
		}
	}
	if far && likes.Lo().Sign() > 0 && (shown.Hi().MulInt(3).Less(likes.Lo()) || likes.Hi().MulInt(3).Less(shown.Lo())) {
		return found
	}
	return ""
}

// shown is what was seen, whatever its doubt: of a size that was stated with how far it may
// be off, the middle.
func (e entry) shown() units.LengthInterval {
	r := e.whole(nil).Bracket()
	if r.Bounded() && strings.Contains(e.text, "±") {
		return units.Exactly(r.Mid())
	}
	return r
}

// printed is one of the last digit of a text: 0.001 mm of "62.893 mm".
func printed[D units.Dimension](text string, parse func(string) (units.Interval[D], error)) (step units.Quantity[D]) {
	_, body, named := strings.Cut(text, ":")
	if !named {
		body = text
	}
	body, _, _ = strings.Cut(body, "±")
	_, unit := numbersOf(text)
	numbers := strings.FieldsFunc(body, func(c rune) bool { return c == ' ' || c == ';' })
	if unit == "" || len(numbers) == 0 {
		return step
	}
	_, decimals, _ := strings.Cut(numbers[0], ".")
	one := "1"
	if n := len(decimals); n > 0 {
		one = "0." + strings.Repeat("0", n-1) + "1"
	}
	if one, err := parse(one + " " + unit); err == nil && one.Bounded() {
		step = one.Lo()
	}
	return step
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
	case "g":
		list = append(list, typo{"kilograms for grams", number + " kg", 1}, typo{"ounces for grams", number + " oz", 1})
	case "kg":
		list = append(list, typo{"grams for kilograms", number + " g", 1})
	case "oz":
		list = append(list, typo{"grams for ounces", number + " g", 1})
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
