package ledger

import (
	"errors"
	"os"
	"syscall"
)

// sharingViolation is ERROR_SHARING_VIOLATION.
const sharingViolation = syscall.Errno(32)

// openLocked opens a ledger's file, made if it is not there, so that no other program
// can open it for writing until it is closed or the program ends, however it ends.
func openLocked(path string) (*os.File, error) {
	name, err := syscall.UTF16PtrFromString(path)
	if err != nil {
		return nil, storage("it cannot be opened", err)
	}
	handle, err := syscall.CreateFile(name, syscall.GENERIC_READ|syscall.GENERIC_WRITE, syscall.FILE_SHARE_READ,
		nil, syscall.OPEN_ALWAYS, syscall.FILE_ATTRIBUTE_NORMAL, 0)
	switch {
	case errors.Is(err, sharingViolation):
		return nil, locked()
	case err != nil:
		return nil, storage("it cannot be opened", &os.PathError{Op: "open", Path: path, Err: err})
	}
	return os.NewFile(uintptr(handle), path), nil
}

// syncFolder does nothing: the names in a folder are written with the file here.
func syncFolder(string) error { return nil }
