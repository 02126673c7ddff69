package sheet

import "strings"

// A Cell is what a file holds at one place.
type Cell struct {
	Text     string // as stored, not as shown
	Number   Number // what the text is as a number
	IsNumber bool   // whether it is one
	note     *note  // what a workbook says beside the value; nil for nothing
}

// A note is what few cells have.
type note struct {
	formula string
	asText  bool
}

// Formula returns the cell's formula without the leading "="; nothing if there is
// none or the file does not say.
func (c *Cell) Formula() string {
	if c.note == nil {
		return ""
	}
	return c.note.formula
}

// AsText reports whether a workbook holds the cell as text, whatever it looks like.
func (c *Cell) AsText() bool { return c.note != nil && c.note.asText }

// Blank reports whether the cell has nothing in it to be seen.
func (c *Cell) Blank() bool { return strings.TrimSpace(c.Text) == "" }

// A Row is the cells of one row, Cells[0] in column A. Rows end with their last
// cell that is not blank, or sooner.
type Row struct {
	Number int // from 1
	Cells  []Cell
}

// Cell returns the cell in a column, counted from 1; a blank one past the end.
func (r *Row) Cell(column int) *Cell {
	if r == nil || column < 1 || column > len(r.Cells) {
		return &Cell{}
	}
	return &r.Cells[column-1]
}
