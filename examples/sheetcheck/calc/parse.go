package calc

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

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
		p.err = &units.Error{Kind: ErrFormula, Where: fmt.Sprintf("%q", where), Column: utf8.RuneCountInString(p.text[:at]) + 1, Found: found, Fix: fix}
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
	space := namespace(p.text)
	p.at, p.open = len(space), space != "" && space != "msoxl:"
	if strings.HasPrefix(p.text[p.at:], "==") { // "recalculate always"
		p.at++
	}
	if strings.HasPrefix(p.text[p.at:], "=") {
		p.at++
	}
}

// namespace returns the namespace that a formula begins with, if it does.
func namespace(formula string) string {
	for _, space := range []string{"of:", "msoxl:", "oooc:"} {
		if strings.HasPrefix(formula, space) {
			return space
		}
	}
	return ""
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
	if e.Name == "LAMBDA" && p.err == nil && p.at < len(p.text) && p.text[p.at] == '(' {
		call, ok := p.call(p.at, "").(*Call)
		if ok {
			call.Name, call.Args = application, append([]Expr{e}, call.Args...)
			return call
		}
	}
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
