package ledger

import (
	"fmt"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// A Choice is what becomes of a bolt whose pulls are others in a corrected plan. It travels as
// its words.
type Choice uint8

const (
	Leave   Choice = iota + 1 // what was done stands for its new pulls, which count as done
	Finish                    // its new pulls go on from the first that differs
	BackOff                   // it was backed off until it turns freely; its new pulls begin
	Replace                   // a new bolt was fitted; its new pulls begin
)

var choiceWords = [...]string{Leave: "leave", Finish: "finish", BackOff: "back off", Replace: "replace"}

// String returns the choice in words.
func (c Choice) String() string {
	if c < Leave || c > Replace {
		return "no choice"
	}
	return choiceWords[c]
}

// MarshalText returns the words of String. A number that is no Choice is an error.
func (c Choice) MarshalText() ([]byte, error) {
	if c < Leave || c > Replace {
		return nil, &units.Error{Kind: units.ErrNotWritten, Where: "choice", Found: fmt.Sprintf("Choice(%d)", c), Fix: "take one of Leave to Replace"}
	}
	return []byte(c.String()), nil
}

// UnmarshalText reads the words of String.
func (c *Choice) UnmarshalText(text []byte) error {
	for known := Leave; known <= Replace; known++ {
		if known.String() == string(text) {
			*c = known
			return nil
		}
	}
	return &units.Error{Kind: units.ErrNotWritten, Where: "choice", Found: fmt.Sprintf("%.40q", text), Fix: fmt.Sprintf("write one of %q", choiceWords[Leave:])}
}

// A Change is a bolt of which what was done is not the beginning of what a corrected plan
// asks, with what can be done.
type Change struct {
	Bolt    string   `json:"bolt"`
	Was     string   `json:"was"` // what was done to it; empty if the old plan does not have it
	Is      string   `json:"is"`  // all that the new plan asks; empty if the new plan does not have it
	Choices []Choice `json:"choices"`
}

// UnmarshalJSON reads {"bolt":…,"was":…,"is":…,"choices":[…]}.
func (c *Change) UnmarshalJSON(data []byte) error {
	type change Change
	return units.DecodeObject(data, (*change)(c))
}

// revises lays a corrected plan against what is done.
func (p *progress) revises(plan *torque.Plan, choices map[string]Choice, w Word) happening {
	return happening{event: revise}
}

// changes returns the bolts that a choice has to be made for, in the order of the plans.
func (p *progress) changes(plan *torque.Plan) []Change { return nil }

func (p *progress) checkRevision(h happening) error { return nil }

func (p *progress) revise(h happening) {}
