package measure

import "fmt"

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
next:
	for i := range needs {
		for k := range has {
			if has[k] == needs[i] {
				continue next
			}
		}
		return false
	}
	return true
}

// unmet says which of the conditions that a term needs its reading does not state,
// or states otherwise.
func unmet(term string, needs, has []Condition) []string {
	var missing []string
	for _, need := range needs {
		var stated *Condition // otherwise than it is needed
		good := false
		for i := range has {
			if has[i].What == need.What {
				stated, good = &has[i], has[i].Is == need.Is // the last one counts
			}
		}
		switch {
		case good:
		case stated == nil:
			missing = append(missing, fmt.Sprintf("%s: %s is needed, and not stated", term, need))
		default:
			missing = append(missing, fmt.Sprintf("%s: %s is needed, and it was read with %s", term, need, *stated))
		}
	}
	return missing
}
