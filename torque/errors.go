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
	ErrBlank        = errors.New("a name with a blank at its end")
	ErrAlike        = errors.New("names that differ by case or blanks alone")
	ErrTwice        = errors.New("a bolt named twice")
	ErrOnNoGroup    = errors.New("a bolt on no group")
	ErrPosition     = errors.New("a position that cannot be")
	ErrUnknownBolt  = errors.New("an order with a bolt that the group does not have")
	ErrOrderMisses  = errors.New("an order that misses a bolt")
	ErrOrderRepeats = errors.New("an order that repeats a bolt")
	ErrOrderName    = errors.New("an order that does not exist")
	ErrNoPull       = errors.New("a stage that does nothing")
	ErrPullKind     = errors.New("a pull that is none of the kinds")
	ErrAction       = errors.New("an action that cannot be done")
	ErrHighTorque   = errors.New("a torque above 1000 N·m that does not say so")
	ErrBeyondTurn   = errors.New("an angle beyond a full turn that does not say so")
	ErrNotBeyond    = errors.New("said to be beyond the usual, and is not")
	ErrUse          = errors.New("a turn of bolts of which nobody says whether they are used once")
	ErrReuse        = errors.New("a single-use bolt loosened after its last pull")
	ErrNotSnug      = errors.New("a turn before the bolt is snug")
	ErrNotRising    = errors.New("a torque below the one before")
	ErrLeftLoose    = errors.New("bolts left loose")
	ErrNoSuchStage  = errors.New("a tie to a stage that does not exist")
	ErrTieCycle     = errors.New("stages that wait for each other")
)

// The kinds of error in a ledger and in what is told to it. A *LedgerError wraps one
// of them.
var (
	ErrNotLedger    = errors.New("not a ledger")
	ErrOtherPlan    = errors.New("a ledger of another plan")
	ErrDamaged      = errors.New("a damaged ledger")
	ErrLocked       = errors.New("a ledger in use")
	ErrStorage      = errors.New("a ledger that cannot be read or written")
	ErrClosed       = errors.New("a closed ledger")
	ErrNoSuchStep   = errors.New("a step that the plan does not have")
	ErrNoSuchBolt   = errors.New("a bolt that the plan does not have")
	ErrAlreadyDone  = errors.New("a step done already")
	ErrAlreadyBegun = errors.New("a step begun already")
	ErrNotBegun     = errors.New("a step not begun")
	ErrOtherBegun   = errors.New("another step begun and not done")
	ErrOutOfOrder   = errors.New("a step out of order")
	ErrInDoubt      = errors.New("a bolt whose turn is in doubt")
	ErrScrap        = errors.New("a bolt that cannot be used again")
	ErrTooSoon      = errors.New("a wait that is not over")
	ErrClock        = errors.New("a clock that was set back")
	ErrNotWait      = errors.New("a step that is no wait")
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

// A LedgerError says what is wrong with a ledger, or why it refuses a step, and what
// to do instead. Parts that do not apply are left empty.
type LedgerError struct {
	Kind  error  // ErrOtherPlan, ErrOutOfOrder, …
	Path  string // the ledger's file
	Line  int    // the line in it, from 1
	Step  int    // the step's number
	Bolt  string // the bolt
	What  string // what was found
	Fix   string // what to do instead
	Cause error  // what the system said, for ErrStorage
}

func (e *LedgerError) Error() string {
	var b strings.Builder
	if e.Path != "" {
		b.WriteString(e.Path + ": ")
	}
	if e.Line != 0 {
		fmt.Fprintf(&b, "line %d: ", e.Line)
	}
	if e.Step != 0 {
		fmt.Fprintf(&b, "step %d: ", e.Step)
	}
	if e.Bolt != "" {
		fmt.Fprintf(&b, "bolt %q: ", e.Bolt)
	}
	if e.What == "" {
		b.WriteString(e.Kind.Error())
	}
	b.WriteString(e.What)
	if e.Cause != nil {
		b.WriteString(": " + e.Cause.Error())
	}
	if e.Fix != "" {
		b.WriteString("; " + e.Fix)
	}
	return b.String()
}

// Unwrap returns the error's kind and its cause.
func (e *LedgerError) Unwrap() []error {
	if e.Cause == nil {
		return []error{e.Kind}
	}
	return []error{e.Kind, e.Cause}
}
