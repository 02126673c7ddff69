package check

import (
	"fmt"
	"math/big"

	"example.com/closefit/units"
)

// readings looks at a column of numbers for itself: numbers stored as text, and
// readings far from their nominal size that would be near it with the decimal
// point moved or in another unit.
type readings[D units.Dimension] struct {
	*column[D]
	claimed bool // by a check of its own, which looks at the value
}

func (r readings[D]) check(w *window, t *tally) {
	cell := w.at(r.spot)
	if cell.Blank() {
		return
	}
	q, ok := r.read(cell)
	if !ok {
		return // said by the checks that need it
	}
	if _, isNumber := cell.Numeral(); isNumber && cell.AsText {
		t.observe(w, r.spot, observation{severity: Style, claimed: cell.Text, right: cell.Text,
			causes: []explanation{{mistake: StoredText, says: fmt.Sprintf("%q is stored as text, which sums leave out and comparisons hold greater than any number", short(cell.Text))}}})
	}
	if r.claimed {
		return
	}
	nominal, _, ok := r.nominalIn(w)
	if !ok || near(q, nominal) {
		return
	}
	t.observe(w, r.spot, observation{severity: WrongValue, claimed: cell.Text, right: "near " + nominal.Format(r.unit, 3, units.HalfAwayZero), causes: r.slips(q, nominal)})
}

// near reports whether a reading is within a tenth of its nominal size: wear and
// regrinding stay far inside that, slips far outside.
func near[D units.Dimension](q, nominal units.Quantity[D]) bool {
	return q.Sub(nominal).Abs().MulInt(10).Cmp(nominal.Abs()) <= 0
}

func (r readings[D]) slips(q, nominal units.Quantity[D]) []explanation {
	for _, m := range moves() {
		if near(q.MulRat(new(big.Rat).Inv(m.factor)), nominal) {
			return []explanation{{mistake: DecimalPoint, says: "the decimal point is moved " + m.says}}
		}
	}
	n := q.Rat(r.unit)
	for _, u := range units.Units[D]() {
		if confusable(u, r.unit) && near(u.OfRat(n), nominal) {
			return []explanation{{mistake: confusion(u, r.unit), says: fmt.Sprintf("its unit would be %s, and the cells have %s", u, r.unit)}}
		}
	}
	half, twice := big.NewRat(1, 2), big.NewRat(2, 1)
	switch {
	case near(q.MulRat(twice), nominal):
		return []explanation{{mistake: Radius, says: "it is half its nominal size"}}
	case near(q.MulRat(half), nominal):
		return []explanation{{mistake: Radius, says: "it is twice its nominal size"}}
	}
	return []explanation{{mistake: FarOff, says: "it is more than a tenth off its nominal size"}}
}
