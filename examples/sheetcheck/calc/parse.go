package calc

import (
	"errors"
	"fmt"
	"strings"

	"example.com/closefit/units"
)

// ErrFormula is the kind of error for a text that is not a formula.
var ErrFormula = errors.New("not a formula")

// What of a formula is read at most. Office programs allow 8192 characters and 64
// functions in one another.
const (
	longestFormula = 8192
	mostNests      = 256
	mostArguments  = 255
)

// Parse reads a formula, with or without its "=": in the syntax of ISO/IEC 29500-1,
// 18.17, or, if it begins with a namespace such as "of:", in that of OASIS
// OpenDocument 1.3 part 4, section 5. The error is a *units.Error of kind ErrFormula.
func Parse(formula string) (Expr, error) {
	p := parser{text: formula}
	if len(formula) > longestFormula {
		return nil, p.fail(0, fmt.Sprintf("%d characters", len(formula)), fmt.Sprintf("split it: at most %d are read", longestFormula))
	}
	p.begin()
	e := p.comparison()
	p.space()
	if p.err == nil && p.at < len(p.text) {
		p.unexpected()
	}
	if p.err != nil {
		return nil, p.err
	}
	return e, nil
}

// parser reads a formula by recursive descent, one function for each level of binding.
type parser struct {
	text  string
	at    int
	open  bool // OpenFormula's syntax
	nests int
	list  bool // in the arguments of a function, where a comma parts them
	err   error
}

func (p *parser) fail(at int, found, fix string) error {
	if p.err == nil {
		where := p.text
		if len(where) > 64 {
			where = strings.ToValidUTF8(where[:64], "") + "…"
		}
		p.err = &units.Error{Kind: ErrFormula, Where: fmt.Sprintf("%q", where), Column: at + 1, Found: found, Fix: fix}
	}
	return p.err
}

// unexpected fails at the next character.
func (p *parser) unexpected() Expr {
	if p.at >= len(p.text) {
		p.fail(p.at, "it ends too soon", "write what is missing")
		return &Missing{}
	}
	p.fail(p.at, fmt.Sprintf("%q", firstRune(p.text[p.at:])), "look for a bracket, a quotation mark or an operator that is missing or one too many")
	return &Missing{}
}

func firstRune(s string) string {
	for _, r := range s {
		return string(r)
	}
	return ""
}

// begin reads the namespace and the equals sign.
func (p *parser) begin() {
	for _, space := range []string{"of:", "msoxl:", "oooc:"} {
		if strings.HasPrefix(p.text, space) {
			p.at = len(space)
			p.open = space != "msoxl:"
		}
	}
	if strings.HasPrefix(p.text[p.at:], "==") { // "recalculate always"
		p.at++
	}
	if strings.HasPrefix(p.text[p.at:], "=") {
		p.at++
	}
}

func (p *parser) space() {
	for p.at < len(p.text) && isSpace(p.text[p.at]) {
		p.at++
	}
}

func isSpace(c byte) bool { return c == ' ' || c == '\n' || c == '\t' || c == '\r' }

// next returns the next character that is no space, or zero at the end.
func (p *parser) next() byte {
	p.space()
	if p.at < len(p.text) && p.err == nil {
		return p.text[p.at]
	}
	return 0
}

// into begins a part in brackets. It returns false if there are too many.
func (p *parser) into() bool {
	if p.nests++; p.nests > mostNests {
		p.fail(p.at, fmt.Sprintf("more than %d brackets in one another", mostNests), "put parts of it into cells of their own")
		return false
	}
	return true
}

func (p *parser) comparison() Expr {
	x := p.concatenation()
	for {
		c, at := p.next(), p.at
		var op Op
		switch {
		case c == '=':
			op = Equal
		case c == '<' && strings.HasPrefix(p.text[at:], "<>"):
			op = NotEqual
		case c == '<' && strings.HasPrefix(p.text[at:], "<="):
			op = LessEqual
		case c == '<':
			op = Less
		case c == '>' && strings.HasPrefix(p.text[at:], ">="):
			op = GreaterEqual
		case c == '>':
			op = Greater
		default:
			return x
		}
		p.at += len(op.String())
		x = &Binary{pos(at), op, x, p.concatenation()}
	}
}

func (p *parser) concatenation() Expr {
	x := p.sum()
	for p.next() == '&' {
		at := p.at
		p.at++
		x = &Binary{pos(at), Concatenate, x, p.sum()}
	}
	return x
}

func (p *parser) sum() Expr {
	x := p.product()
	for {
		op := Add
		switch p.next() {
		case '+':
		case '-':
			op = Subtract
		default:
			return x
		}
		at := p.at
		p.at++
		x = &Binary{pos(at), op, x, p.product()}
	}
}

