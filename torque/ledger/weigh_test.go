package ledger

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"example.com/closefit/internal/thorough"
	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// TestBoltsThatMayBeTurned: of all that can be read of a file, the lines that begin a step name
// their bolts: not a line that is torn before its bolt, not one of another event on a bolt that
// has the word for a name, and no bolt twice.
func TestBoltsThatMayBeTurned(t *testing.T) {
	f := &found{}
	f.ledger.data = []byte(strings.Join([]string{
		"2\tt\tbegin\t1\tbolt 1\t-\tx",
		"3\tt\tdone\t1\tbegin\t-\tx",
		"4\tt\tbegin\t2\tbolt 2\t-\tx",
		"5\tt\tbegin\t3\tbolt 1\t-\tx",
		"6\tt\tbegin\t-\t-\t-\tx",
		"7\tt\tbegin\t4",
		"8\tt\tbegin\t4\tbolt 3\t-",
		"9\tt\tbegin\t4\tbolt 9",
	}, "\n"))
	f.ledger.lines = 9
	if got := f.mayBeTurned(nil); !strings.HasPrefix(got, "bolt 1, bolt 2, bolt 3, ") || strings.Contains(got, "begin") || strings.Contains(got, "bolt 9") || strings.Contains(got, ", ,") {
		t.Errorf("%q", got)
	}
}

// TestTornLines: what a crash may leave of one more line, and what it cannot.
func TestTornLines(t *testing.T) {
	zeros := string(make([]byte, 64))
	for rest, torn := range map[string]bool{
		"": false, "5\tt\tbeg": true, "x": true, "\n": false, "5\tt\tbegin\n": false, "\nx": false, "5\tt\nbegin": false,
		"\x00\x00\n": true, "5\tt" + zeros + "\n": true, "5\tt" + zeros[1:] + "\n": false, zeros: true, zeros[1:] + "\n": true,
	} {
		if got := isTorn([]byte(rest)); got != torn {
			t.Errorf("%q: torn %v, want %v", rest, got, torn)
		}
	}
}

// TestOutOfTurn: whoever begins another step is told which one comes first.
func TestOutOfTurn(t *testing.T) {
	s := newScene(t, testPlan(t, "gate", 2), 2)
	defer s.l.Close()
	err := s.l.Begin(5)
	if err == nil || !strings.Contains(err.Error(), "it is not its turn") || !strings.Contains(err.Error(), "do step 3 first: 3. bolt 1: tighten to 30 N·m") {
		t.Error(err)
	}
}

// TestPieces: what a crash may leave of a text is its beginning, with zeros in the place of some of
// it, and perhaps longer by zeros.
func TestPieces(t *testing.T) {
	for data, piece := range map[string]bool{
		"": true, "ab": true, "abc": true, "abc\x00": true, "abc\x00\x00": true, "a\x00c": true, "\x00\x00": true,
		"abcd": false, "abc\x00d": false, "abcabc": false, "axc": false, "b": false,
	} {
		if got := isPiece([]byte(data), []byte("abc")); got != piece {
			t.Errorf("%q of \"abc\": %v, want %v", data, got, piece)
		}
	}
}

// TestMostSiblings: so many lines of other programs are told apart from damage, and no more.
func TestMostSiblings(t *testing.T) {
	s := newScene(t, testPlan(t, "gate", 2), 2).closed(t)
	whole := s.last()
	line := whole[len(s.back(1)):]
	for n, damaged := range map[int]bool{0: false, 1: false, mostSiblings - 1: false, mostSiblings: false, mostSiblings + 1: true} {
		c := linked(append(bytes.Clone(whole), bytes.Repeat(line, n)...), true)
		if got := c.damage != nil; got != damaged || !bytes.Equal(c.siblings, bytes.Repeat(line, min(n, mostSiblings))) {
			t.Errorf("%d lines of other programs: %v, %d bytes of them", n, c.damage, len(c.siblings))
		}
	}
}

