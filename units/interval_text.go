package units

import (
	"bytes"
	"cmp"
	"fmt"
	"math/big"
	"strings"
)

// String returns a for reading, in the dimension's first unit: "0.024..0.048
// mm", "2.5 mm", "<= 0.02 mm"; "none" if it is empty. Bounds with more than six
// decimal places are rounded half to even there, and marked "≈". Exact keeps every
// digit.
func (a ClosedInterval[D, E]) String() string { return a.text(style[D, E]{how: forReading}) }

// Exact returns a with every digit, so that parsing the text gives a again. The
// empty interval is "none", which only the exchange forms read back: a person who
// types it has typed no quantity.
func (a ClosedInterval[D, E]) Exact() string { return a.text(style[D, E]{how: inFull}) }

// FormatInward returns limits in the unit with so many decimal places, rounded inward:
// the text never allows a size that a refuses. Where so few places leave no room between
// the limits it takes the fewest that do, and the exact form for one value that has no
// end in the unit. It is for tolerances; a reading is shown by FormatOutward.
func (a ClosedInterval[D, E]) FormatInward(u Scale[D, E], places int32) string {
	const more = 12 // places, before the exact form is shorter to read
	for p := places; p <= places+more; p++ {
		if c, err := a.Inward(u, p); err == nil {
			return c.FormatOutward(u, p)
		}
	}
	return a.Exact()
}

// FormatOutward returns a reading in the unit with exactly so many decimal places,
// rounded outward: the text holds all of a. It widens, so it is never for a tolerance;
// limits are shown by FormatInward.
func (a ClosedInterval[D, E]) FormatOutward(u Scale[D, E], places int32) string {
	return a.text(style[D, E]{how: outward, unit: u, places: places})
}

// Written returns a in the unit for a working, with no more digits than its bounds have:
// "0.022..0.038 mm", ">= 0.102 mm"; "not known" if it is empty or has no bounds. To show
// limits that must be kept use FormatInward, to show readings FormatOutward.
func (a ClosedInterval[D, E]) Written(u Scale[D, E]) string {
	if !a.HasLo() && !a.HasHi() {
		return "not known"
	}
	return a.text(style[D, E]{how: working, unit: u})
}

// none is what the empty interval prints as.
const none = "none"

// A style says how the bounds of an interval are written.
type style[D, E Dimension] struct {
	how    uint8 // forReading, inFull, outward or working
	unit   Scale[D, E]
	places int32
}

const (
	forReading uint8 = iota // as String does
	inFull                  // as Exact does
	outward                 // in the unit and to the places given
	working                 // in the unit given, as Written does
)

// append appends a bound; m is what becomes of digits that are dropped outward.
func (s style[D, E]) append(b []byte, q Value[D, E], m Rounding) []byte {
	switch s.how {
	case inFull:
		return q.appendExact(b)
	case outward:
		return q.appendFormat(b, s.unit, s.places, m)
	case working:
		return q.appendWritten(b, s.unit)
	}
	return q.appendString(b)
}

func (a ClosedInterval[D, E]) text(s style[D, E]) string {
	var room [96]byte
	return string(a.append(room[:0], s))
}

// append appends a in the style.
func (a ClosedInterval[D, E]) append(b []byte, s style[D, E]) []byte {
	switch {
	case a.IsEmpty():
		return append(b, none...)
	case !a.HasLo() && !a.HasHi():
		return append(append(b, "any "...), dimensionOf[D]().name...)
	case !a.HasLo():
		return s.append(append(b, "<= "...), a.Hi(), Ceiling)
	case !a.HasHi():
		return s.append(append(b, ">= "...), a.Lo(), Floor)
	}
	var second [48]byte
	start := len(b)
	b = s.append(b, a.Lo(), Floor)
	hi := s.append(second[:0], a.Hi(), Ceiling)
	lo := b[start:]
	if bytes.Equal(lo, hi) {
		return b
	}
	if at := bytes.IndexByte(lo, ' '); at >= 0 && bytes.HasSuffix(hi, lo[at:]) {
		b = b[:start+at]
	}
	return append(append(b, ".."...), hi...)
}

