package check

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/examples/kit/files/tomlfile"
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

// A claim is a cell with the formula by which it is checked.
type claim struct {
	cellKey
	*series
	rows     int  // that the claim is below the first line
	columns  int  // or to its right
	formula  bool // it has one that can be read
	same     bool // and is the right one
	location string

	have, want value
	wrong      bool
	follows    bool
	from       []string // wrong cells that it stands on
	traced     int      // 1 while it is, 2 after
	difference *explanation
}

// right returns the formula as it should read in the claim's cell. It is written anew each
// time: there may be very many claims.
func (c *claim) right() calc.Expr {
	e, _ := pattern.Move(c.base, c.rows, c.columns)
	return e
}

// A formulaCheck checks the claims that a map gives formulas for, over a whole book. What is
// right is what the book gives when every claim has the formula that the map gives it, and
// every text that is plainly a number is that number. A claim that is wrong although its
// own formula is right follows from another cell.
type formulaCheck struct {
	ctx       context.Context
	book      *sheet.Book
	names     []string
	result    *Result
	claims    []*claim
	at        map[cellKey]*claim
	inputs    map[cellKey]*input
	beside    map[columnKey]*formulaCount // counted when it is first asked
	hidden    map[int]*hiddenLines        // what is not shown, by sheet
	forms     calc.Forms
	steps     int             // cells looked at for what others follow from
	written   *calc.Evaluator // the book as it is
	corrected *calc.Evaluator // as it should be
	frozen    *calc.Evaluator // one claim at a time over what the cells hold
	own       *calc.Evaluator // likewise, by the cell's own formula
	ownRight  *calc.Evaluator // by the cell's own formula over the book as it should be
}

// An input is a typed cell that a table reads, as far as something is to be said of it.
type input struct {
	cellKey
	table, column, role string
	number              string // that a text plainly is; empty if it is none
	text                string
	of                  *mapfile.Table
}

// checkFormulas checks the claims of a map that have formulas.
// values evaluates the book, and its bounds count for all that is evaluated; it may be nil.
func checkFormulas(ctx context.Context, m *mapfile.Map, places *tomlfile.Places, book *sheet.Book, values *calc.Evaluator, result *Result) error {
	k := &formulaCheck{ctx: ctx, book: book, result: result, at: map[cellKey]*claim{}, inputs: map[cellKey]*input{}, hidden: map[int]*hiddenLines{}}
	for i, name := range book.Sheets() {
		if name == "" {
			name = "table " + strconv.Itoa(i+1)
		}
		k.names = append(k.names, name)
	}
	if err := k.gather(m, places); err != nil {
		return err
	}
	as := &overlay{Book: book, names: k.names}
	switch {
	case values == nil:
		k.written = calc.New(as, calc.DefaultBounds())
	case slices.Equal(k.names, book.Sheets()):
		k.written = values
	default:
		k.written = values.Beside(as)
	}
	right := k.asItShouldBe()
	if k.corrected = k.written; k.changes() {
		k.corrected = k.written.Beside(right)
	}
	k.frozen = k.written.Beside(k.asItIs())
	k.own = k.written.Beside(k.ownFormulas(&overlay{replace: k.freezer()}))
	k.ownRight = k.written.Beside(k.ownFormulas(right))
	for _, c := range k.claims {
		k.compare(c)
	}
	for _, c := range k.claims {
		k.following(c)
	}
	k.say()
	k.cover()
	return ctx.Err()
}

