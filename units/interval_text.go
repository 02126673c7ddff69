package units

import (
	"fmt"
	"math/big"
	"strings"
)

// String returns a for reading, in the dimension's first unit: "0.024..0.048
// mm", "2.5 mm", "<= 0.02 mm". Bounds with more than six decimal places are
// rounded half to even there, and marked "≈". Exact keeps every digit.
func (a Interval[D]) String() string { return a.write(Quantity[D].String, Quantity[D].String) }

// Exact returns a with every digit, so that parsing the text gives a again.
func (a Interval[D]) Exact() string { return a.write(Quantity[D].Exact, Quantity[D].Exact) }

// Format returns a in the unit with exactly so many decimal places. Bounds are
// rounded outward, so that what is shown holds all of a.
func (a Interval[D]) Format(u Unit[D], places int32) string {
	return a.FormatRounded(u, places, Floor, Ceiling)
}

// FormatRounded is Format with the roundings of the lower and the upper bound
// given: to nearest, or Ceiling and Floor for a limit that must not be widened.
func (a Interval[D]) FormatRounded(u Unit[D], places int32, lower, upper Rounding) string {
	return a.write(
		func(q Quantity[D]) string { return q.Format(u, places, lower) },
		func(q Quantity[D]) string { return q.Format(u, places, upper) })
}

// write writes a with the ways given to write its bounds.
func (a Interval[D]) write(lower, upper func(Quantity[D]) string) string {
	switch {
	case a.IsEmpty():
		return "no " + dimensionOf[D]().name
	case !a.HasLo() && !a.HasHi():
		return "any " + dimensionOf[D]().name
	case !a.HasLo():
		return "<= " + upper(a.Hi())
	case !a.HasHi():
		return ">= " + lower(a.Lo())
	}
	lo, hi := lower(a.Lo()), upper(a.Hi())
	if lo == hi {
		return lo
	}
	number, unit, _ := strings.Cut(lo, " ")
	if strings.HasSuffix(hi, " "+unit) {
		lo = number
	}
	return lo + ".." + hi
}

// parseInterval reads an interval in any of its forms.
func parseInterval[D Dimension](text string) (Interval[D], error) {
	d := dimensionOf[D]()
	if lo, hi, ok := d.intervalCommon(text); ok {
		return Interval[D]{lo: lo, hi: hi, x: small}, nil
	}
	s, err := newScanner(text)
	if err != nil {
		return Interval[D]{}, err
	}
	lo, hi, err := s.interval(d)
	if err != nil {
		return Interval[D]{}, err
	}
	return fromBounds[D](lo, hi), nil
}

// intervalCommon reads "lo..hi unit" and "n unit", of plain decimals, in machine
// arithmetic. It leaves everything else, errors too, to the full parser.
func (d *dimension) intervalCommon(text string) (lo, hi int64, ok bool) {
	left, right, found := strings.Cut(text, "..")
	if !found {
		n, ok := d.parseCommon(text)
		return n, n, ok
	}
	low, rest, okLow := readPlain(left)
	high, unit, okHigh := readPlain(strings.TrimPrefix(right, " "))
	u, known := d.byKey[strings.TrimPrefix(unit, " ")]
	if !okLow || !okHigh || !known || rest != "" && rest != " " || strings.HasPrefix(right, ".") {
		return 0, 0, false
	}
	lo, okLow = low.steps(&d.units[u])
	hi, okHigh = high.steps(&d.units[u])
	return lo, hi, okLow && okHigh && lo <= hi
}

// interval reads the bounds, in grid steps.
func (s *scanner) interval(d *dimension) (lo, hi *big.Rat, err error) {
	if s.rest() == "any "+d.name {
		return nil, nil, nil
	}
	switch {
	case s.accept("<=", "≤"):
		hi, err = s.quantity(d)
		return nil, hi, err
	case s.accept(">=", "≥"):
		lo, err = s.quantity(d)
		return lo, nil, err
	case s.accept("=<", "=>"):
		s.pos -= 2
		return nil, nil, s.failReplacing("a limit's sign the wrong way round", 2, s.text[s.pos+1:s.pos+2]+"=")
	case s.accept("<", ">"):
		s.pos--
		return nil, nil, s.failReplacing("a limit that leaves out its own bound", 1, s.text[s.pos:s.pos+1]+"=")
	}
	if err := s.limitInWords(); err != nil {
		return nil, nil, err
	}
	for _, dots := range []string{"...", "…", ".."} {
		if at := strings.Index(s.rest(), dots); at >= 0 {
			return s.between(d, s.pos+at, len(dots))
		}
	}
	for _, sign := range []string{"±", "+/-", "+-", "+/−"} {
		if at := strings.Index(s.rest(), sign); at >= 0 {
			return s.plusMinus(d, s.pos+at, len(sign))
		}
	}
	return s.deviationsOrPoint(d)
}

