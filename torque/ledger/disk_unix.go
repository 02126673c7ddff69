//go:build unix && !solaris && !aix

package ledger

import (
	"errors"
	"os"
	"syscall"
)

// openLocked opens a ledger's file, made if it is not there, and locks it until it is
// closed or the program ends, however it ends.
func openLocked(path string) (*os.File, error) {
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, storage("it cannot be opened", err)
	}
	for {
		err = syscall.Flock(int(file.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		if err != syscall.EINTR {
			break
		}
	}
	switch {
	case err == nil:
		return file, nil
	case errors.Is(err, syscall.EWOULDBLOCK):
		file.Close()
		return nil, locked()
	}
	file.Close()
	return nil, storage("it cannot be locked", err)
}

// syncFolder waits until the disk has the names of the files in a folder.
func syncFolder(path string) error {
	folder, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(folder.Sync(), folder.Close())
}
