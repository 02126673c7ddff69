package ledger

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/units"
	"pgregory.net/rapid"
)

// smallPlan has a yielding group and an ordinary one, each with a turn, and pauses.
func smallPlan(t testing.TB, name string) *torque.Plan {
	t.Helper()
	tighten := func(to string) torque.Stage {
		return torque.Stage{Pull: torque.Do(torque.Tighten{To: units.MustParseTorque(to)})}
	}
	turn := torque.Stage{Pull: torque.Do(torque.Turn{By: units.MustParseAngle("55°")})}
	turnThenCheck := turn
	turnThenCheck.Then = []torque.Action{torque.Do(torque.Inspection{Ask: "Does the crank turn freely?"})}
	plan, err := torque.NewPlan(name,
		torque.Group{Name: "mains", Pattern: torque.Caps([]string{"1L", "1R"}, []string{"2L", "2R"}), Use: torque.SingleUse,
			First: []torque.Action{torque.Do(torque.Inspection{Ask: "Are threads and seats oiled?"})}, Stages: []torque.Stage{tighten("15 N·m"), turnThenCheck}},
		torque.Group{Name: "cover", Pattern: torque.Row("a", "b"), Use: torque.Reusable,
			Stages: []torque.Stage{tighten("8 N·m"), {Pull: torque.Do(torque.BackOff{}), Then: []torque.Action{torque.Do(torque.Wait{For: time.Minute})}}, tighten("9 N·m"), turn}},
	)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// openTest opens a ledger that must open.
func openTest(t testing.TB, path string, p *torque.Plan) *Ledger {
	t.Helper()
	l, err := Open(path, p)
	if err != nil {
		t.Fatal(err)
	}
	l.now = later
	t.Cleanup(func() { l.Close() })
	return l
}

// ticks counts the calls of later.
var ticks atomic.Int64

// later is a clock of which each reading is minutes after the one before, so that every
// wait is over when it is asked about.
func later() time.Time {
	return time.Now().Round(0).Add(time.Duration(ticks.Add(1)) * 2 * time.Minute)
}

// do begins a step and says that it is done.
func do(t testing.TB, l *Ledger, numbers ...int) {
	t.Helper()
	for _, n := range numbers {
		if err := l.Begin(n); err != nil {
			t.Fatal(err)
		}
		if err := l.Done(n); err != nil {
			t.Fatal(err)
		}
	}
}

// replayed reads a ledger's text.
func replayed(text io.Reader, p *torque.Plan) (*history, error) {
	h := &history{progress: newProgress(p)}
	return h, h.replay(text)
}

// epoch is a time for lines that are made by tests.
var epoch = time.Unix(0, 0)

// die closes the file as a crash would.
func die(l *Ledger) { l.Abandon() }

func TestLedgerWalksThePlan(t *testing.T) {
	plan := smallPlan(t, "small")
	path := filepath.Join(t.TempDir(), "ledger")
	for n := 1; n <= len(plan.Steps()); n++ {
		l := openTest(t, path, plan)
		if step, ok := l.Next(); !ok || step.Number != n {
			t.Fatalf("step %d is next, want %d", step.Number, n)
		}
		do(t, l, n)
		l.Close()
	}
	_, entries, err := Read(path, plan)
	if err != nil || len(entries) != 2*len(plan.Steps()) {
		t.Fatalf("%d entries, %v", len(entries), err)
	}
	got := entries[4]
	if next := entries[5].Time; next.Sub(got.Time).Round(time.Minute) != 2*time.Minute {
		t.Errorf("%v, and %v at the next call, want two minutes between them", got, next)
	}
	got.Time = time.Time{}
	if want := (Entry{Line: 6, What: "begin", Step: 3, Bolt: "1R"}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	l := openTest(t, path, plan)
	if done, skipped, of := l.Counts(); done != len(plan.Steps()) || skipped != 0 || of != len(plan.Steps()) {
		t.Errorf("%d done and %d skipped of %d", done, skipped, of)
	}
	if step, ok := l.Next(); ok {
		t.Errorf("%v is next after the end", step)
	}
}

func TestLedgerRefuses(t *testing.T) {
	plan := smallPlan(t, "small")
	l := openTest(t, filepath.Join(t.TempDir(), "ledger"), plan)
	do(t, l, 1, 2)
	if err := l.Begin(3); err != nil {
		t.Fatal(err)
	}
	refused := func(err, kind error, step int, bolt string) {
		t.Helper()
		where := l.Path
		if step != 0 {
			where += fmt.Sprintf(", step %d", step)
		}
		if bolt != "" {
			where += fmt.Sprintf(", bolt %q", bolt)
		}
		var e *units.Error
		if !isOf(err, kind) || !errors.As(err, &e) || e.Where != where || e.Fix == "" {
			t.Errorf("%v, want %q for %s", err, kind, where)
		}
	}
	refused(l.Begin(0), errNoSuchStep, 0, "")
	refused(l.Done(99), errNoSuchStep, 0, "")
	refused(l.Begin(2), errAlreadyDone, 2, "1L")
	refused(l.Done(2), errAlreadyDone, 2, "1L")
	refused(l.Begin(3), errAlreadyBegun, 3, "1R")
	refused(l.Begin(4), errOtherBegun, 4, "2L")
	refused(l.Done(4), errNotBegun, 4, "2L")
	refused(l.Stop(5), errNotBegun, 5, "2R")
	refused(l.Replace("2R"), errOtherBegun, 0, "2R")
	refused(l.Replace("3R"), errNoSuchBolt, 0, "3R")
	if err := l.Done(3); err != nil {
		t.Fatal(err)
	}
	refused(l.Begin(5), errOutOfOrder, 5, "2R")
	do(t, l, 4, 5, 6)
	if err := l.Begin(7); err != nil {
		t.Fatal(err)
	}
	if err := l.Stop(7); err != nil {
		t.Fatal(err)
	}
	refused(l.Begin(7), ErrInDoubt, 7, "1R")
	refused(l.Done(7), ErrInDoubt, 7, "1R")
	refused(l.Begin(8), ErrInDoubt, 8, "2L")
	refused(l.Replace("2R"), ErrInDoubt, 0, "2R")
	refused(l.Loosen("1R"), errScrap, 0, "1R")
	if err := l.Replace("1R"); err != nil {
		t.Fatal(err)
	}
	if step, _ := l.Next(); step.Number != 3 {
		t.Errorf("step %d is next after replacing 1R, want its first, 3", step.Number)
	}
	do(t, l, 3, 7)
	refused(l.Begin(7), errAlreadyDone, 7, "1R")
	l.Close()
	refused(l.Begin(8), ErrStorage, 0, "")
	if err := l.Close(); !errors.Is(err, ErrStorage) || !strings.Contains(err.Error(), "it is closed") {
		t.Errorf("%v, want it closed already", err)
	}
}

// TestTurnInterrupted: the bolt is unknown, and the advice is right for its kind.
func TestTurnInterrupted(t *testing.T) {
	plan := smallPlan(t, "small")
	for _, tt := range []struct {
		name      string
		turn      int // the step of the turn
		scrap     bool
		advice    string
		mend      func(l *Ledger, bolt string) error
		mendFirst int // the step that is next once it was mended
	}{
		{"a yielding bolt", 6, true, "scrap", (*Ledger).Replace, 2},
		{"an ordinary bolt", 18, false, "Back it off until it turns freely", (*Ledger).Loosen, 11},
		{"an ordinary bolt, replaced", 18, false, "Back it off until it turns freely", (*Ledger).Replace, 11},
	} {
		t.Run(tt.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "ledger")
			l := openTest(t, path, plan)
			for n := 1; n < tt.turn; n++ {
				do(t, l, n)
			}
			if err := l.Begin(tt.turn); err != nil {
				t.Fatal(err)
			}
			die(l)

			l = openTest(t, path, plan)
			turn, advice, ok := l.Trouble()
			if !ok || turn.Number != tt.turn || turn.Spends != tt.scrap || !strings.Contains(advice, tt.advice) {
				t.Fatalf("trouble %v %v: %s", ok, turn, advice)
			}
			if got := l.Status(tt.turn); got != Unknown {
				t.Errorf("step %d is %v", tt.turn, got)
			}
			if err := tt.mend(l, turn.Bolt); err != nil {
				t.Fatal(err)
			}
			if step, _ := l.Next(); step.Number != tt.mendFirst {
				t.Errorf("step %d is next, want %d", step.Number, tt.mendFirst)
			}
			if _, _, ok := l.Trouble(); ok {
				t.Error("still in doubt")
			}
		})
	}
}

