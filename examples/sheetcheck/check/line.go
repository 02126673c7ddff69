package check

import (
	"cmp"
	"math"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A quick is a value as the rows that stream by are computed with: a number to nine places
// where it has no more, else a binary64. It serves to pass what is right; what is not plainly
// right is looked at closely, by package calc.
type quick struct {
	kind  valueKind
	exact bool
	clean bool  // no arithmetic came before, so that the binary64 is the one nearest to the exact number
	nano  int64 // of an exact number, in units of its ninth place
	f     float64
	text  string
}

const nano = 1_000_000_000

// mostNano bounds exact numbers, so that sums of a few do not overflow.
const mostNano = math.MaxInt64 / 64

func exactly(n int64) quick {
	return quick{kind: isNumber, nano: n, exact: -mostNano < n && n < mostNano, f: float64(n) / nano}
}

// typedNumber is an exact number as it is typed or rounded to.
func typedNumber(n int64) quick {
	v := exactly(n)
	v.clean = v.exact && abs(n) < 1<<53
	return v
}

// whole reports whether a number is an integer, which binary arithmetic keeps.
func (v quick) whole() bool { return v.clean && v.nano%nano == 0 }

func (v quick) negative() quick {
	v.nano, v.f = -v.nano, -v.f
	return v
}

func (v quick) plus(w quick) quick {
	if !v.exact || !w.exact {
		return roughly(v.f + w.f)
	}
	sum := exactly(v.nano + w.nano)
	sum.clean = v.whole() && w.whole()
	return sum
}

func roughly(f float64) quick { return quick{kind: isNumber, f: f} }

// tens are the powers of ten.
var tens = [...]int64{1, 10, 100, 1000, 10_000, 100_000, 1_000_000, 10_000_000, 100_000_000, 1_000_000_000}

// quickOf reads a cell. ok is false for a number that needs a closer look.
func quickOf(c *sheet.Cell) (v quick, places int, ok bool) {
	if c.AsText {
		return quick{kind: isText, text: c.Text}, 0, true
	}
	if n, places, ok := c.Plain(); ok {
		if places > 9 || n >= mostNano/tens[9-places] || n <= -mostNano/tens[9-places] {
			return v, places, false
		}
		return typedNumber(n * tens[9-places]), places, true
	}
	switch c.Kind() {
	case sheet.KindNone:
		return quick{}, 0, true
	case sheet.KindText:
		return quick{kind: isText, text: c.Text}, 0, true
	case sheet.KindNumber: // as a workbook writes binary numbers
		text, _ := c.Numeral()
		_, behind, _ := strings.Cut(text, ".")
		w := valueOf(c)
		return roughly(w.number), len(behind), w.kind == isNumber
	}
	return v, 0, false
}

// A sum computes a formula for the current row; ok is false if it needs a closer look.
type sum func(s *scene) (v quick, ok bool)

// A scene is a row of a table.
type scene struct {
	row    *sheet.Row
	table  *streamed
	binary bool // a claim of the row has a formula, so that a last bit may count
	wrong  bool // a claim plainly disagrees
}

// right returns what one of the row's claims should be.
func (s *scene) right(claim int) (quick, bool) {
	w := &s.table.worked[claim]
	if w.row != s.row.Number {
		w.row, w.known = s.row.Number, false // which it stays for claims that stand on one another in a ring
		w.value, w.known = s.table.claims[claim].value(s)
	}
	return w.value, w.known
}

// A worked is what a claim should be in the row that was worked out last.
type worked struct {
	row   int
	known bool
	value quick
}

// A fixedCell is a cell that all rows read.
type fixedCell struct {
	cellKey
	value quick
	known bool // else the rows that read it need a closer look
}

// A compiler makes sums of the formulas of a table.
type compiler struct {
	*streamed
	index   int                                    // of its sheet
	sheetOf func(name string) (index int, ok bool) // nil where rows of one sheet stream by
	ranges  bool                                   // of cells in the row may be read
	reads   map[int]bool                           // columns, in the row
}

// compile makes a sum of a formula as it reads in its first line. ok is false if it reads what
// is not in its row, or does what is not done quickly.
func (c *compiler) compile(e calc.Expr) (made sum, ok bool) {
	switch e := e.(type) {
	case *calc.Number:
		c := &sheet.Cell{Text: e.Text}
		v, _, ok := quickOf(c)
		return func(*scene) (quick, bool) { return v, true }, ok && v.kind == isNumber
	case *calc.Text:
		v := quick{kind: isText, text: e.Value}
		return func(*scene) (quick, bool) { return v, true }, true
	case *calc.Area:
		return c.reading(e)
	case *calc.Unary:
		x, ok := c.compile(e.X)
		if e.Op != calc.Minus {
			return x, ok && e.Op == calc.Plus
		}
		return func(s *scene) (quick, bool) {
			v, ok := x(s)
			return v.negative(), ok && v.kind == isNumber
		}, ok
	case *calc.Binary:
		x, okX := c.compile(e.X)
		y, okY := c.compile(e.Y)
		if !okX || !okY {
			return nil, false
		}
		if e.Op.Comparison() {
			return comparison(e.Op, x, y, c.plain(e.X) && c.plain(e.Y)), true
		}
		return operation(e.Op, x, y)
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
				made = filled(made) // a cell that is named is a reading that should be there
			}
			args = append(args, made)
		}
		return function(e.Name, args)
	}
	return nil, false
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
		return func(*scene) (quick, bool) { return cell.value, cell.known }, true
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
	cell := &fixedCell{cellKey: key}
	c.fixed = append(c.fixed, cell)
	return cell
}

