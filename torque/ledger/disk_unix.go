//go:build unix && !solaris && !aix

package ledger

import (
	"errors"
	"os"
	"syscall"
	"time"
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
	// A lock that was just given up may be seen for a moment longer, while something else on
	// the machine looks at the file that held it.
	for try := 0; ; try++ {
		err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		if errors.Is(err, syscall.EWOULDBLOCK) && try < 10 {
			time.Sleep(5 * time.Millisecond)
		} else if err != syscall.EINTR {
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
