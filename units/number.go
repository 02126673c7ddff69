package units

import (
	"fmt"
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Bounds on what is read, checked before any number is built.
const (
	maxText     = 512 // bytes of text
	maxExponent = 99  // of a number in scientific form
)

// A scanner reads numbers and units from text, from pos on. It knows the whole
// text, so that an error can name the place in what the user wrote.
type scanner struct {
	text string
	pos  int
	end  int
}

func newScanner(text string) (*scanner, error) {
	if len(text) > maxText {
		return nil, parseError(ErrTooLong, text, maxText,
			fmt.Sprintf("a text of %d bytes", len(text)), fmt.Sprintf("a quantity is written in at most %d", maxText))
	}
	if !utf8.ValidString(text) {
		at := strings.IndexFunc(text, func(r rune) bool { return r == utf8.RuneError })
		return nil, parseError(ErrSyntax, strings.ToValidUTF8(text, "�"), max(at, 0), "a byte that is no UTF-8", "write plain text")
	}
	s := &scanner{text: text, end: len(text)}
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
	return s.fail(what, fmt.Sprintf("write %q", shorten(s.text[:s.pos]+by+s.text[s.pos+size:])))
}

// number reads a number: a decimal with an optional exponent ("-60.012",
// ".5", "1.2e-3"), a fraction ("3/8") or a mixed number ("1 3/64", "1-3/64").
func (s *scanner) number() (*big.Rat, error) {
	start := s.pos
	negative := s.sign()
	if s.pos > start {
		s.space()
	}
	whole := s.digits()
	r := new(big.Rat)
	switch {
	case whole != "" && s.fractionFollows():
		numerator, denominator, err := s.fraction(whole)
		if err != nil {
			return nil, err
		}
		r.SetFrac(numerator, denominator)
	default:
		text := whole
		if s.accept(".") {
			text += "." + s.digits()
		}
		if text == "" || text == "." {
			return nil, s.noNumber(start)
		}
		exponent, err := s.exponent()
		if err != nil {
			return nil, err
		}
		r.SetString(text + exponent)
	}
	if err := s.afterNumber(); err != nil {
		return nil, err
	}
	if negative {
		r.Neg(r)
	}
	return r, nil
}

// sign skips a sign, the typographic minus too, and reports whether it was one.
func (s *scanner) sign() (negative bool) {
	if s.accept("+") {
		return false
	}
	return s.accept("-", "−")
}

// fractionFollows reports whether what stands after an integer makes it a
// fraction or a mixed number.
func (s *scanner) fractionFollows() bool {
	look := *s
	if look.accept("/", "⁄") {
		return look.digits() != ""
	}
	if !look.accept("-") {
		look.space()
		if look.pos == s.pos {
			return false
		}
	}
	return look.digits() != "" && look.accept("/", "⁄") && look.digits() != ""
}

// fraction reads the rest of the fraction or mixed number that began with whole.
func (s *scanner) fraction(whole string) (numerator, denominator *big.Int, err error) {
	n := integer(whole)
	var add *big.Int
	if !s.accept("/", "⁄") {
		if !s.accept("-") {
			s.space()
		}
		add, n = n, integer(s.digits())
		s.accept("/", "⁄")
	}
	at := s.pos
	d := integer(s.digits())
	if d.Sign() == 0 {
		s.pos = at
		return nil, nil, s.fail("a fraction over zero", "write a denominator such as 64")
	}
	if add != nil {
		n.Add(n, add.Mul(add, d))
	}
	return n, d, nil
}

func integer(digits string) *big.Int {
	n, _ := new(big.Int).SetString(digits, 10)
	return n
}

// exponent reads an optional exponent and returns it as written.
func (s *scanner) exponent() (string, error) {
	start := s.pos
	if !s.accept("e", "E") {
		return "", nil
	}
	negative := s.sign()
	digits := s.digits()
	if digits == "" {
		s.pos = start
		return "", nil // not an exponent: the unit's reader will complain
	}
	value := strings.TrimLeft(digits, "0")
	if len(value) > 2 {
		s.pos = start
		return "", parseError(ErrTooLong, s.text, s.pos, "an exponent beyond ±99", "write the number in a fitting unit")
	}
	if value == "" {
		return "", nil
	}
	if negative {
		return "e-" + value, nil
	}
	return "e" + value, nil
}

// noNumber explains why no number begins at start.
func (s *scanner) noNumber(start int) error {
	s.pos = start
	rest := strings.ToLower(strings.TrimLeft(s.rest(), "+-−"))
	switch {
	case rest == "":
		return s.fail("nothing", "write a number and its unit")
	case strings.HasPrefix(rest, "nan"), strings.HasPrefix(rest, "inf"):
		return s.fail("no finite number", "write a number; a reading that was not taken is left out")
	case len(rest) > 1 && rest[0] == 'o' && (isDigit(rest[1]) || rest[1] == '.' || rest[1] == ','):
		s.pos += strings.IndexAny(s.rest(), "oO")
		return s.failReplacing("the letter O", 1, "0")
	case rest[0] == ',' && len(rest) > 1 && isDigit(rest[1]):
		s.pos += strings.IndexByte(s.rest(), ',')
		return s.failReplacing("a decimal comma", 1, "0.")
	}
	r, _ := utf8.DecodeRuneInString(rest)
	if unicode.IsDigit(r) || unicode.IsNumber(r) {
		return s.fail(fmt.Sprintf("%q, which is no plain digit", r), "write the digits 0 to 9, and fractions as 1/2")
	}
	return s.fail("no number", "write a number and then its unit")
}

// afterNumber explains what cannot follow a number, before it is taken for a unit.
func (s *scanner) afterNumber() error {
	rest := s.rest()
	if rest == "" {
		return nil
	}
	next, size := utf8.DecodeRuneInString(rest)
	following := rest[size:]
	digitFollows := following != "" && isDigit(following[0])
	switch {
	case next == ',' && digitFollows:
		return s.failReplacing("a decimal comma", size, ".")
	case next == '.' && digitFollows:
		return s.fail("a second decimal point", "write one number with one point")
	case (next == 'O' || next == 'o') && !strings.HasPrefix(following, "z"):
		return s.failReplacing("the letter O", size, "0")
	case (next == 'l' || next == 'I') && (digitFollows || strings.HasPrefix(following, ".")):
		return s.failReplacing("a letter that looks like 1", size, "1")
	case (next == '_' || next == '\'' || next == '’') && digitFollows:
		return s.failReplacing("a digit separator", size, "")
	case next == '/' || next == '⁄':
		return s.fail("a fraction without a denominator", "write it as 3/8, or as a decimal")
	case unicode.IsNumber(next) && !isDigit(rest[0]):
		return s.fail(fmt.Sprintf("%q, which is no plain digit", next), "write the digits 0 to 9, and fractions as 1/2")
	}
	look := *s
	look.space()
	if look.pos > s.pos && look.pos < s.end && isDigit(look.text[look.pos]) {
		return s.failReplacing("a space inside a number", look.pos-s.pos, "")
	}
	return nil
}
