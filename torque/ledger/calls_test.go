package ledger

import (
	"bytes"
	"errors"
	"fmt"
	"testing"

	"example.com/closefit/internal/thorough"
	"example.com/closefit/torque"
)

// A situation is files as they are found, and what a program calls then.
type situation struct {
	name string
	m    *memory
	run  func(m *memory) error // opens, calls and closes; the error is that of the call that is meant

	acknowledged []byte // what the ledger must begin with afterwards, whatever happened
	then         int    // how many records more there may be
	unsure       bool   // Open refuses, until it is taken over
	unstarted    bool   // Start has not been acknowledged
	doubt        []string
}

// cuts are the ways in which the files are found after a program ended.
var cuts = []cut{{}, {names: true}, {through: 9}, {names: true, through: 1 << 20}, {names: true, zeros: true}, {through: 30, zeros: true}}

// closing calls a function and closes the ledger that it opens.
func closing(l *Ledger, err error) error {
	if err != nil {
		return err
	}
	return l.Close()
}

// situations are every entry point, on files that are as they should be and on those that a
// crash, or an attack, has left.
func situations(t *testing.T, plan *torque.Plan) []situation {
	s := newScene(t, plan, 5).closed(t)
	whole := s.last()
	line := lastLine(whole)
	reopen := func(m *memory) error { return closing(s.reopen(m)) }
	take := func(m *memory) error { return closing(s.takeOver(m)) }
	with := func(ledger, witness []byte) *memory { return s.set(s.m.clone(), ledger, witness) }
	cat := func(texts ...[]byte) []byte { return bytes.Join(texts, nil) }

	// Another program, without a lock, began step 3 when the last record was not there yet.
	before := linked(s.back(2), true)
	sibling, _ := recordLine(before.lines, happening{event: note, detail: "from another program", at: epoch}, before.sum)

	// Another history of the same ledger: it parts from the other after the first step.
	fork := &scene{m: with(s.history[2], s.history[2]), plan: plan, path: s.path, wit: s.wit}
	var err error
	if fork.l, err = s.reopen(fork.m); err != nil {
		t.Fatal(err)
	}
	if err := fork.l.Note("another history"); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		fork.step(t)
	}
	fork.closed(t)

	flipped := bytes.Clone(whole)
	flipped[len(flipped)/2] ^= 4

	starting := newMemory()
	begun := func(new, ledger []byte) *memory {
		m := newMemory()
		m.folders["/state/closefit"] = true
		m.put(s.new, new)
		m.put(s.path, ledger)
		return m
	}
	// call opens a ledger and makes a call that records something.
	call := func(f func(*Ledger) error) func(*memory) error {
		return func(m *memory) error {
			l, err := s.reopen(m)
			if err != nil {
				return err
			}
			err = f(l)
			if err == nil && !bytes.HasPrefix(m.get(s.path), whole) {
				t.Error("acknowledged, and not there")
			}
			return errors.Join(err, l.Close())
		}
	}
	first := s.history[0]
	return []situation{
		{name: "start", m: starting, unstarted: true, run: func(m *memory) error {
			return closing(start(m, testClock(), testHome, testWork, plan, []string{}))
		}},
		{name: "start, with bolts turned", m: starting, unstarted: true, doubt: []string{"bolt 2"}, run: func(m *memory) error {
			return closing(start(m, testClock(), testHome, testWork, plan, []string{"bolt 2"}))
		}},
		{name: "open", m: with(whole, whole), run: reopen, acknowledged: whole},
		{name: "open, a torn line", m: with(cat(whole, line[:9]), whole), run: reopen, acknowledged: whole},
		{name: "open, a line of zeros", m: with(cat(whole, make([]byte, 40)), whole), run: reopen, acknowledged: whole},
		{name: "open, no newline", m: with(whole[:len(whole)-1], whole), run: reopen, acknowledged: whole},
		{name: "open, another byte in the place of the newline", m: with(cat(whole[:len(whole)-1], []byte("\v")), whole), run: reopen, acknowledged: whole},
		{name: "open, the witness behind by a record", m: with(whole, s.back(1)), run: reopen, acknowledged: whole},
		{name: "open, the witness torn", m: with(whole, whole[:len(whole)-9]), run: reopen, acknowledged: whole},
		{name: "open, a line of another program", m: with(cat(whole, sibling), whole), run: reopen, acknowledged: whole},
		{name: "open, started and nothing of the ledger", m: begun(first, []byte{}), run: reopen, acknowledged: first},
		{name: "open, started and a piece of the ledger", m: begun(first, first[:200]), run: reopen, acknowledged: first},
		{name: "open, started and zeros", m: begun(first, make([]byte, len(first))), run: reopen, acknowledged: first, unstarted: true},
		{name: "open, started and no witness", m: begun(first, first), run: reopen, acknowledged: first},
		{name: "begin", m: with(whole, whole), acknowledged: whole, then: 1, run: call(func(l *Ledger) error { return l.Begin(6) })},
		{name: "begin and done", m: with(whole, whole), acknowledged: whole, then: 2, run: call(func(l *Ledger) error { return errors.Join(l.Begin(6), l.Done(6, Reached{})) })},
		{name: "note", m: with(whole, whole), acknowledged: whole, then: 1, run: call(func(l *Ledger) error { return l.Note("the thread was cleaned") })},
		{name: "replace", m: with(whole, whole), acknowledged: whole, then: 1, run: call(func(l *Ledger) error { return l.Replace("bolt 1") })},
		{name: "read", m: with(whole, whole), acknowledged: whole, run: func(m *memory) error { _, _, err := read(m, testHome, testWork); return err }},
		{name: "find", m: with(whole, whole), acknowledged: whole, run: func(m *memory) error { _, err := find(m, "/home", testWork); return err }},
		{name: "take over, the ledger older", m: with(s.back(3), whole), unsure: true, run: take, acknowledged: whole},
		{name: "take over, the ledger older and torn", m: with(cat(s.back(3), []byte("17\tabc")), whole), unsure: true, run: take, acknowledged: whole},
		{name: "take over, the ledger gone", m: with(nil, whole), unsure: true, run: take, acknowledged: whole},
		{name: "take over, the ledger emptied", m: with([]byte{}, whole), unsure: true, run: take, acknowledged: whole},
		{name: "take over, the ledger altered", m: with(flipped, whole), unsure: true, run: take, acknowledged: whole},
		{name: "take over, the ledger zeros", m: with(make([]byte, 4096), whole), unsure: true, run: take, acknowledged: whole},
		{name: "take over, the witness gone", m: with(whole, nil), unsure: true, run: take, acknowledged: whole},
		{name: "take over, the witness emptied", m: with(whole, []byte{}), unsure: true, run: take, acknowledged: whole},
		{name: "take over, the witness older", m: with(whole, s.back(4)), unsure: true, run: take, acknowledged: whole},
		{name: "take over, the witness altered", m: with(whole, flipped), unsure: true, run: take, acknowledged: whole},
		{name: "take over, the two part", m: with(fork.m.get(s.path), whole), unsure: true, run: take, acknowledged: fork.m.get(s.path), doubt: []string{"bolt 2"}},
		{name: "take over, the two part, the other way", m: with(whole, fork.m.get(s.path)), unsure: true, run: take, acknowledged: whole, doubt: []string{"bolt 2"}},
	}
}

