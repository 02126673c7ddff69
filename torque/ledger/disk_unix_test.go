//go:build unix && !solaris && !aix

package ledger

import (
	"path/filepath"
	"syscall"
	"testing"
)

// TestPipe: a pipe in the place of the ledger is refused, and not waited for.
func TestPipe(t *testing.T) {
	h := onDisk(t)
	if err := syscall.Mkfifo(h.Path, 0o644); err != nil {
		t.Skip(err)
	}
	_, err := Open(h, testWork, nil)
	wants(t, err, ErrDamaged, "not a file")
	_, _, err = Read(h, testWork)
	wants(t, err, ErrDamaged, "not a file")
	if paths, err := Find(filepath.Dir(h.Path), testWork); err != nil || len(paths) > 0 {
		t.Errorf("%v, %v", paths, err)
	}
}
