package torque

import (
	"errors"
	"fmt"
	"math/big"
	"regexp"
	"strings"

	"github.com/shopspring/decimal"
)

// ErrFriction is the kind of error for a coefficient of friction or a nut factor that
// cannot be one. A *FrictionError wraps it.
var ErrFriction = errors.New("not a possible friction")

// ErrAboveOne is the kind of error, and one of ErrFriction, for a coefficient above 1: 12
// typed for 0.12. No pair of bolt surfaces comes near 1.
var ErrAboveOne = fmt.Errorf("%w: above 1", ErrFriction)

// A FrictionError says what is wrong with a coefficient and what to write instead.
type FrictionError struct {
	Input string // the text or the numbers, shortened if long
	What  string // what was found: "not above zero"
	Fix   string // what to write instead
	Kind  error  // ErrAboveOne; nil stands for ErrFriction
}

func (e *FrictionError) Error() string {
	return fmt.Sprintf("friction %q: %s; %s", e.Input, e.What, e.Fix)
}

// Unwrap returns the error's kind.
func (e *FrictionError) Unwrap() error {
	if e.Kind == nil {
		return ErrFriction
	}
	return e.Kind
}

// A Coefficient is a pure number above zero that is known between two bounds: a
// coefficient of friction, or a nut factor. One that is typed is at most 1. Its bounds are exact. The zero Coefficient is
// none, and every function here refuses it.
type Coefficient struct {
	lo, hi *big.Rat
}

// NewCoefficient returns the coefficient between two bounds. The error is a
// *FrictionError unless 0 < lo <= hi <= 1, and wraps ErrAboveOne for one above 1.
func NewCoefficient(lo, hi decimal.Decimal) (Coefficient, error) {
	input := lo.String()
	if !hi.Equal(lo) {
		input += ".." + hi.String()
	}
	switch {
	case lo.Sign() <= 0:
		return Coefficient{}, &FrictionError{Input: input, What: "not above zero", Fix: `write a number above zero, as in "0.12" or "0.10..0.16"`}
	case hi.Cmp(lo) < 0:
		return Coefficient{}, &FrictionError{Input: input, What: "lower bound above upper bound", Fix: "exchange them"}
	case hi.Cmp(decimal.New(1, 0)) > 0:
		return Coefficient{}, &FrictionError{Input: input, What: "above 1", Fix: insteadOf(lo, hi), Kind: ErrAboveOne}
	}
	return Coefficient{lo: lo.Rat(), hi: hi.Rat()}, nil
}

// insteadOf says what to write instead of bounds of which the upper one is above 1: what
// they are with the point one to three places further left, where that is a friction that
// surfaces have: from 0.04, where class A of FrictionClass begins, to 0.6 (common practice,
// no source).
func insteadOf(lo, hi decimal.Decimal) string {
	one := decimal.New(1, 0)
	var likely []string
	for places := int32(1); places <= 3; places++ {
		shifted := func(d decimal.Decimal) decimal.Decimal {
			if d.Cmp(one) > 0 {
				return d.Shift(-places)
			}
			return d
		}
		a, b := shifted(lo), shifted(hi)
		if a.Cmp(b) > 0 || a.Cmp(decimal.New(4, -2)) < 0 || b.Cmp(decimal.New(6, -1)) > 0 {
			continue
		}
		text := a.String()
		if !a.Equal(b) {
			text += ".." + b.String()
		}
		likely = append(likely, `"`+text+`"`)
	}
	if len(likely) == 0 {
		return `write it as a part of one, as in "0.12" or "0.10..0.16"`
	}
	return "write " + strings.Join(likely, " or ")
}

// A coefficient as it is typed: a number, two bounds, or a value and its uncertainty.
var coefficientForm = regexp.MustCompile(`^(-?\d{0,3}\.?\d{1,12})(?: ?(\.\.|±|\+/-) ?(-?\d{0,3}\.?\d{1,12}))?$`)

// ParseCoefficient reads "0.12", "0.10..0.16" or "0.14 ±0.02". The error is a
// *FrictionError.
func ParseCoefficient(s string) (Coefficient, error) {
	const help = `write "0.12", "0.10..0.16" or "0.14 ±0.02"`
	if len(s) > 60 {
		return Coefficient{}, &FrictionError{Input: strings.ToValidUTF8(s[:20], "") + "…", What: "too long", Fix: help}
	}
	text := strings.TrimSpace(s)
	m := coefficientForm.FindStringSubmatch(text)
	if m == nil {
		what := "not a number"
		if strings.Contains(text, ",") {
			what = "a decimal comma"
		}
		return Coefficient{}, &FrictionError{Input: s, What: what, Fix: help}
	}
	a := decimal.RequireFromString(m[1])
	if m[2] == "" {
		return NewCoefficient(a, a)
	}
	b := decimal.RequireFromString(m[3])
	if m[2] == ".." {
		return NewCoefficient(a, b)
	}
	return NewCoefficient(a.Sub(b.Abs()), a.Add(b.Abs()))
}

// MustParseCoefficient is ParseCoefficient for literals; it panics on an error.
func MustParseCoefficient(s string) Coefficient {
	c, err := ParseCoefficient(s)
	if err != nil {
		panic(err)
	}
	return c
}

// Lo returns the lower bound; of the zero Coefficient, zero.
func (c Coefficient) Lo() *big.Rat { return copyOf(c.lo) }

// Hi returns the upper bound; of the zero Coefficient, zero.
func (c Coefficient) Hi() *big.Rat { return copyOf(c.hi) }

func copyOf(r *big.Rat) *big.Rat {
	if r == nil {
		return new(big.Rat)
	}
	return new(big.Rat).Set(r)
}

// Equal reports whether c and o have the same bounds.
func (c Coefficient) Equal(o Coefficient) bool {
	return c.Lo().Cmp(o.Lo()) == 0 && c.Hi().Cmp(o.Hi()) == 0
}

// String returns the coefficient for reading: "0.12", "0.1..0.16", with four decimal
// places at the most where it is 0.001 or more.
func (c Coefficient) String() string {
	if c.lo == nil {
		return "none"
	}
	if c.lo.Cmp(c.hi) == 0 {
		return shortNumber(c.lo)
	}
	return shortNumber(c.lo) + ".." + shortNumber(c.hi)
}

// shortNumber returns a number above zero rounded to four decimal places, or to two
// significant digits where that would leave fewer, without trailing zeros.
func shortNumber(r *big.Rat) string {
	places := 4
	for least := big.NewRat(1, 1000); places < 12 && r.Cmp(least) < 0; places++ {
		least.Quo(least, big.NewRat(10, 1))
	}
	s := r.FloatString(places)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// check refuses the zero Coefficient.
func (c Coefficient) check(what string) error {
	if c.lo == nil {
		return &FrictionError{Input: what, What: "missing", Fix: `give it, as in "0.12" or "0.10..0.16"`}
	}
	return nil
}

// Friction is what resists a turning bolt: the coefficients in the thread and under the
// head or nut, whichever turns.
type Friction struct {
	Thread  Coefficient // μth, also written μG
	Bearing Coefficient // μb, also written μK
}

// EqualFriction returns the same coefficient in the thread and under the head: μtot, as
// tables take it.
func EqualFriction(total Coefficient) Friction { return Friction{Thread: total, Bearing: total} }

func (f Friction) check() error {
	if err := f.Thread.check("in the thread"); err != nil {
		return err
	}
	return f.Bearing.check("under the head")
}
