package clearance

import (
	"errors"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// The kinds of bad input that only this package has. A *units.Error wraps one of them, or
// a kind of package measure.
var (
	ErrNoLayout = errors.New("no layout")
	ErrTooMany  = errors.New("too many combinations")
	ErrRange    = errors.New("outside its range") // an angle, a temperature or a coefficient that cannot be
)

// needTolerance returns an error of kind measure.ErrEmpty if the tolerance is empty.
func needTolerance(where string, tolerance units.LengthInterval) error {
	if !tolerance.IsEmpty() {
		return nil
	}
	return &units.Error{Kind: measure.ErrEmpty, Where: where + ", tolerance",
		Fix: "give both limits, or the one there is with <= or >="}
}

// notGiven returns the error of a size that nobody gave.
func notGiven(where string) error {
	return &units.Error{Kind: measure.ErrNotMeasured, Where: where, Fix: "give its size, such as 60.012 mm or 60.00..60.02 mm"}
}
