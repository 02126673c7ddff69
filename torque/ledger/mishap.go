package ledger

import (
	"fmt"

	"example.com/closefit/units"
)

// A Mishap is what went wrong with a step that was begun, or turned out to be wrong with one
// that was said to be done. It travels as its words. What it leads to stands in a table,
// PEOPLE.md beside this file.
type Mishap uint8

// The mishaps. The first six are said of the step that is begun, the last two of a step
// that was said to be done.
const (
	NotMoved        Mishap = iota + 1 // nothing has moved
	PartWay                           // the pull was given up part-way
	Slipped                           // the tool slipped, or clicked early
	TooFar                            // the bolt was pulled or turned too far, or may have been
	WrongBolt                         // the pull was given to another bolt
	WrongStep                         // another step was done instead
	TooSoonNotMoved                   // it was said to be done, or a wait skipped, and nothing has moved
	TooSoonPartWay                    // it was said to be done, and was done part-way
	mishaps                           // one more than there are
)

// mishapWords are the mishaps in words, and the question that each answers.
var mishapWords = [mishaps]struct{ word, ask string }{
	NotMoved:        {"not moved", "Look at the witness mark: does it stand where it stood before the pull, or was nothing pulled at all?"},
	PartWay:         {"part-way", "Look at the witness mark: did the bolt move, and not the whole way?"},
	Slipped:         {"slipped", "Did the tool slip, or click early, after the bolt may have moved?"},
	TooFar:          {"too far", "Did the bolt go further than the step asks, or may it have: past its mark, its angle or its torque? If it was read how far, say that the step is done, with what was reached: the manual may let the bolt stay."},
	WrongBolt:       {"wrong bolt", "Look at the marks of the other bolts: did another one move instead, and which? If none moved, say \"not moved\"."},
	WrongStep:       {"wrong step", "Was the pull of another step made instead, and which? If no mark moved, say \"not moved\"."},
	TooSoonNotMoved: {"too soon, not moved", "It was said to be done. Look at the witness mark: does it stand where it stood before the pull?"},
	TooSoonPartWay:  {"too soon, part-way", "It was said to be done. Look at the witness mark: did the bolt move, and not the whole way?"},
}

// Mishaps returns every mishap.
func Mishaps() []Mishap {
	var all []Mishap
	for m := NotMoved; m < mishaps; m++ {
		all = append(all, m)
	}
	return all
}

// String returns the mishap in words.
func (m Mishap) String() string {
	if m < NotMoved || m >= mishaps {
		return "no mishap"
	}
	return mishapWords[m].word
}

// Ask returns the question that the witness mark on the bolt answers: yes means that it was
// this mishap. Without a mark nobody can tell, and the safe answer is part-way.
func (m Mishap) Ask() string {
	if m < NotMoved || m >= mishaps {
		return ""
	}
	return mishapWords[m].ask
}

// MarshalText returns the words of String. A number that is no Mishap is an error.
func (m Mishap) MarshalText() ([]byte, error) {
	if m < NotMoved || m >= mishaps {
		return nil, &units.Error{Kind: units.ErrNotWritten, Where: "mishap", Found: fmt.Sprintf("Mishap(%d)", m), Fix: "take one of NotMoved to TooSoonPartWay"}
	}
	return []byte(m.String()), nil
}

// UnmarshalText reads the words of String.
func (m *Mishap) UnmarshalText(text []byte) error {
	var words []string
	for _, known := range Mishaps() {
		if known.String() == string(text) {
			*m = known
			return nil
		}
		words = append(words, known.String())
	}
	return &units.Error{Kind: units.ErrNotWritten, Where: "mishap", Found: fmt.Sprintf("%.40q", text), Fix: fmt.Sprintf("write one of %q", words)}
}

// What says what went wrong.
type What struct {
	Mishap  Mishap `json:"mishap"`
	Step    int    `json:"step"`    // the step that was begun, or was said to be done
	Bolt    string `json:"bolt"`    // of WrongBolt: the one that was pulled; else empty
	Instead int    `json:"instead"` // of WrongStep: the step that was done; else 0
}

// UnmarshalJSON reads {"mishap":…,"step":…,"bolt":…,"instead":…}.
func (w *What) UnmarshalJSON(data []byte) error {
	type what What
	return units.DecodeObject(data, (*what)(w))
}
