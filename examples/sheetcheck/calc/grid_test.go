package calc

import (
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// A grid is a Book for tests: cells are put into it one by one.
type grid struct {
	names  []string
	cells  []map[sheet.Place]*sheet.Cell
	ends   []sheet.Place // the last row and column
	named  map[string]string
	tables map[string]sheet.Table
	hidden map[int]bool // rows of all sheets; true for those that a filter hides
}

func newGrid(names ...string) *grid {
	g := &grid{names: names, named: map[string]string{}, tables: map[string]sheet.Table{}}
	g.ends = make([]sheet.Place, len(names))
	for range names {
		g.cells = append(g.cells, map[sheet.Place]*sheet.Cell{})
	}
	return g
}

// put puts a text into a cell: "=A1+1" is a formula, "'12" a text, else what it looks
// like.
func (g *grid) put(name, at, text string) {
	p, err := sheet.ParsePlace(at)
	if err != nil {
		panic(err)
	}
	c := &sheet.Cell{Text: text}
	if formula, ok := strings.CutPrefix(text, "="); ok {
		c = &sheet.Cell{Formula: formula}
	} else if s, ok := strings.CutPrefix(text, "'"); ok {
		c = &sheet.Cell{Text: s, AsText: true}
	}
	for i, n := range g.names {
		if n == name {
			g.cells[i][p] = c
			g.ends[i] = sheet.Place{Row: max(g.ends[i].Row, p.Row), Column: max(g.ends[i].Column, p.Column)}
		}
	}
}

func (g *grid) Sheets() []string { return g.names }

func (g *grid) Extent(i int) (row, column int) { return g.ends[i].Row, g.ends[i].Column }

func (g *grid) Hidden(_, row int) (hidden, filtered bool) {
	filtered, hidden = g.hidden[row]
	return hidden, filtered
}

func (g *grid) Cell(i int, at sheet.Place) *sheet.Cell { return g.cells[i][at] }

func (g *grid) Formula(_ int, name string) (string, bool) {
	f, ok := g.named[strings.ToLower(name)]
	return f, ok
}

func (g *grid) Table(name string) (sheet.Table, bool) {
	t, ok := g.tables[strings.ToLower(name)]
	return t, ok
}
