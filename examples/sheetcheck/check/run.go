package check

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// Options are what a run may be asked for beside the map.
type Options struct {
	Formulas bool            // evaluate formulas, within calc.DefaultBounds
	Book     *sheet.Book     // the file, if it is held already
	Values   *calc.Evaluator // of the Book, whose bounds count for this run too; may be nil
	Latent   []Finding       // faults that the formulas show by themselves; those of cells that have the same mistake already are left out
	Progress func(rows int)  // told now and then how many rows are read; may be nil
}

// evaluator returns what a cell's formula gives; ok is false if it is not
// evaluated.
type evaluator func(at sheet.Place) (value calc.Pair, ok bool)

// Run checks a file by a map; places are those of the map, as mapfile.Read returns
// both. The error is tomlfile.Errors if the map asks for what cannot be, else what
// reading the file met.
func Run(ctx context.Context, m *mapfile.Map, places *tomlfile.Places, f sheet.File, o Options) (*Result, error) {
	r := &runner{file: f, options: o, result: &Result{Title: m.Title}}
	if text, ok := f.(*sheet.Text); ok {
		r.result.Encoding = text.Guessed()
		r.result.Notes = append(r.result.Notes, text.Taken()...)
	}
	if err := r.compile(ctx, m, places); err != nil {
		return nil, err
	}
	for _, name := range r.order {
		if err := r.check(ctx, name, r.tables[name]); err != nil {
			return nil, err
		}
	}
	if m.Formulas() || o.Book != nil {
		book := o.Book
		if book == nil {
			var err error
			if book, err = f.Load(ctx); err != nil {
				return nil, err
			}
		}
		if err := checkFormulas(ctx, m, places, book, o.Values, r.result); err != nil {
			return nil, err
		}
	}
	r.result.addLatent(o.Latent)
	slices.SortStableFunc(r.result.Findings, func(a, b Finding) int { return a.compare(&b) })
	return r.result, nil
}

type runner struct {
	file    sheet.File
	options Options
	order   []string // sheets
	tables  map[string][]*table
	result  *Result
	read    int

	formulas *calc.Evaluator // of the whole file, nil until it is asked
	unloaded bool            // the file cannot be evaluated
	refused  int             // formulas that were not evaluated
}

func (r *runner) compile(ctx context.Context, m *mapfile.Map, places *tomlfile.Places) error {
	r.tables = map[string][]*table{}
	var errs tomlfile.Errors
	sheets := r.file.Sheets()
	_, text := r.file.(*sheet.Text)
	if len(sheets) == 0 {
		return errors.New("the workbook has no sheet with cells")
	}
	for i := range m.Tables {
		t := &m.Tables[i]
		if t.AllByFormulas() {
			continue // checked over the whole book
		}
		name := t.Sheet
		path := fmt.Sprintf("table[%d]", i)
		switch {
		case name == "":
			name = sheets[0]
		case len(sheets) == 1 && sheets[0] == "": // a text file
			errs = append(errs, places.Errorf(path+".sheet", "no sheet is called %q: a text file has no sheets; leave the key out, or give the workbook", name))
			continue
		case !slices.Contains(sheets, name):
			errs = append(errs, places.Errorf(path+".sheet", "no sheet is called %q; write one of %s", name, strings.Join(sheets, ", ")))
			continue
		}
		c := &compiler{table: t, schemes: m.Schemes, places: places, path: path, made: map[string]any{}, errs: &errs, typed: !text, stored: r.evaluator(ctx, name)}
		made := newTable(t, name, c.compile())
		if r.tables[name] == nil {
			r.order = append(r.order, name)
		}
		r.tables[name] = append(r.tables[name], made)
	}
	return errs.Sorted()
}

// evaluator returns what evaluates a sheet's formulas, or nil if none are to be.
func (r *runner) evaluator(ctx context.Context, name string) evaluator {
	if _, text := r.file.(*sheet.Text); text || !r.options.Formulas {
		return nil
	}
	if r.formulas == nil && !r.unloaded {
		model, err := r.file.Load(ctx)
		if err != nil {
			r.unloaded = true
			r.note("formulas are not evaluated: " + err.Error())
			return nil
		}
		r.formulas = calc.New(model, calc.DefaultBounds())
	}
	if r.formulas == nil {
		return nil
	}
	return func(at sheet.Place) (calc.Pair, bool) {
		p, err := r.formulas.At(ctx, name, at)
		if err != nil {
			if r.refused++; r.refused <= 5 {
				r.note(err.Error())
			}
			return p, false
		}
		return p, true
	}
}

func (r *runner) note(text string) {
	if !slices.Contains(r.result.Notes, text) {
		r.result.Notes = append(r.result.Notes, text)
	}
}

// check checks all tables of one sheet in one pass, after one for single cells.
func (r *runner) check(ctx context.Context, name string, tables []*table) error {
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
	for row, err := range sheet.Rows(ctx, r.file, name) {
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

// stream reads the rows beside checking them. A batch is released two batches
// later, when no window looks at it any more.
func (r *runner) stream(ctx context.Context, name string, tables []*table) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	batches, failed := make(chan *sheet.Batch, 2), make(chan error, 1)
	go func() {
		defer close(batches)
		if err := read(ctx, r.file, name, batches); err != nil {
			failed <- err
		}
	}()
	var before, last *sheet.Batch
	for b := range batches {
		for i := range b.Rows {
			for _, t := range tables {
				t.feed(&b.Rows[i])
			}
		}
		r.read += len(b.Rows)
		if r.options.Progress != nil {
			r.options.Progress(r.read)
		}
		if before != nil {
			before.Release()
		}
		before, last = last, b
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

func read(ctx context.Context, f sheet.File, name string, out chan<- *sheet.Batch) error {
	for b, err := range f.Batches(ctx, name) {
		if err != nil {
			return err
		}
		select {
		case out <- b:
		case <-ctx.Done():
			return context.Cause(ctx)
		}
	}
	return nil
}
