package sheet

import (
	"archive/zip"
	"context"
	"errors"
	"fmt"
	"iter"
	"slices"
	"sort"
	"strings"
)

// A Book is a spreadsheet file that is held whole: its cells and all that says how they
// are meant. What does not fit within Bounds is a *BoundError, never left out in silence.
type Book struct {
	Grids  []*Grid // the sheets that hold cells, in order
	Names  []Name  // that formulas may use; those that stand for a lost reference are left out
	Tables []Table

	named map[string][]int // names by their small letters
}

// NewBook returns a book of empty sheets, to which rows are added.
func NewBook(sheets []string) *Book {
	b := &Book{}
	for _, name := range sheets {
		b.Grids = append(b.Grids, &Grid{Name: name})
	}
	return b
}

// Add adds a copy of a row below all others, with its first cell in column A.
func (g *Grid) Add(number int, cells []Cell) {
	from := len(g.rows)
	g.add(number, cells)
	for _, r := range g.rows[from:] {
		held, _ := g.in(r)
		for j := range held { // what is kept must not keep a whole chunk of the file
			c := &held[j]
			c.Text, c.Formula = strings.Clone(c.Text), strings.Clone(c.Formula)
		}
	}
}

// Index returns the number of the sheet of a name, from 0. Capitals do not count, as in
// formulas.
func (b *Book) Index(name string) (index int, ok bool) {
	index = slices.IndexFunc(b.Grids, func(g *Grid) bool { return strings.EqualFold(g.Name, name) })
	return index, index >= 0
}

// Sheets returns the names of the sheets, in order.
func (b *Book) Sheets() []string {
	var names []string
	for _, g := range b.Grids {
		names = append(names, g.Name)
	}
	return names
}

// Extent returns the last row and the last column of a sheet in which anything is.
func (b *Book) Extent(index int) (row, column int) {
	used, _ := b.Grids[index].Used()
	return used.Last.Row, used.Last.Column
}

// Cell returns a cell of a sheet; nil if nothing is there.
func (b *Book) Cell(index int, at Place) *Cell {
	return b.Grids[index].find(at)
}

// Hidden reports whether a row of a sheet is not shown, and whether that is a filter's doing.
func (b *Book) Hidden(index, row int) (hidden, filtered bool) {
	g := b.Grids[index]
	hidden = g.hiddenRows.hold(row)
	return hidden, hidden && g.filtered(row)
}

// Formula returns what a name stands for, without the equals sign: the name of the sheet
// itself, or else the workbook's. Without a sheet the index is below 0.
func (b *Book) Formula(index int, name string) (formula string, ok bool) {
	for _, i := range b.named[strings.ToLower(name)] {
		switch n := b.Names[i]; {
		case n.Sheet == "" && !ok:
			formula, ok = n.Formula, true
		case n.Sheet != "" && index >= 0 && strings.EqualFold(n.Sheet, b.Grids[index].Name):
			return n.Formula, true
		}
	}
	return formula, ok
}

// order makes the names ready to be asked for, when all are read.
func (b *Book) order() {
	b.named = make(map[string][]int, len(b.Names))
	for i, n := range b.Names {
		name := strings.ToLower(n.Name)
		b.named[name] = append(b.named[name], i)
	}
}

// Table returns the table of a name.
func (b *Book) Table(name string) (t Table, ok bool) {
	i := slices.IndexFunc(b.Tables, func(t Table) bool { return strings.EqualFold(t.Name, name) })
	if i < 0 {
		return t, false
	}
	return b.Tables[i], true
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
	Merged    []Area  // from the top
	Arrays    []Array // formulas entered once for an area

	rows                      []gridRow   // those with cells, in order
	blocks                    []cellBlock // with the cells of the rows
	last                      Place       // row and column in use
	hiddenRows, hiddenColumns spans
	filteredRows              spans  // of those, which a filter hides; where the file says it row by row
	filters                   []Area // whose hidden rows a filter hides
	styles                    []style
	lowest                    []int // of the merged areas up to each, the last row
}

// A gridRow says where the cells of a row stand that hold anything: rows are very many.
type gridRow struct {
	number   int32
	block    int32
	from, to int32 // in the block
}

// A cellBlock is the cells of rows one after another, with the column of each.
type cellBlock struct {
	cells   []Cell
	columns []uint16
}

// in returns the cells of a row that hold anything, and their columns.
func (g *Grid) in(r gridRow) (cells []Cell, columns []uint16) {
	b := &g.blocks[r.block]
	return b.cells[r.from:r.to:r.to], b.columns[r.from:r.to:r.to]
}

// An Array is a formula that was entered once for a whole area; every cell of it has the
// formula, and the value that belongs to its own place.
type Array struct {
	Area    Area
	Formula string
}

