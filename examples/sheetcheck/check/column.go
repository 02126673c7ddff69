package check

import (
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units"
)

// steps is how many numbers of places have their step worked out beforehand.
const steps = 20

// A column is a kind of cell that holds quantities of one dimension.
type column[D units.Dimension] struct {
	spot
	name   string
	unit   units.Unit[D]
	comma  bool // texts of the file have a decimal comma
	places int  // the sheet's own rounding; below zero for as written

	step      [steps]units.Quantity[D] // 10^-i of the unit
	doubt     units.Quantity[D]        // expanded uncertainty of a reading; zero if exact
	nominal   *units.Quantity[D]
	nominalAt *spot
}

func newColumn[D units.Dimension](name string, s spot, unit units.Unit[D]) *column[D] {
	c := &column[D]{spot: s, name: name, unit: unit, places: -1}
	for i := range c.step {
		c.step[i] = unit.Of(decimal.New(1, int32(-i)))
	}
	return c
}

// quantity returns a number of the column's unit.
func (c *column[D]) quantity(n sheet.Number) units.Quantity[D] {
	if n.Places < steps {
		return c.step[n.Places].MulInt(n.Coefficient)
	}
	return c.unit.Of(decimal.New(n.Coefficient, -n.Places))
}

// read reads a cell. A number has the column's unit; a text may have a unit of
// its own. ok is false if it is neither.
func (c *column[D]) read(cell *sheet.Cell) (q units.Quantity[D], ok bool) {
	if cell.IsNumber {
		return c.quantity(cell.Number), true
	}
	return c.readText(cell.Text)
}

func (c *column[D]) readText(text string) (q units.Quantity[D], ok bool) {
	text = strings.Trim(text, " '\u00a0\u202f\t")
	if text == "" {
		return q, false
	}
	if c.comma {
		text = strings.Replace(text, ",", ".", 1)
	}
	return q, q.UnmarshalText([]byte(text)) == nil
}

// shown writes q to so many places, with the unit.
func (c *column[D]) shown(q units.Quantity[D], places int) string {
	return q.Format(c.unit, int32(places), units.HalfAwayZero)
}
