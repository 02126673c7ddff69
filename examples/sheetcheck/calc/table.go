package calc

import (
	"fmt"
	"strings"
)

// table reads what stands in brackets behind a table's name: ISO/IEC 29500-1,
// 18.17.
func (p *parser) table(at int, name string) Expr {
	e := &TableColumn{pos: pos(at), Table: name}
	p.at++ // over "["
	switch p.next() {
	case ']':
		p.at++
		return e
	case '[', '@':
	case '#':
		p.item(e, p.columnName())
		return e
	default:
		e.First = p.columnName()
		return e
	}
	if p.next() == '@' {
		p.at++
		e.ThisRow = true
		switch p.next() {
		case ']':
			p.at++
			return e
		case '[':
		default:
			e.First = p.columnName()
			return e
		}
	}
	for p.err == nil {
		if p.next() != '[' {
			return p.unexpected()
		}
		p.at++
		hash := p.next() == '#'
		part := p.columnName()
		switch {
		case hash:
			p.item(e, part)
		case e.First != "" && e.Last == "":
			e.Last = part
		case e.First == "":
			e.First = part
		default:
			return p.unexpected()
		}
		switch p.next() {
		case ']':
			p.at++
			return e
		case ',', ':':
			p.at++
		default:
			return p.unexpected()
		}
	}
	return e
}

// item takes "#This Row", "#All", "#Data", "#Headers" or "#Totals".
func (p *parser) item(e *TableColumn, item string) {
	for _, known := range []string{"#All", "#Data", "#Headers", "#Totals"} {
		if strings.EqualFold(item, known) {
			e.Items = append(e.Items, known)
			return
		}
	}
	if strings.EqualFold(item, "#This Row") {
		e.ThisRow = true
		return
	}
	p.fail(p.at, fmt.Sprintf("%q", item), "write #All, #Data, #Headers, #Totals or #This Row")
}

// columnName reads to the bracket that closes a column's name.
func (p *parser) columnName() string {
	begin := p.at
	var b strings.Builder
	for p.at < len(p.text) {
		c := p.text[p.at]
		p.at++
		switch c {
		case ']':
			if name := b.String(); name != "" {
				return name
			}
			p.fail(begin, "a column without a name", "name it")
			return ""
		case '[':
			p.fail(p.at-1, `"["`, "close the bracket before it, or write an apostrophe before this one")
			return ""
		case '\'':
			if p.at < len(p.text) {
				b.WriteByte(p.text[p.at])
				p.at++
				continue
			}
		}
		b.WriteByte(c)
	}
	p.fail(begin, "a bracket without its other", "close it")
	return ""
}
