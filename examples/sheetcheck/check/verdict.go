package check

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A word is what a sheet says of a part.
type word uint8

const (
	noWord word = iota
	saysIn
	saysOut // on whichever side
	saysBelow
	saysAbove
)

// words are the texts for each.
type words struct {
	in, out, below, above []string
}

// defaultWords are what sheets write where the map does not say.
func defaultWords() words {
	return words{
		in:    []string{"ok", "pass", "yes", "good", "in", "conforming", "true", "1"},
		out:   []string{"not ok", "nok", "fail", "no", "bad", "out", "reject", "false", "0"},
		below: []string{"low", "tight", "below", "below limit", "too tight", "under"},
		above: []string{"high", "loose", "above", "above limit", "too loose", "over"},
	}
}

func (v words) read(text string) word {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, of := range []struct {
		texts []string
		word  word
	}{{v.in, saysIn}, {v.out, saysOut}, {v.below, saysBelow}, {v.above, saysAbove}} {
		if slices.ContainsFunc(of.texts, func(t string) bool { return strings.EqualFold(t, text) }) {
			return of.word
		}
	}
	return noWord
}

// of reports whether the word is what one would say of the verdict.
func (k word) of(v measure.Verdict) bool {
	switch k {
	case saysIn:
		return v == measure.Conforming
	case saysOut:
		return v.Outside()
	case saysBelow:
		return v == measure.BelowLimit
	case saysAbove:
		return v == measure.AboveLimit
	}
	return false
}

// verdict checks what a sheet says of a value against its limits.
type verdict[D units.Dimension] struct {
	spot
	name    string
	value   *arithmetic[D] // what is judged, if the sheet computes it
	reading *column[D]     // or reads it
	fixed   units.Interval[D]
	least   *column[D] // limits in cells; nil for none
	most    *column[D]
	words   words
	stored  evaluator

	met []saying // the first texts met, most rows say one of a few
}

// A saying is a text and what it says.
type saying struct {
	text string
	word word
}

func (v *verdict[D]) read(text string) word {
	for _, s := range v.met {
		if s.text == text {
			return s.word
		}
	}
	word := v.words.read(text)
	if len(v.met) < 8 {
		v.met = append(v.met, saying{strings.Clone(text), word})
	}
	return word
}

// judged is a location's value as the verdict sees it.
type judged[D units.Dimension] struct {
	value  units.Quantity[D]
	doubt  units.Quantity[D]
	limits units.Interval[D]
	unit   units.Unit[D]
	column *column[D]
}

// measure returns the value in the window's row; the arithmetic has just been
// checked there.
func (v *verdict[D]) measure(w *window) (j judged[D], ok bool) {
	if v.value != nil {
		j = judged[D]{value: v.value.value, doubt: v.value.doubt, column: v.value.claim}
		ok = v.value.known
	} else {
		j = judged[D]{doubt: v.reading.doubt, column: v.reading}
		j.value, ok = v.reading.read(w.at(v.reading.spot))
	}
	j.unit = j.column.unit
	if !ok {
		return j, false
	}
	j.limits, ok = v.limits(w)
	return j, ok
}

// limits returns the tolerance interval of the window's row.
func (v *verdict[D]) limits(w *window) (units.Interval[D], bool) {
	if v.least == nil && v.most == nil {
		return v.fixed, true
	}
	read := func(c *column[D]) (q units.Quantity[D], ok bool) {
		if c == nil {
			return q, false
		}
		return c.read(w.at(c.spot))
	}
	least, hasLeast := read(v.least)
	most, hasMost := read(v.most)
	switch {
	case hasLeast && hasMost:
		return units.Between(least, most), true
	case hasLeast && v.most == nil:
		return units.AtLeast(least), true
	case hasMost && v.least == nil:
		return units.AtMost(most), true
	}
	return units.Interval[D]{}, false
}

func (v *verdict[D]) check(w *window, t *tally) {
	cell := w.at(v.spot)
	if cell.Blank() {
		return
	}
	j, ok := v.measure(w)
	if !ok {
		return // the value's own check says why
	}
	t.claims++
	said := v.read(cell.Text)
	right := measure.Judge(units.Exactly(j.value), j.limits)
	undecided := j.doubt.Sign() > 0 && measure.Judge(units.PlusMinus(j.value, j.doubt), j.limits) == measure.Undecided
	if said.of(right) && !undecided {
		return
	}
	o := observation{claimed: cell.Text, right: v.sentence(right, j), working: func() units.Working { return v.working(right, j) }}
	switch {
	case said == noWord:
		o.severity = Style
		o.causes = []explanation{{mistake: NoWord, says: fmt.Sprintf("%q is no verdict that the map knows; add it there, to conforming or not_conforming", short(cell.Text))}}
		t.observe(w, v.spot, o)
	case !said.of(right):
		o.severity = WrongVerdict
		s := &misjudgement[D]{verdict: v, judged: j, window: w, said: said, cell: cell}
		o.causes = s.diagnose()
		t.observe(w, v.spot, o)
	default:
		o.severity = NotProven
		o.right = fmt.Sprintf("undecided: %s ± %s against %s", shown(j.value, j), shown(j.doubt, j), limits(j))
		o.causes = []explanation{{mistake: Uncertain, says: settles(j)}}
		t.observe(w, v.spot, o)
	}
}

