package isofit

import (
	"fmt"

	"example.com/closefit/units"
)

// A Size is a nominal size with a tolerance class: "55 H7". It is an immutable
// value, made by NewSize or ParseSize, which prove that the standard gives its
// limits. The zero Size is no size.
type Size struct {
	nominal      units.Length
	class        ToleranceClass
	lower, upper units.Length // limit deviations
}

// NewSize returns the size. The error is of kind [ErrNotGiven], or [ErrSyntax] for the
// zero ToleranceClass.
func NewSize(nominal units.Length, class ToleranceClass) (Size, error) {
	if class.letter == "" {
		return Size{}, noClassGiven("tolerance class of " + nominal.String())
	}
	lower, upper, err := class.deviations(nominal)
	if err != nil {
		return Size{}, err
	}
	return Size{nominal: nominal, class: class, lower: lower, upper: upper}, nil
}

// Deviations returns the lower and the upper limit deviation as an interval: EI
// and ES of a hole, ei and es of a shaft. The zero Size has none: the interval is
// empty.
func (s Size) Deviations() units.LengthInterval {
	if s.class.letter == "" {
		return units.LengthInterval{}
	}
	return units.MustInterval(s.lower, s.upper)
}

// Limits returns the limits of size: the nominal size with each deviation.
func (s Size) Limits() units.LengthInterval { return s.Deviations().Shift(s.nominal) }

// String returns "55 H7", the nominal size in mm where it has an end as a decimal
// there.
func (s Size) String() string {
	if s.class.letter == "" {
		return "no size"
	}
	return number(s.nominal) + " " + s.class.String()
}

// MarshalText returns String. The error, of kind [ErrSyntax], is for the zero Size.
func (s Size) MarshalText() ([]byte, error) { return designated(s, s.String()) }

// designated returns the text of a designation whose size is given, if it can be read
// back.
func designated(s Size, text string) ([]byte, error) {
	if s.class.letter == "" {
		return nil, noClassGiven("size")
	}
	if len(text) > maxText {
		return nil, wrong(ErrSyntax, text, "a nominal size of too many digits", "write fewer")
	}
	return []byte(text), nil
}

// UnmarshalText reads what ParseSize does.
func (s *Size) UnmarshalText(text []byte) error { return readText(s, ParseSize, text) }

// Working shows the steps to the limits of size.
func (s Size) Working() units.Working {
	if s.class.letter == "" {
		return units.Working{Name: s.String(), Result: "no limits"}
	}
	lower, upper := "ei", "es"
	if s.class.hole {
		lower, upper = "EI", "ES"
	}
	return units.Working{
		Name:    s.String(),
		Formula: fmt.Sprintf("limits = nominal + %s .. nominal + %s; %s - %s = %s", lower, upper, upper, lower, s.class.grade),
		Numbers: fmt.Sprintf("%s = %s, %s = %s; %s = %s", lower, inMicrometres(s.lower), upper, inMicrometres(s.upper), s.class.grade, s.Limits().Width().Written(units.Micrometre)),
		Result:  s.Limits().String(),
		Source:  sourceOf(s.class),
	}
}

func sourceOf(c ToleranceClass) string {
	if c.hole {
		return "ISO 286-1:2010, tables 1 to 3"
	}
	return "ISO 286-1:2010, tables 1, 4 and 5"
}

// inMicrometres writes a deviation with its sign: "+30 µm", "-12 µm", "0 µm".
func inMicrometres(q units.Length) string {
	text := q.Written(units.Micrometre)
	if q.Sign() > 0 {
		return "+" + text
	}
	return text
}
