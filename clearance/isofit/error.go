package isofit

import (
	"errors"
	"fmt"

	"example.com/closefit/units"
)

// The kinds of bad input. A *units.Error wraps one of them, or one of package units for
// a nominal size that cannot be read.
var (
	ErrSyntax   = errors.New("not a tolerance class or fit")
	ErrNotGiven = errors.New("no value is given")
)

// wrong returns the error for a text.
func wrong(kind error, text, found, fix string) error {
	return &units.Error{Kind: kind, Where: quote(text), Found: found, Fix: fix}
}

// quote quotes the beginning of a text.
func quote(text string) string { return fmt.Sprintf("%.64q", text) }
