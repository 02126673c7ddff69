package calc

import (
	"fmt"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// An area is cells of one sheet, corners included.
type area struct {
	index         int
	top, left     int
	bottom, right int
}

func (a area) rows() int    { return a.bottom - a.top + 1 }
func (a area) columns() int { return a.right - a.left + 1 }
func (a area) single() bool { return a.top == a.bottom && a.left == a.right }

// An operand is what a part of a formula gives: a value, a list, or a reference to one
// or more areas.
type operand struct {
	kind  operandKind
	value Value
	area  area
	more  []area // of a union, beside area
	list  *list
}

type operandKind uint8

const (
	isValue operandKind = iota
	isArea
	isList
)

// A list is values in rows and columns.
type list struct {
	rows, columns int
	values        []Value // row by row
}

func (l *list) at(row, column int) Value { return l.values[row*l.columns+column] }

func plain(v Value) operand { return operand{value: v} }

func listed(l *list) operand {
	if len(l.values) == 1 {
		return plain(l.values[0])
	}
	return operand{kind: isList, list: l}
}

func referred(a area) operand { return operand{kind: isArea, area: a} }

// areas returns all areas of a reference.
func (o operand) areas() []area { return append([]area{o.area}, o.more...) }

// A frame is where a formula is evaluated: its cell, and how.
type frame struct {
	*machine
	index int
	at    sheet.Place
	array bool   // ranges are lists; else they stand for the one cell in the formula's own row or column
	depth int    // names in one another
	move  bool   // references move with the cell, as in a name's formula: they are written as from A1
	names *given // that LET and LAMBDA give values, the latest first

	rows, columns int // by how much references that are not fixed move from where they are written
}

// written returns an expression as it reads in the formula's own cell.
func (f *frame) written(e Expr) Expr {
	if f.move {
		return e
	}
	e, _ = Move(e, f.rows, f.columns)
	return e
}

// formula evaluates a cell's formula to the one value that the cell shows.
func (m *machine) formula(e reading, index int, at sheet.Place, cell *sheet.Cell) Value {
	f := frame{machine: m, index: index, at: at, rows: e.rows, columns: e.columns}
	array, ok := cell.Array()
	if !ok {
		v := f.single(f.eval(e.form.Expr))
		if v.kind == KindBlank {
			return m.int(0)
		}
		return v
	}
	first := array.Area.First
	f.array, f.at = true, first
	o := f.eval(e.form.Expr)
	l, v := f.toList(o)
	if l != nil {
		v = l.broadcast(at.Row-first.Row, at.Column-first.Column)
	}
	if v.kind == KindBlank {
		return m.int(0)
	}
	return v
}

// broadcast returns the element of a row and column: a list of one row or column is
// repeated. Past the end is #N/A.
func (l *list) broadcast(row, column int) Value {
	if l.rows == 1 {
		row = 0
	}
	if l.columns == 1 {
		column = 0
	}
	if row >= l.rows || column >= l.columns {
		return failed(ErrNA)
	}
	return l.at(row, column)
}

// single returns the one value of an operand. Of a range, it is the one in the
// formula's row or column: ISO/IEC 29500-1, 18.17; OpenFormula 1.3, 3.3.
func (f *frame) single(o operand) Value {
	switch o.kind {
	case isValue:
		return o.value
	case isList:
		return o.list.values[0]
	}
	a := o.area
	if len(o.more) > 0 {
		return failed(ErrValue)
	}
	at := sheet.Place{Row: a.top, Column: a.left}
	switch {
	case a.single():
	case f.array:
		// the first cell
	case a.left == a.right && a.top <= f.at.Row && f.at.Row <= a.bottom:
		at.Row = f.at.Row
	case a.top == a.bottom && a.left <= f.at.Column && f.at.Column <= a.right:
		at.Column = f.at.Column
	default:
		return failed(ErrValue)
	}
	return f.cell(a.index, at)
}

// clipped cuts whole columns and rows off where no sheet has anything.
func (f *frame) clipped(a area) area {
	a.bottom = max(a.top, min(a.bottom, f.e.lower))
	a.right = max(a.left, min(a.right, f.e.right))
	return a
}

// toList returns the values of an operand as a list, or else v alone.
func (f *frame) toList(o operand) (l *list, v Value) {
	switch {
	case o.kind == isValue:
		return nil, o.value
	case o.kind == isList:
		return o.list, v
	case len(o.more) > 0:
		return nil, failed(ErrValue)
	case o.area.single():
		return nil, f.single(o)
	}
	a := f.clipped(o.area)
	size := a.rows() * a.columns()
	if size > f.e.bounds.Array {
		return nil, unknown(fmt.Sprintf("a list of %d elements", size))
	}
	if v, ok := f.e.look(size); !ok {
		return nil, v
	}
	l = &list{rows: a.rows(), columns: a.columns(), values: make([]Value, 0, size)}
	for row := a.top; row <= a.bottom; row++ {
		for column := a.left; column <= a.right; column++ {
			l.values = append(l.values, f.cell(a.index, sheet.Place{Row: row, Column: column}))
		}
	}
	return l, v
}

// each calls visit for all values of an operand. direct is false for those of a
// reference or list, of which texts and logicals mostly do not count. What is returned
// is unknown if not all could be looked at.
func (f *frame) each(o operand, visit func(v Value, direct bool)) (v Value) {
	switch o.kind {
	case isValue:
		visit(o.value, true)
	case isList:
		for _, v := range o.list.values {
			visit(v, false)
		}
	default:
		for _, a := range o.areas() {
			if v := f.eachCell(a, func(v Value) { visit(v, false) }); v.kind == KindUnknown {
				return v
			}
		}
	}
	return Value{}
}

// eachCell calls visit for the cells of an area that hold anything.
func (f *frame) eachCell(a area, visit func(v Value)) (v Value) {
	row, column := f.e.book.Extent(a.index)
	a.bottom, a.right = min(a.bottom, row), min(a.right, column)
	if a.rows() <= 0 || a.columns() <= 0 {
		return Value{}
	}
	if v, ok := f.e.look(a.rows() * a.columns()); !ok {
		return v
	}
	for row := a.top; row <= a.bottom; row++ {
		for column := a.left; column <= a.right; column++ {
			if v := f.cell(a.index, sheet.Place{Row: row, Column: column}); v.kind != KindBlank {
				visit(v)
			}
		}
	}
	return Value{}
}

// lift applies a function of values to operands: element by element where lists are
// computed with.
func (f *frame) lift(operands []operand, apply func(v []Value) Value) operand {
	values := make([]Value, len(operands))
	if !f.array {
		for i, o := range operands {
			if o.kind == isList { // a list in braces makes lists of all that it meets
				return f.lists(operands, apply)
			}
			values[i] = f.single(o)
		}
		return plain(apply(values))
	}
	return f.lists(operands, apply)
}

func (f *frame) lists(operands []operand, apply func(v []Value) Value) operand {
	values, fixed, all := make([]Value, len(operands)), make([]Value, len(operands)), make([]*list, len(operands))
	rows, columns := 1, 1
	for i, o := range operands {
		if !f.array && o.kind == isArea {
			fixed[i] = f.single(o)
			continue
		}
		all[i], fixed[i] = f.toList(o)
		if all[i] != nil {
			rows, columns = max(rows, all[i].rows), max(columns, all[i].columns)
		}
	}
	if rows*columns > f.e.bounds.Array {
		return plain(unknown(fmt.Sprintf("a list of %d elements", rows*columns)))
	}
	if v, ok := f.e.look(rows * columns); !ok {
		return plain(v)
	}
	held := 0
	out := &list{rows: rows, columns: columns, values: make([]Value, 0, rows*columns)}
	for row := range rows {
		for column := range columns {
			if f.e.tick(1); f.e.stopped != nil {
				return plain(unknown("the work was stopped"))
			}
			for i, l := range all {
				if values[i] = fixed[i]; l != nil {
					values[i] = l.broadcast(row, column)
				}
			}
			v := apply(values)
			if held += v.size(); held > mostHeld {
				return plain(unknown(fmt.Sprintf("a list of more than %d MB", mostHeld>>20)))
			}
			out.values = append(out.values, v)
		}
	}
	return listed(out)
}
