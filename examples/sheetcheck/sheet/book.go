package sheet

import (
	"context"
	"fmt"
	"slices"
	"sort"
	"strings"
)

// A Book is a spreadsheet file that is held whole: its cells and all that says how they
// are meant. What does not fit within Bounds is a *BoundError, never left out in silence.
type Book struct {
	Grids []*Grid // the sheets that hold cells, in order
	Names []Name  // that formulas may use; those that stand for a lost reference are left out
}

// Grid returns the sheet of a name. Capitals do not count, as in formulas.
func (b *Book) Grid(name string) (g *Grid, ok bool) {
	for _, g := range b.Grids {
		if strings.EqualFold(g.Name, name) {
			return g, true
		}
	}
	return nil, false
}

// A Name is a defined name and what it stands for.
type Name struct {
	Name    string
	Sheet   string // that alone knows it; empty if all of them do
	Formula string // "Limits!$B$2", without the leading "="
	Hidden  bool
}

// A Grid is one sheet of a Book.
type Grid struct {
	Name      string
	Hidden    bool
	Protected bool    // locked cells cannot be overwritten until somebody lifts the protection
	Rows      []Row   // those with cells, in order
	Merged    []Area  // in the order of the file
	Arrays    []Array // formulas entered once for an area

	hiddenRows, hiddenColumns spans
	styles                    []style
}

// An Array is a formula that was entered once for a whole area; every cell of it has the
// formula, and the value that belongs to its own place.
type Array struct {
	Area    Area
	Formula string
}

// Cell returns the cell at a place; a blank one if nothing stands there.
func (g *Grid) Cell(p Place) *Cell { return g.Row(p.Row).Cell(p.Column) }

// Row returns the row of a number, from 1; nil if it has no cells.
func (g *Grid) Row(number int) *Row {
	if len(g.Rows) == 0 {
		return nil
	}
	i := number - g.Rows[0].Number // where most sheets have it
	if i < 0 {
		return nil
	}
	if i >= len(g.Rows) || g.Rows[i].Number != number {
		i = sort.Search(len(g.Rows), func(i int) bool { return g.Rows[i].Number >= number })
	}
	if i == len(g.Rows) || g.Rows[i].Number != number {
		return nil
	}
	return &g.Rows[i]
}

// Used returns the smallest area from A1 that holds every cell; ok is false if there is none.
func (g *Grid) Used() (a Area, ok bool) {
	a.First = Place{1, 1}
	for i := range g.Rows {
		a.Last.Row = g.Rows[i].Number
		a.Last.Column = max(a.Last.Column, len(g.Rows[i].Cells))
	}
	return a, a.Last.Row > 0
}

// Format returns how a cell shows its number.
func (g *Grid) Format(c *Cell) Format {
	if int(c.style) < len(g.styles) {
		return g.styles[c.style].format
	}
	return general()
}

// Locked reports whether protection, where it is on, keeps a cell from being overwritten:
// all cells that are not set free.
func (g *Grid) Locked(c *Cell) bool {
	return int(c.style) >= len(g.styles) || !g.styles[c.style].free
}

// Array returns the array formula that a cell belongs to.
func (g *Grid) Array(c *Cell) (a Array, ok bool) {
	if c.array == 0 || int(c.array) > len(g.Arrays) {
		return a, false
	}
	return g.Arrays[c.array-1], true
}

// RowHidden reports whether a row is not shown, by hand or by a filter.
func (g *Grid) RowHidden(row int) bool { return g.hiddenRows.hold(row) }

// ColumnHidden reports whether a column is not shown.
func (g *Grid) ColumnHidden(column int) bool { return g.hiddenColumns.hold(column) }

// MergedAt returns the merged cells that a place belongs to; only the first of them holds
// anything.
func (g *Grid) MergedAt(p Place) (a Area, ok bool) {
	i := slices.IndexFunc(g.Merged, func(a Area) bool { return a.Holds(p) })
	if i < 0 {
		return a, false
	}
	return g.Merged[i], true
}

