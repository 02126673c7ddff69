package understand

import (
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
			Sheet: r.book.Grids[s.formula.sheet].Name, At: s.formula.at.String(), Formula: s.right.String(), Role: s.Role, Unit: s.Unit, Reason: s.Reason,
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
	lines := spans(t.lines, t.down)
	if t.down {
		m.Rows = lines
	} else {
		m.Across = lines
	}
	for i := 0; i < len(t.lines); i++ {
		first := t.lines[i]
		for i+1 < len(t.lines) && t.lines[i+1] == t.lines[i]+1 {
			i++
		}
		m.Spans = append(m.Spans, mapfile.Span{First: first, Last: t.lines[i]})
	}
	shown := Table{Name: t.name, Sheet: name, Down: t.down, Lines: lines}
	used := map[string]int{}
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
		if role == roleNumber || role == "product" { // of which the unit says more
			switch u, _ := parseUnit(c.unit); {
			case u.dimension == "torque":
				role = roleTorque
			case u.dimension == "length" && c.run == nil:
				role = roleReading
			}
		}
		meaning := Meaning{Role: role, Unit: c.unit, Claim: claim, Reason: c.reason}
		if role == roleVerdict || role == roleLocation || role == roleGrade || role == roleCode {
			meaning.Unit = ""
		}
		shownAs := meaning
		if role == "ratio" && strings.Contains(c.heading, "%") {
			shownAs.Unit = "%"
		}
		r.u.roles.setColumn(c, shownAs)
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
	r.u.Tables = append(r.u.Tables, shown)
}

// claimed adds a column's check to the map: one formula for all lines, or one for each
// where each line reads a sheet of its own.
func (r *reader) claimed(m *mapfile.Table, t *table, c *column, key string) {
	_, own := r.sheetOf(c, t.lines[0])
	if own || c.second > 0 || r.running(c) {
		for _, l := range t.lines {
			if !own && c.second == 0 && r.leaves(c, l) {
				if s := (spot{t.sheet, t.place(l, c.item)}); r.formulas.at(s) != nil {
					r.u.roles.drop(s)
					r.unknown(s, "it begins a column whose lines stand on one another")
				}
				continue
			}
			m := mapfile.Cell{Sheet: m.Sheet, At: t.place(l, c.item).String(), Formula: r.right(c, l).String(), Role: c.role, Unit: c.unit, Reason: c.reason}
			r.u.Map.Cells = append(r.u.Map.Cells, m)
		}
		return
	}
	m.Checks = append(m.Checks, mapfile.Check{Claim: key, By: mapfile.ByFormula, Formula: c.intent.String()})
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

// worked writes what a line's claims come to.
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
