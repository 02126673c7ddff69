package isofit

import (
	"fmt"
	"strings"

	"example.com/closefit/units"
)

// A Fit is a hole and a shaft of one nominal size, each with its tolerance
// class: "55 H7/g6". It is an immutable value, made by NewFit or ParseFit. The
// zero Fit is no fit.
type Fit struct {
	hole, shaft Size
}

// NewFit returns the fit. The error is an *Error of kind ErrMates if the classes
// are not a hole's and a shaft's, ErrSize or ErrNotGiven.
func NewFit(nominal units.Length, hole, shaft Class) (Fit, error) {
	if !hole.hole || shaft.hole {
		return Fit{}, mates(hole, shaft)
	}
	h, err := NewSize(nominal, hole)
	if err != nil {
		return Fit{}, err
	}
	s, err := NewSize(nominal, shaft)
	if err != nil {
		return Fit{}, err
	}
	return Fit{hole: h, shaft: s}, nil
}

func mates(hole, shaft Class) error {
	found := hole.String() + "/" + shaft.String()
	switch {
	case !hole.hole && shaft.hole:
		return wrong(ErrMates, found, "the shaft before the hole", `write "`+shaft.String()+"/"+hole.String()+`"`)
	case hole.hole:
		return wrong(ErrMates, found, "two holes", `write the shaft's class in small letters: "`+hole.String()+"/"+strings.ToLower(shaft.String())+`"`)
	}
	return wrong(ErrMates, found, "two shafts", `write the hole's class in capitals: "`+strings.ToUpper(hole.String())+"/"+shaft.String()+`"`)
}

// Nominal returns the nominal size, which hole and shaft share.
func (f Fit) Nominal() units.Length { return f.hole.nominal }

// Hole returns the hole.
func (f Fit) Hole() Size { return f.hole }

// Shaft returns the shaft.
func (f Fit) Shaft() Size { return f.shaft }

// Pair returns the limits of size of hole and shaft.
func (f Fit) Pair() Pair { return Pair{Hole: f.hole.Limits(), Shaft: f.shaft.Limits()} }

// Clearance returns the clearances that the limits of size allow, from the
// smallest to the largest; a negative one is an interference.
func (f Fit) Clearance() units.LengthInterval { return f.Pair().Clearance() }

// Kind returns the kind of fit.
func (f Fit) Kind() Kind { return f.Pair().Kind() }

// String returns "55 H7/g6", the nominal size in mm.
func (f Fit) String() string { return f.hole.String() + "/" + f.shaft.class.String() }

// Working shows how the smallest and the largest clearance come about, from the
// limits of size of hole and shaft.
func (f Fit) Working() units.Working {
	if f.Kind() == Unknown {
		return units.Working{Name: "no fit", Result: "unknown fit"}
	}
	h, s, c := f.hole.Limits(), f.shaft.Limits(), f.Clearance()
	return units.Working{
		Name:    f.String(),
		Formula: "smallest clearance = hole min - shaft max; largest clearance = hole max - shaft min",
		Numbers: fmt.Sprintf("%s - %s = %s; %s - %s = %s", number(h.Lo()), number(s.Hi()), number(c.Lo()),
			number(h.Hi()), number(s.Lo()), number(c.Hi())),
		Result: fmt.Sprintf("%s: %s", f.Kind(), f.Pair().describe()),
		Source: "ISO 286-1:2010, 3.3 (clearance, interference, kinds of fit)",
		Steps:  []units.Working{f.hole.Working(), f.shaft.Working()},
	}
}
