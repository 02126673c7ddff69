package ledger

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// A system has every call on files that a ledger makes. Tests take its place to let calls fail
// and to cut the power.
type system interface {
	// open opens a file. One that is to be written is locked against other programs until
	// it is closed or the program ends, however it ends.
	open(path string, how opening) (file, error)
	stat(path string) (fs.FileInfo, error)
	sameFile(a, b fs.FileInfo) bool
	rename(from, to string) error
	// makeFolder makes a folder, and those that it lies in, if it is not there.
	makeFolder(path string) error
	// syncFolder returns when the names of the files in a folder will outlast the power.
	syncFolder(path string) error
	// list returns the names in a folder, sorted.
	list(folder string) ([]string, error)
}

// A file is one that is open.
type file interface {
	io.ReaderAt
	io.Writer // at the end of the file
	io.Closer
	Stat() (fs.FileInfo, error)
	Truncate(size int64) error
	// Sync returns when all that was written will outlast the power.
	Sync() error
}

// An opening is how a file is opened.
type opening uint8

const (
	toRead      opening = iota // without a lock
	toAppend                   // one that is there
	newToAppend                // one that must not be there yet
	anyToAppend                // made if it is not there
)

// errInUse is the error of opening a file that another program has locked.
var errInUse = errors.New("another program is using it")

// flags returns the flags of os.OpenFile.
func (how opening) flags() int {
	switch how {
	case toAppend:
		return os.O_RDWR | os.O_APPEND
	case newToAppend:
		return os.O_RDWR | os.O_APPEND | os.O_CREATE | os.O_EXCL
	case anyToAppend:
		return os.O_RDWR | os.O_APPEND | os.O_CREATE
	}
	return os.O_RDONLY
}

// machine is the system that the program runs on.
type machine struct{}

func (machine) open(path string, how opening) (file, error) { return openFile(path, how) }
func (machine) stat(path string) (fs.FileInfo, error)       { return os.Stat(path) }
func (machine) sameFile(a, b fs.FileInfo) bool              { return os.SameFile(a, b) }
func (machine) rename(from, to string) error                { return os.Rename(from, to) }
func (machine) syncFolder(path string) error                { return syncFolder(path) }

// makeFolder also waits until the disk has the folders' names.
func (machine) makeFolder(path string) error {
	var missing []string
	for at := path; ; at = filepath.Dir(at) {
		if _, err := os.Stat(at); !errors.Is(err, fs.ErrNotExist) || at == filepath.Dir(at) {
			break
		}
		missing = append(missing, at)
	}
	if err := os.MkdirAll(path, 0o700); err != nil {
		return err
	}
	for _, folder := range missing {
		if err := syncFolder(filepath.Dir(folder)); err != nil {
			return err
		}
	}
	return nil
}

func (machine) list(folder string) ([]string, error) {
	found, err := os.ReadDir(folder)
	var names []string
	for _, f := range found {
		names = append(names, f.Name())
	}
	return names, err
}