// inRow reads a cell of the row: of a claim, what it should be.
func (c *compiler) inRow(column int) sum {
	c.reads[column] = true
	t := c.streamed
	return func(s *scene) (quick, bool) {
		cell := s.row.Cell(column)
		if column < len(t.claimIn) && t.claimIn[column] > 0 {
			if t.same != nil && cell.Blank() { // a formula reads it as 0
				return quick{}, false
			}
			return s.right(t.claimIn[column] - 1)
		}
		if cell.Formula != "" && t.same != nil {
			return quick{}, false
		}
		v, _, ok := quickOf(cell)
		return v, ok
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

func operation(op calc.Op, x, y sum) (sum, bool) {
	var do func(a, b quick) quick
	switch op {
	case calc.Add:
		do = quick.plus
	case calc.Subtract:
		do = func(a, b quick) quick { return a.plus(b.negative()) }
	case calc.Multiply:
		do = func(a, b quick) quick {
			if b.nano%nano != 0 {
				a, b = b, a
			}
			if n := b.nano / nano; a.exact && b.exact && b.nano%nano == 0 && (n == 0 || abs(a.nano) < mostNano/abs(n)) {
				product := exactly(a.nano * n)
				product.clean = a.whole() && b.whole()
				return product
			}
			return roughly(a.f * b.f)
		}
	case calc.Divide:
		do = func(a, b quick) quick { return roughly(a.f / b.f) } // beyond all numbers if b is 0, and looked at closely
	default:
		return nil, false
	}
	return func(s *scene) (quick, bool) {
		a, okA := x(s)
		b, okB := y(s)
		return do(a, b), okA && okB && a.kind == isNumber && b.kind == isNumber
	}, true
}

func abs(n int64) int64 { return max(n, -n) }

// compare compares two numbers. ok is false if they are so close that binary arithmetic does
// not tell; exact numbers are told apart unless binary arithmetic counts.
func (v quick) compare(w quick, binary bool) (order int, ok bool) {
	off := v.f - w.f
	if v.exact && w.exact && (!binary || v.clean && w.clean) {
		return cmp.Compare(v.nano, w.nano), true
	}
	if math.Abs(off) <= residue*max(1, math.Abs(v.f)) || math.IsNaN(off) {
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
func comparison(op calc.Op, x, y sum, plain bool) sum {
	return func(s *scene) (quick, bool) {
		a, okA := x(s)
		b, okB := y(s)
		if !okA || !okB {
			return quick{}, false
		}
		if a.kind != isNumber || b.kind != isNumber {
			same, ok := a.alike(b)
			return truth(same == (op == calc.Equal)), ok && plain && (op == calc.Equal || op == calc.NotEqual)
		}
		order, ok := a.compare(b, s.binary)
		switch op {
		case calc.Equal:
			return truth(order == 0), ok
		case calc.NotEqual:
			return truth(order != 0), ok
		case calc.Less:
			return truth(order < 0), ok
		case calc.LessEqual:
			return truth(order <= 0), ok
		case calc.Greater:
			return truth(order > 0), ok
		}
		return truth(order >= 0), ok
	}
}

// alike compares values of which one is a text: with another text, a blank cell or a number.
func (v quick) alike(w quick) (same, ok bool) {
	if v.kind != isText {
		v, w = w, v
	}
	switch {
	case v.kind != isText:
		return false, false
	case w.kind == isBlank:
		return v.text == "", true
	case w.kind == isText:
		return strings.EqualFold(v.text, w.text), true
	}
	return false, w.kind == isNumber
}

// filled reads a cell that may not be blank.
func filled(read sum) sum {
	return func(s *scene) (quick, bool) {
		v, ok := read(s)
		return v, ok && v.kind != isBlank
	}
}

// gathers reports whether a function takes ranges of cells, and leaves out blank ones.
func gathers(name string) bool {
	return name == "SUM" || name == "MAX" || name == "MIN" || name == "AVERAGE"
}

// function makes a call of the functions that bearings and verdicts are made of.
func function(name string, args []sum) (sum, bool) {
	switch {
	case name == "IF" && len(args) == 3:
		return func(s *scene) (quick, bool) {
			c, ok := args[0](s)
			if !ok || c.kind != isBool {
				return c, false
			}
			if c.exact {
				return args[1](s)
			}
			return args[2](s)
		}, true
	case name == "NOT" && len(args) == 1:
		return func(s *scene) (quick, bool) {
			v, ok := args[0](s)
			return truth(!v.exact), ok && v.kind == isBool
		}, true
	case (name == "AND" || name == "OR") && len(args) > 0:
		return func(s *scene) (quick, bool) {
			all := name == "AND"
			for _, a := range args {
				v, ok := a(s)
				if !ok || v.kind != isBool {
					return v, false
				}
				if name == "AND" {
					all = all && v.exact
				} else {
					all = all || v.exact
				}
			}
			return truth(all), true
		}, true
	case (name == "ROUND" || name == "ROUNDUP" || name == "ROUNDDOWN") && len(args) == 2:
		return func(s *scene) (quick, bool) {
			v, ok := args[0](s)
			places, okPlaces := args[1](s)
			if !ok || !okPlaces || v.kind != isNumber || !places.whole() || places.nano < 0 || places.nano > 9*nano {
				return v, false
			}
			return v.round(name, int(places.nano/nano), s.binary)
		}, true
	case gathers(name) && len(args) > 0:
		return func(s *scene) (all quick, ok bool) {
			n := 0
			for _, a := range args {
				v, ok := a(s)
				switch {
				case !ok:
					return v, false
				case v.kind == isBlank:
					continue
				case v.kind != isNumber:
					return v, false
				}
				if n++; n == 1 {
					all = v
					continue
				}
				if name == "SUM" || name == "AVERAGE" {
					all = all.plus(v)
					continue
				}
				order, ok := all.compare(v, false)
				if !ok && all.f != v.f {
					return v, false
				}
				if order < 0 == (name == "MAX") && order != 0 {
					all = v
				}
			}
			if name == "AVERAGE" && n > 1 {
				all = roughly(all.f / float64(n))
			}
			return all, n > 0
		}, true
	case name == "ABS" && len(args) == 1:
		return func(s *scene) (quick, bool) {
			v, ok := args[0](s)
			v.nano, v.f = abs(v.nano), math.Abs(v.f)
			return v, ok && v.kind == isNumber
		}, true
	case name == "SQRT" && len(args) == 1:
		return func(s *scene) (quick, bool) {
			v, ok := args[0](s)
			return roughly(math.Sqrt(v.f)), ok && v.kind == isNumber && v.f > 0
		}, true
	}
	return nil, false
}

// round rounds a number to so many places. ok is false if it is so close to where rounding
// turns that binary arithmetic does not tell.
func (v quick) round(how string, places int, binary bool) (quick, bool) {
	step := tens[9-places]
	if binary || !v.exact {
		turn := 0.0 // in steps from the last one below
		if how == "ROUND" {
			turn = 0.5
		}
		size := math.Abs(v.f) * nano / float64(step)
		off := math.Abs(size - math.Floor(size) - turn)
		if min(off, 1-off) <= residue*max(1, size) || !v.exact && (places == 9 || size >= 1<<30) {
			return v, false
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
	if v.f < 0 {
		n = -n
	}
	rounded := typedNumber(n)
	return rounded, rounded.exact
}