// try runs a function that may be killed.
func try(run func() error) (err error, wasKilled bool) {
	defer func() {
		if r := recover(); r == (killed{}) {
			wasKilled = true
		} else if r != nil {
			panic(r)
		}
	}()
	return run(), false
}

// TestEveryCall lets each call of each entry point go wrong in turn, in every way, and opens
// the ledger again: as it stands, and after a power cut.
func TestEveryCall(t *testing.T) {
	thorough.SkipRaced(t)
	t.Parallel()
	plan := testPlan(t, "small", 3)
	total, every := tally{}, thorough.Every(12)
	for _, s := range situations(t, plan) {
		t.Run(s.name, func(t *testing.T) {
			if err, _ := try(func() error { return s.run(s.m.clone()) }); err != nil {
				if !s.unstarted || s.acknowledged == nil || !errors.Is(err, ErrNotStarted) {
					t.Fatalf("without an accident: %v", err)
				}
			}
			for what := range accidents {
				for k := 1 + int(what)%every; ; k += every {
					m := s.m.clone()
					m.at, m.what, m.keep = k, what, true
					err, wasKilled := try(func() error { return s.run(m) })
					if m.calls < k {
						break
					}
					where := fmt.Sprintf("%q %v", m.said[k-1], what)
					if err == nil && m.happened && what < killsBefore && s.then > 0 {
						t.Errorf("%s, and nothing was said", where)
					}
					m.at = 0
					acknowledged := s
					if err == nil && !wasKilled {
						acknowledged.unstarted = false
					}
					if !wasKilled { // the program goes on, and has closed everything
						acknowledged.after(t, m, where+", opened again", &total)
						continue // that has changed the files
					}
					acknowledged.after(t, m.clone(), where, &total)
					for _, how := range cuts {
						acknowledged.after(t, m.cutPower(how), fmt.Sprintf("%s, the power cut %+v", where, how), &total)
					}
				}
				if t.Failed() {
					return
				}
			}
		})
	}
	t.Logf("| each call of every entry point failing, killed, or the power cut | %v |", &total)
}

