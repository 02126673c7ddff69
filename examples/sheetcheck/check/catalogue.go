package check

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"
	"strconv"

	"github.com/shopspring/decimal"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units"
)

// A situation is a claimed value that is wrong, with all that a mistake may have
// drawn on.
type situation[D units.Dimension] struct {
	*arithmetic[D]
	window *window
	stated statement[D]
	cell   *sheet.Cell
	found  []explanation
}

// A mistake adds to the situation's explanations the ways in which somebody who
// makes it comes to the value found.
type mistake[D units.Dimension] func(*situation[D])

// catalogue returns the mistakes of every formula, the likeliest first. Those that
// change a value a lot come before those that change it a little: a value far off
// is hardly ever explained by chance.
func catalogue[D units.Dimension]() []mistake[D] {
	return []mistake[D]{
		(*situation[D]).storedText,
		(*situation[D]).stale,
		(*situation[D]).ownSlips,
		(*situation[D]).otherUnit,
		(*situation[D]).decimalPoint,
		(*situation[D]).radius,
		(*situation[D]).wrongWay,
		(*situation[D]).digitsExchanged,
		(*situation[D]).readingInOtherUnit,
		(*situation[D]).readingDecimalPoint,
		(*situation[D]).nominal,
		(*situation[D]).neighbour,
		(*situation[D]).absolute,
		(*situation[D]).cutOff,
	}
}

// diagnose returns the explanations, likeliest first: those that the cell's formula
// speaks for, then those of which it says nothing, then those it speaks against;
// among these in the order of the catalogue. Each mistake is named once.
func (s *situation[D]) diagnose() []explanation {
	for _, m := range catalogue[D]() {
		m(s)
	}
	return ranked(s.found, s.cell.Formula)
}

func ranked(found []explanation, formula string) []explanation {
	for i := range found {
		found[i].score = evidence(&found[i], formula)
	}
	slices.SortStableFunc(found, func(a, b explanation) int { return cmp.Compare(b.score, a.score) })
	var once []explanation
	for _, e := range found {
		if !has(once, e.mistake) {
			once = append(once, e)
		}
	}
	return once
}

// evidence says whether the formula speaks for an explanation (above zero) or
// against it.
func evidence(e *explanation, formula string) int {
	if formula == "" || len(e.uses)+len(e.omits) == 0 {
		return e.score
	}
	ranges := sheet.Ranges(formula)
	reads := func(p sheet.Place) bool {
		return slices.ContainsFunc(ranges, func(r sheet.Range) bool { return r.Holds(p) })
	}
	score := 1
	for _, p := range e.uses {
		if !reads(p) {
			return -1
		}
		fixed := slices.ContainsFunc(ranges, func(r sheet.Range) bool { return r.Holds(p) && (r.From.RowFixed || r.From.ColumnFixed) })
		if fixed && e.mistake == Absolute {
			score = 2
		}
	}
	for _, p := range e.omits {
		if reads(p) {
			return -1
		}
	}
	return score
}

// try adds the explanation if the value is the one found.
func (s *situation[D]) try(value units.Quantity[D], mistake, says string, uses, omits []sheet.Place) {
	if s.stated.agrees(value, s.claim) {
		s.found = append(s.found, explanation{mistake: mistake, says: says, uses: uses, omits: omits})
	}
}

// with recomputes with another value for one input.
func (s *situation[D]) with(i int, q units.Quantity[D]) (units.Quantity[D], bool) {
	in := slices.Clone(s.in)
	in[i] = q
	return s.formula.of(s.window, in)
}

func (s *situation[D]) tryWith(i int, q units.Quantity[D], mistake, says string, uses ...sheet.Place) {
	if value, ok := s.with(i, q); ok {
		var omits []sheet.Place
		if len(uses) > 0 {
			omits = []sheet.Place{s.place(i)}
		}
		s.try(value, mistake, says, uses, omits)
	}
}

// place returns where an input stands.
func (s *situation[D]) place(i int) sheet.Place { return s.window.place(s.inputs[i].spot) }

// named returns an input's name and place: "journal in E7".
func (s *situation[D]) named(i int) string { return s.inputs[i].label(s.window) }

func (s *situation[D]) storedText() {
	for i, c := range s.inputs {
		if s.window.at(c.spot).AsText {
			s.tryWith(i, units.Quantity[D]{}, StoredText, s.named(i)+" is stored as text, which sums leave out")
		}
	}
}

// stale needs the formula's value.
func (s *situation[D]) stale() {
	if s.cell.Formula == "" || s.stored == nil {
		return
	}
	given, ok := s.stored(s.window.place(s.claim.spot))
	if !ok {
		return
	}
	now, ok := s.claim.state(&sheet.Cell{Text: given.Binary.String()})
	if ok && now.agrees(s.value, s.claim) {
		s.found = append(s.found, explanation{mistake: Stale, score: 3,
			says: fmt.Sprintf("the formula gives %s now; the file was saved without being recalculated", s.claim.shown(now.quantity))})
	}
}

