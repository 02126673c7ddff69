package clearance

import (
	"fmt"

	"example.com/closefit/units"
)

// A Verdict is what a reading proves about its limits. The zero Verdict is
// Undecided.
type Verdict uint8

const (
	Undecided  Verdict = iota // neither proven inside nor proven outside
	Conforming                // all of the reading lies inside the limits
	BelowLimit                // all of the reading lies below the lower limit
	AboveLimit                // all of the reading lies above the upper limit
)

var verdictNames = [...]string{
	Undecided: "undecided", Conforming: "conforming", BelowLimit: "below limit", AboveLimit: "above limit",
}

// Judge compares what was measured with its tolerance interval. Limits belong
// to the tolerance: a reading that touches one conforms.
//
// It is the default decision rule of ISO 14253-1:2017, with the coverage that
// the reading's interval has: conformity must be proven, and so must
// nonconformity. An empty interval says nothing: what was not measured, and what
// is held against no tolerance at all, is Undecided. A tolerance without limits is
// said as one, "any length".
func Judge[D units.Dimension](measured, tolerance units.Interval[D]) Verdict {
	switch {
	case measured.IsEmpty() || tolerance.IsEmpty():
		return Undecided
	case measured.Within(tolerance):
		return Conforming
	case measured.Below(tolerance):
		return BelowLimit
	case tolerance.Below(measured):
		return AboveLimit
	}
	return Undecided
}

// Proven reports whether v settles the question, one way or the other.
func (v Verdict) Proven() bool { return v != Undecided }

// Outside reports whether v is BelowLimit or AboveLimit.
func (v Verdict) Outside() bool { return v == BelowLimit || v == AboveLimit }

// String returns "conforming", "below limit", "above limit" or "undecided".
func (v Verdict) String() string {
	if int(v) >= len(verdictNames) {
		return fmt.Sprintf("Verdict(%d)", uint8(v))
	}
	return verdictNames[v]
}

// MarshalText returns String. The error is for a Verdict that is none of the
// constants.
func (v Verdict) MarshalText() ([]byte, error) {
	if int(v) >= len(verdictNames) {
		return nil, &Error{Kind: ErrVerdict, Where: "verdict", Found: v.String(), Fix: "use the package's constants"}
	}
	return []byte(v.String()), nil
}

// UnmarshalText reads what MarshalText writes.
func (v *Verdict) UnmarshalText(text []byte) error {
	for i, name := range verdictNames {
		if string(text) == name {
			*v = Verdict(i)
			return nil
		}
	}
	return &Error{Kind: ErrVerdict, Where: "verdict", Found: fmt.Sprintf("%.40q", text),
		Fix: `write "conforming", "below limit", "above limit" or "undecided"`}
}
