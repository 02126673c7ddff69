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
	column *column[D]
}

// in returns the value in the window's row and the limits; the arithmetic has
// just been checked there. lacks says what is not there to judge.
func (v *verdict[D]) in(w *window) (j judged[D], lacks *explanation) {
	if a := v.value; a != nil {
		j = judged[D]{value: a.value, doubt: a.doubt, column: a.claim}
		if !a.known {
			return j, a.lacks(w)
		}
	} else {
		j.column = v.reading
		if v.reading.with != nil {
			j.doubt = v.reading.with.Uncertainty
		}
		var ok bool
		if j.value, ok = v.reading.read(w.at(v.reading.spot)); !ok {
			e := v.reading.lack(w)
			return j, &e
		}
	}
	j.limits, lacks = v.limitsIn(w)
	return j, lacks
}

// limitsIn returns the tolerance interval of the window's row.
func (v *verdict[D]) limitsIn(w *window) (limits units.Interval[D], lacks *explanation) {
	if v.least == nil && v.most == nil {
		return v.fixed, nil
	}
	var bounds [2]units.Quantity[D]
	for i, c := range []*column[D]{v.least, v.most} {
		if c == nil {
			continue
		}
		var ok bool
		if bounds[i], ok = c.read(w.at(c.spot)); !ok {
			e := c.lack(w)
			e.mistake = NoLimit
			return limits, &e
		}
	}
	switch {
	case v.most == nil:
		return units.AtLeast(bounds[0]), nil
	case v.least == nil:
		return units.AtMost(bounds[1]), nil
	}
	limits, err := units.NewInterval(bounds[0], bounds[1])
	if err != nil {
		return limits, &explanation{mistake: NoLimit, says: fmt.Sprintf("%s is above %s", v.least.label(w), v.most.label(w))}
	}
	return limits, nil
}

func (v *verdict[D]) check(w *window, t *tally) {
	cell := w.at(v.spot)
	if cell.Blank() {
		return
	}
	said := v.read(cell.Text)
	j, lacks := v.in(w)
	if lacks != nil {
		if said == noWord {
			return // a note or a heading
		}
		severity := NotProven
		if said == saysIn {
			severity = WrongVerdict
		}
		t.claims++
		t.observe(w, v.spot, observation{severity: severity, claimed: cell.Text, right: "nothing is proven", causes: []explanation{*lacks}})
		return
	}
	t.claims++
	right := measure.Judge(units.Exactly(j.value), j.limits)
	undecided := j.doubt.Sign() > 0 && measure.Judge(units.PlusMinus(j.value, j.doubt), j.limits) == measure.Undecided
	if said.of(right) && !undecided {
		v.recalculate(w, t, cell, right, j)
		return
	}
	o := observation{claimed: cell.Text, right: v.sentence(right, j), working: func() units.Working { return v.working(right, j) }}
	switch {
	case cell.IsError():
		o.severity = WrongVerdict
		o.causes = []explanation{{mistake: ErrorCell, says: fmt.Sprintf("the formula in %s gives %s", w.place(v.spot), cell.Text)}}
	case said == noWord:
		o.severity = Style
		o.causes = []explanation{{mistake: NoWord, says: fmt.Sprintf("%q is no verdict that the map knows; add it there, to conforming or not_conforming", short(cell.Text))}}
	case !said.of(right):
		o.severity = WrongVerdict
		o.causes = (&misjudgement[D]{verdict: v, judged: j, window: w, said: said, cell: cell}).diagnose()
	default:
		o.severity = NotProven
		o.right = fmt.Sprintf("undecided: %s ± %s against %s", j.shown(j.value), j.shown(j.doubt), j.shownLimits())
		o.causes = []explanation{{mistake: Uncertain, says: j.settles()}}
	}
	t.observe(w, v.spot, o)
}

// recalculate compares a right verdict with what its formula gives now, if formulas are
// evaluated.
func (v *verdict[D]) recalculate(w *window, t *tally, cell *sheet.Cell, right measure.Verdict, j judged[D]) {
	if v.stored == nil || cell.Formula == "" {
		return
	}
	given, ok := v.stored(w.place(v.spot))
	if !ok {
		return
	}
	now := given.Binary.String()
	if said := v.read(now); said == noWord || said.of(right) {
		return
	}
	cause := explanation{mistake: Stale, says: fmt.Sprintf("the stored verdict is right, but the formula gives %q: it changes when the sheet is recalculated", short(now))}
	if exactly := given.Exact.String(); v.read(exactly).of(right) {
		cause = explanation{mistake: Residue, says: fmt.Sprintf("the stored verdict is right, but it hangs on the last bit: the formula gives %q exactly and %q in binary arithmetic", short(exactly), short(now))}
	}
	t.observe(w, v.spot, observation{severity: WrongVerdict, claimed: cell.Text, right: v.sentence(right, j), causes: []explanation{cause},
		working: func() units.Working { return v.working(right, j) }})
}

