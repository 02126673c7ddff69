//go:build (!unix && !windows) || solaris || aix

package ledger

import (
	"errors"
	"os"
)

// openFile opens a file to be read, and refuses any other: a ledger that two programs could
// write to keeps nothing safe.
func openFile(path string, how opening) (file, error) {
	if how != toRead {
		return nil, &os.PathError{Op: "lock", Path: path, Err: errors.ErrUnsupported}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	return f, nil
}

func syncFolder(string) error { return nil }
