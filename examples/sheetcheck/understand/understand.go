package understand

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// An Understanding is what the cells of a file are taken to be, and why.
type Understanding struct {
	Map     *mapfile.Map
	Tables  []Table
	Unknown []Unknown // formulas, and words of verdict, that belong to nothing understood
	Values  []Values  // what is typed, and nothing is done with

	roles  *placed
	book   *sheet.Book
	values *calc.Evaluator
	faults []*check.Finding
}

// A Meaning is what one cell is taken to be.
type Meaning struct {
	Role   string
	Unit   string // empty for words and pure numbers
	Claim  bool   // the sheet computes or judges it
	Reason string
}

// A Table is locations one below the other, or side by side, as it is shown.
type Table struct {
	Name    string
	Sheet   string
	Down    bool   // locations are rows
	Card    bool   // one location, its values in several columns
	Lines   string // of a card, the area of its values
	Columns []Column
	Worked  []string // the first lines, worked out
}

// A Column is one kind of cell of a Table.
type Column struct {
	At, Heading string
	Meaning
	Formula string // as it should be in the first line; of a claim
	Own     string // as the sheet has it in most lines, moved to the first one; empty if it has none
}

// An Unknown is a cell that was not understood.
type Unknown struct {
	Sheet string
	At    sheet.Place
	Why   string
}

// Meaning returns what a cell is taken to be; ok is false if it is not understood.
func (u *Understanding) Meaning(sheetName string, at sheet.Place) (m Meaning, ok bool) {
	index, ok := u.book.Index(sheetName)
	if !ok {
		return m, false
	}
	return u.roles.at(spot{index, at})
}

// Evaluator returns the evaluator of the book's formulas that was used, so that others can count
// within its bounds.
func (u *Understanding) Evaluator() *calc.Evaluator { return u.values }

// Read reads a book as its owner meant it.
func Read(ctx context.Context, book *sheet.Book) (*Understanding, error) {
	r := &reader{ctx: ctx, book: book, on: map[int][]*table{}, values: calc.New(book, calc.DefaultBounds()),
		u: &Understanding{book: book, roles: newPlaced(), Map: &mapfile.Map{}}}
	r.u.values = r.values
	r.parse()
	r.findCards()
	r.findForms()
	r.findTables()
	for _, t := range r.tables {
		r.head(t)
	}
	for _, t := range r.tables {
		r.intend(t)
	}
	r.intendForms()
	for range 2 { // a claim may stand on a table that is read after its own
		for _, t := range r.tables {
			r.assign(t)
		}
	}
	for _, t := range r.tables {
		r.assignUnits(t)
	}
	for _, t := range r.tables {
		r.assignUnits(t) // of other tables
		r.judge(t)
	}
	r.defaultUnits()
	for _, t := range r.tables {
		r.assignUnits(t)
	}
	for _, t := range r.tables {
		r.inUnits(t)
		r.exactly(t)
		r.typedClearance(t)
		r.typedVerdicts(t)
		r.typedTotals(t)
	}
	r.valueTables()
	r.singles()
	r.alongFormulas()
	r.unsorted()
	r.dimensions()
	r.finish()
	r.unread()
	return r.u, ctx.Err()
}

// A spot is a cell of the book.
type spot struct {
	sheet int
	at    sheet.Place
}

type reader struct {
	ctx        context.Context
	book       *sheet.Book
	values     *calc.Evaluator
	formulas   *formulas
	tables     []*table
	on         map[int][]*table // tables of formulas by sheet
	told       map[spot]bool    // that are not understood
	saidUnits  sheet.ByCell[*measured]
	saidKept   int
	sheetUnits map[int]string
	steps      int // cells looked at for the ends of ranges
	looked     int // likewise, for tables without formulas
	lone       []*single
	statistics []mapfile.Cell // averages and the like that are typed
	bounds     map[spot]bool  // that formulas compare something with
	forms      []*table
	sought     map[soughtArea]bool
	u          *Understanding
}

// A table is locations with the same kinds of cells.
type table struct {
	sheet   int
	down    bool
	form    bool          // with one line: words, and a value to the right of each or below it
	cells   []sheet.Place // of a card, where the value of each item stands
	lines   []int         // rows; columns of a table across
	columns []*column
	name    string
}

