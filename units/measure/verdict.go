package measure

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

// Judge compares a measured interval with its tolerance interval. Limits belong to the
// tolerance: a reading that touches one conforms. An empty interval proves nothing: the
// reading was not taken, or no limits were given.
//
// It is the default decision rule of ISO 14253-1:2017, at the coverage of the reading's
// interval: conformity must be proven, and so must nonconformity.
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

// Outside reports whether v is BelowLimit or AboveLimit.
func (v Verdict) Outside() bool { return v == BelowLimit || v == AboveLimit }

// String returns "conforming", "below limit", "above limit" or "undecided".
func (v Verdict) String() string {
	if int(v) >= len(verdictNames) {
		return fmt.Sprintf("Verdict(%d)", uint8(v))
	}
	return verdictNames[v]
}

// MarshalText returns the words of String. It returns an error for a Verdict that is not
// one of the constants.
func (v Verdict) MarshalText() ([]byte, error) { return writeWord(v, verdictNames[:], "verdict") }

// UnmarshalText reads the words of String.
func (v *Verdict) UnmarshalText(text []byte) error {
	return wordOf(v, verdictNames[:], text, "verdict")
}