// TestTorqueInterrupted: a torque that was not finished is pulled again.
func TestTorqueInterrupted(t *testing.T) {
	plan := smallPlan(t, "small")
	path := filepath.Join(t.TempDir(), "ledger")
	l := openTest(t, path, plan)
	do(t, l, 1)
	if err := l.Begin(2); err != nil {
		t.Fatal(err)
	}
	die(l)
	l = openTest(t, path, plan)
	if _, _, ok := l.Trouble(); ok || l.Status(2) != Pending {
		t.Errorf("step 2 is %v, trouble %v", l.Status(2), ok)
	}
	do(t, l, 2)
}

// TestClosedDuringAPull: a step that is begun when the ledger is closed goes on, and
// another program may say that it is done.
func TestClosedDuringAPull(t *testing.T) {
	plan := smallPlan(t, "small")
	path := filepath.Join(t.TempDir(), "ledger")
	l := openTest(t, path, plan)
	do(t, l, 1, 2, 3, 4, 5)
	if err := l.Begin(6); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := l.Close(); err != nil {
			t.Fatal(err)
		}
		l = openTest(t, path, plan)
		if got := l.Status(6); got != Begun {
			t.Fatalf("step 6 is %v, want begun", got)
		}
	}
	if err := l.Done(6); err != nil {
		t.Error(err)
	}
}

