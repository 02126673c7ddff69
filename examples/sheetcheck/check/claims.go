package check

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A cellKey is a cell of a Book.
type cellKey struct {
	sheet int
	at    sheet.Place
}

// A claim is a cell that is checked by a rule. There may be very many of them.
type claim struct {
	cellKey
	*rule
	*aside
	have, want value
	difference *explanation
	from       *roots // wrong cells that it stands on; nil for none
	lines      int32  // that it is from the rule's first one
	formula    bool   // it has one that can be read
	wrong      bool
	follows    bool
	traced     uint8 // 1 while it is, 2 after
}

// An aside is what is known of few claims.
type aside struct {
	looked    calc.Expr  // what is right, where it is looked up
	judgement *judgement // of a verdict called by name
	judged    bool
	unsettled string        // why nothing is right
	fitted    []explanation // mistakes that would give a typed number
	absolute  []string      // cells of the first line that would
}

// nothing is the aside of claims of which no more is known. It is never written to.
var nothing = &aside{judgement: &judgement{}}

// more returns the claim's own aside, to be written to.
func (c *claim) more() *aside {
	if c.aside == nothing {
		c.aside = &aside{judgement: nothing.judgement}
	}
	return c.aside
}

// off returns how many rows the claim is below the rule's first line, or columns to its right.
func (c *claim) off() (rows, columns int) {
	if c.of == nil || c.of.Down() {
		return int(c.lines), 0
	}
	return 0, int(c.lines)
}

// right returns the formula as it should read in the claim's cell. It is written anew each
// time: there may be very many claims.
func (c *claim) right() calc.Expr {
	if c.looked != nil {
		return c.looked
	}
	return c.moved(c.firstFormula())
}

// moved returns a formula of the first line as it reads in the claim's.
func (c *claim) moved(e calc.Expr) calc.Expr {
	if e == nil {
		return &calc.Text{}
	}
	rows, columns := c.off()
	moved, _ := pattern.Move(e, rows, columns)
	return moved
}

// cellOf returns the cell of one of the table's columns in the claim's line.
func (c *claim) cellOf(column string) sheet.Place {
	line, cell := c.of.Line(c.of.Columns[column].At)
	switch {
	case line == 0:
		return cell
	case c.of.Down():
		return sheet.Place{Row: c.at.Row, Column: line}
	}
	return sheet.Place{Row: line, Column: c.at.Column}
}

// A checking checks the claims of a map, over a book. What is right is what the book gives
// when every claim has the formula of its rule, and every text that is plainly a number is
// that number. A claim that is wrong although its own formula is right follows from another cell.
type checking struct {
	ctx       context.Context
	book      *sheet.Book
	names     []string
	result    *Result
	claims    []*claim
	at        sheet.ByCell[*claim]
	sieve     *sieve
	inputs    sheet.ByCell[*input]
	worded    []*input  // those that hold a text
	far       []Finding // readings far from their nominal size
	roles     map[*mapfile.Table]map[string]string
	beside    map[columnKey]*formulaCount // counted when it is first asked
	hidden    map[int]*hiddenLines        // what is not shown, by sheet
	steps     int                         // cells looked at for what others follow from
	written   *calc.Evaluator             // the book as it is
	corrected *calc.Evaluator             // as it should be; by its own formula, a cell of the shadow
	tried     *calc.Evaluator             // likewise, with trials and the formulas of cells behind it
	forms     calc.Forms
	frozen    *calc.Evaluator // one claim at a time over what the cells hold
	own       *calc.Evaluator // likewise, by the cell's own formula
	trials    trials
	worked    int                      // findings that show their working
	listed    [lists]bool              // where something is said of the claim that is said now
	most      []*rule                  // of which more is to be said than is listed
	measured  map[columnKey]bool       // columns of texts with numbers and units, found when first asked
	held      map[*mapfile.Table][]int // lines with cells
	units     map[string]unit
}

// An input is a typed cell that a table reads, as far as something is to be said of it.
type input struct {
	*inputColumn
	at     sheet.Place // nowhere for the blank cells of a column, which are one input
	number string      // that a text plainly is; empty if it is none
	text   string
	stated bool // with its unit, where the map calls its checks by name
}

// An inputColumn is a column of a table that no check claims.
type inputColumn struct {
	of     *mapfile.Table
	sheet  int
	column string
	role   string
	blank  *input
}