func (p *parser) product() Expr {
	x := p.power()
	for {
		op := Multiply
		switch p.next() {
		case '*':
		case '/':
			op = Divide
		default:
			return x
		}
		at := p.at
		p.at++
		x = &Binary{pos(at), op, x, p.power()}
	}
}

func (p *parser) power() Expr {
	x := p.signed()
	for p.next() == '^' {
		at := p.at
		p.at++
		x = &Binary{pos(at), Power, x, p.signed()}
	}
	return x
}

func (p *parser) signed() Expr {
	op := Plus
	switch p.next() {
	case '+':
	case '-':
		op = Minus
	case '@':
		op = Single
	default:
		return p.percent()
	}
	at := p.at
	p.at++
	if !p.into() {
		return &Missing{}
	}
	x := p.signed()
	p.nests--
	return &Unary{pos(at), op, x}
}

func (p *parser) percent() Expr {
	x := p.union()
	for p.next() == '%' {
		x = &Unary{pos(p.at), Percent, x}
		p.at++
	}
	return x
}

// union reads references joined with "~", or with a comma where that does not part
// arguments.
func (p *parser) union() Expr {
	x := p.intersection()
	for {
		c := p.next()
		if !(c == '~' && p.open || c == ',' && !p.open && !p.list && isReference(x)) {
			return x
		}
		at := p.at
		p.at++
		x = &Binary{pos(at), Union, x, p.reference(p.intersection)}
	}
}

// intersection reads references joined with "!", or with a space.
func (p *parser) intersection() Expr {
	x := p.span()
	for {
		c, before := p.next(), p.at
		switch {
		case !isReference(x):
			return x
		case c == '!' && p.open:
			p.at++
		case !p.open && before > 0 && isSpace(p.text[before-1]) && (isWord(c) || c == '\'' || c == '(' || c == '[' || c == '#'):
		default:
			return x
		}
		x = &Binary{pos(before), Intersection, x, p.reference(p.span)}
	}
}

// reference reads what must be a reference.
func (p *parser) reference(read func() Expr) Expr {
	p.space()
	at := p.at
	x := read()
	if p.err == nil && !isReference(x) {
		p.fail(at, "what is no reference", "write a cell, a range or a name")
	}
	return x
}

// isReference reports whether an expression can be one.
func isReference(e Expr) bool {
	switch e := e.(type) {
	case *Area, *Name, *TableColumn, *Call:
		return true
	case *ErrorValue:
		return e.Code == ErrRef
	case *Binary:
		return e.Op >= Union
	}
	return false
}

// span reads references joined with ":". Two cells are made one Area.
func (p *parser) span() Expr {
	x := p.primary()
	for isReference(x) && p.next() == ':' {
		at := p.at
		p.at++
		y := p.reference(p.primary)
		if joined, ok := join(x, y); ok {
			x = joined
			continue
		}
		x = &Binary{pos(at), Span, x, y}
	}
	return x
}

// join makes one Area of two cells, the second without a sheet or on the same one.
func join(x, y Expr) (*Area, bool) {
	a, ok1 := x.(*Area)
	b, ok2 := y.(*Area)
	if !ok1 || !ok2 || !a.cell() || !b.cell() || b.File != "" || b.Last != "" || b.Sheet != "" && b.Sheet != a.Sheet {
		return nil, false
	}
	joined := *a
	joined.From, joined.To = corners(a.From, b.From)
	return &joined, true
}

// corners returns the left upper and the right lower one.
func corners(a, b Corner) (from, to Corner) {
	from, to = a, b
	if from.Row > to.Row {
		from.Row, to.Row = to.Row, from.Row
		from.RowFixed, to.RowFixed = to.RowFixed, from.RowFixed
	}
	if from.Column > to.Column {
		from.Column, to.Column = to.Column, from.Column
		from.ColumnFixed, to.ColumnFixed = to.ColumnFixed, from.ColumnFixed
	}
	return from, to
}

func (p *parser) primary() Expr {
	c, at := p.next(), p.at
	switch {
	case c == '(':
		p.at++
		if !p.into() {
			return &Missing{}
		}
		list := p.list
		p.list = false
		x := p.comparison()
		p.list = list
		p.closing(')')
		p.nests--
		return x
	case c == '"':
		s, ok := p.quoted('"')
		if !ok {
			return &Missing{}
		}
		return &Text{pos(at), s}
	case c == '#':
		return p.errorValue()
	case c == '{':
		return p.listOfConstants()
	case c == '[' && p.open:
		return p.openReference()
	case c == '[':
		return p.bracket()
	case c == '\'':
		return p.quotedSheet()
	case c >= '0' && c <= '9' || c == '.':
		return p.number()
	case c != 0 && (isWord(c) || c == '\\'):
		return p.word()
	}
	return p.unexpected()
}

