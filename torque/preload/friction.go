package preload

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// Friction is what resists a turning bolt: the coefficients in the thread and under the
// head or nut, whichever turns. A coefficient is a pure number above zero and at most 1,
// known between two bounds; [ParseFriction] reads one as people write it. A table's μtot is the
// same in both places.
type Friction struct {
	Thread  units.RatioInterval `json:"thread"`  // μth, also written μG
	Bearing units.RatioInterval `json:"bearing"` // μb, also written μK
}

// ParseFriction reads a coefficient of friction, "0.12", "0.10..0.16" or "0.14 ±0.02", or a
// class of surfaces and lubricants, "A" to "D", for which VDI 2230 gives a range that holds in
// the thread as under the head:
//
//	A  0.04..0.10  lubricating coatings, waxes, solid lubricants
//	B  0.08..0.16  plain or phosphated steel, oiled or greased: the class to aim at
//	C  0.14..0.24  plain or zinc-plated, as delivered or thinly oiled
//	D  0.20..0.35  plain or hot-dip galvanised, dry
//
// Class E, above 0.30 (austenitic steel and light metals, dry), has no upper end and is left
// out. A range of a class is no measurement: friction tested on the parts in hand is narrower. A
// nut factor is read in the same way.
//
// The error is of kind ErrImpossible for a coefficient that is not above zero, or above 1: no pair
// of bolt surfaces comes near 1, and 12 was typed for 0.12.
//
// Source of the classes: VDI 2230-1:2003, table A5, as recalled.
func ParseFriction(s string) (units.RatioInterval, error) {
	text := strings.TrimSpace(s)
	switch text {
	case "A":
		text = "0.04..0.10"
	case "B":
		text = "0.08..0.16"
	case "C":
		text = "0.14..0.24"
	case "D":
		text = "0.20..0.35"
	case "E", "a", "b", "c", "d", "e":
		return units.RatioInterval{}, impossible("friction class of VDI 2230", strconv.Quote(text), `write "A", "B", "C" or "D", or a range such as "0.10..0.16"`)
	}
	c, err := units.Parse[units.RatioInterval](text)
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
		return impossible(where, c.String()+", above 1", insteadOf(c))
	}
	return nil
}

// insteadOf says what to write instead of a coefficient above 1: what it is with the point
// one to three places further left, where that is a friction that surfaces have: from
// 0.04, where class A of ParseFriction begins, to 0.6 (common practice, no source).
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
