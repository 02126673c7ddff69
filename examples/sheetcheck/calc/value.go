package calc

import (
	"math"
	"math/big"
	"strconv"
	"strings"
)

// A Kind is what a Value is.
type Kind uint8

// The kinds of value.
const (
	KindBlank Kind = iota // of an empty cell: 0 where a number is wanted, "" where a text is
	KindNumber
	KindText
	KindLogical
	KindError   // of the sheet's own: #N/A
	KindUnknown // it was not found out, and Why says why
)

// A form is how a number is held.
type form uint8

const (
	binary    form = iota // a binary64
	small                 // a decimal that fits into an int64
	ratio                 // of two big integers
	enclosure             // the number lies between two binary64, proven
	estimate              // the same, where the two are not proven
)

// A Value is what a formula gives. The zero Value is blank.
type Value struct {
	kind   Kind
	form   form
	places int8    // of a small decimal
	code   Code    // of an error
	n      int64   // coefficient of a small decimal; 1 for TRUE
	lo, hi float64 // lo alone for a binary64
	text   string  // of a text; why a value is unknown
	rat    *big.Rat
}

func textValue(s string) Value { return Value{kind: KindText, text: s} }

func logical(b bool) Value {
	v := Value{kind: KindLogical}
	if b {
		v.n = 1
	}
	return v
}

func failed(c Code) Value { return Value{kind: KindError, code: c} }

func unknown(why string) Value { return Value{kind: KindUnknown, text: why} }

// Kind returns what the value is.
func (v Value) Kind() Kind { return v.kind }

// Code returns the error of a value of KindError.
func (v Value) Code() Code { return v.code }

// Bool returns the value of a logical.
func (v Value) Bool() bool { return v.kind == KindLogical && v.n != 0 }

// Why says why a value is unknown.
func (v Value) Why() string {
	if v.kind != KindUnknown {
		return ""
	}
	return v.text
}

// Rat returns a number exactly; ok is false if it is not known exactly. A binary64 is
// the number that it holds, which is rarely the one that was typed.
func (v Value) Rat() (r *big.Rat, ok bool) {
	if v.kind != KindNumber {
		return nil, false
	}
	switch v.form {
	case small:
		return smallRat(v), true
	case ratio:
		return new(big.Rat).Set(v.rat), true
	case binary:
		r = new(big.Rat).SetFloat64(v.lo)
		return r, r != nil
	}
	if v.form == enclosure && v.lo == v.hi {
		return new(big.Rat).SetFloat64(v.lo), true
	}
	return nil, false
}

// Enclosure returns two numbers between which a number lies. proven is false if they
// are an estimate: a function's binary64 result with a margin of 10⁻¹² of it, far more
// than such functions are off, but more than nobody has proven.
func (v Value) Enclosure() (lo, hi float64, proven bool) {
	if v.kind != KindNumber {
		return math.NaN(), math.NaN(), false
	}
	switch v.form {
	case small, ratio:
		v = enclose(v)
		return v.lo, v.hi, true
	case binary:
		return v.lo, v.lo, true
	}
	return v.lo, v.hi, v.form == enclosure
}

// Float64 returns the nearest binary64 of a number, and NaN for what is none.
func (v Value) Float64() float64 {
	if v.kind != KindNumber {
		return math.NaN()
	}
	switch v.form {
	case small:
		return smallFloat(v.n, v.places)
	case ratio:
		f, _ := v.rat.Float64()
		return f
	case binary:
		return v.lo
	}
	return v.lo + (v.hi-v.lo)/2
}

// size returns how many bytes a value takes beside its own.
func (v Value) size() int {
	if v.kind == KindUnknown {
		return 0 // reasons are shared
	}
	size := len(v.text)
	if v.rat != nil {
		size += (v.rat.Num().BitLen()+v.rat.Denom().BitLen())/8 + 64
	}
	return size
}

// String returns the value as text: a binary64 with the digits that tell it from its
// neighbours, an exact number in full if it ends, and with "≈" if it does not.
func (v Value) String() string {
	switch v.kind {
	case KindNumber:
		return v.number()
	case KindText:
		return v.text
	case KindLogical:
		if v.n != 0 {
			return "TRUE"
		}
		return "FALSE"
	case KindError:
		return v.code.String()
	case KindUnknown:
		return "not known: " + v.text
	}
	return ""
}

func (v Value) number() string {
	switch v.form {
	case binary:
		return strconv.FormatFloat(v.lo, 'g', -1, 64)
	case small, ratio:
		r, _ := v.Rat()
		if places, ends := r.FloatPrec(); ends && places <= 30 {
			return r.FloatString(places)
		}
	}
	return "≈" + strconv.FormatFloat(v.Float64(), 'g', 15, 64)
}

// general writes a number as sheets do where a text is wanted of it: up to 15 digits
// without zeros behind the last, with an exponent from 10²⁰ on and below 10⁻⁹.
func general(f float64) string {
	if f == 0 {
		return "0"
	}
	s := strconv.FormatFloat(f, 'e', 14, 64)
	digits, exponent, _ := strings.Cut(s, "e")
	e, _ := strconv.Atoi(exponent)
	digits = strings.TrimRight(strings.TrimRight(digits, "0"), ".")
	if e < -9 || e >= 20 {
		sign := "+"
		if e < 0 {
			sign, e = "-", -e
		}
		return digits + "E" + sign + pad(strconv.Itoa(e), 2)
	}
	rounded, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return s
	}
	return strconv.FormatFloat(rounded, 'f', max(0, min(14-e, 30)-trailing(s)), 64)
}

// trailing counts the zeros at the end of the digits of "1.200e+00".
func trailing(s string) int {
	digits, _, _ := strings.Cut(s, "e")
	return len(digits) - len(strings.TrimRight(digits, "0"))
}

func pad(s string, width int) string {
	return strings.Repeat("0", max(0, width-len(s))) + s
}
