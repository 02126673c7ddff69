package understand

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"unicode/utf8"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// A heads is words side by side, or one below the other, that may be the headings of a table
// without formulas.
type heads struct {
	down        bool // locations are rows, so that the words stand in one
	line        int
	first, last int // items
	score       int // kinds of cells that they name
}

// How many words side by side may be headings, and how many such places of a sheet are looked at.
const (
	fewestHeads = 2
	mostItems   = 200
	mostPlaces  = 2000

	mostLookedAt = 30_000_000 // cells, for the lines of all tables without formulas
)

// valueTables reads what no formula computes: tables with their headings over them or at their
// left, of one location or many, side by side and below one another, and forms. What the headings say is
// taken only where the numbers agree with it.
func (r *reader) valueTables() {
	for index := range r.book.Grids {
		taken := &cells{single: map[chunk]uint64{}}
		r.crossings(index, taken)
		r.typedCards(index, taken)
		for _, h := range r.headsOf(index) {
			for _, t := range r.valueTable(index, h, taken) {
				r.tables = append(r.tables, t)
				r.typedStatistics(t)
				r.typedTotals(t)
				for _, c := range t.columns {
					taken.add(spot{index, t.place(h.line, c.item)})
					for _, l := range t.lines {
						taken.add(spot{index, t.place(l, c.item)})
					}
				}
			}
		}
	}
}

// claimable reports whether what a heading names may follow from other cells.
func claimable(role string) bool {
	switch role {
	case roleClearance, roleTaper, roleRound, roleStretch, roleLeastGap, roleToFile, rolePacks, roleCost,
		"difference", roleBeyond, "end play", "side play", "deck clearance", "to buy", "bought", "left over", "range", "dial travel":
		return true
	}
	return false
}

// headsOf returns where headings may stand, the most telling first.
func (r *reader) headsOf(index int) (all []heads) {
	roles := map[string]string{}
	role := func(s spot) string {
		text := r.cell(s).Text
		known, ok := roles[text]
		if !ok {
			if known = roleOf(text); known == "" && within(text) != nil {
				known = roleVerdict
			}
			roles[text] = known
		}
		return known
	}
	keep := func(h heads) {
		if n := h.last - h.first + 1; n < fewestHeads || n > mostItems || len(all) >= mostPlaces {
			return
		}
		t := &table{sheet: index, down: h.down}
		kinds := map[string]bool{}
		claims, pairs := 0, map[string]int{}
		for item := h.first; item <= h.last; item++ {
			s := spot{index, t.place(h.line, item)}
			if !r.isText(s) {
				continue
			}
			k := role(s)
			if k == "" || k == roleLocation {
				continue
			}
			if claimable(k) {
				claims++
			}
			kinds[k] = true
			if _, _, ok := splitUnit(r.cell(s).Text); ok {
				pairs[k]++
			}
		}
		h.score = len(kinds)
		twice := false // one quantity in two units
		for _, n := range pairs {
			twice = twice || n > 1
		}
		if claims > 0 && (h.score >= 3 || h.last-h.first >= 3) || twice {
			all = append(all, h)
		}
	}
	down := map[int]heads{} // the words in each column, as they go on
	var across heads
	row := 0
	for at, c := range r.book.Grids[index].Cells() {
		if at.Row != row {
			keep(across)
			row, across = at.Row, heads{}
		}
		if c.Formula != "" || c.Kind() != sheet.KindText || strings.TrimSpace(c.Text) == "" || numberLike(strings.TrimSpace(c.Text)) {
			continue
		}
		if across.last == at.Column-1 && across.first > 0 {
			across.last = at.Column
		} else {
			keep(across)
			across = heads{down: true, line: at.Row, first: at.Column, last: at.Column}
		}
		if h, ok := down[at.Column]; ok && at.Row-h.last <= 2 {
			h.last = at.Row
			down[at.Column] = h
		} else {
			if ok {
				keep(h)
			}
			down[at.Column] = heads{line: at.Column, first: at.Row, last: at.Row}
		}
	}
	keep(across)
	for _, h := range down {
		keep(h)
	}
	sort.Slice(all, func(i, j int) bool {
		a, b := all[i], all[j]
		switch {
		case a.score != b.score:
			return a.score > b.score
		case a.down != b.down:
			return a.down
		case a.line != b.line:
			return a.line < b.line
		}
		return a.first < b.first
	})
	return all
}

