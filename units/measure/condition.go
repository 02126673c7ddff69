package measure

import (
	"fmt"
	"slices"
)

// A Condition is a fact about how a reading was taken, without which the reading
// misleads: the cap's bolts tightened to 60 N·m, the shells out. What names the fact and
// Is its state; two conditions agree when both are equal, letter for letter.
type Condition struct {
	What string `json:"what"` // "bolts"
	Is   string `json:"is"`   // "tightened to 60 N·m"
}

// String returns "bolts: tightened to 60 N·m".
func (c Condition) String() string { return c.What + ": " + c.Is }

// met reports whether a reading states all that a term needs.
func met(needs, has []Condition) bool {
	for _, need := range needs {
		if !slices.Contains(has, need) {
			return false
		}
	}
	return true
}

// unmet says which of the conditions that a term needs its reading does not state,
// or states otherwise.
func unmet(term string, needs, has []Condition) []string {
	var missing []string
	for _, need := range needs {
		found := fmt.Sprintf("%s: %s is needed, and not stated", term, need)
		for _, c := range has {
			if c.What != need.What {
				continue
			}
			found = fmt.Sprintf("%s: %s is needed, and it was read with %s", term, need, c)
			if c.Is == need.Is {
				found = ""
			}
		}
		if found != "" {
			missing = append(missing, found)
		}
	}
	return missing
}
