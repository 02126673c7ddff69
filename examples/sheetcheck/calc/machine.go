package calc

import (
	"fmt"
	"math"
	"math/big"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// A machine does the arithmetic of one of the two values: exactly, or in binary64.
type machine struct {
	e      *Evaluator
	binary bool
	sums   map[sumKey]*sums
	finds  map[area]*finder
}

func newMachine(e *Evaluator, binary bool) machine {
	return machine{e: e, binary: binary, sums: map[sumKey]*sums{}, finds: map[area]*finder{}}
}

// typed returns the value of a cell without a formula.
func (m *machine) typed(c *sheet.Cell) Value {
	if c == nil || c.Text == "" {
		return Value{}
	}
	if c.AsText {
		return textValue(c.Text)
	}
	if v, ok := m.numeral(c.Text); ok {
		return v
	}
	if v, ok := m.numeral(c.Pointed()); ok {
		return v
	}
	switch c.Text {
	case "TRUE", "FALSE":
		return logical(c.Text == "TRUE")
	}
	if c.Text[0] == '#' {
		for code := ErrNull; code <= lastCode; code++ {
			if c.Text == code.String() {
				return failed(code)
			}
		}
	}
	return textValue(c.Text)
}

// numeral reads a number as it is written in a file or formula.
func (m *machine) numeral(text string) (Value, bool) {
	if m.binary {
		return binaryOf(text)
	}
	return typed(text)
}

// cell returns the value of a cell. If its formula is not evaluated yet, the cell is
// noted as needed, and what is returned does not count.
func (m *machine) cell(index int, at sheet.Place) Value {
	if m.e.tick(1); m.e.stopped != nil {
		m.e.missing++ // so that nothing is kept of it
		return unknown("the work was stopped")
	}
	c := m.e.book.Cell(index, at)
	if c == nil {
		return Value{}
	}
	if c.Formula == "" {
		return m.typed(c)
	}
	key := sheet.KeyOf(index, at)
	state := m.e.known.At(key)
	if state == unseen || state == open {
		if m.e.missing++; len(m.e.needs) < 2*mostWaiting {
			m.e.needs = append(m.e.needs, key)
		}
		return unknown("not yet")
	}
	p := m.e.known.pair(state)
	if m.binary {
		return p.Binary
	}
	return p.Exact
}

// int makes a number of an integer.
func (m *machine) int(n int) Value {
	if m.binary {
		return binaryValue(float64(n))
	}
	return whole(int64(n))
}

// float makes a number of a function's binary64 result.
func (m *machine) float(f float64) Value {
	if m.binary {
		return binaryValue(f)
	}
	return estimated(f)
}

// rat makes a number of a ratio.
func (m *machine) rat(r *big.Rat) Value {
	if m.binary {
		f, _ := r.Float64()
		return binaryValue(f)
	}
	return ratValue(new(big.Rat).Set(r))
}

// number converts a value to a number: an empty cell is 0, TRUE is 1. What comes back
// is a number, an error or unknown.
func (m *machine) number(v Value) Value {
	switch v.kind {
	case KindBlank:
		return m.int(0)
	case KindLogical:
		return m.int(int(v.n))
	case KindText:
		return m.fromText(v.text)
	}
	return v
}

// fromText converts a text to a number. What a program makes of a text that is not
// plain digits depends on the country that it is set to.
func (m *machine) fromText(s string) Value {
	trimmed := strings.TrimSpace(s)
	if n, ok := m.numeral(trimmed); ok && trimmed[0] != '\'' {
		return n
	}
	if percent, ok := strings.CutSuffix(trimmed, "%"); ok {
		if n, ok := m.numeral(strings.TrimSpace(percent)); ok {
			return m.div(n, m.int(100))
		}
	}
	if !strings.ContainsAny(s, "0123456789") {
		return failed(ErrValue)
	}
	month := false
	for word := range strings.FieldsFuncSeq(strings.ToLower(s), func(r rune) bool { return r < 'a' || r > 'z' }) {
		if len(word) >= 3 && strings.Contains("jan feb mar apr may jun jul aug sep oct nov dec", word[:3]) || word == "am" || word == "pm" {
			month = true
			continue
		}
		if word != "e" {
			return failed(ErrValue)
		}
	}
	if month || strings.ContainsAny(s, ",.:/-'€$£") {
		return unknown(fmt.Sprintf("whether %q is a number depends on the country that the program is set to", s))
	}
	return failed(ErrValue)
}

// logical converts a value to TRUE or FALSE. What comes back is that, an error or
// unknown.
func (m *machine) logical(v Value) Value {
	switch v.kind {
	case KindBlank:
		return logical(false)
	case KindNumber:
		order, ok := m.cmp(v, m.int(0))
		if !ok {
			return undecided()
		}
		return logical(order != 0)
	case KindText:
		switch strings.ToUpper(v.text) {
		case "TRUE":
			return logical(true)
		case "FALSE":
			return logical(false)
		}
		return failed(ErrValue)
	}
	return v
}

// text converts a value to a text. What comes back is that, an error or unknown.
func (m *machine) text(v Value) Value {
	switch v.kind {
	case KindBlank:
		return textValue("")
	case KindNumber:
		if v.form >= enclosure && general(v.lo) != general(v.hi) {
			return unknown("a text of a number whose digits are not all known")
		}
		return textValue(general(v.Float64()))
	case KindLogical:
		return textValue(v.String())
	}
	return v
}

func undecided() Value {
	return unknown("a comparison hangs on digits that are not known")
}

// bad returns the first value of which nothing can be made: unknown before an error.
func bad(values ...Value) (Value, bool) {
	for _, v := range values {
		if v.kind == KindUnknown {
			return v, true
		}
	}
	for _, v := range values {
		if v.kind == KindError {
			return v, true
		}
	}
	return Value{}, false
}

// The four operations, the power and the comparison are of numbers.

func (m *machine) add(a, b Value) Value {
	if m.binary {
		return binaryValue(a.lo + b.lo)
	}
	return exactAdd(a, b)
}

func (m *machine) sub(a, b Value) Value {
	if m.binary {
		return binaryValue(a.lo - b.lo)
	}
	return exactAdd(a, exactNeg(b))
}

func (m *machine) mul(a, b Value) Value {
	if m.binary {
		return binaryValue(a.lo * b.lo)
	}
	return exactMul(a, b)
}

func (m *machine) div(a, b Value) Value {
	if !m.binary {
		return exactDiv(a, b)
	}
	if b.lo == 0 {
		return failed(ErrDiv0)
	}
	return binaryValue(a.lo / b.lo)
}

func (m *machine) neg(a Value) Value {
	if m.binary {
		return binaryValue(-a.lo)
	}
	return exactNeg(a)
}

func (m *machine) pow(a, b Value) Value {
	if !m.binary {
		return exactPower(a, b)
	}
	switch {
	case a.lo == 0 && b.lo == 0:
		return unknown(zeroPower)
	case a.lo == 0 && b.lo < 0:
		return failed(ErrDiv0)
	}
	return binaryValue(math.Pow(a.lo, b.lo))
}

func (m *machine) root(a Value) Value {
	if m.binary {
		return binaryValue(math.Sqrt(a.lo))
	}
	return exactRoot(a)
}

// cmp compares two numbers; ok is false if what is known of them does not tell.
// Binary64 are compared bit by bit. Some programs take two for equal that agree in 15
// digits, each by a rule of its own; none of these is in a standard.
func (m *machine) cmp(a, b Value) (order int, ok bool) {
	if m.binary {
		return compare(a.lo, b.lo), true
	}
	return exactCmp(a, b)
}

// sign returns the sign of a number.
func (m *machine) sign(a Value) (order int, ok bool) { return m.cmp(a, m.int(0)) }

// order compares two values as sheets do: numbers before texts before FALSE before
// TRUE, texts without regard to capitals; an empty cell is 0, "" or FALSE, as the
// other one is: OpenFormula 1.3, infix operators of comparison; ISO/IEC 29500-1, 18.17. v is an error or
// unknown if one of them is, or if it cannot be told.
func (m *machine) order(a, b Value) (order int, v Value, ok bool) {
	if v, is := bad(a, b); is {
		return 0, v, false
	}
	a, b = alike(a, b), alike(b, a)
	if a.kind != b.kind {
		return compare(int(a.kind), int(b.kind)), v, true
	}
	switch a.kind {
	case KindNumber:
		if order, ok = m.cmp(a, b); !ok {
			return 0, undecided(), false
		}
		return order, v, true
	case KindText:
		if a.text == b.text {
			return 0, v, true
		}
		return compare(strings.ToLower(a.text), strings.ToLower(b.text)), v, true
	}
	return compare(a.n, b.n), v, true
}

// alike makes an empty cell what the other value is.
func alike(v, other Value) Value {
	if v.kind != KindBlank {
		return v
	}
	switch other.kind {
	case KindText:
		return textValue("")
	case KindLogical:
		return logical(false)
	case KindNumber:
		if other.form == binary {
			return binaryValue(0)
		}
		return whole(0)
	}
	return whole(0)
}
