package wholefile

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestReplaceFails: when the last step fails, the old file and the folder are as they
// were.
func TestReplaceFails(t *testing.T) {
	folder := t.TempDir()
	inTheWay := filepath.Join(folder, "record.txt") // a folder, not empty: nothing can be renamed onto it
	if err := os.MkdirAll(filepath.Join(inTheWay, "kept"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := replace(inTheWay, []byte("new"), 0o644); err == nil || !strings.Contains(err.Error(), "left as it was") {
		t.Errorf("error: %v", err)
	}
	entries, err := os.ReadDir(folder)
	if err != nil || len(entries) != 1 {
		t.Errorf("the folder has %v (%v)", entries, err)
	}
	if _, err := os.Stat(filepath.Join(inTheWay, "kept")); err != nil {
		t.Error(err)
	}
}

// TestWrite: a new file, one that is there, and a device.
func TestWrite(t *testing.T) {
	path := filepath.Join(t.TempDir(), "record.txt")
	for _, text := range []string{"a longer text", "short"} {
		if err := Write(path, []byte(text)); err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(path); err != nil || string(got) != text {
			t.Errorf("the file has %q (%v), want %q", got, err, text)
		}
	}
	if _, err := os.Stat(os.DevNull); err == nil {
		if err := Write(os.DevNull, []byte("x")); err != nil {
			t.Error(err)
		}
	}
}

// TestCreate: a new file is written, and one that is there stays, be it a link to nothing.
func TestCreate(t *testing.T) {
	folder := t.TempDir()
	path, link := filepath.Join(folder, "a"), filepath.Join(folder, "link")
	if err := Create(path, []byte("first")); err != nil {
		t.Fatal(err)
	}
	if err := Create(path, []byte("second")); err == nil || !strings.Contains(err.Error(), "left as it was") {
		t.Errorf("error: %v", err)
	}
	if got, err := os.ReadFile(path); err != nil || string(got) != "first" {
		t.Errorf("the file has %q (%v)", got, err)
	}
	if err := os.Symlink("nothing", link); err == nil {
		if err := Create(link, []byte("x")); err == nil {
			t.Error("a link was written through")
		}
	}
	if err := Create(filepath.Join(folder, "none", "a"), []byte("x")); err == nil {
		t.Error("no error without the folder")
	}
	if entries, err := os.ReadDir(folder); err != nil || len(entries) > 2 {
		t.Errorf("the folder has %v (%v)", entries, err)
	}
}

func TestSame(t *testing.T) {
	folder := t.TempDir()
	path, other := filepath.Join(folder, "a"), filepath.Join(folder, "b")
	for _, name := range []string{path, other} {
		if err := Write(name, []byte("x")); err != nil {
			t.Fatal(err)
		}
	}
	if !Same(path, filepath.Join(folder, ".", "a")) || Same(path, other) || Same(path, filepath.Join(folder, "none")) {
		t.Error("Same is wrong")
	}
}

// TestCreateBy: what fails in the middle leaves nothing behind.
func TestCreateBy(t *testing.T) {
	folder := t.TempDir()
	path, half := filepath.Join(folder, "a"), errors.New("half of it")
	err := CreateBy(path, func(w io.Writer) error {
		if _, err := io.WriteString(w, strings.Repeat("x", 1<<20)); err != nil {
			return err
		}
		return half
	})
	if entries, readErr := os.ReadDir(folder); !errors.Is(err, half) || readErr != nil || len(entries) > 0 {
		t.Errorf("error %v; the folder has %v (%v)", err, entries, readErr)
	}
	if err := CreateBy(path, func(w io.Writer) error { _, err := io.WriteString(w, "whole"); return err }); err != nil {
		t.Error(err)
	}
	if got, err := os.ReadFile(path); err != nil || string(got) != "whole" {
		t.Errorf("the file has %q (%v)", got, err)
	}
}
