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
	class        Class
	lower, upper units.Length // limit deviations
}

// NewSize returns the size. The error is an *Error of kind ErrSize or
// ErrNotGiven.
func NewSize(nominal units.Length, class Class) (Size, error) {
	if class.letter == "" {
		return Size{}, wrong(ErrSyntax, nominal.String(), "a size without a tolerance class", `give one: ParseClass("H7")`)
	}
	lower, upper, err := class.deviations(nominal)
	if err != nil {
		return Size{}, err
	}
	return Size{nominal: nominal, class: class, lower: lower, upper: upper}, nil
}

// Nominal returns the nominal size.
func (s Size) Nominal() units.Length { return s.nominal }

// Class returns the tolerance class.
func (s Size) Class() Class { return s.class }

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

// Tolerance returns the width of the limits.
func (s Size) Tolerance() units.Length { return s.upper.Sub(s.lower) }

// String returns "55 H7", the nominal size in mm, as designations are.
func (s Size) String() string { return number(s.nominal) + " " + s.class.String() }

// Working shows how the limits of size come about.
func (s Size) Working() units.Working {
	lower, upper := "ei", "es"
	if s.class.hole {
		lower, upper = "EI", "ES"
	}
	return units.Working{
		Name:    s.String(),
		Formula: fmt.Sprintf("limits = nominal + %s .. nominal + %s; %s - %s = %s", lower, upper, upper, lower, s.class.grade),
		Numbers: fmt.Sprintf("%s = %s, %s = %s; %s = %s", lower, inMicrometres(s.lower), upper, inMicrometres(s.upper), s.class.grade, unsigned(s.Tolerance())),
		Result:  s.Limits().String(),
		Source:  sourceOf(s.class),
	}
}

func sourceOf(c Class) string {
	if c.hole {
		return "ISO 286-1:2010, tables 1 to 3"
	}
	return "ISO 286-1:2010, tables 1, 4 and 5"
}

// inMicrometres writes a deviation with its sign: "+30 µm", "-12 µm", "0 µm".
func inMicrometres(q units.Length) string {
	if q.Sign() > 0 {
		return "+" + unsigned(q)
	}
	return unsigned(q)
}

func unsigned(q units.Length) string {
	return q.In(units.Micrometre, 2).String() + " µm"
}
