package calc

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// mostBytes is how much memory a Model and the values of its formulas may take.
const mostBytes = 180 << 20

// What each takes, roughly.
const (
	rowBytes     = 24
	cellBytes    = 56
	formulaBytes = 160 // for its two values and where they are
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

// A modelRow is cells of one block, side by side.
type modelRow struct {
	block       *modelBlock
	from, count uint16
}

// A modelBlock is the cells of many rows, so that they take little memory beside
// their own.
type modelBlock struct {
	cells   []sheet.Cell
	columns []uint16 // of each
}

// blockCells is how many cells a block has room for: more than a row has.
const blockCells = 4096

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
			if l.bytes+4*len(s.row) > mostBytes {
				return nil, &sheet.BoundError{What: "cells and formulas that take too much memory", Where: "sheet " + name, Most: fmt.Sprintf("%d MB of them are recalculated", mostBytes>>20)}
			}
		}
		l.bytes += 4 * len(s.row)
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
		m.name(index, n.Name, n.Formula)
	}
	tables, err := book.Tables(ctx)
	if err != nil {
		return err
	}
	for _, t := range tables {
		m.tables[strings.ToLower(t.Name)] = Table{Index: slices.Index(m.names, t.Sheet), From: t.From, To: t.To, Columns: t.Columns, Headings: t.Headings, Totals: t.Totals}
	}
	return nil
}

// A loader copies cells into blocks, many rows to one.
type loader struct {
	block *modelBlock
	bytes int // that are taken
}

// row copies the cells that hold anything.
func (l *loader) row(cells []sheet.Cell) (r modelRow) {
	b := l.block
	if b == nil || cap(b.cells)-len(b.cells) < len(cells) {
		size := max(blockCells, len(cells))
		b = &modelBlock{make([]sheet.Cell, 0, size), make([]uint16, 0, size)}
		l.block = b
	}
	r = modelRow{block: b, from: uint16(len(b.cells))}
	for i := range cells {
		if c := &cells[i]; c.Text != "" || c.Formula != "" {
			b.cells, b.columns = append(b.cells, *c), append(b.columns, uint16(i+1))
			l.bytes += cellBytes + len(c.Text) + len(c.Formula)
			if c.Formula != "" {
				l.bytes += formulaBytes
			}
		}
	}
	r.count = uint16(len(b.cells)) - r.from
	l.bytes += rowBytes
	return r
}

func (s *modelSheet) put(number int, r modelRow) {
	if r.count == 0 {
		return
	}
	for len(s.row) <= number {
		s.row = append(s.row, 0)
	}
	s.rows = append(s.rows, r)
	s.row[number] = int32(len(s.rows))
	s.column = max(s.column, int(r.block.columns[r.from+r.count-1]))
}

// name gives a name to a formula: one sheet's own name, or for an index below 0 the
// workbook's. The first of several counts.
func (m *Model) name(index int, name, formula string) {
	key := fmt.Sprint(index, "!", strings.ToLower(name))
	if _, double := m.named[key]; !double {
		m.named[key] = formula
	}
}

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
	columns := r.block.columns[r.from : r.from+r.count]
	i := at.Column - 1
	if i < 0 || i >= len(columns) || int(columns[i]) != at.Column { // there are gaps before it
		var ok bool
		if i, ok = slices.BinarySearchFunc(columns, at.Column, func(c uint16, column int) int { return int(c) - column }); !ok {
			return nil
		}
	}
	return &r.block.cells[int(r.from)+i]
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
