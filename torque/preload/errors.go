package preload

import (
	"errors"

	"example.com/closefit/units"
)

// ErrImpossible is the kind of every error about a screw, a friction, a pull or a tool that
// cannot be. A *units.Error wraps it and says which.
var ErrImpossible = errors.New("not possible")

func impossible(where, found, fix string) error {
	return &units.Error{Kind: ErrImpossible, Where: where, Found: found, Fix: fix}
}

// notNegative refuses an interval that lacks a bound or goes below zero.
func notNegative[D units.Dimension](where string, a units.Interval[D]) error {
	switch {
	case !a.Bounded():
		return impossible(where, a.String(), "write both bounds")
	case a.Lo().Sign() < 0:
		return impossible(where, a.String(), "write zero or more")
	}
	return nil
}

// positive refuses an interval that lacks a bound or is not above zero.
func positive[D units.Dimension](where string, a units.Interval[D], fix string) error {
	if !a.Bounded() || a.Lo().Sign() <= 0 {
		return impossible(where, a.String(), fix)
	}
	return nil
}