// A column is one kind of cell of a table.
type column struct {
	table   *table
	item    int // a column; a row of a table across
	heading string
	group   string    // a heading that stands over several
	saidBy  [2]string // the headings by which says was found
	says    [2]string // the roles that heading and group say
	unit    string
	said    bool           // the sheet names the unit
	headed  string         // the unit that it names
	run     map[int]string // lines with formulas, and their patterns
	intent  calc.Expr      // as it should read in the first line; nil for what is typed
	shape   calc.Expr      // the sheet's own, in the first line
	second  int            // the first line of a second block with a formula of its own; 0 if there is none
	other   calc.Expr      // as it should read there
	role    string
	reason  string
	why     string // no rule was taken for its words
	mark    string // that stands in its cells, where a cross under a heading is the verdict
}

func (t *table) place(line, item int) sheet.Place {
	if t.cells != nil {
		return t.cells[item-1]
	}
	if t.down {
		return sheet.Place{Row: line, Column: item}
	}
	return sheet.Place{Row: item, Column: line}
}

// split returns the line and the item of a place; those of a card are 0 for what is none of its values.
func (t *table) split(p sheet.Place) (line, item int) {
	if t.cells != nil {
		if i := slices.Index(t.cells, p); i >= 0 {
			return 1, i + 1
		}
		return 0, 0
	}
	if t.down {
		return p.Row, p.Column
	}
	return p.Column, p.Row
}

func (t *table) column(item int) *column {
	for _, c := range t.columns {
		if c.item == item {
			return c
		}
	}
	return nil
}

// holds reports whether a line belongs to the table. Lines are in order.
func (t *table) holds(line int) bool {
	_, ok := slices.BinarySearch(t.lines, line)
	return ok
}

// at writes where a column stands: "F", or "8" in a table across; "F8" on a card.
func (c *column) at() string {
	if c.table.cells != nil {
		return c.table.cells[c.item-1].String()
	}
	if c.table.down {
		return sheet.ColumnName(c.item)
	}
	return fmt.Sprint(c.item)
}

func (r *reader) cell(s spot) *sheet.Cell {
	if c := r.book.Cell(s.sheet, s.at); c != nil {
		return c
	}
	return &sheet.Cell{}
}

// number returns a cell's number: as it is typed, as stored, or as its formula gives it.
func (r *reader) number(s spot) (float64, bool) {
	c := r.cell(s)
	if c.Formula == "" {
		return typedNumber(c)
	}
	p, err := r.values.At(r.ctx, r.book.Grids[s.sheet].Name, s.at)
	if err != nil || p.Binary.Kind() != calc.KindNumber {
		return 0, false
	}
	return p.Binary.Float64(), true
}

// typedNumber returns the number of a cell without a formula. Nearly all are whole numbers of units of their last
// place, of so few digits that one division rounds them as it should.
func typedNumber(c *sheet.Cell) (float64, bool) {
	if n, places, ok := c.Plain(); ok && !c.AsText {
		return float64(n) / math.Pow10(places), true
	}
	if n, _, ok := measuredText(c); ok {
		return n.InexactFloat64(), true
	}
	n, ok := c.Number()
	return n.InexactFloat64(), ok && c.Kind() == sheet.KindNumber
}

func (r *reader) isText(s spot) bool {
	c := r.cell(s)
	if c.Formula != "" || c.Blank() || c.Kind() != sheet.KindText {
		return false
	}
	_, _, measured := measuredText(c)
	return !measured
}

// measuredText returns the number of a cell of a text file in which its unit stands behind it, as "60.012 mm", and
// the unit. In a workbook that is a text, which no formula reads as a number.
func measuredText(c *sheet.Cell) (n decimal.Decimal, unitName string, ok bool) {
	if c.AsText || c.Text == "" || c.Text[0] > '9' {
		return n, "", false
	}
	text := c.Pointed()
	end := strings.LastIndexAny(text, "0123456789") + 1
	if end == 0 || end == len(text) {
		return n, "", false
	}
	u, ok := parseUnit(text[end:])
	if !ok {
		return n, "", false
	}
	n, ok = (&sheet.Cell{Text: text[:end]}).Number()
	return n, u.name, ok
}

