package check

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/tomlfile"
)

// Options are what a run may be asked for beside the map.
type Options struct {
	Formulas bool           // evaluate formulas, under the bounds of sheet.Evaluator
	Progress func(rows int) // told now and then how many rows are read; may be nil
}

// evaluator returns what a cell's formula gives; ok is false if it is not
// evaluated.
type evaluator func(at sheet.Place) (value string, ok bool)

// Run checks a file by a map; places are those of the map, as mapfile.Read returns
// both. The error is tomlfile.Errors if the map asks for what cannot be, else what
// reading the file met.
func Run(ctx context.Context, m *mapfile.Map, places *tomlfile.Places, f sheet.File, o Options) (*Result, error) {
	r := &runner{file: f, options: o, result: &Result{Title: m.Title}}
	if err := r.compile(ctx, m, places); err != nil {
		return nil, err
	}
	for _, name := range r.order {
		if err := r.sheet(ctx, name, r.tables[name]); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(r.result.Findings, func(a, b Finding) int { return cmp.Compare(a.Severity, b.Severity) })
	return r.result, nil
}

type runner struct {
	file    sheet.File
	options Options
	order   []string // sheets
	tables  map[string][]*table
	result  *Result
	refused int // formulas that were not evaluated
	read    int
}

func (r *runner) compile(ctx context.Context, m *mapfile.Map, places *tomlfile.Places) error {
	r.tables = map[string][]*table{}
	var errs tomlfile.Errors
	sheets := r.file.Sheets()
	if len(sheets) == 0 {
		return errors.New("the workbook has no sheet with cells")
	}
	for i := range m.Tables {
		t := &m.Tables[i]
		name := t.Sheet
		path := fmt.Sprintf("table[%d]", i)
		switch {
		case name == "":
			name = sheets[0]
		case !slices.Contains(sheets, name):
			errs = append(errs, places.Errorf(path+".sheet", "no sheet is called %q; there are %q", name, sheets))
			continue
		}
		c := &compiler{table: t, schemes: m.Schemes, places: places, path: path, made: map[string]any{}, errs: &errs, stored: r.evaluator(ctx, name)}
		made := newTable(t, name, c.compile(), m.CSV.Notation())
		if r.tables[name] == nil {
			r.order = append(r.order, name)
		}
		r.tables[name] = append(r.tables[name], made)
	}
	return errs.Sorted()
}

// evaluator returns what evaluates a sheet's formulas, or nil if none are to be.
func (r *runner) evaluator(ctx context.Context, name string) evaluator {
	book, ok := r.file.(*sheet.Workbook)
	if !ok || !r.options.Formulas {
		return nil
	}
	e, err := book.Evaluator(name)
	if err != nil {
		r.note(err.Error())
		return nil
	}
	return func(at sheet.Place) (string, bool) {
		value, err := e.Evaluate(ctx, at)
		if err != nil {
			if r.refused++; r.refused <= 5 {
				r.note(err.Error())
			}
			return "", false
		}
		return value, true
	}
}

func (r *runner) note(text string) {
	if !slices.Contains(r.result.Notes, text) {
		r.result.Notes = append(r.result.Notes, text)
	}
}

// sheet checks all tables of one sheet in one pass, after one for single cells.
func (r *runner) sheet(ctx context.Context, name string, tables []*table) error {
	if err := r.fixed(ctx, name, tables); err != nil {
		return err
	}
	if err := r.stream(ctx, name, tables); err != nil {
		return err
	}
	for _, t := range tables {
		t.finish()
		r.result.Rows += t.rows
		for _, y := range t.tallies {
			r.result.Claims += y.claims
			for _, f := range y.findings {
				r.result.Findings = append(r.result.Findings, *f)
			}
		}
	}
	return nil
}

// fixed reads the single cells that tables name.
func (r *runner) fixed(ctx context.Context, name string, tables []*table) error {
	cells := map[sheet.Place]sheet.Cell{}
	last := 0
	for _, t := range tables {
		t.window.fixed = cells
		for _, c := range t.Columns {
			for _, at := range []string{c.At, c.Nominal} {
				if p, err := sheet.ParsePlace(at); err == nil {
					cells[p] = sheet.Cell{}
					last = max(last, p.Row)
				}
			}
		}
	}
	if last == 0 {
		return nil
	}
	for row, err := range r.file.Rows(ctx, name) {
		if err != nil {
			return err
		}
		if row.Number > last {
			break
		}
		for p := range cells {
			if p.Row == row.Number {
				cells[p] = *row.Cell(p.Column)
			}
		}
	}
	return nil
}

// batchRows is how many rows are handed from the reader to the checks at once.
const batchRows = 512

// A batch is rows on their way from the reader to the checks.
type batch struct {
	rows  []sheet.Row
	cells []sheet.Cell // of all of them
}

// stream reads the rows beside checking them. A batch is used again two batches
// later, when no window looks at it any more.
func (r *runner) stream(ctx context.Context, name string, tables []*table) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	full, empty := make(chan *batch, 2), make(chan *batch, 8)
	for range 6 {
		empty <- &batch{}
	}
	failed := make(chan error, 1)
	go func() {
		defer close(full)
		if err := fill(ctx, r.file, name, full, empty); err != nil {
			failed <- err
		}
	}()
	var previous, before *batch
	for b := range full {
		for i := range b.rows {
			for _, t := range tables {
				t.feed(&b.rows[i])
			}
		}
		r.read += len(b.rows)
		if r.options.Progress != nil {
			r.options.Progress(r.read)
		}
		if before != nil {
			empty <- before
		}
		before, previous = previous, b
		if !slices.ContainsFunc(tables, func(t *table) bool { return !t.done }) {
			return nil // nothing is wanted of the rows below
		}
	}
	select {
	case err := <-failed:
		return err
	default:
		return nil
	}
}

func fill(ctx context.Context, f sheet.File, name string, full chan<- *batch, empty <-chan *batch) error {
	var b *batch
	send := func() error {
		select {
		case full <- b:
			b = nil
			return nil
		case <-ctx.Done():
			return context.Cause(ctx)
		}
	}
	for row, err := range f.Rows(ctx, name) {
		if err != nil {
			return err
		}
		if b == nil {
			select {
			case b = <-empty:
				b.rows, b.cells = b.rows[:0], b.cells[:0]
			case <-ctx.Done():
				return context.Cause(ctx)
			}
		}
		start := len(b.cells)
		b.cells = append(b.cells, row.Cells...)
		b.rows = append(b.rows, sheet.Row{Number: row.Number, Cells: b.cells[start:len(b.cells):len(b.cells)]})
		if len(b.rows) == batchRows {
			if err := send(); err != nil {
				return err
			}
		}
	}
	if b != nil {
		return send()
	}
	return nil
}