func TestSecondOpenIsRefused(t *testing.T) {
	plan := smallPlan(t, "small")
	path := filepath.Join(t.TempDir(), "ledger")
	l := openTest(t, path, plan)
	do(t, l, 1)
	if _, err := Open(path, plan); !errors.Is(err, ErrLocked) {
		t.Errorf("%v, want ErrLocked", err)
	}
	beside, _, err := Read(path, plan)
	if err != nil {
		t.Fatal(err)
	}
	if done, _, _ := beside.Counts(); done != 1 {
		t.Errorf("%d done, read beside it", done)
	}
	if err := beside.Begin(2); !errors.Is(err, ErrStorage) || !strings.Contains(err.Error(), "opened for reading") {
		t.Errorf("%v, want a ledger that is only read to refuse", err)
	}
	if err := errors.Join(beside.Close(), beside.Abandon()); err != nil {
		t.Error(err)
	}
	l.Close()
	openTest(t, path, plan)
}

// TestUnusableFiles: each its own error, and the file as it was.
func TestUnusableFiles(t *testing.T) {
	plan := smallPlan(t, "small")
	path := filepath.Join(t.TempDir(), "ledger")
	l := openTest(t, path, plan)
	do(t, l, 1, 2, 3)
	l.Close()
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.SplitAfter(string(whole), "\n")
	without := func(i int) string { return strings.Join(append(append([]string{}, lines[:i]...), lines[i+1:]...), "") }
	for _, tt := range []struct {
		name, text string
		plan       *torque.Plan
		kind       error
		line       int
	}{
		{"another plan", string(whole), smallPlan(t, "other"), ErrOtherPlan, 1},
		{"a line altered", strings.Replace(string(whole), "begin\t2", "begin\t3", 1), plan, ErrDamaged, 4},
		{"a line taken out", without(3), plan, ErrDamaged, 4},
		{"the first record taken out", without(1), plan, ErrDamaged, 2},
		{"a line put in twice", lines[0] + lines[1] + lines[1] + lines[2], plan, ErrDamaged, 3},
		{"two lines exchanged", lines[0] + lines[2] + lines[1], plan, ErrDamaged, 2},
		{"the last line altered", strings.Replace(string(whole), "done\t3", "done\t2", 1), plan, ErrDamaged, 7},
		{"zeros in the middle", strings.Replace(string(whole), lines[2], strings.Repeat("\x00", len(lines[2])-1)+"\n", 1), plan, ErrDamaged, 3},
		{"a line too long", string(whole) + strings.Repeat("x", 100_000), plan, ErrDamaged, 8},
		{"a text", "Dear reader,\nthis is a letter.\n", plan, ErrDamaged, 1},
		{"a text without an end", "Dear reader", plan, ErrDamaged, 1},
		{"the torn beginning of another plan's", "closefit ledger 1\t0123", plan, ErrDamaged, 1},
		{"a later kind of ledger", strings.Replace(string(whole), "ledger 1", "ledger 2", 1), plan, ErrDamaged, 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "ledger")
			if err := os.WriteFile(path, []byte(tt.text), 0o644); err != nil {
				t.Fatal(err)
			}
			l, err := Open(path, tt.plan)
			var e *units.Error
			if !errors.Is(err, tt.kind) || !errors.As(err, &e) || e.Where != fmt.Sprintf("%s, line %d", path, tt.line) {
				t.Errorf("%v, want %q in line %d", err, tt.kind, tt.line)
			}
			if l != nil {
				t.Error("a ledger all the same")
			}
			if _, _, err := Read(path, tt.plan); !errors.Is(err, tt.kind) {
				t.Errorf("reading: %v, want %q", err, tt.kind)
			}
			if got, err := os.ReadFile(path); err != nil || string(got) != tt.text {
				t.Errorf("the file was changed: %v", err)
			}
			if _, err := os.Stat(path + ".torn"); !errors.Is(err, fs.ErrNotExist) {
				t.Error("something was set aside")
			}
		})
	}
}

