package preload

import (
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// Friction is what resists a turning bolt: the coefficients in the thread and under the
// head or nut, whichever turns. A coefficient is a pure number above zero and at most 1,
// known between two bounds; [ParseFriction] reads one as people write it.
type Friction struct {
	Thread  units.RatioInterval `json:"thread"`  // μth, also written μG
	Bearing units.RatioInterval `json:"bearing"` // μb, also written μK
}

// EqualFriction returns the same coefficient in the thread and under the head: μtot, as
// tables take it.
func EqualFriction(total units.RatioInterval) Friction {
	return Friction{Thread: total, Bearing: total}
}

// ParseFriction reads a coefficient of friction or a nut factor: "0.12", "0.10..0.16",
// "0.14 ±0.02". The error wraps ErrImpossible unless it is above zero, and ErrAboveOne for
// one above 1: 12 typed for 0.12. No pair of bolt surfaces comes near 1.
func ParseFriction(s string) (units.RatioInterval, error) {
	c, err := units.Parse[units.RatioInterval](s)
	if err == nil {
		err = checkCoefficient("friction", c)
	}
	if err != nil {
		return units.RatioInterval{}, err
	}
	return c, nil
}

// checkCoefficient refuses what is no coefficient.
func checkCoefficient(where string, c units.RatioInterval) error {
	one := units.One.OfInt(1)
	switch {
	case c.IsEmpty():
		return impossible(where, "none", `give it, as in "0.12" or "0.10..0.16"`)
	case !c.Bounded():
		return impossible(where, c.String(), `write both bounds, as in "0.10..0.16"`)
	case c.Lo().Sign() <= 0:
		return impossible(where, c.String()+", not above zero", `write a number above zero, as in "0.12" or "0.10..0.16"`)
	case one.Less(c.Hi()):
		return &units.Error{Kind: ErrAboveOne, Where: where, Found: c.String(), Fix: insteadOf(c)}
	}
	return nil
}

// insteadOf says what to write instead of a coefficient above 1: what it is with the point
// one to three places further left, where that is a friction that surfaces have: from
// 0.04, where class A of FrictionClass begins, to 0.6 (common practice, no source).
func insteadOf(c units.RatioInterval) string {
	one := decimal.New(1, 0)
	least, most := decimal.New(4, -2), decimal.New(6, -1)
	lo, hi := c.Lo().In(units.One, 12), c.Hi().In(units.One, 12)
	var likely []string
	for places := int32(1); places <= 3; places++ {
		shifted := func(d decimal.Decimal) decimal.Decimal {
			if d.Cmp(one) > 0 {
				return d.Shift(-places)
			}
			return d
		}
		a, b := shifted(lo), shifted(hi)
		if a.Cmp(b) > 0 || a.Cmp(least) < 0 || b.Cmp(most) > 0 {
			continue
		}
		likely = append(likely, `"`+units.MustInterval(units.One.Of(a), units.One.Of(b)).Written(units.One)+`"`)
	}
	if len(likely) == 0 {
		return `write it as a part of one, as in "0.12" or "0.10..0.16"`
	}
	return "write " + strings.Join(likely, " or ")
}

func (f Friction) check() error {
	if err := checkCoefficient("friction in the thread", f.Thread); err != nil {
		return err
	}
	return checkCoefficient("friction under the head", f.Bearing)
}
