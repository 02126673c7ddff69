package pattern

import (
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// Resolve returns the formula of a cell with the cells in place of names that stand for
// cells, of columns of tables, and, in an array formula over a column or row, of the ranges
// that are as long as it. What LET gives a name stands in its place.
func Resolve(b *sheet.Book, index int, at sheet.Place, e calc.Expr) calc.Expr {
	cell := b.Cell(index, at)
	var over sheet.Area
	if cell != nil {
		if array, ok := cell.Array(); ok {
			over = array.Area
		}
	}
	return Rewrite(withoutLet(e), func(e calc.Expr) calc.Expr {
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

// largestLet is how many nodes a formula may have when the values of LET stand in place of their
// names: each may be read twice by the next.
const largestLet = 2000

// withoutLet writes a formula with the values of LET in place of their names. It leaves a
// formula that would grow too long, and functions, whose own names may be the same.
func withoutLet(e calc.Expr) calc.Expr {
	return Rewrite(e, func(e calc.Expr) calc.Expr {
		call, ok := e.(*calc.Call)
		if !ok || call.Name != "LET" || len(call.Args)%2 == 0 {
			return nil
		}
		values, sizes := map[string]calc.Expr{}, map[string]int{}
		for i := 0; ; i += 2 {
			if i == len(call.Args)-1 {
				value, _ := put(values, sizes, call.Args[i])
				return value
			}
			n, ok := call.Args[i].(*calc.Name)
			value, size := put(values, sizes, call.Args[i+1])
			if !ok || value == nil {
				return nil
			}
			values[letName(n.Name)], sizes[letName(n.Name)] = value, size
		}
	})
}

// put puts values in place of names, and returns how many nodes there are then; nil if they
// are too many.
func put(values map[string]calc.Expr, sizes map[string]int, e calc.Expr) (out calc.Expr, size int) {
	e = withoutLet(e)
	lambda := false
	calc.Walk(e, func(e calc.Expr) bool {
		size++
		switch e := e.(type) {
		case *calc.Name:
			size += sizes[letName(e.Name)]
		case *calc.Call:
			lambda = lambda || e.Name == "LAMBDA" || e.Name == "LET"
		}
		return true
	})
	if lambda || size > largestLet {
		return nil, size
	}
	return Rewrite(e, func(e calc.Expr) calc.Expr {
		if n, ok := e.(*calc.Name); ok && n.File == "" {
			return values[letName(n.Name)]
		}
		return nil
	}), size
}

// letName returns a name of LET as it is compared: files put a prefix before it.
func letName(name string) string {
	return strings.TrimPrefix(strings.ToLower(name), "_xlpm.")
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

// TableColumns reports whether a formula names columns of tables, which stand for something
// else from row to row.
func TableColumns(e calc.Expr) (found bool) {
	calc.Walk(e, func(e calc.Expr) bool {
		_, is := e.(*calc.TableColumn)
		found = found || is
		return !found
	})
	return found
}