// closing reads a closing bracket.
func (p *parser) closing(c byte) {
	if p.next() != c {
		if p.err == nil {
			p.unexpected()
		}
		return
	}
	p.at++
}

// quoted reads what is between two marks; inside, a mark is written twice.
func (p *parser) quoted(mark byte) (string, bool) {
	begin := p.at
	var b strings.Builder
	for from := p.at + 1; ; {
		end := strings.IndexByte(p.text[from:], mark)
		if end < 0 {
			p.fail(begin, "a quotation mark without its other", "close it")
			return "", false
		}
		b.WriteString(p.text[from : from+end])
		from += end + 1
		if from >= len(p.text) || p.text[from] != mark {
			p.at = from
			return b.String(), true
		}
		b.WriteByte(mark)
		from++
	}
}

func (p *parser) errorValue() Expr {
	at := p.at
	for c := ErrNull; c <= lastCode; c++ {
		if word := c.String(); len(p.text)-at >= len(word) && strings.EqualFold(p.text[at:at+len(word)], word) {
			p.at += len(word)
			return &ErrorValue{pos(at), c}
		}
	}
	return p.unexpected()
}

// listOfConstants reads {1,2;3,4}, in OpenFormula {1;2|3;4}.
func (p *parser) listOfConstants() Expr {
	list := &List{pos: pos(p.at)}
	between, below := byte(','), byte(';')
	if p.open {
		between, below = ';', '|'
	}
	p.at++
	for row := []Expr{}; ; {
		row = append(row, p.constant())
		c := p.next()
		if c == between {
			p.at++
			continue
		}
		list.Rows = append(list.Rows, row)
		if len(row) != len(list.Rows[0]) {
			p.fail(p.at, "rows of different length", "give each row of the list as many constants")
		}
		row = nil
		if c != below {
			p.closing('}')
			return list
		}
		p.at++
	}
}

func (p *parser) constant() Expr {
	c, at := p.next(), p.at
	if c == '-' || c == '+' {
		p.at++
		op := Plus
		if c == '-' {
			op = Minus
		}
		if c := p.next(); c != '.' && (c < '0' || c > '9') {
			return p.unexpected()
		}
		return &Unary{pos(at), op, p.number()}
	}
	x := p.primary()
	switch x.(type) {
	case *Number, *Text, *Logical, *ErrorValue, *Missing:
	default:
		p.fail(at, "what is no constant in a list in braces", "write a number or a text there")
	}
	return x
}

// digits moves over digits and reports whether there are any.
func (p *parser) digits() bool {
	from := p.at
	for p.at < len(p.text) && p.text[p.at]-'0' <= 9 {
		p.at++
	}
	return p.at > from
}

// number reads a number, or whole rows such as 3:7.
func (p *parser) number() Expr {
	at := p.at
	whole := p.digits()
	if whole && !p.open && p.at < len(p.text) && p.text[p.at] == ':' {
		if e, ok := p.rows(at); ok {
			return e
		}
	}
	some := whole
	if p.at < len(p.text) && p.text[p.at] == '.' {
		p.at++
		some = p.digits() || whole
	}
	if !some {
		p.at = at
		return p.unexpected()
	}
	if p.at < len(p.text) && (p.text[p.at] == 'E' || p.text[p.at] == 'e') {
		back := p.at
		p.at++
		if p.at < len(p.text) && (p.text[p.at] == '-' || p.text[p.at] == '+') {
			p.at++
		}
		if !p.digits() {
			p.at = back
		}
	}
	if p.at < len(p.text) && (isWord(p.text[p.at]) || p.text[p.at] == '!' && !p.open) {
		if e, ok := p.numberedSheet(at); ok {
			return e
		}
		return p.unexpected()
	}
	return &Number{pos(at), p.text[at:p.at]}
}

// numberedSheet reads a reference to a sheet whose name begins with a digit and
// stands without quotation marks, as OpenFormula may have it.
func (p *parser) numberedSheet(at int) (Expr, bool) {
	end := at
	for end < len(p.text) && isWord(p.text[end]) {
		end++
	}
	if end >= len(p.text) || p.text[end] != '!' {
		return nil, false
	}
	name := p.text[at:end]
	p.at = end + 1
	return p.behindSheet(at, "", name, ""), true
}

