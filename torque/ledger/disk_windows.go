package ledger

import (
	"errors"
	"io"
	"os"
	"syscall"
)

// sharingViolation is ERROR_SHARING_VIOLATION.
const sharingViolation = syscall.Errno(32)

// openFile opens a file; unless it is only to be read, so that no other program can open it
// for writing, remove it or rename it.
func openFile(path string, how opening) (file, error) {
	name, err := syscall.UTF16PtrFromString(path)
	if err != nil {
		return nil, &os.PathError{Op: "open", Path: path, Err: err}
	}
	access, share := uint32(syscall.GENERIC_READ), uint32(syscall.FILE_SHARE_READ|syscall.FILE_SHARE_WRITE|syscall.FILE_SHARE_DELETE)
	if how != toRead {
		access, share = syscall.GENERIC_READ|syscall.GENERIC_WRITE, syscall.FILE_SHARE_READ
	}
	create := uint32(syscall.OPEN_EXISTING)
	switch how {
	case newToAppend:
		create = syscall.CREATE_NEW
	case anyToAppend:
		create = syscall.OPEN_ALWAYS
	}
	handle, err := syscall.CreateFile(name, access, share, nil, create, syscall.FILE_ATTRIBUTE_NORMAL, 0)
	if errors.Is(err, sharingViolation) {
		err = errInUse
	}
	if err != nil {
		return nil, &os.PathError{Op: "open", Path: path, Err: err}
	}
	return atEnd{os.NewFile(uintptr(handle), path)}, nil
}

// atEnd is a file that is written at its end, which no other program can move.
type atEnd struct{ *os.File }

func (f atEnd) Write(b []byte) (int, error) {
	if _, err := f.Seek(0, io.SeekEnd); err != nil {
		return 0, err
	}
	return f.File.Write(b)
}

// syncFolder does nothing: the names in a folder are written with the file here.
func syncFolder(string) error { return nil }
