package understand

import (
	"slices"
	"sort"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A form is words one below the other with a value to the right of each, of which some are
// computed from others: a card for one bearing. It is a table across with a single line.

// findForms makes tables of the forms, before columns of formulas are looked for.
func (r *reader) findForms() {
	looked := map[spot]bool{}
	for f := range r.formulas.every() {
		if looked[f.spot] || !r.labelled(f.spot) {
			continue
		}
		t := r.formAround(f.spot, looked)
		if t == nil {
			continue
		}
		for _, c := range t.columns {
			if s := (spot{t.sheet, t.place(t.lines[0], c.item)}); c.run != nil {
				r.formulas.at(s).table = t
			}
		}
		r.tables = append(r.tables, t)
		r.forms = append(r.forms, t)
	}
}

// label returns the words to the left of a value, with no more than two empty cells between;
// empty if there are none.
func (r *reader) label(s spot) string {
	for column := s.at.Column - 1; column > 0 && column >= s.at.Column-3; column-- {
		left := spot{s.sheet, sheet.Place{Row: s.at.Row, Column: column}}
		if r.cell(left).Blank() && r.formulas.at(left) == nil {
			continue
		}
		text := strings.TrimSpace(r.cell(left).Text)
		if _, isUnit := parseUnit(text); isUnit || !r.isText(left) || len(wordsOf(text)) == 0 {
			return ""
		}
		return text
	}
	return ""
}

// labelled reports whether a cell is a value of a form: words at its left, and at its right
// nothing, or words.
func (r *reader) labelled(s spot) bool {
	if r.label(s) == "" || r.cell(s).Blank() && r.formulas.at(s) == nil {
		return false
	}
	right := spot{s.sheet, sheet.Place{Row: s.at.Row, Column: s.at.Column + 1}}
	return r.formulas.at(right) == nil && (r.cell(right).Blank() || r.isText(right))
}

// formAround returns the form that a formula is in; nil if it is none: the labels differ,
// formulas read others of its values, and two of the values or more are typed or come from elsewhere.
func (r *reader) formAround(s spot, looked map[spot]bool) *table {
	at := func(row int) spot { return spot{s.sheet, sheet.Place{Row: row, Column: s.at.Column}} }
	first, last := s.at.Row, s.at.Row
	for ; first > 1 && last-first < longestForm && r.labelled(at(first-1)); first-- {
	}
	for ; last-first < longestForm && r.labelled(at(last+1)); last++ {
	}
	for row := first; row <= last; row++ {
		looked[at(row)] = true
	}
	for ; first < last && r.isText(at(first)); first++ {
	}
	if first > 1 && r.isText(at(first-1)) {
		return nil // a heading: a column, with words at its left
	}
	t := &table{sheet: s.sheet, lines: []int{s.at.Column}, form: true}
	labels, patterns := map[string]bool{}, map[string]bool{}
	given, inside := 0, 0
	for row := first; row <= last; row++ {
		label := strings.Join(wordsOf(r.label(at(row))), " ")
		if labels[label] {
			return nil
		}
		labels[label] = true
		c := &column{table: t, item: row}
		if f := r.formulas.at(at(row)); f == nil {
			if _, isNumber := r.number(at(row)); isNumber {
				given++
			}
		} else if own := r.readsWithin(f, first, last); own && !patterns[f.rel] {
			patterns[f.rel] = true
			inside++
			c.run = map[int]string{s.at.Column: f.rel}
		} else if own {
			return nil // formulas that read alike: a column
		} else {
			given++
		}
		t.columns = append(t.columns, c)
	}
	if given < 2 || inside == 0 {
		return nil
	}
	return t
}

// longestForm is how many values a form may have.
const longestForm = 64

// readsWithin reports whether a formula reads a cell of its own column between two rows.
func (r *reader) readsWithin(f *formula, first, last int) bool {
	return slices.ContainsFunc(pattern.Areas(f.expr()), func(a *calc.Area) bool {
		return a.Sheet == "" && a.From.Column == f.at.Column && a.To.Column == f.at.Column && first <= a.From.Row && a.To.Row <= last
	})
}

// A value is a form's, by its label.
type formValue struct {
	column *column
	at     spot
}

// intendForms finds what the values of forms with equal labels should read: what most of them
// do. A number that is typed where most of the others have a formula should be computed too.
func (r *reader) intendForms() {
	alike := map[string][]formValue{}
	for _, t := range r.forms {
		for _, c := range t.columns {
			key := strings.Join(wordsOf(c.heading), " ")
			alike[key] = append(alike[key], formValue{c, spot{t.sheet, t.place(t.lines[0], c.item)}})
		}
	}
	for _, values := range alike {
		model := r.model(values)
		for _, v := range values {
			f := r.formulas.at(v.at)
			if v.column.run != nil {
				v.column.shape, v.column.intent = f.expr(), f.expr()
			} else if f != nil {
				continue // of the sheet around the form
			}
			if model == nil || f != nil && f.rel == model.rel {
				continue
			}
			e, ok := pattern.Move(model.expr(), v.at.at.Row-model.at.Row, v.at.at.Column-model.at.Column)
			if !ok || !r.sameLabels(model.expr(), model.sheet, e, v.at.sheet) {
				continue
			}
			v.column.intent = e
			if f == nil {
				v.column.shape = e
				v.column.run = map[int]string{v.at.at.Column: model.rel}
			}
		}
	}
}

// model returns the formula that most of some values have; nil if there are fewer than three,
// or if none stands out.
func (r *reader) model(values []formValue) *formula {
	if len(values) < 3 {
		return nil
	}
	count, one := map[string]int{}, map[string]*formula{}
	for _, v := range values {
		if f := r.formulas.at(v.at); f != nil {
			count[f.rel]++
			if one[f.rel] == nil {
				one[f.rel] = f
			}
		}
	}
	var rels []string
	for rel := range count {
		rels = append(rels, rel)
	}
	sort.Slice(rels, func(i, j int) bool {
		return count[rels[i]] > count[rels[j]] || count[rels[i]] == count[rels[j]] && rels[i] < rels[j]
	})
	if len(rels) == 0 || 2*count[rels[0]] < len(values) || len(rels) > 1 && count[rels[0]] == count[rels[1]] {
		return nil
	}
	return one[rels[0]]
}

// sameLabels reports whether what two formulas read has the same words beside it.
func (r *reader) sameLabels(a calc.Expr, sheetA int, b calc.Expr, sheetB int) bool {
	as, bs := pattern.Areas(a), pattern.Areas(b)
	for i := range as {
		if as[i].Sheet != "" || bs[i].Sheet != "" {
			return false
		}
		for _, ends := range [][2]sheet.Place{{as[i].From.Place, bs[i].From.Place}, {as[i].To.Place, bs[i].To.Place}} {
			one, other := r.label(spot{sheetA, ends[0]}), r.label(spot{sheetB, ends[1]})
			if one == "" || !slices.Equal(wordsOf(one), wordsOf(other)) {
				return false
			}
		}
	}
	return true
}