// gather takes the claims and inputs from a map.
func (k *formulaCheck) gather(m *mapfile.Map, places *tomlfile.Places) error {
	var errs tomlfile.Errors
	fail := func(path, format string, args ...any) {
		if places == nil {
			errs = append(errs, &tomlfile.Error{What: fmt.Sprintf(format, args...)})
			return
		}
		errs = append(errs, places.Errorf(path, format, args...))
	}
	sheetOf := func(path, name string) (int, bool) {
		if name == "" {
			return 0, true
		}
		index, ok := k.book.Index(name)
		if !ok {
			fail(path+".sheet", "no sheet is called %q; write one of %s", name, strings.Join(k.book.Sheets(), ", "))
		}
		return index, ok
	}
	for i := range m.Tables {
		t := &m.Tables[i]
		path := fmt.Sprintf("table[%d]", i)
		index, ok := sheetOf(path, t.Sheet)
		if !ok {
			continue
		}
		claimed := map[string]bool{}
		for j := range t.Checks {
			claimed[t.Checks[j].Claim] = true
			if t.Checks[j].By != mapfile.ByFormula {
				continue
			}
			e, err := calc.Parse(t.Checks[j].Formula)
			if err != nil {
				fail(fmt.Sprintf("%s.check[%d].formula", path, j), "%w", err)
				continue
			}
			k.column(t, index, t.Checks[j].Claim, e)
		}
		for name, c := range t.Columns {
			if !claimed[name] && (c.Unit != "" || strings.HasPrefix(c.Role, "limit")) {
				k.column(t, index, name, nil)
			}
		}
	}
	for i, c := range m.Cells {
		path := fmt.Sprintf("cell[%d]", i)
		index, ok := sheetOf(path, c.Sheet)
		e, err := calc.Parse(c.Formula)
		at, errAt := sheet.ParsePlace(c.At)
		if !ok || err != nil || errAt != nil {
			continue // said by Read
		}
		k.claim(&claim{cellKey: cellKey{index, at}, series: k.newSeries(series{base: e, column: c.Role, role: c.Role, unit: c.Unit, table: "cells alone"}, index)})
	}
	slices.SortStableFunc(k.claims, func(a, b *claim) int { return a.compare(b.cellKey) })
	return errs.Sorted()
}

// compare orders cells by sheets, and row by row.
func (a cellKey) compare(b cellKey) int {
	return cmp.Or(a.sheet-b.sheet, a.at.Row-b.at.Row, a.at.Column-b.at.Column)
}

// column takes a column of a table: claims if e is its formula in the first line, else inputs.
func (k *formulaCheck) column(t *mapfile.Table, index int, name string, e calc.Expr) {
	c := t.Columns[name]
	line, cell := t.Line(c.At)
	rows, columns := k.book.Extent(index)
	last := t.Last()
	if last == 0 {
		last = rows
		if !t.Down() {
			last = columns
		}
	}
	role := c.Role
	if role == "" {
		role = name
	}
	var all *series
	if e != nil {
		all = k.newSeries(series{base: e, table: t.Name, column: name, role: role, unit: c.Unit, of: t}, index)
	}
	for i := t.First(); i <= last; i++ {
		if !t.Holds(i) {
			continue
		}
		at := cell
		switch {
		case line > 0 && t.Down():
			at = sheet.Place{Row: i, Column: line}
		case line > 0:
			at = sheet.Place{Row: line, Column: i}
		}
		key := cellKey{index, at}
		if e == nil {
			k.input(t, key, name, role)
			continue
		}
		one := &claim{cellKey: key, series: all, rows: i - t.First()}
		if !t.Down() {
			one.rows, one.columns = 0, one.rows
		}
		if k.at[key] != nil || one.leaves() {
			continue
		}
		if t.Location != "" {
			place, _ := t.Line(t.Location)
			spot := sheet.Place{Row: i, Column: place}
			if !t.Down() {
				spot = sheet.Place{Row: place, Column: i}
			}
			one.location = k.cell(cellKey{index, spot}).Text
		}
		k.claim(one)
	}
}

func (k *formulaCheck) claim(c *claim) {
	if k.at[c.cellKey] != nil {
		return
	}
	if formula := k.cell(c.cellKey).Formula; formula != "" {
		_, err := k.forms.Read(formula, c.at)
		c.formula = err == nil
	}
	c.same = k.sameFormula(c)
	k.claims = append(k.claims, c)
	k.at[c.cellKey] = c
}

// input notes a typed cell that holds no number.
func (k *formulaCheck) input(t *mapfile.Table, key cellKey, name, role string) {
	c := k.cell(key)
	if c.Formula != "" || c.Kind() == sheet.KindNumber {
		return
	}
	in := &input{cellKey: key, table: t.Name, column: name, role: role, text: c.Text, of: t}
	if !c.Blank() {
		in.number = numberIn(c.Text)
	}
	k.inputs[key] = in
}

