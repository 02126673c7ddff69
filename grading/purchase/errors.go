package purchase

import (
	"errors"
	"fmt"

	"example.com/closefit/units"
)

// The kinds of error. A *units.Error or another error wraps one of them.
var (
	ErrRequest  = errors.New("not a request that can be used")
	ErrUnserved = errors.New("demand that cannot be met")
	ErrTooLarge = errors.New("numbers too large to be proven")
)

func fault(kind error, where, fix, found string, args ...any) error {
	return &units.Error{Kind: kind, Where: where, Found: fmt.Sprintf(found, args...), Fix: fix}
}
