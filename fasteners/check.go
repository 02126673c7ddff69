package fasteners

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// A Check is one measured answer about a used fastener: what was compared, with
// which limit, and what that proves.
type Check struct {
	Name     string               // "permanent stretch"
	Outcome  Reuse                // what the readings prove
	Measured units.LengthInterval // what was compared with the limit
	Limit    units.Length         // the largest value allowed, or for a diameter the smallest

	atLeast  bool // Limit is the smallest value allowed
	formula  string
	operands []units.LengthInterval
	doubt    string // why the readings contradict themselves, if they do
}

// CheckStretch judges how much longer a bolt is than when it was new:
//
//	ΔL = L - L0
//
// L is its length now and L0 its length when new, both with their uncertainty and
// measured in the same way over the same faces; limit is the largest permanent
// stretch allowed. L0 may be a nominal length if it carries the tolerance that bolts
// are made to ("62 ±0.15 mm"): a nominal length alone is not what this bolt measured.
// A bolt that proves shorter than when new is Undecided: it was measured wrong, or is
// another bolt.
//
// The error wraps ErrReading for a length that has no two bounds above zero, and for a
// negative limit.
//
// Source: common practice, no source; the limit is the engine maker's.
func CheckStretch(now, whenNew units.LengthInterval, limit units.Length) (Check, error) {
	if err := positive("length now", now); err != nil {
		return Check{}, err
	}
	if err := positive("length when new", whenNew); err != nil {
		return Check{}, err
	}
	if limit.Sign() < 0 {
		return Check{}, readingError("limit of the permanent stretch", limit.String(), "write zero or more")
	}
	c := Check{
		Name: "permanent stretch", Measured: now.Sub(whenNew), Limit: limit,
		formula: "ΔL = L - L0", operands: []units.LengthInterval{now, whenNew},
	}
	c.judge()
	if c.Measured.Hi().Sign() < 0 {
		c.Outcome = Undecided
		c.doubt = "the bolt measures shorter than when new: measure again, make sure it is the same bolt, and give a nominal length with its tolerance"
	}
	return c, nil
}

// CheckLength judges a bolt's length against the longest allowed, for manuals that
// print that instead of a stretch.
//
// The error wraps ErrReading for a length or a limit that is not above zero.
func CheckLength(now units.LengthInterval, longest units.Length) (Check, error) {
	if err := positive("length now", now); err != nil {
		return Check{}, err
	}
	if longest.Sign() <= 0 {
		return Check{}, readingError("longest length allowed", longest.String(), "write a length above zero")
	}
	c := Check{
		Name: "length", Measured: now, Limit: longest,
		formula: "L", operands: []units.LengthInterval{now},
	}
	c.judge()
	return c, nil
}

// judge compares Measured with Limit, which is itself allowed.
func (c *Check) judge() {
	allowed := units.AtMost(c.Limit)
	if c.atLeast {
		allowed = units.AtLeast(c.Limit)
	}
	switch {
	case c.Measured.Within(allowed):
		c.Outcome = Reusable
	case !c.Measured.Overlaps(allowed):
		c.Outcome = Replace
	default:
		c.Outcome = Undecided
	}
}

// Needed returns how good the readings together must be, as the u of ± u, to settle an
// undecided check if the true value lies in the middle of what they allow. ok is false
// when the check is decided, when its readings contradict themselves, and when the
// middle lies on the limit, which no reading can settle.
func (c Check) Needed() (u units.Length, ok bool) {
	if c.Outcome != Undecided || c.doubt != "" || c.formula == "" {
		return units.Length{}, false
	}
	u = c.Measured.Mid().Sub(c.Limit).Abs()
	return u, !u.IsZero()
}

// Sentence says what the check proves, with lengths in the unit to so many places, or to as
// many more as they need to be shown whole, up to four. What is longer still is rounded
// outward if it was measured.
func (c Check) Sentence(u units.LengthUnit, places int32) string {
	places = c.enough(u, places)
	bound := "at most"
	if c.atLeast {
		bound = "at least"
	}
	limit := c.Limit.Format(u, places, units.HalfEven)
	measured := c.Measured.FormatOutward(u, places)
	switch {
	case c.doubt != "":
		return fmt.Sprintf("%s %s: undecided: %s", c.Name, measured, c.doubt)
	case c.Outcome == Reusable:
		return fmt.Sprintf("%s %s, %s %s is allowed: reusable by this check", c.Name, measured, bound, limit)
	case c.Outcome == Replace:
		return fmt.Sprintf("%s %s, %s %s is allowed: replace", c.Name, measured, bound, limit)
	}
	s := fmt.Sprintf("%s %s, %s %s is allowed, which lies between: undecided", c.Name, measured, bound, limit)
	if need, ok := c.Needed(); ok {
		s += fmt.Sprintf("; readings good to ±%s together would settle it", need.Format(u, places+1, units.Floor))
	}
	return s
}

// Working returns the comparison for checking by hand, with lengths as in Sentence.
func (c Check) Working(u units.LengthUnit, places int32) units.Working {
	w := units.Working{
		Name:    c.Name,
		Formula: c.formula,
		Result:  c.Sentence(u, places),
		Source:  "common practice, no source; the limit is the engine maker's",
		Notes:   []string{Caution},
	}
	if len(c.operands) > 1 {
		numbers := make([]string, len(c.operands))
		for i, o := range c.operands {
			numbers[i] = o.FormatOutward(u, c.enough(u, places))
		}
		w.Numbers = strings.Join(numbers, " - ")
	}
	return w
}

// enough returns how many decimal places show the limit and the readings whole, at least so
// many and at most four more.
func (c Check) enough(u units.LengthUnit, places int32) int32 {
	shown := []units.Length{c.Limit, c.Measured.Lo(), c.Measured.Hi()}
	for _, o := range c.operands {
		shown = append(shown, o.Lo(), o.Hi())
	}
	for more := range int32(4) {
		whole := func(l units.Length) bool { return u.Of(l.In(u, places+more)).Equal(l) }
		if !slices.ContainsFunc(shown, func(l units.Length) bool { return !whole(l) }) {
			return places + more
		}
	}
	return places + 4
}

// Caution is what must stand beside every answer about used bolts.
const Caution = "a bolt that was tightened beyond yield, or is marked single use, is scrap whatever it measures; the engine maker's manual comes first"

// positive returns an error unless the interval has two bounds above zero.
func positive(what string, a units.LengthInterval) error {
	if !a.Bounded() {
		return readingError(what, a.String(), `write both bounds, as in "61.98..62.02 mm" or "62 ±0.02 mm"`)
	}
	if a.Lo().Sign() <= 0 {
		return readingError(what, a.String(), "write a length above zero")
	}
	return nil
}