// numberIn returns the number that a text plainly is: with blanks about it, with its unit,
// with a decimal comma. It is empty if the text is none.
func numberIn(text string) string {
	text = strings.Trim(text, "'\u00a0 \t")
	end := strings.IndexFunc(text, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != ',' && r != '-' })
	if end >= 0 {
		if rest := strings.TrimSpace(text[end:]); len(rest) > 8 || strings.ContainsAny(rest, "0123456789") {
			return ""
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
	return text
}

func (k *formulaCheck) cell(key cellKey) *sheet.Cell {
	if c := k.book.Cell(key.sheet, key.at); c != nil {
		return c
	}
	return &sheet.Cell{}
}

// compare compares what a claim's cell holds with what is right.
func (k *formulaCheck) compare(c *claim) {
	cell := k.cell(c.cellKey)
	c.have = k.holds(c.cellKey)
	c.want = k.evaluated(k.corrected, k.names[c.sheet], c.at, true)
	if !c.formula && k.formulasBeside(c) {
		c.have.half = 0 // a formula would not have rounded
	}
	if known := c.have.kind != isBlank && c.want.kind != isUnknown && c.have.kind != isUnknown; known {
		c.wrong = !c.have.agrees(c.want)
	}
	if !c.same && (c.formula || !cell.Blank()) {
		c.difference = k.differs(c)
	}
}

// trace says of a claim that is wrong whether it only follows: its own formula gives what is
// right once the cells that it stands on are right, and some of them are not. A claim
// without a formula, or with one that differs, follows if the right formula gives it from what the cells hold.
func (k *formulaCheck) trace(c *claim) {
	if !c.wrong {
		return
	}
	if c.from = k.roots(c); len(c.from) == 0 {
		return
	}
	if c.formula {
		given := k.evaluated(k.ownRight, shadow(k.names[c.sheet]), c.at, true)
		c.follows = given.agrees(c.want)
		if c.follows && c.difference != nil && c.difference.mistake != Odd { // it may be to blame for what shows now
			local := k.evaluated(k.frozen, shadow(k.names[c.sheet]), c.at, false)
			c.follows = c.have.agrees(local) || local.kind == isUnknown || local.kind == isError
		}
		return
	}
	local := k.evaluated(k.frozen, shadow(k.names[c.sheet]), c.at, false)
	c.follows = c.have.agrees(local) || local.kind != isNumber && local.kind != isText
}

// holds returns what a cell holds: what is stored, or what its formula gives if nothing is.
func (k *formulaCheck) holds(key cellKey) value {
	c := k.cell(key)
	if c.Formula != "" && c.Kind() == sheet.KindNone {
		return k.evaluated(k.written, k.names[key.sheet], key.at, false)
	}
	return valueOf(c)
}

func (k *formulaCheck) evaluated(e *calc.Evaluator, name string, at sheet.Place, exact bool) value {
	p, err := e.At(k.ctx, name, at)
	if err != nil {
		return value{kind: isUnknown, text: err.Error()}
	}
	v := p.Binary
	if exact && p.Exact.Kind() != calc.KindUnknown {
		v = p.Exact
	}
	return valueFrom(v)
}

// A valueKind is what a value is.
type valueKind uint8

const (
	isBlank valueKind = iota
	isNumber
	isText
	isBool
	isError
	isUnknown
)

// A value is what a cell holds or should hold.
type value struct {
	kind   valueKind
	number float64
	text   string
	half   float64 // half a step of the last place that a typed number is written with
}

func valueOf(c *sheet.Cell) value {
	switch c.Kind() {
	case sheet.KindNumber:
		text, _ := c.Numeral()
		n, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return value{kind: isText, text: c.Text}
		}
		v := value{kind: isNumber, number: n, text: c.Text}
		if c.Formula == "" {
			_, behind, _ := strings.Cut(text, ".")
			v.half = 0.5 * math.Pow10(-len(behind))
		}
		return v
	case sheet.KindText:
		return value{kind: isText, text: c.Text}
	case sheet.KindBool:
		return value{kind: isBool, text: strings.ToUpper(c.Text)}
	case sheet.KindError:
		return value{kind: isError, text: c.Text}
	}
	return value{}
}

func valueFrom(v calc.Value) value {
	switch v.Kind() {
	case calc.KindNumber:
		return value{kind: isNumber, number: v.Float64()}
	case calc.KindText:
		return value{kind: isText, text: v.String()}
	case calc.KindLogical:
		return value{kind: isBool, text: v.String()}
	case calc.KindError:
		return value{kind: isError, text: v.String()}
	case calc.KindUnknown:
		return value{kind: isUnknown, text: v.Why()}
	}
	return value{}
}

