package check

import (
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A window is a location and its neighbours, as rows: in a table whose locations
// stand side by side, the columns of the sheet are the rows here.
type window struct {
	current        *sheet.Row
	previous, next *sheet.Row // nil past the table's ends
	first          *sheet.Row
	across         bool
	fixed          map[sheet.Place]sheet.Cell
}

// A spot is where a kind of cell stands: in a line that every location has, or in
// the one cell for all.
type spot struct {
	line int // a column; in a table across, a row of the sheet
	cell sheet.Place
}

// at returns the cell of the spot in the current location.
func (w *window) at(s spot) *sheet.Cell { return w.in(w.current, s) }

func (w *window) in(row *sheet.Row, s spot) *sheet.Cell {
	if s.line == 0 {
		cell := w.fixed[s.cell]
		return &cell
	}
	return row.Cell(s.line)
}

// place returns where on the sheet the spot is, for the current location.
func (w *window) place(s spot) sheet.Place { return w.placeIn(w.current, s) }

func (w *window) placeIn(row *sheet.Row, s spot) sheet.Place {
	switch {
	case s.line == 0:
		return s.cell
	case w.across:
		return sheet.Place{Row: s.line, Column: row.Number}
	}
	return sheet.Place{Row: row.Number, Column: s.line}
}

// seenFrom returns the window with another of its rows for the current one.
func (w *window) seenFrom(row *sheet.Row) *window {
	shifted := *w
	shifted.current = row
	return &shifted
}
