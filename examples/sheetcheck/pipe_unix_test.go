//go:build unix

package main

import (
	"path/filepath"
	"syscall"
	"testing"
)

// TestPipe: a pipe that nobody writes to is refused at once, whatever it is called.
func TestPipe(t *testing.T) {
	for _, name := range []string{"pipe.csv", "pipe.xlsx", "pipe.ods", "pipe.xlsm", "pipe.txt"} {
		path := filepath.Join(t.TempDir(), name)
		if err := syscall.Mkfifo(path, 0o600); err != nil {
			t.Skip("no pipes here: ", err)
		}
		refused(t, path, "is no plain file; save the sheet to a file and name that")
	}
}
