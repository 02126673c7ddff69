package check

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A quick is a value as the rows that stream by are computed with: a number to nine places
// where it has no more, else a binary64. It serves to pass what is right; what is not plainly
// right is looked at closely, by package calc: so is what is unknown.
type quick struct {
	kind   valueKind
	exact  bool // a number of nano; of a truth value, that it is true
	clean  bool // no arithmetic came before, so that the binary64 is the one nearest to the exact number
	places int8 // that a cell's number is written with
	nano   int64
	f      float64 // of a number that is not exact
	text   *string // of a text
}

const nano = 1_000_000_000

// mostNano bounds exact numbers, so that sums of a few do not overflow.
const mostNano = math.MaxInt64 / 64

func exactly(n int64) quick {
	if -mostNano < n && n < mostNano {
		return quick{kind: isNumber, exact: true, nano: n}
	}
	return roughly(float64(n) / nano)
}

// typedNumber is an exact number as it is typed or rounded to.
func typedNumber(n int64) quick {
	v := exactly(n)
	v.clean = v.exact && abs(n) < 1<<53
	return v
}

func roughly(f float64) quick { return quick{kind: isNumber, f: f} }

// unknown is what needs a closer look.
func unknown() quick { return quick{kind: isUnknown} }

// float returns the number.
func (v *quick) float() float64 {
	if v.exact {
		return float64(v.nano) / nano
	}
	return v.f
}

// whole reports whether a number is an integer, which binary arithmetic keeps.
func (v *quick) whole() bool { return v.clean && v.nano%nano == 0 }

func (v quick) negative() quick {
	v.nano, v.f = -v.nano, -v.f
	return v
}

// plus adds w, of a sign.
func (v *quick) plus(w *quick, sign int64) quick {
	if !v.exact || !w.exact {
		return roughly(v.float() + float64(sign)*w.float())
	}
	sum := exactly(v.nano + sign*w.nano)
	sum.clean = v.clean && w.clean && v.whole() && w.whole()
	return sum
}

// tens are the powers of ten.
var tens = [...]int64{1, 10, 100, 1000, 10_000, 100_000, 1_000_000, 10_000_000, 100_000_000, 1_000_000_000}

// quickOf reads a cell.
func quickOf(c *sheet.Cell) quick {
	if c.AsText {
		return quick{kind: isText, text: &c.Text}
	}
	if n, places, ok := c.Plain(); ok {
		if places > 9 || abs(n) >= mostNano/tens[9-places] {
			return unknown()
		}
		v := typedNumber(n * tens[9-places])
		v.places = int8(places)
		return v
	}
	switch c.Kind() {
	case sheet.KindNone:
		return quick{}
	case sheet.KindText:
		return quick{kind: isText, text: &c.Text}
	case sheet.KindNumber: // as a workbook writes binary numbers
		text, _ := c.Numeral()
		_, behind, _ := strings.Cut(text, ".")
		if w := valueOf(c); w.kind == isNumber {
			return quick{kind: isNumber, f: w.number, places: int8(len(behind))}
		}
	}
	return unknown()
}

// blank reports whether nothing is to be seen in the cell that was read.
func (v *quick) blank() bool {
	return v.kind == isBlank || v.kind == isText && blankText(*v.text)
}

func blankText(text string) bool {
	return text == "" || (text[0] <= ' ' || text[0] >= utf8.RuneSelf) && strings.TrimSpace(text) == ""
}

// A column is a value for each row of a block, or one for all of them. Most columns are of one
// sort, and are worked with much faster than values of which each says what it is.
type column struct {
	sort   uniform
	each   int       // which bits of the row's number count: all, or none
	nano   []int64   // of exact numbers
	f      []float64 // of rough ones
	is     []bool    // of truth values
	text   []*string // of texts
	places []int8    // of exact numbers that are cells: how many are written
	most   int       // of exact numbers: how many places they have at most
	values []quick   // of several sorts; of a constant always
}

// A uniform is what all values of a column are.
type uniform uint8

const (
	mixed uniform = iota
	exacts
	roughs
	truths
	texts
)