// residue is how far, of their size, two numbers may be apart that are one in binary
// arithmetic: far above what a few operations leave, far below what anybody reads.
const residue = 1e-9

// agrees reports whether what is held is what is wanted, to the places that it is written with.
func (v value) agrees(want value) bool {
	switch {
	case v.kind == isNumber && want.kind == isNumber:
		off := math.Abs(v.number - want.number)
		return off <= max(v.half, residue)*(1+residue) && v.half > 0 || off <= residue*max(1, math.Abs(want.number))
	case v.kind == isNumber && want.kind == isBlank:
		return v.number == 0
	case v.kind == isText && want.kind == isText:
		return strings.EqualFold(strings.TrimSpace(v.text), strings.TrimSpace(want.text))
	case v.kind == isText && want.kind == isBlank:
		return strings.TrimSpace(v.text) == ""
	}
	return v.kind == want.kind && v.text == want.text
}

// shown writes a value with its unit.
func (v value) shown(unit string) string {
	if v.kind != isNumber {
		return v.text
	}
	text := strconv.FormatFloat(v.number, 'g', 9, 64)
	if unit == "" {
		return text
	}
	return text + " " + unit
}

// An overlay is a book with some of its cells replaced.
type overlay struct {
	*sheet.Book
	names   []string
	replace func(index int, at sheet.Place, c *sheet.Cell) *sheet.Cell // nil for a book as it is
	shadows func(index int, at sheet.Place) *sheet.Cell                // sheets behind the others; nil if there are none
	form    func(index int, at sheet.Place) *calc.Form                 // formulas in place of those that cells hold; nil if there are none
	behind  func(index int, at sheet.Place) *calc.Form                 // likewise, of the shadows
}

// Sheets returns the names of the sheets, the shadows behind the others.
func (o *overlay) Sheets() []string {
	if o.shadows == nil {
		return o.names
	}
	all := slices.Clone(o.names)
	for _, name := range o.names {
		all = append(all, shadow(name))
	}
	return all
}

// shadow names the sheet on which a claim's formula is evaluated over what the cells hold.
func shadow(name string) string { return name + "\x00" }

// Extent returns the last row and column of a sheet.
func (o *overlay) Extent(index int) (row, column int) {
	return o.Book.Extent(index % len(o.names))
}

// Hidden reports whether a row is not shown.
func (o *overlay) Hidden(index, row int) (hidden, filtered bool) {
	return o.Book.Hidden(index%len(o.names), row)
}

// Cell returns a cell.
func (o *overlay) Cell(index int, at sheet.Place) *sheet.Cell {
	if index >= len(o.names) {
		return o.shadows(index-len(o.names), at)
	}
	c := o.Book.Cell(index, at)
	if o.replace != nil {
		return o.replace(index, at, c)
	}
	return c
}

// Form returns the formula that a cell has in place of its own; nil if it has none.
func (o *overlay) Form(index int, at sheet.Place) *calc.Form {
	switch {
	case index >= len(o.names) && o.behind != nil:
		return o.behind(index-len(o.names), at)
	case index < len(o.names) && o.form != nil:
		return o.form(index, at)
	}
	return nil
}

// Formula returns what a name stands for.
func (o *overlay) Formula(index int, name string) (string, bool) {
	if index >= 0 {
		index %= len(o.names)
	}
	return o.Book.Formula(index, name)
}

// asItShouldBe is the book with the right formula in each claim, and numbers for texts that
// are plainly numbers.
func (k *formulaCheck) asItShouldBe() *overlay {
	o := &overlay{Book: k.book, names: k.names}
	made := map[cellKey]*sheet.Cell{}
	o.form = func(index int, at sheet.Place) *calc.Form {
		if claim := k.at[cellKey{index, at}]; claim != nil {
			return claim.form()
		}
		return nil
	}
	o.replace = func(index int, at sheet.Place, c *sheet.Cell) *sheet.Cell {
		key := cellKey{index, at}
		switch claim := k.at[key]; {
		case claim == nil:
		case c != nil && c.Formula != "":
			return c // which has another one in its place
		default:
			if made[key] == nil {
				made[key] = &sheet.Cell{Formula: claim.right().String()}
			}
			return made[key]
		}
		if in := k.inputs[key]; in != nil && in.number != "" {
			return &sheet.Cell{Text: in.number}
		}
		return c
	}
	return o
}

