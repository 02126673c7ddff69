package job

import (
	"errors"
	"fmt"
	"math/big"
	"slices"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A limit is typed too, and one that is ten times too wide hides what it should show. It is
// never changed: whoever typed it is asked, and answers by its key under sure. What is asked
// after follows from the limits themselves and from what was read, and from no maker's
// figures (common practice, no source):
//
//   - of two limits on one side of zero, the wider is more than ten times the narrower;
//   - diameters are allowed to differ by more than a fiftieth: in the size of a crankshaft's
//     parts that is coarser than grade 14 of ISO 286-1;
//   - a taper or an out-of-round may be more than the limits of its diameter are apart;
//   - of a limit that stands alone, or has zero between it and the other, everything that was
//     read is within a tenth: what met the limit that was meant does so where that was typed
//     with its decimal point one place off.
const (
	farApart  = 10 // times
	coarse    = 50 // parts
	underused = 10 // times
)

// asksLimits says why limits are asked after; nothing if they are plausible. read is all
// that was read against them.
func asksLimits[D units.Dimension](limits units.Interval[D], read []units.Interval[D], u units.Unit[D]) string {
	if limits.IsEmpty() {
		return ""
	}
	if limits.Bounded() && limits.Lo().Sign()*limits.Hi().Sign() > 0 {
		near, far := limits.Lo(), limits.Hi()
		if near.Sign() < 0 {
			near, far = far, near
		}
		if !near.Abs().MulInt(farApart).Less(far.Abs()) {
			return ""
		}
		tenth := far.MulRat(big.NewRat(1, farApart))
		return fmt.Sprintf("its limits are %s and %s, one more than ten times the other; was %s meant, or %s?",
			limits.Lo().Written(u), limits.Hi().Written(u), tenth.Written(u), near.MulInt(farApart).Written(u))
	}
	if limits.Bounded() && limits.Lo().Neg().Equal(limits.Hi()) {
		return "" // typed twice alike
	}
	for _, end := range []struct {
		limit units.Quantity[D]
		there bool
		above bool
	}{{hiOf(limits), limits.HasHi(), true}, {loOf(limits), limits.HasLo(), false}} {
		if !end.there || end.limit.IsZero() {
			continue
		}
		if meant, ok := tenTimes(end.limit, end.above, read); ok {
			return fmt.Sprintf("its limit is %s, ten times as wide as what was read needs; was %s meant?", end.limit.Written(u), meant.Written(u))
		}
	}
	return ""
}

// tenTimes reports whether all that was read would meet a limit ten times as narrow, which
// it returns. above says that the limit is the upper one.
func tenTimes[D units.Dimension](limit units.Quantity[D], above bool, read []units.Interval[D]) (meant units.Quantity[D], ok bool) {
	meant = limit.MulRat(big.NewRat(1, underused))
	if above != (limit.Sign() > 0) { // a lower limit above zero is narrower where it is larger
		meant = limit.MulInt(underused)
	}
	for _, r := range read {
		switch {
		case r.IsEmpty():
			continue
		case above && (!r.HasHi() || meant.Less(r.Hi())), !above && (!r.HasLo() || r.Lo().Less(meant)):
			return meant, false
		}
		ok = true
	}
	return meant, ok
}

// errTooWide refuses a size of a part that may be half as large again or more.
var errTooWide = errors.New("from the one to the other it grows by half; look at the decimal points")

// tooWide reports whether the size of a part, which has two bounds, is one that no part is
// made to.
func tooWide(size units.LengthInterval) bool {
	return size.Lo().MulInt(3).Less(size.Hi().MulInt(2))
}

// hiOf and loOf are the bounds of an interval; zero for one that it does not have.
func hiOf[D units.Dimension](a units.Interval[D]) (q units.Quantity[D]) {
	if a.HasHi() {
		return a.Hi()
	}
	return q
}

func loOf[D units.Dimension](a units.Interval[D]) (q units.Quantity[D]) {
	if a.HasLo() {
		return a.Lo()
	}
	return q
}

// asksForm says why the limits of a size, or of one of its forms, are asked after.
func (m *measured) asksForm(quantity string, u units.LengthUnit) string {
	of, limits := m.limits[diameter], m.limits[quantity]
	switch {
	case m.form != size || !of.Bounded() || limits.IsEmpty():
	case quantity == diameter && of.Hi().Less(of.Width().MulInt(coarse)):
		return fmt.Sprintf("its limits, %s, are more than a fiftieth apart; was that meant?", of.Written(u))
	case quantity != diameter && limits.HasHi() && of.Width().Less(limits.Hi()):
		return fmt.Sprintf("its limit, %s, is wider than those of its diameter, %s, are apart; was that meant?", limits.Hi().Written(u), of.Width().Written(u))
	}
	return ""
}

// ask asks after the limits of a quantity, if there is reason to: what they would prove is
// not proven until the question is answered.
func (g *Group) ask(m *measured, quantity, why string) {
	key := m.keyOf(quantity)
	if why == "" || slices.Contains(m.sureOf, key) {
		return
	}
	g.question = fmt.Sprintf("%s: %s Look in the manual, and if it stands write sure = [%q] in its table", itemName(g.Name, "", g.Quantity), why, key)
	for i := range g.Findings {
		if f := &g.Findings[i]; f.standing() == Proven {
			f.Slip, f.Verdict = g.question, measure.Undecided
		}
	}
}

// keyOf is the key of a quantity's limits.
func (m *measured) keyOf(quantity string) string {
	for _, q := range m.quantities() {
		if q.quantity == quantity {
			return q.key
		}
	}
	return "limits"
}