func (c *column) at(i int) (v quick) {
	i &= c.each
	switch {
	case c.values != nil:
		return c.values[i]
	case c.sort == exacts:
		v = quick{kind: isNumber, exact: true, nano: c.nano[i]}
		if c.places != nil {
			v.places = c.places[i]
		}
	case c.sort == roughs:
		v = roughly(c.f[i])
	case c.sort == truths:
		v = truth(c.is[i])
	default:
		v = quick{kind: isText, text: c.text[i]}
	}
	return v
}

// same is a column of which every value is the same.
func same(v quick) column {
	c := column{values: []quick{v}}
	switch {
	case v.kind == isNumber && v.exact:
		c.sort, c.nano, c.most = exacts, []int64{v.nano}, 9
		for c.most > 0 && v.nano%tens[10-c.most] == 0 {
			c.most--
		}
	case v.kind == isText:
		c.sort, c.text = texts, []*string{v.text}
	}
	return c
}

// A sum computes a formula for the rows of a block. So what is to be done is looked up once for all
// of them.
type sum func(b *block) column

// A block is rows of a table that are looked at together, and what each of them holds.
type block struct {
	table  *streamed
	n      int          // of them
	rows   []*sheet.Row // none if they are read from lines
	lined  []sheet.Lined
	binary []bool // a claim of the row has a formula, so that a last bit may count

	right, wrong []bool // all claims plainly agree, and one plainly disagrees
	claims       []int  // how many there are

	sorted bool   // columns may be of one sort: no last bit counts
	slots  []slot // of cells and of what formulas give
	worked []slot // of what claims should be
	known  []map[string]string
	said   []map[string][3]bool // by claim, whether a text is right for a verdict
}

// A slot is a column that is worked out, or begun to be, in the block now looked at.
type slot struct {
	column
	begun, done bool
	space       column // for values of any sort
}

func newBlock(t *streamed) *block {
	n := len(t.claims)
	return &block{table: t, slots: make([]slot, t.slots), worked: make([]slot, n), known: make([]map[string]string, n), said: make([]map[string][3]bool, n)}
}

// begin empties the block for other rows.
func (b *block) begin() {
	b.n, b.rows, b.lined, b.binary, b.sorted = 0, b.rows[:0], nil, b.binary[:0], true
}

// beginLined fills the block with n rows of which these columns are read.
func (b *block) beginLined(n int, columns []sheet.Lined) {
	b.begin()
	b.n, b.lined, b.binary = n, columns, sized(b.binary, n)
	clear(b.binary)
}

// add adds a row.
func (b *block) add(row *sheet.Row, binary bool) {
	b.n, b.rows, b.binary, b.sorted = b.n+1, append(b.rows, row), append(b.binary, binary), b.sorted && !binary
}

// sized returns a slice of n, the old one if it is large enough.
func sized[T any](old []T, n int) []T { return slices.Grow(old[:0], n)[:n] }

// space returns where values of several sorts are put.
func (b *block) space(slot int) column {
	s := &b.slots[slot].space
	s.values = sized(s.values, b.n)
	return column{values: s.values, each: -1}
}

// exacts returns where exact numbers are put, of so many places at most.
func (b *block) exacts(slot, most int) column {
	s := &b.slots[slot].space
	s.nano = sized(s.nano, b.n)
	return column{sort: exacts, nano: s.nano, each: -1, most: most}
}

func (b *block) roughs(slot int) column {
	s := &b.slots[slot].space
	s.f = sized(s.f, b.n)
	return column{sort: roughs, f: s.f, each: -1}
}

func (b *block) truths(slot int) column {
	s := &b.slots[slot].space
	s.is = sized(s.is, b.n)
	return column{sort: truths, is: s.is, each: -1}
}

func (b *block) texts(slot int) column {
	s := &b.slots[slot].space
	s.text = sized(s.text, b.n)
	return column{sort: texts, text: s.text, each: -1}
}

