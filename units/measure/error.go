package measure

import (
	"errors"

	"example.com/closefit/units"
)

// The kinds of bad input. A *units.Error wraps one of them.
var (
	ErrNoUncertainty = errors.New("an instrument without uncertainty")
	ErrNotPositive   = errors.New("not above zero")
	ErrOrder         = errors.New("out of order")
	ErrEmpty         = errors.New("nothing given, or too few")
	ErrNotInSet      = errors.New("not in the set")
	ErrNotMeasured   = errors.New("not measured")
	ErrProbability   = errors.New("no such probability or coverage")
	ErrContradiction = errors.New("readings that contradict each other")
)

// positive returns an error unless q is above zero.
func positive[D units.Dimension](where string, q units.Quantity[D]) error {
	if q.Sign() > 0 {
		return nil
	}
	return &units.Error{Kind: ErrNotPositive, Where: where, Found: q.String(), Fix: "give one above zero"}
}
