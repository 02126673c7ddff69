package pattern

import (
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// Resolve returns the formula of a cell with the cells in place of names that stand for
// cells, of columns of tables, and, in an array formula over a column or row, of the ranges
// that are as long as it.
func Resolve(b *sheet.Book, index int, at sheet.Place, e calc.Expr) calc.Expr {
	cell := b.Cell(index, at)
	var over sheet.Area
	if cell != nil {
		if array, ok := cell.Array(); ok {
			over = array.Area
		}
	}
	return Rewrite(e, func(e calc.Expr) calc.Expr {
		switch e := e.(type) {
		case *calc.Name:
			if a := named(b, index, e); a != nil {
				return a
			}
		case *calc.TableColumn:
			if a := tableColumn(b, index, at, e); a != nil {
				return a
			}
		case *calc.Area:
			return element(over, at, e)
		}
		return nil
	})
}

// named returns the cell or cells that a name stands for; nil if it stands for none.
func named(b *sheet.Book, index int, n *calc.Name) *calc.Area {
	if n.File != "" {
		return nil
	}
	formula, ok := b.Formula(index, n.Name)
	if !ok {
		return nil
	}
	e, err := calc.Parse(formula)
	if err != nil {
		return nil
	}
	a, ok := e.(*calc.Area)
	if !ok {
		return nil
	}
	fixed := *a
	for _, c := range []*calc.Corner{&fixed.From, &fixed.To} {
		c.RowFixed, c.ColumnFixed = true, true
	}
	return &fixed
}

// tableColumn returns the cells of a table's column, or its one cell in the formula's row.
func tableColumn(b *sheet.Book, index int, at sheet.Place, e *calc.TableColumn) *calc.Area {
	var t sheet.Table
	ok := false
	if e.Table != "" {
		t, ok = b.Table(e.Table)
	} else if i := slices.IndexFunc(b.Tables, func(t sheet.Table) bool {
		return t.Index == index && sheet.Area{First: t.From, Last: t.To}.Holds(at)
	}); i >= 0 {
		t, ok = b.Tables[i], true
	}
	column := slices.IndexFunc(t.Columns, func(c string) bool { return strings.EqualFold(c, e.First) })
	if !ok || column < 0 || e.Last != "" || len(e.Items) > 0 {
		return nil
	}
	corner := func(row int, fixed bool) calc.Corner {
		return calc.Corner{Place: sheet.Place{Row: row, Column: t.From.Column + column}, RowFixed: fixed}
	}
	a := &calc.Area{From: corner(t.From.Row+t.Headings, true), To: corner(t.To.Row-t.Totals, true)}
	if e.ThisRow {
		a.From = corner(at.Row, false)
		a.To = a.From
	} else {
		for _, c := range []*calc.Corner{&a.From, &a.To} {
			c.RowFixed, c.ColumnFixed = false, false
		}
	}
	if t.Index != index {
		a.Sheet = b.Grids[t.Index].Name
	}
	return a
}

// element returns the one cell of a range that belongs to a cell of an array formula; nil
// if the range stands for itself.
func element(over sheet.Area, at sheet.Place, a *calc.Area) calc.Expr {
	rows, columns := over.Last.Row-over.First.Row, over.Last.Column-over.First.Column
	if rows == 0 && columns == 0 || a.Columns || a.Rows || a.Single() {
		return nil
	}
	down, across := a.To.Row-a.From.Row, a.To.Column-a.From.Column
	if down != 0 && down != rows || across != 0 && across != columns {
		return nil
	}
	c := *a
	if down > 0 {
		c.From.Row += at.Row - over.First.Row
	}
	if across > 0 {
		c.From.Column += at.Column - over.First.Column
	}
	c.From.RowFixed, c.From.ColumnFixed = down == 0 && c.From.RowFixed, across == 0 && c.From.ColumnFixed
	c.To = c.From
	return &c
}
