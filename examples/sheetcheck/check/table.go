package check

import (
	"slices"

	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A table is a map's table with its checkers, fed with one row after the other.
// A row is checked when the one after it is known.
type table struct {
	*mapfile.Table
	checkers []checker
	tallies  []*tally
	window   window
	lines    int // the last line that any cell stands in
	block    []sheet.Row
	rows     int
	done     bool
}

func newTable(m *mapfile.Table, sheetName string, entries []entry) *table {
	t := &table{Table: m, window: window{across: !m.Down()}}
	var location spot
	if m.Location != "" {
		location.line, location.cell = m.Line(m.Location)
	}
	for _, e := range entries {
		t.checkers = append(t.checkers, e.checker)
		t.tallies = append(t.tallies, &tally{table: m.Name, sheet: sheetName, column: e.column, location: location})
	}
	for _, c := range m.Columns {
		line, _ := m.Line(c.At)
		t.lines = max(t.lines, line)
	}
	return t
}

// feed takes the next row of the sheet, good until it and the one after it were fed.
func (t *table) feed(row *sheet.Row) {
	if t.done {
		return
	}
	if !t.Down() {
		t.keep(row)
		return
	}
	switch {
	case t.Last() > 0 && row.Number > t.Last():
		t.finish()
	case !t.Holds(row.Number):
	default:
		t.step(row)
	}
}

// step checks the row before, now that the one after it is there; row is nil past
// the last.
func (t *table) step(row *sheet.Row) {
	w := &t.window
	w.next = row
	if w.current != nil {
		t.rows++
		for i, c := range t.checkers {
			c.check(w, t.tallies[i])
		}
	}
	if w.first == nil && row != nil {
		w.first = &sheet.Row{Number: row.Number, Cells: slices.Clone(row.Cells)}
	}
	w.previous, w.current = w.current, row
}

// keep holds a row of a table across until all are there.
func (t *table) keep(row *sheet.Row) {
	if row.Number > t.lines {
		t.finish()
		return
	}
	t.block = append(t.block, sheet.Row{Number: row.Number, Cells: slices.Clone(row.Cells)})
}

// finish checks what is left.
func (t *table) finish() {
	if t.done {
		return
	}
	t.done = true
	for _, row := range t.turned() {
		t.step(&row)
	}
	t.step(nil)
	for _, y := range t.tallies {
		y.close()
	}
}

// turned returns the locations of a table across as rows.
func (t *table) turned() []sheet.Row {
	last := t.Last()
	if last == 0 {
		for _, row := range t.block {
			last = max(last, len(row.Cells))
		}
	}
	var rows []sheet.Row
	for column := t.First(); column <= last && !t.Down(); column++ {
		if !t.Holds(column) {
			continue
		}
		turned := sheet.Row{Number: column, Cells: make([]sheet.Cell, t.lines)}
		for _, row := range t.block {
			turned.Cells[row.Number-1] = *row.Cell(column)
		}
		rows = append(rows, turned)
	}
	return rows
}
