package units

import (
	"math/big"
	"strings"
)

// number reads a number: a decimal with an optional exponent ("-60.012",
// ".5", "1.2e-3"), a fraction ("3/8"), a mixed number ("1 3/64", "1-3/64"), or an
// exact ratio in parentheses ("(1/3)"). Whether the unit has fractions is asked
// when it is known.
func (s *scanner) number() (*big.Rat, error) {
	start := s.pos
	s.fraction = fraction{}
	if s.accept("(") {
		return s.ratio(start)
	}
	negative := s.sign()
	if s.pos > start {
		s.space()
	}
	first := s.pos // of the digits that a wrong letter would stand among
	whole := s.digits()
	r := new(big.Rat)
	switch {
	case whole != "" && s.fractionFollows():
		if err := s.readFraction(first, whole); err != nil {
			return nil, err
		}
		f := &s.fraction
		f.negative = negative
		r.SetFrac(f.over, f.under)
		if f.whole {
			r.Add(r, new(big.Rat).SetInt(integer(whole)))
		}
		first = s.pos - len(f.below)
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
	if err := s.afterNumber(first); err != nil {
		return nil, err
	}
	if negative {
		r.Neg(r)
	}
	return r, nil
}

// ratio reads the rest of "(n/d)", the form in which Exact writes what has no end
// as a decimal.
func (s *scanner) ratio(start int) (*big.Rat, error) {
	negative := s.sign()
	over := s.digits()
	s.accept("/") // without it there are no digits left
	under := s.digits()
	if over == "" || strings.Trim(under, "0") == "" || !s.accept(")") {
		s.pos = start
		return nil, s.fail("a parenthesis that holds no ratio", "write a "+s.d.number()+", or an exact ratio as in "+s.d.example("(1/3)"))
	}
	r := new(big.Rat).SetFrac(integer(over), integer(under))
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

// readFraction reads the rest of the fraction or mixed number that began with
// whole at start.
func (s *scanner) readFraction(start int, whole string) error {
	f := fraction{start: start, above: whole}
	if !s.accept("/", "⁄") {
		if f.hyphen = s.accept("-"); !f.hyphen {
			s.space()
		}
		f.whole, f.above = true, s.digits()
		s.accept("/", "⁄")
	}
	at := s.pos
	f.below = s.digits()
	f.over, f.under, f.end = integer(f.above), integer(f.below), s.pos
	if f.under.Sign() == 0 {
		s.pos = at
		return s.fail("a fraction over zero", "write a denominator such as 64")
	}
	if f.whole && !f.isProper() {
		s.pos = at
		return s.fail("a mixed number whose fraction is one or more", `write it as "1 3/64", or as a decimal`)
	}
	s.fraction = f
	return nil
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
		return "", parseError(ErrSyntax, s.text, s.pos, "an exponent beyond ±99", "write the number in a fitting unit")
	}
	if value == "" {
		return "", nil
	}
	if negative {
		return "e-" + value, nil
	}
	return "e" + value, nil
}