// TestNewWitnessOfATakeOver: a new witness alone does not stand for a ledger that is not there, nor
// for one that is whole and has more.
func TestNewWitnessOfATakeOver(t *testing.T) {
	s := newScene(t, testPlan(t, "gate", 2), 2).closed(t)
	l, err := s.takeOver(s.set(s.m.clone(), s.last(), nil))
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	m := newMemory()
	if l, err = s.takeOver(s.set(m, s.last(), nil)); err != nil {
		t.Fatal(err)
	}
	fresh := m.get(s.path)
	more := &scene{m: m, plan: s.plan, l: l, path: s.path, wit: s.wit, new: s.new}
	more.step(t)
	more.closed(t)
	longer := m.get(s.path)
	gone := found{fresh: linked(fresh, true)}
	if v, err := gone.weigh(); !errors.Is(err, ErrUnsure) {
		t.Errorf("no ledger: %q, %v", v.text, err)
	}
	whole := found{ledger: linked(longer, true), witness: linked(longer, true), fresh: linked(fresh, true)}
	if v, err := whole.weigh(); err != nil || !bytes.Equal(v.text, longer) || !v.retire {
		t.Errorf("a ledger of more: %q, %v", v.text, err)
	}
}

// TestLinesMovedAreSaid: whoever takes over a ledger after whose last line another program's stands
// is told where that was moved to.
func TestLinesMovedAreSaid(t *testing.T) {
	s := newScene(t, testPlan(t, "gate", 2), 2).closed(t)
	line := s.last()[len(s.back(1)):]
	l, err := s.takeOver(s.set(s.m.clone(), append(bytes.Clone(s.last()), line...), nil))
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	if said := strings.Join(l.Said, "\n"); !strings.Contains(said, "what followed its last whole line was moved to ") {
		t.Error(said)
	}
}

// TestFirstStepThatSpends: a single-use bolt whose first step is the pull that spends it cannot be
// loosened and used again once that is begun.
func TestFirstStepThatSpends(t *testing.T) {
	plan, err := torque.NewPlan("gate", torque.Group{Name: "mains", Pattern: torque.Row("bolt 1", "bolt 2"), Order: torque.Rows, Use: torque.SingleUse,
		Stages: []torque.Stage{{Pull: torque.Do(torque.Tighten{To: units.NewtonMetre.OfInt(30)})}}})
	if err != nil {
		t.Fatal(err)
	}
	s := newScene(t, plan, 0)
	defer s.l.Close()
	if err := s.l.Begin(1); err != nil {
		t.Fatal(err)
	}
	if err := s.l.Loosen("bolt 1"); !errors.Is(err, ErrRefused) || !strings.Contains(err.Error(), "single-use") {
		t.Error(err)
	}
}

// TestMayTurn: a step of a torque alone does not turn a single-use bolt beyond recall unless it spends it; a turn always may;
// and what cannot be read may.
func TestMayTurn(t *testing.T) {
	thorough.SkipRaced(t)
	plan, err := torque.NewPlan("gate", torque.Group{Name: "mains", Pattern: torque.Row("bolt 1"), Order: torque.Rows, Use: torque.SingleUse,
		Stages: []torque.Stage{{Pull: torque.Do(torque.Tighten{To: units.NewtonMetre.OfInt(20)})}, {Pull: torque.Do(torque.Tighten{To: units.NewtonMetre.OfInt(30)})}}})
	if err != nil {
		t.Fatal(err)
	}
	turned, err := torque.NewPlan("gate", torque.Group{Name: "mains", Pattern: torque.Row("bolt 1"), Order: torque.Rows, Use: torque.Reusable,
		Stages: []torque.Stage{{Pull: torque.Do(torque.Tighten{To: units.NewtonMetre.OfInt(20)})}, {Pull: torque.Do(torque.Turn{By: units.Degree.OfInt(90)})}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		plan     *torque.Plan
		of, bolt string
		want     bool
	}{
		{plan, "1", "bolt 1", false},
		{plan, "2", "bolt 1", true}, // it is the last pull that spends
		{turned, "1", "bolt 1", false},
		{turned, "2", "bolt 1", true}, // spent by nothing, and turned
		{plan, "1", "bolt 9", true}, {plan, "7", "bolt 1", true}, {plan, "x", "bolt 1", true}, {nil, "1", "bolt 1", true},
	} {
		if got := mayTurn(test.plan, []byte(test.of), test.bolt); got != test.want {
			t.Errorf("step %s of %q: %t, want %t", test.of, test.bolt, got, test.want)
		}
	}
}
