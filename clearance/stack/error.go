package stack

import (
	"errors"
	"fmt"

	"example.com/closefit/units"
)

// The kinds of bad input that a caller may want to tell apart. A *units.Error wraps one
// of them, or a kind of package measure.
var (
	ErrUnusable    = errors.New("cannot be used")
	ErrUnreachable = errors.New("no tolerances reach the yield")
)

func wrong(kind error, where, found, fix string) error {
	return &units.Error{Kind: kind, Where: where, Found: found, Fix: fix}
}

// label names a contributor in an error; i counts from 0.
func (c Contributor) label(i int) string { return fmt.Sprintf("contributor %d (%s)", i+1, c.Name) }
