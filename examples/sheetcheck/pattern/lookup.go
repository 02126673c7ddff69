package pattern

import (
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
)

// lookUps are the functions that look a key up.
var lookUps = []string{"VLOOKUP", "HLOOKUP", "LOOKUP", "MATCH", "XMATCH", "XLOOKUP"}

// LookUps returns the calls in a formula that look a key up, from the outside inwards.
func LookUps(e calc.Expr) (all []*calc.Call) {
	calc.Walk(e, func(e calc.Expr) bool {
		if c, ok := e.(*calc.Call); ok && slices.Contains(lookUps, c.Name) {
			all = append(all, c)
		}
		return true
	})
	return all
}

// Exact reports whether a look-up takes nothing but its key.
func Exact(c *calc.Call) bool {
	argument := func(i int, without string) string {
		if i >= len(c.Args) {
			return without
		}
		if _, missing := c.Args[i].(*calc.Missing); missing {
			return "0"
		}
		return strings.TrimSuffix(c.Args[i].String(), "()")
	}
	mode := ""
	switch c.Name {
	case "VLOOKUP", "HLOOKUP":
		mode = argument(3, "TRUE")
	case "MATCH":
		mode = argument(2, "1")
	case "XMATCH":
		mode = argument(2, "0")
	case "XLOOKUP":
		mode = argument(4, "0")
	}
	return mode == "0" || mode == "FALSE"
}

// Keys returns the column or row in which a call looks its key up.
func Keys(c *calc.Call) (keys *calc.Area, ok bool) {
	if len(c.Args) < 2 {
		return nil, false
	}
	a, ok := c.Args[1].(*calc.Area)
	if !ok || a.File != "" || a.Last != "" {
		return nil, false
	}
	one := *a
	rows, columns := a.To.Row-a.From.Row+1, a.To.Column-a.From.Column+1
	switch {
	case a.Columns && a.Rows:
		return nil, false
	case c.Name == "HLOOKUP", c.Name == "LOOKUP" && columns > rows && !a.Columns:
		one.To.Row, one.To.RowFixed = one.From.Row, one.From.RowFixed
	case c.Name == "VLOOKUP", c.Name == "LOOKUP":
		one.To.Column, one.To.ColumnFixed = one.From.Column, one.From.ColumnFixed
	}
	return &one, true
}

// Exactly returns a look-up that takes nothing but its key; ok is false if it cannot be
// written so.
func Exactly(c *calc.Call) (exact calc.Expr, ok bool) {
	with := func(i int, last calc.Expr) *calc.Call {
		other := *c
		other.Args = slices.Clone(c.Args)
		for len(other.Args) <= i {
			other.Args = append(other.Args, &calc.Missing{})
		}
		other.Args[i] = last
		return &other
	}
	zero, no := &calc.Number{Text: "0"}, &calc.Logical{}
	switch {
	case (c.Name == "VLOOKUP" || c.Name == "HLOOKUP") && len(c.Args) >= 3:
		return with(3, no), true
	case (c.Name == "MATCH" || c.Name == "XMATCH") && len(c.Args) >= 2:
		return with(2, zero), true
	case c.Name == "XLOOKUP" && len(c.Args) >= 3:
		return with(4, zero), true
	case c.Name == "LOOKUP" && len(c.Args) >= 2:
		keys, ok := Keys(c)
		if !ok {
			return nil, false
		}
		whole, _ := c.Args[1].(*calc.Area)
		result := *whole // the last column or row
		if len(c.Args) == 3 {
			a, ok := c.Args[2].(*calc.Area)
			if !ok {
				return nil, false
			}
			result = *a
		} else if keys.From.Row == keys.To.Row {
			result.From.Row, result.From.RowFixed = result.To.Row, result.To.RowFixed
		} else {
			result.From.Column, result.From.ColumnFixed = result.To.Column, result.To.ColumnFixed
		}
		return &calc.Call{Name: "INDEX", Args: []calc.Expr{&result, &calc.Call{Name: "MATCH", Args: []calc.Expr{c.Args[0], keys, zero}}}}, true
	}
	return nil, false
}
