package calc

import (
	"fmt"
	"strings"
)

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

// numberedSheet reads a reference to a sheet whose name begins with a digit and
// stands without quotation marks, as some programs write it.
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
