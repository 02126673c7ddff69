package units

import (
	"fmt"
	"math/big"
	"math/bits"
	"strings"
)

// Parse reads a quantity, an interval or a unit of any dimension as a person writes
// it; the type argument says which:
//
//	area, err := units.Parse[units.Area]("58 mm²")
//	limits, err := units.Parse[units.TorqueInterval]("27..33 N·m")
//	unit, err := units.Parse[units.LengthUnit]("mm")
//
// See the package comment for what the text may look like. The error is a
// *Error.
func Parse[T readable[T]](text string) (T, error) {
	var v T
	return v.read(text, maxText)
}

// MustParse is Parse for literals in programs and tests; it panics on an error.
func MustParse[T readable[T]](text string) T { return must(Parse[T](text)) }

// readable is met by every Quantity, Interval and Unit, and by Temperature and
// TemperatureInterval.
type readable[T any] interface {
	// read reads a T from a text of at most so many bytes. It ignores its receiver.
	read(text string, most int) (T, error)
}

func (Value[D, E]) read(text string, most int) (Value[D, E], error) {
	d := dimensionOf[D]()
	if n, ok := d.parseCommon(text); ok {
		return Value[D, E]{n: n}, nil
	}
	s, err := newScanner(d, text, most)
	if err != nil {
		return Value[D, E]{}, err
	}
	return finish[D, E](s, s.unit)
}

// finish reads the number at the scanner, and its unit as unit does.
func finish[D, E Dimension](s *scanner, unit func() (*unitDef, error)) (Value[D, E], error) {
	r, err := s.number()
	if err != nil {
		return Value[D, E]{}, err
	}
	u, err := unit()
	if err != nil {
		return Value[D, E]{}, err
	}
	r = u.toSteps(r)
	if err := s.check(r); err != nil {
		return Value[D, E]{}, err
	}
	return fromSteps[D, E](r), nil
}

// Parse reads a number of the unit, as it stands under a heading that names the
// unit: "60.012". A text with a unit of its own is read in that one. The error is
// that of Parse.
func (u Scale[D, E]) Parse(text string) (Value[D, E], error) {
	if number, rest, ok := readPlain(text); ok && rest == "" {
		if n, ok := number.steps(u.def()); ok && dimensionOf[D]().possible(n) {
			return Value[D, E]{n: n}, nil
		}
	}
	s, err := newScanner(dimensionOf[D](), text, maxText)
	if err != nil {
		return Value[D, E]{}, err
	}
	return finish[D, E](s, func() (*unitDef, error) { return s.unitOr(u.def()) })
}

// check refuses what was read, in grid steps, if it cannot be held or cannot be. A
// missing bound is nil.
func (s *scanner) check(r *big.Rat) error {
	if !storable(r) {
		return parseError(ErrSyntax, s.text, 0, "a number of too many digits", "round it")
	}
	if r != nil && s.d.absolute && r.Sign() < 0 {
		return parseError(ErrSyntax, s.text, 0, withArticle(s.d.name)+" below absolute zero", "write -273.15 °C or more")
	}
	return nil
}

// parseCommon reads what most people write most of the time (a plain decimal, at
// most one space, a unit) in machine arithmetic. It leaves everything else,
// errors too, to the full parser.
func (d *dimension) parseCommon(text string) (n int64, ok bool) {
	number, rest, ok := readPlain(text)
	if !ok {
		return 0, false
	}
	u, known := d.byKey[strings.TrimPrefix(rest, " ")]
	if !known {
		return 0, false
	}
	n, ok = number.steps(&d.units[u])
	return n, ok && d.possible(n)
}

// A plainNumber is a decimal that fits a machine integer.
type plainNumber struct {
	coefficient uint64
	places      int
	negative    bool
}

