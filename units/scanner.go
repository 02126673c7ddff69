package units

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Bounds on what is read, checked before any number is built.
const (
	maxText     = 512      // bytes of a text that a person writes
	maxExchange = 48 << 10 // bytes of an exchange form: two bounds of maxBits each, in decimal digits
	maxExponent = 99       // of a number in scientific form
)

// A scanner reads numbers and units of a dimension from text, from pos on. It
// knows the whole text, so that an error can name the place in what the user wrote.
type scanner struct {
	d    *dimension
	text string
	pos  int
	end  int

	fraction fraction // the last number, if it was written as one
}

func newScanner(d *dimension, text string, most int) (*scanner, error) {
	if len(text) > maxText && most > maxText && !longExact(text) {
		most = maxText
	}
	if len(text) > most {
		return nil, parseError(ErrSyntax, text, most,
			fmt.Sprintf("a text of %d bytes", len(text)), fmt.Sprintf("a quantity is written in at most %d", most))
	}
	if !utf8.ValidString(text) {
		at := strings.IndexFunc(text, func(r rune) bool { return r == utf8.RuneError })
		return nil, parseError(ErrSyntax, text, at, "a byte that is no UTF-8", "write plain text")
	}
	s := &scanner{d: d, text: text, end: len(text)}
	for s.end > 0 {
		r, size := utf8.DecodeLastRuneInString(text[:s.end])
		if !unicode.IsSpace(r) {
			break
		}
		s.end -= size
	}
	s.space()
	return s, nil
}

// longExact reports whether a long text may be the exact form of something: two
// numbers at the most and their units, digits all but a few bytes.
func longExact(text string) bool {
	others := 0
	for i := range len(text) {
		if !isDigit(text[i]) {
			others++
		}
	}
	return others <= shown
}

// part returns a scanner of what stands from start to end.
func (s *scanner) part(start, end int) *scanner {
	return &scanner{d: s.d, text: s.text, pos: start, end: end}
}

// rest returns what is left to read.
func (s *scanner) rest() string {
	if s.pos >= s.end {
		return ""
	}
	return s.text[s.pos:s.end]
}

// space skips white space, the no-break and thin spaces of printed tables among it.
func (s *scanner) space() {
	for _, r := range s.rest() {
		if !unicode.IsSpace(r) {
			return
		}
		s.pos += utf8.RuneLen(r)
	}
}

// accept skips the first of the prefixes that stands next.
func (s *scanner) accept(prefixes ...string) bool {
	for _, p := range prefixes {
		if strings.HasPrefix(s.rest(), p) {
			s.pos += len(p)
			return true
		}
	}
	return false
}

// digits skips decimal digits and returns them.
func (s *scanner) digits() string {
	start := s.pos
	for s.pos < s.end && isDigit(s.text[s.pos]) {
		s.pos++
	}
	return s.text[start:s.pos]
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// fail makes a syntax error at pos.
func (s *scanner) fail(what, fix string) error {
	return parseError(ErrSyntax, s.text, s.pos, what, fix)
}

// failReplacing makes a syntax error at pos that offers the text with the next
// size bytes replaced.
func (s *scanner) failReplacing(what string, size int, by string) error {
	text := s.text[:s.pos] + by + s.text[s.pos+size:]
	if !s.d.bare() && strings.Trim(text, "0123456789.,+-<>= ") == "" {
		text += " " + s.d.help // or the next thing to say is that it has no unit
	}
	return s.fail(what, fmt.Sprintf("write %q", shorten(text)))
}