// settles says which reading would settle what is undecided.
func settles[D units.Dimension](j judged[D]) string {
	d := distance(j)
	if d.IsZero() {
		return "the value is on the limit, and no reading settles that"
	}
	return fmt.Sprintf("with its uncertainty the value reaches past a limit; one good to ±%s would settle it", shown(d, j))
}

// distance is how far the value is from the nearest limit: a reading good to that
// settles it.
func distance[D units.Dimension](j judged[D]) units.Quantity[D] {
	var near []units.Quantity[D]
	if j.limits.HasLo() {
		near = append(near, j.value.Sub(j.limits.Lo()).Abs())
	}
	if j.limits.HasHi() {
		near = append(near, j.value.Sub(j.limits.Hi()).Abs())
	}
	return units.Min(near[0], near[1:]...)
}

func (v *verdict[D]) sentence(right measure.Verdict, j judged[D]) string {
	return fmt.Sprintf("%s: %s against %s", right, shown(j.value, j), limits(j))
}

func (v *verdict[D]) working(right measure.Verdict, j judged[D]) units.Working {
	w := units.Working{
		Name:    v.name,
		Formula: "least ≤ value ≤ most",
		Numbers: shown(j.value, j) + " against " + limits(j),
		Result:  right.String(),
		Source:  "a limit belongs to the tolerance: ISO 14253-1:2017",
	}
	if v.value != nil {
		w.Steps = []units.Working{v.value.working()}
	}
	return w
}

// shown writes a quantity with the digits that it has, up to six places.
func shown[D units.Dimension](q units.Quantity[D], j judged[D]) string {
	return q.Rounded(j.unit, 6, units.HalfAwayZero).String() + " " + j.unit.String()
}

func limits[D units.Dimension](j judged[D]) string {
	lo, hi := "", ""
	if j.limits.HasLo() {
		lo = j.limits.Lo().Rounded(j.unit, 6, units.HalfAwayZero).String()
	}
	if j.limits.HasHi() {
		hi = j.limits.Hi().Rounded(j.unit, 6, units.HalfAwayZero).String()
	}
	switch {
	case lo == "":
		return "≤ " + hi + " " + j.unit.String()
	case hi == "":
		return "≥ " + lo + " " + j.unit.String()
	}
	return lo + ".." + hi + " " + j.unit.String()
}

// A misjudgement is a verdict that is wrong.
type misjudgement[D units.Dimension] struct {
	*verdict[D]
	judged[D]
	window *window
	said   word
	cell   *sheet.Cell
	found  []explanation
}

// diagnose returns what makes of the right value the verdict found.
func (s *misjudgement[D]) diagnose() []explanation {
	for _, mistake := range []func(*misjudgement[D]){
		(*misjudgement[D]).follows,
		(*misjudgement[D]).storedText,
		(*misjudgement[D]).residue,
		(*misjudgement[D]).strict,
		(*misjudgement[D]).roundedFirst,
		(*misjudgement[D]).oneLimit,
		(*misjudgement[D]).swapped,
		(*misjudgement[D]).otherUnit,
		(*misjudgement[D]).neighbour,
		(*misjudgement[D]).absolute,
		(*misjudgement[D]).stale,
	} {
		mistake(s)
	}
	return ranked(s.found, s.cell.Formula())
}

func (s *misjudgement[D]) add(mistake, says string, uses ...sheet.Place) {
	s.found = append(s.found, explanation{mistake: mistake, says: says, uses: uses})
}

// judge reports whether a value against limits gives the verdict found.
func (s *misjudgement[D]) judge(value units.Quantity[D], limits units.Interval[D]) bool {
	return s.said.of(measure.Judge(units.Exactly(value), limits))
}

// stale needs the formula's value. It comes last: a comparison at a limit turns on
// the last binary digit, in which two programs that evaluate it may differ.
func (s *misjudgement[D]) stale() {
	if s.cell.Formula() == "" || s.verdict.stored == nil {
		return
	}
	right := measure.Judge(units.Exactly(s.judged.value), s.limits())
	if text, ok := s.verdict.stored(s.window.place(s.verdict.spot)); ok && s.read(text).of(right) {
		s.found = append(s.found, explanation{mistake: Stale, says: fmt.Sprintf("the formula gives %q now; the file was saved without being recalculated", short(text))})
	}
}

