package ledger

import (
	"errors"
	"io"
	"os"
	"path/filepath"
)

// A disk is where a ledger is kept. It stands between the ledger and its file so
// that tests can cut the power.
type disk interface {
	io.Reader // of the file, from its beginning
	io.WriterAt
	io.Closer
	Truncate(size int64) error
	// Sync returns when all that was written will outlast the power.
	Sync() error
	// SyncName returns when the file's name will outlast the power.
	SyncName() error
	// SetAside puts bytes at the end of the file beside the ledger, and returns its
	// name once they will outlast the power.
	SetAside(b []byte) (name string, err error)
}

// lockedFile is a file that no other program has open for writing.
type lockedFile struct {
	*os.File
	path string
}

func (f lockedFile) SyncName() error { return syncFolder(filepath.Dir(f.path)) }

func (f lockedFile) SetAside(b []byte) (name string, err error) {
	name = f.path + ".torn"
	side, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o644)
	if err != nil {
		return name, err
	}
	_, err = side.Write(b)
	return name, errors.Join(err, side.Sync(), side.Close(), f.SyncName())
}