// Cell returns the cell at a place; a blank one if nothing stands there.
func (g *Grid) Cell(p Place) *Cell {
	if c := g.find(p); c != nil {
		return c
	}
	return &Cell{}
}

// find returns the cell at a place; nil if nothing stands there.
func (g *Grid) find(p Place) *Cell {
	i := g.row(p.Row)
	if i == len(g.rows) || int(g.rows[i].number) != p.Row {
		return nil
	}
	cells, columns := g.in(g.rows[i])
	i = p.Column - 1 // where it is if no cell before it is blank
	if i < 0 || i >= len(columns) || int(columns[i]) != p.Column {
		var ok bool
		if i, ok = slices.BinarySearchFunc(columns, p.Column, func(c uint16, column int) int { return int(c) - column }); !ok {
			return nil
		}
	}
	return &cells[i]
}

// row returns where a row is among those with cells, or would be.
func (g *Grid) row(number int) int {
	if len(g.rows) > 0 {
		i := number - int(g.rows[0].number) // where it is if no row before it is blank
		if i >= 0 && i < len(g.rows) && int(g.rows[i].number) == number {
			return i
		}
	}
	return sort.Search(len(g.rows), func(i int) bool { return int(g.rows[i].number) >= number })
}

// Cells returns the cells that hold anything, row by row.
func (g *Grid) Cells() iter.Seq2[Place, *Cell] {
	return func(yield func(Place, *Cell) bool) {
		for _, r := range g.rows {
			cells, columns := g.in(r)
			for j := range cells {
				if !yield(Place{int(r.number), int(columns[j])}, &cells[j]) {
					return
				}
			}
		}
	}
}

// Blocks returns the rows with cells, in order, so many at a time. They are good until the next
// ones are asked for.
func (g *Grid) Blocks(most int) iter.Seq[[]Row] {
	return func(yield func([]Row) bool) {
		var cells []Cell
		rows := make([]Row, 0, most)
		for all := range slices.Chunk(g.rows, most) {
			width := 0
			for _, r := range all {
				width += g.width(r)
			}
			clear(cells)
			cells, rows = slices.Grow(cells[:0], width), rows[:0]
			for _, r := range all {
				from, to := len(cells), len(cells)+g.width(r)
				cells = cells[:to]
				held, columns := g.in(r)
				for j, column := range columns {
					cells[from+int(column)-1] = held[j]
				}
				rows = append(rows, Row{Number: int(r.number), Cells: cells[from:to:to]})
			}
			if !yield(rows) {
				return
			}
		}
	}
}

// width returns the last column of a row.
func (g *Grid) width(r gridRow) int { return int(g.blocks[r.block].columns[r.to-1]) }

// Used returns the smallest area from A1 that holds every cell; ok is false if there is none.
func (g *Grid) Used() (a Area, ok bool) {
	return Area{Place{1, 1}, g.last}, g.last.Row > 0
}

