package main

import (
	"context"
	"errors"
	"fmt"
	"os"

	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/understand"
)

// largestRead is how large a workbook or an OpenDocument sheet may be, in bytes as it is stored, that is
// also read without its map.
const largestRead = 1 << 20

// mostRead is how many cells such a file may hold: repeated rows take few bytes as they are stored.
const mostRead = 200_000

// A besides is what a file is taken to be where its map is left aside, for what a map does not say: units
// along formulas, look-ups, and the values that nobody looks at.
type besides struct {
	book *sheet.Book
	*understand.Understanding
	head bool // the book is the first rows of a long text
}

// besideMap reads a file that is checked by a map as if there were none. It returns nil, with
// the reason as a note, if the file is too large to be held whole. Of a long text it reads the first
// rows, as is done without a map.
func besideMap(ctx context.Context, o options, f sheet.File) (b *besides, note string, err error) {
	const left = "units along its formulas, and the values that the map does not name, were not looked at: the file is too large"
	b = &besides{}
	switch f.(type) {
	case *sheet.Workbook, *sheet.Document:
		if info, err := os.Stat(o.file); err != nil || info.Size() > largestRead {
			return nil, left, nil
		}
	case *sheet.Text:
		if b.book, b.head, err = sheet.Head(ctx, f, headRows, longRows); err != nil {
			return nil, "", err
		}
	}
	if !b.head {
		if b.book, err = f.Load(ctx); errors.Is(err, sheet.ErrBound) {
			return nil, left, nil
		} else if err != nil {
			return nil, "", err
		}
		if _, text := f.(*sheet.Text); !text && moreCells(b.book, mostRead) {
			return nil, left, nil
		}
	}
	if b.Understanding, err = understand.Read(ctx, b.book); err != nil {
		return nil, "", err
	}
	if b.head {
		b.GoesOn()
	}
	return b, "", nil
}

// moreCells reports whether a book holds more cells than most.
func moreCells(b *sheet.Book, most int) bool {
	for _, g := range b.Grids {
		for range g.Cells() {
			if most--; most < 0 {
				return true
			}
		}
	}
	return false
}

// unnamed adds to a result the values that neither the map names nor a formula reads, and says
// which columns of the map are empty.
func unnamed(result *check.Result, m *mapfile.Map, b *besides) {
	book := b.book
	named := &mapped{m: m, book: book}
	for _, v := range b.Values {
		index, ok := book.Index(v.Sheet)
		if !ok {
			continue
		}
		left, last := 0, sheet.Area{}
		for at, c := range book.Grids[index].Cells() {
			if !v.Cells.Holds(at) || c.Blank() || c.Formula != "" || named.holds(v.Sheet, at) {
				continue
			}
			if left++; left == 1 {
				last.First, last.Last = at, at
			}
			last.First.Column, last.Last.Column = min(last.First.Column, at.Column), max(last.Last.Column, at.Column)
			last.Last.Row = at.Row
		}
		if left = min(left, v.Count); left == 0 {
			continue
		}
		result.Coverage.Values += left
		result.Unlooked = append(result.Unlooked, check.Unlooked{Sheet: v.Sheet, Cells: last, Count: left, Why: "the map does not name it; " + v.Why})
	}
	if b.head {
		return // further rows may hold something
	}
	for i := range m.Tables {
		t := &m.Tables[i]
		for _, name := range t.Names() {
			if named.empty(t, name) {
				result.Notes = append(result.Notes, fmt.Sprintf("the map's table %q names %s for %q, and nothing stands there", t.Name, t.Columns[name].At, name))
			}
		}
	}
}

// A mapped is a map and the workbook whose cells it names.
type mapped struct {
	m    *mapfile.Map
	book *sheet.Book
}

func (n *mapped) sheet(name string) string {
	if name == "" && len(n.book.Grids) > 0 {
		return n.book.Grids[0].Name
	}
	return name
}

// holds reports whether the map names a cell.
func (n *mapped) holds(name string, at sheet.Place) bool {
	for _, c := range n.m.Cells {
		if p, err := sheet.ParsePlace(c.At); err == nil && p == at && n.sheet(c.Sheet) == name {
			return true
		}
	}
	for i := range n.m.Tables {
		t := &n.m.Tables[i]
		if n.sheet(t.Sheet) != name {
			continue
		}
		row, column := at.Row, at.Column
		if !t.Down() {
			row, column = column, row
		}
		if line, _ := t.Line(t.Location); t.Location != "" && line == column && t.Holds(row) {
			return true
		}
		for _, c := range t.Columns {
			if line, cell := t.Line(c.At); line == 0 && cell == at || line > 0 && line == column && t.Holds(row) {
				return true
			}
		}
	}
	return false
}

// empty reports whether nothing stands in a column that the map names.
func (n *mapped) empty(t *mapfile.Table, name string) bool {
	index, ok := n.book.Index(n.sheet(t.Sheet))
	line, cell := t.Line(t.Columns[name].At)
	if !ok {
		return false
	}
	lines := false
	for at, c := range n.book.Grids[index].Cells() {
		row, column := at.Row, at.Column
		if !t.Down() {
			row, column = column, row
		}
		lines = lines || t.Holds(row) && !c.Blank()
		if (line == 0 && at == cell || line > 0 && column == line && t.Holds(row)) && (!c.Blank() || c.Formula != "") {
			return false
		}
	}
	return lines
}

// undisputed leaves out the units mixed along formulas of sheets of which the map says another
// unit than the sheet: its owner knows better what the headings mean. It notes such sheets.
func undisputed(m *mapfile.Map, book *sheet.Book, u *understand.Understanding) (latent []check.Finding, notes []string) {
	n := &mapped{m: m, book: book}
	disputed := map[string]bool{}
	for i := range m.Tables {
		t := &m.Tables[i]
		name := n.sheet(t.Sheet)
		for _, key := range t.Names() {
			c := t.Columns[key]
			line, at := t.Line(c.At)
			switch {
			case line > 0 && t.Down():
				at = sheet.Place{Row: t.First(), Column: line}
			case line > 0:
				at = sheet.Place{Row: line, Column: t.First()}
			}
			if is, _ := u.Meaning(name, at); c.Unit != "" && is.Unit != "" && !understand.SameUnit(is.Unit, c.Unit) && !disputed[name] {
				disputed[name] = true
				notes = append(notes, fmt.Sprintf("the map gives %s of sheet %s in %s, and the sheet says %s: units along the formulas of this sheet were not compared", c.At, name, c.Unit, is.Unit))
			}
		}
	}
	for _, f := range u.Latent() {
		if f.Cause.Mistake != check.MixedUnits || !disputed[f.Sheet] {
			latent = append(latent, f)
		}
	}
	return latent, notes
}