// summary reports whether words beside a line say that it is no location.
func summary(text string) bool {
	if utf8.RuneCountInString(strings.TrimSpace(text)) <= 2 || strings.ContainsAny(text, "0123456789") {
		return false // the name of a location
	}
	switch roleOf(text) {
	case "average", "total", "range", roleLow, roleHigh, roleCount, "tolerance", "target", "nominal":
		return true
	}
	return false
}

// valueTable reads the tables that headings stand over, or beside: one, or several forms below
// one another. It is empty if they are of none, or of one that has formulas.
func (r *reader) valueTable(index int, h heads, taken *cells) (tables []*table) {
	t := &table{sheet: index, down: h.down, name: r.book.Grids[index].Name}
	free := func(s spot) bool {
		if taken.holds(s) || r.formulas.at(s) != nil {
			return false
		}
		k, ok := r.kindOf(s)
		return !ok || k.column == nil
	}
	for item := h.first; item <= h.last; item++ {
		if !free(spot{index, t.place(h.line, item)}) {
			return nil
		}
	}
	last, width := r.book.Extent(index)
	if !t.down {
		last = width
	}
	empty := 0
	for line := h.line + 1; line <= last; line++ {
		numbers, words, filled := 0, 0, 0
		whole := true
		if r.looked += h.last - h.first + 1; r.looked > mostLookedAt {
			return nil
		}
		for item := h.first; item <= h.last; item++ {
			s := spot{index, t.place(line, item)}
			c := r.cell(s)
			if c.Blank() && c.Formula == "" {
				continue
			}
			filled++
			if !free(s) {
				whole = false
			}
			if _, ok := r.number(s); ok {
				numbers++
			} else if r.isText(s) {
				words++
			}
		}
		switch {
		case filled == 0:
			if empty++; empty > 1 && (len(t.lines) > 0 || empty > 2) {
				line = last
			}
			continue
		case numbers == 0 && (len(t.lines) > 0 || line > h.line+2), !t.down && len(t.lines) > 0 && r.unitsAlone(index, t, line, h):
			line = last // headings of another table
			continue
		case numbers == 0 || numbers == 1 && words < 1 && h.last-h.first > 1:
			continue
		}
		empty = 0
		if name := (spot{index, t.place(line, h.first)}); r.isText(name) && summary(r.cell(name).Text) {
			continue
		}
		if before := (spot{index, t.place(line, max(1, h.first-1))}); h.first > 1 && r.isText(before) && summary(r.cell(before).Text) {
			continue
		}
		if !whole {
			return nil
		}
		t.lines = append(t.lines, line)
	}
	if len(t.lines) == 0 {
		return nil
	}
	for item := h.first; item <= h.last; item++ {
		s := spot{index, t.place(h.line, item)}
		if !r.isText(s) {
			continue
		}
		c := &column{table: t, item: item}
		c.heading, c.group, c.unit = r.headings(t, item, h.line+1)
		if _, u, ok := splitUnit(c.heading); !ok && c.unit == "" || ok && c.unit != u.name {
			_, _, c.unit = r.headings(t, item, t.lines[0])
		}
		if c.heading == "" {
			c.heading = strings.TrimSpace(r.cell(s).Text)
		}
		if c.unit == "" && len(t.lines) == 1 { // a form, with the unit behind the value
			if u, ok := parseUnit(r.cell(spot{index, t.place(t.lines[0]+1, item)}).Text); ok && !t.down {
				c.unit = u.name
			}
		}
		c.said, c.headed = c.unit != "", c.unit
		c.setHeaded()
		t.columns = append(t.columns, c)
	}
	if !t.down && len(t.lines) == 1 {
		for _, form := range r.formsOf(t) {
			tables = append(tables, r.proven(form)...)
		}
		return tables
	}
	return r.proven(t)
}

// setHeaded gives a column without formulas the role that its headings say.
func (c *column) setHeaded() {
	if c.role = headed(c); within(c.heading) != nil && !sized(c.role) {
		c.role = roleVerdict
	}
	if c.role == roleVerdict {
		c.unit = ""
	}
	c.reason = fmt.Sprintf("its heading, %q", title(c))
}

