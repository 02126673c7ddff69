package torque

import (
	"errors"
	"fmt"
	"strings"
)

// The kinds of error in a plan. A *PlanError wraps one of them.
var (
	ErrNoGroups     = errors.New("a plan without groups")
	ErrNoBolts      = errors.New("a group without bolts")
	ErrNoStages     = errors.New("a group without stages")
	ErrName         = errors.New("a name that cannot be used")
	ErrTwice        = errors.New("a bolt named twice")
	ErrOnNoGroup    = errors.New("a bolt on no group")
	ErrPosition     = errors.New("a position that cannot be")
	ErrUnknownBolt  = errors.New("an order with a bolt that the group does not have")
	ErrOrderMisses  = errors.New("an order that misses a bolt")
	ErrOrderRepeats = errors.New("an order that repeats a bolt")
	ErrOrderName    = errors.New("an order that does not exist")
	ErrAction       = errors.New("an action that cannot be done")
	ErrNotSnug      = errors.New("a turn before the bolt is snug")
	ErrNotRising    = errors.New("a torque below the one before")
	ErrLeftLoose    = errors.New("bolts left loose")
	ErrNoSuchStage  = errors.New("a tie to a stage that does not exist")
	ErrTieCycle     = errors.New("stages that wait for each other")
)

// A PlanError says what is wrong with a plan, where, and what to write instead.
// Parts that do not apply are left empty.
type PlanError struct {
	Kind  error  // ErrNoBolts, ErrTwice, …
	Group string // the group's name
	Stage int    // the stage, from 1
	Bolt  string // the bolt
	What  string // what was found
	Fix   string // what to write instead
}

func (e *PlanError) Error() string {
	var where []string
	if e.Group != "" {
		where = append(where, fmt.Sprintf("group %q", e.Group))
	}
	if e.Stage != 0 {
		where = append(where, fmt.Sprintf("stage %d", e.Stage))
	}
	if e.Bolt != "" {
		where = append(where, fmt.Sprintf("bolt %q", e.Bolt))
	}
	s := e.What
	if s == "" {
		s = e.Kind.Error()
	}
	if len(where) > 0 {
		s = strings.Join(where, ", ") + ": " + s
	}
	if e.Fix != "" {
		s += "; " + e.Fix
	}
	return s
}

// Unwrap returns the error's kind.
func (e *PlanError) Unwrap() error { return e.Kind }
