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
	i := 0
	negative := false
	if i < len(text) && (text[i] == '-' || text[i] == '+') {
		negative = text[i] == '-'
		i++
	}
	const most = 18 // digits that fit a machine integer whatever they are
	var coefficient uint64
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
		coefficient = coefficient*10 + uint64(c-'0')
		if i-first > most {
			return 0, false
		}
	}
	digits, places := i-first, 0
	if point >= 0 {
		digits--
		places = i - point - 1
	}
	if digits == 0 || i == len(text) {
		return 0, false
	}
	if text[i] == ' ' {
		i++
	}
	u, known := d.byKey[text[i:]]
	if !known {
		return 0, false
	}
	def := &d.units[u]
	if def.whole == 0 {
		return 0, false
	}
	hi, lo := bits.Mul64(coefficient, uint64(def.whole))
	scale := uint64(powersOf10[places])
	if hi >= scale {
		return 0, false
	}
	quotient, rest := bits.Div64(hi, lo, scale)
	if rest != 0 {
		return 0, false
	}
	return signed(0, quotient, negative)
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
		fix := fmt.Sprintf("write %q", shorten(s.text[:s.end]+" "+d.help))
		return nil, parseError(ErrNoUnit, s.text, number, "a number without a unit", fix)
	}
	i, err := d.lookUp(s.rest(), s.text, s.pos)
	if err != nil {
		return nil, err
	}
	s.pos = s.end
	return &d.units[i], nil
}

// lookUp finds the unit spelled so; the error names the place in text.
func (d *dimension) lookUp(spelling, text string, offset int) (uint8, error) {
	if u, ok := d.byKey[spelling]; ok {
		return u, nil
	}
	if u, ok := d.byKey[joined(spelling, "·")]; ok {
		return u, nil
	}
	return 0, d.unknown(spelling, text, offset)
}

// joined returns the spelling with every multiplication sign, hyphen or run of
// spaces between its parts replaced.
func joined(spelling, by string) string {
	if len(spelling) > shown {
		return spelling
	}
	parts := strings.FieldsFunc(spelling, func(r rune) bool {
		switch r {
		case '·', '⋅', '∙', '•', '*', '×', '-', '‑', '.', ' ', '\u00a0', '\u202f', '\u2009':
			return true
		}
		return false
	})
	return strings.Join(parts, by)
}

// unknown explains why the spelling is no unit of d.
func (d *dimension) unknown(spelling, text string, offset int) error {
	found := shorten(spelling)
	if hint, ok := d.hint(spelling); ok {
		return parseError(ErrWrongDimension, text, offset, fmt.Sprintf("%q, which is no unit of %s", found, d.name), hint)
	}
	for _, other := range dimensions() {
		if other == d || !other.knows(spelling) {
			continue
		}
		return parseError(ErrWrongDimension, text, offset,
			fmt.Sprintf("%q, a unit of %s where a %s is wanted", found, other.name, d.name),
			fmt.Sprintf("write a unit of %s, such as %s", d.name, d.help))
	}
	if near, ok := d.nearest(spelling); ok {
		return parseError(ErrUnknownUnit, text, offset, fmt.Sprintf("%q, which is no unit", found), fmt.Sprintf("write %s", near))
	}
	var symbols []string
	for _, u := range d.units {
		symbols = append(symbols, u.symbol)
	}
	return parseError(ErrUnknownUnit, text, offset, fmt.Sprintf("%q, which is no unit", found),
		"write one of "+strings.Join(symbols, ", "))
}

func (d *dimension) knows(spelling string) bool {
	if _, ok := d.byKey[spelling]; ok {
		return true
	}
	_, ok := d.byKey[joined(spelling, "·")]
	return ok
}

// hint has the mistakes that people make with the units of force, mass and
// torque, and what to write.
func (d *dimension) hint(spelling string) (string, bool) {
	type mistake struct{ dimension, unit string }
	fix, ok := map[mistake]string{
		{"force", "lb"}:        "a pound is a mass; write lbf",
		{"force", "lbs"}:       "a pound is a mass; write lbf",
		{"force", "kg"}:        "a kilogram is a mass; write kgf",
		{"force", "oz"}:        "an ounce is a mass; write ozf",
		{"torque", "m"}:        "a torque is a force times a length; write N·m or kgf·m",
		{"torque", "ft"}:       "a torque is a force times a length; write lbf·ft",
		{"torque", "in"}:       "a torque is a force times a length; write lbf·in",
		{"torque", "lb"}:       "a torque is a force times a length; write lbf·ft or lbf·in",
		{"torque", "lbs"}:      "a torque is a force times a length; write lbf·ft or lbf·in",
		{"torque", "lbf"}:      "a torque is a force times a length; write lbf·ft or lbf·in",
		{"torque", "kg"}:       "a torque is a force times a length; write kgf·m or kgf·cm",
		{"torque", "kgf"}:      "a torque is a force times a length; write kgf·m or kgf·cm",
		{"torque", "N"}:        "a torque is a force times a length; write N·m",
		{"torque", "kN"}:       "a torque is a force times a length; write kN·m",
		{"torque", "nm"}:       "nm is the nanometre; write N·m",
		{"pressure", "kg"}:     "a pressure is a force over an area; write kgf/cm²",
		{"pressure", "lb"}:     "a pressure is a force over an area; write psi",
		{"pressure", "lbs"}:    "a pressure is a force over an area; write psi",
		{"pressure", "pounds"}: "a pressure is a force over an area; write psi",
	}[mistake{d.name, spelling}]
	return fix, ok
}

// nearest returns the symbol of the unit whose spelling is most like the one
// given: the same but for capitals, or one letter off.
func (d *dimension) nearest(spelling string) (string, bool) {
	if len(spelling) > shown {
		return "", false
	}
	for _, alike := range []func(a, b string) bool{strings.EqualFold, oneOff} {
		for _, u := range d.units {
			for _, s := range append([]string{u.symbol}, u.spellings...) {
				if alike(spelling, s) || alike(joined(spelling, "·"), s) {
					return u.symbol, true
				}
			}
		}
	}
	return "", false
}

// oneOff reports whether a and b, of two letters or more, differ by one letter
// put in, left out or changed.
func oneOff(a, b string) bool {
	ra, rb := []rune(a), []rune(b)
	if len(ra) > len(rb) {
		ra, rb = rb, ra
	}
	if len(ra) < 2 || len(rb)-len(ra) > 1 {
		return false
	}
	i := 0
	for i < len(ra) && ra[i] == rb[i] {
		i++
	}
	if len(ra) == len(rb) {
		return i == len(ra) || string(ra[i+1:]) == string(rb[i+1:])
	}
	return string(ra[i:]) == string(rb[i+1:])
}
