package examination

import (
	"errors"

	"example.com/closefit/units"
)

// ErrImpossible is the kind of every error about a group, a step, a pull or neighbours that cannot be.
// A *units.Error wraps it and says which. What is wrong with a bolt is of kind preload.ErrImpossible.
var ErrImpossible = errors.New("not possible")

func impossible(where, found, fix string) error {
	return &units.Error{Kind: ErrImpossible, Where: where, Found: found, Fix: fix}
}
