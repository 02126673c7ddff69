package pattern

import (
	"fmt"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// Rewrite is calc.Rewrite.
func Rewrite(e calc.Expr, change func(calc.Expr) calc.Expr) calc.Expr { return calc.Rewrite(e, change) }

// areas changes the areas of an expression and leaves the rest.
func areas(e calc.Expr, change func(*calc.Area) calc.Expr) calc.Expr {
	return Rewrite(e, func(e calc.Expr) calc.Expr {
		if a, ok := e.(*calc.Area); ok {
			return change(a)
		}
		return nil
	})
}

// Areas returns the areas that an expression names, from left to right.
func Areas(e calc.Expr) (all []*calc.Area) {
	calc.Walk(e, func(e calc.Expr) bool {
		if a, ok := e.(*calc.Area); ok {
			all = append(all, a)
		}
		return true
	})
	return all
}

// Comparisons returns the comparisons by size in a formula, as a verdict makes them with
// limits, from left to right.
func Comparisons(e calc.Expr) (all []*calc.Binary) {
	calc.Walk(e, func(e calc.Expr) bool {
		b, ok := e.(*calc.Binary)
		if ok && b.Op.Comparison() && b.Op != calc.Equal && b.Op != calc.NotEqual {
			all = append(all, b)
			return false
		}
		return true
	})
	return all
}

// Move is calc.Move.
func Move(e calc.Expr, rows, columns int) (moved calc.Expr, ok bool) {
	return calc.Move(e, rows, columns)
}

// Relative writes a formula as it reads from its own cell: a fixed row or column by its
// number, a moving one by how far away it is.
func Relative(e calc.Expr, at sheet.Place) string {
	return areas(e, func(a *calc.Area) calc.Expr {
		var b strings.Builder
		if a.File != "" || a.Sheet != "" {
			fmt.Fprintf(&b, "'%s%s:%s'!", a.File, a.Sheet, a.Last)
		}
		for i, c := range []calc.Corner{a.From, a.To} {
			if i == 1 {
				b.WriteByte(':')
			}
			writeOffset(&b, 'R', c.Row, at.Row, c.RowFixed || a.Columns)
			writeOffset(&b, 'C', c.Column, at.Column, c.ColumnFixed || a.Rows)
		}
		return &calc.Name{Name: b.String()}
	}).String()
}

func writeOffset(b *strings.Builder, letter byte, n, at int, fixed bool) {
	b.WriteByte(letter)
	if fixed {
		fmt.Fprint(b, n)
		return
	}
	fmt.Fprintf(b, "[%d]", n-at)
}

// Unguarded returns what a formula gives where it gives anything: x of IF(…,x,""), of
// IF(…,"",x) and of IFERROR(x,""). A text is no such x: a cross that stands in a cell or does not
// is what the formula says.
func Unguarded(e calc.Expr) calc.Expr {
	for {
		c, ok := e.(*calc.Call)
		switch {
		case ok && (c.Name == "IFERROR" || c.Name == "IFNA") && len(c.Args) == 2:
			e = c.Args[0]
		case ok && c.Name == "IF" && len(c.Args) == 3 && nothing(c.Args[2]) && !isText(c.Args[1]):
			e = c.Args[1]
		case ok && c.Name == "IF" && len(c.Args) == 3 && nothing(c.Args[1]) && !isText(c.Args[2]):
			e = c.Args[2]
		default:
			return e
		}
	}
}

// Minded returns the cells, as they are written, that may be empty: a formula says what it
// gives then, and that is something.
func Minded(e calc.Expr) map[string]bool {
	cells := map[string]bool{}
	calc.Walk(Unguarded(e), func(e calc.Expr) bool {
		switch e := e.(type) {
		case *calc.Binary:
			for _, sides := range [][2]calc.Expr{{e.X, e.Y}, {e.Y, e.X}} {
				if a, ok := sides[0].(*calc.Area); ok && (e.Op == calc.Equal || e.Op == calc.NotEqual) && nothing(sides[1]) {
					cells[a.String()] = true
				}
			}
		case *calc.Call:
			if a, ok := first(e.Args).(*calc.Area); ok && (e.Name == "ISBLANK" || e.Name == "ISNUMBER" || e.Name == "COUNT") {
				cells[a.String()] = true
			}
		}
		return true
	})
	return cells
}

func first(args []calc.Expr) calc.Expr {
	if len(args) == 0 {
		return nil
	}
	return args[0]
}

func isText(e calc.Expr) bool {
	_, ok := e.(*calc.Text)
	return ok
}

func nothing(e calc.Expr) bool {
	t, ok := e.(*calc.Text)
	return ok && strings.TrimSpace(t.Value) == ""
}

// Shape writes a formula with each reference replaced by a sign: what it does, whatever it
// does it with.
func Shape(e calc.Expr) string {
	return areas(e, func(a *calc.Area) calc.Expr {
		if a.Single() {
			return &calc.Name{Name: "◦"}
		}
		return &calc.Name{Name: "◦:◦"}
	}).String()
}
