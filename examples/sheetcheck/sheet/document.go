package sheet

import (
	"archive/zip"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"iter"
	"slices"
	"strconv"
	"strings"
	"time"
)

// A Document is an OpenDocument sheet (.ods), which is held whole from the moment that it is
// opened. What its parts mean stands in OpenDocument 1.3, part 3; formulas are in part 4.
type Document struct {
	book *Book
}

// OpenDocument opens and reads an .ods file.
func OpenDocument(name string, b Bounds) (*Document, error) {
	if _, err := b.stat(name); err != nil {
		return nil, err
	}
	archive, err := zip.OpenReader(name)
	if err != nil {
		if errors.Is(err, zip.ErrFormat) {
			return nil, fmt.Errorf("%s is no .ods sheet; save it as .ods or .xlsx in a spreadsheet program", name)
		}
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	defer archive.Close()
	if err := checkArchive(name, archive.File, b); err != nil {
		return nil, err
	}
	d := &documentReader{name: name, budget: &budget{bounds: b}, book: &Book{}, styles: newDocumentStyles()}
	for _, part := range []string{"styles.xml", "content.xml"} {
		i := slices.IndexFunc(archive.File, func(f *zip.File) bool { return f.Name == part })
		switch {
		case i >= 0:
			if err := d.budget.part(archive.File[i]); err != nil {
				return nil, fmt.Errorf("%s: %w", name, err)
			}
			if err := d.read(archive.File[i]); err != nil {
				if encrypted(archive.File) {
					return nil, fmt.Errorf("%s has a password; save it without one", name)
				}
				return nil, fmt.Errorf("%s: %w", name, err)
			}
		case part == "content.xml":
			return nil, fmt.Errorf("%s: damaged: it has no content.xml, where an .ods sheet has its cells", name)
		}
	}
	if !d.sheets {
		return nil, fmt.Errorf("%s is an OpenDocument file of another kind; a sheet is read", name)
	}
	for _, g := range d.book.Grids {
		g.styles = d.styles.all
		g.order()
	}
	d.book.order()
	return &Document{book: d.book}, nil
}

// encrypted reports whether a document's list of parts says that they are encrypted.
func encrypted(files []*zip.File) bool {
	for _, f := range files {
		if f.Name != "META-INF/manifest.xml" {
			continue
		}
		r, err := f.Open()
		if err != nil {
			return false
		}
		defer r.Close()
		text, err := io.ReadAll(io.LimitReader(r, longPiece))
		return err == nil && strings.Contains(string(text), "encryption-data")
	}
	return false
}

// Close does nothing: the file is open only while it is read.
func (d *Document) Close() error { return nil }

// Sheets returns the names of the sheets, in order.
func (d *Document) Sheets() []string {
	return d.book.Sheets()
}

// Load returns the whole document.
func (d *Document) Load(context.Context) (*Book, error) { return d.book, nil }

// Batches reads a sheet's rows in order. Empty rows are left out.
func (d *Document) Batches(ctx context.Context, sheet string) iter.Seq2[*Batch, error] {
	return func(yield func(*Batch, error) bool) {
		i := slices.IndexFunc(d.book.Grids, func(g *Grid) bool { return g.Name == sheet })
		if i < 0 {
			yield(nil, fmt.Errorf("there is no sheet %q; there are %q", sheet, d.Sheets()))
			return
		}
		rows := newSupply(yield)
		g := d.book.Grids[i]
		for _, r := range g.rows {
			cells := rows.row(g.width(r))
			held, columns := g.in(r)
			for j, c := range held {
				cells[columns[j]-1] = c
			}
			if !rows.end(int(r.number)) {
				return
			}
			if len(rows.rows) == 0 && ctx.Err() != nil { // once a batch
				yield(nil, context.Cause(ctx))
				return
			}
		}
		rows.hand()
	}
}

// A documentReader reads the parts of a document into a Book.
type documentReader struct {
	*xmlPart
	name   string
	budget *budget
	book   *Book
	styles *documentStyles
	sheets bool // the document is a sheet

	grid *Grid
	row  documentRow
}

// A documentRow is the row that is being read.
type documentRow struct {
	number, column int // from 1, of what comes next
	cells          []Cell
	style          string // of its cells that name none
	columns        []documentColumn
	arrays         []Array
}

// A documentColumn is columns one after another with one style for cells that name none.
type documentColumn struct {
	last  int
	style string
}

func (d *documentReader) where() string {
	if d.grid == nil {
		return d.name
	}
	return fmt.Sprintf("sheet %s, %s", d.grid.Name, Place{d.row.number, max(d.row.column, 1)})
}

// read reads one part.
func (d *documentReader) read(f *zip.File) error {
	p, closer, err := openPart(f)
	if err != nil {
		return err
	}
	defer closer.Close()
	return d.readFrom(f.Name, p)
}

func (d *documentReader) readFrom(name string, p *xmlPart) error {
	d.xmlPart = p
	for {
		token, err := d.next()
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			if _, ends := token.(xml.EndElement); ends && len(d.open) == 0 {
				return nil
			}
			continue
		}
		switch full(e.Name) {
		case "office:document-content", "office:document-styles", "office:body", "office:styles", "office:automatic-styles", "table:named-expressions":
		case "office:spreadsheet":
			d.sheets = true
		case "table:table":
			err = d.table(&e)
		case "table:named-range", "table:named-expression":
			err = d.named(&e, "")
		case "style:style", "style:default-style":
			err = d.styles.cellStyle(d.xmlPart, &e)
		case "number:number-style", "number:percentage-style", "number:currency-style", "number:date-style", "number:time-style", "number:text-style", "number:boolean-style":
			err = d.styles.numberStyle(d.xmlPart, &e)
		default:
			err = d.skip()
		}
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
}

// full returns a name with its prefix. Documents may choose other prefixes than the usual
// ones; one that does has no sheet here.
func full(n xml.Name) string { return n.Space + ":" + n.Local }

// prefixed returns the value of an attribute by its name with the prefix, or nothing.
func prefixed(e *xml.StartElement, name string) string {
	space, local, _ := strings.Cut(name, ":")
	for i := range e.Attr {
		if a := &e.Attr[i]; a.Name.Local == local && a.Name.Space == space {
			return a.Value
		}
	}
	return ""
}

// named takes a defined name of a sheet, or of all.
func (d *documentReader) named(e *xml.StartElement, sheet string) error {
	n := Name{Name: prefixed(e, "table:name"), Sheet: sheet}
	if e.Name.Local == "named-range" {
		n.Formula = openReference(prefixed(e, "table:cell-range-address"))
	} else {
		n.Formula = openFormula(prefixed(e, "table:expression"))
	}
	if strings.Contains(n.Formula, "#REF!") {
		return nil
	}
	if err := d.budget.name(len(d.book.Names), d.name); err != nil {
		return err
	}
	d.book.Names = append(d.book.Names, n)
	return nil
}

// table reads a sheet to its end.
func (d *documentReader) table(e *xml.StartElement) error {
	if len(d.book.Grids) == d.budget.bounds.Parts {
		return &BoundError{What: fmt.Sprintf("more than %d sheets", d.budget.bounds.Parts), Where: d.name, Most: "that many are read"}
	}
	d.grid = &Grid{Name: prefixed(e, "table:name"), Protected: isTrue(prefixed(e, "table:protected")), Hidden: d.styles.undisplayed[prefixed(e, "table:style-name")]}
	d.book.Grids = append(d.book.Grids, d.grid)
	d.row = documentRow{number: 1}
	defer func() { d.grid = nil }()
	depth, column := len(d.open), 1
	for {
		token, err := d.next()
		if err != nil {
			return err
		}
		switch e := token.(type) {
		case xml.EndElement:
			if len(d.open) < depth {
				for _, a := range d.row.arrays {
					if err := d.grid.spread(a, d.budget); err != nil {
						return err
					}
				}
				return nil
			}
		case xml.StartElement:
			switch full(e.Name) {
			case "table:table-columns", "table:table-header-columns", "table:table-column-group",
				"table:table-rows", "table:table-header-rows", "table:table-row-group", "table:named-expressions":
			case "table:table-column":
				n, err := d.repeated(&e, "table:number-columns-repeated")
				if err != nil {
					return err
				}
				if hides(&e) {
					d.grid.hiddenColumns.add(column, column+n-1)
				}
				column += n
				if style := prefixed(&e, "table:default-cell-style-name"); len(d.row.columns) < d.budget.bounds.Columns {
					d.row.columns = append(d.row.columns, documentColumn{last: column - 1, style: style})
				}
				err = d.skip()
				if err != nil {
					return err
				}
			case "table:table-row":
				err = d.readRow(&e)
			case "table:named-range", "table:named-expression":
				err = d.named(&e, d.grid.Name)
			default:
				err = d.skip()
			}
			if err != nil {
				return err
			}
		}
	}
}

// hides reports whether a row or a column is not shown.
func hides(e *xml.StartElement) bool {
	v := prefixed(e, "table:visibility")
	return v == "collapse" || v == "filter"
}

// farthest is the last row or column that any sheet may claim.
const farthest = 1 << 24

// repeated returns how often a row, a column or a cell stands there.
func (d *documentReader) repeated(e *xml.StartElement, name string) (int, error) {
	text := prefixed(e, name)
	if text == "" {
		return 1, nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > farthest {
		return 0, fmt.Errorf("%s: damaged: %s is %q", d.where(), name, text)
	}
	return n, nil
}

// readRow reads a row, and puts it into the grid as often as it stands there if there is
// something in it.
func (d *documentReader) readRow(e *xml.StartElement) error {
	n, err := d.repeated(e, "table:number-rows-repeated")
	if err != nil {
		return err
	}
	r := &d.row
	r.column, r.cells, r.style = 1, r.cells[:0], prefixed(e, "table:default-cell-style-name")
	if hides(e) {
		d.grid.hiddenRows.add(r.number, r.number+n-1)
		if prefixed(e, "table:visibility") == "filter" {
			d.grid.filteredRows.add(r.number, r.number+n-1)
		}
	}
	for depth := len(d.open); ; {
		token, err := d.next()
		if err != nil {
			return err
		}
		if _, ok := token.(xml.EndElement); ok && len(d.open) < depth {
			break
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch full(start.Name) {
		case "table:table-cell", "table:covered-table-cell":
			err = d.cell(&start)
		default:
			err = d.skip()
		}
		if err != nil {
			return err
		}
	}
	if len(r.cells) == 0 {
		r.number += n
		return nil
	}
	if n > 1 && slices.ContainsFunc(r.cells, func(c Cell) bool { return c.Formula != "" }) {
		return fmt.Errorf("%s: damaged: formulas in %d rows at once, as no office program writes them", d.where(), n)
	}
	for range n {
		if r.number > d.budget.bounds.Rows {
			return &BoundError{What: fmt.Sprintf("row %d", r.number), Where: d.where(), Most: fmt.Sprintf("%d are read", d.budget.bounds.Rows)}
		}
		if err := d.budget.row(r.cells, d.where); err != nil {
			return err
		}
		d.grid.add(r.number, r.cells)
		r.number++
	}
	return nil
}

// cell reads a cell, and puts it into the row as often as it stands there if there is
// something in it.
func (d *documentReader) cell(e *xml.StartElement) error {
	n, err := d.repeated(e, "table:number-columns-repeated")
	if err != nil {
		return err
	}
	r := &d.row
	formula := openFormula(prefixed(e, "table:formula"))
	if formula != "" && n > 1 {
		return fmt.Errorf("%s: damaged: a formula in %d cells at once, as no office program writes it", d.where(), n)
	}
	if len(formula) > d.budget.bounds.CellText {
		return &BoundError{What: fmt.Sprintf("a formula of %d bytes", len(formula)), Where: d.where(), Most: fmt.Sprintf("%d are read", d.budget.bounds.CellText)}
	}
	at := Place{r.number, r.column}
	down, across, err := d.spanned(e, "table:number-rows-spanned", "table:number-columns-spanned")
	if err != nil {
		return err
	}
	if down*across > 1 {
		if err := d.budget.area(d.where()); err != nil {
			return err
		}
		d.grid.Merged = append(d.grid.Merged, Area{at, Place{at.Row + down - 1, at.Column + across - 1}})
	}
	if prefixed(e, "table:number-matrix-rows-spanned") != "" {
		if down, across, err = d.spanned(e, "table:number-matrix-rows-spanned", "table:number-matrix-columns-spanned"); err != nil {
			return err
		}
		if err := d.budget.area(d.where()); err != nil {
			return err
		}
		r.arrays = append(r.arrays, Array{Area: Area{at, Place{at.Row + down - 1, at.Column + across - 1}}, Formula: formula})
	}
	text, shown, err := d.cellText()
	if err != nil {
		return err
	}
	c, err := d.value(e, text)
	if err != nil {
		return fmt.Errorf("%s: damaged: %w", d.where(), err)
	}
	if formula != "" {
		c.Formula = formula
		c.AsText = c.AsText || shown && c.Text == "" // it gives an empty text, which has no type here
	}
	if c == (Cell{}) {
		r.column += n
		return nil
	}
	if last := r.column + n - 1; last > d.budget.bounds.Columns {
		return &BoundError{What: fmt.Sprintf("a cell in column %d", last), Where: d.where(), Most: fmt.Sprintf("%d columns are read", d.budget.bounds.Columns)}
	}
	for range n {
		c.style = d.styles.number(d.styleOf(e))
		for len(r.cells) < r.column-1 {
			r.cells = append(r.cells, Cell{})
		}
		r.cells = append(r.cells, c)
		r.column++
	}
	return nil
}

// styleOf returns the style of the cell that comes next: its own, its row's or its column's.
func (d *documentReader) styleOf(e *xml.StartElement) string {
	if style := prefixed(e, "table:style-name"); style != "" {
		return style
	}
	if d.row.style != "" {
		return d.row.style
	}
	i := slices.IndexFunc(d.row.columns, func(c documentColumn) bool { return c.last >= d.row.column })
	if i < 0 {
		return ""
	}
	return d.row.columns[i].style
}

// spanned returns over how many rows and columns something goes.
func (d *documentReader) spanned(e *xml.StartElement, rows, columns string) (down, across int, err error) {
	down, err = d.repeated(e, rows)
	if err != nil {
		return 0, 0, err
	}
	across, err = d.repeated(e, columns)
	return down, across, err
}

// cellText reads what a cell shows: its paragraphs, without notes and drawings. shown is
// false if it has no paragraph, not even an empty one.
func (d *documentReader) cellText() (shows string, shown bool, err error) {
	var text strings.Builder
	for depth := len(d.open); ; {
		token, err := d.next()
		if err != nil {
			return "", false, err
		}
		switch t := token.(type) {
		case xml.EndElement:
			if len(d.open) < depth {
				return text.String(), shown, nil
			}
		case xml.CharData:
			if len(d.open) > depth { // in a paragraph
				text.Write(t)
			}
		case xml.StartElement:
			switch full(t.Name) {
			case "text:p":
				if shown {
					text.WriteByte('\n')
				}
				shown = true
			case "text:span", "text:a":
			case "text:s":
				n := 1
				if count := prefixed(&t, "text:c"); count != "" {
					if n, err = strconv.Atoi(count); err != nil || n < 0 || n > d.budget.bounds.CellText {
						return "", false, fmt.Errorf("%s: damaged: %q blanks", d.where(), count)
					}
				}
				text.WriteString(strings.Repeat(" ", n))
			case "text:tab":
				text.WriteByte('\t')
			case "text:line-break":
				text.WriteByte('\n')
			default:
				err = d.skip()
			}
			if err != nil {
				return "", false, err
			}
		}
		if err := d.budget.bounds.cell(text.Len(), d.where); err != nil {
			return "", false, err
		}
	}
}

// truths are how office programs show what they store as the numbers 1 and 0, if it is a
// truth value.
var truths = map[string]string{
	"TRUE": "TRUE", "WAHR": "TRUE", "VRAI": "TRUE", "VERDADERO": "TRUE",
	"FALSE": "FALSE", "FALSCH": "FALSE", "FAUX": "FALSE", "FALSO": "FALSE",
}

// value returns a cell with the value that the document stores for it, written as a workbook
// would have it.
func (d *documentReader) value(e *xml.StartElement, shown string) (c Cell, err error) {
	switch prefixed(e, "office:value-type") {
	case "":
		return c, nil
	case "float", "percentage", "currency":
		c.Text = prefixed(e, "office:value")
		if truth, ok := truths[shown]; ok && (c.Text == "0" || c.Text == "1") {
			c.Text = truth
		}
	case "boolean":
		c.Text = strings.ToUpper(prefixed(e, "office:boolean-value"))
	case "date":
		c.Text, err = serialDate(prefixed(e, "office:date-value"))
	case "time":
		c.Text, err = serialTime(prefixed(e, "office:time-value"))
	default:
		if prefixed(e, "calcext:value-type") == "error" {
			return Cell{Text: shown}, nil
		}
		c.Text, c.AsText = shown, true
		for i := range e.Attr {
			if a := &e.Attr[i]; a.Name.Local == "string-value" && a.Name.Space == "office" {
				c.Text = a.Value
			}
		}
	}
	if err == nil {
		err = d.budget.bounds.cell(len(c.Text), d.where)
	}
	return c, err
}

// serialDate returns a date as the number of days that workbooks store: ISO/IEC 29500-1,
// 18.17.4.
func serialDate(text string) (string, error) {
	for _, layout := range []string{"2006-01-02", "2006-01-02T15:04:05.999999999", "2006-01-02T15:04:05"} {
		if t, err := time.Parse(layout, text); err == nil {
			days := t.Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Seconds() / 86400
			return strconv.FormatFloat(days, 'g', 15, 64), nil
		}
	}
	return "", fmt.Errorf("a date %q", text)
}

// serialTime returns a time such as "PT08H30M00S" as a part of a day.
func serialTime(text string) (string, error) {
	t, err := time.ParseDuration(strings.ToLower(strings.TrimPrefix(text, "PT")))
	if err != nil || !strings.HasPrefix(text, "PT") {
		return "", fmt.Errorf("a time %q", text)
	}
	return strconv.FormatFloat(t.Seconds()/86400, 'g', 15, 64), nil
}
