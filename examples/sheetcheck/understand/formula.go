package understand

import (
	"iter"
	"sort"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A formula is a cell's.
type formula struct {
	spot
	*form
	table *table
}

// A form is what formulas have in common that were copied from one another: there may be very
// many of them, and it is found once.
type form struct {
	read   calc.Expr // with cells in place of names, as it reads in the cell home
	home   sheet.Place
	areas  []*calc.Area // that it names
	rel    string       // as it reads from its own cell
	across string       // likewise, with the sheets that it names left out; empty if it names none
	looks  bool         // it looks something up
}

// expr returns the formula with cells in place of names.
func (f *formula) expr() calc.Expr {
	e, _ := calc.Move(f.read, f.at.Row-f.home.Row, f.at.Column-f.home.Column)
	return e
}

// each calls look for each area that the formula names, from left to right, until it returns
// false.
func (f *formula) each(look func(a calc.Area) (more bool)) {
	for _, a := range f.areas {
		if !look(a.Moved(f.at.Row-f.home.Row, f.at.Column-f.home.Column)) {
			return
		}
	}
}

// A formKey is a form on one sheet: names may stand for something else on another.
type formKey struct {
	*calc.Form
	sheet int
}

// formulas are those of a book, row by row.
type formulas struct {
	all   []formula
	rows  [][]int32 // by sheet and row, where its formulas begin
	texts map[string]string
}

// at returns the formula of a cell; nil if it has none that can be read.
func (f *formulas) at(s spot) *formula {
	if s.sheet >= len(f.rows) || s.at.Row < 0 || s.at.Row+1 >= len(f.rows[s.sheet]) {
		return nil
	}
	row := f.all[f.rows[s.sheet][s.at.Row]:f.rows[s.sheet][s.at.Row+1]]
	i := sort.Search(len(row), func(i int) bool { return row[i].spot.at.Column >= s.at.Column })
	if i == len(row) || row[i].spot.at.Column != s.at.Column {
		return nil
	}
	return &row[i]
}

// every returns the formulas row by row.
func (f *formulas) every() iter.Seq[*formula] {
	return func(yield func(*formula) bool) {
		for i := range f.all {
			if !yield(&f.all[i]) {
				return
			}
		}
	}
}

// interned returns one copy of a text for all that are alike.
func (f *formulas) interned(text string) string {
	if same, ok := f.texts[text]; ok {
		return same
	}
	f.texts[text] = text
	return text
}

// parse reads every formula.
func (r *reader) parse() {
	n := 0
	for _, g := range r.book.Grids {
		for _, c := range g.Cells() {
			if c.Formula != "" {
				n++
			}
		}
	}
	f := &formulas{all: make([]formula, 0, n), texts: map[string]string{}}
	r.formulas = f
	var read calc.Forms
	forms := map[formKey]*form{}
	for i, g := range r.book.Grids {
		last, _ := r.book.Extent(i)
		rows := make([]int32, 0, last+2)
		for at, c := range g.Cells() {
			if c.Formula == "" {
				continue
			}
			for len(rows) <= at.Row {
				rows = append(rows, int32(len(f.all)))
			}
			s := spot{i, at}
			form, err := r.form(&read, forms, s, c)
			if err != nil {
				r.unknown(s, "its formula cannot be read: "+err.Error())
				continue
			}
			f.all = append(f.all, formula{spot: s, form: form})
		}
		for len(rows) < last+2 {
			rows = append(rows, int32(len(f.all)))
		}
		f.rows = append(f.rows, rows)
	}
}

// form reads one formula.
func (r *reader) form(read *calc.Forms, known map[formKey]*form, s spot, c *sheet.Cell) (*form, error) {
	found, err := read.Read(c.Formula, s.at)
	if err != nil {
		return nil, err
	}
	_, array := c.Array()
	shared := found.At != (sheet.Place{}) && !array && !pattern.TableColumns(found.Expr)
	if f := known[formKey{found, s.sheet}]; shared && f != nil {
		return f, nil
	}
	rows, columns := found.Off(s.at)
	e, _ := calc.Move(found.Expr, rows, columns)
	e = pattern.Resolve(r.book, s.sheet, s.at, e)
	f := &form{read: e, home: s.at, areas: pattern.Areas(e), rel: r.formulas.interned(pattern.Relative(e, s.at)), across: acrossSheets(e)}
	calc.Walk(e, func(e calc.Expr) bool {
		call, ok := e.(*calc.Call)
		f.looks = f.looks || ok && (lookUp(call.Name) || len(pattern.LookUps(call)) > 0)
		return !f.looks
	})
	if shared {
		known[formKey{found, s.sheet}] = f
	}
	return f, nil
}
