package calc

import (
	"fmt"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// partialFunctions are SUBTOTAL and AGGREGATE, which gather a part of the cells of a range.
func partialFunctions() map[string]function {
	return map[string]function{
		"SUBTOTAL":  {least: 2, most: -1, parts: subtotal},
		"AGGREGATE": {least: 3, most: -1, parts: aggregate},
	}
}

// partial are the functions that SUBTOTAL and AGGREGATE name by numbers from 1 on: ISO/IEC
// 29500-1, 18.17, from memory; OpenFormula 1.3, 6.16.61. The last two take a rank.
var partial = []string{"AVERAGE", "COUNT", "COUNTA", "MAX", "MIN", "PRODUCT", "STDEV", "STDEVP", "SUM", "VAR", "VARP", "MEDIAN", "", "LARGE", "SMALL"}

// An omission is what a partial function leaves out.
type omission struct {
	hidden   bool // rows that are not shown for whatever reason
	filtered bool // rows that a filter hides
	errors   bool
	partial  bool // cells that are SUBTOTAL or AGGREGATE themselves
}

// subtotal is SUBTOTAL. Below 100, rows hidden by hand count and rows hidden by a filter do
// not; above, none of them does.
func subtotal(f *frame, args []Expr) operand {
	n, why, ok := f.integer(f.value(args[0]))
	if !ok {
		return plain(why)
	}
	o := omission{filtered: true, partial: true}
	if n > 100 {
		n -= 100
		o.hidden = true
	}
	if n < 1 || n > 11 {
		return plain(failed(ErrValue))
	}
	return f.partly(partial[n-1], o, args[1:], nil)
}

// aggregate is AGGREGATE. Its options are bits, of 1 for rows that are not shown and 2 for
// errors; from 4 on nested ones count.
func aggregate(f *frame, args []Expr) operand {
	n, why, ok := f.integer(f.value(args[0]))
	if !ok {
		return plain(why)
	}
	option := 0
	if _, missing := args[1].(*Missing); !missing {
		if option, why, ok = f.integer(f.value(args[1])); !ok {
			return plain(why)
		}
	}
	if n < 1 || n > 19 || option < 0 || option > 7 {
		return plain(failed(ErrValue))
	}
	if n > len(partial) || partial[n-1] == "" {
		return plain(unknown(fmt.Sprintf("the function AGGREGATE with the number %d", n)))
	}
	o := omission{hidden: option&1 != 0, errors: option&2 != 0, partial: option < 4}
	o.filtered = o.hidden
	if n < 14 {
		return f.partly(partial[n-1], o, args[2:], nil)
	}
	if len(args) != 4 {
		return plain(failed(ErrValue))
	}
	lists := *f
	lists.array = true
	return lists.partly(partial[n-1], o, args[2:3], args[3:])
}

// partly calls a function with the cells that are left of ranges.
func (f *frame) partly(name string, o omission, ranges, more []Expr) operand {
	args := make([]Expr, 0, len(ranges)+len(more))
	for _, e := range ranges {
		from := f.eval(e)
		left := &list{columns: 1}
		why := Value{}
		switch {
		case from.kind == isArea:
			for _, a := range from.areas() {
				if why = f.shown(a, o, left); why.kind == KindUnknown {
					return plain(why)
				}
			}
		case !f.array: // SUBTOTAL takes ranges alone
			if v, is := bad(from.value); is {
				return plain(v)
			}
			return plain(failed(ErrValue))
		default:
			why = f.each(from, func(v Value, _ bool) { o.take(left, v) })
			if why.kind == KindUnknown {
				return plain(why)
			}
		}
		left.rows = len(left.values)
		args = append(args, &computed{e, operand{kind: isList, list: left}})
	}
	return functions[name].parts(f, append(args, more...))
}

func (o omission) take(left *list, v Value) {
	if v.kind != KindBlank && !(o.errors && v.kind == KindError) {
		left.values = append(left.values, v)
	}
}

// shown adds the cells of an area that are not left out.
func (f *frame) shown(a area, o omission, left *list) (why Value) {
	row, column := f.e.book.Extent(a.index)
	a.bottom, a.right = min(a.bottom, row), min(a.right, column)
	if a.rows() <= 0 || a.columns() <= 0 {
		return Value{}
	}
	if v, ok := f.e.look(a.rows() * a.columns()); !ok {
		return v
	}
	for row := a.top; row <= a.bottom; row++ {
		hidden, filtered := f.e.book.Hidden(a.index, row)
		if o.hidden && hidden || o.filtered && filtered {
			continue
		}
		for column := a.left; column <= a.right; column++ {
			at := sheet.Place{Row: row, Column: column}
			if o.partial {
				if c := f.e.book.Cell(a.index, at); c != nil && isPartial(c.Formula) {
					continue
				}
			}
			o.take(left, f.cell(a.index, at))
		}
	}
	return Value{}
}

// isPartial reports whether a formula calls SUBTOTAL or AGGREGATE.
func isPartial(formula string) bool {
	if formula == "" {
		return false
	}
	formula = strings.ToUpper(formula)
	return strings.Contains(formula, "SUBTOTAL(") || strings.Contains(formula, "AGGREGATE(")
}
