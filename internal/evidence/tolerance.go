package evidence

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"
)

// Tolerance says how far a computed value may lie from the wanted one. The zero
// value is exact.
type Tolerance struct {
	text   string
	kind   toleranceKind
	amount *big.Rat // absolute: in the unit of want; percent: as a fraction
}

type toleranceKind int

const (
	exact toleranceKind = iota
	absolute
	places
	percent
)

// parseTolerance reads "0", "0.002", "places" or "1%".
func parseTolerance(s string) (Tolerance, error) {
	if s == "places" {
		return Tolerance{text: s, kind: places}, nil
	}
	number, isPercent := strings.CutSuffix(s, "%")
	d, err := parseNumber(number)
	if err != nil {
		return Tolerance{}, fmt.Errorf("%q: write 0 for exact, an absolute decimal such as 0.002, places, or a percent such as 1%%", s)
	}
	amount := d.Rat()
	switch {
	case amount.Sign() < 0:
		return Tolerance{}, fmt.Errorf("%q is negative", s)
	case isPercent && amount.Sign() == 0:
		return Tolerance{}, errors.New("0% of a value is nothing: write 0 for exact")
	case isPercent:
		return Tolerance{text: s, kind: percent, amount: amount.Quo(amount, big.NewRat(100, 1))}, nil
	case amount.Sign() == 0:
		return Tolerance{text: s, kind: exact}, nil
	default:
		return Tolerance{text: s, kind: absolute, amount: amount}, nil
	}
}

// String returns the tolerance as the row writes it.
func (t Tolerance) String() string {
	if t.text == "" {
		return "0"
	}
	return t.text
}

// Exact tells whether no deviation at all is allowed.
func (t Tolerance) Exact() bool { return t.kind == exact }

// Allowed returns the largest deviation from want that still agrees, in the unit of
// want: half a unit of its last printed place for "places".
func (t Tolerance) Allowed(want decimal.Decimal) *big.Rat {
	switch t.kind {
	case absolute:
		return new(big.Rat).Set(t.amount)
	case places:
		return new(big.Rat).Mul(lastPlace(want), big.NewRat(1, 2))
	case percent:
		return new(big.Rat).Mul(t.amount, want.Abs().Rat())
	default:
		return new(big.Rat)
	}
}