// limitInWords explains how to write "max. 0.02 mm" and "0.02 mm max".
func (s *scanner) limitInWords() error {
	rest := strings.ToLower(s.rest())
	for _, limit := range []struct{ sign, words string }{
		{"<=", "maximum max. max"},
		{">=", "minimum min. min"},
	} {
		for word := range strings.FieldsSeq(limit.words) {
			before := s.text[:s.pos]
			switch {
			case len(rest) != s.end-s.pos: // a letter that changes its length
				return nil
			case strings.HasPrefix(rest, word+" "):
				return s.failReplacing("a limit in words", len(word), limit.sign)
			case strings.HasSuffix(rest, " "+word):
				number := strings.TrimSpace(s.text[s.pos : s.end-len(word)])
				s.pos = s.end - len(word)
				return s.fail("a limit in words", fmt.Sprintf("write %q", shorten(before+limit.sign+" "+number)))
			}
		}
	}
	return nil
}

// quantity reads a number and a unit up to the end, in grid steps.
func (s *scanner) quantity(d *dimension) (*big.Rat, error) {
	s.space()
	r, err := s.number()
	if err != nil {
		return nil, err
	}
	u, err := s.unit(d)
	if err != nil {
		return nil, err
	}
	return u.toSteps(r), nil
}

// between reads "lo..hi unit", with the dots at the offset given. The lower
// bound may have a unit of its own.
func (s *scanner) between(d *dimension, dots, size int) (lo, hi *big.Rat, err error) {
	start := s.pos
	before, after := strings.TrimSpace(s.text[start:dots]), strings.TrimSpace(s.text[dots+size:s.end])
	switch {
	case before == "":
		return nil, nil, s.fail("no lower bound", fmt.Sprintf("write %q", shorten("<= "+after)))
	case !strings.ContainsAny(after, "0123456789"):
		s.pos = dots + size
		return nil, nil, s.fail("no upper bound", fmt.Sprintf("write %q", shorten(strings.TrimSpace(">= "+before+" "+after))))
	}
	left := &scanner{text: s.text, pos: start, end: dots}
	low, err := left.number()
	if err != nil {
		return nil, nil, err
	}
	leftHasUnit := strings.TrimSpace(left.rest()) != ""
	s.pos = dots + size
	s.space()
	right := s.pos
	high, err := s.number()
	if err != nil {
		return nil, nil, err
	}
	rightUnit := s.pos
	u, err := s.unit(d)
	if err != nil {
		return nil, nil, err
	}
	lowUnit, err := left.unitOr(d, u)
	if err != nil {
		return nil, nil, err
	}
	lo, hi = lowUnit.toSteps(low), u.toSteps(high)
	if lo.Cmp(hi) > 0 {
		if leftHasUnit {
			rightUnit = s.end
		}
		exchanged := s.text[right:rightUnit] + ".." + strings.TrimSpace(s.text[start:dots]) + s.text[rightUnit:s.end]
		return nil, nil, parseError(ErrOrder, s.text, start, "a lower bound above the upper bound",
			fmt.Sprintf("write %q", shorten(exchanged)))
	}
	return lo, hi, nil
}

// unitOr reads a unit up to the end; if there is none, it is u.
func (s *scanner) unitOr(d *dimension, u *unitDef) (*unitDef, error) {
	s.space()
	text := strings.TrimSpace(s.rest())
	if text == "" {
		return u, nil
	}
	i, err := d.lookUp(text, s.text, s.pos)
	if err != nil {
		return nil, err
	}
	return &d.units[i], nil
}

// plusMinus reads "n ±u unit", with the sign at the offset given.
func (s *scanner) plusMinus(d *dimension, sign, size int) (lo, hi *big.Rat, err error) {
	left := &scanner{text: s.text, pos: s.pos, end: sign}
	middle, err := left.number()
	if err != nil {
		return nil, nil, err
	}
	s.pos = sign + size
	s.space()
	at := s.pos
	r, err := s.number()
	if err != nil {
		return nil, nil, err
	}
	if r.Sign() < 0 {
		s.pos = at
		return nil, nil, s.fail("a negative uncertainty", "write ± and a number without a sign")
	}
	u, err := s.unit(d)
	if err != nil {
		return nil, nil, err
	}
	middleUnit, err := left.unitOr(d, u)
	if err != nil {
		return nil, nil, err
	}
	m, half := middleUnit.toSteps(middle), u.difference(r)
	return new(big.Rat).Sub(m, half), new(big.Rat).Add(m, half), nil
}