func (s *situation[D]) ownSlips() {
	for _, slip := range s.formula.slips {
		var omits []sheet.Place
		for _, i := range slip.omits {
			omits = append(omits, s.place(i))
		}
		s.try(slip.of(s.window, s.in), slip.mistake, slip.says, nil, omits)
	}
}

// otherUnit: the number is right in a unit that is not the cell's.
func (s *situation[D]) otherUnit() {
	n := significant(s.number())
	if n.NumDigits() < 2 {
		return // one digit agrees with anything
	}
	for _, u := range units.Units[D]() {
		if !confusable(u, s.claim.unit) {
			continue
		}
		stated := statement[D]{quantity: u.Of(n), places: int(max(0, -n.Exponent()))}
		if stated.agrees(s.value, newColumn(s.claim.name, s.claim.spot, u)) {
			s.found = append(s.found, explanation{mistake: confusion(u, s.claim.unit), says: fmt.Sprintf("%s would be right if its unit were %s, and the cell has %s", n, u, s.claim.unit)})
		}
	}
}

// number returns the number that the cell holds, in the cell's unit.
func (s *situation[D]) number() decimal.Decimal {
	if n, ok := s.cell.Number(); ok {
		return n
	}
	return s.stated.quantity.Rounded(s.claim.unit, 9, units.HalfAwayZero)
}

// significant rounds a number to six digits, where binary residue does not reach.
func significant(n decimal.Decimal) decimal.Decimal {
	return n.Round(-n.Exponent() - int32(max(0, n.NumDigits()-6)))
}

func (s *situation[D]) readingInOtherUnit() {
	for i, c := range s.inputs {
		n := s.in[i].Rat(c.unit)
		for _, u := range units.Units[D]() {
			if confusable(u, c.unit) {
				s.tryWith(i, u.OfRat(n), confusion(u, c.unit), fmt.Sprintf("%s is taken to have the unit %s", s.named(i), u))
			}
		}
	}
}

// confusable reports whether one of two units can be taken for the other without
// the number being absurd, and without it looking like a moved decimal point.
func confusable[D units.Dimension](a, b units.Unit[D]) bool {
	most := big.NewRat(50, 1)
	r := new(big.Rat).Quo(a.Factor(), b.Factor())
	return r.Cmp(most) < 0 && r.Cmp(new(big.Rat).Inv(most)) > 0 && !powerOfTen(a, b)
}

// powerOfTen reports whether two units differ by a power of ten alone, so that
// confusing them moves the decimal point.
func powerOfTen[D units.Dimension](a, b units.Unit[D]) bool {
	r := new(big.Rat).Quo(a.Factor(), b.Factor())
	if r.Cmp(big.NewRat(1, 1)) < 0 {
		r.Inv(r)
	}
	ten := big.NewRat(10, 1)
	for r.Cmp(big.NewRat(1, 1)) > 0 {
		r.Quo(r, ten)
	}
	return r.Cmp(big.NewRat(1, 1)) == 0
}

// confusion names the confusion of two units.
func confusion[D units.Dimension](a, b units.Unit[D]) string {
	pair := []string{a.String(), b.String()}
	slices.Sort(pair)
	switch fmt.Sprint(pair) {
	case "[in mm]", "[in µm]":
		return Inch
	case "[lbf·ft lbf·in]":
		return FootPounds
	}
	return OtherUnit
}

func (s *situation[D]) decimalPoint() {
	for _, m := range moves() {
		s.try(s.value.MulRat(m.factor), DecimalPoint, "the decimal point is moved "+m.says, nil, nil)
	}
}

func (s *situation[D]) readingDecimalPoint() {
	for i := range s.inputs {
		for _, m := range moves()[:2] {
			s.tryWith(i, s.in[i].MulRat(m.factor), DecimalPoint, fmt.Sprintf("the decimal point of %s is moved %s", s.named(i), m.says))
		}
	}
}

type move struct {
	factor *big.Rat
	says   string
}

// moves are the ways to move a decimal point, the likeliest first.
func moves() []move {
	return []move{
		{big.NewRat(10, 1), "one place to the right"},
		{big.NewRat(1, 10), "one place to the left"},
		{big.NewRat(100, 1), "two places to the right"},
		{big.NewRat(1, 100), "two places to the left"},
		{big.NewRat(1000, 1), "three places to the right"},
		{big.NewRat(1, 1000), "three places to the left"},
	}
}

func (s *situation[D]) radius() {
	if _, isLength := any(s.value).(units.Length); !isLength {
		return
	}
	half, twice := big.NewRat(1, 2), big.NewRat(2, 1)
	s.try(s.value.MulRat(half), Radius, "half the value: the radial one", nil, nil)
	s.try(s.value.MulRat(twice), Radius, "twice the value: the radial one taken for the diametral and doubled", nil, nil)
	for i := range s.inputs {
		s.tryWith(i, s.in[i].MulRat(half), Radius, s.named(i)+" is halved")
		s.tryWith(i, s.in[i].MulRat(twice), Radius, s.named(i)+" is doubled")
	}
}

