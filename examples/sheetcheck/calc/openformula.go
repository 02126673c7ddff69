package calc

import (
	"fmt"
	"strings"
)

// openReference reads a reference as OpenFormula has it: [.A1], [$'My sheet'.A1:.B2]:
// OASIS OpenDocument 1.3 part 4, references.
func (p *parser) openReference() Expr {
	at := p.at
	p.at++
	a := &Area{pos: pos(at)}
	if p.next() == '#' {
		e := p.errorValue()
		p.closing(']')
		return e
	}
	if p.next() == '\'' { // of another file, or a sheet without a dollar sign
		back := p.at
		file, ok := p.quoted('\'')
		if !ok {
			return a
		}
		if p.next() == '#' {
			p.at++
			a.File = file
		} else {
			p.at = back
		}
	}
	a.Sheet = p.openSheet()
	from, rows, columns, ok := p.openCorner()
	if !ok {
		return p.brokenReference(at)
	}
	a.From, a.To, a.Rows, a.Columns = from, from, rows, columns
	if p.next() != ':' {
		if !sheetName(a.Sheet) {
			p.fail(at, fmt.Sprintf("the sheet %q", a.Sheet), "name it without brackets and colons")
		}
		p.closing(']')
		if rows || columns {
			p.fail(at, "a row or column alone", "write a cell or a range")
		}
		return a
	}
	p.at++
	if last := p.openSheet(); last != a.Sheet {
		a.Last = last
	}
	if !sheetName(a.Sheet) || !sheetName(a.Last) || a.Last != "" && a.Sheet == "" {
		p.fail(at, fmt.Sprintf("the sheet %q", a.Sheet), "name it without brackets and colons")
	}
	to, rows, columns, ok := p.openCorner()
	if !ok || rows != a.Rows || columns != a.Columns {
		return p.brokenReference(at)
	}
	p.closing(']')
	a.From, a.To = corners(a.From, to)
	switch {
	case rows:
		a.From.Column, a.To.Column = 1, lastColumn
	case columns:
		a.From.Row, a.To.Row = 1, lastRow
	case a.From.Column == 1 && a.To.Column == lastColumn && a.From.ColumnFixed == a.To.ColumnFixed:
		a.Rows = true
	case a.From.Row == 1 && a.To.Row == lastRow:
		a.Columns = true
	}
	if a.Rows {
		a.From.ColumnFixed, a.To.ColumnFixed = false, false
	}
	if a.Columns {
		a.From.RowFixed, a.To.RowFixed = false, false
	}
	return a
}

// brokenReference reads to the end of a reference whose cells are gone: [.#REF!#REF!].
func (p *parser) brokenReference(at int) Expr {
	end := strings.IndexByte(p.text[p.at:], ']')
	if end < 0 || !strings.Contains(p.text[at:p.at+end], "#REF!") {
		return p.unexpected()
	}
	p.at += end + 1
	return &ErrorValue{pos(at), ErrRef}
}

// openSheet reads a sheet's name and the point behind it.
func (p *parser) openSheet() string {
	p.space()
	back := p.at
	if p.next() == '$' {
		p.at++
	}
	name := ""
	if p.next() == '\'' {
		var ok bool
		if name, ok = p.quoted('\''); !ok {
			return ""
		}
	} else {
		from := p.at
		for p.at < len(p.text) && p.text[p.at] != '.' && (isWord(p.text[p.at]) || p.text[p.at] == ' ') {
			p.at++
		}
		name = p.text[from:p.at]
	}
	if p.next() != '.' {
		p.at = back
		return ""
	}
	p.at++
	return name
}

// openCorner reads a cell, or a row or column alone.
func (p *parser) openCorner() (c Corner, row, col, ok bool) {
	from := p.at
	for p.at < len(p.text) && (p.text[p.at] == '$' || p.text[p.at]-'0' <= 9 || (p.text[p.at]&^0x20)-'A' < 26) {
		p.at++
	}
	word := p.text[from:p.at]
	if c, ok = corner(word); ok {
		return c, false, false, true
	}
	if c, ok = column(word); ok {
		return c, false, true, true
	}
	if c, ok = rowNumber(word); ok {
		return c, true, false, true
	}
	p.at = from
	return c, false, false, false
}
