package understand

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A form is words one below the other with a value to the right of each, of which some are
// computed from others: a card for one bearing. It is a table across with a single line. Words
// side by side with a value below each are one too, a table of one row.

// findForms makes tables of the forms, before columns of formulas are looked for.
func (r *reader) findForms() {
	for _, down := range []bool{false, true} {
		looked := map[spot]bool{}
		for f := range r.formulas.every() {
			if f.table != nil || looked[f.spot] || !r.labelled(f.spot, down) {
				continue
			}
			t := r.formAround(f.spot, down, looked)
			if t == nil {
				continue
			}
			for _, c := range t.columns {
				if c.run != nil {
					r.formulas.at(spotOf(c, t.lines[0])).table = t
				}
			}
			r.tables = append(r.tables, t)
			r.forms = append(r.forms, t)
		}
	}
}

// label returns the words to the left of a value, with no more than two empty cells or its unit between,
// or those above it, with no more than its unit between; empty if there are none.
func (r *reader) label(s spot, down bool) string {
	for step := 1; step <= 3; step++ {
		words := spot{s.sheet, sheet.Place{Row: s.at.Row, Column: s.at.Column - step}}
		if down {
			words.at = sheet.Place{Row: s.at.Row - step, Column: s.at.Column}
		}
		if words.at.Row < 1 || words.at.Column < 1 {
			break
		}
		if r.cell(words).Blank() && r.formulas.at(words) == nil && !down {
			continue
		}
		text := strings.TrimSpace(r.cell(words).Text)
		_, isUnit := parseUnit(text)
		if isUnit && step == 1 {
			continue
		}
		if isUnit || !r.isText(words) || len(wordsOf(text)) == 0 {
			break
		}
		return text
	}
	return ""
}

// labelled reports whether a cell is a value of a form: it has words at its left and nothing,
// or words, at its right; or words above and nothing, or words, below.
func (r *reader) labelled(s spot, down bool) bool {
	if r.cell(s).Blank() && r.formulas.at(s) == nil || r.label(s, down) == "" {
		return false
	}
	next := spot{s.sheet, sheet.Place{Row: s.at.Row, Column: s.at.Column + 1}}
	if down {
		next.at = sheet.Place{Row: s.at.Row + 1, Column: s.at.Column}
	}
	return r.formulas.at(next) == nil && (r.cell(next).Blank() || r.isText(next))
}

// formAround returns the form that a formula is in; nil if it is none: the labels differ,
// formulas read others of its values, and two of the values or more are typed or come from
// elsewhere.
func (r *reader) formAround(s spot, down bool, looked map[spot]bool) *table {
	t := &table{sheet: s.sheet, form: true, down: down}
	line, item := t.split(s.at)
	t.lines = []int{line}
	at := func(item int) spot { return spot{s.sheet, t.place(line, item)} }
	first, last := item, item
	for ; first > 1 && last-first < longestForm && r.labelled(at(first-1), down); first-- {
	}
	for ; last-first < longestForm && r.labelled(at(last+1), down); last++ {
	}
	for i := first; i <= last; i++ {
		looked[at(i)] = true
	}
	if !down {
		for ; first < last && r.isText(at(first)); first++ {
		}
		if first > 1 && r.isText(at(first-1)) {
			return nil // a heading: a column, with words at its left
		}
	}
	labels, patterns := map[string]bool{}, map[string]bool{}
	given, inside := 0, 0
	for i := first; i <= last; i++ {
		label := strings.Join(wordsOf(r.label(at(i), down)), " ")
		if labels[label] {
			return nil
		}
		labels[label] = true
		c := &column{table: t, item: i}
		if f := r.formulas.at(at(i)); f != nil && down && r.again(f) {
			return nil // a column of which every second line is free
		} else if f == nil {
			if _, isNumber := r.number(at(i)); isNumber {
				given++
			}
		} else if own := r.readsWithin(f, t, first, last); own && (down || !patterns[f.rel]) {
			patterns[f.rel] = true
			inside++
			c.run = map[int]string{line: f.rel}
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

// again reports whether a formula stands once more a few rows below, as it reads from there, and no words between.
func (r *reader) again(f *formula) bool {
	for row := f.at.Row + 1; row <= f.at.Row+widestGap; row++ {
		below := spot{f.sheet, sheet.Place{Row: row, Column: f.at.Column}}
		if r.isText(below) {
			return false // a heading of its own
		}
		if other := r.formulas.at(below); other != nil && other.rel == f.rel {
			return true
		}
	}
	return false
}

// longestForm is how many values a form may have.
const longestForm = 64

// readsWithin reports whether a formula reads a value of its own form.
func (r *reader) readsWithin(f *formula, t *table, first, last int) bool {
	return slices.ContainsFunc(pattern.Areas(f.expr()), func(a *calc.Area) bool {
		line, from := t.split(a.From.Place)
		end, to := t.split(a.To.Place)
		return a.Sheet == "" && line == t.lines[0] && end == line && first <= from && to <= last
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
		times := map[string]int{} // that words come on one form
		for _, c := range t.columns {
			words := fmt.Sprint(wordsOf(c.heading))
			times[words]++
			key := fmt.Sprint(t.down, words, times[words])
			alike[key] = append(alike[key], formValue{c, spotOf(c, t.lines[0])})
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
			if !ok || !r.sameLabels(v.column.table.down, model.expr(), model.sheet, e, v.at.sheet) {
				continue
			}
			v.column.intent = e
			if f == nil {
				v.column.shape = e
				v.column.run = map[int]string{v.column.table.lines[0]: model.rel}
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
func (r *reader) sameLabels(down bool, a calc.Expr, sheetA int, b calc.Expr, sheetB int) bool {
	as, bs := pattern.Areas(a), pattern.Areas(b)
	for i := range as {
		if as[i].Sheet != "" || bs[i].Sheet != "" {
			if !strings.EqualFold(as[i].Sheet, bs[i].Sheet) || as[i].From != bs[i].From || as[i].To != bs[i].To {
				return false
			}
			continue // one cell for all forms
		}
		for _, ends := range [][2]sheet.Place{{as[i].From.Place, bs[i].From.Place}, {as[i].To.Place, bs[i].To.Place}} {
			one, other := r.label(spot{sheetA, ends[0]}, down), r.label(spot{sheetB, ends[1]}, down)
			if one == "" || !slices.Equal(wordsOf(one), wordsOf(other)) {
				return false
			}
		}
	}
	return true
}