// cells reads a column of the sheet, once.
func (b *block) cells(at int) *column {
	slot := b.table.cellsIn[at] - 1
	s := &b.slots[slot]
	if s.done {
		return &s.column
	}
	s.done = true
	if b.lined != nil {
		s.column = b.linedCells(at)
		return &s.column
	}
	var ok bool
	if b.sorted {
		if s.column, ok = b.plainCells(at, slot); ok {
			return &s.column
		}
		if s.column, ok = b.textCells(at, slot); ok {
			return &s.column
		}
	}
	s.column = b.space(slot)
	for i, row := range b.rows {
		if at <= len(row.Cells) {
			s.values[i] = quickOf(&row.Cells[at-1])
		} else {
			s.values[i] = quick{}
		}
	}
	return &s.column
}

// linedCells returns a column that is read from lines.
func (b *block) linedCells(at int) column {
	i := slices.IndexFunc(b.lined, func(c sheet.Lined) bool { return c.At == at })
	switch {
	case i < 0:
		return same(unknown())
	case b.lined[i].Numbers():
		return column{sort: exacts, each: -1, nano: b.lined[i].Nano, places: b.lined[i].Places, most: b.lined[i].Most}
	}
	return column{sort: texts, each: -1, text: b.lined[i].Texts}
}

// plainCells reads a column of plain numbers; ok is false if there is anything else.
func (b *block) plainCells(at, slot int) (c column, ok bool) {
	c = b.exacts(slot, 0)
	space := &b.slots[slot].space
	space.places = sized(space.places, b.n)
	c.places = space.places
	for i, row := range b.rows {
		if at > len(row.Cells) || row.Cells[at-1].AsText {
			return c, false
		}
		n, places, ok := row.Cells[at-1].Plain()
		if !ok || places > 9 || abs(n) >= mostNano/nano { // and larger ones of fewer places, which are few
			return c, false
		}
		c.nano[i], c.places[i] = n*tens[9-places], int8(places)
		c.most = max(c.most, places)
	}
	return c, true
}

// textCells reads a column of texts.
func (b *block) textCells(at, slot int) (c column, ok bool) {
	c = b.texts(slot)
	for i, row := range b.rows {
		if at > len(row.Cells) || row.Cells[at-1].Kind() != sheet.KindText {
			return c, false
		}
		c.text[i] = &row.Cells[at-1].Text
	}
	return c, true
}

// should returns what one of the rows' claims should be: unknown for claims that stand on one another in
// a ring.
func (b *block) should(claim int) column {
	s := &b.worked[claim]
	switch {
	case s.done:
	case s.begun:
		return same(unknown())
	default:
		s.begun = true
		s.column = b.table.claims[claim].value(b)
		s.done = true
	}
	return s.column
}

// A fixedCell is a cell that all rows read.
type fixedCell struct {
	cellKey
	is column // unknown if the rows that read it need a closer look
}

func (c *fixedCell) value() *quick { return &c.is.values[0] }

// A compiler makes sums of the formulas of a table.
type compiler struct {
	*streamed
	index   int                                    // of its sheet
	sheetOf func(name string) (index int, ok bool) // nil where rows of one sheet stream by
	ranges  bool                                   // of cells in the row may be read
	reads   map[int]bool                           // columns, in the row
}

// slot returns a place for a column.
func (c *compiler) slot() int {
	c.slots++
	return c.slots - 1
}

func constant(v quick) sum {
	c := same(v)
	return func(*block) column { return c }
}

// compile makes a sum of a formula as it reads in its first line. ok is false if it reads what
// is not in its row, or does what is not done quickly.
func (c *compiler) compile(e calc.Expr) (made sum, ok bool) {
	switch e := e.(type) {
	case *calc.Number:
		v := quickOf(&sheet.Cell{Text: e.Text})
		return constant(v), v.kind == isNumber
	case *calc.Text:
		return constant(quick{kind: isText, text: &e.Value}), true
	case *calc.Area:
		return c.reading(e)
	case *calc.Unary:
		x, ok := c.compile(e.X)
		if e.Op != calc.Minus {
			return x, ok && e.Op == calc.Plus
		}
		return c.apply([]sum{x}, func(args []*quick, _ bool) quick {
			if args[0].kind != isNumber {
				return unknown()
			}
			return args[0].negative()
		}), ok
	case *calc.Binary:
		x, okX := c.compile(e.X)
		y, okY := c.compile(e.Y)
		if !okX || !okY {
			return nil, false
		}
		if e.Op.Comparison() {
			return c.comparison(e.Op, x, y, c.plain(e.X) && c.plain(e.Y)), true
		}
		return c.operation(e.Op, x, y)
	case *calc.Call:
		var args []sum
		for _, a := range e.Args {
			if area, ok := a.(*calc.Area); ok && !area.Single() {
				cells, ok := c.cells(area)
				if !ok || !gathers(e.Name) {
					return nil, false
				}
				args = append(args, cells...)
				continue
			}
			made, ok := c.compile(a)
			if !ok {
				return nil, false
			}
			if _, cell := a.(*calc.Area); cell && gathers(e.Name) {
				made = c.filled(made) // a cell that is named is a reading that should be there
			}
			args = append(args, made)
		}
		return c.function(e.Name, args)
	}
	return nil, false
}