// add adds a row, with its first cell in column A. Cells are kept in blocks: they are many.
func (g *Grid) add(number int, cells []Cell) {
	last := len(g.blocks) - 1
	if last < 0 || cap(g.blocks[last].cells)-len(g.blocks[last].cells) < len(cells) {
		room := max(len(cells), min(4096, 64+8*len(g.rows)))
		g.blocks = append(g.blocks, cellBlock{make([]Cell, 0, room), make([]uint16, 0, room)})
		last++
	}
	b := &g.blocks[last]
	from := len(b.cells)
	for i := range cells {
		if cells[i].holds() {
			b.cells, b.columns = append(b.cells, cells[i]), append(b.columns, uint16(i+1))
		}
	}
	to := len(b.cells)
	if to == from {
		return
	}
	g.rows = append(g.rows, gridRow{int32(number), int32(last), int32(from), int32(to)})
	g.last.Row, g.last.Column = number, max(g.last.Column, int(b.columns[to-1]))
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

// RowHidden reports whether a row is not shown, by hand or by a filter.
func (g *Grid) RowHidden(row int) bool { return g.hiddenRows.hold(row) }

// filtered reports whether a hidden row is hidden by a filter.
func (g *Grid) filtered(row int) bool {
	return g.filteredRows.hold(row) || slices.ContainsFunc(g.filters, func(a Area) bool { return a.First.Row < row && row <= a.Last.Row })
}

// ColumnHidden reports whether a column is not shown.
func (g *Grid) ColumnHidden(column int) bool { return g.hiddenColumns.hold(column) }

// MergedAt returns the merged cells that a place belongs to; only the first of them holds
// anything.
func (g *Grid) MergedAt(p Place) (a Area, ok bool) {
	i := sort.Search(len(g.Merged), func(i int) bool { return g.Merged[i].First.Row > p.Row }) - 1
	for ; i >= 0 && g.lowest[i] >= p.Row; i-- {
		if g.Merged[i].Holds(p) {
			return g.Merged[i], true
		}
	}
	return a, false
}

// order puts the merged areas in order, when all are read.
func (g *Grid) order() {
	slices.SortStableFunc(g.Merged, func(a, b Area) int { return a.First.Row - b.First.Row })
	last := 0
	for _, a := range g.Merged {
		last = max(last, a.Last.Row)
		g.lowest = append(g.lowest, last)
	}
}

// spread gives every cell of an array formula's area the formula. The error is a
// *BoundError if areas overlap so much that looking at their cells takes too long.
func (g *Grid) spread(a Array, b *budget) error {
	g.Arrays = append(g.Arrays, a)
	for i := g.row(a.Area.First.Row); i < len(g.rows) && int(g.rows[i].number) <= a.Area.Last.Row; i++ {
		cells, columns := g.in(g.rows[i])
		if b.visited += 1 + len(cells); b.visited > 8*b.bounds.ModelCells {
			return &BoundError{What: "array formulas over one another", Where: "sheet " + g.Name, Most: fmt.Sprintf("%d cells of their areas are looked at", 8*b.bounds.ModelCells)}
		}
		from, _ := slices.BinarySearchFunc(columns, a.Area.First.Column, func(c uint16, column int) int { return int(c) - column })
		for j := from; j < len(cells) && int(columns[j]) <= a.Area.Last.Column; j++ {
			if c := &cells[j]; c.array == nil {
				c.Formula, c.array = a.Formula, &a
			}
		}
	}
	return nil
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
	bounds  Bounds
	parts   int64 // bytes of the sheets, unpacked
	cells   int
	text    int // bytes
	areas   int
	visited int // cells in areas of array formulas
	head    int // rows of a sheet that are held where the others only pass; 0 for all
	passed  int // rows that are not held
}

// part counts the part that a sheet is in.
func (b *budget) part(f *zip.File) error {
	if b.parts += int64(f.UncompressedSize64); b.parts <= b.bounds.ModelParts {
		return nil
	}
	return &BoundError{What: fmt.Sprintf("sheets of more than %d MB, unpacked", b.bounds.ModelParts>>20), Where: f.Name, Most: "that much is held at once"}
}

// row counts a row's cells.
func (b *budget) row(cells []Cell, where func() string) error {
	for i := range cells {
		if c := &cells[i]; c.holds() {
			b.cells++
			b.text += len(c.Text) + len(c.Formula)
		}
	}
	if b.cells > b.bounds.ModelCells {
		return &BoundError{What: fmt.Sprintf("more than %d cells", b.bounds.ModelCells), Where: where(), Most: "that many are held at once"}
	}
	if b.text > b.bounds.ModelText {
		return &BoundError{What: fmt.Sprintf("more than %d MB of text and formulas", b.bounds.ModelText>>20), Where: where(), Most: "that much is held at once"}
	}
	return nil
}

// area counts a merged area, an array formula or a table.
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

// take adds the rows of a batch.
func (g *Grid) take(batch *Batch, b *budget) error {
	defer batch.Release()
	rows, err := batch.Rows()
	if err != nil {
		return err
	}
	for _, row := range rows {
		if b.head > 0 {
			if slices.ContainsFunc(row.Cells, func(c Cell) bool { return c.Formula != "" }) {
				return errWhole
			}
			if len(g.rows) == b.head {
				b.passed++
				continue
			}
		}
		if err := b.row(row.Cells, func() string { return fmt.Sprintf("sheet %s, row %d", g.Name, row.Number) }); err != nil {
			return err
		}
		g.add(row.Number, row.Cells)
	}
	return nil
}

// errWhole is why a sheet cannot be understood by its first rows.
var errWhole = errors.New("a sheet with formulas")

// Head returns a book of the first rows of a file that is one sheet of values, of more rows than is
// long. ok is false of another file, of which the first rows do not tell what the others are: a
// shorter one, and one with formulas, with hidden lines or with several sheets.
func Head(ctx context.Context, f File, rows, long int) (b *Book, ok bool, err error) {
	switch f := f.(type) {
	case *Text:
		g, read := &Grid{}, 0
		for row, err := range Rows(ctx, f, "") {
			if err != nil {
				return nil, false, err
			}
			if read++; read > long {
				return &Book{Grids: []*Grid{g}}, true, nil
			}
			if read <= rows {
				g.add(row.Number, row.Cells)
			}
		}
	case *Workbook:
		if len(f.parts.sheets) != 1 {
			return nil, false, nil
		}
		left := &budget{bounds: f.bounds, head: rows}
		b, err := f.load(ctx, left)
		if errors.Is(err, errWhole) {
			return nil, false, nil
		}
		if err != nil {
			return nil, false, err
		}
		g := b.Grids[0]
		return b, len(g.rows)+left.passed > long && len(g.hiddenRows)+len(g.hiddenColumns)+len(g.filters)+len(b.Tables) == 0, nil
	}
	return nil, false, nil
}