// acrossSheets writes a formula that reads other sheets alone, without their names.
func acrossSheets(e calc.Expr) string {
	named := 0
	all := pattern.Areas(e)
	for _, a := range all {
		if a.Sheet != "" {
			named++
		}
	}
	if named == 0 || named < len(all) {
		return ""
	}
	return pattern.Rewrite(e, func(e calc.Expr) calc.Expr {
		if a, ok := e.(*calc.Area); ok {
			c := *a
			c.Sheet = "*"
			return &c
		}
		return nil
	}).String()
}

func (r *reader) unknown(s spot, why string) {
	if r.told == nil {
		r.told = map[spot]bool{}
	}
	r.told[s] = true
	r.u.Unknown = append(r.u.Unknown, Unknown{Sheet: r.book.Grids[s.sheet].Name, At: s.at, Why: why})
}

// A run is formulas of one column with patterns that more than one of them has.
type run struct {
	sheet int
	down  bool
	item  int
	lines map[int]string
}

func (r *run) span() (first, last int) {
	first = 1 << 30
	for l := range r.lines {
		first, last = min(first, l), max(last, l)
	}
	return first, last
}

// mostRuns bounds the columns of formulas of one sheet that are read.
const mostRuns = 1000

// findTables makes tables of runs side by side.
func (r *reader) findTables() {
	runs := r.findRuns()
	reads := make([]map[int]bool, len(runs))
	for i, a := range runs {
		reads[i] = r.reads(a)
	}
	parent := make([]int, len(runs))
	for i := range parent {
		parent[i] = i
	}
	var root func(int) int
	root = func(i int) int {
		if parent[i] != i {
			parent[i] = root(parent[i])
		}
		return parent[i]
	}
	for i, a := range runs {
		for j := i + 1; j < len(runs) && runs[j].sheet == a.sheet; j++ {
			if root(i) != root(j) && r.together(a, runs[j], reads[i], reads[j]) {
				parent[root(j)] = root(i)
			}
		}
	}
	groups := map[int][]*run{}
	var roots []int
	for i, a := range runs {
		k := root(i)
		if groups[k] == nil {
			roots = append(roots, k)
		}
		groups[k] = append(groups[k], a)
	}
	for _, k := range roots {
		r.tables = append(r.tables, r.newTable(groups[k]))
	}
	for _, t := range r.tables {
		r.on[t.sheet] = append(r.on[t.sheet], t)
	}
	sort.SliceStable(r.tables, func(i, j int) bool {
		a, b := r.tables[i], r.tables[j]
		if a.sheet != b.sheet {
			return a.sheet < b.sheet
		}
		return a.lines[0] < b.lines[0]
	})
}

type groupKey struct {
	sheet int
	down  bool
	item  int
	rel   int
}

