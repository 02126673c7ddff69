package sheet

import (
	"archive/zip"
	"context"
	"fmt"
	"io"
	"strconv"
)

// A mark is what the streaming reader of the workbook library does not tell of a
// cell: its type and its formula.
type mark struct {
	column  int
	asText  bool
	formula string
}

// markedRow is the marks of one row, those alone that say something.
type markedRow struct {
	number int
	last   int // the last column that has a cell
	marks  []mark
}

// markReader reads a sheet's XML for its marks. It runs ahead of the reader of
// the values, and so stops a row that is too wide before anybody pads it.
type markReader struct {
	tags   *tagReader
	where  string
	bounds Bounds
	shared map[string]sharedFormula
}

// maxShared bounds the shared formulas that are kept.
const maxShared = 10_000

// openMarks starts to read marks. Rows arrive in batches; the error, if there is
// one, on errs after the last of them.
func openMarks(ctx context.Context, part *zip.File, where string, b Bounds) (rows <-chan []markedRow, errs <-chan error) {
	out, failed := make(chan []markedRow, 4), make(chan error, 1)
	go func() {
		defer close(out)
		r, err := part.Open()
		if err != nil {
			failed <- err
			return
		}
		defer r.Close()
		m := newMarkReader(io.LimitReader(r, int64(part.UncompressedSize64)), where, b)
		if err := m.read(ctx, out); err != nil {
			failed <- err
		}
	}()
	return out, failed
}

func newMarkReader(r io.Reader, where string, b Bounds) *markReader {
	return &markReader{tags: newTagReader(r), where: where, bounds: b, shared: map[string]sharedFormula{}}
}

// next reads the next tag.
func (m *markReader) next(keep int) error {
	err := m.tags.next(keep)
	switch {
	case err == io.EOF:
		return fmt.Errorf("%s: damaged: it ends in the middle", m.where)
	case err != nil:
		return fmt.Errorf("%s: damaged: %w", m.where, err)
	}
	return nil
}

func (m *markReader) read(ctx context.Context, out chan<- []markedRow) error {
	var batch []markedRow
	send := func() error {
		select {
		case out <- batch:
			batch = nil
			return nil
		case <-ctx.Done():
			return context.Cause(ctx)
		}
	}
	number := 0
	for {
		if err := m.next(0); err != nil {
			return err
		}
		switch t := &m.tags.tag; string(t.name) {
		case "sheetData":
			if t.closes || t.empty {
				return send()
			}
		case "row":
			if t.closes {
				continue
			}
			number++
			if r := t.attribute("r"); r != "" {
				var err error
				if number, err = strconv.Atoi(r); err != nil || number < 1 {
					return fmt.Errorf("%s: damaged: a row numbered %q", m.where, r)
				}
			}
			if len(batch) == 256 {
				if err := send(); err != nil {
					return err
				}
			}
			batch = append(batch, markedRow{number: number})
		case "c":
			if t.closes {
				continue
			}
			if len(batch) == 0 {
				return fmt.Errorf("%s: damaged: a cell outside a row", m.where)
			}
			if err := m.cell(&batch[len(batch)-1]); err != nil {
				return err
			}
		}
	}
}

// cell reads a cell, whose tag was just read, to its end.
func (m *markReader) cell(row *markedRow) error {
	t := &m.tags.tag
	k := mark{column: row.last + 1}
	if r := t.attribute("r"); r != "" {
		p, err := ParsePlace(r)
		if err != nil {
			return fmt.Errorf("%s: damaged: a cell called %q", m.where, r)
		}
		k.column = p.Column
	}
	row.last = max(row.last, k.column)
	if k.column > m.bounds.Columns {
		return &BoundError{What: fmt.Sprintf("a cell in column %d", k.column), Where: fmt.Sprintf("%s, row %d", m.where, row.number), Most: fmt.Sprintf("%d columns are read", m.bounds.Columns)}
	}
	switch t.attribute("t") {
	case "s", "inlineStr", "str":
		k.asText = true
	}
	for done := t.empty; !done; {
		if err := m.next(0); err != nil {
			return err
		}
		switch {
		case string(t.name) == "f" && !t.closes:
			formula, err := m.formula(Place{row.number, k.column})
			if err != nil {
				return err
			}
			k.formula = formula
		case string(t.name) == "c" && t.closes:
			done = true
		case string(t.name) == "row" || string(t.name) == "sheetData":
			return fmt.Errorf("%s, row %d: damaged: a cell without an end", m.where, row.number)
		}
	}
	if k.asText || k.formula != "" {
		row.marks = append(row.marks, k)
	}
	return nil
}

// sharedFormula is a formula that is written once for a range.
type sharedFormula struct {
	text string
	at   Place
}

// formula reads a formula, whose tag was just read, to its end. A shared one is
// returned as it reads in its own cell.
func (m *markReader) formula(at Place) (string, error) {
	t := &m.tags.tag
	shared, key := t.attribute("t") == "shared", t.attribute("si")
	formula := ""
	for done := t.empty; !done; done = t.closes && string(t.name) == "f" {
		if err := m.next(m.bounds.CellText); err != nil {
			return "", err
		}
		formula += unescaped(m.tags.text)
		if len(formula) > m.bounds.CellText {
			return "", &BoundError{What: fmt.Sprintf("a formula of more than %d bytes", m.bounds.CellText), Where: m.where + ", " + at.String(), Most: "that is read"}
		}
	}
	if !shared {
		return formula, nil
	}
	if formula != "" {
		if len(m.shared) < maxShared {
			m.shared[key] = sharedFormula{text: formula, at: at}
		}
		return formula, nil
	}
	if s, ok := m.shared[key]; ok {
		return moved(s.text, at.Row-s.at.Row, at.Column-s.at.Column), nil
	}
	return "", nil
}