func (s *misjudgement[D]) follows() {
	if a := s.verdict.value; a != nil && a.wrong && a.stated && s.judge(a.claimed, s.limits()) {
		s.add(Follows, fmt.Sprintf("the value in %s is wrong, and this follows from it", s.window.place(a.claim.spot)))
	}
}

func (s *misjudgement[D]) limits() units.Interval[D] { return s.judged.limits }

// storedText: spreadsheets hold any text greater than any number.
func (s *misjudgement[D]) storedText() {
	asText := func(c *column[D]) bool { return c != nil && s.window.at(c.spot).AsText() }
	l := s.limits()
	switch {
	case asText(s.column) && l.HasHi() && (s.said == saysAbove || s.said == saysOut):
		s.add(StoredText, fmt.Sprintf("the value in %s is stored as text, which compares as greater than any number", s.window.place(s.column.spot)))
	case asText(s.least) && (s.said == saysBelow || s.said == saysOut):
		s.add(StoredText, fmt.Sprintf("the limit in %s is stored as text, which compares as greater than any number", s.window.place(s.least.spot)))
	case asText(s.most) && l.HasLo() && s.judge(s.judged.value, units.AtLeast(l.Lo())):
		s.add(StoredText, fmt.Sprintf("the limit in %s is stored as text, which compares as greater than any number", s.window.place(s.most.spot)))
	}
}

func (s *misjudgement[D]) strict() {
	l, q := s.limits(), s.judged.value
	onLo, onHi := l.HasLo() && q.Equal(l.Lo()), l.HasHi() && q.Equal(l.Hi())
	if onLo && (s.said == saysBelow || s.said == saysOut) || onHi && (s.said == saysAbove || s.said == saysOut) {
		s.add(Strict, "the value is on the limit, which belongs to the tolerance, and is compared with < or >")
	}
}

func (s *misjudgement[D]) roundedFirst() {
	most := s.column.places
	if most < 0 {
		most = 4
	}
	for places := most; places >= max(most-1, 0); places-- {
		rounded := s.unit.Of(s.judged.value.Rounded(s.unit, int32(places), units.HalfAwayZero))
		if s.judge(rounded, s.limits()) {
			s.add(RoundedFirst, fmt.Sprintf("the value is rounded to %s before it is compared", s.column.shown(rounded, places)))
			return
		}
	}
}

func (s *misjudgement[D]) swapped() {
	l := s.limits()
	if !l.Bounded() {
		return
	}
	low, high := s.judged.value.Less(l.Hi()), l.Lo().Less(s.judged.value) // of the limits exchanged
	if low && s.said == saysBelow || !low && high && s.said == saysAbove || (low || high) && s.said == saysOut {
		s.add(Swapped, "the upper limit is taken for the lower one and the lower one for the upper")
	}
}

func (s *misjudgement[D]) oneLimit() {
	l := s.limits()
	if !l.Bounded() {
		return
	}
	if s.judge(s.judged.value, units.AtLeast(l.Lo())) {
		s.add(OneLimit, "the upper limit is not compared")
	} else if s.judge(s.judged.value, units.AtMost(l.Hi())) {
		s.add(OneLimit, "the lower limit is not compared")
	}
}

// otherUnit: the limits' numbers are those of another unit.
func (s *misjudgement[D]) otherUnit() {
	for _, u := range units.Units[D]() {
		name := confusion(u, s.unit)
		if !confusable(u, s.unit) || name == OtherUnit {
			continue
		}
		factor := s.unit.OfInt(1).Ratio(u.OfInt(1)) // a limit of so many u, compared as if it were so many of the unit
		if s.judge(s.judged.value, s.limits().MulRat(factor)) {
			s.add(name, fmt.Sprintf("the limits are in %s and the value is in %s", u, s.unit))
		}
	}
}

func (s *misjudgement[D]) neighbour() {
	for _, row := range []*sheet.Row{s.window.previous, s.window.next} {
		if row == nil {
			continue
		}
		if q, ok := s.valueIn(row); ok && s.judge(q, s.limits()) {
			at := s.window.placeIn(row, s.column.spot)
			s.add(Neighbour, fmt.Sprintf("%s is judged in place of %s", at, s.window.place(s.column.spot)), at)
		}
	}
}

func (s *misjudgement[D]) absolute() {
	first := s.window.first
	if first == nil || first.Number == s.window.current.Number {
		return
	}
	if q, ok := s.valueIn(first); ok && s.judge(q, s.limits()) {
		at := s.window.placeIn(first, s.column.spot)
		s.add(Absolute, fmt.Sprintf("%s is judged in every row", at), at)
	}
}

// valueIn is what the sheet has for the value in another row.
func (s *misjudgement[D]) valueIn(row *sheet.Row) (units.Quantity[D], bool) {
	return s.column.read(s.window.in(row, s.column.spot))
}
