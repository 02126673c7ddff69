package calc

import "example.com/closefit/examples/sheetcheck/sheet"

// A Book is a workbook whose formulas are evaluated. Sheets are numbered from 0 in the
// order of Sheets. Its answers must not change.
type Book interface {
	// Sheets returns the names of the sheets.
	Sheets() []string
	// Extent returns the last row and the last column of a sheet in which anything is.
	Extent(index int) (row, column int)
	// Cell returns a cell, or nil if nothing is there. It is not changed.
	Cell(index int, at sheet.Place) *sheet.Cell
	// Hidden reports whether a row is not shown, and whether that is a filter's doing.
	Hidden(index, row int) (hidden, filtered bool)
	// Formula returns what a name stands for, without the equals sign: the sheet's own
	// name, or else the workbook's. The index is below 0 if no sheet is asked for.
	Formula(index int, name string) (formula string, ok bool)
	// Table returns the table of a name.
	Table(name string) (t sheet.Table, ok bool)
}
