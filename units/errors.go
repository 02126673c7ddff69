package units

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"
)

// The kinds of error in what was parsed. A *ParseError wraps one of them.
var (
	ErrSyntax         = errors.New("not a quantity")
	ErrNoUnit         = errors.New("no unit")
	ErrUnknownUnit    = errors.New("unknown unit")
	ErrWrongDimension = errors.New("unit of another dimension")
	ErrTooLong        = errors.New("number too long or exponent too large")
	ErrOrder          = errors.New("lower bound above upper bound")
	ErrBelowZero      = errors.New("below absolute zero")
)

// ErrEmpty is the error of what needs an interval and got the empty one: a value
// that was not measured, not typed or not found. Of a text it is the kind where the
// text says so itself ("none").
var ErrEmpty = errors.New("an empty interval, which holds no value")

// ErrNotFinite is the error of OfFloat64 for NaN and the infinities.
var ErrNotFinite = errors.New("not a finite number")

// ErrNoRoom is the error of Inward when no value with the places asked for lies
// between the limits.
var ErrNoRoom = errors.New("no room between the limits at so few places")

// A ParseError says what is wrong with a text, where, and what to write
// instead.
type ParseError struct {
	Input  string // the text, shortened if long
	Column int    // where in it, in characters from 1
	What   string // what was found: "a decimal comma"
	Fix    string // what to write instead: `write "60.012 mm"`
	Kind   error  // ErrSyntax, ErrNoUnit, …
}

func (e *ParseError) Error() string {
	s := fmt.Sprintf("%q, column %d: %s", e.Input, e.Column, e.What)
	if e.Fix != "" {
		s += "; " + e.Fix
	}
	return s
}

// Unwrap returns the error's kind.
func (e *ParseError) Unwrap() error { return e.Kind }

// shown is how many bytes of a text an error quotes.
const shown = 64

// parseError makes the error for the byte offset in text.
func parseError(kind error, text string, offset int, what, fix string) *ParseError {
	offset = min(offset, len(text))
	for offset > 0 && offset < len(text) && !utf8.RuneStart(text[offset]) {
		offset-- // a place in the middle of a character is the character's
	}
	column := utf8.RuneCountInString(text[:offset]) + 1
	return &ParseError{Input: strings.ToValidUTF8(shorten(text), "\uFFFD"), Column: column, What: what, Fix: fix, Kind: kind}
}

// shorten cuts a long text at a rune boundary, on a copy, so that an error does
// not hold on to a large input.
func shorten(text string) string {
	if len(text) <= shown {
		return text
	}
	end := shown
	for end > 0 && !utf8.RuneStart(text[end]) {
		end--
	}
	return strings.Clone(text[:end]) + "…"
}

// An Error says what is wrong with what was given: what it was given for, what
// was found, and what to give instead. Every package of the library reports
// bad input by it; its Kind is a sentinel of the package, for errors.Is.
type Error struct {
	Kind  error  // what kind of fault it is
	Where string // what it was given for: "feeler set"
	Found string // what was given: "0.15 mm after 0.2 mm"
	Fix   string // what to give instead
}

func (e *Error) Error() string {
	s := e.Kind.Error()
	if e.Where != "" {
		s = e.Where + ": " + s
	}
	if e.Found != "" {
		s += ": " + e.Found
	}
	if e.Fix != "" {
		s += "; " + e.Fix
	}
	return s
}

// Unwrap returns the kind.
func (e *Error) Unwrap() error { return e.Kind }
