package units

import (
	"fmt"
	"math/big"
	"math/bits"
	"strings"
)

// parse reads a number and a unit.
func parse[D Dimension](text string) (Quantity[D], error) {
	d := dimensionOf[D]()
	if n, ok := d.parseCommon(text); ok {
		return Quantity[D]{n: n}, nil
	}
	s, err := newScanner(text)
	if err != nil {
		return Quantity[D]{}, err
	}
	r, err := s.number()
	if err != nil {
		return Quantity[D]{}, err
	}
	u, err := s.unit(d)
	if err != nil {
		return Quantity[D]{}, err
	}
	return fromSteps[D](u.toSteps(r)), nil
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
	return number.steps(&d.units[u])
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
	s := new(big.Rat).Mul(r, u.factor)
	if u.offset != nil {
		s.Add(s, u.offset)
	}
	return s
}

// unit reads a unit up to the end of the text.
func (s *scanner) unit(d *dimension) (*unitDef, error) {
	number := s.pos
	s.space()
	if s.rest() == "" {
		help := d.help
		if d == lengths() && isFraction(s.text[:s.end]) {
			help = Inch.String() // fractions are written of inches
		}
		fix := fmt.Sprintf("write %q", shorten(s.text[:s.end]+" "+help))
		return nil, parseError(ErrNoUnit, s.text, number, "a number without a unit", fix)
	}
	i, err := d.lookUp(s.rest(), s.text, s.pos)
	if err != nil {
		return nil, err
	}
	s.pos = s.end
	return &d.units[i], nil
}

// must returns q, or panics with the error.
func must[T any](q T, err error) T {
	if err != nil {
		panic("units: " + err.Error())
	}
	return q
}

// isFraction reports whether the text holds a fraction, and not the two deviations
// of a size.
func isFraction(text string) bool {
	return strings.ContainsAny(text, "/⁄") && !strings.ContainsAny(text, "+−") && !strings.Contains(text, " -")
}
