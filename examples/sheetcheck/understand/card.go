package understand

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A card is a form in several columns: words with a value to the right of each, and perhaps its unit, side by side
// and below one another. What belongs to one card is told by its formulas, which read its values wherever they
// stand; without formulas, by words that do not come again. Its table has one line, and its items are numbered as
// the values stand, column by column.

// findCards makes tables of the cards that have formulas.
func (r *reader) findCards() {
	l := &labels{r: r, words: map[spot]string{}, reads: map[spot][]spot{}, readBy: map[spot][]spot{}, taken: map[spot]bool{}}
	var all []spot
	for f := range r.formulas.every() {
		if f.table == nil && l.read(f) {
			all = append(all, f.spot)
		}
	}
	for _, group := range l.join(all, false) {
		if r.takeCard(group, l) {
			continue
		}
		for _, part := range l.join(group, true) { // several cards, perhaps
			r.takeCard(part, l)
		}
	}
}

// mostCards bounds the cards of a book that are read.
const mostCards = 1000

// labels are values with words to the left of them that formulas with such words read.
type labels struct {
	r             *reader
	words         map[spot]string
	reads, readBy map[spot][]spot // by formula, and by what it reads
	taken         map[spot]bool   // by cards
}

// label returns the words beside a value; empty if there are none.
func (l *labels) label(s spot) string {
	words, known := l.words[s]
	if !known && l.r.labelled(s, false) {
		if words = strings.Join(wordsOf(l.r.label(s, false)), " "); words != "" {
			l.words[s] = words
		}
	}
	return words
}

// read notes what a formula reads; ok is false if no words stand beside it.
func (l *labels) read(f *formula) (ok bool) {
	if l.label(f.spot) == "" {
		return false
	}
	f.each(func(a calc.Area) bool {
		if a.Sheet != "" || a.Columns || a.Rows || a.From.Column != a.To.Column || a.To.Row-a.From.Row > longestForm {
			return true
		}
		for row := a.From.Row; row <= a.To.Row; row++ {
			s := spot{f.sheet, sheet.Place{Row: row, Column: a.From.Column}}
			if s != f.spot && l.label(s) != "" {
				l.reads[f.spot] = append(l.reads[f.spot], s)
				l.readBy[s] = append(l.readBy[s], f.spot)
			}
		}
		return true
	})
	return true
}

// again reports whether words come twice beside some values.
func (l *labels) again(some []spot) bool {
	seen := map[string]spot{}
	for _, s := range some {
		if other, ok := seen[l.words[s]]; ok && other != s {
			return true
		}
		seen[l.words[s]] = s
	}
	return false
}

// join returns the values that formulas join. Where cards are to be kept apart, a formula that gathers values with the
// same words joins nothing, nor does a value that formulas with the same words read.
func (l *labels) join(some []spot, apart bool) (groups [][]spot) {
	parent := map[spot]spot{}
	root := func(s spot) spot {
		for {
			p, ok := parent[s]
			if !ok || p == s {
				return s
			}
			if over, ok := parent[p]; ok {
				parent[s] = over
			}
			s = p
		}
	}
	members, shared := map[spot]bool{}, map[spot]bool{}
	for _, f := range some {
		members[f] = true
		gathers := apart && l.again(l.reads[f])
		for _, s := range l.reads[f] {
			if _, known := shared[s]; !known {
				members[s], shared[s] = true, apart && l.again(l.readBy[s])
			}
			if !gathers && !shared[s] {
				parent[root(s)] = root(f)
			}
		}
	}
	by := map[spot][]spot{}
	for s := range members {
		by[root(s)] = append(by[root(s)], s)
	}
	for _, group := range by {
		slices.SortFunc(group, bySpot)
		groups = append(groups, group)
	}
	slices.SortFunc(groups, func(a, b []spot) int { // the largest first: what stands around it may belong to it
		if len(a) != len(b) {
			return len(b) - len(a)
		}
		return bySpot(a[0], b[0])
	})
	return groups
}

// takeCard makes a table of a card, if some values are one.
func (r *reader) takeCard(joined []spot, l *labels) bool {
	if len(r.forms) >= mostCards {
		return false
	}
	t := r.card(joined, l)
	if t == nil {
		return false
	}
	for _, c := range t.columns {
		s := spotOf(c, 1)
		l.taken[s] = true
		if c.run != nil {
			r.formulas.at(s).table = t
		}
	}
	r.tables = append(r.tables, t)
	r.forms = append(r.forms, t)
	return true
}

