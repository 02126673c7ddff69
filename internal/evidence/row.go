package evidence

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// Row is one piece of evidence. Its inputs and its unit are reached through methods,
// so that what a check leaves unread is noticed.
type Row struct {
	ID         string
	Check      string
	Want       string // as the source prints it
	Tolerance  Tolerance
	Source     string
	Provenance Provenance
	Note       string

	File string
	Line int

	inputs   []input
	unit     string
	unitRead bool
}

type input struct {
	key, value string
	read       bool
}

// Document returns the source up to its first semicolon: the document without the
// place in it.
func (r *Row) Document() string {
	document, _, _ := strings.Cut(r.Source, ";")
	return strings.TrimSpace(document)
}

// ReadIn returns the work in which the value was read where that is not a print of the
// source: what follows "read in" in the last part of Source. It is empty for any other.
func (r *Row) ReadIn() string {
	i := strings.LastIndex(r.Source, ";")
	if i < 0 {
		return ""
	}
	work, found := strings.CutPrefix(strings.TrimSpace(r.Source[i+1:]), "read in ")
	if !found {
		return ""
	}
	return work
}

// Keys returns the names of the inputs in the order of the file, for checks that
// take any number of them. It does not count as reading them.
func (r *Row) Keys() []string {
	keys := make([]string, len(r.inputs))
	for i, in := range r.inputs {
		keys[i] = in.key
	}
	return keys
}

// Has tells whether the row has an input of that name, for one that may be left
// out. It does not count as reading it.
func (r *Row) Has(key string) bool {
	for _, in := range r.inputs {
		if in.key == key {
			return true
		}
	}
	return false
}

// Input returns the text of an input. The error for one that is missing has the
// kind [ErrInput].
func (r *Row) Input(key string) (string, error) {
	for i := range r.inputs {
		if r.inputs[i].key == key {
			r.inputs[i].read = true
			return r.inputs[i].value, nil
		}
	}
	return "", r.errorf(ErrInput, "no input %q among %s", key, list(r.Keys()))
}

// Parse returns an input as read by a parser of the library:
//
//	bore, err := evidence.Parse(row, "bore", units.ParseLengthInterval)
//
// The error of a missing input or a failing parser has the kind [ErrInput].
func Parse[T any](r *Row, key string, parse func(string) (T, error)) (T, error) {
	var none T
	text, err := r.Input(key)
	if err != nil {
		return none, err
	}
	v, err := parse(text)
	if err != nil {
		e := r.errorf(ErrInput, "%s=%s", key, text)
		e.Cause = err
		return none, e
	}
	return v, nil
}

// Decimal returns an input as an exact number.
func (r *Row) Decimal(key string) (decimal.Decimal, error) { return Parse(r, key, parseNumber) }

// Int returns an input as a whole number.
func (r *Row) Int(key string) (int, error) { return Parse(r, key, strconv.Atoi) }

// Float64 returns an input as the float64 nearest to it.
func (r *Row) Float64(key string) (float64, error) {
	d, err := r.Decimal(key)
	return d.InexactFloat64(), err
}

// Unit returns the unit in which the check must give its result; empty for a bare
// number or a text.
func (r *Row) Unit() string {
	r.unitRead = true
	return r.unit
}

// ExpectUnit is for a check that computes in one unit alone: the error for any other
// has the kind [ErrUnit].
func (r *Row) ExpectUnit(unit string) error {
	if got := r.Unit(); got != unit {
		return r.errorf(ErrUnit, "the row wants %q and the check computes %q", got, unit)
	}
	return nil
}

// Unread returns what no check has read so far: the names of inputs, and "unit" in
// parentheses for a unit that was not looked at.
func (r *Row) Unread() []string {
	var unread []string
	for _, in := range r.inputs {
		if !in.read {
			unread = append(unread, in.key)
		}
	}
	if r.unit != "" && !r.unitRead {
		unread = append(unread, "(unit)")
	}
	return unread
}

// forget makes the row as if no check had read it.
func (r *Row) forget() {
	for i := range r.inputs {
		r.inputs[i].read = false
	}
	r.unitRead = false
}

func (r *Row) errorf(kind error, format string, args ...any) *Error {
	return &Error{File: r.File, Line: r.Line, ID: r.ID, Kind: kind, Detail: fmt.Sprintf(format, args...)}
}

func list(words []string) string {
	if len(words) == 0 {
		return "none"
	}
	return strings.Join(words, ", ")
}
