package calc

import (
	"fmt"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

func lookupFunctions() map[string]function {
	size := func(of func(a area) int, ofList func(l *list) int) function {
		return function{least: 1, most: 1, parts: func(f *frame, args []Expr) operand {
			o := f.eval(args[0])
			switch {
			case o.kind == isArea:
				return plain(f.int(of(o.area)))
			case o.kind == isList:
				return plain(f.int(ofList(o.list)))
			}
			if v, is := bad(o.value); is {
				return plain(v)
			}
			return plain(f.int(1))
		}}
	}
	return map[string]function{
		"VLOOKUP": {least: 3, most: 4, one: which(0, 2, 3), parts: func(f *frame, args []Expr) operand { return f.lookUpIn(args, false) }},
		"HLOOKUP": {least: 3, most: 4, one: which(0, 2, 3), parts: func(f *frame, args []Expr) operand { return f.lookUpIn(args, true) }},
		"LOOKUP":  {least: 2, most: 3, one: which(0), lists: true, parts: lookUp},
		"MATCH":   {least: 2, most: 3, one: which(0, 2), parts: matchIn},
		"XMATCH":  {least: 2, most: 4, one: which(0), parts: xmatch},
		"XLOOKUP": {least: 3, most: 6, one: which(0), parts: xlookup},
		"INDEX":   {least: 1, most: 4, parts: index},
		"OFFSET":  {least: 3, most: 5, parts: offset},
		"ROWS":    size(area.rows, func(l *list) int { return l.rows }),
		"COLUMNS": size(area.columns, func(l *list) int { return l.columns }),
		"ROW": {most: 1, parts: func(f *frame, args []Expr) operand {
			return f.numbered(args, f.at.Row, func(a area) *list { return f.sequence(a.top, a.bottom, true) })
		}},
		"COLUMN": {most: 1, parts: func(f *frame, args []Expr) operand {
			return f.numbered(args, f.at.Column, func(a area) *list { return f.sequence(a.left, a.right, false) })
		}},
		"TRANSPOSE": {least: 1, most: 1, lists: true, parts: func(f *frame, args []Expr) operand {
			l, v := f.toList(f.eval(args[0]))
			if l == nil {
				return plain(v)
			}
			return listed(l.turned())
		}},
		"HYPERLINK": {least: 1, most: 2, values: func(_ *frame, v []Value) Value { return v[len(v)-1] }},
		"ADDRESS": ofNumbers(2, 2, func(f *frame, n []Value) Value {
			row, why, ok := f.integer(n[0])
			if !ok {
				return why
			}
			column, why, ok := f.integer(n[1])
			switch {
			case !ok:
				return why
			case row < 1 || row > lastRow || column < 1 || column > lastColumn:
				return failed(ErrValue)
			}
			return textValue(fmt.Sprintf("$%s$%d", sheet.ColumnName(column), row))
		}),
	}
}

// numbered is ROW and COLUMN.
func (f *frame) numbered(args []Expr, own int, of func(a area) *list) operand {
	if len(args) == 0 {
		return plain(f.int(own))
	}
	o := f.eval(args[0])
	if o.kind != isArea {
		if v, is := bad(o.value); is {
			return plain(v)
		}
		return plain(failed(ErrValue))
	}
	l := of(f.clipped(o.area))
	if !f.array {
		return plain(l.values[0])
	}
	return listed(l)
}

// sequence lists whole numbers, one below another or side by side.
func (f *frame) sequence(from, to int, down bool) *list {
	l := &list{rows: 1, columns: 1}
	for n := from; n <= to && len(l.values) < f.e.bounds.Array; n++ {
		l.values = append(l.values, f.int(n))
	}
	if down {
		l.rows = len(l.values)
	} else {
		l.columns = len(l.values)
	}
	return l
}

// A vector is a row or a column that is looked through.
type vector struct {
	f      *frame
	area   area // if it is one of a sheet
	list   *list
	across bool
	size   int // as written; cells past the last that holds anything are empty
	filled int // that are looked at
}

// vectorOf returns the first column of an operand, or its first row.
func (f *frame) vectorOf(o operand, across bool) (v vector, why Value, ok bool) {
	v = vector{f: f, across: across}
	switch {
	case o.kind == isValue:
		if why, is := bad(o.value); is {
			return v, why, false
		}
		v.list = &list{rows: 1, columns: 1, values: []Value{o.value}}
		v.size, v.filled = 1, 1
	case o.kind == isList:
		v.list = o.list
		v.size = o.list.rows
		if across {
			v.size = o.list.columns
		}
		v.filled = v.size
	case len(o.more) > 0:
		return v, failed(ErrValue), false
	default:
		v.area = o.area
		row, column := f.e.book.Extent(o.area.index)
		v.size, v.filled = v.area.rows(), min(v.area.bottom, row)-v.area.top+1
		if across {
			v.size, v.filled = v.area.columns(), min(v.area.right, column)-v.area.left+1
		}
		v.filled = max(0, v.filled)
	}
	return v, why, true
}

func (v *vector) at(i int) Value {
	switch {
	case v.list != nil && v.across:
		return v.list.at(0, i)
	case v.list != nil:
		return v.list.at(i, 0)
	case v.across:
		return v.f.cell(v.area.index, sheet.Place{Row: v.area.top, Column: v.area.left + i})
	}
	return v.f.cell(v.area.index, sheet.Place{Row: v.area.top + i, Column: v.area.left})
}

// unknownAt returns the unknown element i. If it is only not evaluated yet, those behind
// it are asked as well, so that all that are needed are noted at once.
func (v *vector) unknownAt(i int, x Value, needs int) Value {
	if v.f.e.missing > needs {
		for j := i + 1; j < v.filled; j++ {
			v.at(j)
		}
	}
	return x
}

// notFound is what a look-up gives that finds nothing.
var notFound = failed(ErrNA)

// exactly finds the first element that equals a key, of which a text may have
// wildcards. why is set if there is none, or if it cannot be told.
func (v *vector) exactly(key Value, wildcards bool) (i int, why Value) {
	if key.kind == KindBlank {
		key = v.f.int(0)
	}
	pattern := ""
	if wildcards && key.kind == KindText && strings.ContainsAny(key.text, "*?~") {
		pattern = strings.ToLower(key.text)
	}
	if pattern == "" && v.list == nil && !v.across && v.filled > fewRows {
		if i, why, ok := v.indexed(key); ok {
			return i, why
		}
	}
	if why, ok := v.f.e.look(v.filled); !ok {
		return 0, why
	}
	needs := v.f.e.missing
	for i := range v.filled {
		x := v.at(i)
		if x.kind == KindUnknown {
			return 0, v.unknownAt(i, x, needs)
		}
		if x.kind != key.kind {
			continue
		}
		if pattern != "" {
			if match(pattern, strings.ToLower(x.text)) {
				return i, Value{}
			}
			continue
		}
		if x.kind == KindError {
			continue
		}
		order, why, ok := v.f.order(x, key)
		if !ok {
			return 0, why
		}
		if order == 0 {
			return i, Value{}
		}
	}
	return 0, notFound
}

// sorted finds the last element that is no greater than a key in a vector that
// ascends, or no less in one that descends. In one that does neither, programs differ
// in what they find.
func (v *vector) sorted(key Value, descending bool) (i int, why Value) {
	if key.kind == KindBlank {
		key = v.f.int(0)
	}
	places, why := v.ordered(key.kind, descending)
	if why.kind != KindBlank {
		return 0, why
	}
	way := 1
	if descending {
		way = -1
	}
	from, to := 0, len(places) // all before from are no greater, all from to on are
	for from < to {
		half := (from + to) / 2
		order, why, ok := v.f.order(v.at(int(places[half])), key)
		if !ok {
			return 0, why
		}
		if order*way <= 0 {
			from = half + 1
		} else {
			to = half
		}
	}
	if from == 0 {
		return 0, notFound
	}
	return int(places[from-1]), Value{}
}

// ordered returns where the elements of a kind are, which must ascend or descend.
func (v *vector) ordered(kind Kind, descending bool) (places []int32, why Value) {
	known := v.list == nil && !v.across
	var found *finder
	key := orderKey{kind, descending}
	if known {
		found = v.finder()
		if places, ok := found.ordered[key]; ok {
			return places, found.faults[key]
		}
	}
	if why, ok := v.f.e.look(v.filled); !ok {
		return nil, why
	}
	before := v.f.e.missing
	var last Value
	for i := range v.filled {
		x := v.at(i)
		if x.kind == KindUnknown {
			why = v.unknownAt(i, x, before)
			break
		}
		if x.kind != kind {
			continue
		}
		if len(places) > 0 {
			order, fault, ok := v.f.order(last, x)
			if !ok {
				why = fault
				break
			}
			if order > 0 && !descending || order < 0 && descending {
				why = unknown(fmt.Sprintf("a look-up that needs a sorted list, in one that is not: %s comes before %s", last, x))
				break
			}
		}
		last = x
		places = append(places, int32(i))
	}
	if known && v.f.e.missing == before {
		found.ordered[key], found.faults[key] = places, why
	}
	return places, why
}

// lookUpIn is VLOOKUP and HLOOKUP.
func (f *frame) lookUpIn(args []Expr, across bool) operand {
	key, table := f.value(args[0]), f.eval(args[1])
	if v, is := bad(key); is {
		return plain(v)
	}
	near := logical(true)
	if len(args) == 4 {
		if near = f.logical(f.value(args[3])); near.kind != KindLogical {
			return plain(near)
		}
	}
	n, why, ok := f.integer(f.value(args[2]))
	if !ok {
		return plain(why)
	}
	v, why, ok := f.vectorOf(table, across)
	if !ok {
		return plain(why)
	}
	rows, columns := table.size()
	if across {
		columns = rows
	}
	switch {
	case n < 1:
		return plain(failed(ErrValue))
	case n > columns:
		return plain(failed(ErrRef))
	}
	var i int
	if near.Bool() {
		i, why = v.sorted(key, false)
	} else {
		i, why = v.exactly(key, true)
	}
	if why.kind != KindBlank {
		return plain(why)
	}
	if across {
		return f.pick(table, n-1, i)
	}
	return f.pick(table, i, n-1)
}

// size returns how many rows and columns an operand has.
func (o operand) size() (rows, columns int) {
	switch o.kind {
	case isArea:
		return o.area.rows(), o.area.columns()
	case isList:
		return o.list.rows, o.list.columns
	}
	return 1, 1
}

// pick returns one element of an operand, from row and column 0 on: of a range, a
// reference to it.
func (f *frame) pick(o operand, row, column int) operand {
	switch o.kind {
	case isArea:
		a := o.area
		a.top, a.left = a.top+row, a.left+column
		a.bottom, a.right = a.top, a.left
		return referred(a)
	case isList:
		return plain(o.list.at(row, column))
	}
	return o
}

// lookUp is LOOKUP, which looks through the longer side.
func lookUp(f *frame, args []Expr) operand {
	key, table := f.value(args[0]), f.eval(args[1])
	if v, is := bad(key); is {
		return plain(v)
	}
	rows, columns := table.size()
	across := columns > rows
	v, why, ok := f.vectorOf(table, across)
	if !ok {
		return plain(why)
	}
	i, why := v.sorted(key, false)
	if why.kind != KindBlank {
		return plain(why)
	}
	result := table
	if len(args) == 3 {
		if result = f.eval(args[2]); result.kind == isValue {
			return result
		}
		rows, columns = result.size()
		if rows > 1 && columns > 1 {
			return plain(failed(ErrNA))
		}
		if across = columns > rows; i >= max(rows, columns) {
			return plain(failed(ErrRef))
		}
		rows, columns = 1, 1
	}
	if across {
		return f.pick(result, rows-1, i)
	}
	return f.pick(result, i, columns-1)
}

// line returns an operand of one row or one column as a vector.
func (f *frame) line(o operand) (v vector, why Value, ok bool) {
	rows, columns := o.size()
	if rows > 1 && columns > 1 {
		return v, notFound, false
	}
	return f.vectorOf(o, columns > 1)
}

func matchIn(f *frame, args []Expr) operand {
	key, kind := f.value(args[0]), 1
	if v, is := bad(key); is {
		return plain(v)
	}
	v, why, ok := f.line(f.rangeOrList(args[1]))
	if !ok {
		return plain(why)
	}
	if len(args) == 3 {
		sign := f.number(f.value(args[2]))
		if sign.kind != KindNumber {
			return plain(sign)
		}
		if kind, ok = f.sign(sign); !ok {
			return plain(undecided())
		}
	}
	var i int
	if kind == 0 {
		i, why = v.exactly(key, true)
	} else {
		i, why = v.sorted(key, kind < 0)
	}
	if why.kind != KindBlank {
		return plain(why)
	}
	return plain(f.int(i + 1))
}

// find is what XMATCH and XLOOKUP do: by one of the ways of matching, from the first
// on or from the last back.
func (v *vector) find(key Value, mode, search int) (i int, why Value) {
	switch {
	case mode < -1 || mode > 2 || search != 1 && search != -1 && search != 2 && search != -2:
		return 0, failed(ErrValue)
	case search == 1 && mode == 0:
		return v.exactly(key, false)
	case search == 1 && mode == 2:
		return v.exactly(key, true)
	}
	if why, ok := v.f.e.look(v.filled); !ok {
		return 0, why
	}
	best, found, needs := Value{}, -1, v.f.e.missing
	for j := range v.filled {
		i := j
		if search < 0 {
			i = v.filled - 1 - j
		}
		x := v.at(i)
		if x.kind == KindUnknown {
			if v.f.e.missing > needs {
				v.unknownAt(-1, x, needs) // from either end
			}
			return 0, x
		}
		if x.kind != alike(key, x).kind || x.kind == KindError || x.kind == KindBlank {
			continue
		}
		if mode == 2 && key.kind == KindText && match(strings.ToLower(key.text), strings.ToLower(x.text)) {
			return i, Value{}
		}
		order, why, ok := v.f.order(x, key)
		if !ok {
			return 0, why
		}
		if order == 0 {
			return i, Value{}
		}
		if mode != order || mode == 2 {
			continue
		}
		if found >= 0 {
			nearer, why, ok := v.f.order(x, best)
			if !ok {
				return 0, why
			}
			if nearer != -mode {
				continue
			}
		}
		best, found = x, i
	}
	if found < 0 {
		return 0, notFound
	}
	return found, Value{}
}

// modes reads the last two arguments of XMATCH and XLOOKUP.
func (f *frame) modes(args []Expr) (mode, search int, why Value, ok bool) {
	search = 1
	if len(args) > 0 {
		if mode, why, ok = f.integer(f.value(args[0])); !ok {
			return mode, search, why, false
		}
	}
	if _, missing := at(args, 1).(*Missing); len(args) > 1 && !missing {
		if search, why, ok = f.integer(f.value(args[1])); !ok {
			return mode, search, why, false
		}
	}
	return mode, search, why, true
}

func at(args []Expr, i int) Expr {
	if i < len(args) {
		return args[i]
	}
	return nil
}

func xmatch(f *frame, args []Expr) operand {
	key := f.value(args[0])
	if v, is := bad(key); is {
		return plain(v)
	}
	v, why, ok := f.line(f.rangeOrList(args[1]))
	if !ok {
		return plain(why)
	}
	mode, search, why, ok := f.modes(args[2:])
	if !ok {
		return plain(why)
	}
	i, why := v.find(key, mode, search)
	if why.kind != KindBlank {
		return plain(why)
	}
	return plain(f.int(i + 1))
}

func xlookup(f *frame, args []Expr) operand {
	key := f.value(args[0])
	if v, is := bad(key); is {
		return plain(v)
	}
	v, why, ok := f.line(f.rangeOrList(args[1]))
	if !ok {
		return plain(why)
	}
	mode, search, why, ok := f.modes(args[min(4, len(args)):])
	if !ok {
		return plain(why)
	}
	i, why := v.find(key, mode, search)
	if why == notFound {
		if _, missing := at(args, 3).(*Missing); len(args) > 3 && !missing {
			return f.eval(args[3])
		}
	}
	if why.kind != KindBlank {
		return plain(why)
	}
	result := f.eval(args[2])
	rows, columns := result.size()
	if v.across && columns != v.size || !v.across && rows != v.size {
		if v, is := bad(result.value); is {
			return plain(v)
		}
		return plain(failed(ErrValue))
	}
	if v.across {
		return f.slice(result, -1, i)
	}
	return f.slice(result, i, -1)
}

// slice returns one row and all columns, or one column and all rows: below 0 is all.
func (f *frame) slice(o operand, row, column int) operand {
	rows, columns := o.size()
	top, bottom, left, right := 0, rows-1, 0, columns-1
	if row >= 0 {
		top, bottom = row, row
	}
	if column >= 0 {
		left, right = column, column
	}
	switch o.kind {
	case isArea:
		a := o.area
		return referred(area{a.index, a.top + top, a.left + left, a.top + bottom, a.left + right})
	case isList:
		l := &list{rows: bottom - top + 1, columns: right - left + 1}
		for i := top; i <= bottom; i++ {
			for j := left; j <= right; j++ {
				l.values = append(l.values, o.list.at(i, j))
			}
		}
		return listed(l)
	}
	return o
}

// index is INDEX: a row and a column of a range or list, all of them for 0.
func index(f *frame, args []Expr) operand {
	o := f.rangeOrList(args[0])
	if o.kind == isValue {
		if v, is := bad(o.value); is {
			return plain(v)
		}
	}
	var numbers [3]int
	for i, arg := range args[1:] {
		n, why, ok := f.integer(f.value(arg))
		if !ok {
			return plain(why)
		}
		numbers[i] = n
	}
	row, column := numbers[0], numbers[1]
	if areas := o.areas(); len(args) == 4 && numbers[2] != 1 || len(o.more) > 0 {
		n := max(1, numbers[2])
		if o.kind != isArea || n > len(areas) || numbers[2] < 0 {
			return plain(failed(ErrRef))
		}
		o = referred(areas[n-1])
	}
	rows, columns := o.size()
	if len(args) == 2 && rows == 1 && columns > 1 { // the one number counts along a row
		row, column = 0, row
	} else if len(args) == 2 && columns == 1 {
		column = 1
	}
	switch {
	case row < 0 || column < 0:
		return plain(failed(ErrValue))
	case row > rows || column > columns:
		return plain(failed(ErrRef))
	}
	return f.slice(o, row-1, column-1)
}

// offset is OFFSET: a reference so many rows and columns away.
func offset(f *frame, args []Expr) operand {
	o := f.eval(args[0])
	if o.kind != isArea || len(o.more) > 0 {
		if v, is := bad(o.value); is {
			return plain(v)
		}
		return plain(failed(ErrValue))
	}
	a := o.area
	numbers := [4]int{0, 0, a.rows(), a.columns()}
	for i, arg := range args[1:] {
		if _, missing := arg.(*Missing); missing {
			continue
		}
		n, why, ok := f.integer(f.value(arg))
		if !ok {
			return plain(why)
		}
		numbers[i] = n
	}
	height, width := numbers[2], numbers[3]
	top, left := a.top+numbers[0], a.left+numbers[1]
	if height < 0 {
		top, height = top+height+1, -height
	}
	if width < 0 {
		left, width = left+width+1, -width
	}
	if height == 0 || width == 0 || top < 1 || left < 1 || top+height-1 > lastRow || left+width-1 > lastColumn {
		return plain(failed(ErrRef))
	}
	return referred(area{a.index, top, left, top + height - 1, left + width - 1})
}