// apply does the same with the values of each row.
func (c *compiler) apply(args []sum, do func(args []*quick, binary bool) quick) sum {
	slot := c.slot()
	return func(b *block) column {
		columns := make([]column, len(args))
		for i, a := range args {
			columns[i] = a(b)
		}
		return b.each(slot, columns, do)
	}
}

// each does the same with the values of each row.
func (b *block) each(slot int, columns []column, do func(args []*quick, binary bool) quick) column {
	values, args := make([]quick, len(columns)), make([]*quick, len(columns))
	for i := range values {
		args[i] = &values[i]
	}
	out := b.space(slot)
	for i := range out.values {
		for j := range columns {
			values[j] = columns[j].at(i)
		}
		out.values[i] = do(args, b.binary[i])
	}
	return out
}

// plain reports whether an expression may be blank or a text without more to be said: it is
// not a limit, and no cell that all rows read.
func (c *compiler) plain(e calc.Expr) bool {
	a, ok := e.(*calc.Area)
	return !ok || !a.From.RowFixed && !a.From.ColumnFixed && a.Sheet == "" && !c.limits[a.From.Column]
}

// reading reads a cell of the row, or a single one that all rows read.
func (c *compiler) reading(a *calc.Area) (sum, bool) {
	if !a.Single() || a.File != "" || a.Last != "" {
		return nil, false
	}
	index := c.index
	if a.Sheet != "" {
		var ok bool
		if c.sheetOf == nil || !a.From.RowFixed {
			return nil, false
		}
		if index, ok = c.sheetOf(a.Sheet); !ok {
			return nil, false
		}
	}
	switch {
	case a.From.RowFixed:
		cell := c.fix(cellKey{index, a.From.Place})
		return func(*block) column { return cell.is }, true
	case a.From.Row != c.First():
		return nil, false
	}
	return c.inRow(a.From.Column), true
}

// fix returns a cell that all rows read.
func (c *compiler) fix(key cellKey) *fixedCell {
	for _, cell := range c.fixed {
		if cell.cellKey == key {
			return cell
		}
	}
	cell := &fixedCell{cellKey: key, is: same(unknown())}
	c.fixed = append(c.fixed, cell)
	return cell
}

// hold gives a column of the sheet its slot.
func (c *compiler) hold(column int) {
	for len(c.cellsIn) <= column {
		c.cellsIn = append(c.cellsIn, 0)
	}
	if c.cellsIn[column] == 0 {
		c.cellsIn[column] = c.slot() + 1
	}
}

// inRow reads a cell of the row: of a claim, what it should be.
func (c *compiler) inRow(at int) sum {
	c.reads[at] = true
	c.hold(at)
	slot := c.slot()
	t := c.streamed
	return func(b *block) column {
		cells := b.cells(at)
		is, claim := *cells, at < len(t.claimIn) && t.claimIn[at] > 0
		if claim {
			is = b.should(t.claimIn[at] - 1)
		}
		if t.same == nil {
			return is
		}
		out := b.space(slot)
		for i := range out.values {
			out.values[i] = is.at(i)
			if have := cells.at(i); claim && have.blank() || // a formula reads it as 0
				!claim && b.rows[i].Cell(at).Formula != "" {
				out.values[i] = unknown()
			}
		}
		return out
	}
}

