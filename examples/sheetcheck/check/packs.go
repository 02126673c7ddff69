package check

import (
	"fmt"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units"
)

// packs checks how many packs a sheet orders of a part that comes in packs.
type packs struct {
	spot
	name         string
	needed, size spot
	stock        *spot // nil if none is counted
}

// mostPieces bounds the numbers of pieces that make sense.
const mostPieces = 1_000_000

func (p *packs) check(w *window, t *tally) {
	cell := w.at(p.spot)
	if cell.Blank() {
		return
	}
	needed, okNeeded := count(w, p.needed)
	size, okSize := count(w, p.size)
	stock, okStock := 0, true
	if p.stock != nil && !w.at(*p.stock).Blank() {
		stock, okStock = count(w, *p.stock)
	}
	claimed, okClaimed := count(w, p.spot)
	if !okNeeded || !okSize || !okStock || size == 0 {
		if okClaimed {
			t.claims++
			t.observe(w, p.spot, observation{severity: NotProven, claimed: cell.Text, causes: []explanation{{mistake: NoReading, says: "the pieces needed, in stock and in a pack are not all numbers of pieces"}}})
		}
		return
	}
	t.claims++
	right := packsFor(needed-stock, size)
	if okClaimed && claimed == right {
		return
	}
	o := observation{severity: WrongValue, claimed: cell.Text, right: fmt.Sprintf("%d packs", right), working: func() units.Working {
		return units.Working{Name: p.name, Formula: "(needed - stock) / pieces in a pack, upward", Numbers: fmt.Sprintf("(%d - %d) / %d", needed, stock, size), Result: fmt.Sprintf("%d packs", right)}
	}}
	if !okClaimed {
		o.causes = []explanation{{mistake: NoNumber, says: fmt.Sprintf("%q is no number of packs", short(cell.Text))}}
		t.observe(w, p.spot, o)
		return
	}
	o.causes = p.diagnose(w, cell, claimed, needed, stock, size)
	t.observe(w, p.spot, o)
}

// packsFor returns how many packs hold so many pieces.
func packsFor(pieces, size int) int { return (max(pieces, 0) + size - 1) / size }

// count reads a number of pieces.
func count(w *window, s spot) (int, bool) {
	n, ok := w.at(s).Number()
	if !ok || !n.IsInteger() || n.Sign() < 0 || n.NumDigits() > 15 || n.IntPart() > mostPieces {
		return 0, false // part of a piece, or beyond all sense
	}
	return int(n.IntPart()), true
}

func (p *packs) diagnose(w *window, cell *sheet.Cell, claimed, needed, stock, size int) []explanation {
	var found []explanation
	try := func(value int, mistake, says string, uses, omits []sheet.Place) {
		if value == claimed {
			found = append(found, explanation{mistake: mistake, says: says, uses: uses, omits: omits})
		}
	}
	if p.stock != nil {
		at := []sheet.Place{w.place(*p.stock)}
		try(packsFor(needed, size), LeftOut, "the stock is left out", nil, at)
		try(packsFor(needed+stock, size), Added, "the stock is added", at, nil)
	}
	try(max(needed-stock, 0)/size, CutOff, "a part of a pack is left off: it has to be bought", nil, nil)
	try(max(needed-stock, 0), OtherUnit, "pieces are ordered where packs are meant", nil, []sheet.Place{w.place(p.size)})
	try(packsFor(2*needed-stock, size), OtherRule, "the pieces are counted twice over", nil, nil)
	for _, row := range []*sheet.Row{w.previous, w.next} {
		if row == nil {
			continue
		}
		there := w.seenFrom(row)
		if n, ok := count(there, p.needed); ok {
			at := there.place(p.needed)
			try(packsFor(n-stock, size), Neighbour, fmt.Sprintf("%s is taken for the pieces needed", at), []sheet.Place{at}, nil)
		}
		if n, ok := count(there, p.size); ok && n > 0 {
			at := there.place(p.size)
			try(packsFor(needed-stock, n), Neighbour, fmt.Sprintf("%s is taken for the pieces in a pack", at), []sheet.Place{at}, nil)
		}
	}
	return ranked(found, cell.Formula)
}
