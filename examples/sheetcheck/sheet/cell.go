package sheet

import "strings"

// A Cell is what a file holds at one place.
type Cell struct {
	Text    string // as stored, not as shown
	Formula string // behind the text, without the leading "="; empty if there is none or the file does not say
	AsText  bool   // a workbook holds it as text, whatever it looks like

	comma bool   // the file's numbers have a decimal comma
	style uint16 // in its Grid; 0 where rows are read one by one
	array *Array // that fills it; nil where rows are read one by one
}

// Array returns the array formula that fills the cell; ok is false if none does, and where
// rows are read one by one.
func (c *Cell) Array() (a Array, ok bool) {
	if c.array == nil {
		return a, false
	}
	return *c.array, true
}

// A Kind is what a cell's value is.
type Kind uint8

const (
	KindNone Kind = iota // no value: a blank cell, or a formula without a stored value
	KindNumber
	KindText
	KindBool  // TRUE or FALSE
	KindError // an error value, such as #N/A
)

// Kind returns what the cell's value is. A text file does not say: there what reads as a
// number is one. A formula that gives an empty text has a value, of KindText.
func (c *Cell) Kind() Kind {
	switch {
	case c.AsText:
		return KindText
	case c.Text == "":
		return KindNone
	case c.Text == "TRUE" || c.Text == "FALSE":
		return KindBool
	case c.IsError():
		return KindError
	}
	if _, ok := c.Numeral(); ok {
		return KindNumber
	}
	return KindText
}

// holds reports whether anything is in the cell, be it not to be seen.
func (c *Cell) holds() bool { return c.Text != "" || c.Formula != "" }

// Blank reports whether the cell has nothing in it to be seen.
func (c *Cell) Blank() bool { return strings.TrimSpace(c.Text) == "" }

// IsError reports whether the cell holds the error value of a spreadsheet, such as
// "#REF!" or "#N/A".
func (c *Cell) IsError() bool {
	if c.Text == "" || c.Text[0] > '#' && c.Text[0] != 'E' && c.Text[0] < 0x80 {
		return false
	}
	text := strings.TrimSpace(c.Text)
	if digits, ok := strings.CutPrefix(text, "Err:"); ok { // of an OpenDocument sheet
		return len(digits) == 3 && strings.Trim(digits, "0123456789") == ""
	}
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
