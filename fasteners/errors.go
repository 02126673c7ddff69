package fasteners

import (
	"errors"
	"fmt"
)

// ErrReading is the kind of error for a reading or a limit that cannot be one: a
// length not above zero, a bound missing. A *ReadingError wraps it.
var ErrReading = errors.New("not a possible reading")

// A ReadingError says which reading or limit is impossible and what to write instead.
type ReadingError struct {
	What  string // "length now"
	Value string // what was found
	Fix   string // what to write instead
}

func (e *ReadingError) Error() string {
	return fmt.Sprintf("%s %s: %v; %s", e.What, e.Value, ErrReading, e.Fix)
}

// Unwrap returns ErrReading.
func (e *ReadingError) Unwrap() error { return ErrReading }

func readingError(what, value, fix string) *ReadingError {
	return &ReadingError{What: what, Value: value, Fix: fix}
}
