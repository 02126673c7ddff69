package fasteners

import (
	"fmt"
	"slices"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// Caution is what must stand beside every answer about used bolts.
const Caution = "a bolt that was tightened beyond yield, or is marked single use, is scrap whatever it measures; the engine maker's manual comes first"

// A Reuse says whether a used fastener can go back. The zero Reuse is Undecided: nothing is
// proven.
type Reuse int

const (
	Undecided Reuse = iota // what is known allows both answers, or contradicts itself
	Reusable               // nothing that was asked speaks against it
	Replace                // something condemns it
)

var reuseWords = [...]string{Undecided: "undecided", Reusable: "reusable", Replace: "replace"}

// String returns "undecided", "reusable" or "replace".
func (r Reuse) String() string {
	if r < 0 || int(r) >= len(reuseWords) {
		return fmt.Sprintf("Reuse(%d)", int(r))
	}
	return reuseWords[r]
}

// MarshalText writes the words of String. The error is for a Reuse that is none of the
// constants.
func (r Reuse) MarshalText() ([]byte, error) { return word("reuse", r.String(), reuseWords[:]...) }

// UnmarshalText reads the words of String.
func (r *Reuse) UnmarshalText(text []byte) error {
	var w string
	if err := readWord("reuse", &w, text, reuseWords[:]...); err != nil {
		return err
	}
	*r = Reuse(slices.Index(reuseWords[:], w))
	return nil
}

// ReuseOf returns what the verdict on a size of a bolt means for the bolt: Reusable if the
// size conforms, Replace if it lies outside its limits, Undecided otherwise. A size that was
// not measured is Undecided, and so is one whose limits were not said, or are such that every
// bolt meets them: none at all, or at least zero.
func ReuseOf(a measure.Assessment[units.LengthDim]) Reuse {
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

// ReuseWorking shows a size of a bolt, that of Stretch or another, how it compares with its
// limits, and what would settle it if it is undecided; with the caution.
func ReuseWorking(size *measure.Sum[units.LengthDim], limits units.LengthInterval, u units.LengthUnit) units.Working {
	a := measure.Assess(size.Reading(), limits)
	return units.Working{
		Name:   size.Name,
		Steps:  []units.Working{size.Working(u), a.Working(u)},
		Result: ReuseOf(a).String(),
		Source: "common practice, no source; the limits are the engine maker's",
		Notes:  []string{Caution},
	}
}

// Together returns the outcome of several checks of one fastener: Replace if any says so,
// however many others pass; else Undecided if any is; else Reusable. Of no check at all it
// is Undecided.
func Together(outcomes ...Reuse) Reuse {
	if len(outcomes) == 0 {
		return Undecided
	}
	together := Reusable
	for _, o := range outcomes {
		switch o {
		case Replace:
			return Replace
		case Reusable:
		default:
			together = Undecided
		}
	}
	return together
}
