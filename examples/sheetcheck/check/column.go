package check

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// steps is how many numbers of places have their step worked out beforehand: those
// that a cell's number can have.
const steps = 31

// A column is a kind of cell that holds quantities of one dimension.
type column[D units.Dimension] struct {
	spot
	name   string
	unit   units.Unit[D]
	places int // the sheet's own rounding; below zero for as written

	step      [steps]units.Quantity[D] // 10^-i of the unit
	with      *measure.Instrument[D]   // that the readings were made with; nil if they are exact
	nominal   *units.Quantity[D]
	nominalAt *spot
}

func newColumn[D units.Dimension](name string, s spot, unit units.Unit[D]) *column[D] {
	c := &column[D]{spot: s, name: name, unit: unit, places: -1}
	for i := range c.step {
		c.step[i] = unit.Of(decimal.New(1, -int32(i)))
	}
	return c
}

// read reads a cell. A number has the column's unit; a text may have a unit of
// its own. ok is false if it is neither.
func (c *column[D]) read(cell *sheet.Cell) (q units.Quantity[D], ok bool) {
	s, _, ok := c.parse(cell)
	return s, ok
}

// parse is read, and says to how many places the number is written: below zero for a
// text.
func (c *column[D]) parse(cell *sheet.Cell) (q units.Quantity[D], places int, ok bool) {
	if n, places, ok := cell.Plain(); ok {
		return c.step[places].MulInt(n), places, true
	}
	text, ok := cell.Numeral()
	if !ok {
		return q, -1, q.UnmarshalText([]byte(cell.Pointed())) == nil // which wants a unit
	}
	_, behind, _ := strings.Cut(text, ".")
	q, err := c.unit.Parse(text)
	return q, len(behind), err == nil
}

// taken returns a reading of so much with the column's instrument.
func (c *column[D]) taken(q units.Quantity[D]) measure.Reading[D] {
	r, err := c.with.Indicate(c.name, q)
	if err != nil {
		panic("check: an instrument that was checked is refused: " + err.Error())
	}
	return r
}

// A statement is a quantity that the sheet claims, and to how many places.
type statement[D units.Dimension] struct {
	quantity units.Quantity[D]
	places   int
}

// textPlaces is to how many places a claim is taken that has its unit with it, where
// the map does not say.
const textPlaces = 4

// state reads a claim. ok is false if it is none.
func (c *column[D]) state(cell *sheet.Cell) (s statement[D], ok bool) {
	q, written, ok := c.parse(cell)
	s = statement[D]{quantity: q, places: c.places}
	switch {
	case !ok || s.places >= 0:
	case written >= 0:
		s.places = min(written, 9)
	default:
		s.places = textPlaces
	}
	if ok && written > s.places {
		s.quantity = c.rounded(q, s.places)
	}
	return s, ok
}

// rounded rounds as spreadsheets do, half away from zero.
func (c *column[D]) rounded(q units.Quantity[D], places int) units.Quantity[D] {
	d := q.Rounded(c.unit, int32(places), units.HalfAwayZero)
	if n := d.Shift(int32(places)); n.NumDigits() <= 18 { // as nearly always
		return c.step[places].MulInt(n.IntPart())
	}
	return c.unit.Of(d)
}

// agrees reports whether q, rounded to the places of the statement, is what it
// states. Half a step may be rounded either way: standards and spreadsheets differ
// on it.
func (s statement[D]) agrees(q units.Quantity[D], c *column[D]) bool {
	return q.Sub(s.quantity).Abs().MulInt(2).Cmp(c.step[s.places]) <= 0
}

// shown writes q with the sheet's own places, or else with those that it has.
func (c *column[D]) shown(q units.Quantity[D]) string {
	if c.places < 0 {
		return q.Written(c.unit)
	}
	return q.Format(c.unit, int32(c.places), units.HalfAwayZero)
}

// label names the column's cell of a location: "journal in E7".
func (c *column[D]) label(w *window) string { return fmt.Sprintf("%s in %s", c.name, w.place(c.spot)) }

// lack says what keeps a cell from being read.
func (c *column[D]) lack(w *window) explanation {
	cell := w.at(c.spot)
	if cell.Blank() {
		return explanation{mistake: NoReading, says: fmt.Sprintf("%s is empty in %s", c.name, w.place(c.spot))}
	}
	return explanation{mistake: NoNumber, says: fmt.Sprintf("%s, %q, is no number", c.label(w), short(cell.Text))}
}
