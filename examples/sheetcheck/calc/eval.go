package calc

import (
	"fmt"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// mostNames is how many names may stand for one another in turn.
const mostNames = 16

// nameVisits is how many cells a name counts for: names that stand for names, each
// several times, are soon very many.
const nameVisits = 50

// eval evaluates a part of a formula.
func (f *frame) eval(e Expr) operand {
	switch e := e.(type) {
	case *Number:
		v, ok := f.numeral(e.Text)
		if !ok {
			return plain(failed(ErrNum))
		}
		return plain(v)
	case *Text:
		return plain(textValue(e.Value))
	case *Logical:
		return plain(logical(e.Value))
	case *ErrorValue:
		return plain(failed(e.Code))
	case *Missing:
		return operand{}
	case *Area:
		return f.reference(e)
	case *Unary:
		return f.unary(e)
	case *Binary:
		return f.operation(e)
	case *Call:
		return f.call(e)
	case *Name:
		return f.name(e)
	case *List:
		return f.constants(e)
	case *TableColumn:
		return f.table(e)
	case *computed:
		return e.operand
	}
	return plain(unknown(fmt.Sprintf("%s is not evaluated", e)))
}

// value evaluates a part of a formula to one value.
func (f *frame) value(e Expr) Value {
	o := f.eval(e)
	if o.kind == isList || f.array && o.kind == isArea && !o.area.single() {
		return unknown(fmt.Sprintf("%s is a list where one value is wanted", f.written(e)))
	}
	return f.single(o)
}

// rangeOrList evaluates an argument that is a range or a list. Of an operation on
// ranges, some programs make a list there and some do not.
func (f *frame) rangeOrList(e Expr) operand {
	o := f.eval(e)
	if f.array || o.kind != isValue {
		return o
	}
	lists := *f
	lists.array = true
	if lists.eval(e).kind == isList {
		return plain(unknown(fmt.Sprintf("%s, of which some programs make a list and some do not", f.written(e))))
	}
	return o
}

func (f *frame) constants(e *List) operand {
	l := &list{rows: len(e.Rows), columns: len(e.Rows[0])}
	for _, row := range e.Rows {
		for _, x := range row {
			l.values = append(l.values, f.value(x))
		}
	}
	return listed(l)
}

// sheetIndex returns the number of a sheet; the formula's own if none is named.
func (f *frame) sheetIndex(name string) (int, bool) {
	if name == "" {
		return f.index, true
	}
	return f.e.sheet(name)
}

func (f *frame) reference(e *Area) operand {
	if e.File != "" {
		return plain(unknown(fmt.Sprintf("%s is in another file", f.written(e))))
	}
	first, ok := f.sheetIndex(e.Sheet)
	if !ok {
		return plain(failed(ErrRef))
	}
	from, to := f.moved(e.From, e.Columns, e.Rows), f.moved(e.To, e.Columns, e.Rows)
	o := referred(area{index: first, top: min(from.Row, to.Row), left: min(from.Column, to.Column), bottom: max(from.Row, to.Row), right: max(from.Column, to.Column)})
	if e.Last == "" {
		return o
	}
	last, ok := f.sheetIndex(e.Last)
	if !ok {
		return plain(failed(ErrRef))
	}
	first, last = min(first, last), max(first, last)
	o.area.index = first
	for index := first + 1; index <= last; index++ {
		a := o.area
		a.index = index
		o.more = append(o.more, a)
	}
	return o
}

// moved returns where a corner lies for the cell; in a name's formula, what is not fixed moves with
// the cell and round the end of the sheet.
func (f *frame) moved(c Corner, columns, rows bool) sheet.Place {
	p := c.Place
	if !f.move {
		return c.shifted(f.rows, f.columns, columns, rows)
	}
	if !c.RowFixed && !columns {
		p.Row = (p.Row+f.at.Row-2)%lastRow + 1
	}
	if !c.ColumnFixed && !rows {
		p.Column = (p.Column+f.at.Column-2)%lastColumn + 1
	}
	return p
}

// definition is what a name stands for.
type definition struct {
	parsed Expr
	why    string // if it is not known
}

func (f *frame) name(e *Name) operand {
	if e.File != "" {
		return plain(unknown(fmt.Sprintf("%s is in another file", e)))
	}
	if b := f.bound(e.Name); b != nil && e.Sheet == "" {
		if b.lambda != nil {
			return plain(unknown(fmt.Sprintf("the function %s in place of a value", e.Name)))
		}
		return b.operand
	}
	index, ok := f.sheetIndex(e.Sheet)
	if !ok {
		return plain(failed(ErrRef))
	}
	d := f.definition(index, e.Name)
	switch {
	case d.parsed == nil && d.why == "":
		return plain(failed(ErrName))
	case d.parsed == nil:
		return plain(unknown(d.why))
	case f.depth >= mostNames:
		return plain(unknown(fmt.Sprintf("the name %s stands for itself, or for names more than %d deep", e.Name, mostNames)))
	}
	if v, ok := f.e.look(nameVisits); !ok {
		return plain(v)
	}
	inner := *f
	inner.index, inner.depth, inner.move, inner.names = index, f.depth+1, true, nil
	if e.Sheet == "" {
		inner.index = f.index
	}
	return inner.eval(d.parsed)
}

// definition returns what a name stands for in a sheet, read once.
func (f *frame) definition(index int, name string) definition {
	key := fmt.Sprint(index, "!", strings.ToLower(name))
	d, ok := f.e.parsed[key]
	if !ok {
		d = f.define(index, name)
		f.e.parsed[key] = d
	}
	return d
}

func (f *frame) define(index int, name string) (d definition) {
	formula, ok := f.e.book.Formula(index, name)
	if !ok {
		return d
	}
	parsed, err := Parse(formula)
	if err != nil {
		d.why = fmt.Sprintf("the name %s: %s", name, err)
		return d
	}
	d.parsed = parsed
	return d
}

// table returns the cells of a table's columns: ISO/IEC 29500-1, 18.17.
func (f *frame) table(e *TableColumn) operand {
	if e.Table == "" {
		return plain(unknown(fmt.Sprintf("%s is of a table that is not named", e)))
	}
	t, ok := f.e.book.Table(e.Table)
	if !ok {
		return plain(failed(ErrRef))
	}
	a := area{index: t.Index, top: t.From.Row + t.Headings, left: t.From.Column, bottom: t.To.Row - t.Totals, right: t.To.Column}
	for i, item := range e.Items {
		top, bottom := t.From.Row, t.To.Row
		switch item {
		case "#Headers":
			bottom = t.From.Row + t.Headings - 1
		case "#Totals":
			top = t.To.Row - t.Totals + 1
		case "#Data":
			top, bottom = t.From.Row+t.Headings, t.To.Row-t.Totals
		}
		if i == 0 {
			a.top, a.bottom = top, bottom
			continue
		}
		a.top, a.bottom = min(a.top, top), max(a.bottom, bottom)
	}
	if e.ThisRow {
		if f.index != t.Index || f.at.Row < a.top || f.at.Row > a.bottom {
			return plain(failed(ErrValue))
		}
		a.top, a.bottom = f.at.Row, f.at.Row
	}
	if e.First != "" {
		first, last := columnOf(t, e.First), columnOf(t, e.First)
		if e.Last != "" {
			last = columnOf(t, e.Last)
		}
		if first < 0 || last < 0 {
			return plain(failed(ErrRef))
		}
		a.left, a.right = t.From.Column+min(first, last), t.From.Column+max(first, last)
	}
	if a.rows() <= 0 || a.columns() <= 0 {
		return plain(failed(ErrRef))
	}
	return referred(a)
}

// columnOf returns the number of a column by its heading, from 0, or -1.
func columnOf(t sheet.Table, name string) int {
	for i, c := range t.Columns {
		if strings.EqualFold(c, name) {
			return i
		}
	}
	return -1
}

func (f *frame) unary(e *Unary) operand {
	if e.Op == Single {
		scalar := *f
		scalar.array = false
		return plain(scalar.value(e.X))
	}
	o := f.eval(e.X)
	if e.Op == Plus {
		return o // which leaves a text a text
	}
	return f.lift([]operand{o}, func(v []Value) Value {
		n := f.number(v[0])
		if n.kind != KindNumber {
			return n
		}
		if e.Op == Percent {
			return f.div(n, f.int(100))
		}
		return f.neg(n)
	})
}

func (f *frame) operation(e *Binary) operand {
	x, y := f.eval(e.X), f.eval(e.Y)
	if e.Op >= Union {
		return f.references(e.Op, x, y)
	}
	if x.kind == isValue && y.kind == isValue {
		return plain(f.operate(e.Op, x.value, y.value))
	}
	if !f.array && x.kind != isList && y.kind != isList {
		return plain(f.operate(e.Op, f.single(x), f.single(y)))
	}
	return f.lift([]operand{x, y}, func(v []Value) Value { return f.operate(e.Op, v[0], v[1]) })
}

// operate applies an operator to two values.
func (f *frame) operate(op Op, x, y Value) Value {
	if op.Comparison() {
		order, v, ok := f.order(x, y)
		if !ok {
			return v
		}
		return logical(holds(op, order))
	}
	if op == Concatenate {
		x, y = f.text(x), f.text(y)
		if v, is := bad(x, y); is {
			return v
		}
		if len(x.text)+len(y.text) > longestText {
			return failed(ErrValue)
		}
		return textValue(x.text + y.text)
	}
	x, y = f.number(x), f.number(y)
	if x.kind != KindNumber || y.kind != KindNumber {
		v, _ := bad(x, y)
		return v
	}
	switch op {
	case Add:
		return f.add(x, y)
	case Subtract:
		return f.sub(x, y)
	case Multiply:
		return f.mul(x, y)
	case Divide:
		return f.div(x, y)
	}
	return f.pow(x, y)
}

// longestText is how long a text may be that a formula makes: ISO/IEC 29500-1, 18.17.
const longestText = 32767

// holds reports whether a comparison holds of two values in that order.
func holds(op Op, order int) bool {
	switch op {
	case Equal:
		return order == 0
	case NotEqual:
		return order != 0
	case Less:
		return order < 0
	case LessEqual:
		return order <= 0
	case Greater:
		return order > 0
	}
	return order >= 0
}

// references joins references: the cells of both, those in both, those between both.
func (f *frame) references(op Op, x, y operand) operand {
	if x.kind != isArea || y.kind != isArea {
		v, is := bad(x.value, y.value)
		if is {
			return plain(v)
		}
		return plain(failed(ErrValue))
	}
	a, b := x.area, y.area
	switch op {
	case Union:
		return operand{kind: isArea, area: a, more: append(append(append([]area{}, x.more...), b), y.more...)}
	case Span:
		if a.index != b.index || len(x.more)+len(y.more) > 0 {
			return plain(failed(ErrValue))
		}
		return referred(area{a.index, min(a.top, b.top), min(a.left, b.left), max(a.bottom, b.bottom), max(a.right, b.right)})
	}
	var all []area
	for _, a := range x.areas() {
		for _, b := range y.areas() {
			both := area{a.index, max(a.top, b.top), max(a.left, b.left), min(a.bottom, b.bottom), min(a.right, b.right)}
			if a.index == b.index && both.rows() > 0 && both.columns() > 0 {
				all = append(all, both)
			}
		}
	}
	if len(all) == 0 {
		return plain(failed(ErrNull))
	}
	return operand{kind: isArea, area: all[0], more: all[1:]}
}
