package sheet

import (
	"archive/zip"
	"context"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
)

// A Workbook is a workbook file, opened to be read. Links to other files are not
// followed, macros and formulas not run.
type Workbook struct {
	name    string
	bounds  Bounds
	archive *zip.ReadCloser
	parts   map[string]*zip.File
	book    *excelize.File
	temp    string
}

// OpenWorkbook opens an .xlsx file. Close must be called.
func OpenWorkbook(name string, b Bounds) (_ *Workbook, err error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, err
	}
	if info.Size() > b.FileSize {
		return nil, &BoundError{What: fmt.Sprintf("a file of %d bytes", info.Size()), Where: name, Most: fmt.Sprintf("%d are read", b.FileSize)}
	}
	w := &Workbook{name: name, bounds: b}
	defer func() {
		if err != nil {
			w.Close()
		}
	}()
	if w.archive, err = zip.OpenReader(name); err != nil {
		if errors.Is(err, zip.ErrFormat) {
			return nil, fmt.Errorf("%s is no .xlsx workbook; if it has a password or is of an older kind, save it as .xlsx without one", name)
		}
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if err := checkArchive(name, w.archive.File, b); err != nil {
		return nil, err
	}
	if w.parts, err = sheetParts(w.archive.File); err != nil {
		return nil, fmt.Errorf("%s: damaged: %w", name, err)
	}
	if w.temp, err = os.MkdirTemp("", "sheetcheck-"); err != nil {
		return nil, err
	}
	if w.book, err = w.open(); err != nil {
		return nil, fmt.Errorf("%s: damaged: %w", name, err)
	}
	return w, nil
}

// inMemory is how large a sheet or the shared strings may be before the workbook
// library keeps them in a temporary file.
const inMemory = 4 << 20

func (w *Workbook) open() (book *excelize.File, err error) {
	err = guarded(func() (err error) {
		book, err = excelize.OpenFile(w.name, excelize.Options{
			RawCellValue:      true,
			UnzipSizeLimit:    w.bounds.SheetPart + w.bounds.StringsPart + w.bounds.OtherParts,
			UnzipXMLSizeLimit: inMemory,
			TmpDir:            w.temp,
		})
		return err
	})
	return book, err
}

// Close releases the file and what was unpacked of it.
func (w *Workbook) Close() error {
	var errs []error
	if w.book != nil {
		errs = append(errs, w.book.Close())
	}
	if w.archive != nil {
		errs = append(errs, w.archive.Close())
	}
	if w.temp != "" {
		errs = append(errs, os.RemoveAll(w.temp))
	}
	return errors.Join(errs...)
}

// Sheets returns the names of the sheets that hold cells, in order.
func (w *Workbook) Sheets() []string {
	return slices.DeleteFunc(w.book.GetSheetList(), func(s string) bool { return w.parts[s] == nil })
}

// Size returns the size of a sheet in bytes, unpacked.
func (w *Workbook) Size(sheet string) int64 {
	if part := w.parts[sheet]; part != nil {
		return int64(part.UncompressedSize64)
	}
	return 0
}

// Batches reads a sheet's rows in order. Empty rows are left out.
//
// Values come from the workbook library's streaming reader, types and formulas
// from the marks read beside it: it has no streaming way to them.
func (w *Workbook) Batches(ctx context.Context, sheet string) iter.Seq2[*Batch, error] {
	return func(yield func(*Batch, error) bool) {
		if err := w.batches(ctx, sheet, yield); err != nil && !errors.Is(err, errEnough) {
			yield(nil, err)
		}
	}
}

func (w *Workbook) batches(ctx context.Context, sheet string, yield func(*Batch, error) bool) error {
	part := w.parts[sheet]
	if part == nil {
		return fmt.Errorf("%s has no sheet %q; it has %s", w.name, sheet, quoted(w.Sheets()))
	}
	where := fmt.Sprintf("%s, sheet %s", w.name, sheet)
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	marked, failed := openMarks(ctx, part, where, w.bounds)
	values, err := w.book.Rows(sheet)
	if err != nil {
		return fmt.Errorf("%s: %w", where, err)
	}
	defer values.Close()
	r := &valueReader{Workbook: w, where: where, values: values}
	supply := newBatches()
	for rows := range marked {
		b := supply.next()
		err := guarded(func() error { return r.rows(b, rows) })
		if err != nil {
			return err
		}
		if len(b.Rows) > 0 && !yield(b, nil) {
			return errEnough
		}
	}
	select {
	case err := <-failed:
		return err
	default:
		return nil
	}
}

// valueReader reads values of the rows whose marks are known.
type valueReader struct {
	*Workbook
	where  string
	values *excelize.Rows
	at     int // the row that values is at
}

func (r *valueReader) rows(b *Batch, marked []markedRow) error {
	for i := range marked {
		if err := r.row(b, &marked[i]); err != nil {
			return err
		}
	}
	return nil
}

func (r *valueReader) row(b *Batch, marked *markedRow) error {
	for r.at < marked.number && r.values.Next() {
		r.at++
		if r.at < marked.number { // a gap
			if _, err := r.values.Columns(); err != nil {
				return fmt.Errorf("%s, row %d: damaged: %w", r.where, r.at, err)
			}
		}
	}
	if r.at != marked.number {
		return fmt.Errorf("%s: damaged: row %d comes after row %d", r.where, marked.number, r.at)
	}
	texts, err := r.values.Columns()
	if err != nil {
		return fmt.Errorf("%s, row %d: damaged: %w", r.where, r.at, err)
	}
	if len(texts) == 0 {
		return nil
	}
	start := len(b.cells)
	b.row(r.at)
	for _, text := range texts {
		if len(text) > r.bounds.CellText {
			return &BoundError{What: fmt.Sprintf("a cell of %d bytes", len(text)), Where: fmt.Sprintf("%s, row %d", r.where, r.at), Most: fmt.Sprintf("%d are read", r.bounds.CellText)}
		}
		b.add(text, Notation{})
	}
	for _, k := range marked.marks {
		if k.column <= len(texts) {
			c := &b.cells[start+k.column-1]
			c.note = &note{formula: k.formula, asText: k.asText}
		}
	}
	b.end(start)
	return nil
}

func quoted(names []string) string {
	all := make([]string, len(names))
	for i, n := range names {
		all[i] = fmt.Sprintf("%q", n)
	}
	return strings.Join(all, ", ")
}

// Commented writes a copy of the workbook with comments on cells to out. The
// workbook itself is not changed. A sheet too large to be loaded whole gets none,
// and is named in skipped.
func (w *Workbook) Commented(out io.Writer, comments []Comment) (skipped []string, err error) {
	book, err := w.open()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", w.name, err)
	}
	defer func() { err = errors.Join(err, book.Close()) }()
	for _, c := range comments {
		if w.Size(c.Sheet) > w.bounds.ModelPart {
			if !slices.Contains(skipped, c.Sheet) {
				skipped = append(skipped, c.Sheet)
			}
			continue
		}
		comment := excelize.Comment{Cell: c.At.String(), Author: "sheetcheck", Text: c.Text, Width: 360, Height: 160}
		if err := guarded(func() error { return book.AddComment(c.Sheet, comment) }); err != nil {
			return skipped, fmt.Errorf("%s, %s: the comment cannot be written: %w", c.Sheet, c.At, err)
		}
	}
	return skipped, guarded(func() error { return book.Write(out) })
}

// A Comment is a text to be shown at a cell.
type Comment struct {
	Sheet string
	At    Place
	Text  string
}
