package pattern

import (
	"math/big"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units"
)

// A Linear is a sum of cells with exact factors: (B7-2*C7-D7)*1000 has the terms 1000 B7,
// -2000 C7 and -1000 D7.
type Linear struct {
	Terms    []Term
	Constant *big.Rat
	Wraps    []string // functions around it that change no factor: ABS, ROUND, MAX with 0
}

// A Term is a cell with its factor.
type Term struct {
	Area   *calc.Area
	Factor *big.Rat
}

// widest is how many cells of a range are taken apart.
const widest = 24

// LinearOf takes a formula apart; ok is false if it is no sum of cells with factors.
func LinearOf(e calc.Expr) (l Linear, ok bool) {
	for {
		e = Unguarded(e)
		call, isCall := e.(*calc.Call)
		if !isCall {
			break
		}
		inner := inside(call)
		if inner == nil {
			break
		}
		l.Wraps = append(l.Wraps, call.Name)
		e = inner
	}
	terms, constant, ok := sum(e, 0)
	if !ok || len(terms) == 0 {
		return l, false
	}
	l.Terms, l.Constant = merged(terms), constant
	return l, len(l.Terms) > 0
}

// inside returns what a function is put around, if it changes no factor.
func inside(c *calc.Call) calc.Expr {
	switch {
	case c.Name == "ABS" && len(c.Args) == 1:
		return c.Args[0]
	case (c.Name == "ROUND" || c.Name == "ROUNDUP" || c.Name == "ROUNDDOWN") && len(c.Args) == 2:
		return c.Args[0]
	case c.Name == "MAX" && len(c.Args) == 2:
		for i, a := range c.Args {
			if n, ok := a.(*calc.Number); ok && n.Text == "0" {
				return c.Args[1-i]
			}
		}
	}
	return nil
}

// merged adds the factors of terms of one cell.
func merged(terms []Term) (all []Term) {
each:
	for _, t := range terms {
		for i := range all {
			if all[i].Area.Sheet == t.Area.Sheet && all[i].Area.From.Place == t.Area.From.Place {
				all[i].Factor = new(big.Rat).Add(all[i].Factor, t.Factor)
				continue each
			}
		}
		all = append(all, t)
	}
	kept := all[:0]
	for _, t := range all {
		if t.Factor.Sign() != 0 {
			kept = append(kept, t)
		}
	}
	return kept
}

const deepest = 64

func sum(e calc.Expr, depth int) (terms []Term, constant *big.Rat, ok bool) {
	zero := new(big.Rat)
	if depth > deepest {
		return nil, zero, false
	}
	switch e := e.(type) {
	case *calc.Number:
		r, ok := number(e.Text)
		return nil, r, ok
	case *calc.Area:
		if !e.Single() || e.File != "" {
			return nil, zero, false
		}
		return []Term{{e, big.NewRat(1, 1)}}, zero, true
	case *calc.Unary:
		terms, constant, ok = sum(e.X, depth+1)
		switch {
		case e.Op == calc.Minus:
			return scaled(terms, constant, big.NewRat(-1, 1), ok)
		case e.Op == calc.Percent:
			return scaled(terms, constant, big.NewRat(1, 100), ok)
		}
		return terms, constant, ok
	case *calc.Binary:
		x, cx, okX := sum(e.X, depth+1)
		y, cy, okY := sum(e.Y, depth+1)
		if !okX || !okY {
			return nil, zero, false
		}
		switch e.Op {
		case calc.Add:
			return append(x, y...), new(big.Rat).Add(cx, cy), true
		case calc.Subtract:
			y, cy, _ = scaled(y, cy, big.NewRat(-1, 1), true)
			return append(x, y...), new(big.Rat).Add(cx, cy), true
		case calc.Multiply:
			if len(x) == 0 {
				return scaled(y, cy, cx, true)
			}
			return scaled(x, cx, cy, len(y) == 0)
		case calc.Divide:
			if len(y) > 0 || cy.Sign() == 0 {
				return nil, zero, false
			}
			return scaled(x, cx, new(big.Rat).Inv(cy), true)
		}
	case *calc.Call:
		return call(e, depth)
	}
	return nil, zero, false
}

// call takes SUM over a few cells and CONVERT apart.
func call(e *calc.Call, depth int) (terms []Term, constant *big.Rat, ok bool) {
	constant = new(big.Rat)
	switch {
	case e.Name == "SUM":
		for _, a := range e.Args {
			if area, isArea := a.(*calc.Area); isArea && !area.Single() {
				more, ok := each(area)
				if !ok {
					return nil, constant, false
				}
				terms = append(terms, more...)
				continue
			}
			more, c, ok := sum(a, depth+1)
			if !ok {
				return nil, constant, false
			}
			terms, constant = append(terms, more...), new(big.Rat).Add(constant, c)
		}
		return terms, constant, len(terms) > 0
	case e.Name == "CONVERT" && len(e.Args) == 3:
		from, okFrom := e.Args[1].(*calc.Text)
		to, okTo := e.Args[2].(*calc.Text)
		if !okFrom || !okTo {
			break
		}
		factor, ok := converted(from.Value, to.Value)
		terms, constant, okSum := sum(e.Args[0], depth+1)
		return scaled(terms, constant, factor, ok && okSum)
	case e.Name == "ABS" && len(e.Args) == 1:
		return sum(e.Args[0], depth+1)
	}
	return nil, constant, false
}

// each returns the cells of a small range.
func each(a *calc.Area) (terms []Term, ok bool) {
	if a.Columns || a.Rows || a.Last != "" || a.File != "" || (a.To.Row-a.From.Row+1)*(a.To.Column-a.From.Column+1) > widest {
		return nil, false
	}
	for row := a.From.Row; row <= a.To.Row; row++ {
		for column := a.From.Column; column <= a.To.Column; column++ {
			c := *a
			c.From.Place = sheet.Place{Row: row, Column: column}
			c.To = c.From
			terms = append(terms, Term{&c, big.NewRat(1, 1)})
		}
	}
	return terms, true
}

func scaled(terms []Term, constant, by *big.Rat, ok bool) ([]Term, *big.Rat, bool) {
	if !ok {
		return nil, constant, false
	}
	all := make([]Term, len(terms))
	for i, t := range terms {
		all[i] = Term{t.Area, new(big.Rat).Mul(t.Factor, by)}
	}
	return all, new(big.Rat).Mul(constant, by), true
}

// longestNumber bounds the digits of a number that is taken exactly.
const longestNumber = 40

func number(text string) (*big.Rat, bool) {
	if len(text) > longestNumber {
		return new(big.Rat), false
	}
	for _, r := range text {
		if r != '.' && (r < '0' || r > '9') {
			return new(big.Rat), false // powers of ten might be huge
		}
	}
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		return new(big.Rat), false
	}
	return r, true
}

// converted returns the factor of CONVERT between two units of length that it names.
func converted(from, to string) (*big.Rat, bool) {
	unit := func(s string) (units.Unit[units.LengthDim], error) {
		if s == "um" {
			s = "µm"
		}
		return units.Parse[units.Unit[units.LengthDim]](s)
	}
	a, errA := unit(from)
	b, errB := unit(to)
	if errA != nil || errB != nil {
		return new(big.Rat), false
	}
	return new(big.Rat).Quo(a.Factor(), b.Factor()), true
}
