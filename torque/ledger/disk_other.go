//go:build (!unix && !windows) || solaris || aix

package ledger

import (
	"errors"
	"os"
)

// openLocked refuses: a ledger that two programs could write to keeps nothing safe.
func openLocked(string) (*os.File, error) {
	return nil, storage("it cannot be locked on this system", errors.ErrUnsupported)
}

func syncFolder(string) error { return nil }