func TestMissingFiles(t *testing.T) {
	plan := smallPlan(t, "small")
	path := filepath.Join(t.TempDir(), "no such folder", "ledger")
	if _, err := Open(path, plan); !errors.Is(err, ErrStorage) || !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v, want ErrStorage for a folder that does not exist", err)
	}
	if _, _, err := Read(path, plan); !errors.Is(err, ErrStorage) || !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v, want ErrStorage for a file that does not exist", err)
	}
}

// longLedger returns a ledger's file with every kind of line in it, and what the
// model makes of it.
func longLedger(t *testing.T) ([]byte, *model) {
	t.Helper()
	plan := smallPlan(t, "small")
	path := filepath.Join(t.TempDir(), "ledger")
	m := &model{plan: plan}
	l := openTest(t, path, plan)
	tell := func(h happening) {
		t.Helper()
		if kind := m.kind(h); kind != nil {
			t.Fatal(kind)
		}
		if err := l.append(h); err != nil {
			t.Fatal(err)
		}
		m.events = append(m.events, h)
	}
	on := func(e event, n int) { t.Helper(); tell(happening{event: e, step: n, bolt: stepOf(plan, n).Bolt}) }
	both := func(numbers ...int) {
		t.Helper()
		for _, n := range numbers {
			on(begin, n)
			on(finish, n)
		}
	}
	again := func(end func(l *Ledger), note func()) {
		t.Helper()
		end(l)
		note()
		l = openTest(t, path, plan)
	}
	closed := func(l *Ledger) { l.Close() }
	both(1, 2)
	on(begin, 3)
	on(stop, 3)
	on(begin, 3)
	again(closed, m.exit)
	on(finish, 3)
	on(begin, 4)
	again(die, m.crash)
	both(4, 5, 6)
	on(begin, 7)
	again(die, m.crash)
	tell(happening{event: replace, bolt: stepOf(plan, 7).Bolt})
	both(3, 7, 8, 9, 10)
	tell(happening{event: replace, bolt: "2L"})
	both(4, 8, 10)
	both(11, 12, 13, 14, 15, 16, 17)
	on(begin, 18)
	on(stop, 18)
	tell(happening{event: loosen, bolt: "a"})
	l.Close()
	if err := m.compare(l.progress); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(text, []byte("\n")); n != len(m.events)+1 {
		t.Fatalf("%d lines for %d events", n, len(m.events))
	}
	return text, m
}

