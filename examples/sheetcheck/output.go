package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// write writes a text to the file named, or to standard output if none is.
// The file is replaced whole or not at all: the text is written beside it and
// put in its place once it is safe on the disk.
func write(name string, text []byte, stdout io.Writer) error {
	if name == "" {
		_, err := stdout.Write(text)
		return err
	}
	if target, err := filepath.EvalSymlinks(name); err == nil {
		name = target // replace what a link points to, not the link
	}
	mode := fs.FileMode(0o644)
	info, err := os.Stat(name)
	switch {
	case err == nil && info.IsDir():
		return fmt.Errorf("%s is a folder; name a file in it", name)
	case err == nil && !info.Mode().IsRegular():
		return os.WriteFile(name, text, mode) // a pipe or a device has no old content to keep
	case err == nil:
		mode = info.Mode().Perm()
	case !errors.Is(err, fs.ErrNotExist):
		return err
	}
	return replace(name, text, mode)
}

// replace writes the text beside the file and renames it.
func replace(name string, text []byte, mode fs.FileMode) (err error) {
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", name, err)
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
			err = fmt.Errorf("cannot write %s, which is left as it was: %w", name, err)
		}
	}()
	if _, err := f.Write(text); err != nil {
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
	return os.Rename(f.Name(), name)
}
