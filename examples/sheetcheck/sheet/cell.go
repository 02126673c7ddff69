package sheet

import "strings"

// A Cell is what a file holds at one place.
type Cell struct {
	Text    string // as stored, not as shown
	Formula string // behind the text, without the leading "="; empty if there is none or the file does not say
	AsText  bool   // a workbook holds it as text, whatever it looks like

	comma bool   // the file's numbers have a decimal comma
	array *Place // the first cell of the array formula that fills it
}

// Array returns the first cell of the array formula that fills the cell, of which each
// cell holds one element; ok is false if none does.
func (c *Cell) Array() (first Place, ok bool) {
	if c.array == nil {
		return Place{}, false
	}
	return *c.array, true
}

// Blank reports whether the cell has nothing in it to be seen.
func (c *Cell) Blank() bool { return strings.TrimSpace(c.Text) == "" }

// IsError reports whether the cell holds the error value of a spreadsheet, such as
// "#REF!" or "#N/A".
func (c *Cell) IsError() bool {
	text := strings.TrimSpace(c.Text)
	return len(text) > 3 && text[0] == '#' && text == strings.ToUpper(text) && (strings.HasSuffix(text, "!") || strings.HasSuffix(text, "?") || text == "#N/A")
}

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
