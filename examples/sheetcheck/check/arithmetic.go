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
	doubt   units.Quantity[D] // expanded uncertainty of the value
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
	doubt := f.doubt(inputs)
	if f.extremes {
		doubt = extremes(inputs)
	}
	return &arithmetic[D]{claim: claim, inputs: inputs, formula: f, doubt: doubt, in: make([]units.Quantity[D], len(inputs))}
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
				causes: []explanation{{mistake: NoAnswer, says: noSense}}})
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
		t.observe(w, a.claim.spot, observation{severity: WrongValue, claimed: cell.Text, right: a.claim.shown(a.value),
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
	t.observe(w, a.claim.spot, observation{severity: WrongValue, claimed: cell.Text, right: a.claim.shown(a.value),
		causes: c.diagnose(), working: a.working})
}

// recalculate compares a right claim with what its formula gives now, if formulas
// are evaluated.
func (a *arithmetic[D]) recalculate(w *window, t *tally, cell *sheet.Cell, s statement[D]) {
	if a.stored == nil || cell.Formula == "" {
		return
	}
	given, ok := a.stored(w.place(a.claim.spot))
	if !ok {
		return
	}
	now, ok := a.claim.state(&sheet.Cell{Text: given.Binary.String()})
	if !ok || s.agrees(now.quantity, a.claim) {
		return
	}
	t.observe(w, a.claim.spot, observation{severity: WrongValue, claimed: cell.Text, right: a.claim.shown(a.value), working: a.working,
		causes: []explanation{{mistake: Stale, says: fmt.Sprintf("the stored value is right, but the formula gives %s: it changes when the sheet is recalculated", a.claim.shown(now.quantity))}}})
}

// noSense is said of inputs that no value follows from.
const noSense = "its inputs make no sense"

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
	if _, isNumber := cell.Numeral(); !isNumber && w.at(c.spot).Blank() {
		return // a note or a heading where there are no readings
	}
	t.claims++
	t.observe(w, a.claim.spot, observation{severity: NotProven, claimed: cell.Text, causes: []explanation{c.lack(w)}})
}

// lacks says why there is no value in the location just checked.
func (a *arithmetic[D]) lacks(w *window) *explanation {
	for _, c := range a.inputs {
		if _, ok := c.read(w.at(c.spot)); !ok {
			e := c.lack(w)
			return &e
		}
	}
	return &explanation{mistake: NoAnswer, says: noSense}
}

// working shows the right value for the location just checked.
func (a *arithmetic[D]) working() units.Working {
	var numbers []string
	for i, c := range a.inputs {
		numbers = append(numbers, c.name+" "+a.in[i].Written(c.unit))
	}
	return units.Working{
		Name:    a.claim.name,
		Formula: a.formula.text,
		Numbers: strings.Join(numbers, ", "),
		Result:  a.value.Written(a.claim.unit),
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