// after opens the ledger again, as often as it takes, and looks for what was acknowledged.
func (s *situation) after(t *testing.T, m *memory, where string, total *tally) {
	t.Helper()
	total.tried++
	plan := testPlan(t, "small", 3)
	silent := func(format string, args ...any) {
		t.Helper()
		total.silent++
		t.Errorf("%s: %s\n%v", where, fmt.Sprintf(format, args...), m)
	}
	l, err := open(m, testClock(), testHome, testWork, plan)
	switch {
	case err == nil && len(l.Said) > 0:
		total.mended++
	case err == nil:
		total.same++
	case s.unstarted && errors.Is(err, ErrNotStarted):
		total.refused++
		if l, err = start(m, testClock(), testHome, testWork, plan, []string{}); err == nil {
			l.Close()
			return
		}
	case s.unsure && errors.Is(err, ErrUnsure):
		total.refused++
		l, err = takeItOver(m, testClock(), testHome, testWork, plan, testWord)
	}
	if err != nil {
		silent("%v", err)
		return
	}
	defer l.Close()
	path, wit := "/home/gate.ledger", "/state/closefit/"+testWork.witnessName()
	now := m.get(path)
	if !bytes.HasPrefix(now, s.acknowledged) || !bytes.Equal(now, m.get(wit)) {
		silent("%d bytes, and %d were acknowledged; the witness has %d; said %q", len(now), len(s.acknowledged), len(m.get(wit)), l.Said)
		return
	}
	if more := bytes.Count(now[len(s.acknowledged):], []byte("\n")); !s.unsure && s.acknowledged != nil && more > s.then {
		silent("%d records more than were written", more)
	}
	if s.unsure && !bytes.Contains(now[len(s.acknowledged):], []byte("\ttaken over\t")) {
		silent("taken over without a record of it")
	}
	for _, bolt := range s.doubt {
		if !inTrouble(l, bolt) {
			silent("%s is not in doubt: %v", bolt, l.Troubles())
		}
	}
	if err := l.Note("it goes on"); err != nil {
		silent("it does not go on: %v", err)
	}
}

func inTrouble(l *Ledger, bolt string) bool {
	for _, t := range l.Troubles() {
		if t.Bolt == bolt {
			return true
		}
	}
	return false
}
