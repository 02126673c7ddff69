package job

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
	"unicode"
)

// ErrFormula is the kind of error of a formula that is no signed sum.
var ErrFormula = errors.New("not a signed sum")

// A formula is a signed sum of symbols with rational factors: "C = D - 2*t - d".
type formula struct {
	result string
	terms  []factored
}

type factored struct {
	symbol string
	factor *big.Rat // never zero
}

// longestFormula is how many characters a formula may have.
const longestFormula = 500

// parseFormula reads a formula. A factor stands before its symbol, 2*t, 2t or 1/2*t, or
// divides it, t/2. The error says what is wrong and what to write.
func parseFormula(text string) (formula, error) {
	if len(text) > longestFormula {
		return formula{}, fmt.Errorf("a formula of %d characters: %w; write at most %d", len(text), ErrFormula, longestFormula)
	}
	left, right, ok := strings.Cut(text, "=")
	if !ok {
		return formula{}, fmt.Errorf("%q has no '=': %w; write it as in \"C = D - 2*t - d\"", text, ErrFormula)
	}
	result := strings.TrimSpace(left)
	if s := tokens(result); len(s) != 1 || !isSymbol(s[0]) {
		return formula{}, fmt.Errorf("%q before the '=': %w; one symbol stands there, as in \"C = D - 2*t - d\"", result, ErrFormula)
	}
	p := parser{tokens: tokens(right)}
	f := formula{result: result}
	for first := true; first || p.next() != ""; first = false {
		t, err := p.term(first)
		if err != nil {
			return formula{}, err
		}
		if t.symbol == result {
			return formula{}, fmt.Errorf("%q stands on both sides of the '=': %w; give the result a symbol of its own", result, ErrFormula)
		}
		for _, before := range f.terms {
			if before.symbol == t.symbol {
				return formula{}, fmt.Errorf("symbol %q: %w; write it once, with its factor, as in \"2*%s\"", t.symbol, ErrTwice, t.symbol)
			}
		}
		f.terms = append(f.terms, t)
	}
	return f, nil
}

// A parser goes through the tokens of a sum.
type parser struct {
	tokens []string
	at     int
}

// next is the token that comes next; empty at the end.
func (p *parser) next() string {
	if p.at < len(p.tokens) {
		return p.tokens[p.at]
	}
	return ""
}

// take reports whether the next token is the one given, and goes past it.
func (p *parser) take(token string) bool {
	if p.next() != token {
		return false
	}
	p.at++
	return true
}

// term reads a sign and what it stands before. Only the first term may go without.
func (p *parser) term(first bool) (t factored, err error) {
	t.factor = big.NewRat(1, 1)
	switch {
	case p.take("-"):
		t.factor.SetInt64(-1)
	case p.take("+"), first:
	default:
		return t, fmt.Errorf("%q without a sign before it: %w; write + or -", p.next(), ErrFormula)
	}
	for divide := false; ; {
		if err := p.factor(&t, divide); err != nil {
			return t, err
		}
		switch {
		case p.take("*"):
			divide = false
		case p.take("/"):
			divide = true
		case isSymbol(p.next()) && t.symbol == "": // 2t
			divide = false
		case t.symbol == "":
			return t, fmt.Errorf("a number without a symbol: %w; write a size that is known as a term with a reading of its own", ErrFormula)
		default:
			return t, nil
		}
	}
}

// factor reads a number or a symbol into the term.
func (p *parser) factor(t *factored, divide bool) error {
	token := p.next()
	p.at++
	switch {
	case token == "":
		return fmt.Errorf("it ends where a symbol belongs: %w; write it as in \"C = D - 2*t - d\"", ErrFormula)
	case token == "(", token == ")":
		return fmt.Errorf("brackets: %w; write each term for itself, a/2 + b/2 for (a + b)/2", ErrFormula)
	case isSymbol(token) && divide:
		return fmt.Errorf("a quotient of symbols, by %q: %w; a symbol is only multiplied or divided by numbers", token, ErrFormula)
	case isSymbol(token) && t.symbol != "":
		return fmt.Errorf("a product of two symbols, %q and %q: %w; a symbol is only multiplied or divided by numbers", t.symbol, token, ErrFormula)
	case isSymbol(token):
		t.symbol = token
		return nil
	}
	const mostDigits = 12
	n, ok := new(big.Rat), false
	if len(token) <= mostDigits && token[0] >= '0' && token[0] <= '9' {
		n, ok = n.SetString(token)
	}
	switch {
	case !ok:
		return fmt.Errorf("%q where a symbol or a number belongs: %w; write it as in \"C = D - 2*t - d\"", token, ErrFormula)
	case n.Sign() == 0:
		return fmt.Errorf("a factor of zero: %w; leave the term out", ErrFormula)
	case divide:
		n.Inv(n)
	}
	t.factor.Mul(t.factor, n)
	return nil
}

// isSymbol reports whether a token is a symbol: a letter, then letters, digits and _.
func isSymbol(token string) bool {
	for _, c := range token {
		return unicode.IsLetter(c)
	}
	return false
}

// tokens takes a text apart into symbols, numbers and signs. A dot and a cross multiply,
// and every kind of dash is a minus.
func tokens(text string) []string {
	text = strings.NewReplacer("−", "-", "–", "-", "·", "*", "×", "*").Replace(text)
	var list []string
	word := func(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) || c == '_' || c == '.' }
	began := rune(0) // the first of the word that is being read
	for _, c := range text {
		switch {
		case unicode.IsSpace(c):
			began = 0
		case !word(c):
			list, began = append(list, string(c)), 0
		case began != 0 && (unicode.IsLetter(began) || !unicode.IsLetter(c)):
			list[len(list)-1] += string(c)
		default: // a symbol after a number begins a word of its own
			list, began = append(list, string(c)), c
		}
	}
	return list
}