// readPlain reads a plain number at the beginning of text, and returns what
// follows it.
func readPlain(text string) (number plainNumber, rest string, ok bool) {
	i := 0
	if i < len(text) && (text[i] == '-' || text[i] == '+') {
		number.negative = text[i] == '-'
		i++
	}
	const most = 18 // digits that fit a machine integer whatever they are
	first, point := i, -1
	for ; i < len(text); i++ {
		c := text[i]
		if c == '.' && point < 0 {
			point = i
			continue
		}
		if !isDigit(c) {
			break
		}
		number.coefficient = number.coefficient*10 + uint64(c-'0')
		if i-first > most {
			return plainNumber{}, "", false
		}
	}
	digits := i - first
	if point >= 0 {
		digits--
		number.places = i - point - 1
	}
	return number, text[i:], digits > 0
}

// steps returns the number of the unit in grid steps, if it is a whole number of
// them in a machine integer.
func (number plainNumber) steps(u *unitDef) (n int64, ok bool) {
	if u.whole == 0 {
		return 0, false
	}
	hi, lo := bits.Mul64(number.coefficient, uint64(u.whole))
	scale := uint64(powersOf10[number.places])
	if hi >= scale {
		return 0, false
	}
	quotient, rest := bits.Div64(hi, lo, scale)
	if rest != 0 {
		return 0, false
	}
	return signed(0, quotient, number.negative)
}

// toSteps returns r of the unit in grid steps.
func (u *unitDef) toSteps(r *big.Rat) *big.Rat {
	if u.whole != 0 && r.Num().IsInt64() {
		if n, ok := mulRatio(u.whole, r); ok {
			return new(big.Rat).SetInt64(n)
		}
	}
	s := new(big.Rat).Mul(r, u.factor)
	if u.offset != nil {
		s.Add(s, u.offset)
	}
	return s
}

// unit reads a unit up to the end of the text.
func (s *scanner) unit() (*unitDef, error) {
	number := s.pos
	s.space()
	if s.rest() == "" {
		if s.d.bare() {
			u := &s.d.units[0]
			return u, s.checkFraction(u)
		}
		help, err := s.unitForFraction()
		if err != nil {
			return nil, err
		}
		fix := fmt.Sprintf("write %q", shorten(s.text[:s.end]+" "+help))
		return nil, parseError(ErrNoUnit, s.text, number, "a number without a unit", fix)
	}
	return s.unitOr(nil)
}

// unitOr reads a unit up to the end; if there is none, it is u.
func (s *scanner) unitOr(u *unitDef) (*unitDef, error) {
	s.space()
	text := strings.TrimSpace(s.rest())
	if text != "" {
		i, err := s.d.lookUp(text, s.text, s.pos)
		if err != nil {
			return nil, err
		}
		s.pos = s.end
		u = &s.d.units[i]
	}
	return u, s.checkFraction(u)
}

// unitOfLeft reads the unit of the number on the left of one whose unit is u: its
// own, or u if it has none. Of a pure number it has its own only if u is one too:
// of "12 %..16" nobody can tell what the 16 counts.
func (s *scanner) unitOfLeft(left *scanner, u *unitDef) (*unitDef, error) {
	own, err := left.unitOr(u)
	if bare := &s.d.units[0]; err == nil && s.d.bare() && u == bare && own != bare {
		return nil, parseError(ErrSyntax, s.text, left.end, own.symbol+" behind one number and not behind the other",
			"write both numbers alike, as in \"12..16 %\" or \"0.12..0.16\"")
	}
	return own, err
}

// unitOfNominal is unitOfLeft for a number from which the others deviate. Of a
// pure number "0.14 ±10 %" may mean ten percent of it.
func (s *scanner) unitOfNominal(nominal *scanner, u *unitDef) (*unitDef, error) {
	own := strings.TrimSpace(nominal.rest()) != ""
	if s.d.bare() && !own && u != &s.d.units[0] {
		return nil, parseError(ErrSyntax, s.text, nominal.end, "a deviation in "+u.symbol+", which may be a part of the number before it",
			"write both numbers alike, as in \"0.14 ±0.02\" or \"14 % ±2 %\"")
	}
	return s.unitOfLeft(nominal, u)
}

// must returns q, or panics with the error.
func must[T any](q T, err error) T {
	if err != nil {
		panic("units: " + err.Error())
	}
	return q
}
