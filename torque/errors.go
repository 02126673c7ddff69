package torque

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"example.com/closefit/units"
)

// The kinds of fault in a plan that a program may want to tell apart. Every fault of a plan
// is a *PlanError.
var (
	ErrNoPull     = errors.New("no pull")            // the zero Action, an unknown kind, or a pause in the place of a pull
	ErrAlike      = errors.New("names alike")        // names that differ only by case or blanks
	ErrBeyondTurn = errors.New("beyond a full turn") // without Beyond
)

// errPlan is the kind of all other faults.
var errPlan = errors.New("unsound plan")

// A PlanError says where in a plan a fault lies, for programs that show it in the file
// that the plan was read from. Err says what is wrong, and what to write instead. Fields
// that do not apply are empty.
type PlanError struct {
	Group string // the group's name
	Stage int    // the stage, from 1
	Bolt  string // the bolt
	Part  string // the field of the group: "Pattern", "Order", "Use"; empty for another
	Err   *units.Error
}

func (e *PlanError) Error() string { return e.Err.Error() }

func (e *PlanError) Unwrap() error { return e.Err }

// A fault is a PlanError in the making: what is known of it where it is found.
type fault struct {
	kind       error // errPlan if nil
	group      string
	stage      int
	bolt, part string
	found, fix string
}

// err returns the fault as an error.
func (f *fault) err() error {
	var where []string
	if f.group != "" {
		where = append(where, fmt.Sprintf("group %q", f.group))
	}
	if f.stage != 0 {
		where = append(where, fmt.Sprintf("stage %d", f.stage))
	}
	if f.bolt != "" {
		where = append(where, fmt.Sprintf("bolt %q", f.bolt))
	}
	return &PlanError{Group: f.group, Stage: f.stage, Bolt: f.bolt, Part: f.part,
		Err: &units.Error{Kind: cmp.Or(f.kind, errPlan), Where: strings.Join(where, ", "), Found: f.found, Fix: f.fix}}
}
