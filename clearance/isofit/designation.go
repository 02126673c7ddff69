package isofit

import (
	"strings"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Designation designates a fit: a hole and a shaft of one nominal size, each with its
// tolerance class, "55 H7/g6". It is an immutable value, made by ParseDesignation. The
// zero Designation is no fit.
type Designation struct {
	hole, shaft Size
}

// mates returns the error of classes that are not a hole's and a shaft's.
func mates(hole, shaft ToleranceClass) error {
	text := hole.String() + "/" + shaft.String()
	switch {
	case !hole.hole && shaft.hole:
		return wrong(ErrSyntax, text, "the shaft before the hole", `write "`+shaft.String()+"/"+hole.String()+`"`)
	case hole.hole:
		return wrong(ErrSyntax, text, "two holes", `write the shaft's class in small letters: "`+hole.String()+"/"+strings.ToLower(shaft.String())+`"`)
	}
	return wrong(ErrSyntax, text, "two shafts", `write the hole's class in capitals: "`+strings.ToUpper(hole.String())+"/"+shaft.String()+`"`)
}

// Hole returns the hole, "55 H7".
func (d Designation) Hole() Size { return d.hole }

// Shaft returns the shaft, "55 g6".
func (d Designation) Shaft() Size { return d.shaft }

// Clearance returns the clearance C = D - d as the sum of the limits of size, D of the
// hole and d of the shaft (ISO 286-1:2010, 3.3). Its interval runs from the smallest
// clearance to the largest; a negative clearance is an interference. The sum of the zero
// Designation is missing.
func (d Designation) Clearance() *measure.Sum[units.LengthDim] {
	return &measure.Sum[units.LengthDim]{Name: d.String(), Symbol: "C", Terms: []measure.Term[units.LengthDim]{
		measure.Plus("D", "hole", measure.Given(d.hole.Limits(), d.hole.String())),
		measure.Minus("d", "shaft", measure.Given(d.shaft.Limits(), d.shaft.String())),
	}}
}

// String returns "55 H7/g6", the nominal size in mm where it has an end as a decimal
// there.
func (d Designation) String() string {
	if d.hole.class.letter == "" {
		return "no fit"
	}
	return d.hole.String() + "/" + d.shaft.class.String()
}

// MarshalText returns String. The error, of kind [ErrSyntax], is for the zero
// Designation.
func (d Designation) MarshalText() ([]byte, error) {
	return designated(d.hole, d.String())
}

// UnmarshalText reads what ParseDesignation does.
func (d *Designation) UnmarshalText(text []byte) error { return readText(d, ParseDesignation, text) }

// Working shows the smallest and the largest clearance, from the limits of size of hole
// and shaft.
func (d Designation) Working() units.Working {
	if d.hole.class.letter == "" {
		return units.Working{Name: d.String(), Result: describe(units.LengthInterval{})}
	}
	clearance := d.Clearance()
	w := clearance.Working(units.Millimetre)
	w.Result = describe(clearance.Interval())
	w.Source = "ISO 286-1:2010, 3.3 (clearance, interference, kinds of fit)"
	w.Steps[0], w.Steps[1] = d.hole.Working(), d.shaft.Working()
	return w
}