// findRuns gathers formulas with a pattern in common, down columns and along rows.
func (r *reader) findRuns() (runs []*run) {
	counts := map[groupKey]int{}
	numbers := map[string]int{} // of patterns
	keys := func(f *formula, rel string) (down, across groupKey) {
		n, ok := numbers[rel]
		if !ok {
			n = len(numbers)
			numbers[rel] = n
		}
		return groupKey{f.sheet, true, f.at.Column, n}, groupKey{f.sheet, false, f.at.Row, n}
	}
	patterns := func(f *formula) []string {
		if f.across != "" {
			return []string{f.rel, "*" + f.across}
		}
		return []string{f.rel}
	}
	type onSheet struct {
		groupKey
		sheet string
	}
	read := map[onSheet]bool{} // what reads one sheet twice is no line for each sheet
	for f := range r.formulas.every() {
		if f.table != nil {
			continue
		}
		for _, rel := range patterns(f) {
			down, across := keys(f, rel)
			for _, key := range []groupKey{down, across} {
				if rel[0] == '*' {
					at := onSheet{key, f.areas[0].Sheet}
					if read[at] {
						continue
					}
					read[at] = true
				}
				counts[key]++
			}
		}
	}
	grids := r.findGrids()
	type column struct {
		sheet int
		down  bool
		item  int
	}
	found := map[column]map[int]string{}
	var order []column
	for f := range r.formulas.every() {
		if f.table != nil {
			continue
		}
		for _, rel := range patterns(f) {
			down, across := keys(f, rel)
			v, h := counts[down], counts[across]
			if g := grids[down.sheet][rel]; g != nil && v > 1 && h > 1 && g.dense() { // one way for all of it
				v, h = len(g.rows), len(g.columns)
			}
			if r.sumsUp(&table{sheet: f.sheet, down: true}, f.spot) {
				v = 0 // an average under each of two groups is no column
				if !r.headedRows(f) {
					h = 0 // nor are the totals of several columns a row
				}
			}
			if r.sumsUp(&table{sheet: f.sheet}, f.spot) {
				h = 0
				if r.gathersAcross(f, func(g *formula) bool {
					down, across := keys(g, g.rel)
					return counts[across] > counts[down]
				}) {
					v = 0 // the averages of several rows are no column
				}
			}
			if v < 2 && h < 2 {
				continue
			}
			c, line := column{f.sheet, true, f.at.Column}, f.at.Row
			if h > v {
				c, line = column{f.sheet, false, f.at.Row}, f.at.Column
			}
			if found[c] == nil {
				found[c] = map[int]string{}
				order = append(order, c)
			}
			found[c][line] = rel
			break
		}
	}
	made := map[int]int{}
	for _, c := range order {
		var lines []int
		for l := range found[c] {
			lines = append(lines, l)
		}
		sort.Ints(lines)
		t := &table{sheet: c.sheet, down: c.down}
		var one *run
		for i, l := range lines {
			if one == nil || r.parted(t, lines[i-1], l, c.item) {
				if made[c.sheet]++; made[c.sheet] > mostRuns {
					r.unknown(spot{c.sheet, t.place(l, c.item)}, fmt.Sprintf("the sheet has more than %d columns of formulas", mostRuns))
					continue
				}
				one = &run{sheet: c.sheet, down: c.down, item: c.item, lines: map[int]string{}}
				runs = append(runs, one)
			}
			one.lines[l] = found[c][l]
		}
	}
	return runs
}

// A grid is where the formulas of a sheet stand that read alike.
type grid struct {
	rows, columns map[int]bool
	cells         int
}

// dense reports whether the formulas fill a rectangle but for a few cells: each row of a grid and each
// of its columns may be a line.
func (g *grid) dense() bool {
	return len(g.rows) > 1 && len(g.columns) > 1 && 3*g.cells > 2*len(g.rows)*len(g.columns)
}

// findGrids returns where formulas stand that read alike, by sheet and pattern.
func (r *reader) findGrids() map[int]map[string]*grid {
	all := map[int]map[string]*grid{}
	for f := range r.formulas.every() {
		if all[f.sheet] == nil {
			all[f.sheet] = map[string]*grid{}
		}
		g := all[f.sheet][f.rel]
		if g == nil {
			g = &grid{rows: map[int]bool{}, columns: map[int]bool{}}
			all[f.sheet][f.rel] = g
		}
		g.rows[f.at.Row], g.columns[f.at.Column] = true, true
		g.cells++
	}
	return all
}

// gathersAcross reports whether what a formula gathers in its own row are formulas that read
// alike along the row, as in a table whose locations stand side by side.
func (r *reader) gathersAcross(f *formula, alike func(*formula) bool) bool {
	return slices.ContainsFunc(pattern.Areas(f.expr()), func(a *calc.Area) bool {
		g := r.formulas.at(spot{f.sheet, a.From.Place})
		return a.Sheet == "" && !a.Single() && a.From.Row == f.at.Row && a.To.Row == f.at.Row && g != nil && alike(g)
	})
}

// headedRows reports whether the rows that a formula reads above it are kinds of cells, with
// headings at their left, as in a table whose locations stand side by side.
func (r *reader) headedRows(f *formula) bool {
	headed := true
	f.each(func(a calc.Area) bool {
		for row := a.From.Row; row <= min(a.To.Row, a.From.Row+mostHeads) && !a.Single(); row++ {
			if roleOf(r.beside(spot{f.sheet, sheet.Place{Row: row, Column: f.at.Column}})) == "" {
				headed = false
			}
		}
		return headed
	})
	return headed
}

