package ledger

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
)

// A side is one of the two files that a ledger is kept in: the ledger's own, or its witness.
type side struct {
	sys  system
	what string // "the ledger" or "its witness"
	path string
	file file  // nil where there is none
	size int64 // what it must have now
	tail []byte
}

// longestTail bounds what of the last line is read back. It ends with the line's checksum.
const longestTail = 4096

// open opens the side's file. One that is not there is no error.
func (s *side) open(how opening) error {
	f, err := s.sys.open(s.path, how)
	switch {
	case errors.Is(err, errInUse):
		return fault{kind: ErrLocked, path: s.path, found: err.Error(), fix: "go on there, or close that one first"}.err()
	case errors.Is(err, fs.ErrNotExist) && how != newToAppend:
		return nil
	case errors.Is(err, fs.ErrExist):
		return fault{kind: ErrRefused, path: s.path, found: "another program made it at the same time", fix: "open it"}.err()
	case err != nil:
		return withPath(s.path, storage(s.what+" cannot be opened", err))
	}
	info, err := f.Stat()
	switch {
	case err != nil:
		err = withPath(s.path, storage(s.what+" cannot be looked at", err))
	case !info.Mode().IsRegular():
		err = fault{kind: ErrDamaged, path: s.path, found: "it is not a file that lines can be added to", fix: "name another one"}.err()
	}
	if err != nil {
		return errors.Join(err, f.Close())
	}
	s.file = f
	return nil
}

// read returns what the file holds.
func (s *side) read() ([]byte, error) {
	if s.file == nil {
		return nil, nil
	}
	info, err := s.file.Stat()
	if err != nil {
		return nil, withPath(s.path, storage(s.what+" cannot be looked at", err))
	}
	var b bytes.Buffer
	b.Grow(int(info.Size()) + bytes.MinRead)
	if _, err := b.ReadFrom(io.NewSectionReader(s.file, 0, 1<<62)); err != nil {
		return nil, withPath(s.path, storage(s.what+" cannot be read", err))
	}
	return b.Bytes(), nil
}

// expect remembers what the file must hold from now on.
func (s *side) expect(data []byte) {
	s.size = int64(len(data))
	s.added(data)
}

// added remembers what the file ends with.
func (s *side) added(line []byte) {
	s.tail = append(s.tail[:0], line[max(0, len(line)-longestTail):]...)
}

// check returns why the file is not what this program left: its path leads to another one, or
// another program wrote to it.
func (s *side) check() error {
	changed := func(found string) error {
		return fault{kind: ErrUnsure, path: s.path, found: s.what + " was changed under the program: " + found, fix: "open the ledger again"}.err()
	}
	cannot := func(err error) error { return withPath(s.path, storage(s.what+" cannot be looked at", err)) }
	there, err := s.sys.stat(s.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return changed("it was removed or renamed")
	case err != nil:
		return cannot(err)
	}
	open, err := s.file.Stat()
	if err != nil {
		return cannot(err)
	}
	if !s.sys.sameFile(there, open) {
		return changed("another file stands in its place")
	}
	if open.Size() != s.size {
		return changed(fmt.Sprintf("it has %d bytes and had %d", open.Size(), s.size))
	}
	tail := make([]byte, len(s.tail))
	if _, err := s.file.ReadAt(tail, s.size-int64(len(tail))); err != nil && err != io.EOF {
		return cannot(err)
	}
	if !bytes.Equal(tail, s.tail) {
		return changed("its last line is another")
	}
	return nil
}

// append adds a line and returns when it will outlast the power.
func (s *side) append(line []byte) error {
	n, err := s.file.Write(line)
	if err == nil && n < len(line) {
		err = io.ErrShortWrite
	}
	if err == nil {
		err = s.file.Sync()
	}
	if err != nil {
		return withPath(s.path, storage("the record could not be written to "+s.what, err))
	}
	s.size += int64(len(line))
	if len(line) > 0 {
		s.added(line)
	}
	return nil
}

// mend gives the file, which was found to hold have, the text that it is to hold: what does not
// agree is cut off, and the rest is added. What is cut off is first put at the end of the file
// aside, unless that has no name. A file that no longer holds have is left alone: where locks do
// not work, another program may have gone on.
func (s *side) mend(have, text []byte, aside string) error {
	s.expect(have)
	if bytes.Equal(have, text) {
		return nil
	}
	same := commonPrefix(have, text)
	cut := have[same:]
	if len(cut) > 0 && aside != "" {
		if err := s.setAside(cut, same, aside); err != nil {
			return withPath(s.path, storage("its end could not be set aside", err))
		}
	}
	if err := s.check(); err != nil {
		return err
	}
	if len(cut) > 0 {
		if err := s.file.Truncate(int64(same)); err != nil {
			return withPath(s.path, storage("its end could not be cut off", err))
		}
		s.expect(text[:same])
	}
	return s.append(text[same:])
}

func (s *side) setAside(cut []byte, from int, path string) error {
	f, err := s.sys.open(path, anyToAppend)
	if err != nil {
		return err
	}
	note := fmt.Appendf(nil, "%d bytes from byte %d of %s\n", len(cut), from, filepath.Base(s.path))
	_, err = f.Write(append(append(note, cut...), '\n'))
	if err == nil {
		err = f.Sync()
	}
	if err := errors.Join(err, f.Close()); err != nil {
		return err
	}
	return s.sys.syncFolder(filepath.Dir(path))
}

func (s *side) close() error {
	if s.file == nil {
		return nil
	}
	f := s.file
	s.file = nil
	if err := f.Close(); err != nil {
		return withPath(s.path, storage(s.what+" cannot be closed", err))
	}
	return nil
}

// commonPrefix returns how many bytes two texts begin with in common.
func commonPrefix(a, b []byte) int {
	n := min(len(a), len(b))
	if bytes.Equal(a[:n], b[:n]) {
		return n
	}
	// Halves, so that long texts are compared by the fast comparison.
	lo, hi := 0, n // a[:lo] agrees, a[:hi] does not
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; bytes.Equal(a[lo:mid], b[lo:mid]) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}