// settles says which reading would settle what is undecided.
func (j judged[D]) settles() string {
	by := measure.Instrument[D]{Uncertainty: j.doubt}
	r, err := by.Indicate(j.column.name, j.value)
	if err != nil {
		panic("check: an uncertainty above zero is refused: " + err.Error())
	}
	u, ok := measure.Assess(r, j.limits).Settling(measure.NineInTen)
	if !ok {
		return "with its uncertainty the value reaches past a limit"
	}
	return fmt.Sprintf("with its uncertainty the value reaches past a limit; another reading, good to ±%s, would settle it nine times in ten", downward(u, j.column.unit))
}

// downward writes an uncertainty with two digits, no larger than it is.
func downward[D units.Dimension](u units.Quantity[D], unit units.Unit[D]) string {
	const finest = 12
	digits := u.Rounded(unit, finest, units.TowardZero).NumDigits()
	return u.Format(unit, int32(max(0, finest-digits+2)), units.TowardZero)
}

func (v *verdict[D]) sentence(right measure.Verdict, j judged[D]) string {
	return fmt.Sprintf("%s: %s against %s", right, j.shown(j.value), j.shownLimits())
}

func (v *verdict[D]) working(right measure.Verdict, j judged[D]) units.Working {
	w := units.Working{
		Name:    v.name,
		Formula: "least ≤ value ≤ most",
		Numbers: j.shown(j.value) + " against " + j.shownLimits(),
		Result:  right.String(),
		Source:  "a limit belongs to the tolerance: ISO 14253-1:2017",
	}
	if v.value != nil {
		w.Steps = []units.Working{v.value.working()}
	}
	return w
}

func (j judged[D]) shown(q units.Quantity[D]) string { return q.Written(j.column.unit) }

func (j judged[D]) shownLimits() string { return j.limits.Written(j.column.unit) }

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
	return ranked(s.found, s.cell.Formula)
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
	if s.cell.Formula == "" || s.verdict.stored == nil {
		return
	}
	right := measure.Judge(units.Exactly(s.judged.value), s.limits)
	given, ok := s.verdict.stored(s.window.place(s.verdict.spot))
	if text := given.Binary.String(); ok && s.read(text).of(right) {
		s.found = append(s.found, explanation{mistake: Stale, says: fmt.Sprintf("the formula gives %q now; the file was saved without being recalculated", short(text))})
	}
}

func (s *misjudgement[D]) follows() {
	if a := s.verdict.value; a != nil && a.wrong && a.stated && s.judge(a.claimed, s.limits) {
		s.add(Follows, fmt.Sprintf("the value in %s is wrong, and this follows from it", s.window.place(a.claim.spot)))
	}
}

// storedText: spreadsheets hold any text greater than any number.
func (s *misjudgement[D]) storedText() {
	asText := func(c *column[D]) bool { return c != nil && s.window.at(c.spot).AsText }
	l := s.limits
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
	l, q := s.limits, s.judged.value
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
		rounded := s.column.rounded(s.judged.value, places)
		if s.judge(rounded, s.limits) {
			s.add(RoundedFirst, fmt.Sprintf("the value is rounded to %s before it is compared", rounded.Format(s.column.unit, int32(places), units.HalfAwayZero)))
			return
		}
	}
}

func (s *misjudgement[D]) swapped() {
	l := s.limits
	if !l.Bounded() {
		return
	}
	low, high := s.judged.value.Less(l.Hi()), l.Lo().Less(s.judged.value) // of the limits exchanged
	if low && s.said == saysBelow || !low && high && s.said == saysAbove || (low || high) && s.said == saysOut {
		s.add(Swapped, "the upper limit is taken for the lower one and the lower one for the upper")
	}
}

func (s *misjudgement[D]) oneLimit() {
	l := s.limits
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
		name := confusion(u, s.column.unit)
		if !confusable(u, s.column.unit) || name == OtherUnit {
			continue
		}
		factor := s.column.unit.OfInt(1).Ratio(u.OfInt(1)) // a limit of so many u, compared as if it were so many of the unit
		if s.judge(s.judged.value, s.limits.MulRat(factor)) {
			s.add(name, fmt.Sprintf("the limits have the unit %s, and the value has the unit %s", u, s.column.unit))
		}
	}
}

func (s *misjudgement[D]) neighbour() {
	for _, row := range []*sheet.Row{s.window.previous, s.window.next} {
		if row == nil {
			continue
		}
		if q, ok := s.valueIn(row); ok && s.judge(q, s.limits) {
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
	if q, ok := s.valueIn(first); ok && s.judge(q, s.limits) {
		at := s.window.placeIn(first, s.column.spot)
		s.add(Absolute, fmt.Sprintf("%s is judged in every row", at), at)
	}
}

// valueIn is what the sheet has for the value in another row.
func (s *misjudgement[D]) valueIn(row *sheet.Row) (units.Quantity[D], bool) {
	return s.column.read(s.window.in(row, s.column.spot))
}
