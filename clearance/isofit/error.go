package isofit

import (
	"errors"
	"fmt"
)

// The kinds of error. An *Error wraps one of them.
var (
	ErrSyntax   = errors.New("not a tolerance class or fit")
	ErrLetter   = errors.New("no letter of a fundamental deviation")
	ErrGrade    = errors.New("no standard tolerance grade")
	ErrSize     = errors.New("nominal size out of range")
	ErrNotGiven = errors.New("the standard gives no value for it")
	ErrMates    = errors.New("not a hole with a shaft")
	ErrNegative = errors.New("negative tolerance")
)

// An Error says what was found, what is wrong with it and what to write instead.
type Error struct {
	Found string // as it was given: "55 H7/w6"
	What  string // "w is no letter of a fundamental deviation"
	Fix   string // "write one of a b c ..."
	Kind  error  // ErrSyntax, ErrLetter, …
}

func (e *Error) Error() string { return fmt.Sprintf("%q: %s; %s", e.Found, e.What, e.Fix) }

// Unwrap returns the error's kind.
func (e *Error) Unwrap() error { return e.Kind }

func wrong(kind error, found, what, fix string) error {
	return &Error{Found: found, What: what, Fix: fix, Kind: kind}
}
