package clearance

import (
	"errors"

	"example.com/closefit/units"
)

// The kinds of bad input. An *Error wraps one of them.
var (
	ErrVerdict       = errors.New("no such verdict")
	ErrNoUncertainty = errors.New("an instrument without uncertainty")
	ErrNotPositive   = errors.New("a size that is not positive")
	ErrOrder         = errors.New("out of order")
	ErrEmpty         = errors.New("nothing given")
	ErrNotInSet      = errors.New("not in the set")
	ErrNotNeighbours = errors.New("not neighbours")
	ErrCoverage      = errors.New("no such coverage")
	ErrTooFew        = errors.New("too few readings")
	ErrStations      = errors.New("stations of unequal number")
	ErrNoTolerance   = errors.New("no tolerance given")
	ErrNotMeasured   = errors.New("not measured")
	ErrGuardBand     = errors.New("no such guard band")
	ErrProbability   = errors.New("no probability")
	ErrAbsoluteZero  = errors.New("a temperature below absolute zero")
	ErrAngle         = errors.New("a position outside 0°..360°")
	ErrExpansion     = errors.New("no coefficient of expansion of a metal")
	ErrTooMany       = errors.New("too many combinations")
	ErrNoLayout      = errors.New("no layout")
	ErrNoTerm        = errors.New("no such term")
	ErrContradiction = errors.New("readings that contradict each other")
)

// An Error says what is wrong with what was given, where, and what to give
// instead.
type Error struct {
	Kind  error  // one of this package's sentinels
	Where string // what it was given for: "feeler set"
	Found string // what was given: "0.15 mm after 0.2 mm"
	Fix   string // what to give instead
}

func (e *Error) Error() string {
	s := e.Where + ": " + e.Kind.Error()
	if e.Found != "" {
		s += ": " + e.Found
	}
	if e.Fix != "" {
		s += "; " + e.Fix
	}
	return s
}

// Unwrap returns the error's kind.
func (e *Error) Unwrap() error { return e.Kind }

// needTolerance returns an error of kind ErrNoTolerance if the tolerance is empty.
func needTolerance[D units.Dimension](where string, tolerance units.Interval[D]) error {
	if !tolerance.IsEmpty() {
		return nil
	}
	return &Error{Kind: ErrNoTolerance, Where: where,
		Fix: "give both limits, or the one there is with <= or >="}
}

// notGiven returns the error of a size that nobody gave.
func notGiven(where string) error {
	return &Error{Kind: ErrNotMeasured, Where: where, Fix: "give its size, such as 60.012 mm or 60.00..60.02 mm"}
}

// positive returns an error unless q is above zero.
func positive[D units.Dimension](where string, q units.Quantity[D]) error {
	if q.Sign() > 0 {
		return nil
	}
	return &Error{Kind: ErrNotPositive, Where: where, Found: q.String(), Fix: "give one above zero"}
}
