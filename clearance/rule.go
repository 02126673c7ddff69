package clearance

import (
	"fmt"

	"example.com/closefit/units"
)

// A Rule decides what a reading says about its limits. The zero Rule is the
// default of ISO 14253-1.
type Rule uint8

const (
	// ProveBoth demands proof of conformity and of nonconformity alike: the
	// default rule of ISO 14253-1:2017. It is what Judge does.
	ProveBoth Rule = iota

	// SimpleAcceptance takes the best estimate for the truth (JCGM 106:2012,
	// 8.2): inside is accepted, outside is refused, and nothing is undecided as
	// long as there is an estimate. Of a bracket with two ends that is its middle;
	// a bracket that lacks an end has none. It shares the risk of a wrong answer
	// between both sides, up to one half for a value at a limit.
	SimpleAcceptance
)

// String returns the rule's name in words.
func (r Rule) String() string {
	switch r {
	case ProveBoth:
		return "proof demanded (ISO 14253-1)"
	case SimpleAcceptance:
		return "simple acceptance (JCGM 106, 8.2)"
	}
	return fmt.Sprintf("Rule(%d)", uint8(r))
}

// JudgeBy judges a reading by the rule.
func JudgeBy[D units.Dimension](rule Rule, reading Reading[D], tolerance units.Interval[D]) Verdict {
	measured := reading.Interval()
	if rule == SimpleAcceptance && reading.Bracket().Bounded() {
		measured = units.Exactly(reading.Bracket().Mid())
	}
	return Judge(measured, tolerance)
}

// Accepting returns the acceptance interval of JCGM 106:2012, 8.3: the tolerance
// interval with a guard band cut off at each limit, within which a measured value
// must lie to be accepted. A guard band of the expanded uncertainty is the rule
// that Judge applies; a larger one protects the buyer more, a smaller one less.
// The error is an *Error of kind ErrNoTolerance for an empty tolerance, or of kind
// ErrGuardBand if the guard band is negative or leaves nothing.
func Accepting[D units.Dimension](tolerance units.Interval[D], guard units.Quantity[D]) (units.Interval[D], error) {
	const where = "guard band"
	if err := needTolerance(where, tolerance); err != nil {
		return units.Interval[D]{}, err
	}
	if guard.Sign() < 0 {
		return units.Interval[D]{}, &Error{Kind: ErrGuardBand, Where: where, Found: guard.String(), Fix: "give zero or more"}
	}
	switch {
	case !tolerance.HasLo() && !tolerance.HasHi():
		return tolerance, nil
	case !tolerance.HasLo():
		return units.AtMost(tolerance.Hi().Sub(guard)), nil
	case !tolerance.HasHi():
		return units.AtLeast(tolerance.Lo().Add(guard)), nil
	}
	accept, err := units.NewInterval(tolerance.Lo().Add(guard), tolerance.Hi().Sub(guard))
	if err != nil {
		return units.Interval[D]{}, &Error{Kind: ErrGuardBand, Where: where, Found: guard.String() + " on each side of " + tolerance.String(),
			Fix: "nothing is left to accept: measure with an uncertainty well below half the width of the limits"}
	}
	return accept, nil
}
