package mapfile

import (
	"fmt"
	"strings"
	"unicode"
)

// Text writes the map as TOML, as Read reads it, with the reason of each line.
func (m *Map) Text() string {
	w := &writer{}
	w.pair("title", m.Title)
	if m.CSV != (CSV{}) {
		w.line("\n[csv]")
		w.pair("separator", m.CSV.Separator)
		w.pair("decimal", m.CSV.Decimal)
	}
	for i := range m.Tables {
		w.table(&m.Tables[i])
	}
	for _, c := range m.Cells {
		w.line("\n[[cell]]")
		w.pair("sheet", c.Sheet)
		w.pair("at", c.At)
		w.pair("formula", c.Formula)
		w.pair("role", c.Role)
		w.pair("unit", c.Unit)
		w.pair("reason", c.Reason)
	}
	return w.String()
}

type writer struct{ strings.Builder }

func (w *writer) line(text string) { w.WriteString(text + "\n") }

// pair writes a key, unless its text is empty.
func (w *writer) pair(key, text string) {
	if text != "" {
		w.line(key + " = " + quote(text))
	}
}

func (w *writer) table(t *Table) {
	w.line("\n[[table]]")
	w.pair("name", t.Name)
	w.pair("sheet", t.Sheet)
	w.pair("rows", t.Rows)
	w.pair("columns", t.Across)
	w.pair("location", t.Location)
	for _, name := range t.Names() {
		c := t.Columns[name]
		w.line("\n[table.column." + quote(name) + "]")
		w.pair("at", c.At)
		w.pair("unit", c.Unit)
		if c.Places != nil {
			w.line(fmt.Sprintf("places = %d", *c.Places))
		}
		w.pair("uncertainty", c.Uncertainty)
		w.pair("instrument", c.Instrument)
		w.pair("nominal", c.Nominal)
		w.pair("role", c.Role)
		w.pair("reason", c.Reason)
	}
	for _, c := range t.Checks {
		w.line("\n[[table.check]]")
		w.pair("claim", c.Claim)
		w.pair("by", c.By)
		w.pair("formula", c.Formula)
	}
}

// quote writes a text as a TOML string, with escapes for what cannot be read.
func quote(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteRune('\\')
			b.WriteRune(r)
		case unicode.IsPrint(r):
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, `\U%08x`, r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
