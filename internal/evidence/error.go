package evidence

import (
	"errors"
	"fmt"
)

// The kinds of error in an evidence file, found with errors.Is.
var (
	ErrCSV        = errors.New("not a row of nine comma-separated fields")
	ErrHeader     = errors.New("wrong header")
	ErrEmpty      = errors.New("no evidence")
	ErrMissing    = errors.New("required field is empty")
	ErrID         = errors.New("bad id")
	ErrDuplicate  = errors.New("duplicate id")
	ErrInputs     = errors.New("bad inputs")
	ErrNumber     = errors.New("bad number")
	ErrTolerance  = errors.New("bad tolerance")
	ErrProvenance = errors.New("bad provenance")
)

// The kinds of failure when a row is run, found with errors.Is.
var (
	ErrUnregistered = errors.New("check is not registered")
	ErrUnused       = errors.New("registered check has no row")
	ErrInput        = errors.New("input cannot be read")
	ErrUnread       = errors.New("part of the row was never read by its check")
	ErrUnit         = errors.New("unit is not the one computed")
	ErrCheck        = errors.New("check failed to compute")
	ErrKind         = errors.New("result cannot be compared with the row")
	ErrDisagrees    = errors.New("computed value disagrees with the source")
	ErrAgrees       = errors.New("listed as a misprint but agrees")
	ErrOriginal     = errors.New("not the value of the row that the note names")
	ErrShare        = errors.New("too many facts hang on one work")
	ErrLoose        = errors.New("tolerance is more than twenty times the deviation, without a reason")
)

// ErrStale is the error of [Stale].
var ErrStale = errors.New("stale")

// Error says which row of which file is wrong, and how. Line is 0 when the whole
// file or package is meant; ID is empty until it has been read.
type Error struct {
	File   string
	Line   int
	ID     string
	Kind   error  // one of the sentinels
	Detail string // what was found, and what to write instead
	Cause  error  // the error beneath, or nil
}

func (e *Error) Error() string {
	if e.File == "" { // about all of the evidence
		return e.Kind.Error() + ": " + e.Detail
	}
	s := e.File
	if e.Line > 0 {
		s += fmt.Sprintf(":%d", e.Line)
	}
	if e.ID != "" {
		s += fmt.Sprintf(": row %s", e.ID)
	}
	s += ": " + e.Kind.Error()
	if e.Detail != "" {
		s += ": " + e.Detail
	}
	if e.Cause != nil {
		s += ": " + e.Cause.Error()
	}
	return s
}

// Unwrap gives the kind and, where there is one, the cause.
func (e *Error) Unwrap() []error {
	if e.Cause == nil {
		return []error{e.Kind}
	}
	return []error{e.Kind, e.Cause}
}
