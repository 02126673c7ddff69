package ledger

import (
	"bytes"
	"fmt"
	"slices"
	"testing"

	"example.com/closefit/internal/thorough"
)

// forty is a ledger of 40 steps, closed.
func forty(t *testing.T) *scene {
	return newScene(t, testPlan(t, "forty", 10), 40).closed(t)
}

// set returns the files as a case has them.
func (s *scene) set(m *memory, ledger, witness []byte) *memory {
	m.put(s.path, ledger)
	m.put(s.wit, witness)
	return m
}

// TestEveryBitFlip flips each bit of the ledger, and of its witness, while both are closed: each
// fifteenth in go test, and all of them where the tests are whole.
func TestEveryBitFlip(t *testing.T) {
	thorough.SkipRaced(t)
	t.Parallel()
	for _, side := range []string{"ledger", "witness"} {
		t.Run(side, func(t *testing.T) {
			t.Parallel()
			s := forty(t)
			whole := s.last()
			m := s.m
			path := s.path
			if side == "witness" {
				path = s.wit
			}
			var a tally
			for bit := 0; bit < 8*len(whole); bit += thorough.Every(15) { // 15 comes to every place in a byte
				m.names[path].cached[bit/8] ^= 1 << (bit % 8)
				mended := a.mended
				a.weigh(t, s, m, whole, func() string { return fmt.Sprintf("bit %d of byte %d of the %s", bit%8, bit/8, side) })
				if t.Failed() {
					break
				}
				if m.names[path].cached[bit/8] ^= 1 << (bit % 8); a.mended > mended {
					s.set(m, whole, whole)
				}
			}
			t.Logf("| every single-bit flip of the %s of 40 steps | %v |", side, &a)
		})
	}
}

// TestEveryTruncation cuts the ledger, and its witness, at each byte.
func TestEveryTruncation(t *testing.T) {
	thorough.SkipRaced(t)
	t.Parallel()
	for _, side := range []string{"ledger", "witness"} {
		t.Run(side, func(t *testing.T) {
			t.Parallel()
			s := forty(t)
			whole := s.last()
			m := s.m
			var a tally
			for k := range len(whole) {
				if side == "ledger" {
					s.set(m, whole[:k], whole)
				} else {
					s.set(m, whole, whole[:k])
				}
				m.put(s.path+".torn", nil)
				a.weigh(t, s, m, whole, func() string { return fmt.Sprintf("the %s cut at byte %d", side, k) })
			}
			t.Logf("| every truncation of the %s of 40 steps | %v |", side, &a)
		})
	}
}

// A state is what may have become of one file.
type state struct {
	name string
	data []byte // nil if it is not there
	age  int    // of how many records it is the older for being put back whole; -1 if it cannot be read
}

// states are what may become of a file, but for its being as it was.
func (s *scene) states(t *testing.T) []state {
	whole := s.last()
	all := []state{{"emptied", []byte{}, -1}, {"deleted", nil, -1}}
	for _, n := range []int{1, 100, len(whole), 4096, 65_535} {
		all = append(all, state{fmt.Sprintf("%d zeros", n), make([]byte, n), -1})
	}
	for _, n := range []int{1, 2, 3, len(s.history) / 2, len(s.history) - 1} {
		all = append(all, state{fmt.Sprintf("rolled back by %d", n), s.back(n), n})
	}
	zeroed := bytes.Clone(whole)
	clear(zeroed[len(zeroed)/2:])
	other := newScene(t, s.plan, 7)
	other.l.Close()
	return append(all,
		state{"zeros from the middle on", zeroed, -1},
		state{"zeros added", append(bytes.Clone(whole), make([]byte, 512)...), -1},
		state{"replaced by another ledger of the work", other.last(), -1},
		state{"replaced by a text", []byte("Dear reader,\nthis is a letter.\n"), -1},
		state{"its lines in another order", reversed(whole), -1},
		state{"twice in itself", append(bytes.Clone(whole), whole...), -1},
		state{"its last line twice", append(bytes.Clone(whole), lastLine(whole)...), -1},
		state{"its newlines of another system", bytes.ReplaceAll(whole, []byte("\n"), []byte("\r\n")), -1},
		state{"a byte order mark before it", append([]byte("\uFEFF"), whole...), -1},
		state{"a word added by an editor", append(bytes.Clone(whole), "done"...), -1},
		state{"an empty line added", append(bytes.Clone(whole), '\n'), -1},
	)
}

// lastLine returns the last line of a text.
func lastLine(text []byte) []byte {
	return text[bytes.LastIndexByte(text[:len(text)-1], '\n')+1:]
}

// reversed returns a text with its lines in the opposite order.
func reversed(text []byte) []byte {
	lines := slices.Collect(bytes.Lines(text))
	slices.Reverse(lines)
	return bytes.Join(lines, nil)
}

// TestFilesAltered: whatever becomes of one of the files, or of both, while they are closed.
// Both rolled back together cannot be known: that is the only case left out.
func TestFilesAltered(t *testing.T) {
	thorough.SkipRaced(t)
	s := forty(t)
	whole := s.last()
	states := s.states(t)
	var ledger, witness, both tally
	for _, one := range states {
		m := s.set(s.m.clone(), one.data, whole)
		ledger.weigh(t, s, m, whole, func() string { return "the ledger: " + one.name })
		m = s.set(s.m.clone(), whole, one.data)
		witness.weigh(t, s, m, whole, func() string { return "the witness: " + one.name })
		for _, other := range states {
			if one.age > 0 && other.age > 0 && (one.age == other.age || one.age == other.age-1) {
				continue // both rolled back: the ledger as far as its witness, or by one record less
			}
			if one.data == nil && other.data == nil {
				continue // nothing is left
			}
			if bytes.Equal(one.data, other.data) && one.name == "replaced by another ledger of the work" {
				continue // both replaced together
			}
			m := s.set(s.m.clone(), one.data, other.data)
			acknowledged := whole
			both.weigh(t, s, m, acknowledged, func() string { return "the ledger: " + one.name + "; the witness: " + other.name })
		}
	}
	t.Logf("| the ledger emptied, deleted, zeroed, rolled back, replaced, edited: %d ways | %v |", len(states), &ledger)
	t.Logf("| the witness likewise | %v |", &witness)
	t.Logf("| both, each in its own way | %v |", &both)
}
