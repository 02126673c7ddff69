// Package wholefile writes a file whole or not at all: what was there stays until
// what takes its place is safe on the disk.
package wholefile

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Write writes the text to the file named. A file that is there already is replaced
// and keeps its mode; so is one that the name is a link to, and the link stays. A
// pipe or a device is written to. The error is for a folder, for a file that is
// read-only, and for whatever the system refuses; the file is then as it was.
func Write(name string, text []byte) error {
	if target, err := linked(name); err != nil {
		return fmt.Errorf("cannot write %s: %w", name, err)
	} else {
		name = target
	}
	mode := fs.FileMode(0o644)
	info, err := os.Stat(name)
	switch {
	case err == nil && info.IsDir():
		return fmt.Errorf("%s is a folder; name a file in it", name)
	case err == nil && !info.Mode().IsRegular():
		return os.WriteFile(name, text, mode) // a pipe or a device has no old content to keep
	case err == nil && info.Mode().Perm()&0o200 == 0:
		return fmt.Errorf("%s is read-only and is left as it was; make it writable, or name another file", name)
	case err == nil:
		mode = info.Mode().Perm()
	case !errors.Is(err, fs.ErrNotExist):
		return err
	}
	return replace(name, text, mode)
}

// Create writes the text to a new file. A file of that name that is there already is left
// as it was, and is an error.
func Create(name string, text []byte) error {
	return CreateBy(name, whole(text))
}

// whole returns what writes a text that is held whole.
func whole(text []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	}
}

// CreateBy is Create for what is not held whole: write is called to write it. If write fails
// there is no file.
func CreateBy(name string, write func(io.Writer) error) error {
	_, err := os.Lstat(name)
	if err == nil {
		return fmt.Errorf("%s is there already and is left as it was; name another file", name)
	}
	if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return put(name, write, 0o644, func(written string) error {
		if err := os.Link(written, name); !errors.Is(err, errors.ErrUnsupported) { // it fails if the file has come to be
			return errors.Join(err, os.Remove(written))
		}
		return os.Rename(written, name)
	})
}

// linked returns what the name stands for if it is a link, which may point to a
// file that is not there yet: the file is to be replaced, not the link.
func linked(name string) (string, error) {
	for range 40 { // as many as an operating system follows
		target, err := os.Readlink(name)
		if err != nil {
			return name, nil // no link
		}
		if !filepath.IsAbs(target) {
			target = filepath.Join(filepath.Dir(name), target)
		}
		name = target
	}
	return "", errors.New("too many links")
}

// Same reports whether the two names are of one file that is there.
func Same(a, b string) bool {
	first, err := os.Stat(a)
	if err != nil {
		return false
	}
	second, err := os.Stat(b)
	return err == nil && os.SameFile(first, second)
}

// replace writes the text beside the file and renames it.
func replace(name string, text []byte, mode fs.FileMode) error {
	return put(name, whole(text), mode, func(written string) error { return os.Rename(written, name) })
}

// put has a file written beside the one named, and puts it in its place.
func put(name string, write func(io.Writer) error, mode fs.FileMode, place func(written string) error) (err error) {
	defer func() {
		if err != nil {
			err = fmt.Errorf("cannot write %s, which is left as it was: %w", name, err)
		}
	}()
	f, err := os.CreateTemp(filepath.Dir(name), ".record-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	buffered := bufio.NewWriterSize(f, 64<<10)
	if err := write(buffered); err != nil {
		return err
	}
	if err := buffered.Flush(); err != nil {
		return err
	}
	if err := f.Chmod(mode); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return place(f.Name())
}
