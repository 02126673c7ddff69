package sheet

import (
	"archive/zip"
	"context"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
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
	decoder *xml.Decoder
	where   string
	bounds  Bounds
	shared  map[string]sharedFormula
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
		m := &markReader{decoder: xml.NewDecoder(io.LimitReader(r, int64(part.UncompressedSize64))), where: where, bounds: b, shared: map[string]sharedFormula{}}
		if err := m.read(ctx, out); err != nil {
			failed <- err
		}
	}()
	return out, failed
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
		token, err := m.decoder.RawToken()
		if err == io.EOF {
			return fmt.Errorf("%s: damaged: it ends in the middle", m.where)
		}
		if err != nil {
			return fmt.Errorf("%s: damaged: %w", m.where, err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			switch t.Name.Local {
			case "row":
				number++
				if r := attribute(t, "r"); r != "" {
					if _, err := fmt.Sscanf(r, "%d", &number); err != nil {
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
				if len(batch) == 0 {
					return fmt.Errorf("%s: damaged: a cell outside a row", m.where)
				}
				if err := m.cell(t, &batch[len(batch)-1]); err != nil {
					return err
				}
			}
		case xml.EndElement:
			if t.Name.Local == "sheetData" {
				return send()
			}
		}
	}
}

// cell reads a cell element to its end.
func (m *markReader) cell(start xml.StartElement, row *markedRow) error {
	k := mark{column: row.last + 1}
	if r := attribute(start, "r"); r != "" {
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
	switch attribute(start, "t") {
	case "s", "inlineStr", "str":
		k.asText = true
	}
	for depth := 1; depth > 0; {
		token, err := m.decoder.RawToken()
		if err != nil {
			return fmt.Errorf("%s, row %d: damaged: %w", m.where, row.number, err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			depth++
			if t.Name.Local == "f" {
				if k.formula, err = m.formula(t, Place{row.number, k.column}); err != nil {
					return err
				}
				depth--
			}
		case xml.EndElement:
			depth--
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

// formula reads a formula element to its end. A shared one is returned as it
// reads in its own cell.
func (m *markReader) formula(start xml.StartElement, at Place) (string, error) {
	var text strings.Builder
	for {
		token, err := m.decoder.RawToken()
		if err != nil {
			return "", fmt.Errorf("%s, %s: damaged: %w", m.where, at, err)
		}
		if data, ok := token.(xml.CharData); ok {
			text.Write(data)
			if text.Len() > m.bounds.CellText {
				return "", &BoundError{What: "a formula of more than " + fmt.Sprint(m.bounds.CellText) + " bytes", Where: m.where + ", " + at.String(), Most: "that is read"}
			}
		}
		if _, ok := token.(xml.EndElement); ok {
			break
		}
	}
	formula := text.String()
	if attribute(start, "t") != "shared" {
		return formula, nil
	}
	key := attribute(start, "si")
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

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name && a.Name.Space == "" {
			return a.Value
		}
	}
	return ""
}