// cells reads the cells of a range in the row.
func (c *compiler) cells(a *calc.Area) (all []sum, ok bool) {
	const most = 64
	if !c.ranges || a.Columns || a.Rows || a.Sheet != "" || a.File != "" || a.From.RowFixed || a.To.RowFixed || a.From.Row != c.First() || a.To.Row != c.First() || a.To.Column-a.From.Column >= most {
		return nil, false
	}
	for column := a.From.Column; column <= a.To.Column; column++ {
		all = append(all, c.inRow(column))
	}
	return all, true
}

func (c *compiler) operation(op calc.Op, x, y sum) (sum, bool) {
	var do func(a, b *quick) quick
	switch op {
	case calc.Add:
		do = func(a, b *quick) quick { return a.plus(b, 1) }
	case calc.Subtract:
		do = func(a, b *quick) quick { return a.plus(b, -1) }
	case calc.Multiply:
		do = func(a, b *quick) quick {
			if b.nano%nano != 0 {
				a, b = b, a
			}
			if n := b.nano / nano; a.exact && b.exact && b.nano%nano == 0 && (n == 0 || abs(a.nano) < mostNano/abs(n)) {
				product := exactly(a.nano * n)
				product.clean = a.whole() && b.whole()
				return product
			}
			return roughly(a.float() * b.float())
		}
	case calc.Divide:
		do = func(a, b *quick) quick { return roughly(a.float() / b.float()) } // beyond all numbers if b is 0, and looked at closely
	default:
		return nil, false
	}
	slot := c.slot()
	return func(b *block) column {
		xs, ys := x(b), y(b)
		if b.sorted {
			if out, ok := b.exactly(op, slot, &xs, &ys); ok {
				return out
			}
		}
		out := b.space(slot)
		for i := range out.values {
			v, w := xs.at(i), ys.at(i)
			if v.kind != isNumber || w.kind != isNumber {
				out.values[i] = unknown()
				continue
			}
			out.values[i] = do(&v, &w)
		}
		return out
	}, true
}

// exactly does an operation with columns of exact numbers. ok is false if they are none, or a
// number would be too large.
func (b *block) exactly(op calc.Op, slot int, xs, ys *column) (out column, ok bool) {
	if xs.sort != exacts || ys.sort != exacts {
		return out, false
	}
	largest := int64(0)
	switch op {
	case calc.Add, calc.Subtract:
		sign := int64(1)
		if op == calc.Subtract {
			sign = -1
		}
		out = b.exacts(slot, max(xs.most, ys.most))
		for i := range out.nano {
			n := xs.nano[i&xs.each] + sign*ys.nano[i&ys.each]
			out.nano[i] = n
			largest = max(largest, n, -n)
		}
	case calc.Multiply:
		if ys.each != 0 {
			xs, ys = ys, xs
		}
		if ys.each != 0 || ys.most > 0 {
			return out, false
		}
		by := ys.nano[0] / nano
		out = b.exacts(slot, xs.most)
		for i := range out.nano {
			n := xs.nano[i&xs.each]
			out.nano[i] = n * by
			largest = max(largest, n, -n)
		}
		if by != 0 && largest >= mostNano/abs(by) {
			return out, false
		}
		largest = 0
	case calc.Divide:
		out = b.roughs(slot)
		for i := range out.f {
			out.f[i] = float64(xs.nano[i&xs.each]) / nano / (float64(ys.nano[i&ys.each]) / nano)
		}
	}
	return out, largest < mostNano
}

func abs(n int64) int64 { return max(n, -n) }

// compare compares two numbers. ok is false if they are so close that binary arithmetic does
// not tell; exact numbers are told apart unless binary arithmetic counts.
func (v *quick) compare(w *quick, binary bool) (order int, ok bool) {
	if v.exact && w.exact && (!binary || v.clean && w.clean) {
		return cmp.Compare(v.nano, w.nano), true
	}
	f := v.float()
	off := f - w.float()
	if math.Abs(off) <= residue*max(1, math.Abs(f)) || math.IsNaN(off) {
		return 0, false
	}
	switch {
	case off < 0:
		return -1, true
	case off > 0:
		return 1, true
	}
	return 0, true
}

