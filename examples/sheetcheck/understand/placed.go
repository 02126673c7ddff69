package understand

import (
	"slices"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// placed is what cells are taken to be: single cells, and the columns of tables, which may
// be very long. What is claimed counts before what was said of a single cell, and that before
// the rest of a table.
type placed struct {
	cells   sheet.ByCell[*Meaning]
	columns map[itemKey][]meant
	dropped map[spot]int // how many columns were meant before
	count   int
}

// An itemKey is a column of a sheet, or a row.
type itemKey struct {
	sheet int
	down  bool
	item  int
}

// meant is what a column of a table is taken to be.
type meant struct {
	Meaning
	lines []int // in order
	order int
}

func newPlaced() *placed {
	return &placed{columns: map[itemKey][]meant{}, dropped: map[spot]int{}}
}

// set says what a single cell is.
func (m *placed) set(s spot, is Meaning) { m.cells.Set(sheet.KeyOf(s.sheet, s.at), &is) }

// setColumn says what a column of a table is.
func (m *placed) setColumn(c *column, is Meaning) {
	key := itemKey{c.table.sheet, c.table.down, c.item}
	m.count++
	m.columns[key] = append(m.columns[key], meant{Meaning: is, lines: c.table.lines, order: m.count})
}

// drop takes back what was said of a cell.
func (m *placed) drop(s spot) {
	m.cells.Set(sheet.KeyOf(s.sheet, s.at), nil)
	m.dropped[s] = m.count
}

// at returns what a cell is; ok is false if nothing was said.
func (m *placed) at(s spot) (is Meaning, ok bool) {
	var claim, rest *meant
	since := m.dropped[s]
	look := func(all []meant, line int) {
		for i := range all {
			x := &all[i]
			if x.order <= since || line < x.lines[0] || line > x.lines[len(x.lines)-1] {
				continue
			}
			if _, holds := slices.BinarySearch(x.lines, line); !holds {
				continue
			}
			switch {
			case x.Claim && (claim == nil || x.order > claim.order):
				claim = x
			case !x.Claim && (rest == nil || x.order < rest.order):
				rest = x
			}
		}
	}
	look(m.columns[itemKey{s.sheet, true, s.at.Column}], s.at.Row)
	look(m.columns[itemKey{s.sheet, false, s.at.Row}], s.at.Column)
	if claim != nil {
		return claim.Meaning, true
	}
	if said := m.cells.At(sheet.KeyOf(s.sheet, s.at)); said != nil {
		return *said, true
	}
	if rest != nil {
		return rest.Meaning, true
	}
	return is, false
}

// known reports whether anything was said of a cell.
func (m *placed) known(s spot) bool {
	_, ok := m.at(s)
	return ok
}
