package torque

import (
	"fmt"
	"slices"

	"example.com/closefit/units"
)

// A BoltUse says whether the bolts of a group may go back after loosening. A group with a
// turn must state it: an angle takes most bolts past yield, and the plan alone cannot
// tell which.
type BoltUse uint8

const (
	NotSaid   BoltUse = iota // a turn then counts as past yield
	SingleUse                // used once: past yield, or because the maker says so
	Reusable                 // the maker says that they may be used again
)

var uses = [...]string{NotSaid: "not said", SingleUse: "single use", Reusable: "reusable"}

// String returns the use in words.
func (u BoltUse) String() string {
	if int(u) < len(uses) {
		return uses[u]
	}
	return "no use"
}

// MarshalText returns the words of String. A number that is no BoltUse is an error.
func (u BoltUse) MarshalText() ([]byte, error) {
	if int(u) >= len(uses) {
		return nil, (&fault{part: "Use", found: fmt.Sprintf("BoltUse(%d) does not exist", u), fix: "take NotSaid, SingleUse or Reusable"}).err()
	}
	return []byte(u.String()), nil
}

// UnmarshalText reads the words of String.
func (u *BoltUse) UnmarshalText(text []byte) error {
	for use, word := range uses {
		if string(text) == word {
			*u = BoltUse(use)
			return nil
		}
	}
	return (&fault{part: "Use", found: fmt.Sprintf("%.40q is not a use of bolts", text), fix: `write "single use", "reusable" or "not said"`}).err()
}

// singleUse reports whether the bolts are scrap once they were loosened. Those of a group
// with a turn are, if it does not say.
func (g Group) singleUse() bool {
	return g.Use == SingleUse || g.Use == NotSaid && g.turns()
}

// turns reports whether a stage turns the bolts by an angle.
func (g Group) turns() bool {
	return slices.ContainsFunc(g.Stages, func(s Stage) bool { return is[Turn](s.Pull) })
}

// spends reports whether a stage, counted from 1, makes scrap of a bolt that is loosened
// after it was begun: of single-use bolts the turns, and where there are none, the
// greatest torque.
func (g Group) spends(stage int) bool {
	if stage < 1 || !g.singleUse() {
		return false
	}
	if g.turns() {
		return is[Turn](g.Stages[stage-1].Pull)
	}
	tighten, ok := As[Tighten](g.Stages[stage-1].Pull)
	return ok && !tighten.To.Less(g.greatest())
}

// greatest returns the greatest torque of the group's stages.
func (g Group) greatest() (most units.Torque) {
	for _, stage := range g.Stages {
		if tighten, ok := As[Tighten](stage.Pull); ok {
			most = units.Max(most, tighten.To)
		}
	}
	return most
}

// checkUse checks that the use is said where it has to be, and that no single-use bolt
// is loosened by the plan itself once it is spent.
func checkUse(g Group) (bad []*fault) {
	spent := 0
	for i, stage := range g.Stages {
		if is[Turn](stage.Pull) && g.Use == NotSaid && spent == 0 {
			bad = append(bad, &fault{part: "Use", stage: i + 1, found: "it turns bolts of which nobody says whether they are used once",
				fix: "set Use to SingleUse, or to Reusable if the maker says that they may be used again"})
		}
		if is[BackOff](stage.Pull) && spent > 0 {
			bad = append(bad, &fault{stage: i + 1,
				found: fmt.Sprintf("it backs off single-use bolts after stage %d, and a single-use bolt that was loosened is scrap", spent),
				fix:   "back off before that stage, or leave this one out"})
		}
		if spent == 0 && g.spends(i+1) {
			spent = i + 1
		}
	}
	if int(g.Use) >= len(uses) {
		bad = append(bad, &fault{part: "Use", found: fmt.Sprintf("BoltUse(%d) does not exist", g.Use), fix: "take SingleUse or Reusable"})
	}
	return bad
}
