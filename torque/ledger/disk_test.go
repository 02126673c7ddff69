package ledger

import (
	"bytes"
	"errors"
	"io"
	"testing"

	"example.com/closefit/torque"
)

// memory is a disk that forgets what was not synced when its power is cut.
type memory struct {
	synced []byte   // what outlasts the power
	cached []byte   // what a reader sees
	named  bool     // whether the file's name outlasts the power
	aside  [][]byte // what was set aside
	writes int      // how many more writes succeed, if not negative
	read   int
	open   bool
}

var errWorn = errors.New("the disk is worn out")

func newMemory(text []byte) *memory {
	return &memory{synced: bytes.Clone(text), cached: bytes.Clone(text), named: len(text) > 0, writes: -1}
}

// openMemory opens a ledger on the disk.
func openMemory(m *memory, p *torque.Plan) (*Ledger, error) {
	if m.open {
		return nil, locked()
	}
	m.read, m.open = 0, true
	l, err := openOn(m, "memory", p)
	if err == nil {
		l.now = later
	}
	return l, err
}

// cutPower loses what was not synced, but for the first bytes of it if so many got
// through.
func (m *memory) cutPower(through int) {
	if !m.named {
		m.synced, m.cached = nil, nil
	}
	kept := bytes.Clone(m.synced)
	if len(m.cached) > len(kept) {
		kept = append(kept, m.cached[len(kept):min(len(kept)+through, len(m.cached))]...)
	}
	m.synced, m.cached, m.open = kept, bytes.Clone(kept), false
}

func (m *memory) Read(b []byte) (int, error) {
	if m.read == len(m.cached) {
		return 0, io.EOF
	}
	n := copy(b, m.cached[m.read:])
	m.read += n
	return n, nil
}

func (m *memory) WriteAt(b []byte, at int64) (int, error) {
	if m.writes == 0 {
		// Half of it got through.
		m.cached = append(m.cached[:at], b[:len(b)/2]...)
		return len(b) / 2, errWorn
	}
	m.writes--
	m.cached = append(m.cached[:at], b...)
	return len(b), nil
}

func (m *memory) Truncate(size int64) error {
	m.cached = m.cached[:size]
	return nil
}

func (m *memory) Sync() error {
	m.synced = bytes.Clone(m.cached)
	return nil
}

func (m *memory) SyncName() error {
	m.named = true
	return nil
}

func (m *memory) SetAside(b []byte) (string, error) {
	m.aside = append(m.aside, bytes.Clone(b))
	return "memory.torn", nil
}

func (m *memory) Close() error {
	m.open = false
	return nil
}

// TestNothingAcknowledgedBeforeTheDiskHasIt cuts the power after every call.
func TestNothingAcknowledgedBeforeTheDiskHasIt(t *testing.T) {
	plan := smallPlan(t, "small")
	m := newMemory(nil)
	reopen := func() *Ledger {
		t.Helper()
		m.cutPower(0)
		l, err := openMemory(m, plan)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	l := reopen()
	if !m.named || len(m.synced) == 0 {
		t.Fatal("a new ledger that may be gone after a power cut")
	}
	for n := 1; n <= len(plan.Steps()); n++ {
		if err := l.Begin(n); err != nil {
			t.Fatal(err)
		}
		l = reopen()
		want := Pending
		if _, turn := torque.As[torque.Turn](stepOf(plan, n).Do); turn {
			want = Unknown
		}
		if got := l.Status(n); got != want {
			t.Fatalf("step %d is %v after its beginning and a power cut, want %v", n, got, want)
		}
		if want == Unknown {
			// Put the beginning back, as if it had gone on.
			m.cutPower(0)
			m.synced = m.synced[:bytes.LastIndexByte(m.synced[:len(m.synced)-1], '\n')+1]
			m.cached = bytes.Clone(m.synced)
			h, err := replayed(bytes.NewReader(m.synced), plan)
			if err != nil {
				t.Fatal(err)
			}
			line, _ := recordLine(h.lines, epoch, happening{event: hold, step: n, bolt: stepOf(plan, n).Bolt}, h.sum)
			m.synced = append(m.synced, line...)
			m.cached = bytes.Clone(m.synced)
			l = reopen()
		} else if err := l.Begin(n); err != nil {
			t.Fatal(err)
		}
		if err := l.Done(n); err != nil {
			t.Fatal(err)
		}
		l = reopen()
		if got := l.Status(n); got != Done {
			t.Fatalf("step %d is %v after it was done and a power cut", n, got)
		}
	}
}

// TestWornDisk: whichever write fails, nothing more is acknowledged, and what had
// been is found again.
func TestWornDisk(t *testing.T) {
	plan := smallPlan(t, "small")
	for writes := 1; writes < 12; writes++ {
		m := newMemory(nil)
		m.writes = writes
		l, err := openMemory(m, plan)
		if err != nil {
			t.Fatal(err)
		}
		acknowledged := &model{plan: plan}
		for n := 1; ; n++ {
			if err = l.Begin(n); err != nil {
				break
			}
			acknowledged.add(begin, n)
			if err = l.Done(n); err != nil {
				break
			}
			acknowledged.add(finish, n)
		}
		if !errors.Is(err, ErrStorage) || !errors.Is(err, errWorn) {
			t.Fatalf("%v, want the disk's error", err)
		}
		next, _ := l.Next()
		if again := l.Begin(next.Number); !errors.Is(again, ErrStorage) {
			t.Errorf("%v after the disk failed", again)
		}
		if err := acknowledged.compare(l.progress); err != nil {
			t.Error(err)
		}
		l.Close()
		m.cutPower(1000)
		m.writes = -1
		l, err = openMemory(m, plan)
		if err != nil {
			t.Fatal(err)
		}
		acknowledged.crash()
		if err := acknowledged.compare(l.progress); err != nil {
			t.Errorf("%d writes: %v", writes, err)
		}
		if len(m.aside) != 1 {
			t.Errorf("%d lines set aside, want the torn one", len(m.aside))
		}
	}
}