// bySpot orders cells by sheet, column and row.
func bySpot(a, b spot) int {
	switch {
	case a.sheet != b.sheet:
		return a.sheet - b.sheet
	case a.at.Column != b.at.Column:
		return a.at.Column - b.at.Column
	}
	return a.at.Row - b.at.Row
}

// card returns the card of which some values are, that formulas join; nil if they are none: they stand in one column or
// in one row, words come again that name a part, or formulas read alike beside other words.
func (r *reader) card(joined []spot, l *labels) *table {
	rows, columns := map[int]bool{}, map[int]bool{}
	for _, s := range joined {
		rows[s.at.Row], columns[s.at.Column] = true, true
	}
	if len(rows) < 2 || len(columns) < 2 || len(joined) > longestForm {
		return nil
	}
	words, cells := map[string]bool{}, map[spot]bool{}
	for _, s := range joined {
		if l.taken[s] {
			return nil
		}
		cells[s], words[l.words[s]] = true, true
	}
	for _, s := range joined { // and what stands above and below them under other words
		for _, step := range []int{-1, 1} {
			next := s
			for range longestForm {
				next.at.Row += step
				label := ""
				if next.at.Row > 0 {
					label = l.label(next)
				}
				if label == "" || words[label] || l.taken[next] {
					break
				}
				cells[next], words[label] = true, true
			}
		}
	}
	return r.newCard(slices.SortedFunc(maps.Keys(cells), bySpot))
}

// newCard makes the table of a card of its values in order; nil if they are none.
func (r *reader) newCard(cells []spot) *table {
	if len(cells) > longestForm {
		return nil
	}
	t := &table{sheet: cells[0].sheet, form: true, lines: []int{1}}
	for _, s := range cells {
		t.cells = append(t.cells, s.at)
	}
	seen, alike := map[string]bool{}, map[string]string{}
	given, inside, named := 0, 0, 0
	for i, s := range cells {
		c := &column{table: t, item: i + 1}
		heading, unitName := r.cardHeading(s)
		role := roleOf(heading)
		words := strings.Join(wordsOf(heading), " ")
		if key := words + " " + unitName; part(role) && seen[key] {
			return nil // several cards
		} else {
			seen[key] = true
		}
		if role != "" {
			named++
		}
		f := r.formulas.at(s)
		if f == nil || !r.readsWithin(f, t, 1, len(cells)) {
			if given++; f == nil { // else it is of the sheet around the card
				t.columns = append(t.columns, c)
			}
			continue
		}
		t.columns = append(t.columns, c)
		key := fmt.Sprint(s.at.Column, f.rel)
		if other, ok := alike[key]; ok && other != words {
			return nil // a column
		}
		alike[key] = words
		inside++
		c.run = map[int]string{1: f.rel}
	}
	if given < 2 || inside == 0 || named < 2 {
		return nil
	}
	return t
}

// repeats reports whether a card may have several values of a role under the same words: each verdict has limits.
func repeats(role string) bool {
	return role == roleVerdict || role == roleLow || role == roleHigh || role == "tolerance"
}

// cardHeading returns the words beside a value and its unit: in them, behind the value, between the two or in its format.
func (r *reader) cardHeading(s spot) (heading, unitName string) {
	heading = r.label(s, false)
	if _, u, ok := splitUnit(heading); ok {
		return heading, u.name
	}
	for _, step := range []int{1, -1} {
		beside := spot{s.sheet, sheet.Place{Row: s.at.Row, Column: s.at.Column + step}}
		if u, ok := parseUnit(r.cell(beside).Text); ok && r.isText(beside) {
			return heading, u.name
		}
	}
	if u, ok := parseUnit(r.book.Grids[s.sheet].Format(r.cell(s)).Unit); ok {
		return heading, u.name
	}
	if _, name, ok := measuredText(r.cell(s)); ok {
		return heading, name
	}
	return heading, ""
}

// Where a card without formulas is looked for, and its size.
const (
	lowestCard     = 200
	rightmostCard  = 40
	leastCardRows  = 2
	mostCardRows   = 40
	mostCardLabels = 4
)