// newChecking returns a checking of a book. values evaluates the book, and its bounds count for
// all that is evaluated; it may be nil.
func newChecking(ctx context.Context, book *sheet.Book, values *calc.Evaluator, result *Result) *checking {
	k := &checking{ctx: ctx, book: book, result: result,
		hidden: map[int]*hiddenLines{}, roles: map[*mapfile.Table]map[string]string{}, held: map[*mapfile.Table][]int{}, units: map[string]unit{}}
	for i, name := range book.Sheets() {
		if name == "" {
			name = "table " + strconv.Itoa(i+1)
		}
		k.names = append(k.names, name)
	}
	k.sieve = &sieve{tables: map[*mapfile.Table]*sifted{}, sheets: make([]siftedSheet, len(k.names))}
	as := &overlay{Book: k.book, names: k.names}
	switch {
	case values == nil:
		k.written = calc.New(as, calc.DefaultBounds())
	case slices.Equal(k.names, k.book.Sheets()):
		k.written = values
	default:
		k.written = values.Beside(as)
	}
	return k
}

// check compares the claims with what is right, and says what is wrong with them.
func (k *checking) check() {
	right := k.asItShouldBe()
	own := k.ownFormulas(nil)
	right.shadows = k.trials.cells(own.shadows)
	right.behind = func(index int, at sheet.Place) *calc.Form {
		if at.Column >= firstTrial {
			return nil
		}
		return own.behind(index, at)
	}
	k.tried = k.written.Beside(right)
	if k.corrected = k.written; k.changes() {
		k.corrected = k.tried
	}
	k.frozen = k.written.Beside(k.asItIs())
	k.own = k.written.Beside(k.ownFormulas(k.freezer()))
	for _, c := range k.claims {
		k.compare(c)
	}
	k.agree()
	k.refusals()
	for _, c := range k.claims {
		if c.formula || !k.cell(c.cellKey).Blank() {
			c.difference = k.differs(c)
		}
	}
	k.follow()
	k.say()
	k.cover()
}

// gather takes the claims and inputs of a map.
func (k *checking) gather(m *mapfile.Map, rules []*rule, roles []map[string]string) {
	of := map[*mapfile.Table]int{}
	for i := range m.Tables {
		k.roles[&m.Tables[i]] = roles[i]
	}
	for _, r := range rules {
		if r.of == nil {
			at, _ := sheet.ParsePlace(r.cell.At)
			k.claim(&claim{cellKey: cellKey{r.index, at}, rule: r, aside: nothing})
			continue
		}
		of[r.of] = r.index
		k.column(r.of, r.index, r.column, r)
	}
	for i := range m.Tables {
		t := &m.Tables[i]
		index := of[t]
		for _, name := range t.Names() {
			c := t.Columns[name]
			if claimed := slices.ContainsFunc(t.Checks, func(c mapfile.Check) bool { return c.Claim == name }); claimed {
				continue
			}
			if c.Unit != "" || strings.HasPrefix(k.role(t, name), "limit") {
				k.column(t, index, name, nil)
			}
		}
	}
	sort.SliceStable(k.claims, func(i, j int) bool { return less(k.claims[i].cellKey, k.claims[j].cellKey) })
}

// role returns what a column is taken for.
func (k *checking) role(t *mapfile.Table, column string) string {
	if role := k.roles[t][column]; role != "" {
		return role
	}
	return column
}

func less(a, b cellKey) bool {
	if a.sheet != b.sheet {
		return a.sheet < b.sheet
	}
	return a.at.Row < b.at.Row || a.at.Row == b.at.Row && a.at.Column < b.at.Column
}

// lines returns the lines of a table in which any of its cells holds something.
func (k *checking) lines(t *mapfile.Table, index int) (all []int) {
	if all, known := k.held[t]; known {
		return all
	}
	rows, columns := k.book.Extent(index)
	last := t.Last()
	switch {
	case last > 0:
	case t.Down():
		last = rows
	default:
		last = columns
	}
	var items []int
	for _, c := range t.Columns {
		if line, _ := t.Line(c.At); line > 0 {
			items = append(items, line)
		}
	}
	for i := t.First(); i <= last; i++ {
		if t.Holds(i) && slices.ContainsFunc(items, func(item int) bool {
			at := sheet.Place{Row: i, Column: item}
			if !t.Down() {
				at = sheet.Place{Row: item, Column: i}
			}
			return k.book.Cell(index, at) != nil
		}) {
			all = append(all, i)
		}
	}
	k.held[t] = all
	return all
}

