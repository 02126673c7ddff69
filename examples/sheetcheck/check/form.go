package check

import (
	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// rightForm returns the right formula of a claim as evaluators read it, once for all claims of
// its rule; nil if the claim has one of its own.
func (c *claim) rightForm() *calc.Form {
	if !c.hasForm() {
		return nil
	}
	rows, columns := c.off()
	return c.rule.formAt(sheet.Place{Row: c.at.Row - rows, Column: c.at.Column - columns})
}

// hasForm reports whether rightForm returns any.
func (c *claim) hasForm() bool { return c.hasFormula() && c.looked == nil }

// formAt returns the right formula, which reads as the map says in the first line.
func (r *rule) formAt(first sheet.Place) *calc.Form {
	switch {
	case r.cell != nil:
		return &calc.Form{Expr: r.firstFormula(), At: first}
	case r.base == nil:
		return nil
	case r.form == nil:
		r.form = &calc.Form{Expr: r.base, At: first}
	}
	return r.form
}

// sharedForm returns a cell's formula as cells have it that it was copied into; nil if it is
// the cell's own, or may read other cells than they do.
func (k *checking) sharedForm(key cellKey) *calc.Form {
	cell := k.cell(key)
	if _, array := cell.Array(); array {
		return nil
	}
	form, err := k.forms.Read(cell.Formula, key.at)
	if err != nil || form.At == (sheet.Place{}) || pattern.TableColumns(form.Expr) {
		return nil
	}
	return form
}

// same reports whether a claim's cell has the right formula. It is found once for cells that
// one formula was copied into.
func (k *checking) sameFormula(c *claim) bool {
	if !c.formula || c.byName || !c.hasForm() {
		return false
	}
	own := k.sharedForm(c.cellKey)
	if own == nil || pattern.TableColumns(c.firstFormula()) {
		return false // which is found out for the cell
	}
	if own == c.common {
		return c.isRight
	}
	if same, known := c.alike[own]; known {
		return same
	}
	same := pattern.Relative(pattern.Resolve(k.book, c.sheet, c.at, c.right()), c.at) == pattern.Relative(k.actual(c), c.at)
	switch {
	case c.common == nil:
		c.common, c.isRight = own, same
	case c.alike == nil:
		c.alike = map[*calc.Form]bool{own: same}
	default:
		c.alike[own] = same
	}
	return same
}

// changes reports whether the book as it should be is another one than it is.
func (k *checking) changes() bool {
	if k.sieve.typed {
		return true
	}
	for _, in := range k.worded {
		if in.number != "" {
			return true
		}
	}
	for _, c := range k.claims {
		if !k.sameFormula(c) {
			return true
		}
	}
	return false
}
