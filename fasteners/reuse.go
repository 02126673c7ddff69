package fasteners

import (
	"fmt"
	"slices"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// Caution must stand beside every answer about used bolts.
const Caution = "a bolt that was tightened beyond yield, or is marked single use, is scrap whatever it measures; the engine maker's manual comes first"

// A Reuse says whether a used fastener can go back. The zero Reuse is Undecided: nothing is
// proven.
type Reuse int

const (
	Undecided Reuse = iota // the findings allow both answers, or contradict each other
	Reusable               // no answer and no size speaks against it
	Replace                // an answer or a size condemns it
)

var reuseWords = [...]string{Undecided: "undecided", Reusable: "reusable", Replace: "replace"}

// String returns "undecided", "reusable" or "replace".
func (r Reuse) String() string {
	if r < 0 || int(r) >= len(reuseWords) {
		return fmt.Sprintf("Reuse(%d)", int(r))
	}
	return reuseWords[r]
}

// MarshalText writes the words of String, or returns an error for a Reuse that is not one
// of the constants.
func (r Reuse) MarshalText() ([]byte, error) {
	if r < 0 || int(r) >= len(reuseWords) {
		return nil, notWritten("reuse", r.String(), reuseAdvice)
	}
	return []byte(reuseWords[r]), nil
}

// UnmarshalText reads the words of String.
func (r *Reuse) UnmarshalText(text []byte) error {
	i := slices.Index(reuseWords[:], string(text))
	if i < 0 {
		return notWritten("reuse", quoted(string(text)), reuseAdvice)
	}
	*r = Reuse(i)
	return nil
}

const reuseAdvice = `write "undecided", "reusable" or "replace"`

// and returns the outcome of two checks of one fastener.
func (r Reuse) and(o Reuse) Reuse {
	switch {
	case r == Replace || o == Replace:
		return Replace
	case r == Reusable && o == Reusable:
		return Reusable
	}
	return Undecided
}

// ofSize returns what the verdict on a size means for the bolt. Limits that every bolt meets,
// none at all or at least zero, are limits that were not said.
func ofSize(a measure.Assessment[units.LengthDim]) Reuse {
	limits := a.Tolerance
	switch {
	case limits.IsEmpty(), !limits.HasHi() && (!limits.HasLo() || limits.Lo().Sign() <= 0):
		return Undecided
	case a.Verdict == measure.Conforming:
		return Reusable
	case a.Verdict.Outside():
		return Replace
	}
	return Undecided
}