// rows reads the second of two row numbers: "3:$7".
func (p *parser) rows(at int) (Expr, bool) {
	from, ok1 := rowNumber(p.text[at:p.at])
	end := p.at + 1
	for end < len(p.text) && (p.text[end] == '$' || p.text[end]-'0' <= 9) {
		end++
	}
	to, ok2 := rowNumber(p.text[p.at+1 : end])
	if !ok1 || !ok2 || end < len(p.text) && isWord(p.text[end]) {
		return nil, false
	}
	p.at = end
	from.Column, to.Column = 1, lastColumn
	a := &Area{pos: pos(at), Rows: true}
	a.From, a.To = corners(from, to)
	return a, true
}

// rowNumber reads "$7".
func rowNumber(s string) (c Corner, ok bool) {
	if strings.HasPrefix(s, "$") {
		c.RowFixed, s = true, s[1:]
	}
	if s == "" || len(s) > 7 {
		return c, false
	}
	for i := range len(s) {
		if s[i]-'0' > 9 {
			return c, false
		}
		c.Row = c.Row*10 + int(s[i]-'0')
	}
	return c, c.Row >= 1 && c.Row <= lastRow
}

// column reads "$C".
func column(s string) (c Corner, ok bool) {
	if strings.HasPrefix(s, "$") {
		c.ColumnFixed, s = true, s[1:]
	}
	if s == "" || len(s) > 3 {
		return c, false
	}
	for i := range len(s) {
		letter := s[i] &^ 0x20
		if letter-'A' >= 26 {
			return c, false
		}
		c.Column = c.Column*26 + int(letter-'A') + 1
	}
	return c, c.Column <= lastColumn
}

// corner reads "$C$7".
func corner(s string) (c Corner, ok bool) {
	split := 0
	if strings.HasPrefix(s, "$") {
		split = 1
	}
	for split < len(s) && (s[split]&^0x20)-'A' < 26 {
		split++
	}
	c, ok = column(s[:split])
	if !ok {
		return c, false
	}
	r, ok := rowNumber(s[split:])
	c.Row, c.RowFixed = r.Row, r.RowFixed
	return c, ok
}

// isWord reports whether a character can stand in a name.
func isWord(c byte) bool {
	return c == '$' || c == '_' || c == '.' || c == '\\' || c == '?' || c >= 0x80 || c-'0' <= 9 || c-'A' < 26 || c-'a' < 26
}

// word reads what begins with a letter: a function, a reference or a name.
func (p *parser) word() Expr {
	at := p.at
	for p.at < len(p.text) && isWord(p.text[p.at]) {
		p.at++
	}
	word := p.text[at:p.at]
	following := byte(0)
	if p.at < len(p.text) {
		following = p.text[p.at]
	}
	switch following {
	case '(':
		return p.call(at, word)
	case '!':
		if !p.open {
			p.at++
			return p.behindSheet(at, "", word, "")
		}
	case '[':
		if !p.open {
			return p.table(at, word)
		}
	case ':':
		if !p.open {
			if e, ok := p.columnsOrSheets(at, word); ok {
				return e
			}
		}
	}
	if c, ok := corner(word); ok {
		return &Area{pos: pos(at), From: c, To: c}
	}
	switch strings.ToUpper(word) {
	case "TRUE":
		return &Logical{pos(at), true}
	case "FALSE":
		return &Logical{pos(at), false}
	}
	if strings.Contains(word, "$") {
		p.at = at
		return p.unexpected()
	}
	return &Name{pos: pos(at), Name: word}
}

// columnsOrSheets reads what a colon follows: "A:C", "$1:$3" or "Sheet1:Sheet3!A1".
func (p *parser) columnsOrSheets(at int, word string) (Expr, bool) {
	end := p.at + 1
	for end < len(p.text) && isWord(p.text[end]) {
		end++
	}
	second := p.text[p.at+1 : end]
	if _, ok := corner(word); ok {
		return nil, false // the first cell of a range
	}
	if end < len(p.text) && p.text[end] == '!' {
		p.at = end + 1
		return p.behindSheet(at, "", word, second), true
	}
	a := &Area{pos: pos(at)}
	from, ok1 := column(word)
	to, ok2 := column(second)
	switch {
	case ok1 && ok2:
		a.Columns = true
		from.Row, to.Row = 1, lastRow
	default:
		from, ok1 = rowNumber(word)
		to, ok2 = rowNumber(second)
		if !ok1 || !ok2 {
			return nil, false
		}
		a.Rows = true
		from.Column, to.Column = 1, lastColumn
	}
	a.From, a.To = corners(from, to)
	p.at = end
	return a, true
}

