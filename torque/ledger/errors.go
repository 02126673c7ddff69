package ledger

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"example.com/closefit/units"
)

// The kinds of error: a *units.Error wraps one of them.
var (
	ErrStorage = errors.New("ledger not read or written") // the system's own error is wrapped with it
	ErrLocked  = errors.New("ledger in use")

	// ErrNotStarted is the kind where neither a ledger nor a witness of the work is there. It
	// wraps fs.ErrNotExist.
	ErrNotStarted = fmt.Errorf("ledger not started: %w", fs.ErrNotExist)

	ErrDamaged   = errors.New("damaged, or not a ledger")
	ErrOtherWork = errors.New("ledger of another work")
	ErrOtherPlan = errors.New("ledger of another plan") // see Ledger.Revise

	// ErrUnsure is the kind where the ledger and its witness do not agree, or one of them is not
	// there, or changed under the program: bolts may have been turned of which the ledger does
	// not know. The error says which; see TakeOver.
	ErrUnsure = errors.New("the ledger no longer knows")

	ErrNotInPlan = errors.New("not in the plan") // a step, or a bolt

	// ErrRefused is the kind of whatever the plan and its ledger do not allow now: a step out
	// of order, done already, not begun, a scrap bolt. The two below are of this kind too.
	ErrRefused = errors.New("refused")
	ErrInDoubt = fmt.Errorf("%w: bolt in doubt", ErrRefused) // see Ledger.Troubles
	ErrTooSoon = fmt.Errorf("%w: too soon", ErrRefused)      // a wait that is not over, or not known to be
)

// A fault is an error in the making: what is known of it where it is found.
type fault struct {
	kind       error
	path       string
	line, step int
	bolt       string
	found, fix string
}

// err returns the fault as an error.
func (f fault) err() error {
	var where []string
	if f.path != "" {
		where = append(where, f.path)
	}
	if f.line != 0 {
		where = append(where, fmt.Sprintf("line %d", f.line))
	}
	if f.step != 0 {
		where = append(where, fmt.Sprintf("step %d", f.step))
	}
	if f.bolt != "" {
		where = append(where, fmt.Sprintf("bolt %q", f.bolt))
	}
	return &units.Error{Kind: f.kind, Where: strings.Join(where, ", "), Found: f.found, Fix: f.fix}
}

// storage returns the error for something that the system refused.
func storage(what string, cause error) error {
	return fault{kind: fmt.Errorf("%w: %w", ErrStorage, cause), found: what,
		fix: "see that the path is right, and that its folder is there, may be written to and has room; then open the ledger again"}.err()
}

// withPath puts the ledger's path before the place that an error names, unless it is there.
func withPath(path string, err error) error {
	if e, ok := err.(*units.Error); ok && !strings.HasPrefix(e.Where, path) {
		e.Where = strings.TrimSuffix(path+", "+e.Where, ", ")
	}
	return err
}
