package units

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// The kinds of bad input.
var (
	ErrSyntax         = errors.New("not a quantity") // a text that cannot be read, or a number that is not finite
	ErrNoUnit         = errors.New("no unit")
	ErrWrongDimension = errors.New("unit of another dimension")
	ErrOrder          = errors.New("lower bound above upper bound")
	ErrEmpty          = errors.New("an empty interval, which holds no value") // where one is needed, or nothing else is left
)

// An Error describes bad input: where it was, what was found, and what to give instead.
// Every package of the library reports bad input with it. Its Kind is a sentinel of the
// package, for errors.Is.
type Error struct {
	Kind   error  // what kind of fault it is
	Where  string // what it was given for: "feeler set"; of a text that was read, the text in quotes, shortened if long
	Column int    // where in the text, in characters from 1; 0 if it is not about a place in one
	Found  string // what was given: "0.15 mm after 0.2 mm", "a decimal comma"
	Fix    string // what to give instead
}

func (e *Error) Error() string {
	var parts []string
	switch {
	case e.Column > 0: // what was found there says enough of the kind
		parts = append(parts, fmt.Sprintf("%s, column %d", e.Where, e.Column))
	case e.Where != "":
		parts = append(parts, e.Where, e.Kind.Error())
	default:
		parts = append(parts, e.Kind.Error())
	}
	if e.Found != "" {
		parts = append(parts, e.Found)
	}
	s := strings.Join(parts, ": ")
	if e.Fix != "" {
		s += "; " + e.Fix
	}
	return strings.ToValidUTF8(s, "\uFFFD") // what was found may be bytes that are no text
}

func (e *Error) Unwrap() error { return e.Kind }

// shown is how many bytes of a text an error quotes.
const shown = 64

// parseError makes the error for the byte offset in text.
func parseError(kind error, text string, offset int, found, fix string) *Error {
	offset = min(offset, len(text))
	for offset > 0 && offset < len(text) && !utf8.RuneStart(text[offset]) {
		offset-- // a place in the middle of a character is the character's
	}
	where := strconv.Quote(strings.ToValidUTF8(shorten(text), "\uFFFD"))
	return &Error{Kind: kind, Where: where, Column: utf8.RuneCountInString(text[:offset]) + 1, Found: found, Fix: fix}
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