// typedCards reads the cards of a sheet that have no formulas.
func (r *reader) typedCards(index int, taken *cells) {
	last, width := r.book.Extent(index)
	for row := 1; row <= min(last, lowestCard); row++ {
		for column := 1; column <= min(width, rightmostCard)-3; column++ {
			labels := r.cardLabels(index, row, column, taken)
			if len(labels) < 2 {
				continue
			}
			var values []spot
			height := 0
			for at := row; at <= last && height < mostCardRows; at++ {
				before := len(values)
				for _, label := range labels {
					if r.cardValue(index, at, label, taken) {
						values = append(values, spot{index, sheet.Place{Row: at, Column: label + 1}})
					}
				}
				if len(values) == before {
					break
				}
				height++
			}
			if height >= leastCardRows {
				r.typedCard(values, taken)
			}
		}
	}
}

// cardLabels returns in which columns of a row words with a value stand, from a column on. Between a value and the next
// words there may be its unit and an empty cell.
func (r *reader) cardLabels(index, row, column int, taken *cells) (labels []int) {
	for at := column; len(labels) < mostCardLabels && r.cardValue(index, row, at, taken); {
		labels = append(labels, at)
		next := at + 2
		for next < at+4 && !r.cardValue(index, row, next, taken) {
			between := r.cell(spot{index, sheet.Place{Row: row, Column: next}})
			if _, isUnit := parseUnit(between.Text); !between.Blank() && !isUnit {
				return labels
			}
			next++
		}
		at = next
	}
	return labels
}

// cardValue reports whether words with a role stand at a place, and a value to the right of them.
func (r *reader) cardValue(index, row, column int, taken *cells) bool {
	words := spot{index, sheet.Place{Row: row, Column: column}}
	value := spot{index, sheet.Place{Row: row, Column: column + 1}}
	if !r.isText(words) || taken.holds(words) || taken.holds(value) || r.cell(value).Blank() || r.formulas.at(value) != nil {
		return false
	}
	if k, ok := r.kindOf(value); ok && k.column != nil {
		return false
	}
	role := roleOf(r.cell(words).Text)
	_, isNumber := r.number(value)
	return role != "" && !good(r.cell(words).Text) && (isNumber || role == roleVerdict)
}

// typedCard reads the values of a card without formulas, if they are one and its numbers prove it.
func (r *reader) typedCard(values []spot, taken *cells) {
	slices.SortFunc(values, bySpot)
	t := &table{sheet: values[0].sheet, form: true, lines: []int{1}, name: r.book.Grids[values[0].sheet].Name}
	seen := map[string]bool{}
	for i, s := range values {
		t.cells = append(t.cells, s.at)
		c := &column{table: t, item: i + 1}
		c.heading, c.unit = r.cardHeading(s)
		c.said, c.headed = c.unit != "", c.unit
		c.setHeaded()
		words, kind := strings.Join(wordsOf(c.heading), " "), c.role+"|"+c.unit
		if seen[words] && !repeats(c.role) || seen[kind] && onceInForm(c.role) {
			return // several cards side by side
		}
		seen[words], seen[kind] = true, true
		t.columns = append(t.columns, c)
	}
	before := len(r.u.Unknown)
	if r.proven(t); !slices.ContainsFunc(t.columns, func(c *column) bool { return c.intent != nil }) {
		for _, unknown := range r.u.Unknown[before:] { // it is something else
			delete(r.told, spot{t.sheet, unknown.At})
		}
		r.u.Unknown = r.u.Unknown[:before]
		return
	}
	r.tables = append(r.tables, t)
	for _, s := range values {
		taken.add(s)
		taken.add(spot{s.sheet, sheet.Place{Row: s.at.Row, Column: s.at.Column - 1}})
	}
}

// area returns the cells from the first to the last that a card has.
func (t *table) area() sheet.Area {
	a := sheet.Area{First: t.cells[0], Last: t.cells[0]}
	for _, p := range t.cells {
		a.First.Row, a.First.Column = min(a.First.Row, p.Row), min(a.First.Column, p.Column)
		a.Last.Row, a.Last.Column = max(a.Last.Row, p.Row), max(a.Last.Column, p.Column)
	}
	return a
}

// nameCard names a card by the words over it that stand alone in their row.
func (r *reader) nameCard(t *table) {
	first, left := t.area().First.Row, t.area().First.Column
	for column := left; column > 0 && column >= left-2; column-- {
		if over := (spot{t.sheet, sheet.Place{Row: first - 1, Column: column}}); first > 1 && r.isText(over) {
			t.name = strings.TrimSpace(r.cell(over).Text)
			return
		}
	}
}