// changes reports whether the book as it should be is another one than it is.
func (k *formulaCheck) changes() bool {
	for _, in := range k.inputs {
		if in.number != "" {
			return true
		}
	}
	return slices.ContainsFunc(k.claims, func(c *claim) bool { return !c.same })
}

// asItIs is the book with what its cells hold and no formulas, and with shadows for the
// claims.
func (k *formulaCheck) asItIs() *overlay {
	o := &overlay{Book: k.book, names: k.names, replace: k.freezer()}
	made := map[cellKey]*sheet.Cell{}
	o.behind = func(index int, at sheet.Place) *calc.Form {
		c := k.at[cellKey{index, at}]
		if c == nil || !k.moves(c) {
			return nil
		}
		if c.qualified == nil {
			c.qualified = &calc.Form{Expr: k.qualified(index, c.base), At: c.form().At}
		}
		return c.qualified
	}
	o.shadows = func(index int, at sheet.Place) *sheet.Cell {
		key := cellKey{index, at}
		c := k.at[key]
		switch {
		case c == nil:
			return nil
		case c.formula && o.behind(index, at) != nil:
			return k.cell(key)
		}
		if made[key] == nil {
			cell := *k.cell(key)
			cell.Formula, cell.Text, cell.AsText = k.qualified(c.sheet, c.right()).String(), "", false
			made[key] = &cell
		}
		return made[key]
	}
	return o
}

// ownFormulas is the book with the cells and formulas of another, and with shadows for all
// formulas as they are.
func (k *formulaCheck) ownFormulas(of *overlay) *overlay {
	o := &overlay{Book: k.book, names: k.names, replace: of.replace, form: of.form}
	made := map[cellKey]*sheet.Cell{}
	forms := map[*calc.Form][]*calc.Form{} // with the sheet before every cell, by sheet
	o.behind = func(index int, at sheet.Place) *calc.Form {
		cell := k.cell(cellKey{index, at})
		if _, array := cell.Array(); array {
			return nil
		}
		own, err := k.forms.Read(cell.Formula, at)
		if err != nil || own.At == (sheet.Place{}) || !movable(own.Expr) {
			return nil
		}
		if forms[own] == nil {
			forms[own] = make([]*calc.Form, len(k.names))
		}
		if forms[own][index] == nil {
			forms[own][index] = &calc.Form{Expr: k.qualified(index, pattern.Resolve(k.book, index, sheet.Place{}, own.Expr)), At: own.At}
		}
		return forms[own][index]
	}
	o.shadows = func(index int, at sheet.Place) *sheet.Cell {
		if o.behind(index, at) != nil {
			return k.cell(cellKey{index, at})
		}
		key := cellKey{index, at}
		if made[key] == nil {
			cell := *k.cell(key)
			if e, err := calc.Parse(cell.Formula); err == nil {
				if _, array := cell.Array(); !array {
					e = pattern.Resolve(k.book, index, at, e)
				}
				cell.Formula = k.qualified(index, e).String()
			}
			cell.Text, cell.AsText = "", false
			made[key] = &cell
		}
		return made[key]
	}
	return o
}

// freezer takes formulas away and leaves what they hold.
func (k *formulaCheck) freezer() func(int, sheet.Place, *sheet.Cell) *sheet.Cell {
	made := map[cellKey]*sheet.Cell{}
	return func(index int, at sheet.Place, c *sheet.Cell) *sheet.Cell {
		if c == nil || c.Formula == "" {
			return c
		}
		key := cellKey{index, at}
		if made[key] == nil {
			cell := *c
			if c.Kind() == sheet.KindNone {
				v := k.holds(key)
				cell.Text, cell.AsText = v.text, v.kind == isText
				if v.kind == isNumber {
					cell.Text = strconv.FormatFloat(v.number, 'g', 17, 64)
				}
			}
			cell.Formula = ""
			made[key] = &cell
		}
		return made[key]
	}
}

// qualified writes a formula with the sheet before every cell.
func (k *formulaCheck) qualified(index int, e calc.Expr) calc.Expr {
	return pattern.Rewrite(e, func(e calc.Expr) calc.Expr {
		if a, ok := e.(*calc.Area); ok && a.Sheet == "" && a.File == "" {
			c := *a
			c.Sheet = k.names[index]
			return &c
		}
		return nil
	})
}
