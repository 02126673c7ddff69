package units

import (
	"math/big"
	"strings"
)

// number reads a number: a decimal with an optional exponent ("-60.012",
// ".5", "1.2e-3"), a fraction ("3/8") or a mixed number ("1 3/64", "1-3/64").
func (s *scanner) number() (*big.Rat, error) {
	start := s.pos
	negative := s.sign()
	if s.pos > start {
		s.space()
	}
	first := s.pos // of the digits that a wrong letter would stand among
	whole := s.digits()
	r := new(big.Rat)
	switch {
	case whole != "" && s.fractionFollows():
		numerator, denominator, err := s.fraction(whole)
		if err != nil {
			return nil, err
		}
		r.SetFrac(numerator, denominator)
		first = s.pos - len(denominator.String())
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
