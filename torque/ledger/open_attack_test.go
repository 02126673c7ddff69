package ledger

import (
	"bytes"
	"errors"
	"fmt"
	"testing"

	"example.com/closefit/internal/thorough"
)

// A change is made to a file while a program has the ledger open.
type change struct {
	name string
	make func(m *memory, path string, s *scene)
	seen bool // by the program, at its next call; else when the ledger is opened again
}

// edit changes the bytes of a file where it is.
func edit(how func(data []byte) []byte) func(*memory, string, *scene) {
	return func(m *memory, path string, _ *scene) {
		i := m.names[path]
		i.cached = how(bytes.Clone(i.cached))
		i.synced = bytes.Clone(i.cached)
	}
}

// replace puts another file in a file's place, as an editor and a synchroniser do.
func replaceBy(data func(s *scene, now []byte) []byte) func(*memory, string, *scene) {
	return func(m *memory, path string, s *scene) {
		now := m.get(path)
		m.put(path, nil)
		m.put(path, data(s, now))
	}
}

// changes are what may happen to a file under the program.
func changes() []change {
	all := []change{
		{"emptied", edit(func([]byte) []byte { return nil }), true},
		{"zeroed", edit(func(data []byte) []byte { clear(data); return data }), true},
		{"cut by a byte", edit(func(data []byte) []byte { return data[:len(data)-1] }), true},
		{"cut by a line", edit(func(data []byte) []byte { return data[:len(data)-len(lastLine(data))] }), true},
		{"cut in the middle", edit(func(data []byte) []byte { return data[:len(data)/2] }), true},
		{"longer by a byte", edit(func(data []byte) []byte { return append(data, 'x') }), true},
		{"longer by a line", edit(func(data []byte) []byte { return append(data, lastLine(data)...) }), true},
		{"the newline altered", edit(func(data []byte) []byte { data[len(data)-1] ^= 1; return data }), true},
		{"the last line altered", edit(func(data []byte) []byte { data[len(data)-20] ^= 1; return data }), true},
		{"a line in the middle altered", edit(func(data []byte) []byte { data[len(data)/2] ^= 1; return data }), false},
		{"the first line altered", edit(func(data []byte) []byte { data[30] ^= 1; return data }), false},
		{"removed", func(m *memory, path string, _ *scene) { m.put(path, nil) }, true},
		{"renamed", func(m *memory, path string, _ *scene) { m.rename(path, path+".bak") }, true},
		{"replaced by a copy", replaceBy(func(_ *scene, now []byte) []byte { return now }), true},
		{"replaced by an empty file", replaceBy(func(*scene, []byte) []byte { return []byte{} }), true},
	}
	for _, n := range []int{1, 2, 9} {
		all = append(all, change{fmt.Sprintf("rolled back by %d", n), replaceBy(func(s *scene, _ []byte) []byte { return s.back(n) }), true},
			change{fmt.Sprintf("rolled back by %d where it is", n), func(m *memory, path string, s *scene) {
				edit(func([]byte) []byte { return s.back(n) })(m, path, s)
			}, true})
	}
	return all
}

// TestFilesChangedWhileOpen: what becomes of one of the files, or of both, while a program has
// them open is found at its next call, before it is acknowledged, or when the ledger is opened
// again. Both rolled back together, as a whole disk put back, is found while it is open.
func TestFilesChangedWhileOpen(t *testing.T) {
	thorough.SkipRaced(t)
	var a tally
	plan := testPlan(t, "open", 4)
	for _, which := range []string{"ledger", "witness", "both"} {
		for _, c := range changes() {
			for _, steps := range []int{5, 9, 14} {
				s := newScene(t, plan, steps)
				if steps == 9 {
					next, _ := s.l.Next()
					if err := s.l.Begin(next.Number); err != nil {
						t.Fatal(err)
					}
					s.acknowledged()
				}
				where := fmt.Sprintf("the %s %s after %d steps", which, c.name, steps)
				if which != "witness" {
					c.make(s.m, s.path, s)
				}
				if which != "ledger" {
					c.make(s.m, s.wit, s)
				}
				a.tried++
				err := s.l.Note("what follows")
				if c.seen != errors.Is(err, ErrUnsure) || !c.seen && err != nil {
					t.Errorf("%s: %v", where, err)
				}
				if again := s.l.Note("and again"); c.seen && again == nil {
					t.Errorf("%s: after a refusal it goes on", where)
				}
				if err := s.l.Close(); err != nil {
					t.Error(err)
				}
				if which == "both" {
					if c.seen {
						a.refused++
						continue
					}
				}
				a.tried--
				a.weigh(t, s, s.m, s.last(), func() string { return where })
			}
		}
	}
	t.Logf("| ledger, witness or both changed, replaced or removed while open | %v |", &a)
}