// column takes a column of a table: claims if there is a rule for it, else inputs.
func (k *checking) column(t *mapfile.Table, index int, name string, r *rule) {
	line, cell := t.Line(t.Columns[name].At)
	seen := map[cellKey]bool{}
	readings := &inputColumn{of: t, sheet: index, column: name, role: k.role(t, name)}
	readings.blank = &input{inputColumn: readings}
	for _, i := range k.lines(t, index) {
		at := cell
		switch {
		case line > 0 && t.Down():
			at = sheet.Place{Row: i, Column: line}
		case line > 0:
			at = sheet.Place{Row: line, Column: i}
		}
		key := cellKey{index, at}
		if line == 0 {
			if seen[key] {
				continue
			}
			seen[key] = true
		}
		if r == nil {
			k.input(readings, at)
			continue
		}
		if k.sieve.passes(t, i) {
			continue
		}
		one := &claim{cellKey: key, rule: r, aside: nothing, lines: int32(i - t.First())}
		if r.base != nil {
			rows, columns := one.off()
			if _, ok := pattern.Move(r.base, rows, columns); !ok {
				continue
			}
		}
		k.claim(one)
	}
}

func (k *checking) claim(c *claim) {
	if k.claimAt(c.cellKey) != nil {
		return
	}
	if formula := k.cell(c.cellKey).Formula; formula != "" {
		_, err := k.forms.Read(formula, c.at)
		c.formula = err == nil
	}
	if c.given != nil && !k.lookUp(c) {
		return
	}
	k.claims = append(k.claims, c)
	k.at.Set(sheet.KeyOf(c.sheet, c.at), c)
}

// claimAt returns the claim of a cell; nil if it is none.
func (k *checking) claimAt(key cellKey) *claim { return k.at.At(sheet.KeyOf(key.sheet, key.at)) }

// lookUp looks up what is right for a claim; ok is false if there is nothing to look up by.
func (k *checking) lookUp(c *claim) (ok bool) {
	texts := k.texts(c, 0)
	if !slices.ContainsFunc(texts, func(t string) bool { return t != "" }) {
		return false
	}
	text, isText, err := c.given.find(texts)
	switch {
	case err != nil:
		c.more().unsettled, c.more().looked = err.Error(), &calc.ErrorValue{Code: calc.ErrNA}
	case isText:
		c.more().looked = &calc.Text{Value: text}
	default:
		c.more().looked = &calc.Number{Text: text}
	}
	return true
}

// texts returns the texts by which a claim is looked up, in a line so far from its own.
func (k *checking) texts(c *claim, lines int) (all []string) {
	for _, name := range c.given.from {
		at := c.cellOf(name)
		if line, _ := c.of.Line(c.of.Columns[name].At); line > 0 && c.of.Down() {
			at.Row += lines
		} else if line > 0 {
			at.Column += lines
		}
		all = append(all, strings.TrimSpace(k.cell(cellKey{c.sheet, at}).Text))
	}
	return all
}

// input notes a typed cell that holds no number, and a reading far from its nominal size.
func (k *checking) input(of *inputColumn, at sheet.Place) {
	t, name, key := of.of, of.column, cellKey{of.sheet, at}
	c := k.cell(key)
	if c.Formula != "" {
		return
	}
	if c.Kind() == sheet.KindNumber {
		k.nominal(t, key, name, c)
		return
	}
	in := of.blank
	if !c.Blank() {
		in = &input{inputColumn: of, at: at, text: c.Text, number: k.numberIn(c, t.Columns[name].Unit)}
		in.stated = in.number != "" && !c.AsText && (!t.AllByFormulas() || k.measuredTexts(t, key.sheet, name))
		k.worded = append(k.worded, in)
	}
	k.inputs.Set(sheet.KeyOf(key.sheet, at), in)
}

// inputAt returns what is noted of a typed cell; nil if nothing is.
func (k *checking) inputAt(key cellKey) *input { return k.inputs.At(sheet.KeyOf(key.sheet, key.at)) }

// measuredTexts reports whether most of what is typed in a column of a text file are numbers with their units
// behind them: then that is how they are written there, and no mistake.
func (k *checking) measuredTexts(t *mapfile.Table, index int, name string) bool {
	key := columnKey{t, name}
	if known, ok := k.measured[key]; ok {
		return known
	}
	line, _ := t.Line(t.Columns[name].At)
	texts, others := 0, 0
	for _, i := range k.lines(t, index) {
		at := sheet.Place{Row: i, Column: line}
		if !t.Down() {
			at = sheet.Place{Row: line, Column: i}
		}
		c := k.cell(cellKey{index, at})
		switch {
		case line == 0 || c.Blank():
		case c.Formula == "" && !c.AsText && c.Kind() == sheet.KindText && k.numberIn(c, t.Columns[name].Unit) != "":
			texts++
		default:
			others++
		}
	}
	if k.measured == nil {
		k.measured = map[columnKey]bool{}
	}
	k.measured[key] = texts > others
	return texts > others
}