func (ClosedInterval[D, E]) read(text string, most int) (ClosedInterval[D, E], error) {
	d := dimensionOf[D]()
	if lo, hi, ok := d.intervalCommon(text); ok {
		return fromGrid[D, E](lo, hi), nil
	}
	s, err := newScanner(d, text, most)
	if err != nil {
		return ClosedInterval[D, E]{}, err
	}
	lo, hi, err := s.interval()
	if err != nil {
		return ClosedInterval[D, E]{}, err
	}
	if err := cmp.Or(s.check(lo), s.check(hi)); err != nil {
		return ClosedInterval[D, E]{}, err
	}
	return fromBounds[D, E](lo, hi), nil
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
	return lo, hi, okLow && okHigh && lo <= hi && d.possible(lo)
}

// interval reads the bounds, in grid steps.
func (s *scanner) interval() (lo, hi *big.Rat, err error) {
	switch s.rest() {
	case "any " + s.d.name:
		return nil, nil, nil
	case none, "null":
		return nil, nil, parseError(ErrEmpty, s.text, s.pos, "no value", "write an interval, or leave out what was not measured")
	}
	switch {
	case s.accept("<=", "≤", "at most "):
		hi, err = s.quantity()
		return nil, hi, err
	case s.accept(">=", "≥", "at least "):
		lo, err = s.quantity()
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
			return s.between(s.pos+at, len(dots))
		}
	}
	for _, sign := range []string{"±", "+/-", "+-", "+/−"} {
		if at := strings.Index(s.rest(), sign); at >= 0 {
			return s.plusMinus(s.pos+at, len(sign))
		}
	}
	return s.deviationsOrPoint()
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
func (s *scanner) quantity() (*big.Rat, error) {
	s.space()
	r, err := s.number()
	if err != nil {
		return nil, err
	}
	u, err := s.unit()
	if err != nil {
		return nil, err
	}
	return u.toSteps(r), nil
}

// between reads "lo..hi unit", with the dots at the offset given. The lower
// bound may have a unit of its own.
func (s *scanner) between(dots, size int) (lo, hi *big.Rat, err error) {
	start := s.pos
	before, after := strings.TrimSpace(s.text[start:dots]), strings.TrimSpace(s.text[dots+size:s.end])
	switch {
	case before == "":
		return nil, nil, s.fail("no lower bound", fmt.Sprintf("write %q", shorten("<= "+after)))
	case !strings.ContainsAny(after, "0123456789"):
		s.pos = dots + size
		return nil, nil, s.fail("no upper bound", fmt.Sprintf("write %q", shorten(strings.TrimSpace(">= "+before+" "+after))))
	}
	left := s.part(start, dots)
	low, err := left.number()
	if err != nil {
		return nil, nil, err
	}
	leftEnd, leftHasUnit := left.pos, strings.TrimSpace(left.rest()) != ""
	s.pos = dots + size
	s.space()
	right := s.pos
	high, err := s.number()
	if err != nil {
		return nil, nil, err
	}
	rightUnit := s.pos
	u, err := s.unit()
	if err != nil {
		return nil, nil, err
	}
	lowUnit, err := s.unitOfLeft(left, u)
	if err != nil {
		return nil, nil, err
	}
	lo, hi = lowUnit.toSteps(low), u.toSteps(high)
	if lo.Cmp(hi) > 0 {
		fix := s.d.bothInFull()
		first, second := strings.TrimSpace(s.text[start:leftEnd]), strings.TrimSpace(s.text[right:rightUnit])
		if leftHasUnit {
			fix = fmt.Sprintf("write %q", shorten(strings.TrimSpace(s.text[right:s.end])+".."+strings.TrimSpace(s.text[start:dots])))
		} else if decimals(first) == decimals(second) && len(first) == len(second) {
			fix = fmt.Sprintf("write %q", shorten(second+".."+first+s.text[rightUnit:s.end]))
		}
		return nil, nil, parseError(ErrOrder, s.text, start, "a lower bound above the upper bound", fix)
	}
	return lo, hi, nil
}

