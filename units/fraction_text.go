package units

import (
	"fmt"
	"math/big"
	"slices"
	"strings"
)

// A fraction is a number written with a stroke. People write fractions of inches,
// feet and turns, and bare ones as factors; of any other unit a stroke stands between
// the bounds of a range far more often, so there it is refused.
type fraction struct {
	start, end   int      // where it stands in the text
	whole        bool     // a mixed number
	hyphen       bool     // whose parts a hyphen joins
	over, under  *big.Int // what stands above and below the line; nil if there is no fraction
	above, below string   // the same as written
	negative     bool
}

// inchFractions are the numbers below the line: rules and drills go to 1/64, drawings to 1/128.
var inchFractions = []string{"2", "4", "8", "16", "32", "64", "128"}

// isProper reports whether the fraction is less than one.
func (f *fraction) isProper() bool { return f.over.Cmp(f.under) < 0 }

// isOfInch reports whether people write such fractions of inches and feet.
func (f *fraction) isOfInch() bool {
	return slices.Contains(inchFractions, f.under.String())
}

// isOfTurn reports whether people write such fractions of a turn.
func (f *fraction) isOfTurn() bool {
	return f.isProper() && f.under.Cmp(big.NewInt(128)) <= 0
}

// isFactor reports whether people write such a fraction for a pure number: 1/2,
// 4/3, 1 1/2. One that is not in lowest terms is more likely a range, and 1-1/2 may
// be a half.
func (f *fraction) isFactor() bool {
	one := big.NewInt(1)
	return !f.hyphen && f.under.Cmp(one) > 0 && new(big.Int).GCD(nil, nil, f.over, f.under).Cmp(one) == 0
}

// checkFraction refuses the number that was read if it is a fraction and the unit
// is not one of those that have fractions.
func (s *scanner) checkFraction(u *unitDef) error {
	d, f := s.d, &s.fraction
	if f.over == nil {
		return nil
	}
	ok := false
	switch {
	case d == lengths() && (u == &d.units[Inch] || u == &d.units[Foot]):
		ok = f.isOfInch()
	case d == angles() && u == &d.units[Turn]:
		ok = f.isOfTurn()
	case s.d.bare() && u == &d.units[0]:
		ok = f.isFactor()
	}
	if ok {
		return nil
	}
	return s.failFraction(u.symbol, "")
}

// unitForFraction returns the unit to suggest for the number that was read: the
// dimension's usual one, unless the number is a fraction that is written of another.
func (s *scanner) unitForFraction() (symbol string, err error) {
	d, f := s.d, &s.fraction
	if f.over == nil {
		return d.help, nil
	}
	odd := f.over.Bit(0) == 1 // in lowest terms, as people write fractions
	switch {
	case d == lengths() && f.isOfInch() && odd:
		return Inch.String(), nil
	case d == angles() && f.isOfTurn():
		return Turn.String(), nil
	}
	return "", s.failFraction(d.help, " "+d.help)
}

// failFraction makes the error for a fraction of a unit that has none; missing is
// what has to be put behind the text to give it a unit.
func (s *scanner) failFraction(unit, missing string) error {
	f := &s.fraction
	at := *s
	at.pos = f.start
	var fix string
	if !f.whole && !f.negative {
		fix = at.rangeInstead(f.above, f.below, f.end, missing)
	}
	if fix == "" {
		fix = s.d.bothInFull()
	} else {
		fix += " for a range"
	}
	switch {
	case unit != "":
	case f.hyphen:
		return at.fail("a hyphen, which may be a minus sign", "write the number as a decimal")
	default:
		return at.fail("a stroke, which may part the bounds of a range", fix+"; write a fraction in lowest terms, or as a decimal")
	}
	return at.fail("a stroke, which does not make a fraction of "+unit,
		fix+`; write a fraction as a decimal: with a stroke only inches and feet (3/64 in) and turns (1/4 turn) have one`)
}

// failStroke makes the error for a stroke, at pos, behind the number that began at
// start and was no fraction: "0.024/0.048 mm", "3/ in", "1/2/3 in".
func (s *scanner) failStroke(start int) error {
	look := *s
	look.accept("/", "⁄")
	look.space()
	second := look.pos
	look.digits()
	if look.accept(".") {
		look.digits()
	}
	at := *s
	at.pos = start
	fix := ""
	if s.fraction.over == nil {
		fix = at.rangeInstead(strings.TrimSpace(s.text[start:s.pos]), s.text[second:look.pos], look.pos, "")
	}
	if fix == "" {
		return s.fail("a stroke without a fraction", "write a fraction as 3/8, or as a decimal; "+s.d.bothInFull())
	}
	return s.fail("a range written with a stroke", fix)
}

// rangeInstead offers the text with the range low..high in place of what stands
// from pos to end. It offers nothing unless the two are written alike, with as many
// decimals, and the text holds no other number: of 60 and 0.019, or of 2.1255 and
// 65, nobody can tell what was meant.
func (s *scanner) rangeInstead(low, high string, end int, missing string) string {
	a, okLow := plainDecimal(low)
	b, okHigh := plainDecimal(high)
	rest := s.text[end:s.end]
	if !okLow || !okHigh || decimals(low) != decimals(high) || strings.TrimSpace(s.text[:s.pos]) != "" ||
		strings.ContainsAny(rest, "/⁄±+<>=") || strings.Contains(rest, "..") || strings.ContainsAny(strings.TrimLeft(rest, " "), " 0123456789") && missing != "" {
		return ""
	}
	if a.Cmp(b) > 0 {
		if len(low) != len(high) {
			return ""
		}
		low, high = high, low
	}
	return fmt.Sprintf("write %q", shorten(low+".."+high+rest+missing))
}

// plainDecimal reads digits with or without a point.
func plainDecimal(text string) (r *big.Rat, ok bool) {
	if strings.Trim(text, "0123456789.") != "" {
		return nil, false
	}
	return new(big.Rat).SetString(text)
}

// decimals counts the digits behind the point.
func decimals(text string) int {
	_, behind, _ := strings.Cut(text, ".")
	return len(behind)
}
