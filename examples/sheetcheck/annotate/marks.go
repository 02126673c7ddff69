package annotate

import (
	"archive/zip"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"sort"
	"strconv"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// A marking finds out, in one pass over a sheet's part, what must change in it for its marks.
type marking struct {
	styles *styles
	marks  []*Mark // by rows, from left to right
	edits  []edit

	root    tag    // its raw text is kept
	drawing string // the relation of the boxes of comments that are there; empty if there are none
	boxes   int64  // where they would be put
	merged  []sheet.Area

	next    int // of the marks, the first whose row is not passed
	row     int
	column  int
	here    []*Mark // in the row
	found   []bool  // which of them have cells
	cells   []cellAt
	inRow   bool
	rowTag  rowTag
	columns []columnStyle
	group   int64 // where an element of alternatives begins; below 0 outside
	inData  bool
	done    bool // with the cells
}

type cellAt struct {
	column int
	from   int64
}

// A rowTag is what is kept of the tag of a row.
type rowTag struct {
	prefix string
	style  int // of cells that are not there; below 0 if the columns say it
}

type columnStyle struct{ first, last, style int }

// mark finds the edits of a sheet's part. Marks of cells that are joined are moved to the first
// of them.
func mark(ctx context.Context, f *zip.File, s *styles, marks []*Mark) (*marking, error) {
	for {
		m := &marking{styles: s, marks: marks, boxes: -1, group: -1}
		slices.SortStableFunc(m.marks, func(a, b *Mark) int {
			return cmp.Or(cmp.Compare(a.At.Row, b.At.Row), cmp.Compare(a.At.Column, b.At.Column))
		})
		if err := m.read(ctx, f); err != nil {
			return nil, fmt.Errorf("part %s: %w", f.Name, err)
		}
		if !m.move() {
			return m, nil
		}
		marks = joined(marks)
	}
}

// move moves marks within joined cells to the first, and reports whether there are any.
func (m *marking) move() (moved bool) {
	slices.SortStableFunc(m.merged, func(a, b sheet.Area) int { return cmp.Compare(a.First.Row, b.First.Row) })
	lowest, last := make([]int, len(m.merged)), 0 // of the areas up to each, the last row
	for i, a := range m.merged {
		last = max(last, a.Last.Row)
		lowest[i] = last
	}
	for _, mark := range m.marks {
		i := sort.Search(len(m.merged), func(i int) bool { return m.merged[i].First.Row > mark.At.Row }) - 1
		for ; i >= 0 && lowest[i] >= mark.At.Row; i-- {
			if a := m.merged[i]; a.Holds(mark.At) && a.First != mark.At {
				mark.At, moved = a.First, true
				break
			}
		}
	}
	return moved
}

// joined makes one of the marks of one cell, the worst kind first.
func joined(marks []*Mark) []*Mark {
	at := map[sheet.Place]*Mark{}
	var all []*Mark
	for _, m := range marks {
		if first := at[m.At]; first != nil {
			first.Kind = min(first.Kind, m.Kind)
			if m.Text != "" {
				first.Text = strings.TrimPrefix(first.Text+"\n\n"+m.Text, "\n\n")
			}
			continue
		}
		at[m.At] = m
		all = append(all, m)
	}
	return all
}

func (m *marking) read(ctx context.Context, f *zip.File) (err error) {
	r, err := f.Open()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	in := newScanner(io.LimitReader(r, int64(f.UncompressedSize64)))
	begin, _ := in.in.Peek(200)
	if err := readable(begin); err != nil {
		return err
	}
	for tags := 0; ; tags++ {
		t, err := in.next()
		if err == io.EOF {
			return nil
		}
		if err == nil && tags%(1<<16) == 0 {
			err = context.Cause(ctx)
		}
		if err == nil {
			err = m.take(&t)
		}
		if err != nil {
			return err
		}
	}
}

// take takes the next tag.
func (m *marking) take(t *tag) error {
	switch t.depth {
	case 1:
		if t.opens {
			m.root = *t
			m.root.raw = slices.Clone(t.raw)
		} else if m.boxes < 0 {
			m.boxes = t.from
		}
		if !m.done && t.closes && len(m.marks) > 0 {
			return damaged("the sheet has no cells, and %s is to be marked", m.marks[0].At)
		}
	case 2:
		return m.section(t)
	case 3:
		if len(m.merged)+len(m.columns) > mostElements {
			return &sheet.BoundError{What: fmt.Sprintf("more than %d joined cells and columns", mostElements), Most: "that many are read"}
		}
		switch {
		case t.name == "row" && m.inData:
			return m.takeRow(t)
		case t.name == "col" && t.opens:
			first, err := strconv.Atoi(t.read("min"))
			last, err2 := strconv.Atoi(t.read("max"))
			if style, ok := number(t, "style"); ok && err == nil && err2 == nil {
				m.columns = append(m.columns, columnStyle{first, last, style})
			}
		case t.name == "mergeCell" && t.opens:
			if area, err := sheet.ParseArea(t.read("ref")); err == nil {
				m.merged = append(m.merged, area)
			}
		}
	case 4:
		switch {
		case t.name == "c" && t.opens && m.inRow:
			return m.takeCell(t)
		case t.opens && m.group >= 0 && m.boxes < 0 && behindBoxes(t.name):
			m.boxes = m.group
		}
	}
	return nil
}

// behindBoxes reports whether an element of a sheet stands behind the boxes of comments:
// ISO/IEC 29500-1, 18.3.1.99.
func behindBoxes(name string) bool {
	return slices.Contains([]string{"legacyDrawingHF", "drawingHF", "picture", "oleObjects", "controls", "webPublishItems", "tableParts", "extLst"}, name)
}

// section takes a tag of a part of the sheet.
func (m *marking) section(t *tag) error {
	switch {
	case t.name == "sheetData" && !m.done:
		if m.inData = t.opens && !t.closes; m.inData {
			return nil
		}
		m.done = true
		if len(m.marks) == m.next {
			return nil
		}
		if t.opens { // and closes
			m.edits = append(m.edits, edit{t.to - 2, t.to, ">"})
			m.rows(t.prefix, t.to, -1)
			m.edits = append(m.edits, edit{t.to, t.to, "</" + t.prefix + t.name + ">"})
			return nil
		}
		m.rows(t.prefix, t.from, -1)
	case t.name == "AlternateContent":
		m.group = -1
		if t.opens && !t.closes {
			m.group = t.from
		}
	case t.name == "legacyDrawing" && t.opens:
		m.drawing = t.related()
	case t.opens && m.boxes < 0 && behindBoxes(t.name):
		m.boxes = t.from
	}
	return nil
}

// rows puts rows for the marks above a row; for all that are left if it is below 0.
func (m *marking) rows(prefix string, at int64, before int) {
	for m.next < len(m.marks) && (before < 0 || m.marks[m.next].At.Row < before) {
		row := m.marks[m.next].At.Row
		text := fmt.Sprintf(`<%srow r="%d">`, prefix, row)
		for ; m.next < len(m.marks) && m.marks[m.next].At.Row == row; m.next++ {
			text += m.cell(prefix, m.marks[m.next], -1)
		}
		m.edits = append(m.edits, edit{at, at, text + "</" + prefix + "row>"})
	}
}

// cell writes a cell that was not there. style is the row's; below 0 if the columns say it.
func (m *marking) cell(prefix string, mark *Mark, style int) string {
	if style < 0 {
		style = 0
		for _, c := range m.columns {
			if c.first <= mark.At.Column && mark.At.Column <= c.last {
				style = c.style
			}
		}
	}
	return fmt.Sprintf(`<%sc r="%s" s="%d"/>`, prefix, mark.At, m.styles.marked(style, mark.Kind))
}

// number reads an attribute that is a number from 0.
func number(t *tag, name string) (int, bool) {
	v, _, ok := t.value(name)
	if !ok {
		return 0, false
	}
	n, err := strconv.Atoi(string(v))
	return n, err == nil && n >= 0
}

func (m *marking) takeRow(t *tag) error {
	if !t.opens {
		m.endRow(t.from)
		return nil
	}
	before := m.row
	m.row++
	if v, _, ok := t.value("r"); ok {
		var err error
		if m.row, err = strconv.Atoi(string(v)); err != nil {
			return damaged("a row numbered %q", v)
		}
	}
	if m.row <= before {
		return damaged("row %d comes after row %d", m.row, before)
	}
	m.rows(t.prefix, t.from, m.row)
	m.column, m.inRow = 0, true
	m.here = m.marks[m.next:m.next]
	for m.next < len(m.marks) && m.marks[m.next].At.Row == m.row {
		m.next++
		m.here = m.here[:len(m.here)+1]
	}
	if len(m.here) == 0 {
		m.inRow = false // its cells need no look
		return nil
	}
	m.found, m.cells = make([]bool, len(m.here)), m.cells[:0]
	m.rowTag = rowTag{t.prefix, -1}
	if custom := t.read("customFormat"); custom == "1" || custom == "true" {
		if style, ok := number(t, "s"); ok {
			m.rowTag.style = style
		}
	}
	if t.closes {
		m.edits = append(m.edits, edit{t.to - 2, t.to, ">"})
		m.endRow(t.to)
		m.edits = append(m.edits, edit{t.to, t.to, "</" + t.prefix + t.name + ">"})
	}
	return nil
}

func (m *marking) takeCell(t *tag) error {
	m.column++
	if v, _, ok := t.value("r"); ok {
		p, err := sheet.ParsePlace(string(v))
		if err != nil {
			return damaged("a cell called %q", v)
		}
		m.column = p.Column
	}
	if m.cells = append(m.cells, cellAt{m.column, t.from}); len(m.cells) > mostElements {
		return &sheet.BoundError{What: fmt.Sprintf("row %d of more than %d cells", m.row, mostElements), Most: "that many are read"}
	}
	i, ok := slices.BinarySearchFunc(m.here, m.column, func(mark *Mark, column int) int { return cmp.Compare(mark.At.Column, column) })
	if !ok {
		return nil
	}
	m.found[i] = true
	style, _ := number(t, "s")
	m.edits = append(m.edits, t.set("s", strconv.Itoa(m.styles.marked(style, m.here[i].Kind))))
	return nil
}

// endRow puts the cells of the row that were not there.
func (m *marking) endRow(end int64) {
	if !m.inRow {
		return
	}
	m.inRow = false
	for i, mark := range m.here {
		if m.found[i] {
			continue
		}
		at := end
		if j := slices.IndexFunc(m.cells, func(c cellAt) bool { return c.column > mark.At.Column }); j >= 0 {
			at = m.cells[j].from
		}
		text := m.cell(m.rowTag.prefix, mark, m.rowTag.style)
		m.edits = append(m.edits, edit{at, at, text})
	}
}
