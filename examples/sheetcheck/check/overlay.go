package check

import (
	"slices"
	"strconv"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// An overlay is a book with some of its cells replaced.
type overlay struct {
	*sheet.Book
	names   []string
	replace func(index int, at sheet.Place, c *sheet.Cell) *sheet.Cell // nil for a book as it is
	shadows func(index int, at sheet.Place) *sheet.Cell                // sheets behind the others; nil if there are none
	form    func(index int, at sheet.Place) *calc.Form                 // formulas in place of those that cells hold; nil if there are none
	behind  func(index int, at sheet.Place) *calc.Form                 // likewise, of the shadows
}

// Sheets returns the names of the sheets, the shadows behind the others.
func (o *overlay) Sheets() []string {
	if o.shadows == nil {
		return o.names
	}
	all := slices.Clone(o.names)
	for _, name := range o.names {
		all = append(all, shadow(name))
	}
	return all
}

// shadow names the sheet on which a claim's formula is evaluated over what the cells hold.
func shadow(name string) string { return name + "\x00" }

// Extent returns the last row and column of a sheet.
func (o *overlay) Extent(index int) (row, column int) {
	return o.Book.Extent(index % len(o.names))
}

// Hidden reports whether a row is not shown.
func (o *overlay) Hidden(index, row int) (hidden, filtered bool) {
	return o.Book.Hidden(index%len(o.names), row)
}

// Cell returns a cell.
func (o *overlay) Cell(index int, at sheet.Place) *sheet.Cell {
	if index >= len(o.names) {
		return o.shadows(index-len(o.names), at)
	}
	c := o.Book.Cell(index, at)
	if o.replace != nil {
		return o.replace(index, at, c)
	}
	return c
}

// Form returns the formula that a cell has in place of its own; nil if it has none.
func (o *overlay) Form(index int, at sheet.Place) *calc.Form {
	switch {
	case index >= len(o.names) && o.behind != nil:
		return o.behind(index-len(o.names), at)
	case index < len(o.names) && o.form != nil:
		return o.form(index, at)
	}
	return nil
}

// Formula returns what a name stands for.
func (o *overlay) Formula(index int, name string) (string, bool) {
	if index >= 0 {
		index %= len(o.names)
	}
	return o.Book.Formula(index, name)
}

// formAlone is the text of a formula that is read already.
const formAlone = "NA()"

// asItShouldBe is the book with the right formula in each claim, and numbers for texts that
// are plainly numbers.
func (k *checking) asItShouldBe() *overlay {
	form := func(index int, at sheet.Place) *calc.Form {
		if claim := k.claimAt(cellKey{index, at}); claim != nil {
			return claim.rightForm()
		}
		if p := k.sieve.rule(cellKey{index, at}); p != nil {
			return p.formAt(sheet.Place{Row: p.of.First(), Column: p.line})
		}
		return nil
	}
	return &overlay{Book: k.book, names: k.names, form: form, replace: func(index int, at sheet.Place, c *sheet.Cell) *sheet.Cell {
		key := cellKey{index, at}
		if claim := k.claimAt(key); claim != nil {
			if c != nil && c.Formula != "" && claim.hasForm() {
				return c // which has another one in its place
			}
			cell := *k.cell(key)
			cell.Formula, cell.Text, cell.AsText = formAlone, "", false
			if !claim.hasForm() {
				cell.Formula = claim.right().String()
			}
			return &cell
		}
		if p := k.sieve.rule(key); p != nil && p.hasFormula() && (c == nil || c.Formula == "") {
			return &sheet.Cell{Formula: formAlone}
		}
		if in := k.inputAt(key); in != nil && in.number != "" {
			return &sheet.Cell{Text: in.number}
		}
		return c
	}}
}

// asItIs is the book with what its cells hold and no formulas, and with shadows for the
// claims.
func (k *checking) asItIs() *overlay {
	o := &overlay{Book: k.book, names: k.names, replace: k.freezer()}
	made := map[cellKey]*sheet.Cell{}
	o.behind = func(index int, at sheet.Place) *calc.Form {
		c := k.claimAt(cellKey{index, at})
		if c == nil || !c.hasForm() {
			return nil
		}
		if c.qualified != nil {
			return c.qualified
		}
		form := c.rightForm()
		form = &calc.Form{Expr: k.qualified(index, form.Expr), At: form.At}
		if c.cell == nil {
			c.qualified = form
		}
		return form
	}
	o.shadows = func(index int, at sheet.Place) *sheet.Cell {
		key := cellKey{index, at}
		c := k.claimAt(key)
		if c == nil {
			return nil
		}
		if c.formula && c.hasForm() {
			return k.cell(key) // which has another formula in its place
		}
		if made[key] == nil {
			cell := *k.cell(key)
			cell.Formula, cell.Text, cell.AsText = k.qualified(c.sheet, c.right()).String(), "", false
			made[key] = &cell
		}
		return made[key]
	}
	return o
}

// ownFormulas is the book with other cells, and with shadows for all formulas as they are.
func (k *checking) ownFormulas(replace func(int, sheet.Place, *sheet.Cell) *sheet.Cell) *overlay {
	o := &overlay{Book: k.book, names: k.names, replace: replace}
	made := map[cellKey]*sheet.Cell{}
	forms := map[*calc.Form][]*calc.Form{} // with the sheet before every cell, by sheet
	o.behind = func(index int, at sheet.Place) *calc.Form {
		own := k.sharedForm(cellKey{index, at})
		if own == nil {
			return nil
		}
		if forms[own] == nil {
			forms[own] = make([]*calc.Form, len(k.names))
		}
		if forms[own][index] == nil {
			forms[own][index] = &calc.Form{Expr: k.qualified(index, pattern.Resolve(k.book, index, sheet.Place{}, own.Expr)), At: own.At}
		}
		return forms[own][index]
	}
	o.shadows = func(index int, at sheet.Place) *sheet.Cell {
		if o.behind(index, at) != nil {
			return k.cell(cellKey{index, at})
		}
		key := cellKey{index, at}
		if made[key] == nil {
			cell := *k.cell(key)
			if e, err := calc.Parse(cell.Formula); err == nil {
				if _, array := cell.Array(); !array {
					e = pattern.Resolve(k.book, index, at, e)
				}
				cell.Formula = k.qualified(index, e).String()
			}
			cell.Text, cell.AsText = "", false
			made[key] = &cell
		}
		return made[key]
	}
	return o
}

// freezer takes formulas away and leaves what they hold.
func (k *checking) freezer() func(int, sheet.Place, *sheet.Cell) *sheet.Cell {
	made := map[cellKey]*sheet.Cell{}
	return func(index int, at sheet.Place, c *sheet.Cell) *sheet.Cell {
		if c == nil || c.Formula == "" {
			return c
		}
		key := cellKey{index, at}
		if made[key] == nil {
			cell := *c
			if c.Kind() == sheet.KindNone {
				v := k.holds(key)
				cell.Text, cell.AsText = v.text, v.kind == isText
				if v.kind == isNumber {
					cell.Text = strconv.FormatFloat(v.number, 'g', 17, 64)
				}
			}
			cell.Formula = ""
			made[key] = &cell
		}
		return made[key]
	}
}

// qualified writes a formula with the sheet before every cell.
func (k *checking) qualified(index int, e calc.Expr) calc.Expr {
	return pattern.Rewrite(e, func(e calc.Expr) calc.Expr {
		if a, ok := e.(*calc.Area); ok && a.Sheet == "" && a.File == "" {
			c := *a
			c.Sheet = k.names[index]
			return &c
		}
		return nil
	})
}

// trials are formulas that are tried out over the book as it should be.
type trials struct {
	made map[cellKey]*sheet.Cell
	next int
}

// firstTrial is the column from which on trials stand, where no sheet has cells.
const firstTrial = 1 << 13

// cells returns what finds the trials beside other cells.
func (t *trials) cells(others func(int, sheet.Place) *sheet.Cell) func(int, sheet.Place) *sheet.Cell {
	t.made = map[cellKey]*sheet.Cell{}
	return func(index int, at sheet.Place) *sheet.Cell {
		if at.Column >= firstTrial {
			return t.made[cellKey{index, at}]
		}
		return others(index, at)
	}
}

// try returns what a claim would be by another formula.
func (k *checking) try(c *claim, e calc.Expr) value {
	k.trials.next++
	key := cellKey{c.sheet, sheet.Place{Row: 1 + k.trials.next%1_000_000, Column: firstTrial + k.trials.next/1_000_000}}
	k.trials.made[key] = &sheet.Cell{Formula: k.qualified(c.sheet, e).String()}
	v := k.evaluated(k.tried, shadow(k.names[c.sheet]), key.at, true)
	delete(k.trials.made, key)
	return v
}
