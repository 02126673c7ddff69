package understand

import (
	"math/big"
	"slices"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// What a sheet says of the unit of one number says it of all that formulas add to it, take from it, or
// compare with it, whatever the dimension, and of what comes out; and of what is converted by a factor between two
// units. Numbers to which no unit leads stay without one.

// mostAlong is how many times units are followed through all formulas.
const mostAlong = 4

// alongFormulas gives columns and single cells without a unit the one that formulas lead to.
func (r *reader) alongFormulas() {
	a := &along{r: r}
	for _, t := range r.tables {
		a.titled(t)
	}
	for range mostAlong {
		a.changed = false
		for _, t := range r.tables {
			for _, c := range t.columns {
				if c.intent != nil {
					a.formula(spotOf(c, t.lines[0]), c.intent)
				}
			}
		}
		for _, s := range r.lone {
			a.formula(s.formula.spot, s.right)
		}
		if !a.changed {
			break
		}
	}
}

// An along follows units along formulas.
type along struct {
	r       *reader
	sheet   int // of the formula that is followed
	changed bool
}

// titled gives the typed numbers of a table the unit that the title says for what is no length, where no
// column names one.
func (a *along) titled(t *table) {
	name := a.r.otherUnit(t.sheet)
	if name == "" || slices.ContainsFunc(t.columns, func(c *column) bool { return c.unit != "" }) {
		return
	}
	for _, c := range t.columns {
		if c.run == nil && a.open(c) && !a.r.ofOwnUnits(c) && (c.role == "" || c.role == roleNumber || c.role == roleReading) && a.r.numbered(t, c.item) {
			c.unit = name
		}
	}
}

// open reports whether a column has no unit and may have one.
func (a *along) open(c *column) bool {
	return c.unit == "" && !slices.Contains([]string{roleLocation, roleVerdict, roleGrade, roleCode, roleCount, roleFactor, rolePacks, roleCost, "ratio", "price", "stock", "needed", "to buy", "left over", "pack size", "bought", "squared", "thread", "sign"}, c.role)
}

// formula follows a cell's formula: what comes out is in the unit of the cell.
func (a *along) formula(s spot, e calc.Expr) {
	a.sheet = s.sheet
	e = pattern.Unguarded(e)
	if isVerdict(e) || givesWords(e) || givesFlags(e) {
		for _, b := range pattern.Comparisons(e) {
			a.both(b.X, b.Y)
		}
		return
	}
	own := a.at(s)
	if own == "" {
		if own = a.of(e); own != "" {
			a.set(s, own)
		}
	}
	if own != "" {
		a.give(e, own)
	}
}

// both gives each of two that are added or compared the unit of the other.
func (a *along) both(x, y calc.Expr) {
	one, other := a.of(x), a.of(y)
	switch {
	case one == "" && other != "":
		a.give(x, other)
	case other == "" && one != "":
		a.give(y, one)
	}
}

// sameUnits are functions whose results are in the unit of what they read.
var sameUnits = []string{"SUM", "MIN", "MAX", "AVERAGE", "MEDIAN", "ABS", "ROUND", "ROUNDUP", "ROUNDDOWN", "FLOOR", "CEILING", "MROUND", "SMALL", "LARGE"}

// of returns the unit of a part of a formula; empty if nothing leads to it.
func (a *along) of(e calc.Expr) string {
	switch e := e.(type) {
	case *calc.Area:
		if at, ok := a.spot(e); ok {
			return a.at(at)
		}
	case *calc.Unary:
		return a.of(e.X)
	case *calc.Binary:
		switch e.Op {
		case calc.Add, calc.Subtract:
			if u := a.of(e.X); u != "" {
				return u
			}
			return a.of(e.Y)
		case calc.Multiply, calc.Divide:
			x, by, ok := a.scaled(e)
			if !ok {
				return ""
			}
			u := a.of(x)
			if u == "" {
				return ""
			}
			return scaledOrCounted(u, by)
		}
	case *calc.Call:
		if slices.Contains(sameUnits, e.Name) {
			for _, arg := range e.Args {
				if u := a.of(arg); u != "" {
					return u
				}
			}
		}
	}
	return ""
}

// scaledOrCounted returns the unit of so many times a number in a unit: another one, if the factor is between two, or
// the same, if it only counts. It is empty if nobody can tell.
func scaledOrCounted(name string, by *big.Rat) string {
	if u, ok := scaledUnit(name, by); ok {
		return u
	}
	if small := new(big.Rat).Abs(by); small.IsInt() && small.Cmp(big.NewRat(12, 1)) <= 0 || small.Cmp(big.NewRat(1, 2)) == 0 {
		return name
	}
	return ""
}

// scaled returns what a product or a quotient multiplies by a typed number, and by which.
func (a *along) scaled(e *calc.Binary) (x calc.Expr, by *big.Rat, ok bool) {
	number := func(e calc.Expr) (*big.Rat, bool) {
		n, ok := e.(*calc.Number)
		if !ok {
			return nil, false
		}
		by, ok := new(big.Rat).SetString(n.Text)
		return by, ok && by.Sign() > 0 && len(n.Text) < 40
	}
	if by, ok := number(e.Y); ok {
		if e.Op == calc.Divide {
			by = new(big.Rat).Inv(by)
		}
		return e.X, by, true
	}
	if by, ok := number(e.X); ok && e.Op == calc.Multiply {
		return e.Y, by, true
	}
	return nil, nil, false
}

// give says in which unit a part of a formula is.
func (a *along) give(e calc.Expr, name string) {
	switch e := e.(type) {
	case *calc.Area:
		if at, ok := a.spot(e); ok {
			a.set(at, name)
			_, from := at.at.Row, at.at.Column
			if to := e.To.Column; e.From.Row == e.To.Row && to-from < mostSides {
				for column := from + 1; column <= to; column++ {
					a.set(spot{at.sheet, sheet.Place{Row: at.at.Row, Column: column}}, name)
				}
			}
		}
	case *calc.Unary:
		a.give(e.X, name)
	case *calc.Binary:
		switch e.Op {
		case calc.Add, calc.Subtract:
			a.give(e.X, name)
			a.give(e.Y, name)
		case calc.Multiply, calc.Divide:
			if x, by, ok := a.scaled(e); ok && a.of(x) == "" {
				if u := scaledOrCounted(name, new(big.Rat).Inv(by)); u != "" {
					a.give(x, u)
				}
			}
		}
	case *calc.Call:
		if slices.Contains(sameUnits, e.Name) {
			for i, arg := range e.Args {
				if i > 0 && e.Name[0] == 'R' || e.Name == "SMALL" || e.Name == "LARGE" {
					break // places
				}
				a.give(arg, name)
			}
		}
	}
}

// spot returns the first cell of a reference.
func (a *along) spot(e *calc.Area) (s spot, ok bool) {
	if e.File != "" || e.Last != "" || e.Columns || e.Rows {
		return s, false
	}
	index := a.sheet
	if e.Sheet != "" {
		if index, ok = a.r.book.Index(e.Sheet); !ok {
			return s, false
		}
	}
	return spot{index, e.From.Place}, true
}

// at returns the unit of a cell.
func (a *along) at(s spot) string {
	if k, ok := a.r.kindOf(s); ok && k.column != nil {
		return k.column.unit
	}
	if m, ok := a.r.u.roles.at(s); ok && m.Unit != "" {
		return m.Unit
	}
	if _, isNumber := a.r.number(s); isNumber && a.r.formulas.at(s) == nil {
		return a.r.unitBeside(s)
	}
	return ""
}

// set gives a cell that has no unit one.
func (a *along) set(s spot, name string) {
	if k, ok := a.r.kindOf(s); ok && k.column != nil {
		if c := k.column; a.open(c) && !a.r.ofOwnUnits(c) && a.r.typical(c) != 0 {
			c.unit = name
			a.changed = true
		}
		return
	}
	if m, ok := a.r.u.roles.at(s); ok {
		if m.Unit == "" && slices.Contains([]string{roleLow, roleHigh, "tolerance", "target", roleNumber, roleReading, "average", "minimum", "maximum", "range", "difference", "total", "product"}, m.Role) {
			m.Unit = name
			a.r.u.roles.set(s, m)
			a.changed = true
			for _, one := range a.r.lone {
				if one.formula.spot == s {
					one.Unit = name
				}
			}
		}
	}
}

// explained reports whether the words beside a formula alone, and beside all that it reads, say what it computes.
func (r *reader) explained(f *formula, e calc.Expr) bool {
	areas := pattern.Areas(e)
	if len(areas) == 0 || !r.worded(f.spot) {
		return false
	}
	for _, a := range areas {
		if !a.Single() || a.File != "" {
			return false
		}
		index := f.sheet
		if a.Sheet != "" {
			var ok bool
			if index, ok = r.book.Index(a.Sheet); !ok {
				return false
			}
		}
		s := spot{index, a.From.Place}
		if _, isNumber := r.number(s); !isNumber {
			return false
		}
		if k, ok := r.kindOf(s); (!ok || k.column == nil) && r.beside(s) == "" {
			return false
		}
	}
	return true
}

// worded reports whether the first words to the left of a cell, with nothing between, are its own and no cell of a
// table.
func (r *reader) worded(s spot) bool {
	for column := s.at.Column - 1; column > 0; column-- {
		left := spot{s.sheet, sheet.Place{Row: s.at.Row, Column: column}}
		if r.cell(left).Blank() && r.formulas.at(left) == nil {
			continue
		}
		return (r.isText(left) || r.label(s, false) != "") && r.columnAt(left) == nil
	}
	return false
}

// computedRole returns what a formula does, where no words say what it is.
func computedRole(e calc.Expr) string {
	if l, ok := pattern.LinearOf(e); ok {
		switch {
		case len(l.Terms) > 1 && takesOff(l):
			return "difference"
		case len(l.Terms) > 1:
			return "total"
		case len(l.Terms) == 1 && l.Constant.Sign() == 0 && !plainCopy(l):
			return roleConverted
		}
		return roleNumber
	}
	if b, ok := unrounded(e).(*calc.Binary); ok {
		switch b.Op {
		case calc.Multiply:
			return "product"
		case calc.Divide:
			if quotient(e) {
				return "ratio"
			}
		case calc.Subtract:
			return "difference"
		}
	}
	return roleNumber
}