// call reads a function with its arguments.
func (p *parser) call(at int, word string) Expr {
	e := &Call{pos: pos(at), Name: functionName(word)}
	p.at++
	if !p.into() {
		return e
	}
	list := p.list
	p.list = true
	between := byte(',')
	if p.open {
		between = ';'
	}
	if p.next() != ')' {
		for p.err == nil {
			if c := p.next(); c == between || c == ')' {
				e.Args = append(e.Args, &Missing{pos(p.at)})
			} else {
				e.Args = append(e.Args, p.comparison())
			}
			if len(e.Args) > mostArguments {
				p.fail(p.at, fmt.Sprintf("more than %d arguments", mostArguments), "name a range")
			}
			if p.next() != between {
				break
			}
			p.at++
		}
	}
	p.closing(')')
	p.list = list
	p.nests--
	return e
}

// functionName returns a function's name without the prefixes by which files mark
// functions that are newer than their format: ISO/IEC 29500-1, 18.17, and
// "COM." or "ORG." with a word for who defined it.
func functionName(word string) string {
	name := strings.ToUpper(word)
	for {
		rest := name
		for _, prefix := range []string{"_XLFN.", "_XLWS.", "_XLUDF."} {
			rest = strings.TrimPrefix(rest, prefix)
		}
		if strings.HasPrefix(rest, "COM.") || strings.HasPrefix(rest, "ORG.") {
			_, rest, _ = strings.Cut(rest[4:], ".")
		}
		if rest == name || rest == "" || !isWord(rest[0]) || rest[0] == '.' || rest[0]-'0' <= 9 {
			return name
		}
		name = rest
	}
}

// behindSheet reads what a sheet's name and "!" stand before.
func (p *parser) behindSheet(at int, file, first, last string) Expr {
	from := p.at
	if p.at < len(p.text) && p.text[p.at] == '#' {
		e := p.errorValue()
		if v, ok := e.(*ErrorValue); ok {
			v.pos = pos(at)
		}
		return e
	}
	var x Expr
	if c := p.next(); c-'0' <= 9 {
		x = p.number()
	} else if isWord(c) {
		x = p.word()
	} else {
		return p.unexpected()
	}
	switch x := x.(type) {
	case *Area:
		if x.Sheet == "" && x.File == "" {
			x.pos, x.File, x.Sheet, x.Last = pos(at), file, first, last
			return x
		}
	case *Name:
		if x.Sheet == "" && x.File == "" && last == "" {
			x.pos, x.File, x.Sheet = pos(at), file, first
			return x
		}
	}
	p.at = from
	p.fail(from, "what is no cell behind a sheet's name", "write a cell, a range or a name there")
	return x
}

// quotedSheet reads 'My sheet'!A1.
func (p *parser) quotedSheet() Expr {
	at := p.at
	name, ok := p.quoted('\'')
	if !ok {
		return &Missing{}
	}
	if p.open {
		p.fail(at, "a label in quotation marks", "write the cell that it stands for")
		return &Missing{}
	}
	if p.at >= len(p.text) || p.text[p.at] != '!' {
		return p.unexpected()
	}
	p.at++
	file := ""
	if open, end := strings.IndexByte(name, '['), strings.LastIndexByte(name, ']'); open >= 0 && end > open {
		file, name = name[:open]+name[open+1:end], name[end+1:]
	}
	first, last, _ := strings.Cut(name, ":")
	if file == "" && first == "" || !sheetName(first) || !sheetName(last) {
		p.fail(at, fmt.Sprintf("%q", name), "write the name of a sheet between the quotation marks")
		return &Missing{}
	}
	return p.behindSheet(at, file, first, last)
}

// sheetName reports whether a sheet can be called so: ISO/IEC 29500-1, 18.17.
func sheetName(s string) bool { return !strings.ContainsAny(s, "[]:") }

// bracket reads [1]Sheet1!A1, or a column of the table that the formula stands in.
func (p *parser) bracket() Expr {
	at := p.at
	end := strings.IndexByte(p.text[at:], ']')
	if end < 0 {
		return p.unexpected()
	}
	file, rest := p.text[at+1:at+end], p.text[at+end+1:]
	word := 0
	for word < len(rest) && (isWord(rest[word]) || rest[word] == ':') {
		word++
	}
	if word >= len(rest) || rest[word] != '!' || strings.ContainsAny(file, "[@#'") || file == "" || strings.Count(rest[:word], ":") > 1 {
		return p.table(at, "")
	}
	first, last, _ := strings.Cut(rest[:word], ":")
	p.at = at + end + 1 + word + 1
	return p.behindSheet(at, file, first, last)
}
