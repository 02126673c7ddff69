package fasteners

import "fmt"

// Reuse says whether a used fastener can go back. The zero value is Undecided:
// nothing is proven.
type Reuse int

const (
	Undecided Reuse = iota // the readings allow both answers, or contradict themselves
	Reusable               // every value that the readings allow lies within the limit
	Replace                // no value that the readings allow lies within the limit
)

// String returns "undecided", "reusable" or "replace".
func (r Reuse) String() string {
	switch r {
	case Undecided:
		return "undecided"
	case Reusable:
		return "reusable"
	case Replace:
		return "replace"
	}
	return fmt.Sprintf("Reuse(%d)", int(r))
}

// MarshalText returns String.
func (r Reuse) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads what String prints. The error wraps ErrReading for any other text.
func (r *Reuse) UnmarshalText(text []byte) error {
	for _, known := range []Reuse{Undecided, Reusable, Replace} {
		if known.String() == string(text) {
			*r = known
			return nil
		}
	}
	return readingError("outcome", fmt.Sprintf("%q", shortened(string(text))), "the choice is undecided, reusable and replace")
}

// Together returns the outcome of several checks of one fastener: Replace if any
// says so, however many others pass; else Undecided if any is; else Reusable. Of no
// check at all it is Undecided.
func Together(outcomes ...Reuse) Reuse {
	if len(outcomes) == 0 {
		return Undecided
	}
	together := Reusable
	for _, o := range outcomes {
		switch {
		case o == Replace:
			return Replace
		case o != Reusable:
			together = Undecided
		}
	}
	return together
}