func truth(b bool) quick { return quick{kind: isBool, exact: b} }

// comparison compares numbers; for being alike also texts and blank cells, where plain says
// that these may be there.
func (c *compiler) comparison(op calc.Op, x, y sum, plain bool) sum {
	slot := c.slot()
	when := [3]bool{holds(op, -1), holds(op, 0), holds(op, 1)} // of values in an order
	return func(b *block) column {
		xs, ys := x(b), y(b)
		if b.sorted && xs.sort == exacts && ys.sort == exacts {
			out := b.truths(slot)
			for i := range out.is {
				off := xs.nano[i&xs.each] - ys.nano[i&ys.each]
				order := off>>63 | int64(uint64(-off)>>63) // without a branch, which would often be foreseen wrongly
				out.is[i] = when[order+1]
			}
			return out
		}
		out := b.space(slot)
		for i := range out.values {
			v, w := xs.at(i), ys.at(i)
			if v.kind == isNumber && w.kind == isNumber {
				order, ok := v.compare(&w, b.binary[i])
				if out.values[i] = truth(when[order+1]); !ok {
					out.values[i] = unknown()
				}
				continue
			}
			same, ok := v.alike(&w)
			if out.values[i] = truth(same == (op == calc.Equal)); !ok || !plain || op != calc.Equal && op != calc.NotEqual {
				out.values[i] = unknown()
			}
		}
		return out
	}
}

// holds reports whether a comparison is true of values in an order.
func holds(op calc.Op, order int) bool {
	switch op {
	case calc.Equal:
		return order == 0
	case calc.NotEqual:
		return order != 0
	case calc.Less:
		return order < 0
	case calc.LessEqual:
		return order <= 0
	case calc.Greater:
		return order > 0
	}
	return order >= 0
}

// alike compares values of which one is a text: with another text, a blank cell or a number.
func (v *quick) alike(w *quick) (same, ok bool) {
	if v.kind != isText {
		v, w = w, v
	}
	switch {
	case v.kind != isText:
		return false, false
	case w.kind == isBlank:
		return *v.text == "", true
	case w.kind == isText:
		return strings.EqualFold(*v.text, *w.text), true
	}
	return false, w.kind == isNumber
}

// filled reads a cell that may not be blank.
func (c *compiler) filled(read sum) sum {
	return c.apply([]sum{read}, func(args []*quick, _ bool) quick {
		if args[0].kind == isBlank {
			return unknown()
		}
		return *args[0]
	})
}

// gathers reports whether a function takes ranges of cells, and leaves out blank ones.
func gathers(name string) bool {
	return name == "SUM" || name == "MAX" || name == "MIN" || name == "AVERAGE"
}

// function makes a call of the functions that bearings and verdicts are made of.
func (c *compiler) function(name string, args []sum) (sum, bool) {
	var do func(args []*quick, binary bool) quick
	switch {
	case name == "IF" && len(args) == 3:
		do = func(args []*quick, _ bool) quick {
			switch is := args[0]; {
			case is.kind != isBool:
				return unknown()
			case is.exact:
				return *args[1]
			}
			return *args[2]
		}
	case name == "NOT" && len(args) == 1:
		do = func(args []*quick, _ bool) quick {
			if args[0].kind != isBool {
				return unknown()
			}
			return truth(!args[0].exact)
		}
	case (name == "AND" || name == "OR") && len(args) > 0:
		do = func(args []*quick, _ bool) quick {
			all := name == "AND"
			for _, v := range args {
				switch {
				case v.kind != isBool:
					return unknown()
				case name == "AND":
					all = all && v.exact
				default:
					all = all || v.exact
				}
			}
			return truth(all)
		}
	case (name == "ROUND" || name == "ROUNDUP" || name == "ROUNDDOWN") && len(args) == 2:
		do = func(args []*quick, binary bool) quick {
			v, places := args[0], args[1]
			if v.kind != isNumber || places.kind != isNumber || !places.whole() || places.nano < 0 || places.nano > 9*nano {
				return unknown()
			}
			return v.round(name, int(places.nano/nano), binary)
		}
	case gathers(name) && len(args) > 0:
		do = func(args []*quick, _ bool) quick { return several(name, args) }
	case name == "ABS" && len(args) == 1:
		do = func(args []*quick, _ bool) quick {
			v := *args[0]
			if v.kind != isNumber {
				return unknown()
			}
			v.nano, v.f = abs(v.nano), math.Abs(v.f)
			return v
		}
	case name == "SQRT" && len(args) == 1:
		do = func(args []*quick, _ bool) quick {
			if args[0].kind != isNumber || args[0].float() <= 0 {
				return unknown()
			}
			return roughly(math.Sqrt(args[0].float()))
		}
	default:
		return nil, false
	}
	slot := c.slot()
	return func(b *block) column {
		columns := make([]column, len(args))
		for i, a := range args {
			columns[i] = a(b)
		}
		if b.sorted {
			if out, ok := b.sortedly(name, slot, columns); ok {
				return out
			}
		}
		return b.each(slot, columns, do)
	}, true
}

