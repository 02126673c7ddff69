package check

import (
	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A series is claims with one right formula, as it reads in the cell of each. What is the
// same for all of them is found once: there may be very many.
type series struct {
	base   calc.Expr // as it should read in the first line of its table
	table  string
	column string
	role   string
	unit   string
	of     *mapfile.Table // nil if it stands alone

	verdicts bool                // the formula compares
	movable  bool                // names and tables in it stand for the same cells, or those beside, in every line
	areas    []*calc.Area        // that it reads, with cells for names, if movable
	bounds   []*calc.Area        // single cells that it compares, likewise
	alike    map[*calc.Form]bool // formulas that cells have, and whether they are the right one

	made      *calc.Form // as evaluators read it
	qualified *calc.Form // likewise, with the sheet before every cell
}

// newSeries returns the claims on a sheet with the right formula base in the first line.
func (k *formulaCheck) newSeries(s series, index int) *series {
	s.verdicts = len(pattern.Comparisons(s.base)) > 0
	if s.movable = movable(s.base); s.movable {
		e := pattern.Resolve(k.book, index, sheet.Place{}, s.base)
		s.areas, s.bounds = pattern.Areas(e), compared(e)
	}
	s.alike = map[*calc.Form]bool{}
	return &s
}

// movable reports whether a formula reads the same in every line but for how its references
// move, whatever names stand for: one with columns of tables may not.
func movable(e calc.Expr) bool {
	all := true
	calc.Walk(e, func(e calc.Expr) bool {
		_, column := e.(*calc.TableColumn)
		all = all && !column
		return all
	})
	return all
}

// compared returns the single cells that a formula compares.
func compared(e calc.Expr) (all []*calc.Area) {
	for _, b := range pattern.Comparisons(e) {
		for _, side := range []calc.Expr{b.X, b.Y} {
			if a, ok := side.(*calc.Area); ok && a.Single() {
				all = append(all, a)
			}
		}
	}
	return all
}

// moves reports whether a claim reads what its series does, moved by its lines.
func (k *formulaCheck) moves(c *claim) bool {
	_, array := k.cell(c.cellKey).Array()
	return c.movable && !array
}

// reads calls look for each area that a claim's right formula reads, until it returns false.
func (k *formulaCheck) reads(c *claim, look func(a calc.Area) (more bool)) {
	if k.moves(c) {
		c.each(c.areas, look)
		return
	}
	for _, a := range pattern.Areas(pattern.Resolve(k.book, c.sheet, c.at, c.right())) {
		if !look(*a) {
			return
		}
	}
}

// compares calls look for each single cell that a claim's right formula compares.
func (k *formulaCheck) compares(c *claim, look func(a calc.Area) (more bool)) {
	if k.moves(c) {
		c.each(c.bounds, look)
		return
	}
	for _, a := range compared(pattern.Resolve(k.book, c.sheet, c.at, c.right())) {
		if !look(*a) {
			return
		}
	}
}

func (c *claim) each(all []*calc.Area, look func(a calc.Area) (more bool)) {
	for _, a := range all {
		if !look(a.Moved(c.rows, c.columns)) {
			return
		}
	}
}

// leaves reports whether the right formula would read past the edge of the sheet.
func (c *claim) leaves() bool {
	if !c.movable {
		_, ok := pattern.Move(c.base, c.rows, c.columns)
		return !ok
	}
	off := false
	c.each(c.areas, func(a calc.Area) bool {
		off = a.From.Row < 1 || a.From.Column < 1
		return !off
	})
	return off
}

// form returns the right formula of a claim as an evaluator reads it.
func (c *claim) form() *calc.Form {
	if c.made == nil {
		c.made = &calc.Form{Expr: c.base, At: sheet.Place{Row: c.at.Row - c.rows, Column: c.at.Column - c.columns}}
	}
	return c.made
}

// sameFormula reports whether a claim's cell has the right formula.
func (k *formulaCheck) sameFormula(c *claim) bool {
	if !c.formula {
		return false
	}
	own, err := k.forms.Read(k.cell(c.cellKey).Formula, c.at)
	if err != nil {
		return false
	}
	known := k.moves(c) && own.At != (sheet.Place{}) && movable(own.Expr)
	if same, told := c.alike[own]; known && told {
		return same
	}
	rows, columns := own.Off(c.at)
	actual, _ := pattern.Move(own.Expr, rows, columns)
	right := pattern.Resolve(k.book, c.sheet, c.at, c.right())
	same := pattern.Relative(right, c.at) == pattern.Relative(pattern.Resolve(k.book, c.sheet, c.at, actual), c.at)
	if known {
		c.alike[own] = same
	}
	return same
}
