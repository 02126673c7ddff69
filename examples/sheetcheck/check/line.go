package check

import (
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
	nano  int64 // of an exact number, in units of its ninth place
	exact bool
	f     float64
	text  string
}

const nano = 1_000_000_000

// mostNano bounds exact numbers, so that sums of a few do not overflow.
const mostNano = math.MaxInt64 / 64

func exactly(n int64) quick {
	return quick{kind: isNumber, nano: n, exact: -mostNano < n && n < mostNano, f: float64(n) / nano}
}

func (v quick) negative() quick {
	v.nano, v.f = -v.nano, -v.f
	return v
}

func (v quick) plus(w quick) quick {
	if v.exact && w.exact {
		return exactly(v.nano + w.nano)
	}
	return roughly(v.f + w.f)
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
		return exactly(n * tens[9-places]), places, true
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

// A scene is a row, and the single cells that all rows read.
type scene struct {
	row   *sheet.Row
	fixed map[sheet.Place]quick
}

// compile makes a sum of a formula as it reads in its first line. ok is false if it reads what
// is not in its row, or does what is not done quickly.
func compile(e calc.Expr, first int, fixed map[sheet.Place]quick) (made sum, ok bool) {
	switch e := e.(type) {
	case *calc.Number:
		c := &sheet.Cell{Text: e.Text}
		v, _, ok := quickOf(c)
		return func(*scene) (quick, bool) { return v, true }, ok && v.kind == isNumber
	case *calc.Text:
		v := quick{kind: isText, text: e.Value}
		return func(*scene) (quick, bool) { return v, true }, true
	case *calc.Area:
		return reading(e, first, fixed)
	case *calc.Unary:
		x, ok := compile(e.X, first, fixed)
		if e.Op != calc.Minus {
			return x, ok && e.Op == calc.Plus
		}
		return func(s *scene) (quick, bool) {
			v, ok := x(s)
			return v.negative(), ok && v.kind == isNumber
		}, ok
	case *calc.Binary:
		x, okX := compile(e.X, first, fixed)
		y, okY := compile(e.Y, first, fixed)
		if !okX || !okY {
			return nil, false
		}
		if e.Op.Comparison() {
			return comparison(e.Op, x, y), true
		}
		return operation(e.Op, x, y)
	case *calc.Call:
		var args []sum
		for _, a := range e.Args {
			made, ok := compile(a, first, fixed)
			if !ok {
				return nil, false
			}
			args = append(args, made)
		}
		return function(e.Name, args)
	}
	return nil, false
}

// reading reads a cell of the row, or a single one that all rows read.
func reading(a *calc.Area, first int, fixed map[sheet.Place]quick) (sum, bool) {
	if !a.Single() || a.Sheet != "" || a.File != "" {
		return nil, false
	}
	at := a.From.Place
	switch {
	case a.From.RowFixed:
		fixed[at] = quick{}
		return func(s *scene) (quick, bool) { v, ok := s.fixed[at]; return v, ok }, true
	case at.Row != first:
		return nil, false
	}
	return func(s *scene) (quick, bool) {
		v, _, ok := quickOf(s.row.Cell(at.Column))
		return v, ok
	}, true
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
				return exactly(a.nano * n)
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

// compare compares two numbers. ok is false if they are so close that binary arithmetic does not tell.
func (v quick) compare(w quick) (order int, ok bool) {
	off := v.f - w.f
	if v.exact && w.exact {
		off = float64(v.nano - w.nano)
	} else if math.Abs(off) <= residue*max(1, math.Abs(v.f)) || math.IsNaN(off) {
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

func comparison(op calc.Op, x, y sum) sum {
	return func(s *scene) (quick, bool) {
		a, okA := x(s)
		b, okB := y(s)
		if !okA || !okB || a.kind != isNumber || b.kind != isNumber {
			return quick{}, false
		}
		order, ok := a.compare(b)
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

// function makes a call of the functions that bearings and verdicts are made of.
func function(name string, args []sum) (sum, bool) {
	number := func(s *scene, i int) (quick, bool) {
		v, ok := args[i](s)
		return v, ok && v.kind == isNumber
	}
	fold := func(do func(a, b quick) (quick, bool)) (sum, bool) {
		return func(s *scene) (quick, bool) {
			all, ok := number(s, 0)
			for i := 1; i < len(args) && ok; i++ {
				var v quick
				if v, ok = number(s, i); ok {
					all, ok = do(all, v)
				}
			}
			return all, ok
		}, len(args) > 0
	}
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
	case name == "MAX" || name == "MIN":
		return fold(func(a, b quick) (quick, bool) {
			order, ok := a.compare(b)
			if order < 0 == (name == "MAX") {
				return b, ok
			}
			return a, ok
		})
	case name == "SUM":
		return fold(func(a, b quick) (quick, bool) { return a.plus(b), true })
	case name == "ABS" && len(args) == 1:
		return func(s *scene) (quick, bool) {
			v, ok := number(s, 0)
			v.nano, v.f = abs(v.nano), math.Abs(v.f)
			return v, ok
		}, true
	}
	return nil, false
}