// unitsAlone reports whether a line beside a form holds nothing but units and remarks.
func (r *reader) unitsAlone(index int, t *table, line int, h heads) bool {
	for item := h.first; item <= h.last; item++ {
		if _, ok := r.number(spot{index, t.place(line, item)}); ok {
			return false
		}
	}
	return true
}

// formsOf takes forms below one another apart: one begins where a kind of cell comes again.
func (r *reader) formsOf(t *table) (all []*table) {
	var form *table
	seen := map[string]bool{}
	for _, c := range t.columns {
		s := spot{t.sheet, t.place(t.lines[0], c.item)}
		key := c.role + "|" + c.unit
		if form == nil || seen[key] && onceInForm(c.role) {
			form = &table{sheet: t.sheet, lines: t.lines, name: t.name}
			all = append(all, form)
			seen = map[string]bool{}
		}
		if c.role == "" || r.cell(s).Blank() && c.role == roleLocation {
			continue // a title
		}
		seen[key] = true
		c.table = form
		form.columns = append(form.columns, c)
	}
	return all
}

// onceInForm reports whether a kind of cell that comes again begins another form.
func onceInForm(role string) bool {
	return !slices.Contains([]string{"", roleReading, roleVerdict, roleLow, roleHigh, roleWall}, role)
}

// dropSummaries leaves lines at the end out that hold no reading and no verdict: an average or
// the greatest of a column.
func (r *reader) dropSummaries(t *table) {
	for len(t.lines) > 2 {
		last := t.lines[len(t.lines)-1]
		if slices.ContainsFunc(t.columns[1:], func(c *column) bool {
			s := spotOf(c, last)
			_, isNumber := r.number(s)
			return isNumber && !claimable(c.role) || r.isText(s)
		}) {
			return
		}
		t.lines = t.lines[:len(t.lines)-1]
	}
}

// hasFigures reports whether a text of a column has a figure in it.
func (r *reader) hasFigures(c *column) bool {
	return slices.ContainsFunc(c.table.lines, func(l int) bool {
		return strings.ContainsAny(r.cell(spotOf(c, l)).Text, "0123456789")
	})
}

// proven returns the table if its numbers show what it is: if some of its columns follow from
// others, or are words of a verdict.
func (r *reader) proven(t *table) []*table {
	r.findMarks(t)
	t.columns = slices.DeleteFunc(t.columns, func(c *column) bool { return !r.filled(t, c.item) && !claimable(c.role) && c.role != roleVerdict })
	if len(t.columns) < fewestHeads {
		return nil
	}
	r.dropSummaries(t)
	if c := t.columns[0]; r.namesLines(c) {
		c.role, c.reason = roleLocation, "the first column"
	}
	for _, c := range t.columns[1:] {
		if ofLength(c.role) && r.wordsIn(c) && !r.hasFigures(c) {
			c.role, c.unit, c.reason = roleGrade, "", "words under a heading of a size"
		}
	}
	for _, c := range t.columns[1:] {
		if len(t.lines) > 2 && c.mark == "" && r.judges(c) {
			c.role, c.unit, c.reason = roleVerdict, "", "its words"
		}
	}
	for _, c := range t.columns {
		if c.unit == "" && ofLength(c.role) {
			c.unit = r.sheetUnit(t.sheet)
		}
	}
	before := len(r.u.Unknown)
	r.provenTable(t)
	r.provenFurther(t)
	for _, c := range t.columns {
		if c.intent != nil {
			return []*table{t}
		}
	}
	if len(r.u.Unknown) > before {
		return []*table{t}
	}
	return nil
}

// namesLines reports whether a first column names locations: it has words, or numbers from 1
// on, or a heading that says nothing of sizes.
func (r *reader) namesLines(c *column) bool {
	t := c.table
	if len(t.lines) == 1 && !t.down {
		return false
	}
	if r.wordsIn(c) {
		return c.role != roleVerdict
	}
	for i, l := range t.lines {
		if v, ok := r.number(spot{t.sheet, t.place(l, c.item)}); !ok || v != float64(i+1) {
			return c.role == ""
		}
	}
	return true
}