// TestTruncatedAtEveryByte: exactly what stands whole in the file is found again, the
// rest is set aside, and the work goes on.
func TestTruncatedAtEveryByte(t *testing.T) {
	text, m := longLedger(t)
	for k := range len(text) + 1 {
		whole := text[:bytes.LastIndexByte(text[:k], '\n')+1]
		torn := text[len(whole):k]
		events := max(0, bytes.Count(whole, []byte("\n"))-1)
		want := &model{m.plan, m.events[:events:events]}

		read, err := replayed(bytes.NewReader(text[:k]), m.plan)
		if err != nil {
			t.Fatalf("byte %d: reading: %v", k, err)
		}
		if err := want.compare(read.progress); err != nil {
			t.Fatalf("byte %d: reading: %v", k, err)
		}
		file := newMemory(text[:k])
		l, err := openMemory(file, m.plan)
		if err != nil {
			t.Fatalf("byte %d: %v", k, err)
		}
		want.crash()
		if err := want.compare(l.progress); err != nil {
			t.Fatalf("byte %d: %v", k, err)
		}
		switch aside := l.TornTo; {
		case (aside != "") != (len(torn) > 0):
			t.Fatalf("byte %d: %q set aside of %q", k, aside, torn)
		case aside != "" && !bytes.HasSuffix(file.aside[0], append(append([]byte("\n"), torn...), '\n')):
			t.Fatalf("byte %d: %q kept of %q", k, file.aside, torn)
		}
		if _, _, trouble := l.Trouble(); !trouble {
			n := want.next()
			if l.Status(n) == Pending {
				if err := l.Begin(n); err != nil {
					t.Fatal(err)
				}
				want.add(begin, n)
			}
			if err := l.Done(n); err != nil {
				t.Fatal(err)
			}
			want.add(finish, n)
		}
		file.cutPower(0)
		l, err = openMemory(file, m.plan)
		if err != nil {
			t.Fatalf("byte %d, opened again: %v", k, err)
		}
		if err := want.compare(l.progress); err != nil {
			t.Fatalf("byte %d, opened again: %v", k, err)
		}
		if l.TornTo != "" {
			t.Fatalf("byte %d: set aside twice", k)
		}
	}
}

// TestTornLineInAFile is the same with a file, at one byte.
func TestTornLineInAFile(t *testing.T) {
	text, m := longLedger(t)
	path := filepath.Join(t.TempDir(), "ledger")
	if err := os.WriteFile(path, text[:len(text)-7], 0o644); err != nil {
		t.Fatal(err)
	}
	l := openTest(t, path, m.plan)
	last := bytes.LastIndexByte(text[:len(text)-1], '\n') + 1
	torn := text[last : len(text)-7]
	if l.TornTo != path+".torn" {
		t.Fatalf("%q set aside", l.TornTo)
	}
	if kept, err := os.ReadFile(l.TornTo); err != nil || !bytes.HasSuffix(kept, append(bytes.Clone(torn), '\n')) {
		t.Errorf("%q kept, %v", kept, err)
	}
	if now, err := os.ReadFile(path); err != nil || !bytes.Equal(now, text[:last]) {
		t.Errorf("%d bytes left, want %d, %v", len(now), last, err)
	}
}

// TestZerosAtTheEnd: a disk that never got the last line leaves zeros in its place.
func TestZerosAtTheEnd(t *testing.T) {
	text, m := longLedger(t)
	last := bytes.LastIndexByte(text[:len(text)-1], '\n') + 1
	for _, tail := range []string{"\x00", strings.Repeat("\x00", 4096), string(text[last:last+9]) + strings.Repeat("\x00", 60),
		strings.Repeat("\x00", 40) + string(text[last+40:])} {
		file := newMemory(append(bytes.Clone(text[:last]), tail...))
		l, err := openMemory(file, m.plan)
		if err != nil {
			t.Errorf("%q: %v", tail, err)
			continue
		}
		want := &model{m.plan, m.events[:len(m.events)-1]}
		if err := want.compare(l.progress); err != nil {
			t.Errorf("%q: %v", tail, err)
		}
		if l.TornTo == "" || !bytes.HasSuffix(file.aside[0], []byte("\n"+tail+"\n")) {
			t.Errorf("%q: %q set aside", tail, file.aside)
		}
	}
}

