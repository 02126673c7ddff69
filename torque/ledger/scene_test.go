package ledger

import (
	"bytes"
	"errors"
	"fmt"
	"time"

	"pgregory.net/rapid"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// epoch is a time for lines that are made by tests.
var epoch = time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC)

// testClock goes on by two minutes with each reading, so that every wait is over when it is
// asked about.
func testClock() clock {
	now := epoch
	return clock{now: func() time.Time { now = now.Add(2 * time.Minute); return now }, up: func() uptime { return uptime{} }}
}

var (
	testWork = Work{Engine: "lock gate engine 4711", Build: "rebuild of autumn", Assembly: "final assembly"}
	testHome = Home{Path: "/home/gate.ledger", Witness: "/state/closefit"}
	testWord = Word{By: "the builder", Reason: "the marks were looked at"}
)

// testPlan has so many bolts of a yielding group, each with two torques and two turns.
func testPlan(t rapid.TB, name string, bolts int) *torque.Plan {
	t.Helper()
	nm, degree := units.NewtonMetre.OfInt, units.Degree.OfInt
	var names []string
	for i := range bolts {
		names = append(names, fmt.Sprintf("bolt %d", i+1))
	}
	plan, err := torque.NewPlan(name, torque.Group{Name: "mains", Pattern: torque.Row(names...), Order: torque.Rows, Use: torque.SingleUse, Stages: []torque.Stage{
		{Pull: torque.Do(torque.Tighten{To: nm(15)})}, {Pull: torque.Do(torque.Tighten{To: nm(30)})},
		{Pull: torque.Do(torque.Turn{By: degree(45)})}, {Pull: torque.Do(torque.Turn{By: degree(60)})}}})
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// A scene is a work in memory, with its ledger open or closed.
type scene struct {
	m    *memory
	plan *torque.Plan
	l    *Ledger
	path string // the ledger's
	wit  string // the witness's
	new  string // the new witness's

	history [][]byte // the ledger's file after each record that was acknowledged, the start being the first
}

// newScene starts a ledger and does so many steps.
func newScene(t rapid.TB, plan *torque.Plan, steps int) *scene {
	t.Helper()
	s := &scene{m: newMemory(), plan: plan}
	at, err := testHome.abodeOf(s.m, testWork)
	if err != nil {
		t.Fatal(err)
	}
	s.path, s.wit, s.new = at.path, at.witness(), at.fresh()
	if s.l, err = start(s.m, testClock(), testHome, testWork, plan, []string{}); err != nil {
		t.Fatal(err)
	}
	s.acknowledged()
	for range steps {
		s.step(t)
	}
	return s
}

// step does the next step, or ends the one that is begun.
func (s *scene) step(t rapid.TB) {
	t.Helper()
	next, ok := s.l.Next()
	if !ok {
		return
	}
	if s.l.Status(next.Number) != Begun {
		if err := s.l.Begin(next.Number); err != nil {
			t.Fatal(err)
		}
		s.acknowledged()
	}
	if err := s.l.Done(next.Number, Reached{}); err != nil {
		t.Fatal(err)
	}
	s.acknowledged()
}

func (s *scene) acknowledged() { s.history = append(s.history, s.m.get(s.path)) }

// last returns what was acknowledged last.
func (s *scene) last() []byte { return s.history[len(s.history)-1] }

// back returns the ledger's file as it was so many records ago.
func (s *scene) back(records int) []byte { return s.history[max(0, len(s.history)-1-records)] }

// closed closes the ledger.
func (s *scene) closed(t rapid.TB) *scene {
	t.Helper()
	if err := s.l.Close(); err != nil {
		t.Fatal(err)
	}
	return s
}

// reopen opens the ledger in a memory.
func (s *scene) reopen(m *memory) (*Ledger, error) {
	return open(m, testClock(), testHome, testWork, s.plan)
}

// takeOver takes it over.
func (s *scene) takeOver(m *memory) (*Ledger, error) {
	return takeItOver(m, testClock(), testHome, testWork, s.plan, testWord)
}

// A tally counts what became of attacks.
type tally struct{ tried, refused, mended, same, silent int }

func (a *tally) String() string {
	return fmt.Sprintf("%d tried: %d refused, %d mended and said, %d of no effect, %d silent", a.tried, a.refused, a.mended, a.same, a.silent)
}

// isRefusal reports whether an error says that the files are not to be trusted.
func isRefusal(err error) bool {
	return errors.Is(err, ErrUnsure) || errors.Is(err, ErrDamaged) || errors.Is(err, ErrOtherWork)
}

// weigh opens a ledger of which the files were attacked, and counts. What was acknowledged
// must be there, and a change must be said; anything else is silent.
func (a *tally) weigh(t rapid.TB, s *scene, m *memory, acknowledged []byte, attack func() string) {
	t.Helper()
	a.tried++
	was, wasWitness := m.get(s.path), m.get(s.wit)
	l, err := s.reopen(m)
	switch {
	case isRefusal(err):
		a.refused++
		if !bytes.Equal(m.get(s.path), was) || !bytes.Equal(m.get(s.wit), wasWitness) || (m.get(s.path) == nil) != (was == nil) {
			t.Errorf("%s: refused, and the files were changed all the same", attack())
		}
		for _, i := range m.names {
			if i.locked {
				t.Fatalf("%s: refused, and a file is still locked", attack())
			}
		}
		return
	case err != nil:
		a.silent++
		t.Errorf("%s: %v", attack(), err)
		return
	}
	defer l.Close()
	now := m.get(s.path)
	changed := !bytes.Equal(now, was) || !bytes.Equal(m.get(s.wit), wasWitness)
	switch {
	case !bytes.HasPrefix(now, acknowledged):
		a.silent++
		t.Errorf("%s: opened without what was acknowledged; said %q", attack(), l.Said)
	case !bytes.Equal(now, m.get(s.wit)):
		a.silent++
		t.Errorf("%s: opened with a witness that differs", attack())
	case changed && len(l.Said) == 0:
		a.silent++
		t.Errorf("%s: mended without a word", attack())
	case changed:
		a.mended++
	default:
		a.same++
	}
}
