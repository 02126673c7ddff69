package sheet

import (
	"archive/zip"
	"context"
	"errors"
	"fmt"
	"iter"
	"slices"
)

// A Workbook is a workbook file, opened to be read. Links to other files are not
// followed, macros and formulas not run.
type Workbook struct {
	name    string
	bounds  Bounds
	archive *zip.ReadCloser
	parts   parts
	texts   *sharedTexts
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

// Close releases the file.
func (w *Workbook) Close() error {
	if w.archive == nil {
		return nil
	}
	return w.archive.Close()
}

// Archive returns the parts of the workbook, within its bounds. They can be read until Close.
func (w *Workbook) Archive() *zip.Reader { return &w.archive.Reader }

// Own returns the names of the sheets that sheetcheck put into a copy, which are passed over.
func (w *Workbook) Own() []string { return w.parts.own }

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