// TestAlteredAtEveryByte: a change anywhere before the last line is noticed, and the
// file is left as it is.
func TestAlteredAtEveryByte(t *testing.T) {
	text, m := longLedger(t)
	last := bytes.LastIndexByte(text[:len(text)-1], '\n') + 1
	for k := range last {
		for _, change := range []byte{0x01, 0x20, text[k]} { // the last makes a zero of it
			altered := bytes.Clone(text)
			altered[k] ^= change
			file := newMemory(altered)
			_, err := openMemory(file, m.plan)
			if !errors.Is(err, ErrDamaged) {
				t.Fatalf("byte %d: %v, want ErrDamaged", k, err)
			}
			if !bytes.Equal(file.cached, altered) || len(file.aside) > 0 || file.open {
				t.Fatalf("byte %d: the file was changed, or left open", k)
			}
		}
	}
}

// TestFailedWriteStopsTheLedger: once a line could not be written, nothing more is
// acknowledged.
func TestFailedWriteStopsTheLedger(t *testing.T) {
	plan := smallPlan(t, "small")
	path := filepath.Join(t.TempDir(), "ledger")
	l := openTest(t, path, plan)
	do(t, l, 1)
	l.file.Close()
	for range 2 {
		if err := l.Begin(2); !errors.Is(err, ErrStorage) || !errors.Is(err, os.ErrClosed) {
			t.Errorf("%v, want ErrStorage", err)
		}
	}
	if got := l.Status(2); got != Pending {
		t.Errorf("step 2 is %v", got)
	}
	l = openTest(t, path, plan)
	if got, _, _ := l.Counts(); got != 1 {
		t.Errorf("%d done, want 1", got)
	}
}

// TestAnyCallsAndCrashes: whatever is called, and wherever it crashes, the ledger is
// what was acknowledged.
func TestAnyCallsAndCrashes(t *testing.T) {
	plan := smallPlan(t, "small")
	rapid.Check(t, func(t *rapid.T) {
		m := &model{plan: plan}
		file := newMemory(nil)
		l, err := openMemory(file, plan)
		if err != nil {
			t.Fatal(err)
		}
		reopen := func(t *rapid.T) {
			if l, err = openMemory(file, plan); err != nil {
				t.Fatal(err)
			}
		}
		tell := func(t *rapid.T, h happening, call func() error) {
			want := m.kind(h)
			if err := call(); !isOf(err, want) {
				t.Fatalf("%v: %v, want %v", h, err, want)
			}
			if want == nil {
				m.events = append(m.events, h)
			}
		}
		number := rapid.Custom(func(t *rapid.T) int {
			if open, _ := m.open(); open != 0 && rapid.IntRange(0, 3).Draw(t, "aim") > 0 {
				return open
			}
			if next := m.next(); rapid.IntRange(0, 3).Draw(t, "aim") > 0 {
				return next
			}
			return rapid.IntRange(-1, len(plan.Steps())+2).Draw(t, "any")
		})
		bolt := rapid.SampledFrom([]string{"1L", "1R", "2L", "2R", "a", "b", "c"})
		on := func(e event, call func(*Ledger, int) error) func(*rapid.T) {
			return func(t *rapid.T) {
				n := number.Draw(t, "step")
				h := happening{event: e, step: n}
				if step, ok := plan.Step(n); ok {
					h.bolt = step.Bolt
				}
				tell(t, h, func() error { return call(l, n) })
			}
		}
		onBolt := func(e event, call func(*Ledger, string) error) func(*rapid.T) {
			return func(t *rapid.T) {
				b := bolt.Draw(t, "bolt")
				if turn, _, ok := l.Trouble(); ok {
					b = turn.Bolt
				}
				tell(t, happening{event: e, bolt: b}, func() error { return call(l, b) })
			}
		}
		t.Repeat(map[string]func(*rapid.T){
			"":        func(t *rapid.T) { failOn(t, m.compare(l.progress)) },
			"begin":   on(begin, (*Ledger).Begin),
			"begin 2": on(begin, (*Ledger).Begin),
			"done":    on(finish, (*Ledger).Done),
			"done 2":  on(finish, (*Ledger).Done),
			"stop":    on(stop, (*Ledger).Stop),
			"skip":    on(skip, (*Ledger).Skip),
			"replace": onBolt(replace, (*Ledger).Replace),
			"loosen":  onBolt(loosen, (*Ledger).Loosen),
			"several": func(t *rapid.T) {
				for range 8 {
					next, ok := l.Next()
					if !ok || l.Begin(next.Number) != nil {
						return
					}
					m.add(begin, next.Number)
					failOn(t, l.Done(next.Number))
					m.add(finish, next.Number)
				}
			},
			"close": func(t *rapid.T) {
				failOn(t, l.Close())
				m.exit()
				reopen(t)
			},
			"crash": func(t *rapid.T) {
				file.cutPower(0)
				m.crash()
				reopen(t)
			},
			"second program": func(t *rapid.T) {
				if _, err := openMemory(file, plan); !errors.Is(err, ErrLocked) {
					t.Fatal(err)
				}
			},
			"crash in a line": func(t *rapid.T) {
				// A line that was not acknowledged, torn anywhere.
				line, _ := recordLine(l.lines, epoch, happening{event: begin, step: 3, bolt: "1R"}, l.sum)
				torn := line[:rapid.IntRange(0, len(line)-1).Draw(t, "torn at")]
				_, err := file.WriteAt(line, l.size)
				failOn(t, err)
				file.cutPower(len(torn))
				m.crash()
				reopen(t)
				if len(torn) > 0 && (l.TornTo == "" || !bytes.HasSuffix(file.aside[len(file.aside)-1], append(append([]byte("\n"), torn...), '\n'))) {
					t.Fatalf("%q set aside, want %q", file.aside, torn)
				}
			},
		})
	})
}