// widestGap is how many lines may lie between two of one table.
const widestGap = 6

// parted reports whether a heading stands between two lines, or too much of nothing.
func (r *reader) parted(t *table, a, b, item int) bool {
	if b-a > widestGap {
		return true
	}
	for line := a + 1; line < b; line++ {
		if r.isText(spot{t.sheet, t.place(line, item)}) && !r.numbersNear(t, line, item) {
			return true
		}
	}
	return false
}

// numbersNear reports whether numbers stand in the line, without a gap up to the item.
func (r *reader) numbersNear(t *table, line, item int) bool {
	for _, step := range []int{-1, 1} {
		for i := item + step; i > 0; i += step {
			s := spot{t.sheet, t.place(line, i)}
			if _, ok := r.number(s); ok {
				return true
			}
			if r.cell(s).Blank() && r.cell(s).Formula == "" {
				break
			}
		}
	}
	return false
}

// mostLooked is in how many lines a gap between two columns is looked for.
const mostLooked = 64

// together reports whether two runs belong to one table.
func (r *reader) together(a, b *run, readsA, readsB map[int]bool) bool {
	if a.sheet != b.sheet || a.down != b.down || a.item == b.item {
		return false
	}
	firstA, lastA := a.span()
	firstB, lastB := b.span()
	if 2*(min(lastA, lastB)-max(firstA, firstB)+1) <= min(lastA-firstA, lastB-firstB)+1 {
		return false
	}
	for item := range readsA {
		if readsB[item] || item == b.item {
			return true
		}
	}
	if readsB[a.item] {
		return true
	}
	t := &table{sheet: a.sheet, down: a.down}
	first, last := min(a.item, b.item), max(a.item, b.item)
	for l := firstA; l <= min(lastA, firstA+mostLooked); l++ {
		if _, ok := a.lines[l]; !ok {
			continue
		}
		for i := first + 1; i < last; i++ {
			c := r.cell(spot{a.sheet, t.place(l, i)})
			if c.Blank() && c.Formula == "" {
				return false
			}
		}
	}
	return true
}

// reads returns the items that a run reads in its own line.
func (r *reader) reads(a *run) map[int]bool {
	t := &table{sheet: a.sheet, down: a.down}
	items := map[int]bool{}
	known := map[*form]bool{}
	for l := range a.lines {
		f := r.formulas.at(spot{a.sheet, t.place(l, a.item)})
		if known[f.form] {
			continue
		}
		known[f.form] = !slices.ContainsFunc(f.areas, func(a *calc.Area) bool { return r.fixed(t, a) })
		f.each(func(area calc.Area) bool {
			if area.Sheet != "" || area.Columns || area.Rows {
				return true
			}
			fromLine, fromItem := t.split(area.From.Place)
			toLine, toItem := t.split(area.To.Place)
			if fromLine == l && toLine == l && toItem-fromItem < 32 && (!r.fixed(t, &area) || r.numbersBeside(a, fromItem)) {
				for i := fromItem; i <= toItem; i++ {
					items[i] = true
				}
			}
			return true
		})
	}
	return items
}

// numbersBeside reports whether an item has numbers in most lines of a run: a fixed cell beside one of its lines,
// and words or nothing beside the others, is no column.
func (r *reader) numbersBeside(a *run, item int) bool {
	t := &table{sheet: a.sheet, down: a.down}
	n := 0
	for l := range a.lines {
		if _, ok := r.number(spot{a.sheet, t.place(l, item)}); ok {
			n++
		}
	}
	return 2*n > len(a.lines)
}

