package understand

import (
	"sort"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// intend finds for each column of formulas the one that its owner meant: the pattern of
// most of them, unless another one shows it to be dragged.
func (r *reader) intend(t *table) {
	if t.form {
		return // by other forms
	}
	for _, c := range t.columns {
		if c.run == nil {
			continue
		}
		if r.intendAcross(c) {
			continue
		}
		type candidate struct {
			rel   string
			lines []int
		}
		var all []candidate
		known := map[string]int{}
		for _, l := range t.lines {
			f := r.formulas.at(spot{t.sheet, t.place(l, c.item)})
			if f == nil {
				continue
			}
			i, ok := known[f.rel]
			if !ok {
				all = append(all, candidate{rel: f.rel})
				i = len(all) - 1
				known[f.rel] = i
			}
			all[i].lines = append(all[i].lines, l)
		}
		if len(all) == 0 {
			continue
		}
		merit := func(k candidate) int {
			return careful(r.formulas.at(spot{t.sheet, t.place(k.lines[0], c.item)}).expr())
		}
		sort.SliceStable(all, func(i, j int) bool {
			if a, b := len(all[i].lines), len(all[j].lines); a != b {
				return a > b
			}
			return merit(all[i]) > merit(all[j])
		})
		if len(all) > 2 && len(all[0].lines) == 1 && r.nothingShared(c) {
			for _, l := range t.lines { // no two read alike: each is alone
				if f := r.formulas.at(spot{t.sheet, t.place(l, c.item)}); f != nil {
					f.table = nil
				}
			}
			c.run = nil
			continue
		}
		best, switched := all[0], false
		for _, other := range all[1:min(len(all), mostPatterns)] {
			if r.dragged(c, best.lines[0], other.lines[0]) {
				best, switched = other, true
			}
		}
		if len(all) > 1 && !switched && len(all[1].lines) > 1 && 10*len(all[1].lines) >= 4*len(t.lines) {
			if upper, lower, ok := blocks(all[0].lines, all[1].lines); ok {
				f := r.formulas.at(spot{t.sheet, t.place(lower, c.item)})
				c.second, c.other = lower, f.expr()
				best.lines = upper
				c.take(r, best.lines[0])
				continue
			}
			for _, l := range t.lines {
				if s := (spot{t.sheet, t.place(l, c.item)}); r.formulas.at(s) != nil {
					r.unknown(s, "the column has two kinds of formula, each in many lines, and nothing says which is meant")
				}
			}
			continue
		}
		c.take(r, best.lines[0])
	}
}

// nothingShared reports whether no two formulas of a column read a cell of its own line that
// lies alike from them, nor one that is fixed.
func (r *reader) nothingShared(c *column) bool {
	t := c.table
	seen := map[string]bool{}
	for _, l := range t.lines {
		f := r.formulas.at(spot{t.sheet, t.place(l, c.item)})
		if f == nil {
			continue
		}
		own := map[string]bool{}
		for _, a := range pattern.Areas(f.expr()) {
			if line, _ := t.split(a.From.Place); line == l || r.fixed(t, a) {
				own[pattern.Relative(a, f.at)] = true
			}
		}
		for key := range own {
			if seen[key] {
				return false
			}
			seen[key] = true
		}
	}
	return true
}

// take takes the formula of a line for the column's.
func (c *column) take(r *reader, line int) {
	t := c.table
	f := r.formulas.at(spot{t.sheet, t.place(line, c.item)})
	c.shape = f.expr()
	if first, ok := r.moved(t, f.expr(), line, t.lines[0]); ok {
		c.shape, c.intent = first, r.released(c, first)
	}
}

// leastBlock is how many lines have a formula, at least, that is meant for them and not for
// those above or below.
const leastBlock = 3

// blocks reports whether two kinds of formula follow one another, each in lines of its own but
// for one that strayed. It returns the lines of the upper one, and where the lower one begins.
func blocks(a, b []int) (upper []int, lower int, ok bool) {
	for _, pair := range [][2][]int{{a, b}, {b, a}} {
		for i, begin := range pair[1] {
			above := sort.SearchInts(pair[0], begin)
			strayed := len(pair[0]) - above + i
			if above < leastBlock || len(pair[1])-i < leastBlock || strayed > 1 || ok && strayed > 0 {
				continue
			}
			upper, lower, ok = pair[0][:above], begin, true
		}
	}
	return upper, lower, ok
}

// mostPatterns is how many of a column's patterns are looked at for a drag, the most frequent
// first.
const mostPatterns = 16

// released returns the formula of the first line with references set free that were fixed by
// mistake in the whole column: in a sum of cells of the line, one that stays at a line of the
// table, in a column that has a number in every line.
func (r *reader) released(c *column, e calc.Expr) calc.Expr {
	t := c.table
	l, ok := pattern.LinearOf(e)
	if !ok || len(l.Terms) < 2 || len(t.lines) < 3 {
		return e
	}
	moving := 0
	for _, term := range l.Terms {
		if line, _ := t.split(term.Area.From.Place); term.Area.Sheet == "" && !r.fixed(t, term.Area) && line == t.lines[0] {
			moving++
		}
	}
	if moving == 0 {
		return e
	}
	return pattern.Rewrite(e, func(e calc.Expr) calc.Expr {
		a, ok := e.(*calc.Area)
		if !ok || !a.Single() || a.Sheet != "" || !r.fixed(t, a) {
			return nil
		}
		line, item := t.split(a.From.Place)
		if !t.holds(line) || !r.numbered(t, item) {
			return nil
		}
		other := *a
		other.From = calc.Corner{Place: t.place(t.lines[0], item)}
		other.To = other.From
		return &other
	})
}

// numbered reports whether an item has a number in every line.
func (r *reader) numbered(t *table, item int) bool {
	for _, l := range t.lines {
		if _, ok := r.number(spot{t.sheet, t.place(l, item)}); !ok {
			return false
		}
	}
	return true
}

// moved returns a formula as it reads in another line.
func (r *reader) moved(t *table, e calc.Expr, from, to int) (calc.Expr, bool) {
	if t.down {
		return pattern.Move(e, to-from, 0)
	}
	return pattern.Move(e, 0, to-from)
}

// dragged reports whether the formula of line a is that of line b with a reference left
// moving that should be fixed, or fixed that should move: in some line of the table the two
// read the same cells, and where they differ, b's way suits the table.
func (r *reader) dragged(c *column, a, b int) bool {
	t := c.table
	one := r.formulas.at(spot{t.sheet, t.place(a, c.item)}).expr()
	other := r.formulas.at(spot{t.sheet, t.place(b, c.item)}).expr()
	if pattern.Shape(one) != pattern.Shape(other) {
		return false
	}
	for _, l := range t.lines {
		x, okX := r.moved(t, one, a, l)
		y, okY := r.moved(t, other, b, l)
		if !okX || !okY {
			continue
		}
		suits, differs := true, false
		xs, ys := pattern.Areas(x), pattern.Areas(y)
		for i := range xs {
			if xs[i].Sheet != ys[i].Sheet || xs[i].From.Place != ys[i].From.Place || xs[i].To.Place != ys[i].To.Place {
				suits = false
				break
			}
			fixedX, fixedY := r.fixed(t, xs[i]), r.fixed(t, ys[i])
			if fixedX == fixedY {
				continue
			}
			differs = true
			line, _ := t.split(xs[i].From.Place)
			last, _ := t.split(xs[i].To.Place)
			inside := xs[i].Sheet == "" && t.holds(line) && line == last // the least of all lines is fixed
			suits = suits && fixedY != inside
		}
		if suits && differs {
			return true
		}
	}
	return false
}

// fixed reports whether a reference stays where it is from line to line, as whole columns do
// from row to row.
func (r *reader) fixed(t *table, a *calc.Area) bool {
	if t.cells != nil {
		line, _ := t.split(a.From.Place)
		return line == 0
	}
	if t.down {
		return a.From.RowFixed || a.Columns
	}
	return a.From.ColumnFixed || a.Rows
}

// intendAcross finds what is meant where each line reads a sheet of its own.
func (r *reader) intendAcross(c *column) bool {
	t := c.table
	count := map[string]int{}
	for _, l := range t.lines {
		if f := r.formulas.at(spot{t.sheet, t.place(l, c.item)}); f != nil && f.across != "" {
			count[f.across]++
		}
	}
	best := ""
	sheets := map[string]bool{}
	for _, l := range t.lines {
		f := r.formulas.at(spot{t.sheet, t.place(l, c.item)})
		if f == nil || f.across == "" {
			continue
		}
		sheets[pattern.Areas(f.expr())[0].Sheet] = true
		if count[f.across] > count[best] {
			best = f.across
			c.shape = f.expr()
		}
	}
	if best == "" || len(sheets) < 2 || count[best] < 2 {
		return false
	}
	c.intent = c.shape
	return true
}

// right returns a claim's formula as it should read in a line; nil if it is not known.
func (r *reader) right(c *column, line int) calc.Expr {
	if c.intent == nil {
		return nil
	}
	t := c.table
	if name, ok := r.sheetOf(c, line); ok {
		return pattern.Rewrite(c.intent, func(e calc.Expr) calc.Expr {
			if a, isArea := e.(*calc.Area); isArea {
				other := *a
				other.Sheet = name
				return &other
			}
			return nil
		})
	}
	from, intent := t.lines[0], c.intent
	if c.second > 0 && line >= c.second {
		from, intent = c.second, c.other
	}
	e, ok := r.moved(t, intent, from, line)
	if !ok {
		return nil
	}
	return e
}

// sheetOf returns the sheet that a line is about, where each line has one: the one that
// most of its formulas read.
func (r *reader) sheetOf(c *column, line int) (string, bool) {
	t := c.table
	if acrossSheets(c.intent) == "" {
		return "", false
	}
	if name, ok := r.namedSheet(t, line); ok {
		return name, true
	}
	distinct, count := map[string]bool{}, map[string]int{}
	for _, other := range t.columns {
		if other.run == nil {
			continue
		}
		for _, l := range t.lines {
			f := r.formulas.at(spot{t.sheet, t.place(l, other.item)})
			if f == nil || f.across == "" {
				continue
			}
			name := pattern.Areas(f.expr())[0].Sheet
			if other == c {
				distinct[name] = true
			}
			if l == line {
				count[name]++
			}
		}
	}
	if len(distinct) < 2 {
		return "", false
	}
	best := ""
	for name, n := range count {
		if n > count[best] || n == count[best] && name < best {
			best = name
		}
	}
	return best, best != ""
}

// namedSheet returns the sheet that the first cell of a line names, where each line's names one.
func (r *reader) namedSheet(t *table, line int) (name string, ok bool) {
	for _, l := range t.lines {
		text := strings.TrimSpace(r.cell(spot{t.sheet, t.place(l, t.columns[0].item)}).Text)
		index, known := r.book.Index(text)
		if text == "" || !known || index == t.sheet {
			return "", false
		}
		if l == line {
			name = r.book.Grids[index].Name
		}
	}
	return name, name != ""
}

// A kind is what a cell is among others of its column, so that the end of a range can be
// told: it goes on as long as cells are of one kind.
type kind struct {
	column *column
	typed  bool
}

func (r *reader) kindOf(s spot) (k kind, ok bool) {
	for _, t := range r.on[s.sheet] {
		line, item := t.split(s.at)
		if !t.holds(line) {
			continue
		}
		if c := t.column(item); c != nil && (c.run != nil || !r.cell(s).Blank()) {
			return kind{column: c}, true
		}
	}
	if r.formulas.at(s) != nil {
		return kind{}, false
	}
	_, isNumber := r.number(s)
	return kind{typed: true}, isNumber
}

// whole returns a range with its ends where the cells of its kind end; changed is false if
// they are there, or if it is too far off for a slip.
func (r *reader) whole(index int, a *calc.Area) (all *calc.Area, changed bool) {
	from, to := a.From.Place, a.To.Place
	down := from.Column == to.Column
	if a.Columns || a.Rows || a.Single() || a.File != "" || a.Last != "" || !down && from.Row != to.Row {
		return a, false
	}
	if a.Sheet != "" {
		other, ok := r.book.Index(a.Sheet)
		if !ok {
			return a, false
		}
		index = other
	}
	at := func(i int) spot {
		if down {
			return spot{index, sheet.Place{Row: i, Column: from.Column}}
		}
		return spot{index, sheet.Place{Row: from.Row, Column: i}}
	}
	first, last := from.Row, to.Row
	if !down {
		first, last = from.Column, to.Column
	}
	if r.steps += last - first + 1; last-first > longestRange || r.steps*(1+len(r.on[index])/16) > mostSteps {
		return a, false
	}
	count := map[kind]int{}
	for i := first; i <= last; i++ {
		if k, ok := r.kindOf(at(i)); ok {
			count[k]++
		}
	}
	var most kind
	for k, n := range count {
		if n > count[most] {
			most = k
		}
	}
	if 2*count[most] <= last-first+1 || count[most] == 0 {
		return a, false
	}
	same := func(i int) bool {
		if i < 1 {
			return false
		}
		k, ok := r.kindOf(at(i))
		return ok && k == most
	}
	low, high := first, last
	for !same(low) {
		low++
	}
	for !same(high) {
		high--
	}
	for same(low - 1) {
		low--
	}
	for same(high + 1) {
		high++
	}
	moved := max(abs(low-first), abs(high-last))
	if moved == 0 || moved > 2 || 2*moved > last-first+1 && (most.column == nil || moved >= last-first+1) {
		return a, false
	}
	c := *a
	if down {
		c.From.Row, c.To.Row = low, high
	} else {
		c.From.Column, c.To.Column = low, high
	}
	return &c, true
}

// The ranges whose ends are looked for: how long each may be, and all together.
const (
	longestRange = 20_000
	mostSteps    = 5_000_000
)

func abs(n int) int { return max(n, -n) }

// careful says how much of what a verdict should do a formula does, for formulas that are
// equally many: comparisons count most, then rounding that takes a binary residue away and
// nothing more.
func careful(e calc.Expr) int {
	merit := 0
	for _, b := range pattern.Comparisons(e) {
		merit += 10
		if b.Op == calc.LessEqual || b.Op == calc.GreaterEqual {
			merit++
		}
		calc.Walk(b, func(e calc.Expr) bool {
			call, ok := e.(*calc.Call)
			if !ok || call.Name != "ROUND" || len(call.Args) != 2 {
				return true
			}
			if n, isNumber := call.Args[1].(*calc.Number); isNumber && len(n.Text) == 1 && n.Text >= "3" {
				merit++
			} else {
				merit--
			}
			return false
		})
	}
	return merit
}
