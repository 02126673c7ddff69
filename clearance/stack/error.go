package stack

import (
	"errors"
	"fmt"
)

// The kinds of error. A *ContributorError or an *Error wraps one of them.
var (
	ErrEmpty          = errors.New("a stack without contributors")
	ErrNoTolerance    = errors.New("a contributor without tolerance")
	ErrUnbounded      = errors.New("a contributor with one limit")
	ErrSensitivity    = errors.New("a contributor without direction")
	ErrNoDistribution = errors.New("a contributor without distribution")
	ErrCoverage       = errors.New("a coverage factor out of range")
	ErrSample         = errors.New("a sample too small")
	ErrSampleOutside  = errors.New("a measured value outside the limits")
	ErrLimits         = errors.New("limits that say nothing")
	ErrProbability    = errors.New("not a probability between 0 and 1")
	ErrInflation      = errors.New("an inflation factor below one")
	ErrTrials         = errors.New("not a number of trials")
	ErrCost           = errors.New("not a cost of tolerance")
	ErrUnreachable    = errors.New("no tolerances reach the yield")
	ErrRange          = errors.New("a contributor too large or too small")
	ErrNotFinite      = errors.New("not a finite number")
)

// A ContributorError says which contributor is wrong, how, and what to give
// instead.
type ContributorError struct {
	Index int    // from 0, in the order given
	Name  string // may be empty
	What  string // "limits of no width: 2.5 mm"
	Fix   string // "give the limits it may have, such as 2.5 ±0.02 mm"
	Kind  error  // ErrNoTolerance, …
}

func (e *ContributorError) Error() string {
	return fmt.Sprintf("contributor %d (%s): %s; %s", e.Index+1, e.Name, e.What, e.Fix)
}

// Unwrap returns the error's kind.
func (e *ContributorError) Unwrap() error { return e.Kind }

// An Error says what was given that cannot be used, and what to give instead.
type Error struct {
	What string
	Fix  string
	Kind error
}

func (e *Error) Error() string { return e.What + "; " + e.Fix }

// Unwrap returns the error's kind.
func (e *Error) Unwrap() error { return e.Kind }

func wrong(kind error, what, fix string) error { return &Error{What: what, Fix: fix, Kind: kind} }
