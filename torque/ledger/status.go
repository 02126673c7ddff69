package ledger

import (
	"fmt"

	"example.com/closefit/units"
)

// A Status is how far a step has come. It travels as a word.
type Status uint8

const (
	Pending Status = iota // not begun
	Begun                 // begun, and its end not yet said
	Done                  // done
	Unknown               // a pull that went wrong: its bolt is in trouble
	Skipped               // a wait that was cut short knowingly
	Failed                // a check that was answered no; it is asked again before anything else
)

var statuses = [...]string{Pending: "pending", Begun: "begun", Done: "done", Unknown: "unknown", Skipped: "skipped", Failed: "failed"}

// String returns the status in a word.
func (s Status) String() string {
	if int(s) >= len(statuses) {
		return "no status"
	}
	return statuses[s]
}

// MarshalText returns the word of String. A number that is no Status is an error.
func (s Status) MarshalText() ([]byte, error) {
	if int(s) >= len(statuses) {
		return nil, &units.Error{Kind: units.ErrNotWritten, Where: "status", Found: fmt.Sprintf("Status(%d)", s), Fix: "take one of Pending to Failed"}
	}
	return []byte(s.String()), nil
}

// UnmarshalText reads the words of String.
func (s *Status) UnmarshalText(text []byte) error {
	for i, word := range statuses {
		if string(text) == word {
			*s = Status(i)
			return nil
		}
	}
	return &units.Error{Kind: units.ErrNotWritten, Where: "status", Found: fmt.Sprintf("%.40q", text), Fix: fmt.Sprintf("write one of %q", statuses)}
}