// difference returns r of the unit, as a difference, in grid steps.
func (u *unitDef) difference(r *big.Rat) *big.Rat { return new(big.Rat).Mul(r, u.factor) }

// deviationsOrPoint reads "n +upper/lower unit" or "n unit".
func (s *scanner) deviationsOrPoint(d *dimension) (lo, hi *big.Rat, err error) {
	left := &scanner{text: s.text, pos: s.pos, end: s.end}
	zero := upperZero(s.rest())
	if zero >= 0 {
		left.end = s.pos + zero
	}
	nominal, err := left.number()
	if err != nil {
		return nil, nil, err
	}
	if zero < 0 {
		sign := signedNumber(left.rest())
		if sign < 0 {
			u, err := left.unit(d)
			if err != nil {
				return nil, nil, err
			}
			q := u.toSteps(nominal)
			return q, q, nil
		}
		left.end = left.pos + sign
	}
	s.pos = left.end
	s.space()
	upperAt := s.pos
	upper, err := s.deviation()
	if err != nil {
		return nil, nil, err
	}
	upperEnd := s.pos
	if !s.accept("/") {
		s.pos = upperAt
		return nil, nil, s.loneDeviation()
	}
	s.space()
	lowerAt := s.pos
	lower, err := s.deviation()
	if err != nil {
		return nil, nil, err
	}
	unitAt := s.pos
	u, err := s.unit(d)
	if err != nil {
		return nil, nil, err
	}
	nominalUnit, err := left.unitOr(d, u)
	if err != nil {
		return nil, nil, err
	}
	if upper.Cmp(lower) < 0 {
		deviations := strings.TrimSpace(s.text[lowerAt:unitAt]) + "/" + strings.TrimSpace(s.text[upperAt:upperEnd])
		return nil, nil, parseError(ErrOrder, s.text, lowerAt, "a lower deviation above the upper one",
			fmt.Sprintf("write %q", shorten(s.text[:upperAt]+deviations+" "+s.text[unitAt:s.end])))
	}
	n := nominalUnit.toSteps(nominal)
	return new(big.Rat).Add(n, u.difference(lower)), new(big.Rat).Add(n, u.difference(upper)), nil
}

// upperZero returns where an upper deviation of zero without a sign begins, as in
// "60 0/-0.019 mm"; -1 if nowhere.
func upperZero(text string) int {
	return max(strings.Index(text, " 0/-"), strings.Index(text, " 0/−"))
}

// signedNumber returns where in text a sign with a number behind it stands, a
// dash or the word "to" counted as one; -1 if nowhere.
func signedNumber(text string) int {
	for i := range text {
		for _, sign := range signs {
			after, ok := strings.CutPrefix(text[i:], sign)
			after = strings.TrimLeft(after, " .")
			if ok && after != "" && isDigit(after[0]) {
				return i
			}
		}
	}
	return -1
}

var signs = [...]string{"+", "-", "−", "–", "—", "to "}

// loneDeviation explains a sign and a number that make neither a pair of
// deviations nor a range. A hyphen between two numbers is a common way to write
// a range, and is refused because it is also a minus sign.
func (s *scanner) loneDeviation() error {
	if strings.HasPrefix(s.rest(), "+") {
		return s.fail("one deviation where two belong", `write both, upper first, as in "60 +0.019/0 mm"`)
	}
	for _, sign := range signs {
		if strings.HasPrefix(s.rest(), sign) {
			end := s.pos + len(sign)
			for strings.HasPrefix(s.text[end:], " ") {
				end++
			}
			for s.pos > 0 && s.text[s.pos-1] == ' ' {
				s.pos--
			}
			return s.failReplacing("a range written with a dash or a word", end-s.pos, "..")
		}
	}
	return s.fail("a sign without a meaning here", `write a range as "0.024..0.048 mm"`)
}

// deviation reads a signed decimal, and no fraction: the stroke divides the two
// deviations.
func (s *scanner) deviation() (*big.Rat, error) {
	start := s.pos
	negative := s.sign()
	s.accept("–", "—", "to ")
	s.space()
	first := s.pos
	text := s.digits()
	if s.accept(".") {
		text += "." + s.digits()
	}
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		return nil, s.noNumber(start)
	}
	if rest := s.rest(); rest == "" || rest[0] != '/' {
		if err := s.afterNumber(first); err != nil {
			return nil, err
		}
	}
	if negative {
		r.Neg(r)
	}
	s.space()
	return r, nil
}