// numberIn returns the number that a text plainly is: with blanks about it, with its unit or
// another, with a decimal comma. It is empty if the text is none.
func (k *checking) numberIn(c *sheet.Cell, in string) string {
	text := strings.Trim(c.Text, "'\u00a0 \t")
	end := strings.IndexFunc(text, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != ',' && r != '-' })
	if end < 0 && !c.AsText && strings.Contains(text, ".") {
		return "" // a point groups digits, or it would be a number
	}
	other := ""
	if end >= 0 {
		rest := strings.TrimSpace(text[end:])
		if len(rest) > 8 || strings.ContainsAny(rest, "0123456789") {
			return ""
		}
		if u, ok := k.unit(in); ok && rest != u.symbol {
			if n, err := u.number(c.Pointed()); err == nil {
				other = written(n)
			}
		}
		text = text[:end]
	}
	if strings.Count(text, ",")+strings.Count(text, ".") > 1 {
		return ""
	}
	text = strings.ReplaceAll(text, ",", ".")
	if _, err := strconv.ParseFloat(text, 64); err != nil {
		return ""
	}
	return cmp.Or(other, text)
}

func (k *checking) cell(key cellKey) *sheet.Cell {
	if c := k.book.Cell(key.sheet, key.at); c != nil {
		return c
	}
	return &sheet.Cell{}
}

// compare compares what a claim's cell holds with what is right.
func (k *checking) compare(c *claim) {
	cell := k.cell(c.cellKey)
	c.have = k.holds(c.cellKey)
	if c.have.kind == isBlank && cell.Formula == "" {
		return // nothing is claimed
	}
	if c.have.kind == isText && !cell.AsText && (c.byName || c.of != nil && !c.formula && c.unit != "" && k.measuredTexts(c.of, c.sheet, c.column)) {
		if text := k.numberIn(cell, c.unit); text != "" { // with its unit
			c.have = valueOf(&sheet.Cell{Text: text})
		}
	}
	c.have = c.rounded(c.have)
	c.want = k.evaluated(k.corrected, k.names[c.sheet], c.at, true)
	if c.want.kind == isNumber {
		c.want.text = "" // which the number says
	}
	if !c.formula && c.places < 0 && k.formulasBeside(c) {
		c.have.places = 0 // a formula would not have rounded
	}
	if c.have.kind == isBlank || c.want.kind == isUnknown || c.have.kind == isUnknown {
		return
	}
	c.wrong = !k.agrees(c, c.have)
}

// agrees reports whether a value is what a claim should be.
func (k *checking) agrees(c *claim, v value) bool {
	switch {
	case c.judge != nil:
		if !c.judged {
			judged, ok := k.judge(c)
			more := c.more()
			more.judgement, more.judged = &judged, true
			if !ok {
				more.unsettled = "what it judges, or a limit, is no number"
			}
		}
		if c.unsettled != "" {
			return true // said with what is missing
		}
		right, known := c.judge.words.say(v.text, c.judgement.verdict)
		return right || !known && v.kind == isText && c.judgement.swapped
	case c.given != nil && c.given.same != nil && v.kind == isText && c.want.kind == isText:
		return c.given.same(v.text, c.want.text)
	}
	return v.agrees(c.want)
}

// rounded rounds a number to the places that the sheet shows, as the map says.
func (r *rule) rounded(v value) value {
	if r.places < 0 || v.kind != isNumber {
		return v
	}
	scale := math.Pow10(r.places)
	v.number = math.Round(v.number*scale) / scale
	return v.written(r.places)
}

// A consensus is what most formulas of a column read that give what is right, in the first
// line of the table.
type consensus struct {
	relative string
	right    calc.Expr
}