// newTable makes a table of its runs: the lines that they have in common, and the columns
// that they read.
func (r *reader) newTable(runs []*run) *table {
	t := &table{sheet: runs[0].sheet, down: runs[0].down}
	count := map[int]int{}
	first, last := 1<<30, 0
	items := map[int]bool{}
	for _, one := range runs {
		a, b := one.span()
		first, last = min(first, a), max(last, b)
		for l := range one.lines {
			count[l]++
		}
		items[one.item] = true
		for item := range r.reads(one) {
			items[item] = true
		}
	}
	for l := first; l <= last; l++ {
		filled := 0
		for _, one := range runs {
			s := spot{t.sheet, t.place(l, one.item)}
			if c := r.cell(s); (!c.Blank() || c.Formula != "") && !r.sumsUp(t, s) {
				filled++
			}
		}
		if count[l] > 0 || 2*filled > len(runs) || filled > 0 && (r.typedIn(t, l, items) || r.ofOwnLine(t, runs, l)) {
			t.lines = append(t.lines, l)
		}
	}
	for _, step := range []int{-1, 1} {
		line := first
		if step > 0 {
			line = last
		}
		for range mostTyped {
			if line += step; !r.typedOver(t, runs, line, items) {
				break
			}
			t.lines = append(t.lines, line)
		}
	}
	slices.Sort(t.lines)
	t.lines = r.withoutTotals(t, runs)
	low, high := 1<<30, 0
	for item := range items {
		low, high = min(low, item), max(high, item)
	}
	for ; low > 1 && r.filled(t, low-1); low-- {
	}
	if low > 1 && r.namesGroups(t, low-1) {
		low--
	}
	for ; r.filled(t, high+1); high++ {
	}
	for item := low; item <= high; item++ {
		c := &column{table: t, item: item}
		for _, one := range runs {
			if one.item == item {
				c.run = one.lines
			}
		}
		if c.run == nil {
			c.run = r.unlike(t, item)
		}
		if c.run == nil && !items[item] && !r.filled(t, item) && (item > low || !r.namesGroups(t, item)) {
			continue
		}
		t.columns = append(t.columns, c)
	}
	for _, l := range t.lines {
		for _, c := range t.columns {
			if f := r.formulas.at(spot{t.sheet, t.place(l, c.item)}); f != nil && c.run != nil {
				f.table = t
				c.run[l] = f.rel
			}
		}
	}
	return t
}

// withoutTotals returns the lines of a table but for those at its end in which most of its formulas sum up the
// lines above them: what else stands there, as a share of the totals, is none of the table's.
func (r *reader) withoutTotals(t *table, runs []*run) []int {
	lines := t.lines
	for len(lines) > 2 {
		last := lines[len(lines)-1]
		sums, others := 0, 0
		for _, one := range runs {
			if s := (spot{t.sheet, t.place(last, one.item)}); r.formulas.at(s) != nil {
				if r.sumsUp(t, s) {
					sums++
				} else {
					others++
				}
			}
		}
		if sums <= others {
			break
		}
		lines = lines[:len(lines)-1]
	}
	for _, one := range runs {
		for _, l := range t.lines[len(lines):] {
			delete(one.lines, l)
		}
	}
	return lines
}

// ofOwnLine reports whether a line between others of a table has a formula in the column of a run that reads a
// number of the line itself.
func (r *reader) ofOwnLine(t *table, runs []*run, line int) bool {
	return slices.ContainsFunc(runs, func(one *run) bool {
		s := spot{t.sheet, t.place(line, one.item)}
		f := r.formulas.at(s)
		_, before := one.lines[line-1]
		_, behind := one.lines[line+1]
		if f == nil || !before || !behind || r.sumsUp(t, s) {
			return false
		}
		own := false
		f.each(func(a calc.Area) bool {
			at, _ := t.split(a.From.Place)
			own = a.Sheet == "" && at == line && !r.fixed(t, &a)
			return !own
		})
		return own
	})
}

// mostTyped is in how many lines at either end of a column formulas may be typed over.
const mostTyped = 2

// typedOver reports whether a line at an end of the formulas is a location like theirs in which
// numbers were typed in place of them: all that they read is there, and what names the line
// is of the same kind.
func (r *reader) typedOver(t *table, runs []*run, line int, items map[int]bool) bool {
	if line < 1 {
		return false
	}
	numbers := 0
	for item := range items {
		if _, ok := r.number(spot{t.sheet, t.place(line, item)}); !ok || r.formulas.at(spot{t.sheet, t.place(line, item)}) != nil {
			return false
		}
		numbers++
	}
	low := 1 << 30
	for item := range items {
		low = min(low, item)
	}
	if low == 1 || numbers <= len(runs) {
		return false
	}
	at := func(line int) spot { return spot{t.sheet, t.place(line, low-1)} }
	return slices.ContainsFunc(t.lines, func(l int) bool { return r.sameKind(at(l), at(line)) })
}

