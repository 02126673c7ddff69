package ledger

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// memory is a system that forgets what was not synced when its power is cut, and whose calls
// fail when a test says so.
type memory struct {
	names   map[string]*inode // as every program sees them
	durable map[string]*inode // as they are after a power cut
	folders map[string]bool
	unlocks bool // locks do nothing

	calls    int      // how many there were
	at       int      // the call with which something happens, from 1; 0 for none
	what     accident // what happens then
	happened bool
	said     []string // the calls, if they are kept
	keep     bool
	turn     func(call string) // is asked before each call, if not nil
}

// An accident is what happens with a call.
type accident uint8

const (
	fails       accident = iota // it does nothing and says so
	failsHalf                   // a write gets half through, anything else as before
	failsAfter                  // it does all, and says that it failed
	killsBefore                 // the program is killed before it
	killsAfter                  // or after it
	killsHalf                   // or half through a write
	accidents
)

func (a accident) String() string {
	return [...]string{"fails", "fails half-way", "fails after all", "killed before", "killed after", "killed half-way"}[a]
}

// killed is what a call panics with when its program is killed.
type killed struct{}

// An inode is a file without its name.
type inode struct {
	cached, synced []byte
	locked         bool
	folder         bool
}

func newMemory() *memory {
	return &memory{names: map[string]*inode{}, durable: map[string]*inode{}, folders: map[string]bool{"/home": true}}
}

// clone returns a memory as it is found by the next program: with nothing open, and no accident.
func (m *memory) clone() *memory {
	c := newMemory()
	c.folders = maps.Clone(m.folders)
	c.unlocks = m.unlocks
	inodes := map[*inode]*inode{}
	copyOf := func(i *inode) *inode {
		if inodes[i] == nil {
			inodes[i] = &inode{cached: bytes.Clone(i.cached), synced: bytes.Clone(i.synced)}
		}
		return inodes[i]
	}
	for name, i := range m.names {
		c.names[name] = copyOf(i)
	}
	for name, i := range m.durable {
		c.durable[name] = copyOf(i)
	}
	return c
}

// A cut is what a power cut leaves.
type cut struct {
	names   bool // the names that were not synced are kept all the same
	through int  // so many bytes that were not synced got through
	zeros   bool // and the rest of them are zeros
}

// cutPower returns the memory as it is found after a power cut.
func (m *memory) cutPower(how cut) *memory {
	c := m.clone()
	if !how.names {
		c.names = maps.Clone(c.durable)
	}
	for _, i := range c.names {
		kept := bytes.Clone(i.synced)
		if len(i.cached) > len(kept) {
			rest := bytes.Clone(i.cached[len(kept):])
			through := min(how.through, len(rest))
			clear(rest[through:])
			if !how.zeros {
				rest = rest[:through]
			}
			kept = append(kept, rest...)
		}
		i.cached, i.synced = kept, bytes.Clone(kept)
	}
	c.durable = maps.Clone(c.names)
	return c
}

// put makes a file hold some bytes, whoever has it open; nil removes it.
func (m *memory) put(path string, data []byte) {
	if data == nil {
		delete(m.names, path)
		delete(m.durable, path)
		return
	}
	i := m.names[path]
	if i == nil {
		i = &inode{}
		m.names[path], m.durable[path] = i, i
	}
	i.cached, i.synced = bytes.Clone(data), bytes.Clone(data)
}

// get returns what a file holds; nil if it is not there.
func (m *memory) get(path string) []byte {
	if i := m.names[path]; i != nil {
		return append([]byte{}, i.cached...)
	}
	return nil
}

var errWorn = errors.New("the disk is worn out")

// call is made with every call; do does it. half does half of it, if it can be done by halves.
func (m *memory) call(name string, do func() error, half func()) error {
	if m.turn != nil {
		m.turn(name)
	}
	m.calls++
	if m.keep {
		m.said = append(m.said, name)
	}
	if m.calls != m.at {
		return do()
	}
	switch m.what {
	case failsHalf, killsHalf:
		if half != nil {
			half()
		}
	case failsAfter, killsAfter:
		if err := do(); err != nil {
			return err
		}
	}
	m.happened = true
	if m.what >= killsBefore {
		panic(killed{})
	}
	return errWorn
}

func (m *memory) open(path string, how opening) (file, error) {
	var f *memoryFile
	err := m.call("open "+filepath.Base(path), func() error {
		i := m.names[path]
		switch {
		case i != nil && how == newToAppend:
			return fs.ErrExist
		case i == nil && (how == toRead || how == toAppend):
			return fs.ErrNotExist
		case i == nil && !m.folders[filepath.Dir(path)]:
			return fs.ErrNotExist
		case i == nil:
			i = &inode{}
			m.names[path] = i
		}
		if how != toRead && !m.unlocks {
			if i.locked {
				return errInUse
			}
			i.locked = true
		}
		f = &memoryFile{m: m, inode: i, name: filepath.Base(path), writes: how != toRead}
		return nil
	}, nil)
	if err != nil {
		if f != nil && f.writes {
			f.inode.locked = false // a file that could not be opened is not locked
		}
		return nil, err
	}
	return f, nil
}

