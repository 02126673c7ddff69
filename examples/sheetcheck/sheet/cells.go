package sheet

import (
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"strconv"
)

// A cellReader reads the cells of a worksheet part in one pass.
type cellReader struct {
	*xmlPart
	where  string
	bounds Bounds
	texts  *sharedTexts
	shared map[string]sharedFormula
	rows   *supply
	whole  *holder // of the sheet, if it is held whole; nil where rows are read one by one

	row     int // number of the row
	column  int // of the cell
	kind    string
	value   []byte
	valued  bool // a value is stored, be it an empty text
	style   uint16
	formula []byte
	group   string // of a shared formula
	of      *[]byte
	inline  visible
}

// maxShared bounds the shared formulas that are kept.
const maxShared = 10_000

// sharedFormula is a formula that is written once for a range.
type sharedFormula struct {
	text string
	at   Place
}

// errEnough is what stops the reading when no more rows are wanted.
var errEnough = errors.New("no more rows are wanted")

func (r *cellReader) at() string { return r.where + ", " + Place{r.row, r.column}.String() }

// read reads to the end of the sheet's data.
func (r *cellReader) read(ctx context.Context) error {
	r.shared = map[string]sharedFormula{}
	inRow, inCell := false, false
	for {
		token, err := r.next()
		if err != nil {
			return fmt.Errorf("%s: %w", r.where, err)
		}
		r.inline.take(token)
		switch e := token.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case "row":
				inRow, err = true, r.beginRow(&e)
			case "c":
				if !inRow {
					return fmt.Errorf("%s: damaged: a cell outside a row", r.where)
				}
				inCell, err = true, r.beginCell(&e)
			case "v":
				r.of, r.valued = &r.value, true
			case "f":
				r.of = &r.formula
				if r.group = ""; attribute(&e, "t") == "shared" {
					r.group = attribute(&e, "si")
				}
			}
			if r.whole != nil && err == nil {
				err = r.whole.begin(r, &e)
			}
		case xml.CharData:
			if inCell {
				err = r.take(e)
			}
		case xml.EndElement:
			switch e.Name.Local {
			case "v", "f":
				r.of = nil
			case "c":
				inCell, err = false, r.endCell()
			case "row":
				if inRow = false; !r.rows.end(r.row) {
					return errEnough
				}
				if len(r.rows.rows) == 0 && ctx.Err() != nil { // once a batch
					return context.Cause(ctx)
				}
			case "sheetData":
				if !r.rows.hand() {
					return errEnough
				}
				if r.whole == nil {
					return nil
				}
			case "worksheet":
				return nil
			}
		}
		if err != nil {
			return err
		}
	}
}

func (r *cellReader) beginRow(e *xml.StartElement) error {
	before := r.row
	r.row++
	if text := attribute(e, "r"); text != "" {
		var err error
		if r.row, err = strconv.Atoi(text); err != nil || r.row < 1 {
			return fmt.Errorf("%s: damaged: a row numbered %q", r.where, text)
		}
	}
	if r.row <= before {
		return fmt.Errorf("%s: damaged: row %d comes after row %d", r.where, r.row, before)
	}
	if r.row > r.bounds.Rows {
		return &BoundError{What: fmt.Sprintf("row %d", r.row), Where: r.where, Most: fmt.Sprintf("%d are read", r.bounds.Rows)}
	}
	r.column = 0
	return nil
}

func (r *cellReader) beginCell(e *xml.StartElement) error {
	r.column++
	if text := attribute(e, "r"); text != "" {
		p, err := ParsePlace(text)
		if err != nil {
			return fmt.Errorf("%s: damaged: a cell called %q", r.where, text)
		}
		r.column = p.Column
	}
	if r.column > r.bounds.Columns {
		return &BoundError{What: fmt.Sprintf("a cell in column %d", r.column), Where: fmt.Sprintf("%s, row %d", r.where, r.row), Most: fmt.Sprintf("%d columns are read", r.bounds.Columns)}
	}
	r.kind, r.group = attribute(e, "t"), ""
	r.value, r.formula, r.of, r.valued, r.style = r.value[:0], r.formula[:0], nil, false, 0
	return nil
}

// take takes a text that belongs to the cell.
func (r *cellReader) take(text []byte) error {
	of := r.of
	if of == nil && r.inline.is() {
		of = &r.value
	}
	if of == nil {
		return nil
	}
	*of = append(*of, text...)
	if of == &r.formula && len(r.formula) > r.bounds.CellText {
		return &BoundError{What: fmt.Sprintf("a formula of more than %d bytes", r.bounds.CellText), Where: r.at(), Most: "that is read"}
	}
	return r.bounds.cell(len(r.value), r.at)
}

// endCell puts the cell into its row, unless there is nothing in it.
func (r *cellReader) endCell() error {
	text, err := r.text()
	if err != nil {
		return fmt.Errorf("%s: %w", r.at(), err)
	}
	formula := r.formulaText()
	if text == "" && formula == "" {
		return nil
	}
	asText := r.kind == "s" || r.kind == "inlineStr" || r.kind == "str" && r.valued
	r.rows.row(r.column)[r.column-1] = Cell{Text: text, Formula: formula, AsText: asText, style: r.style}
	return nil
}

// text returns the cell's value: ISO/IEC 29500-1, 18.18.11.
func (r *cellReader) text() (string, error) {
	value := string(r.value)
	switch r.kind {
	case "s":
		if value == "" {
			return "", nil
		}
		text, err := r.texts.at(value)
		if err == nil {
			err = r.bounds.cell(len(text), r.at)
		}
		return text, err
	case "inlineStr", "str":
		return unescaped(value), nil
	case "b":
		if value == "1" {
			return "TRUE", nil
		}
		return "FALSE", nil
	}
	return value, nil
}

// formulaText returns the cell's formula. A shared one is returned as it reads in its
// own cell.
func (r *cellReader) formulaText() string {
	formula, at := string(r.formula), Place{r.row, r.column}
	switch {
	case r.group == "":
		return formula
	case formula != "":
		if len(r.shared) < maxShared {
			r.shared[r.group] = sharedFormula{text: formula, at: at}
		}
		return formula
	}
	s, ok := r.shared[r.group]
	if !ok {
		return ""
	}
	return moved(s.text, at.Row-s.at.Row, at.Column-s.at.Column)
}