// sortedly does what a function does where the columns are of one sort each. ok is false for those
// that it does not know.
func (b *block) sortedly(name string, slot int, args []column) (out column, ok bool) {
	for i := range args {
		if (name == "AND" || name == "OR" || name == "IF" && i == 0) && args[i].sort != truths {
			return out, false
		}
	}
	switch {
	case name == "ROUND" && args[0].sort == exacts && args[1].each == 0 && args[1].sort == exacts:
		return args[0], args[1].most == 0 && args[0].most <= int(args[1].nano[0]/nano)
	case name == "AND" || name == "OR":
		out = b.truths(slot)
		copy(out.is, args[0].is)
		for _, a := range args[1:] {
			for i := range out.is {
				if name == "AND" {
					out.is[i] = out.is[i] && a.is[i]
				} else {
					out.is[i] = out.is[i] || a.is[i]
				}
			}
		}
	case name == "IF" && args[1].sort == texts && args[2].sort == texts:
		out = b.texts(slot)
		for i, is := range args[0].is {
			arm := 2
			if is {
				arm = 1
			}
			out.text[i] = args[arm].text[i&args[arm].each]
		}
	default:
		return out, false
	}
	return out, true
}

// several is a sum, an average, the largest or the smallest.
func several(name string, args []*quick) (all quick) {
	n := 0
	for _, v := range args {
		switch {
		case v.kind == isBlank:
			continue
		case v.kind != isNumber:
			return unknown()
		}
		if n++; n == 1 {
			all = *v
			continue
		}
		if name == "SUM" || name == "AVERAGE" {
			all = all.plus(v, 1)
			continue
		}
		order, ok := all.compare(v, false)
		if !ok && all.float() != v.float() {
			return unknown()
		}
		if order < 0 == (name == "MAX") && order != 0 {
			all = *v
		}
	}
	switch {
	case n == 0:
		return unknown()
	case name == "AVERAGE" && n > 1:
		return roughly(all.float() / float64(n))
	}
	return all
}

// round rounds a number to so many places. It is unknown if it is so close to where rounding
// turns that binary arithmetic does not tell.
func (v *quick) round(how string, places int, binary bool) quick {
	step := tens[9-places]
	if binary || !v.exact {
		turn := 0.0 // in steps from the last one below
		if how == "ROUND" {
			turn = 0.5
		}
		size := math.Abs(v.float()) * nano / float64(step)
		off := math.Abs(size - math.Floor(size) - turn)
		if min(off, 1-off) <= residue*max(1, size) || !v.exact && (places == 9 || size >= 1<<30) {
			return unknown()
		}
	}
	n := abs(v.nano)
	if !v.exact {
		n = int64(math.Abs(v.f) * nano)
		if how == "ROUNDUP" {
			n++ // it is none of the steps, or it would be near
		}
	}
	switch {
	case how == "ROUND":
		n = (n + step/2) / step * step
	case how == "ROUNDUP":
		n = (n + step - 1) / step * step
	default:
		n = n / step * step
	}
	if v.float() < 0 {
		n = -n
	}
	if rounded := typedNumber(n); rounded.exact {
		return rounded
	}
	return unknown()
}