// agree finds what the columns' own formulas read where the map calls the rule by name: a
// formula may be written in many ways that are right.
func (k *checking) agree() {
	type form struct {
		lines, sound int
		first        *claim
		expr         calc.Expr
	}
	forms := map[*rule]map[string]*form{}
	for _, c := range k.claims {
		if !c.byName || !c.formula {
			continue
		}
		e := k.actual(c)
		relative := pattern.Relative(e, c.at)
		if forms[c.rule] == nil {
			forms[c.rule] = map[string]*form{}
		}
		f := forms[c.rule][relative]
		if f == nil {
			f = &form{first: c, expr: e}
			forms[c.rule][relative] = f
		}
		f.lines++
		if !c.wrong || k.agrees(c, c.rounded(k.evaluated(k.written, k.names[c.sheet], c.at, true))) || k.agrees(c, c.rounded(k.evaluated(k.tried, shadow(k.names[c.sheet]), c.at, true))) {
			f.sound++
		}
	}
	for r, all := range forms {
		most := &form{}
		relative := ""
		for text, f := range all {
			if f.sound > most.sound || f.sound == most.sound && text < relative {
				most, relative = f, text
			}
		}
		if most.sound == 0 || most.sound < most.lines || most.sound == 1 && !k.sameRule(most.first, most.expr) {
			continue
		}
		rows, columns := most.first.off()
		if e, ok := pattern.Move(most.expr, -rows, -columns); ok {
			r.usual = &consensus{relative, e}
		}
	}
}

// mostRefused is how many formulas are named that are not evaluated.
const mostRefused = 5

// refusals notes claims whose formulas are not evaluated, and why.
func (k *checking) refusals() {
	refused := 0
	for _, c := range k.claims {
		if k.cell(c.cellKey).Formula == "" || refused == mostRefused {
			continue
		}
		if _, err := k.written.At(k.ctx, k.names[c.sheet], c.at); err != nil {
			refused++
			if text := err.Error(); !slices.Contains(k.result.Notes, text) {
				k.result.Notes = append(k.result.Notes, text)
			}
		}
	}
}

// actual returns the formula in a claim's cell, with cells in place of names.
func (k *checking) actual(c *claim) calc.Expr {
	e, err := calc.Parse(k.cell(c.cellKey).Formula)
	if err != nil {
		return &calc.Text{}
	}
	return pattern.Resolve(k.book, c.sheet, c.at, e)
}

// should returns the formula that should stand in a claim's cell, as the column writes it.
func (c *claim) should() calc.Expr {
	if c.usual != nil {
		return c.moved(c.usual.right)
	}
	return c.right()
}

// trace says of a claim that is wrong whether it only follows: its own formula gives what is
// right once the cells that it stands on are right, and some of them are not. A claim
// without a formula, or with one that differs, follows if the right formula gives it from what the cells hold.
func (k *checking) trace(c *claim) {
	if !c.wrong {
		return
	}
	if c.from = k.roots(c); c.from == nil {
		return
	}
	local := func() value {
		return c.rounded(k.evaluated(k.frozen, shadow(k.names[c.sheet]), c.at, false))
	}
	if c.formula {
		c.follows = k.agrees(c, c.rounded(k.evaluated(k.tried, shadow(k.names[c.sheet]), c.at, true)))
		if c.follows && c.difference != nil && c.difference.mistake != Odd { // it may be to blame for what shows now
			v := local()
			c.follows = c.same(v) || v.kind == isUnknown || v.kind == isError
		}
		return
	}
	v := local()
	c.follows = c.same(v) || v.kind != isNumber && v.kind != isText
}

// same reports whether a value is what the claim's cell holds; of verdicts, whether it says the same.
func (c *claim) same(v value) bool {
	if c.judge == nil || c.have.kind != isText || v.kind != isText {
		return c.have.agrees(v)
	}
	for _, verdict := range allVerdicts {
		a, known := c.judge.words.say(c.have.text, verdict)
		b, alsoKnown := c.judge.words.say(v.text, verdict)
		if !known || !alsoKnown {
			return c.have.agrees(v)
		}
		if a && b {
			return true
		}
	}
	return false
}

// holds returns what a cell holds: what is stored, or what its formula gives if nothing is.
func (k *checking) holds(key cellKey) value {
	c := k.cell(key)
	if c.Formula != "" && c.Kind() == sheet.KindNone {
		return k.evaluated(k.written, k.names[key.sheet], key.at, false)
	}
	return valueOf(c)
}

func (k *checking) evaluated(e *calc.Evaluator, name string, at sheet.Place, exact bool) value {
	p, err := e.At(k.ctx, name, at)
	if err != nil {
		why := err.Error()
		if refused := (*calc.Refusal)(nil); errors.As(err, &refused) {
			why = refused.Why // without the cell, so that it is one reason for all cells that have it
		}
		return value{kind: isUnknown, text: why}
	}
	v := p.Binary
	if exact && p.Exact.Kind() != calc.KindUnknown {
		v = p.Exact
	}
	return valueFrom(v)
}