func (m *memory) stat(path string) (info fs.FileInfo, err error) {
	err = m.call("stat "+filepath.Base(path), func() error {
		switch {
		case m.names[path] != nil:
			info = memoryInfo{m.names[path], len(m.names[path].cached)}
		case m.folders[path]:
			info = memoryInfo{&inode{folder: true}, 0}
		default:
			return fs.ErrNotExist
		}
		return nil
	}, nil)
	return info, err
}

func (m *memory) sameFile(a, b fs.FileInfo) bool {
	return a.(memoryInfo).inode == b.(memoryInfo).inode
}

func (m *memory) rename(from, to string) error {
	return m.call("rename "+filepath.Base(from), func() error {
		if m.names[from] == nil {
			return fs.ErrNotExist
		}
		m.names[to] = m.names[from]
		delete(m.names, from)
		return nil
	}, nil)
}

func (m *memory) makeFolder(path string) error {
	return m.call("mkdir "+filepath.Base(path), func() error { m.folders[path] = true; return nil }, nil)
}

func (m *memory) syncFolder(path string) error {
	return m.call("sync folder "+filepath.Base(path), func() error {
		for _, names := range []map[string]*inode{m.names, m.durable} {
			for name := range maps.Clone(names) {
				if filepath.Dir(name) != path {
					continue
				}
				delete(m.durable, name)
				if i := m.names[name]; i != nil {
					m.durable[name] = i
				}
			}
		}
		return nil
	}, nil)
}

func (m *memory) list(folder string) (names []string, err error) {
	err = m.call("list "+filepath.Base(folder), func() error {
		for name := range m.names {
			if filepath.Dir(name) == folder {
				names = append(names, filepath.Base(name))
			}
		}
		slices.Sort(names)
		return nil
	}, nil)
	return names, err
}

// memoryFile is an inode that is open.
type memoryFile struct {
	m      *memory
	inode  *inode
	name   string
	writes bool
	closed bool
}

func (f *memoryFile) call(what string, do func() error, half func()) error {
	if f.closed {
		return fs.ErrClosed
	}
	return f.m.call(what+" "+f.name, do, half)
}

func (f *memoryFile) ReadAt(b []byte, at int64) (n int, err error) {
	err = f.call("read", func() error {
		if at >= int64(len(f.inode.cached)) {
			return io.EOF
		}
		if n = copy(b, f.inode.cached[at:]); n < len(b) {
			return io.EOF
		}
		return nil
	}, nil)
	return n, err
}

func (f *memoryFile) Write(b []byte) (n int, err error) {
	write := func(b []byte) {
		f.inode.cached = append(f.inode.cached[:len(f.inode.cached):len(f.inode.cached)], b...)
	}
	err = f.call("write", func() error { write(b); n = len(b); return nil }, func() { n = len(b) / 2; write(b[:n]) })
	return n, err
}

func (f *memoryFile) Stat() (info fs.FileInfo, err error) {
	err = f.call("fstat", func() error { info = memoryInfo{f.inode, len(f.inode.cached)}; return nil }, nil)
	return info, err
}

func (f *memoryFile) Truncate(size int64) error {
	return f.call("truncate", func() error {
		longer := append(bytes.Clone(f.inode.cached), make([]byte, max(0, int(size)-len(f.inode.cached)))...)
		f.inode.cached = longer[:size]
		// What is cut off may come back after a power cut, until it is synced.
		return nil
	}, nil)
}

func (f *memoryFile) Sync() error {
	return f.call("sync", func() error { f.inode.synced = bytes.Clone(f.inode.cached); return nil }, nil)
}

func (f *memoryFile) Close() error {
	if !f.closed && f.writes {
		f.inode.locked = false // also where it fails
	}
	err := f.call("close", func() error { return nil }, nil)
	f.closed = true
	return err
}

type memoryInfo struct {
	*inode
	size int
}

func (i memoryInfo) Name() string       { return "" }
func (i memoryInfo) Size() int64        { return int64(i.size) }
func (i memoryInfo) ModTime() time.Time { return time.Time{} }
func (i memoryInfo) IsDir() bool        { return i.folder }
func (i memoryInfo) Sys() any           { return nil }
func (i memoryInfo) Mode() fs.FileMode {
	if i.folder {
		return fs.ModeDir
	}
	return 0
}

// String lists the files, for a test that failed.
func (m *memory) String() string {
	var b strings.Builder
	for _, name := range slices.Sorted(maps.Keys(m.names)) {
		fmt.Fprintf(&b, "%s: %d bytes\n", name, len(m.names[name].cached))
	}
	return b.String()
}
