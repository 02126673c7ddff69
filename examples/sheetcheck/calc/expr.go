package calc

import (
	"strconv"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// An Expr is a formula or a part of one, as it is written. It is never changed once it
// is read. String writes it in the syntax of ISO/IEC 29500-1, 18.17, whichever it was
// read from, with the brackets that it needs and no others.
type Expr interface {
	Pos() int // where it begins in the text that was parsed, in bytes; of an operation, where its operator stands
	String() string
	write(b *strings.Builder, within int)
}

// pos is where an Expr begins.
type pos int32

// Pos returns the place in the text, in bytes from 0.
func (p pos) Pos() int { return int(p) }

type (
	// A Number is a number as it is typed.
	Number struct {
		pos
		Text string
	}
	// A Text is a text in quotation marks, without them.
	Text struct {
		pos
		Value string
	}
	// A Logical is TRUE or FALSE.
	Logical struct {
		pos
		Value bool
	}
	// An ErrorValue is an error that is written into the formula, most often #REF!.
	ErrorValue struct {
		pos
		Code Code
	}
	// A Missing is an argument that is left empty, as in IF(A1,,2).
	Missing struct{ pos }
	// A List is a list of constants in braces, row by row; rows are equally long.
	List struct {
		pos
		Rows [][]Expr
	}
	// An Area is a cell, a range of cells, or whole columns or rows.
	Area struct {
		pos
		File     string // another workbook, such as "1" of [1]Sheet1!A1; empty for this one
		Sheet    string // empty for the formula's own
		Last     string // the last sheet of Sheet1:Sheet3!A1; else empty
		From, To Corner // left upper and right lower, both the same for a cell
		Columns  bool   // whole columns: rows are from 1 to the last
		Rows     bool   // whole rows
	}
	// A Name is a name that the workbook gives a formula or an area.
	Name struct {
		pos
		File, Sheet string
		Name        string
	}
	// A TableColumn is columns of a table: Shells[Wall], Shells[[#This Row],[Wall]].
	TableColumn struct {
		pos
		Table   string // empty for the one that the formula stands in
		First   string // a column; empty for all
		Last    string // of First to Last; else empty
		Items   []string
		ThisRow bool
	}
	// A Unary is a sign or a percent sign.
	Unary struct {
		pos
		Op Op
		X  Expr
	}
	// A Binary is an operation on two parts.
	Binary struct {
		pos
		Op   Op
		X, Y Expr
	}
	// A Call is a function with its arguments.
	Call struct {
		pos
		Name string // in capitals, without the prefixes that files put before some names
		Args []Expr
	}
)

// A Corner is a cell as a formula names it.
type Corner struct {
	sheet.Place
	ColumnFixed, RowFixed bool // written with a dollar sign
}

// The last row and column that a formula can name: ISO/IEC 29500-1, 18.17.
const (
	lastRow    = 1 << 20
	lastColumn = 1 << 14
)

// Single reports whether the area is one cell.
func (a *Area) Single() bool { return a.Last == "" && a.cell() }

// cell reports whether the area is one cell, of one sheet or several.
func (a *Area) cell() bool { return !a.Columns && !a.Rows && a.From.Place == a.To.Place }

// An Op is an operator.
type Op uint8

// The operators, by their binding: the first bind least.
const (
	Equal Op = iota
	NotEqual
	Less
	LessEqual
	Greater
	GreaterEqual
	Concatenate
	Add
	Subtract
	Multiply
	Divide
	Power
	Percent // behind its operand
	Plus    // a sign
	Minus   // a sign
	Single  // "@": the one cell of a range that is in the formula's own row or column
	Union
	Intersection
	Span // of two references: INDEX(…):B7
)

// binding is how tightly operators bind and how they are written. Signs bind more
// tightly than the power, so that -2^2 is 4, and powers are taken from the left:
// OASIS OpenDocument 1.3 part 4, 5.5, table 1; ISO/IEC 29500-1, 18.17.
var binding = [...]struct {
	sign  string
	level int
}{
	Equal: {"=", 1}, NotEqual: {"<>", 1}, Less: {"<", 1}, LessEqual: {"<=", 1}, Greater: {">", 1}, GreaterEqual: {">=", 1},
	Concatenate: {"&", 2},
	Add:         {"+", 3}, Subtract: {"-", 3},
	Multiply: {"*", 4}, Divide: {"/", 4},
	Power: {"^", 5},
	Plus:  {"+", 6}, Minus: {"-", 6}, Single: {"@", 6},
	Percent:      {"%", 7}, // the standards have it below the signs, which gives the same value
	Union:        {",", 8},
	Intersection: {" ", 9},
	Span:         {":", 10},
}

// String returns the operator as it is written.
func (o Op) String() string { return binding[o].sign }

// Comparison reports whether the operator compares.
func (o Op) Comparison() bool { return o <= GreaterEqual }

// Walk calls visit for an expression and all parts of it, from the outside inwards
// and from left to right. Parts of an expression for which visit returns false are
// left out.
func Walk(e Expr, visit func(Expr) bool) {
	if !visit(e) {
		return
	}
	switch e := e.(type) {
	case *Unary:
		Walk(e.X, visit)
	case *Binary:
		Walk(e.X, visit)
		Walk(e.Y, visit)
	case *Call:
		for _, a := range e.Args {
			Walk(a, visit)
		}
	case *List:
		for _, row := range e.Rows {
			for _, x := range row {
				Walk(x, visit)
			}
		}
	}
}

// Rewrite returns a copy of an expression in which each part for which change returns
// another one is replaced by it. Parts of a replacement are not looked at again.
func Rewrite(e Expr, change func(Expr) Expr) Expr {
	if other := change(e); other != nil {
		return other
	}
	switch e := e.(type) {
	case *Unary:
		c := *e
		c.X = Rewrite(e.X, change)
		return &c
	case *Binary:
		c := *e
		c.X, c.Y = Rewrite(e.X, change), Rewrite(e.Y, change)
		return &c
	case *Call:
		c := *e
		c.Args = make([]Expr, len(e.Args))
		for i, a := range e.Args {
			c.Args[i] = Rewrite(a, change)
		}
		return &c
	}
	return e
}

// Move returns a formula as it reads when its cell is copied so many rows down and columns
// to the right. ok is false if a reference would leave the sheet.
func Move(e Expr, rows, columns int) (moved Expr, ok bool) {
	ok = true
	if rows == 0 && columns == 0 {
		return e, ok
	}
	moved = Rewrite(e, func(e Expr) Expr {
		a, is := e.(*Area)
		if !is {
			return nil
		}
		c := a.Moved(rows, columns)
		ok = ok && c.From.Row > 0 && c.From.Column > 0
		return &c
	})
	return moved, ok
}

// Moved returns an area as it reads when its cell is copied so many rows down and columns to
// the right.
func (a *Area) Moved(rows, columns int) Area {
	c := *a
	c.From.Place = a.From.shifted(rows, columns, a.Columns, a.Rows)
	c.To.Place = a.To.shifted(rows, columns, a.Columns, a.Rows)
	return c
}

// shifted returns where a corner is, of whole columns or rows perhaps, when its cell is
// copied.
func (c Corner) shifted(rows, columns int, wholeColumns, wholeRows bool) sheet.Place {
	p := c.Place
	if !c.RowFixed && !wholeColumns {
		p.Row += rows
	}
	if !c.ColumnFixed && !wholeRows {
		p.Column += columns
	}
	return p
}

func text(e Expr) string {
	var b strings.Builder
	e.write(&b, 0)
	return b.String()
}

// String returns the number as it is typed.
func (e *Number) String() string { return e.Text }

// String returns the text in quotation marks.
func (e *Text) String() string { return text(e) }

// String returns TRUE or FALSE.
func (e *Logical) String() string { return text(e) }

// String returns the error: "#REF!".
func (e *ErrorValue) String() string { return e.Code.String() }

// String returns nothing.
func (e *Missing) String() string { return "" }

// String returns the list in braces.
func (e *List) String() string { return text(e) }

// String returns the reference.
func (e *Area) String() string { return text(e) }

// String returns the name, with its sheet if it is written.
func (e *Name) String() string { return text(e) }

// String returns the reference to the table.
func (e *TableColumn) String() string { return text(e) }

// String returns the sign and its operand.
func (e *Unary) String() string { return text(e) }

// String returns the operation.
func (e *Binary) String() string { return text(e) }

// String returns the function with its arguments.
func (e *Call) String() string { return text(e) }

func (e *Number) write(b *strings.Builder, _ int) { b.WriteString(e.Text) }

func (e *Text) write(b *strings.Builder, _ int) {
	b.WriteByte('"')
	b.WriteString(strings.ReplaceAll(e.Value, `"`, `""`))
	b.WriteByte('"')
}

func (e *Logical) write(b *strings.Builder, _ int) {
	if e.Value {
		b.WriteString("TRUE")
	} else {
		b.WriteString("FALSE")
	}
}

func (e *ErrorValue) write(b *strings.Builder, _ int) { b.WriteString(e.Code.String()) }

func (e *Missing) write(*strings.Builder, int) {}

func (e *List) write(b *strings.Builder, _ int) {
	b.WriteByte('{')
	for i, row := range e.Rows {
		if i > 0 {
			b.WriteByte(';')
		}
		for j, x := range row {
			if j > 0 {
				b.WriteByte(',')
			}
			x.write(b, 0)
		}
	}
	b.WriteByte('}')
}

func (e *Area) write(b *strings.Builder, _ int) {
	writeSheet(b, e.File, e.Sheet, e.Last)
	switch {
	case e.Columns:
		writeColumn(b, e.From)
		b.WriteByte(':')
		writeColumn(b, e.To)
	case e.Rows:
		writeRow(b, e.From)
		b.WriteByte(':')
		writeRow(b, e.To)
	default:
		writeColumn(b, e.From)
		writeRow(b, e.From)
		if e.From != e.To {
			b.WriteByte(':')
			writeColumn(b, e.To)
			writeRow(b, e.To)
		}
	}
}

func writeColumn(b *strings.Builder, c Corner) {
	if c.ColumnFixed {
		b.WriteByte('$')
	}
	b.WriteString(sheet.ColumnName(c.Column))
}

func writeRow(b *strings.Builder, c Corner) {
	if c.RowFixed {
		b.WriteByte('$')
	}
	b.WriteString(strconv.Itoa(c.Row))
}

func (e *Name) write(b *strings.Builder, _ int) {
	writeSheet(b, e.File, e.Sheet, "")
	b.WriteString(e.Name)
}

// writeSheet writes what stands before a cell or name.
func writeSheet(b *strings.Builder, file, first, last string) {
	if file == "" && first == "" {
		return
	}
	whole := first
	if last != "" {
		whole += ":" + last
	}
	if file != "" {
		whole = "[" + file + "]" + whole
	}
	if plainSheet(file) && plainSheet(first) && plainSheet(last) {
		b.WriteString(whole)
	} else {
		b.WriteString("'" + strings.ReplaceAll(whole, "'", "''") + "'")
	}
	b.WriteByte('!')
}

// plainSheet reports whether a sheet's name needs no quotation marks.
func plainSheet(name string) bool {
	for i := range len(name) {
		if c := name[i]; !isWord(c) || c == '$' || c == '.' && i == 0 {
			return false
		}
	}
	if name == "" {
		return true
	}
	_, cell := corner(name)
	_, column := column(name)
	return !cell && !column && (name[0] < '0' || name[0] > '9')
}

func (e *TableColumn) write(b *strings.Builder, _ int) {
	b.WriteString(e.Table)
	b.WriteByte('[')
	var parts []string
	for _, item := range e.Items {
		parts = append(parts, "["+item+"]")
	}
	if e.ThisRow {
		parts = append(parts, "[#This Row]")
	}
	if e.First != "" {
		column := "[" + escapeColumn(e.First) + "]"
		if e.Last != "" {
			column += ":[" + escapeColumn(e.Last) + "]"
		}
		parts = append(parts, column)
	}
	b.WriteString(strings.Join(parts, ","))
	b.WriteByte(']')
}

// escapeColumn writes a column's name: ISO/IEC 29500-1, 18.17 escapes these
// characters with an apostrophe.
func escapeColumn(name string) string {
	return strings.NewReplacer("'", "''", "[", "'[", "]", "']", "#", "'#", "@", "'@").Replace(name)
}

func (e *Unary) write(b *strings.Builder, within int) {
	level := binding[e.Op].level
	if level < within {
		b.WriteByte('(')
		defer b.WriteByte(')')
	}
	if e.Op == Percent {
		e.X.write(b, level)
		b.WriteByte('%')
		return
	}
	b.WriteString(e.Op.String())
	e.X.write(b, level)
}

func (e *Binary) write(b *strings.Builder, within int) {
	level := binding[e.Op].level
	if level < within || e.Op == Union {
		b.WriteByte('(')
		defer b.WriteByte(')')
	}
	if e.Op == Span {
		writeEnd(b, e.X, level)
		b.WriteByte(':')
		writeEnd(b, e.Y, level+1)
		return
	}
	e.X.write(b, level)
	b.WriteString(e.Op.String())
	e.Y.write(b, level+1)
}

// writeEnd writes an end of a range. A name gets brackets, so that A:B is two columns
// and never two names, and an area of several cells behind the colon, so that x:(B1:C4) stays a range to an area.
func writeEnd(b *strings.Builder, e Expr, within int) {
	_, name := e.(*Name)
	area, is := e.(*Area)
	if !name && !(is && within > binding[Span].level && (area.Columns || area.Rows || area.From != area.To)) {
		e.write(b, within)
		return
	}
	b.WriteByte('(')
	e.write(b, 0)
	b.WriteByte(')')
}

func (e *Call) write(b *strings.Builder, _ int) {
	args := e.Args
	if e.Name == application {
		e.Args[0].write(b, 0)
		args = args[1:]
	}
	b.WriteString(strings.TrimSuffix(e.Name, application))
	b.WriteByte('(')
	for i, a := range args {
		if i > 0 {
			b.WriteByte(',')
		}
		a.write(b, 0)
	}
	b.WriteByte(')')
}