func (s *situation[D]) wrongWay() {
	s.try(s.value.Neg(), WrongWay, "the sign is turned", nil, nil)
}

// digitsExchanged: two digits next to one another have changed places.
func (s *situation[D]) digitsExchanged() {
	digits := []byte(s.number().StringFixed(int32(s.stated.places)))
	for i := 1; i < len(digits); i++ {
		before := i - 1
		if digits[before] == '.' {
			before--
		}
		if before < 0 || digits[i] == '.' || digits[before] == '-' || digits[i] == digits[before] {
			continue
		}
		typed := slices.Clone(digits)
		typed[i], typed[before] = typed[before], typed[i]
		q, err := s.claim.unit.Parse(string(typed))
		if err == nil && (statement[D]{quantity: q, places: s.stated.places}).agrees(s.value, s.claim) {
			s.found = append(s.found, explanation{mistake: Digits, says: "two digits next to one another are exchanged"})
			return
		}
	}
}

func (s *situation[D]) nominal() {
	all, some := slices.Clone(s.in), 0
	for i, c := range s.inputs {
		nominal, at, ok := c.nominalIn(s.window)
		if !ok {
			continue
		}
		all[i] = nominal
		some++
		var uses []sheet.Place
		if at != (sheet.Place{}) {
			uses = append(uses, at)
		}
		s.tryWith(i, nominal, Nominal, fmt.Sprintf("%s is taken at its nominal size", s.named(i)), uses...)
	}
	if some > 1 {
		if value, ok := s.formula.of(s.window, all); ok {
			s.try(value, Nominal, "nominal sizes are taken in place of the readings", nil, nil)
		}
	}
}

// nominalIn returns a column's nominal size, and the cell that it is in.
func (c *column[D]) nominalIn(w *window) (q units.Quantity[D], at sheet.Place, ok bool) {
	switch {
	case c.nominalAt != nil:
		q, ok = c.read(w.at(*c.nominalAt))
		return q, w.place(*c.nominalAt), ok
	case c.nominal != nil:
		return *c.nominal, at, true
	}
	return q, at, false
}

// neighbour: a reading is taken from the row before or after, or from the column
// beside; or the whole value is the neighbour's.
func (s *situation[D]) neighbour() {
	w := s.window
	for _, row := range []*sheet.Row{w.previous, w.next} {
		if row == nil {
			continue
		}
		for i, c := range s.inputs {
			if c.line == 0 {
				continue
			}
			if q, ok := c.read(w.in(row, c.spot)); ok {
				at := w.placeIn(row, c.spot)
				s.tryWith(i, q, Neighbour, fmt.Sprintf("%s is taken in place of %s", at, s.named(i)), at)
			}
		}
		s.wholeRow(row, Neighbour, "the readings are those of %s")
	}
	for i, c := range s.inputs {
		if c.line == 0 {
			continue
		}
		for _, line := range []int{c.line - 1, c.line + 1} {
			beside := spot{line: line}
			if line == 0 || beside == s.claim.spot {
				continue
			}
			if q, ok := c.read(w.at(beside)); ok {
				at := w.place(beside)
				s.tryWith(i, q, Neighbour, fmt.Sprintf("%s is taken in place of %s", at, s.named(i)), at)
			}
		}
	}
}

// wholeRow tries the readings of another row.
func (s *situation[D]) wholeRow(row *sheet.Row, mistake, says string) {
	w := s.window.seenFrom(row)
	in := make([]units.Quantity[D], len(s.in))
	var uses []sheet.Place
	for i, c := range s.inputs {
		q, ok := c.read(w.at(c.spot))
		if !ok {
			return
		}
		in[i] = q
		uses = append(uses, w.place(c.spot))
	}
	line := "row " + strconv.Itoa(row.Number)
	if w.across {
		line = "column " + sheet.ColumnName(row.Number)
	}
	if value, ok := s.formula.of(w, in); ok {
		s.try(value, mistake, fmt.Sprintf(says, line), uses, nil)
	}
}

// absolute: a reference that stays at the first row when the formula is copied.
func (s *situation[D]) absolute() {
	w := s.window
	if w.first == nil || w.first.Number == w.current.Number {
		return
	}
	for i, c := range s.inputs {
		if c.line == 0 {
			continue
		}
		if q, ok := c.read(w.in(w.first, c.spot)); ok {
			at := w.placeIn(w.first, c.spot)
			s.tryWith(i, q, Absolute, fmt.Sprintf("%s is taken in every row in place of %s", at, c.name), at)
		}
	}
	s.wholeRow(w.first, Absolute, "the readings are those of %s everywhere")
}

func (s *situation[D]) cutOff() {
	cut := s.value.Rounded(s.claim.unit, int32(s.stated.places), units.TowardZero)
	if s.claim.unit.Of(cut).Equal(s.stated.quantity) {
		s.found = append(s.found, explanation{mistake: CutOff, says: "the digits past the last place are cut off"})
	}
}