// sameKind reports whether two cells name locations in the same way: both by a number, or by
// texts that differ in a figure.
func (r *reader) sameKind(a, b spot) bool {
	if _, ok := r.number(a); ok {
		_, ok = r.number(b)
		return ok
	}
	name := func(s spot) string {
		return strings.Map(func(c rune) rune {
			if c >= '0' && c <= '9' {
				return '0'
			}
			return c
		}, r.cell(s).Text)
	}
	return r.isText(a) && r.isText(b) && strings.Contains(name(a), "0") && name(a) == name(b)
}

// unlike returns the formulas of a column in which no two read alike, if most lines have one.
func (r *reader) unlike(t *table, item int) map[int]string {
	lines := map[int]string{}
	for _, l := range t.lines {
		if f := r.formulas.at(spot{t.sheet, t.place(l, item)}); f != nil {
			lines[l] = f.rel
		}
	}
	if 2*len(lines) <= len(t.lines) || len(t.lines) < 2 {
		return nil
	}
	return lines
}

// typedIn reports whether most of the columns of a line have something in them.
func (r *reader) typedIn(t *table, line int, items map[int]bool) bool {
	n := 0
	for item := range items {
		if !r.cell(spot{t.sheet, t.place(line, item)}).Blank() {
			n++
		}
	}
	return 2*n > len(items)
}

// sumsUp reports whether a formula reads other lines of its own column, as an average does.
func (r *reader) sumsUp(t *table, s spot) (sums bool) {
	f := r.formulas.at(s)
	if f == nil {
		return false
	}
	line, item := t.split(s.at)
	f.each(func(a calc.Area) bool {
		fromLine, fromItem := t.split(a.From.Place)
		toLine, toItem := t.split(a.To.Place)
		sums = a.Sheet == "" && fromItem <= item && item <= toItem && toLine > fromLine && (line < fromLine || toLine < line)
		return !sums
	})
	return sums || r.picks(t, f)
}

// picks reports whether a formula gathers single cells of its own column that stand in other lines,
// all of them above it or all below: an average of every second line.
func (r *reader) picks(t *table, f *formula) bool {
	call, ok := f.read.(*calc.Call)
	if !ok || len(call.Args) < leastProof || aggregate(call.Name) == "" {
		return false
	}
	line, item := t.split(f.at)
	above, below, others := 0, 0, 0
	f.each(func(a calc.Area) bool {
		switch l, i := t.split(a.From.Place); {
		case !a.Single() || a.Sheet != "" || i != item || l == line:
			others++
		case l < line:
			above++
		default:
			below++
		}
		return others == 0
	})
	return others == 0 && max(above, below) == len(call.Args)
}

// filled reports whether an item has something in most lines.
func (r *reader) filled(t *table, item int) bool {
	n := 0
	for _, l := range t.lines {
		if c := r.cell(spot{t.sheet, t.place(l, item)}); !c.Blank() || c.Formula != "" {
			n++
		}
	}
	return 2*n > len(t.lines)
}

// namesGroups reports whether an item names groups of lines, each by something else that stands in the first line
// of its group alone: two or three lines for each bearing.
func (r *reader) namesGroups(t *table, item int) bool {
	seen := map[string]bool{}
	for i, l := range t.lines {
		c := r.cell(spot{t.sheet, t.place(l, item)})
		text := strings.TrimSpace(c.Text)
		if c.Formula != "" || i == 0 && text == "" || text != "" && seen[text] {
			return false
		}
		if text != "" {
			seen[text] = true
		}
	}
	return len(seen) > 1 && 4*len(seen) >= len(t.lines)
}

// mostHeads is how many lines of headings stand above one another.
const mostHeads = 4

