package check

import (
	"fmt"
	"strconv"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// mostHidden bounds the hidden rows, and the hidden columns, of a sheet that are looked at.
const mostHidden = 1000

// hiddenLines are the rows and columns of a sheet that are not shown.
type hiddenLines struct {
	rows, columns []int
}

func (k *checking) hiddenOf(index int) *hiddenLines {
	h, known := k.hidden[index]
	if known {
		return h
	}
	h = &hiddenLines{}
	last, right := k.book.Extent(index)
	g := k.book.Grids[index]
	for row := 1; row <= last && len(h.rows) < mostHidden; row++ {
		if g.RowHidden(row) {
			h.rows = append(h.rows, row)
		}
	}
	for column := 1; column <= right && len(h.columns) < mostHidden; column++ {
		if g.ColumnHidden(column) {
			h.columns = append(h.columns, column)
		}
	}
	k.hidden[index] = h
	return h
}

// hides reports whether any sheet has lines that are not shown.
func (k *checking) hides() bool {
	for index := range k.book.Grids {
		if h := k.hiddenOf(index); len(h.rows)+len(h.columns) > 0 {
			return true
		}
	}
	return false
}

// A gathered is a range of which a formula counts the cells.
type gathered struct {
	*calc.Area
	leaves   bool // out the rows that are not shown
	filtered bool // leaves out those that a filter hides
}

// gathered returns the ranges of which a formula counts every cell, and not those that a
// look-up finds one in. SUBTOTAL and AGGREGATE may leave out rows that are hidden; columns
// they count.
func (k *checking) gathered(c *claim) (all []gathered) {
	var walk func(e calc.Expr, leaves, filtered bool)
	walk = func(e calc.Expr, leaves, filtered bool) {
		calc.Walk(e, func(e calc.Expr) bool {
			switch e := e.(type) {
			case *calc.Area:
				if !e.Single() && !e.Columns && !e.Rows {
					all = append(all, gathered{e, leaves, filtered})
				}
			case *calc.Call:
				switch e.Name {
				case "VLOOKUP", "HLOOKUP", "XLOOKUP", "LOOKUP", "MATCH", "XMATCH", "INDEX":
					return false
				case "SUBTOTAL", "AGGREGATE":
					for _, a := range e.Args[min(1, len(e.Args)):] {
						walk(a, leavesHidden(e), e.Name == "SUBTOTAL")
					}
					return false
				}
			}
			return true
		})
	}
	walk(pattern.Resolve(k.book, c.sheet, c.at, c.right()), false, false)
	return all
}

// leavesHidden reports whether SUBTOTAL or AGGREGATE leaves out rows hidden by hand.
func leavesHidden(e *calc.Call) bool {
	number := func(i int) int {
		if i >= len(e.Args) {
			return 0
		}
		n, err := strconv.Atoi(e.Args[i].String())
		if err != nil {
			return 0
		}
		return n
	}
	if e.Name == "SUBTOTAL" {
		return number(0) > 100
	}
	return number(1)&1 != 0
}

// hiddenLine names a hidden row, or column, with something in it that a claim counts; empty
// if there is none. A line that is counted along itself is none: what counts it is hidden as well.
func (k *checking) hiddenLine(c *claim) string {
	if !k.hides() {
		return ""
	}
	for _, a := range k.gathered(c) {
		key := k.key(c, a.Area)
		holds := func(row, column int) bool {
			cell := k.cell(cellKey{key.sheet, sheet.Place{Row: row, Column: column}})
			return !cell.Blank() || cell.Formula != ""
		}
		h := k.hiddenOf(key.sheet)
		for _, row := range h.rows {
			_, filtered := k.book.Hidden(key.sheet, row)
			if left := a.leaves || a.filtered && filtered; !left && a.From.Row <= row && row <= a.To.Row && a.From.Row < a.To.Row && holds(row, a.From.Column) {
				return fmt.Sprintf("row %d is hidden and counts", row)
			}
		}
		for _, column := range h.columns {
			if a.From.Column <= column && column <= a.To.Column && a.From.Column < a.To.Column && holds(a.From.Row, column) {
				return fmt.Sprintf("column %s is hidden and counts", sheet.ColumnName(column))
			}
		}
	}
	return ""
}
