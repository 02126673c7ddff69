package check

import (
	"cmp"
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
	Book     *sheet.Book     // the file, if it is held already
	Values   *calc.Evaluator // of the Book, whose bounds count for this run too; may be nil
	Beyond   *Beyond         // of a map that was made from the first rows of a long sheet; else nil
	Latent   []Finding       // faults that the formulas show by themselves; those of cells that have the same mistake already are left out
	Progress func(rows int)  // told now and then how many rows are read; may be nil

	looked   func(row int) // told of each row of those streaming by that is looked at closely; may be nil
	unsifted bool          // claims are made of all rows, also of those that are plainly right
}

// A Beyond is what rows are held against of which nobody knows that they are like those that a
// map was made from.
type Beyond struct {
	Row     int                    // the last row that was seen
	Column  int                    // the last column that has anything in those rows
	Summary func(text string) bool // whether a location's name says that it is none, such as a total
}

// Run checks a file by a map; places are those of the map, as mapfile.Read returns
// both. The error is tomlfile.Errors if the map asks for what cannot be, else what
// reading the file met.
func Run(ctx context.Context, m *mapfile.Map, places *tomlfile.Places, f sheet.File, o Options) (*Result, error) {
	result := &Result{Title: m.Title}
	if text, ok := f.(*sheet.Text); ok {
		result.Encoding = text.Guessed()
		result.Notes = append(append(result.Notes, text.Taken()...), "a text holds no formulas: faults that do not show yet cannot be seen in it; check the workbook that it was saved from")
	}
	rules, roles, err := makeRules(m, places, f.Sheets())
	if err != nil {
		return nil, err
	}
	book := o.Book
	if book == nil {
		if book, err = hold(ctx, f, rules, o, result); err != nil {
			return nil, err
		}
	}
	k := newChecking(ctx, book, o.Values, result)
	if !o.unsifted {
		k.sift(rules)
	}
	k.gather(m, rules, roles)
	k.check()
	result.addLatent(o.Latent)
	slices.SortStableFunc(result.Findings, func(a, b Finding) int { return a.compare(&b) })
	return result, ctx.Err()
}

// hold returns what has to be looked at closely: the whole file where cells have formulas or
// stand on others further away, else the rows in which something may be wrong.
func hold(ctx context.Context, f sheet.File, rules []*rule, o Options, result *Result) (*sheet.Book, error) {
	s := newStream(f, rules, o, result)
	near := s.near()
	if near {
		book, err := s.read(ctx)
		if err != nil || book != nil {
			return book, err
		}
	}
	book, err := f.Load(ctx)
	if errors.Is(err, sheet.ErrBound) && near {
		s.stored = true
		result.Notes = append(result.Notes, "formulas are not evaluated: "+err.Error())
		return s.read(ctx)
	}
	return book, err
}

// makeRules makes the rules of a map, and the roles in which its tables' columns are taken.
func makeRules(m *mapfile.Map, places *tomlfile.Places, sheets []string) (rules []*rule, roles []map[string]string, err error) {
	var errs tomlfile.Errors
	if len(sheets) == 0 {
		return nil, nil, errors.New("the workbook has no sheet with cells")
	}
	fail := func(path, format string, args ...any) {
		(&ruler{places: places, errs: &errs}).fail(path, fmt.Errorf(format, args...))
	}
	find := func(path, name string) (int, bool) {
		index := slices.IndexFunc(sheets, func(s string) bool { return strings.EqualFold(s, name) })
		switch {
		case name == "":
			return 0, true
		case len(sheets) == 1 && sheets[0] == "": // a text file
			fail(path+".sheet", "no sheet is called %q: a text file has no sheets; leave the key out, or give the workbook", name)
		case index < 0:
			fail(path+".sheet", "no sheet is called %q; write one of %s", name, strings.Join(sheets, ", "))
		}
		return index, index >= 0
	}
	for i := range m.Tables {
		path := fmt.Sprintf("table[%d]", i)
		r := &ruler{table: &m.Tables[i], schemes: m.Schemes, path: path, places: places, errs: &errs}
		if index, ok := find(path, r.table.Sheet); ok {
			r.sheet = index
			r.make()
		}
		rules = append(rules, r.rules...)
		roles = append(roles, r.roles)
	}
	for i := range m.Cells {
		c := &m.Cells[i]
		index, ok := find(fmt.Sprintf("cell[%d]", i), c.Sheet)
		_, err := calc.Parse(c.Formula)
		if _, errAt := sheet.ParsePlace(c.At); ok && err == nil && errAt == nil { // else said by Read
			rules = append(rules, &rule{index: index, column: cmp.Or(c.Role, c.At), role: c.Role, unit: c.Unit, table: "cells alone", cell: c, places: -1})
		}
	}
	return rules, roles, errs.Sorted()
}