// head finds the headings of a table.
func (r *reader) head(t *table) {
	for _, c := range t.columns {
		if t.cells != nil {
			c.heading, c.unit = r.cardHeading(spotOf(c, 1))
		} else {
			c.heading, c.group, c.unit = r.headings(t, c.item, t.lines[0])
		}
		c.said, c.headed = c.unit != "", c.unit
	}
	if g := r.book.Grids[t.sheet]; t.name == "" {
		t.name = g.Name
	}
	if t.cells != nil {
		r.nameCard(t)
		return
	}
	if t.form && !t.down {
		over := spot{t.sheet, t.place(t.lines[0]-1, t.columns[0].item-1)}
		if over.at.Row > 1 && r.isText(over) {
			t.name = strings.TrimSpace(r.cell(over).Text)
		}
		return
	}
	for line := t.lines[0] - 1; line > max(0, t.lines[0]-8); line-- { // a title over the table
		s := spot{t.sheet, t.place(line, t.columns[0].item)}
		if !r.isText(s) || !t.down {
			continue
		}
		next := r.cell(spot{t.sheet, t.place(line, t.columns[0].item+1)})
		if text := strings.TrimSpace(r.cell(s).Text); next.Blank() && line < t.lines[0]-1 && line > 1 && len(text) < 40 {
			t.name = text
			break
		}
	}
}

// headings returns what stands over a column, or to the left of a row.
func (r *reader) headings(t *table, item, first int) (heading, group, unitName string) {
	g := r.book.Grids[t.sheet]
	var texts []string
	merged := false
	for line := first - 1; line > 0 && line >= first-mostHeads; line-- {
		p := t.place(line, item)
		over := false
		if a, ok := g.MergedAt(p); ok {
			over = a.First != a.Last
			p = a.First
		}
		s := spot{t.sheet, p}
		c := r.cell(s)
		if c.Blank() && c.Formula == "" {
			if len(texts) > 0 || t.down && line < first-2 {
				break
			}
			continue
		}
		if !r.isText(s) {
			if len(texts) == 0 && t.down && line == first-1 {
				break // numbers: another table
			}
			if _, isNumber := r.number(s); isNumber && t.down {
				break
			}
			continue
		}
		if len(texts) == 0 && !over && r.namesRow(t, item, line) {
			continue
		}
		text := strings.TrimSpace(c.Text)
		if over && len(texts) > 0 {
			if u, ok := parseUnit(text); ok {
				unitName = u.name
				continue
			}
			if group != text && text != texts[0] {
				group, merged = text, true
			}
			continue
		}
		if u, ok := parseUnit(text); ok && unitName == "" {
			unitName = u.name
			continue
		}
		if len(texts) == 0 && t.down && line > 1 && countUnit(text) && r.isText(spot{t.sheet, t.place(line-1, item)}) {
			continue
		}
		if len(texts) > 0 && t.down && !merged {
			break // a title
		}
		texts = append(texts, text)
	}
	if len(texts) > 0 {
		heading = texts[0]
	} else if group == "" {
		heading = ""
	}
	if unitName == "" {
		if _, u, ok := splitUnit(heading); ok {
			unitName = u.name
		} else if _, u, ok := splitUnit(group); ok {
			unitName = u.name
		}
	}
	if t.form && !t.down && unitName == "" {
		unitName = r.unitBeside(spot{t.sheet, t.place(first, item)})
	}
	if unitName == "" {
		unitName = r.formatUnit(t, item)
	}
	return heading, group, unitName
}

// namesRow reports whether words in the first column of a table name a row of numbers over others of its columns, as
// limits under the headings: they head no column.
func (r *reader) namesRow(t *table, item, line int) bool {
	if !t.down || t.form || len(t.columns) == 0 || item != t.columns[0].item {
		return false
	}
	return slices.ContainsFunc(t.columns[1:], func(c *column) bool {
		_, isNumber := r.number(spot{t.sheet, t.place(line, c.item)})
		return isNumber
	})
}

// formatUnit returns the unit that the number formats of most lines show.
func (r *reader) formatUnit(t *table, item int) string {
	g := r.book.Grids[t.sheet]
	for _, l := range t.lines {
		c := r.cell(spot{t.sheet, t.place(l, item)})
		if u, ok := parseUnit(g.Format(c).Unit); ok {
			return u.name
		}
		if _, name, ok := measuredText(c); ok {
			return name
		}
	}
	return ""
}
