package preload

import (
	"errors"
	"fmt"

	"example.com/closefit/units"
)

// The kinds of error: a *units.Error wraps one of them.
var (
	ErrImpossible = errors.New("not possible") // a screw, a friction, a pull, a tool that cannot be
	ErrAboveOne   = fmt.Errorf("%w: friction above 1", ErrImpossible)
)

// impossible returns the error for something that cannot be.
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
