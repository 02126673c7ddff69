package calc

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// What of a file a Model holds at most: they keep it under some 200 MB.
const (
	mostCells = 2_500_000
	mostTexts = 64 << 20 // bytes of texts and formulas
)

// A Model is a spreadsheet file in memory, as a Book.
type Model struct {
	names  []string
	sheets []modelSheet
	named  map[string]string // formulas by "index!name" in small letters
	tables map[string]Table
}

// A modelSheet is the cells of a sheet that hold anything, row by row.
type modelSheet struct {
	rows   []modelRow
	row    []int32 // by number, where in rows it is from 1; 0 for an empty one
	column int     // the last
}

type modelRow struct {
	cells   []sheet.Cell
	columns []uint16 // of each
}

// Load reads a file whole. The error is a *sheet.BoundError for one that is too large.
func Load(ctx context.Context, f sheet.File) (*Model, error) {
	m := &Model{names: f.Sheets(), named: map[string]string{}, tables: map[string]Table{}}
	l := loader{}
	for _, name := range m.names {
		s := modelSheet{}
		for b, err := range f.Batches(ctx, name) {
			if err != nil {
				return nil, err
			}
			for i := range b.Rows {
				s.put(b.Rows[i].Number, l.row(b.Rows[i].Cells))
			}
			b.Release()
			switch {
			case l.held > mostCells:
				return nil, &sheet.BoundError{What: fmt.Sprintf("%d cells", l.held), Where: "sheet " + name, Most: fmt.Sprintf("%d are recalculated", mostCells)}
			case l.texts > mostTexts:
				return nil, &sheet.BoundError{What: fmt.Sprintf("%d MB of texts and formulas", l.texts>>20), Where: "sheet " + name, Most: fmt.Sprintf("%d MB are recalculated", mostTexts>>20)}
			}
		}
		m.sheets = append(m.sheets, s)
	}
	return m, m.define(ctx, f)
}

// define takes the names and tables of a workbook.
func (m *Model) define(ctx context.Context, f sheet.File) error {
	book, ok := f.(*sheet.Workbook)
	if !ok {
		return nil
	}
	names, err := book.Names(ctx)
	if err != nil {
		return err
	}
	for _, n := range names {
		index := -1
		if n.Sheet != "" {
			if index = slices.Index(m.names, n.Sheet); index < 0 {
				continue // of a sheet without cells
			}
		}
		m.Define(index, n.Name, n.Formula)
	}
	tables, err := book.Tables(ctx)
	if err != nil {
		return err
	}
	for _, t := range tables {
		m.AddTable(t.Name, Table{Index: slices.Index(m.names, t.Sheet), From: t.From, To: t.To, Columns: t.Columns, Headings: t.Headings, Totals: t.Totals})
	}
	return nil
}

// A loader copies cells into blocks, many rows to one.
type loader struct {
	cells       []sheet.Cell
	columns     []uint16
	held, texts int
}

// row copies the cells that hold anything.
func (l *loader) row(cells []sheet.Cell) (r modelRow) {
	if cap(l.cells)-len(l.cells) < len(cells) {
		l.cells, l.columns = make([]sheet.Cell, 0, max(4096, len(cells))), make([]uint16, 0, max(4096, len(cells)))
	}
	from := len(l.cells)
	for i := range cells {
		if c := &cells[i]; c.Text != "" || c.Formula != "" {
			l.cells, l.columns = append(l.cells, *c), append(l.columns, uint16(i+1))
			l.texts += len(c.Text) + len(c.Formula)
		}
	}
	to := len(l.cells)
	l.held += to - from
	return modelRow{l.cells[from:to:to], l.columns[from:to:to]}
}

func (s *modelSheet) put(number int, r modelRow) {
	if len(r.cells) == 0 {
		return
	}
	for len(s.row) <= number {
		s.row = append(s.row, 0)
	}
	s.rows = append(s.rows, r)
	s.row[number] = int32(len(s.rows))
	s.column = max(s.column, int(r.columns[len(r.columns)-1]))
}

// Define gives a name to a formula: one sheet's own name, or for an index below 0 the
// workbook's. The first of several counts.
func (m *Model) Define(index int, name, formula string) {
	key := fmt.Sprint(index, "!", strings.ToLower(name))
	if _, double := m.named[key]; !double {
		m.named[key] = formula
	}
}

// AddTable adds a table.
func (m *Model) AddTable(name string, t Table) { m.tables[strings.ToLower(name)] = t }

// Sheets returns the names of the sheets.
func (m *Model) Sheets() []string { return m.names }

// Extent returns the last row and the last column of a sheet in which anything is.
func (m *Model) Extent(index int) (row, column int) {
	s := &m.sheets[index]
	return max(0, len(s.row)-1), s.column
}

// Cell returns a cell, or nil if nothing is there.
func (m *Model) Cell(index int, at sheet.Place) *sheet.Cell {
	s := &m.sheets[index]
	if at.Row < 1 || at.Row >= len(s.row) || s.row[at.Row] == 0 {
		return nil
	}
	r := &s.rows[s.row[at.Row]-1]
	i := at.Column - 1
	if i < 0 || i >= len(r.columns) || int(r.columns[i]) != at.Column { // there are gaps before it
		var ok bool
		if i, ok = slices.BinarySearchFunc(r.columns, at.Column, func(c uint16, column int) int { return int(c) - column }); !ok {
			return nil
		}
	}
	return &r.cells[i]
}

// Formula returns what a name stands for.
func (m *Model) Formula(index int, name string) (formula string, ok bool) {
	key := strings.ToLower(name)
	if formula, ok = m.named[fmt.Sprint(index, "!", key)]; ok {
		return formula, true
	}
	formula, ok = m.named["-1!"+key]
	return formula, ok
}

// Table returns the table of a name.
func (m *Model) Table(name string) (Table, bool) {
	t, ok := m.tables[strings.ToLower(name)]
	return t, ok
}
