package calc

import (
	"fmt"
	"slices"
)

// filterFunctions are those that give a list of some elements of another.
func filterFunctions() map[string]function {
	return map[string]function{
		"FILTER": {least: 2, most: 3, lists: true, parts: filter},
		"SORT":   {least: 1, most: 4, lists: true, parts: sortList},
		"UNIQUE": {least: 1, most: 3, lists: true, parts: unique},
	}
}

// wholeList returns an argument as a list, of one element if it is one value.
func (f *frame) wholeList(e Expr) (l *list, why Value, ok bool) {
	l, v := f.toList(f.eval(e))
	if l == nil {
		if v.kind == KindUnknown {
			return nil, v, false
		}
		l = &list{rows: 1, columns: 1, values: []Value{v}}
	}
	return l, Value{}, true
}

// turned returns a list with its rows as columns.
func (l *list) turned() *list {
	t := &list{rows: l.columns, columns: l.rows, values: make([]Value, 0, len(l.values))}
	for column := range l.columns {
		for row := range l.rows {
			t.values = append(t.values, l.at(row, column))
		}
	}
	return t
}

// picked returns some rows of a list.
func (l *list) picked(rows []int) *list {
	p := &list{rows: len(rows), columns: l.columns}
	for _, row := range rows {
		p.values = append(p.values, l.values[row*l.columns:(row+1)*l.columns]...)
	}
	return p
}

// filter is FILTER: the rows, or the columns, beside which the second list holds.
func filter(f *frame, args []Expr) operand {
	l, why, ok := f.wholeList(args[0])
	if !ok {
		return plain(why)
	}
	keep, why, ok := f.wholeList(args[1])
	if !ok {
		return plain(why)
	}
	across := keep.rows == 1 && keep.columns == l.columns && l.rows != 1
	if across {
		l, keep = l.turned(), keep.turned()
	}
	if keep.columns != 1 || keep.rows != l.rows {
		if keep.rows == 1 && l.rows == 1 && keep.columns == l.columns {
			l, keep, across = l.turned(), keep.turned(), true
		} else {
			return plain(failed(ErrValue))
		}
	}
	var rows []int
	for i, v := range keep.values {
		b := f.logical(v)
		if b.kind != KindLogical {
			return plain(b)
		}
		if b.Bool() {
			rows = append(rows, i)
		}
	}
	if len(rows) == 0 {
		if _, missing := at(args, 2).(*Missing); len(args) == 3 && !missing {
			return f.eval(args[2])
		}
		return plain(unknown("FILTER that leaves nothing, which is an error of its own"))
	}
	picked := l.picked(rows)
	if across {
		picked = picked.turned()
	}
	return listed(picked)
}

// flag reads an argument that is true or false; false if it is not there.
func (f *frame) flag(args []Expr, i int) (is bool, why Value, ok bool) {
	if _, missing := at(args, i).(*Missing); i >= len(args) || missing {
		return false, why, true
	}
	v := f.logical(f.value(args[i]))
	return v.Bool(), v, v.kind == KindLogical
}

// sortList is SORT of numbers, of texts or of logicals.
func sortList(f *frame, args []Expr) operand {
	l, why, ok := f.wholeList(args[0])
	if !ok {
		return plain(why)
	}
	numbers := [2]int{1, 1}
	for i := range numbers {
		if _, missing := at(args, i+1).(*Missing); i+1 >= len(args) || missing {
			continue
		}
		if numbers[i], why, ok = f.integer(f.value(args[i+1])); !ok {
			return plain(why)
		}
	}
	across, why, ok := f.flag(args, 3)
	if !ok {
		return plain(why)
	}
	if across {
		l = l.turned()
	}
	if numbers[0] < 1 || numbers[0] > l.columns || numbers[1] != 1 && numbers[1] != -1 {
		return plain(failed(ErrValue))
	}
	var rows []int
	kind := l.at(0, numbers[0]-1).kind
	for row := range l.rows {
		v := l.at(row, numbers[0]-1)
		if v.kind != kind || kind == KindBlank || kind == KindError || kind == KindUnknown {
			return plain(unknown("SORT of what is not all numbers or all texts"))
		}
		rows = append(rows, row)
	}
	known := Value{}
	slices.SortStableFunc(rows, func(a, b int) int {
		if f.e.tick(1); f.e.stopped != nil {
			return 0
		}
		order, why, ok := f.order(l.at(a, numbers[0]-1), l.at(b, numbers[0]-1))
		if !ok {
			known = why
		}
		return order * numbers[1]
	})
	if known.kind != KindBlank {
		return plain(known)
	}
	sorted := l.picked(rows)
	if across {
		sorted = sorted.turned()
	}
	return listed(sorted)
}

// mostUnique bounds the rows that are compared with one another.
const mostUnique = 2000

// unique is UNIQUE: each row once, or with its third argument those alone that stand there
// once. Texts are compared without regard to capitals.
func unique(f *frame, args []Expr) operand {
	l, why, ok := f.wholeList(args[0])
	if !ok {
		return plain(why)
	}
	across, why, ok := f.flag(args, 1)
	if !ok {
		return plain(why)
	}
	once, why, ok := f.flag(args, 2)
	if !ok {
		return plain(why)
	}
	if across {
		l = l.turned()
	}
	if l.rows > mostUnique {
		return plain(unknown(fmt.Sprintf("UNIQUE of %d rows", l.rows)))
	}
	var rows, counts []int
	for row := range l.rows {
		found := -1
		for i, other := range rows {
			same := true
			for column := 0; column < l.columns && same; column++ {
				x, y := l.at(row, column), l.at(other, column)
				if x.kind == KindUnknown {
					return plain(x)
				}
				if same = x.kind == y.kind; !same || x.kind == KindBlank {
					continue
				}
				if x.kind == KindError {
					same = x.code == y.code
					continue
				}
				order, why, ok := f.order(x, y)
				if !ok {
					return plain(why)
				}
				same = order == 0
			}
			if same {
				found = i
				break
			}
		}
		if f.e.tick(1); f.e.stopped != nil {
			return plain(unknown("the work was stopped"))
		}
		if found >= 0 {
			counts[found]++
			continue
		}
		rows, counts = append(rows, row), append(counts, 1)
	}
	if once {
		var alone []int
		for i, row := range rows {
			if counts[i] == 1 {
				alone = append(alone, row)
			}
		}
		if rows = alone; len(rows) == 0 {
			return plain(unknown("UNIQUE that leaves nothing, which is an error of its own"))
		}
	}
	picked := l.picked(rows)
	if across {
		picked = picked.turned()
	}
	return listed(picked)
}