func failOn(t *rapid.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// FuzzReplay: any bytes are refused or are a ledger that stands as it is.
func FuzzReplay(f *testing.F) {
	plan := smallPlan(f, "small")
	header, sum := headerLine(plan, epoch)
	first, sum := recordLine(1, epoch, happening{event: begin, step: 1}, sum)
	second, _ := recordLine(2, epoch, happening{event: finish, step: 1}, sum)
	f.Add(header)
	f.Add(append(append(bytes.Clone(header), first...), second...))
	f.Add(append(append(bytes.Clone(header), first...), second[:20]...))
	f.Add([]byte(title))
	f.Fuzz(func(t *testing.T, text []byte) {
		h, err := replayed(bytes.NewReader(text), plan)
		if err != nil {
			var e *units.Error
			if !errors.As(err, &e) {
				t.Fatalf("%T %v", err, err)
			}
			return
		}
		if int(h.size)+len(h.torn) != len(text) {
			t.Fatalf("%d bytes whole and %d torn of %d", h.size, len(h.torn), len(text))
		}
		again, err := replayed(bytes.NewReader(text[:h.size]), plan)
		if err != nil || again.lines != h.lines || again.sum != h.sum || len(again.torn) > 0 {
			t.Fatalf("what is whole reads otherwise alone: %v", err)
		}
	})
}

// TestManyGoroutines: each step is acknowledged to one of them, once.
func TestManyGoroutines(t *testing.T) {
	plan := smallPlan(t, "small")
	l := openTest(t, filepath.Join(t.TempDir(), "ledger"), plan)
	var group sync.WaitGroup
	var begun, done atomic.Int64
	for range 4 {
		group.Go(func() {
			for {
				step, ok := l.Next()
				if !ok {
					return
				}
				if l.Begin(step.Number) == nil {
					begun.Add(1)
				}
				if l.Done(step.Number) == nil {
					done.Add(1)
				}
			}
		})
	}
	group.Wait()
	if n := int64(len(plan.Steps())); begun.Load() != n || done.Load() != n {
		t.Errorf("%d begun and %d done of %d", begun.Load(), done.Load(), n)
	}
}
