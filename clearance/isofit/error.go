package isofit

import (
	"errors"
	"strconv"

	"example.com/closefit/units"
)

// The kinds of bad input. A *units.Error wraps one of them, or one of package units for
// a nominal size that cannot be read.
var (
	ErrSyntax   = errors.New("not a tolerance class or fit")
	ErrNotGiven = errors.New("no value in ISO 286")
)

// wrong returns the error for a text.
func wrong(kind error, text, found, fix string) error {
	return &units.Error{Kind: kind, Where: strconv.Quote(text), Found: found, Fix: fix}
}
