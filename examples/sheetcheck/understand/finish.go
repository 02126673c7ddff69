package understand

import (
	"cmp"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// finish says what each cell is, and writes the map.
func (r *reader) finish() {
	for _, t := range r.tables {
		r.finishTable(t)
	}
	for f := range r.formulas.every() {
		r.soughtIn(f)
		r.given(f)
	}
	for _, s := range r.lone {
		r.u.Map.Cells = append(r.u.Map.Cells, mapfile.Cell{
			Sheet: r.book.Grids[s.formula.sheet].Name, At: s.formula.at.String(), Formula: s.text, Role: s.Role, Unit: s.Unit, Reason: s.Reason,
		})
	}
	r.u.Map.Cells = append(r.u.Map.Cells, r.statistics...)
	for f := range r.formulas.every() {
		if !r.told[f.spot] && !r.u.roles.known(f.spot) {
			r.unknown(f.spot, fmt.Sprintf("its formula, =%s, is like no other and nothing says what it should be", f.expr()))
		}
	}
	sort.SliceStable(r.u.Unknown, func(i, j int) bool {
		a, b := r.u.Unknown[i], r.u.Unknown[j]
		if a.Sheet != b.Sheet {
			return a.Sheet < b.Sheet
		}
		return a.At.Row < b.At.Row || a.At.Row == b.At.Row && a.At.Column < b.At.Column
	})
}

// mostWorked is how many lines of a table are shown worked out.
const mostWorked = 3

func (r *reader) finishTable(t *table) {
	name := r.book.Grids[t.sheet].Name
	m := mapfile.Table{Name: t.name, Sheet: name, Columns: map[string]mapfile.Column{}}
	lines := ""
	if t.cells != nil {
		lines = t.area().String()
	} else {
		lines = standIn(&m, t.lines, t.down)
		r.nameCrossing(t)
	}
	shown := Table{Name: t.name, Sheet: name, Down: t.down, Card: t.cells != nil, Lines: lines}
	used := map[string]int{}
	claims := map[*column]string{}
	for _, c := range t.columns {
		claim := c.intent != nil
		role := c.role
		if role == "" {
			if c.run != nil {
				continue
			}
			role = roleNumber
			if r.wordsIn(c) {
				continue
			}
		}
		if u, _ := parseUnit(c.unit); u.dimension == "volume" && slices.Contains([]string{roleNumber, "product", "difference", "deck", roleReading}, role) {
			role = "volume"
		}
		if role == roleNumber || role == "product" { // of which the unit says more
			switch u, _ := parseUnit(c.unit); {
			case u.dimension == "torque":
				role = roleTorque
			case u.dimension == "angle" && c.run == nil:
				role = "angle"
			case u.dimension == "length" && c.run == nil:
				role = roleReading
			}
		}
		if u, ok := parseUnit(c.unit); ok && u.dimension != "length" && part(role) && c.run == nil {
			role = roleReading // a part's, and not its size
		}
		meaning := Meaning{Role: role, Unit: c.unit, Claim: claim, Reason: c.reason}
		if role == roleVerdict || role == roleLocation || role == roleGrade || role == roleCode {
			meaning.Unit = ""
		}
		shownAs := meaning
		if role == "ratio" && strings.Contains(c.heading, "%") {
			shownAs.Unit = "%"
		}
		if t.cells != nil {
			r.u.roles.set(spotOf(c, 1), shownAs)
		} else {
			r.u.roles.setColumn(c, shownAs)
		}
		key := role
		if used[role]++; used[role] > 1 {
			key = fmt.Sprintf("%s %d", role, used[role])
		}
		m.Columns[key] = mapfile.Column{At: c.at(), Unit: meaning.Unit, Role: role, Reason: c.reason}
		if c.run == nil && r.readAsText(c) {
			m.Columns[key] = mapfile.Column{At: c.at(), Role: role, Reason: c.reason + "; texts, which formulas make numbers of"}
		}
		if role == roleLocation && m.Location == "" {
			m.Location = c.at()
		}
		column := Column{At: c.at(), Heading: title(c), Meaning: meaning}
		if claim {
			if e := r.right(c, t.lines[0]); e != nil {
				column.Formula = "=" + e.String()
			}
			if c.shape != nil && c.run != nil {
				column.Own = "=" + r.owned(c).String()
			}
			claims[c] = key
			r.claimed(&m, t, c, key)
		}
		shown.Columns = append(shown.Columns, column)
	}
	for _, l := range t.lines[:min(len(t.lines), mostWorked)] {
		shown.Worked = append(shown.Worked, r.worked(t, l))
	}
	if len(m.Checks) > 0 {
		r.u.Map.Tables = append(r.u.Map.Tables, m)
	}
	r.runningTables(&m, t, claims)
	r.u.Tables = append(r.u.Tables, shown)
}

// owned returns the formula of a column as the sheet has it in most lines. Where each line reads a sheet of its own, it
// is written for that of the first line, as the one that should be there.
func (r *reader) owned(c *column) calc.Expr {
	if name, ok := r.sheetOf(c, c.table.lines[0]); ok {
		return pattern.Rewrite(c.shape, func(e calc.Expr) calc.Expr {
			if a, isArea := e.(*calc.Area); isArea {
				other := *a
				other.Sheet = name
				return &other
			}
			return nil
		})
	}
	return c.shape
}

// nameCrossing names the headings of a table in which every part is held against every other, as locations: of
// its columns that read alike, and of its lines, if words over them name each.
func (r *reader) nameCrossing(t *table) {
	first := t.lines[0]
	count := map[string]int{}
	alike := func(c *column) string {
		if c.run == nil || c.intent == nil {
			return ""
		}
		return pattern.Relative(c.intent, t.place(first, c.item))
	}
	for _, c := range t.columns {
		count[alike(c)]++
	}
	over := map[string]bool{} // whose lines are named
	for _, c := range t.columns {
		key := alike(c)
		if key == "" || count[key] < leastProof {
			continue
		}
		for line := first - 1; line > 0; line-- {
			if s := (spot{t.sheet, t.place(line, c.item)}); r.isText(s) {
				r.nameLocation(s)
				break
			}
		}
		if !over[key] {
			over[key] = true
			r.nameLines(t, c.item)
		}
	}
}

// nameLines names the words over the lines of a table as locations, of which each line has others, next
// before an item.
func (r *reader) nameLines(t *table, before int) {
	for item := before - 1; item > 0 && item >= before-mostHeads; item-- {
		words := map[string]bool{}
		for _, l := range t.lines {
			if s := (spot{t.sheet, t.place(l, item)}); r.isText(s) {
				words[strings.TrimSpace(r.cell(s).Text)] = true
			}
		}
		if len(words) < len(t.lines) {
			continue
		}
		if c := t.column(item); c != nil && c.run == nil {
			c.role, c.reason, c.unit = roleLocation, "words over the lines, another over each", ""
		} else if c == nil {
			for _, l := range t.lines {
				r.nameLocation(spot{t.sheet, t.place(l, item)})
			}
		}
		return
	}
}

// nameLocation says that a cell names a location, unless it is something else.
func (r *reader) nameLocation(s spot) {
	if !r.u.roles.known(s) {
		r.u.roles.set(s, Meaning{Role: roleLocation, Reason: "it names a line of parts that are held against every other"})
	}
}

// claimed adds a column's check to the map: one formula for all lines, or one for each
// where each line reads a sheet of its own. A column whose lines stand on one another has a table
// of its own, which runningTables makes.
func (r *reader) claimed(m *mapfile.Table, t *table, c *column, key string) {
	_, own := r.sheetOf(c, t.lines[0])
	switch {
	case own || c.second > 0 || t.cells != nil:
		for _, l := range t.lines {
			m := mapfile.Cell{Sheet: m.Sheet, At: t.place(l, c.item).String(), Formula: r.right(c, l).String(), Role: c.role, Unit: c.unit, Reason: c.reason}
			r.u.Map.Cells = append(r.u.Map.Cells, m)
		}
	case !r.running(c) && !r.sparse(c):
		m.Checks = append(m.Checks, mapfile.Check{Claim: key, By: mapfile.ByFormula, Formula: c.intent.String()})
	}
}

// sparse reports whether a column is left free in some lines of its table, as one with a single number for the two
// lines of each bearing: nothing is missing there.
func (r *reader) sparse(c *column) bool {
	free := 0
	for _, l := range c.table.lines {
		if s := spotOf(c, l); r.cell(s).Blank() && r.formulas.at(s) == nil {
			free++
		}
	}
	return 3*free >= len(c.table.lines)
}

// runningTables adds to the map the columns whose lines stand on one another, without the lines that
// begin them, which would read past the table, and those that are left free in some lines. Those with the same
// lines are one table.
func (r *reader) runningTables(m *mapfile.Table, t *table, keys map[*column]string) {
	made := map[string]int{}
	for _, c := range t.columns {
		key := keys[c]
		if _, own := r.sheetOf(c, t.lines[0]); key == "" || own || c.second > 0 || !r.running(c) && !r.sparse(c) {
			continue
		}
		var on []int
		sparse := r.sparse(c)
		for _, l := range t.lines {
			if s := spotOf(c, l); sparse && r.cell(s).Blank() && r.formulas.at(s) == nil {
				continue
			}
			if !r.leaves(c, l) {
				on = append(on, l)
			} else if s := (spot{t.sheet, t.place(l, c.item)}); r.formulas.at(s) != nil {
				r.u.roles.drop(s)
				r.unknown(s, "it begins a column whose lines stand on one another")
			}
		}
		if len(on) == 0 {
			continue
		}
		of := spans(on, t.down)
		i, ok := made[of]
		if !ok {
			i = len(r.u.Map.Tables)
			made[of] = i
			r.u.Map.Tables = append(r.u.Map.Tables, mapfile.Table{Name: m.Name, Sheet: m.Sheet, Location: m.Location, Columns: map[string]mapfile.Column{}})
		}
		one := &r.u.Map.Tables[i]
		one.Columns[key] = m.Columns[key]
		one.Checks = append(one.Checks, mapfile.Check{Claim: key, By: mapfile.ByFormula, Formula: r.right(c, on[0]).String()})
		if !ok {
			standIn(one, on, t.down)
		}
	}
}

// running reports whether a column's formulas read other lines of the table from where they
// stand, as a sum that goes on does.
func (r *reader) running(c *column) bool {
	t := c.table
	return slices.ContainsFunc(pattern.Areas(c.intent), func(a *calc.Area) bool {
		line, _ := t.split(a.From.Place)
		last, _ := t.split(a.To.Place)
		return a.Sheet == "" && !r.fixed(t, a) && (line != t.lines[0] || last != t.lines[0])
	})
}

// leaves reports whether a formula of such a column would read past the table's lines.
func (r *reader) leaves(c *column, line int) bool {
	t := c.table
	e := r.right(c, line)
	return e == nil || slices.ContainsFunc(pattern.Areas(e), func(a *calc.Area) bool {
		from, _ := t.split(a.From.Place)
		return a.Sheet == "" && !r.fixed(t, a) && (from < t.lines[0] || from > t.lines[len(t.lines)-1])
	})
}

// worked writes what a line's claims come to; beside a formula that the cell does not have, what stands there is no result of it.
func (r *reader) worked(t *table, line int) string {
	var parts []string
	for _, c := range t.columns {
		if c.intent == nil {
			continue
		}
		e := r.right(c, line)
		if e == nil {
			continue
		}
		s := spot{t.sheet, t.place(line, c.item)}
		value := strings.TrimSpace(r.cell(s).Text)
		if v, ok := r.number(s); ok {
			value = strconv.FormatFloat(v, 'g', 6, 64)
		}
		if c.role == roleVerdict {
			parts = append(parts, fmt.Sprintf("%s says %q", s.at, value))
			continue
		}
		if own := r.formulas.at(s); own == nil || own.expr().String() != e.String() {
			parts = append(parts, fmt.Sprintf("%s %s: %s, where the sheet has %s", s.at, c.role, r.filledIn(t.sheet, e), cmp.Or(value, "nothing")))
			continue
		}
		parts = append(parts, fmt.Sprintf("%s %s = %s = %s", s.at, c.role, r.filledIn(t.sheet, e), value))
	}
	return strings.Join(parts, "; ")
}

// filledIn writes a formula with the numbers in place of single cells.
func (r *reader) filledIn(index int, e calc.Expr) string {
	return rewriteCells(e, func(a *calc.Area) string {
		i := index
		if a.Sheet != "" {
			i, _ = r.book.Index(a.Sheet)
		}
		s := spot{i, a.From.Place}
		if v, ok := r.number(s); ok {
			return strconv.FormatFloat(v, 'g', 8, 64)
		}
		if text := strings.TrimSpace(r.cell(s).Text); text != "" {
			return strconv.Quote(text)
		}
		return s.at.String()
	})
}

// standIn says in which lines a table of the map stands, and returns them in words.
func standIn(m *mapfile.Table, lines []int, down bool) string {
	text := spans(lines, down)
	if down {
		m.Rows = text
	} else {
		m.Across = text
	}
	for i := 0; i < len(lines); i++ {
		first := lines[i]
		for i+1 < len(lines) && lines[i+1] == lines[i]+1 {
			i++
		}
		m.Spans = append(m.Spans, mapfile.Span{First: first, Last: lines[i]})
	}
	return text
}

// spans writes numbers of lines: "5..8, 12..15".
func spans(lines []int, down bool) string {
	var parts []string
	name := func(n int) string {
		if down {
			return strconv.Itoa(n)
		}
		return sheet.ColumnName(n)
	}
	for i := 0; i < len(lines); {
		j := i
		for j+1 < len(lines) && lines[j+1] == lines[j]+1 {
			j++
		}
		parts = append(parts, name(lines[i])+".."+name(lines[j]))
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

// rewriteCells writes a formula with its single cells replaced by texts.
func rewriteCells(e calc.Expr, text func(*calc.Area) string) string {
	return pattern.Rewrite(e, func(e calc.Expr) calc.Expr {
		if a, ok := e.(*calc.Area); ok && a.Single() {
			return &calc.Name{Name: text(a)}
		}
		return nil
	}).String()
}