// plusMinus reads "n ±u unit", with the sign at the offset given.
func (s *scanner) plusMinus(sign, size int) (lo, hi *big.Rat, err error) {
	left := s.part(s.pos, sign)
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
	u, err := s.unit()
	if err != nil {
		return nil, nil, err
	}
	middleUnit, err := s.unitOfNominal(left, u)
	if err != nil {
		return nil, nil, err
	}
	m, half := middleUnit.toSteps(middle), u.difference(r)
	return new(big.Rat).Sub(m, half), new(big.Rat).Add(m, half), nil
}

// difference returns r of the unit, as a difference, in grid steps.
func (u *unitDef) difference(r *big.Rat) *big.Rat { return new(big.Rat).Mul(r, u.factor) }

// deviationsOrPoint reads "n +upper/lower unit" or "n unit".
func (s *scanner) deviationsOrPoint() (lo, hi *big.Rat, err error) {
	left := s.part(s.pos, s.end)
	zero := upperZero(s.rest())
	if zero >= 0 {
		left.end = s.pos + zero
	}
	nominal, err := left.number()
	if err != nil {
		return nil, nil, err
	}
	nominalAt, nominalEnd := s.pos, left.pos
	if zero < 0 {
		sign := signedNumber(left.rest())
		if sign < 0 {
			u, err := left.unit()
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
		return nil, nil, s.loneDeviation(s.text[nominalAt:nominalEnd], s.text[nominalEnd:left.end], upperEnd)
	}
	s.space()
	lowerAt := s.pos
	lower, err := s.deviation()
	if err != nil {
		return nil, nil, err
	}
	unitAt := s.pos
	u, err := s.unit()
	if err != nil {
		return nil, nil, err
	}
	nominalUnit, err := s.unitOfNominal(left, u)
	if err != nil {
		return nil, nil, err
	}
	if lower.Sign() != 0 && isDigitOrPoint(s.text[lowerAt]) { // the upper one has a sign, or is zero
		s.pos = lowerAt
		return nil, nil, s.fail("a deviation without a sign", "write + or - before it")
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
// "60 0/-0.019 mm" and "60 0.000/-0.019 mm"; -1 if nowhere.
func upperZero(text string) int {
	stroke := strings.LastIndexByte(text, '/')
	if stroke < 0 || !strings.ContainsAny(strings.TrimLeft(text[stroke+1:], " "), "+-−") {
		return -1
	}
	zero := strings.TrimRight(text[:stroke], " ")
	digits := strings.TrimRight(zero, "0.")
	if strings.Count(zero[len(digits):], ".") > 1 || !strings.HasSuffix(digits, " ") || strings.TrimSpace(digits) == "" {
		return -1
	}
	return len(digits) - 1
}

func isDigitOrPoint(c byte) bool { return isDigit(c) || c == '.' }

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

// loneDeviation explains a sign and a number, up to end, that make neither a pair
// of deviations nor a range. A hyphen between two numbers is a common way to write
// a range, and is refused because it is also a minus sign. The range is offered
// where the numbers are written alike and nothing else can be meant.
func (s *scanner) loneDeviation(nominal, between string, end int) error {
	if strings.HasPrefix(s.rest(), "+") {
		return s.fail("one deviation where two belong", "write both, upper first, as in "+s.d.example("60 +0.019/0"))
	}
	for _, sign := range signs {
		if !strings.HasPrefix(s.rest(), sign) {
			continue
		}
		number := s.pos + len(sign)
		spaced := strings.HasSuffix(between, " ") && s.text[number] != ' ' && (sign == "-" || sign == "−")
		second := strings.TrimSpace(s.text[number:end])
		a, okFirst := plainDecimal(nominal)
		b, okSecond := plainDecimal(second)
		if spaced || strings.TrimSpace(between) != "" || !okFirst || !okSecond || decimals(nominal) != decimals(second) || a.Cmp(b) >= 0 {
			return s.fail("one deviation where two belong, or a range with a dash",
				"write both deviations, upper first, as in "+s.d.example("60 0/-0.019")+", or both bounds in full, as in "+s.d.example("59.981..60"))
		}
		s.pos -= len(between)
		return s.failReplacing("a range written with a dash or a word", number+len(s.text[number:end])-len(strings.TrimLeft(s.text[number:end], " "))-s.pos, "..")
	}
	return s.fail("a sign without a meaning here", "write a range as "+s.d.example("0.024..0.048"))
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
