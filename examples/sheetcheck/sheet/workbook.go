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

	"github.com/xuri/excelize/v2"
)

// A Workbook is a workbook file, opened to be read. Links to other files are not
// followed, macros and formulas not run.
type Workbook struct {
	name    string
	bounds  Bounds
	archive *zip.ReadCloser
	parts   parts
	texts   *sharedTexts
	temp    string // of book
}

// A worksheet is a sheet that holds cells.
type worksheet struct {
	name   string
	part   *zip.File
	hidden bool
}

// OpenWorkbook opens an .xlsx file. Close must be called.
func OpenWorkbook(name string, b Bounds) (_ *Workbook, err error) {
	if _, err := b.stat(name); err != nil {
		return nil, err
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
	if w.parts, err = contents(w.archive.File); err != nil {
		return nil, fmt.Errorf("%s: damaged: %w", name, err)
	}
	if len(w.parts.sheets) > b.Parts {
		return nil, &BoundError{What: fmt.Sprintf("%d sheets", len(w.parts.sheets)), Where: name, Most: fmt.Sprintf("%d are read", b.Parts)}
	}
	if w.texts, err = readTexts(w.parts.texts); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return w, nil
}

// inMemory is how large a sheet or the shared strings may be before the workbook
// library keeps them in a temporary file.
const inMemory = 4 << 20

// model opens the workbook with the workbook library, which loads most of it.
func (w *Workbook) model() (book *excelize.File, err error) {
	if w.temp == "" {
		if w.temp, err = os.MkdirTemp("", "sheetcheck-"); err != nil {
			return nil, err
		}
	}
	err = guarded(func() (err error) {
		book, err = excelize.OpenFile(w.name, excelize.Options{
			RawCellValue:      true,
			UnzipSizeLimit:    w.bounds.SheetPart + w.bounds.StringsPart + w.bounds.OtherParts,
			UnzipXMLSizeLimit: inMemory,
			TmpDir:            w.temp,
		})
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("%s: damaged: %w", w.name, err)
	}
	return book, nil
}

// guarded calls into the workbook library and makes an error of a panic: files
// that lack what the library takes for granted can bring it to one.
func guarded(call func() error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("damaged: the workbook lacks something that it needs (%v)", p)
		}
	}()
	return call()
}

// Close releases the file and what was unpacked of it.
func (w *Workbook) Close() error {
	var errs []error
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
	var names []string
	for _, s := range w.parts.sheets {
		names = append(names, s.name)
	}
	return names
}

// part returns the part that holds a sheet's cells.
func (w *Workbook) part(sheet string) (*zip.File, error) {
	if i := slices.IndexFunc(w.parts.sheets, func(s worksheet) bool { return s.name == sheet }); i >= 0 {
		return w.parts.sheets[i].part, nil
	}
	return nil, fmt.Errorf("%s has no sheet %q; it has %q", w.name, sheet, w.Sheets())
}

// loadable returns a *BoundError for a sheet too large to be loaded whole.
func (w *Workbook) loadable(sheet string) error {
	part, err := w.part(sheet)
	if err != nil {
		return err
	}
	if size := int64(part.UncompressedSize64); size > w.bounds.ModelPart {
		return &BoundError{What: fmt.Sprintf("%d bytes, unpacked", size), Where: "sheet " + sheet, Most: fmt.Sprintf("%d MB are loaded whole", w.bounds.ModelPart>>20)}
	}
	return nil
}

// Batches reads a sheet's rows in order. Empty rows are left out.
func (w *Workbook) Batches(ctx context.Context, sheet string) iter.Seq2[*Batch, error] {
	return func(yield func(*Batch, error) bool) {
		if err := w.read(ctx, sheet, newSupply(yield)); err != nil && !errors.Is(err, errEnough) {
			yield(nil, err)
		}
	}
}

func (w *Workbook) read(ctx context.Context, sheet string, rows *supply) error {
	part, err := w.part(sheet)
	if err != nil {
		return err
	}
	p, closer, err := openPart(part)
	if err != nil {
		return fmt.Errorf("%s: %w", w.name, err)
	}
	defer closer.Close()
	r := &cellReader{xmlPart: p, where: fmt.Sprintf("%s, sheet %s", w.name, sheet), bounds: w.bounds, texts: w.texts, rows: rows}
	return r.read(ctx)
}

// Commented writes a copy of the workbook with comments on cells to out. The
// workbook itself is not changed. A sheet too large to be loaded whole gets none,
// and is named in skipped.
func (w *Workbook) Commented(out io.Writer, comments []Comment) (skipped []string, err error) {
	book, err := w.model()
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, book.Close()) }()
	for _, c := range comments {
		if err := w.loadable(c.Sheet); err != nil {
			if !errors.Is(err, ErrBound) {
				return skipped, err
			}
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
