package check

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units"
)

// arithmetic checks a claimed quantity against a formula.
type arithmetic[D units.Dimension] struct {
	claim   *column[D]
	inputs  []*column[D]
	formula formula[D]
	doubt   units.Quantity[D]
	stored  evaluator
	above   []*arithmetic[D] // what computes an input, if another check does

	// Of the location just checked:
	in      []units.Quantity[D]
	value   units.Quantity[D] // as it should be
	known   bool
	claimed units.Quantity[D] // as the sheet has it
	stated  bool
	wrong   bool
}

func newArithmetic[D units.Dimension](claim *column[D], f formula[D], inputs ...*column[D]) *arithmetic[D] {
	return &arithmetic[D]{claim: claim, inputs: inputs, formula: f, doubt: f.doubt(inputs), in: make([]units.Quantity[D], len(inputs))}
}

// statement is a number that the sheet claims, and to how many places.
type statement[D units.Dimension] struct {
	raw      sheet.Number // as stored
	number   sheet.Number // rounded to the places
	quantity units.Quantity[D]
	places   int
}

// agrees reports whether q, rounded to the places of the statement, is what it
// states. Half a step may be rounded either way: standards and spreadsheets differ
// on it.
func (s statement[D]) agrees(q units.Quantity[D], c *column[D]) bool {
	return q.Sub(s.quantity).Abs().MulInt(2).Cmp(c.step[s.places]) <= 0
}

// state reads a claim. ok is false if it is no number.
func (c *column[D]) state(cell *sheet.Cell) (s statement[D], ok bool) {
	if !cell.IsNumber {
		return c.stateText(cell)
	}
	s.raw, s.places = cell.Number, c.places
	if s.places < 0 {
		s.places = min(int(s.raw.Places), 9)
	}
	s.number = s.raw.Rounded(s.places)
	s.quantity = c.quantity(s.number)
	return s, true
}

// stateText reads a claim that has its unit with it.
func (c *column[D]) stateText(cell *sheet.Cell) (s statement[D], ok bool) {
	if s.quantity, ok = c.readText(cell.Text); !ok {
		return s, false
	}
	if s.places = c.places; s.places < 0 {
		s.places = 4
	}
	written := sheet.Notation{}.Cell(s.quantity.Rounded(c.unit, 9, units.HalfAwayZero).String())
	s.raw = written.Number
	s.number = s.raw.Rounded(s.places)
	return s, written.IsNumber
}

func (a *arithmetic[D]) check(w *window, t *tally) {
	a.known, a.stated, a.wrong = false, false, false
	cell := w.at(a.claim.spot)
	for i, c := range a.inputs {
		q, ok := c.read(w.at(c.spot))
		if !ok {
			a.unread(w, t, cell, c)
			return
		}
		a.in[i] = q
	}
	if a.value, a.known = a.formula.of(w, a.in); !a.known {
		if !cell.Blank() {
			t.observe(w, a.claim.spot, observation{severity: NotProven, claimed: cell.Text,
				causes: []explanation{{mistake: NoAnswer, says: "what it is recomputed from makes no sense"}}})
		}
		return
	}
	if cell.Blank() {
		return
	}
	t.claims++
	s, ok := a.claim.state(cell)
	if !ok {
		a.wrong = true
		t.observe(w, a.claim.spot, observation{severity: WrongValue, claimed: cell.Text, right: a.claim.shown(a.value, a.placesShown(cell)),
			causes:  []explanation{{mistake: NoNumber, says: fmt.Sprintf("%q is no number", short(cell.Text))}},
			working: a.working})
		return
	}
	a.claimed, a.stated = s.quantity, true
	if s.agrees(a.value, a.claim) || a.rightAfterAll(w, s) {
		a.recalculate(w, t, cell, s)
		return
	}
	a.wrong = true
	c := &situation[D]{arithmetic: a, window: w, stated: s, cell: cell}
	t.observe(w, a.claim.spot, observation{severity: WrongValue, claimed: cell.Text, right: a.claim.shown(a.value, s.places),
		causes: c.diagnose(), working: a.working})
}

// recalculate compares a right claim with what its formula gives now, if formulas
// are evaluated.
func (a *arithmetic[D]) recalculate(w *window, t *tally, cell *sheet.Cell, s statement[D]) {
	if a.stored == nil || cell.Formula() == "" {
		return
	}
	text, ok := a.stored(w.place(a.claim.spot))
	if !ok {
		return
	}
	evaluated := sheet.Notation{}.Cell(text)
	now, ok := a.claim.state(&evaluated)
	if !ok || s.agrees(now.quantity, a.claim) {
		return
	}
	t.observe(w, a.claim.spot, observation{severity: WrongValue, claimed: cell.Text, right: a.claim.shown(a.value, s.places), working: a.working,
		causes: []explanation{{mistake: Stale, says: fmt.Sprintf("what is stored is right, but the formula gives %s: it changes when the sheet is recalculated", a.claim.shown(now.quantity, s.places))}}})
}

// rightAfterAll reports whether the claim follows from what its inputs should be,
// where the sheet computes them and has them wrong: then the mistake is theirs.
func (a *arithmetic[D]) rightAfterAll(w *window, s statement[D]) bool {
	in, other := slices.Clone(a.in), false
	for i, above := range a.above {
		if above != nil && above.wrong && above.known {
			in[i], other = above.value, true
		}
	}
	if !other {
		return false
	}
	value, ok := a.formula.of(w, in)
	return ok && s.agrees(value, a.claim)
}

// unread says that a claim stands on a reading that is missing or no number.
func (a *arithmetic[D]) unread(w *window, t *tally, cell *sheet.Cell, c *column[D]) {
	if cell.Blank() {
		return
	}
	reading := w.at(c.spot)
	if !cell.IsNumber && reading.Blank() {
		return // a note or a heading where there are no readings
	}
	e := explanation{mistake: NoReading, says: fmt.Sprintf("%s is empty in %s", c.name, w.place(c.spot))}
	if !reading.Blank() {
		e = explanation{mistake: NoNumber, says: fmt.Sprintf("%s in %s, %q, is no number", c.name, w.place(c.spot), short(reading.Text))}
	}
	t.claims++
	t.observe(w, a.claim.spot, observation{severity: NotProven, claimed: cell.Text, causes: []explanation{e}})
}

func (a *arithmetic[D]) placesShown(cell *sheet.Cell) int {
	if a.claim.places >= 0 {
		return a.claim.places
	}
	return 4
}

// working shows the right value for the location just checked.
func (a *arithmetic[D]) working() units.Working {
	var numbers []string
	for i, c := range a.inputs {
		numbers = append(numbers, c.name+" "+a.in[i].Rounded(c.unit, 6, units.HalfAwayZero).String()+" "+c.unit.String())
	}
	return units.Working{
		Name:    a.claim.name,
		Formula: a.formula.text,
		Numbers: strings.Join(numbers, ", "),
		Result:  a.value.Rounded(a.claim.unit, 6, units.HalfAwayZero).String() + " " + a.claim.unit.String(),
		Source:  a.formula.source,
	}
}

// short cuts a text that is quoted in a sentence.
func short(text string) string {
	runes := []rune(text)
	if len(runes) <= 40 {
		return text
	}
	return string(runes[:40]) + "…"
}
