package sheet

import (
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// A cellReader reads the cells of a worksheet part in one pass.
type cellReader struct {
	*xmlPart
	where  string
	bounds Bounds
	texts  *sharedTexts
	shared map[string]sharedFormula
	arrays []arrayFormula // that may reach further down
	rows   *supply

	row     int // number of the row
	column  int // of the cell
	kind    string
	value   []byte
	formula []byte
	group   string // of a shared formula
	fills   string // the cells that an array formula fills
	of      *[]byte
	inline  visible
}

// maxShared bounds the shared formulas that are kept.
const maxShared = 10_000

// maxArrays bounds the array formulas that are kept, of which each cell may be one of.
const maxArrays = 64

// sharedFormula is a formula that is written once for a range.
type sharedFormula struct {
	text string
	at   Place
}

// arrayFormula is a formula that fills a range, each cell with one element.
type arrayFormula struct {
	text string
	from *Place
	to   Place
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
				r.of = &r.value
			case "f":
				r.of = &r.formula
				r.group, r.fills = "", ""
				switch attribute(&e, "t") {
				case "shared":
					r.group = attribute(&e, "si")
				case "array":
					r.fills = attribute(&e, "ref")
				}
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
				if len(r.rows.Rows) == 0 && ctx.Err() != nil { // once a batch
					return context.Cause(ctx)
				}
			case "sheetData":
				if !r.rows.hand() {
					return errEnough
				}
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
	r.kind, r.group, r.fills = attribute(e, "t"), "", ""
	r.value, r.formula, r.of = r.value[:0], r.formula[:0], nil
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
	formula, array := r.formulaText(), (*Place)(nil)
	if r.fills != "" || len(r.arrays) > 0 {
		formula, array = r.arrayText(formula)
	}
	if text == "" && formula == "" {
		return nil
	}
	r.rows.row(r.column)[r.column-1] = Cell{Text: text, Formula: formula, AsText: r.kind == "s" || r.kind == "inlineStr" || r.kind == "str", array: array}
	return nil
}

// arrayText returns the array formula that fills the cell, if one does.
func (r *cellReader) arrayText(formula string) (string, *Place) {
	at := Place{r.row, r.column}
	if r.fills != "" && formula != "" {
		_, last, _ := strings.Cut(r.fills, ":")
		a := arrayFormula{text: formula, from: &at}
		var err error
		if a.to, err = ParsePlace(last); err != nil {
			a.to = at
		}
		if (a.to.Row > r.row || a.to.Column > r.column) && len(r.arrays) < maxArrays {
			r.arrays = append(r.arrays, a)
		}
		return formula, a.from
	}
	if formula != "" {
		return formula, nil
	}
	r.arrays = slices.DeleteFunc(r.arrays, func(a arrayFormula) bool { return a.to.Row < at.Row })
	for i := range r.arrays {
		if a := &r.arrays[i]; a.from.Row <= at.Row && a.from.Column <= at.Column && at.Column <= a.to.Column {
			return a.text, a.from
		}
	}
	return "", nil
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
