//go:build unix && !solaris && !aix

package ledger

import (
	"errors"
	"os"
	"syscall"
)

// openFile opens a file, and locks it unless it is only to be read.
func openFile(path string, how opening) (file, error) {
	// A pipe that nobody writes to must not be waited for.
	f, err := os.OpenFile(path, how.flags()|syscall.O_NONBLOCK, 0o644)
	if err != nil {
		return nil, err
	}
	if how == toRead {
		return f, nil
	}
	for {
		err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		if err != syscall.EINTR {
			break
		}
	}
	switch {
	case err == nil:
		return f, nil
	case errors.Is(err, syscall.EWOULDBLOCK):
		err = errInUse
	}
	f.Close()
	return nil, &os.PathError{Op: "lock", Path: path, Err: err}
}

// syncFolder waits until the disk has the names of the files in a folder.
func syncFolder(path string) error {
	folder, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(folder.Sync(), folder.Close())
}