// spread gives every cell of an array formula's area the formula.
func (g *Grid) spread(a Array) {
	g.Arrays = append(g.Arrays, a)
	first := sort.Search(len(g.Rows), func(i int) bool { return g.Rows[i].Number >= a.Area.First.Row })
	for i := first; i < len(g.Rows) && g.Rows[i].Number <= a.Area.Last.Row; i++ {
		cells := g.Rows[i].Cells
		for column := a.Area.First.Column; column <= min(a.Area.Last.Column, len(cells)); column++ {
			c := &cells[column-1]
			if c.Text == "" && c.Formula == "" && !c.AsText || c.array != 0 {
				continue
			}
			c.Formula, c.array = a.Formula, uint32(len(g.Arrays))
		}
	}
}

// A style is what a Grid keeps of how cells look.
type style struct {
	format Format
	free   bool // not locked
}

// spans are numbers one after another, in order.
type spans []struct{ first, last int }

func (s *spans) add(first, last int) {
	if n := len(*s); n > 0 && (*s)[n-1].last >= first-1 {
		(*s)[n-1].last = max((*s)[n-1].last, last)
		return
	}
	*s = append(*s, struct{ first, last int }{first, last})
}

func (s spans) hold(n int) bool {
	i := sort.Search(len(s), func(i int) bool { return s[i].last >= n })
	return i < len(s) && s[i].first <= n
}

// A budget is what is left of the bounds of a Book.
type budget struct {
	bounds        Bounds
	cells, text   int
	areas, arrays int
}

// row counts a row's cells, the blank ones before its last among them.
func (b *budget) row(cells []Cell, where func() string) error {
	if b.cells += len(cells); b.cells > b.bounds.ModelCells {
		return &BoundError{What: fmt.Sprintf("more than %d cells", b.bounds.ModelCells), Where: where(), Most: "that many are held at once"}
	}
	for i := range cells {
		b.text += len(cells[i].Text) + len(cells[i].Formula)
	}
	if b.text > b.bounds.ModelText {
		return &BoundError{What: fmt.Sprintf("more than %d MB of text and formulas", b.bounds.ModelText>>20), Where: where(), Most: "that much is held at once"}
	}
	return nil
}

// area counts a merged area or an array formula, and the cells that one stands over.
func (b *budget) area(where string) error {
	if b.areas++; b.areas > b.bounds.Areas {
		return &BoundError{What: fmt.Sprintf("more than %d merged areas and array formulas", b.bounds.Areas), Where: where, Most: "that many are held at once"}
	}
	return nil
}

// name counts a defined name.
func (b *budget) name(have int, where string) error {
	if have < b.bounds.Names {
		return nil
	}
	return &BoundError{What: fmt.Sprintf("more than %d defined names", b.bounds.Names), Where: where, Most: "that many are read"}
}

// hold reads one sheet's rows into a Grid.
func (g *Grid) hold(batch *Batch, b *budget) error {
	defer batch.Release()
	for _, row := range batch.Rows {
		if err := b.row(row.Cells, func() string { return fmt.Sprintf("sheet %s, row %d", g.Name, row.Number) }); err != nil {
			return err
		}
		g.Rows = append(g.Rows, Row{Number: row.Number, Cells: slices.Clone(row.Cells)})
	}
	return nil
}

// Head returns a sheet's first rows that have cells, with nothing but their cells; whole is
// false if there are more. It is for files too large to be held.
func Head(ctx context.Context, f File, sheet string, rows int) (g *Grid, whole bool, err error) {
	g = &Grid{Name: sheet}
	for row, err := range Rows(ctx, f, sheet) {
		if err != nil {
			return nil, false, err
		}
		if len(g.Rows) == rows {
			return g, false, nil
		}
		g.Rows = append(g.Rows, Row{Number: row.Number, Cells: slices.Clone(row.Cells)})
	}
	return g, true, nil
}
