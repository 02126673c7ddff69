package ledger

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// onDisk returns a home in a folder of the test.
func onDisk(t testing.TB) Home {
	t.Helper()
	folder := t.TempDir()
	if err := os.Mkdir(filepath.Join(folder, "engine"), 0o755); err != nil {
		t.Fatal(err)
	}
	return Home{Path: filepath.Join(folder, "engine", "gate.ledger"), Witness: filepath.Join(folder, "state", "closefit")}
}

// wants checks an error's kind, that it says what is wanted, and that it says what to do.
func wants(t *testing.T, err, kind error, says ...string) {
	t.Helper()
	var e *units.Error
	if !errors.Is(err, kind) || !errors.As(err, &e) || e.Fix == "" {
		t.Errorf("%v, want %q", err, kind)
		return
	}
	for _, s := range says {
		if !strings.Contains(err.Error(), s) {
			t.Errorf("%v, want %q in it", err, s)
		}
	}
}

func TestStartRefuses(t *testing.T) {
	plan := testPlan(t, "start", 2)
	h := onDisk(t)
	none := []string{}
	own := filepath.Join(filepath.Dir(h.Witness), "link")
	if err := errors.Join(os.MkdirAll(filepath.Dir(h.Witness), 0o755), os.Symlink(filepath.Dir(h.Path), own)); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name   string
		home   Home
		work   Work
		plan   *torque.Plan
		turned []string
		kind   error
		says   string
	}{
		{"no path", Home{Witness: h.Witness}, testWork, plan, none, ErrRefused, "no path"},
		{"no folder of witnesses", Home{Path: h.Path}, testWork, plan, none, ErrRefused, "no folder for the ledger's witness"},
		{"the ledger's own folder", Home{h.Path, filepath.Dir(h.Path)}, testWork, plan, none, ErrRefused, "is the ledger's own"},
		{"the same under another name", Home{h.Path, own}, testWork, plan, none, ErrRefused, "is the ledger's own"},
		{"no engine", h, Work{Build: "b"}, plan, none, ErrRefused, "the engine of a work without a name"},
		{"no build", h, Work{Engine: "e"}, plan, none, ErrRefused, "the build of a work without a name"},
		{"a tab in a name", h, Work{Engine: "e\tf", Build: "b"}, plan, none, ErrRefused, "U+0009"},
		{"a blank at the end", h, Work{Engine: "e", Build: "b "}, plan, none, ErrRefused, "blank at its end"},
		{"no plan", h, testWork, nil, none, ErrRefused, "no plan"},
		{"a plan that nobody laid out", h, testWork, new(torque.Plan), none, ErrRefused, "a plan without steps; lay it out with torque.NewPlan"},
		{"nobody asked", h, testWork, plan, nil, ErrRefused, "nobody said which bolts have been turned"},
		{"no such bolt", h, testWork, plan, []string{"bolt 1", "BOLT 2"}, ErrNotInPlan, `write "bolt 2"`},
		{"no folder", Home{filepath.Join(filepath.Dir(h.Path), "none", "x"), h.Witness}, testWork, plan, none, ErrStorage, "cannot be opened"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			l, err := Start(tt.home, tt.work, tt.plan, tt.turned)
			wants(t, errFixed(err), tt.kind, tt.says)
			if l != nil {
				t.Error("a ledger all the same")
			}
		})
	}
	if _, err := os.Stat(h.Path); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("refused, and there is a file: %v", err)
	}
}

// errFixed gives an error of the system, which nothing can be advised about, some advice.
func errFixed(err error) error {
	var e *units.Error
	if errors.As(err, &e) && errors.Is(err, ErrStorage) && e.Fix == "" {
		e.Fix = "see the system's own error"
	}
	return err
}

// TestFoundByItsWork: the names of a work may differ by case and blanks, and nothing else.
func TestFoundByItsWork(t *testing.T) {
	plan := testPlan(t, "work", 2)
	h := onDisk(t)
	l, err := Start(h, testWork, plan, []string{})
	if err != nil {
		t.Fatal(err)
	}
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	alike := Work{Engine: "Lock Gate  Engine 4711", Build: "rebuild ofautumn", Assembly: "FINAL assembly"}
	l, err = Open(h, alike, plan)
	if err != nil {
		t.Fatal(err)
	}
	if l.Work != testWork {
		t.Errorf("%+v, want the work as it was started", l.Work)
	}
	_, err = Open(h, testWork, plan)
	wants(t, err, ErrLocked)
	l.Close()
	for _, other := range []Work{{"lock gate engine 4712", testWork.Build, testWork.Assembly}, {testWork.Engine, "rebuild of spring", testWork.Assembly},
		{testWork.Engine, testWork.Build, "trial assembly"}, {testWork.Engine, testWork.Build, ""}, {testWork.Build, testWork.Engine, testWork.Assembly}} {
		_, err := Open(h, other, plan)
		wants(t, err, ErrOtherWork, testWork.Engine)
		if _, _, err := Read(h, other); !errors.Is(err, ErrOtherWork) {
			t.Errorf("read: %v", err)
		}
	}
	_, err = Start(h, testWork, plan, []string{})
	wants(t, err, ErrRefused, "a file is there already")
	_, err = Start(Home{h.Path + "2", h.Witness}, testWork, plan, []string{})
	wants(t, err, ErrUnsure, "its witness is", h.Path)
	moved := filepath.Join(filepath.Dir(h.Path), "other name")
	if err := os.Rename(h.Path, moved); err != nil {
		t.Fatal(err)
	}
	_, err = Open(h, testWork, plan)
	wants(t, err, ErrUnsure, "the ledger is not there", "ledgers of this work stand in "+moved)
	if l, err = Open(Home{moved, h.Witness}, testWork, plan); err != nil {
		t.Fatal(err)
	}
	l.Close()
	paths, err := Find(filepath.Dir(h.Path), alike)
	if err != nil || !slices.Equal(paths, []string{moved}) {
		t.Errorf("%q, %v", paths, err)
	}
	if paths, err = Find(filepath.Dir(h.Path), Work{Engine: "e", Build: "b"}); err != nil || len(paths) > 0 {
		t.Errorf("%q, %v", paths, err)
	}
	_, err = Find(filepath.Join(h.Path, "none"), testWork)
	wants(t, errFixed(err), ErrStorage)
}

// TestOpenRefuses: each its own error, and the files as they were.
func TestOpenRefuses(t *testing.T) {
	plan := testPlan(t, "open", 2)
	h := onDisk(t)
	_, err := Open(h, testWork, plan)
	wants(t, err, ErrNotStarted, "start one")
	if !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v does not wrap fs.ErrNotExist", err)
	}
	if _, _, err := Read(h, testWork); !errors.Is(err, ErrNotStarted) {
		t.Errorf("read: %v", err)
	}
	if _, err := os.Stat(filepath.Dir(h.Witness)); !errors.Is(err, fs.ErrNotExist) {
		t.Error("opening made a folder")
	}
	l, err := Start(h, testWork, plan, []string{})
	if err != nil {
		t.Fatal(err)
	}
	l.Close()
	_, err = Open(h, testWork, testPlan(t, "open", 3))
	wants(t, err, ErrOtherPlan, "revise")
	if l, err = Open(h, testWork, nil); err != nil {
		t.Fatal(err)
	}
	if l.Plan.Digest() != plan.Digest() {
		t.Error("another plan than it holds")
	}
	l.Close()
	_, err = TakeOver(h, testWork, plan, testWord)
	wants(t, err, ErrRefused, "nothing to take over")
	_, err = TakeOver(h, testWork, plan, Word{By: "the builder"})
	wants(t, err, ErrRefused, "why")
	if err := os.WriteFile(h.Path, []byte("closefit ledger 1\tabc\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, err = Open(h, testWork, plan)
	wants(t, err, ErrUnsure, "version 1")
	if err := os.Remove(h.Path); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(h.Path, 0o755); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(h, testWork, plan); !errors.Is(err, ErrStorage) && !errors.Is(err, ErrDamaged) {
		t.Errorf("a folder in the ledger's place: %v", err)
	}
}

// TestNothingToReadOnEitherSide: nothing can be taken over; the error names the bolts that
// anything readable still shows.
func TestNothingToReadOnEitherSide(t *testing.T) {
	plan := testPlan(t, "gone", 3)
	s := newScene(t, plan, 8).closed(t) // two turns were made
	whole := s.last()
	flipped := bytes.Clone(whole)
	flipped[len(whole)-3*len(lastLine(whole))] ^= 1
	for name, one := range map[string][2][]byte{
		"both zeros":                       {make([]byte, 100), make([]byte, 65_535)},
		"both emptied":                     {{}, {}},
		"the ledger zeros, no witness":     {make([]byte, 100), nil},
		"no ledger, the witness emptied":   {nil, {}},
		"both altered":                     {flipped, flipped},
		"the ledger altered, no witness":   {flipped, nil},
		"no ledger, the witness altered":   {nil, flipped},
		"a text, and the witness is zeros": {[]byte("Dear reader,\n"), make([]byte, 9)},
	} {
		m := s.set(s.m.clone(), one[0], one[1])
		says := []string{"any, for no record can be read", "start again, naming the bolts"}
		if strings.Contains(name, "altered") {
			says[0] = "bolt 1, bolt 2, any that comes after the last record"
		}
		_, err := s.reopen(m)
		wants(t, err, ErrDamaged, says...)
		_, err = s.takeOver(m)
		wants(t, err, ErrDamaged, says...)
		if !bytes.Equal(m.get(s.path), one[0]) || !bytes.Equal(m.get(s.wit), one[1]) {
			t.Errorf("%s: the files were changed", name)
		}
	}
}

// TestTakenOver: what stands after each way of taking over, which bolts are in doubt, and
// what became of the files.
func TestTakenOver(t *testing.T) {
	plan := testPlan(t, "taken", 3)
	s := newScene(t, plan, 8).closed(t) // every torque, and the first turn of bolts 1 and 2
	whole := s.last()
	altered := bytes.Clone(whole)
	altered[len(whole)/2] ^= 1
	// The other history: the bolt that comes next after the first seven steps was turned, and
	// then replaced.
	fork := &scene{m: s.set(s.m.clone(), s.history[14], s.history[14]), plan: plan, path: s.path, wit: s.wit}
	var err error
	if fork.l, err = fork.reopen(fork.m); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(fork.l.Note("the other history"), fork.l.Replace("bolt 3")); err != nil {
		t.Fatal(err)
	}
	parted := fork.m.get(s.path)
	// The last acknowledged record altered, and the witness without it: the line is not
	// whole, and still names its bolt.
	lastAltered := bytes.Clone(whole)
	lastAltered[len(whole)-sumLen-8] ^= 1
	for _, tt := range []struct {
		name            string
		ledger, witness []byte
		stands          []byte
		doubt           []string
		renamed         bool
	}{
		{"the ledger behind by one", s.back(1), whole, whole, nil, false},
		{"the ledger behind by nine", s.back(9), whole, whole, nil, false},
		{"the ledger gone", nil, whole, whole, nil, false},
		{"the ledger altered", altered, whole, whole, nil, true},
		{"the ledger zeros", make([]byte, 300), whole, whole, nil, true},
		{"the ledger altered where the witness does not reach", lastAltered, s.back(1), s.back(1), []string{"bolt 2"}, true},
		{"the witness gone", whole, nil, whole, nil, false},
		{"the witness behind by five", whole, s.back(5), whole, nil, false},
		{"the witness altered", whole, altered, whole, nil, false},
		{"the witness altered and ahead", s.back(1), lastAltered, s.back(1), []string{"bolt 2"}, false},
		{"the ledger lost the line that its witness ends in a piece of", s.back(1), append(bytes.Clone(s.back(1)), lastLine(whole)[:len(lastLine(whole))-sumLen-4]...), s.back(1), []string{"bolt 2"}, false},
		{"the witness has more of bolt 3", whole, parted, whole, []string{"bolt 3"}, false},
		{"the witness has more of bolt 2", parted, whole, parted, []string{"bolt 2"}, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := s.set(s.m.clone(), tt.ledger, tt.witness)
			l, err := s.takeOver(m)
			if err != nil {
				t.Fatal(err)
			}
			defer l.Close()
			now := m.get(s.path)
			if !bytes.HasPrefix(now, tt.stands) || !bytes.Equal(now, m.get(s.wit)) {
				t.Errorf("%d bytes stand, want %d and the record", len(now), len(tt.stands))
			}
			var doubted []string
			for _, one := range l.Troubles() {
				doubted = append(doubted, one.Bolt)
			}
			if !slices.Equal(doubted, tt.doubt) {
				t.Errorf("%v in doubt, want %v", doubted, tt.doubt)
			}
			if got := m.get(s.path + ".damaged-1"); tt.renamed != (got != nil) || tt.renamed && !bytes.Equal(got, tt.ledger) {
				t.Errorf("what was there was renamed: %v", got != nil)
			}
			if tt.witness != nil && !bytes.Equal(m.get(s.wit+".old-1"), tt.witness) {
				t.Error("the old witness was not kept")
			}
			_, entries, err := read(m, testHome, testWork)
			if err != nil {
				t.Fatal(err)
			}
			last := entries[len(entries)-1]
			if last.What != "taken over" || !strings.Contains(last.Detail, `"by":"the builder"`) || !strings.Contains(last.Detail, "bolts that may have been turned: bolt 1") {
				t.Errorf("%+v", last)
			}
			if len(l.Said) == 0 {
				t.Error("nothing was said")
			}
		})
	}
}

// TestTurnedBeforeTheStart: each bolt is in doubt, and scrap where a turn takes it past yield.
func TestTurnedBeforeTheStart(t *testing.T) {
	plan := testPlan(t, "turned", 3)
	h := onDisk(t)
	l, err := Start(h, testWork, plan, []string{"bolt 3", "bolt 1"})
	if err != nil {
		t.Fatal(err)
	}
	l.Close()
	if l, err = Open(h, testWork, plan); err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	troubles := l.Troubles()
	if len(troubles) != 2 || troubles[0].Bolt != "bolt 3" || !troubles[0].Scrap || troubles[1].Bolt != "bolt 1" {
		t.Errorf("%+v", troubles)
	}
	// The step is another bolt's than that which is in doubt first.
	if err := l.Begin(1); !errors.Is(err, ErrInDoubt) || !strings.Contains(err.Error(), "bolt in doubt: bolt 3: ") {
		t.Errorf("%v, want ErrInDoubt of bolt 3", err)
	}
	if err := errors.Join(l.Replace("bolt 1"), l.Replace("bolt 3"), l.Begin(1)); err != nil {
		t.Error(err)
	}
}

// TestBegunAcrossPrograms: a step that is begun stays begun until somebody says how it ended,
// and nothing else may be begun.
func TestBegunAcrossPrograms(t *testing.T) {
	s := newScene(t, testPlan(t, "begun", 2), 4) // a turn is next
	if err := s.l.Begin(5); err != nil {
		t.Fatal(err)
	}
	l, err := s.reopen(s.m.cutPower(cut{}))
	if err != nil {
		t.Fatal(err)
	}
	if l.Status(5) != Begun || len(l.Said) > 0 || len(l.Troubles()) > 0 {
		t.Errorf("step 5 is %v; said %q", l.Status(5), l.Said)
	}
	for _, n := range []int{5, 6} {
		if err := l.Begin(n); !errors.Is(err, ErrRefused) {
			t.Errorf("step %d: %v, want ErrRefused", n, err)
		}
	}
	if err := l.Done(5, Reached{}); err != nil {
		t.Error(err)
	}
}

// TestMendedAndSaid: each of the things that a crash leaves is said in its own words.
func TestMendedAndSaid(t *testing.T) {
	plan := testPlan(t, "mended", 2)
	s := newScene(t, plan, 2).closed(t)
	whole, line := s.last(), lastLine(s.last())
	c := linked(s.back(1), true)
	other, _ := recordLine(c.lines, happening{event: note, detail: "by another", at: epoch}, c.sum)
	cat := func(a, b []byte) []byte { return append(bytes.Clone(a), b...) }
	c = linked(whole, true)
	hole, _ := recordLine(c.lines, happening{event: note, detail: strings.Repeat("long", 1000), at: epoch}, c.sum)
	clear(hole[512:1536]) // two sectors that did not get to the disk
	for _, tt := range []struct {
		name            string
		ledger, witness []byte
		says            string
		aside           []byte // what is moved to the file beside the ledger
	}{
		{"a torn line", cat(whole, line[:5]), whole, "its last line was torn, and nobody had been told that it was recorded; it was moved to /home/gate.ledger.torn", line[:5]},
		{"zeros at the end", cat(whole, make([]byte, 10)), whole, "its last line was torn", make([]byte, 10)},
		{"zeros and the end of a line", cat(whole, append(make([]byte, 10), line[10:]...)), whole, "its last line was torn", append(make([]byte, 10), line[10:]...)},
		{"a hole in a long line", cat(whole, hole), whole, "its last line was torn", hole},
		{"no newline", whole[:len(whole)-1], whole, `the newline was put back: done of step 2 on bolt "bolt 2"`, nil},
		{"another byte in its place", cat(whole[:len(whole)-1], []byte("\x0b")), whole, "the newline was put back", nil},
		{"no newline, and the witness without the line", whole[:len(whole)-1], s.back(1), "the newline was put back", nil},
		{"the witness behind", whole, s.back(1), `its witness lacked the last record, which was being written: done of step 2 on bolt "bolt 2"; it was added there`, nil},
		{"the witness torn", whole, whole[:len(whole)-12], "its witness lacked the last record", nil},
		{"the witness zeros at the end", whole, cat(s.back(1), make([]byte, len(line))), "its witness lacked the last record", nil},
		{"the witness without its newline", whole, whole[:len(whole)-1], "the last line of its witness lacked its newline", nil},
		{"a line of another program", cat(whole, other), whole, `another program wrote to it at the same time, and was not told that it was recorded: note; that was moved to`, other},
		{"two lines of other programs and a torn one", cat(whole, cat(cat(other, other), other[:9])), whole, "another program wrote", cat(cat(other, other), other[:9])},
		{"the witness has a line twice", whole, cat(whole, line), "its witness had a line twice", nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := s.set(s.m.clone(), tt.ledger, tt.witness)
			beside, _, err := read(m, testHome, testWork)
			if err != nil {
				t.Errorf("read: %v", err)
			} else if what, _, _ := strings.Cut(tt.says, ";"); len(beside.Said) == 0 || strings.Contains(tt.says, "; it was") && !strings.Contains(beside.Said[0], what) {
				t.Errorf("reading said %q", beside.Said)
			}
			l, err := s.reopen(m)
			if err != nil {
				t.Fatal(err)
			}
			defer l.Close()
			if said := strings.Join(l.Said, "\n"); !strings.Contains(said, tt.says) {
				t.Errorf("said %q, want %q", said, tt.says)
			}
			if aside := m.get(s.path + ".torn"); tt.aside == nil != (aside == nil) || !bytes.HasSuffix(aside, append([]byte("\n"), append(bytes.Clone(tt.aside), '\n')...)) && aside != nil {
				t.Errorf("%q set aside, want %q", aside, tt.aside)
			}
			if !bytes.Equal(m.get(s.path), whole) || !bytes.Equal(m.get(s.wit), whole) {
				t.Error("the files do not hold what was acknowledged")
			}
			after := m.cutPower(cut{})
			if !bytes.Equal(after.get(s.path+".torn"), m.get(s.path+".torn")) {
				t.Error("what was set aside does not outlast the power")
			}
			again, err := s.reopen(after)
			if err != nil || len(again.Said) > 0 {
				t.Errorf("opened again: %v, %q", err, again.Said)
			}
		})
	}
}

// TestReadingWritesNothing: reading opens for reading alone, whatever it finds; so it needs
// neither a disk nor a folder that can be written.
func TestReadingWritesNothing(t *testing.T) {
	s := newScene(t, testPlan(t, "read", 2), 3).closed(t)
	whole := s.last()
	for name, one := range map[string][2][]byte{
		"whole":           {whole, whole},
		"torn":            {append(bytes.Clone(whole), "9\t"...), whole},
		"witness behind":  {whole, s.back(1)},
		"no witness":      {whole, nil},
		"no ledger":       {nil, whole},
		"nothing":         {nil, nil},
		"witness older":   {whole, s.back(3)},
		"ledger emptied":  {{}, whole},
		"witness emptied": {whole, {}},
	} {
		m := s.set(s.m.clone(), one[0], one[1])
		m.keep = true
		for _, i := range m.names {
			i.locked = true // by a program that is using it
		}
		l, entries, err := read(m, testHome, testWork)
		for _, call := range m.said {
			switch what, _, _ := strings.Cut(call, " "); what {
			case "open", "stat", "fstat", "read", "close", "list":
			default:
				t.Errorf("%s: reading calls %q", name, call)
			}
		}
		if !bytes.Equal(m.get(s.path), one[0]) || !bytes.Equal(m.get(s.wit), one[1]) {
			t.Errorf("%s: reading changed a file", name)
		}
		readable := bytes.HasPrefix(one[0], whole)
		if readable != (l != nil) || readable != (entries != nil) {
			t.Errorf("%s: %v, and a ledger %v", name, err, l != nil)
		}
		if l == nil {
			continue
		}
		if done, _, of := l.Counts(); done != 3 || of != 8 || len(entries) != 8 {
			t.Errorf("%s: %d of %d done, %d entries", name, done, of, len(entries))
		}
		if err := l.Begin(4); !errors.Is(err, ErrStorage) || !strings.Contains(err.Error(), "opened for reading") {
			t.Errorf("%s: %v, want a ledger that is only read to refuse", name, err)
		}
		if err := l.Close(); err != nil {
			t.Error(err)
		}
	}
}

// TestReadWhileItIsWritten: a reader beside a program that records never finds the two files
// apart.
func TestReadWhileItIsWritten(t *testing.T) {
	h := onDisk(t)
	l, err := Start(h, testWork, testPlan(t, "read", 2), []string{})
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	var group sync.WaitGroup
	stop := make(chan struct{})
	group.Go(func() {
		for n := 0; ; n++ {
			select {
			case <-stop:
				return
			default:
			}
			if err := l.Note(fmt.Sprintf("note %d", n)); err != nil {
				t.Error(err)
				return
			}
		}
	})
	last := 0
	for end := time.Now().Add(300 * time.Millisecond); time.Now().Before(end); {
		_, entries, err := Read(h, testWork)
		if err != nil || len(entries) < last {
			t.Errorf("%d entries after %d, %v", len(entries), last, err)
			break
		}
		last = len(entries)
	}
	close(stop)
	group.Wait()
}

// TestManyGoroutines: each step is acknowledged to one of them, once.
func TestManyGoroutines(t *testing.T) {
	plan := testPlan(t, "many", 3)
	l, err := Start(onDisk(t), testWork, plan, []string{})
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	var group sync.WaitGroup
	var mu sync.Mutex
	begun, done := map[int]int{}, map[int]int{}
	for range 4 {
		group.Go(func() {
			for {
				step, ok := l.Next()
				if !ok {
					return
				}
				began, ended := l.Begin(step.Number), l.Done(step.Number, Reached{})
				mu.Lock()
				if began == nil {
					begun[step.Number]++
				}
				if ended == nil {
					done[step.Number]++
				}
				mu.Unlock()
			}
		})
	}
	group.Wait()
	for n := 1; n <= len(plan.Steps()); n++ {
		if begun[n] != 1 || done[n] != 1 {
			t.Errorf("step %d was begun %d times and done %d times", n, begun[n], done[n])
		}
	}
}

// TestClosed: a ledger that is closed refuses, and gives up both locks.
func TestClosed(t *testing.T) {
	h := onDisk(t)
	plan := testPlan(t, "closed", 2)
	l, err := Start(h, testWork, plan, []string{})
	if err != nil {
		t.Fatal(err)
	}
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	if err := l.Begin(1); !errors.Is(err, ErrStorage) || !strings.Contains(err.Error(), "it is closed") {
		t.Errorf("%v", err)
	}
	if err := l.Close(); !errors.Is(err, ErrStorage) {
		t.Errorf("%v, want it closed already", err)
	}
	// The witness alone in use: another ledger's file, and the same work.
	witness, err := machine{}.open(filepath.Join(h.Witness, testWork.witnessName()), toAppend)
	if err != nil {
		t.Fatal(err)
	}
	_, err = Open(h, testWork, plan)
	wants(t, err, ErrLocked, h.Witness)
	witness.Close()
	if l, err = Open(h, testWork, plan); err != nil {
		t.Fatal(err)
	}
	l.Close()
}

func TestStateFolder(t *testing.T) {
	home := func() (string, error) { return "/users/builder", nil }
	for _, tt := range []struct {
		system string
		env    map[string]string
		want   string
	}{
		{"linux", map[string]string{"XDG_STATE_HOME": "/var/state"}, "/var/state"},
		{"linux", map[string]string{"XDG_STATE_HOME": "state"}, "/users/builder/.local/state"}, // "must be absolute … ignore"
		{"freebsd", nil, "/users/builder/.local/state"},
		{"darwin", map[string]string{"XDG_STATE_HOME": "/var/state"}, "/users/builder/Library/Application Support"},
		{"windows", map[string]string{"LOCALAPPDATA": `C:\state`}, `C:\state`},
		{"windows", nil, ""},
	} {
		got, err := stateFolder(tt.system, func(key string) string { return tt.env[key] }, home)
		if filepath.ToSlash(got) != tt.want || (err != nil) != (tt.want == "") {
			t.Errorf("%s %v: %q, %v", tt.system, tt.env, got, err)
		}
	}
	if _, err := stateFolder("linux", func(string) string { return "" }, func() (string, error) { return "", errors.New("no home") }); err == nil {
		t.Error("a folder without a home")
	}
}

// TestTwoMachines: two machines share the ledger's folder, and each has witnesses of its own; so
// the second is told that it has none, and what it takes over the first finds out at its next
// call.
func TestTwoMachines(t *testing.T) {
	s := newScene(t, testPlan(t, "machines", 2), 5)
	m := s.m
	m.unlocks = true // as on a folder that several machines share
	second := Home{Path: testHome.Path, Witness: "/state/second"}
	_, err := open(m, testClock(), second, testWork, s.plan)
	wants(t, err, ErrUnsure, "this is another machine", "bolt 1")
	_, err = start(m, testClock(), second, testWork, s.plan, []string{})
	wants(t, err, ErrRefused, "a file is there already")
	l, err := takeItOver(m, testClock(), second, testWork, s.plan, testWord)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.l.Begin(6); !errors.Is(err, ErrUnsure) {
		t.Errorf("%v, want the first machine to find it out", err)
	}
	if err := l.Begin(6); err != nil {
		t.Errorf("%v, want the second to go on", err)
	}
	s.l.Close()
	_, err = s.reopen(m)
	wants(t, err, ErrUnsure, "the witness lacks 2 records")
}

// TestRecordTooLong: a record that no line holds is refused, and the ledger goes on.
func TestRecordTooLong(t *testing.T) {
	s := newScene(t, testPlan(t, "long", 1), 0)
	if err := s.l.Note(strings.Repeat("x", longest)); !errors.Is(err, ErrRefused) {
		t.Errorf("%.80v, want it refused", err)
	}
	if err := s.l.Note("short"); err != nil {
		t.Error(err)
	}
}

// TestWitnessEndsOtherwise: a piece of a line at the end of the witness has to be one of the
// ledger's last.
func TestWitnessEndsOtherwise(t *testing.T) {
	s := newScene(t, testPlan(t, "piece", 1), 2).closed(t)
	whole, line := s.last(), lastLine(s.last())
	for name, one := range map[string][2][]byte{
		"of another line":                      {whole, append(bytes.Clone(s.back(1)), "7\t2027-"...)},
		"of a line that the ledger lacks":      {whole, append(bytes.Clone(whole), "8\t2026-"...)},
		"of the line that the ledger lost":     {s.back(1), append(bytes.Clone(s.back(1)), line[:20]...)},
		"of the line before the ledger's last": {whole, append(bytes.Clone(s.back(2)), lastLine(s.back(1))[:20]...)},
	} {
		_, err := s.reopen(s.set(s.m.clone(), one[0], one[1]))
		if !errors.Is(err, ErrUnsure) {
			t.Errorf("%s: %v, want ErrUnsure", name, err)
		}
	}
}

// TestNewWitnessLeftBehind: what two programs that started at once, or a start that failed, left
// is not taken for the ledger once there is a witness; it is moved out of the way.
func TestNewWitnessLeftBehind(t *testing.T) {
	plan := testPlan(t, "left", 1)
	s := newScene(t, plan, 2).closed(t)
	other := newScene(t, plan, 0).closed(t)
	for name, left := range map[string][]byte{"whole": other.last(), "of the same ledger": s.history[0], "torn": other.last()[:99], "empty": {}} {
		m := s.m.clone()
		m.put(s.new, left)
		emptied := m.clone()
		emptied.put(s.path, []byte{})
		if _, err := s.reopen(emptied); !errors.Is(err, ErrUnsure) {
			t.Errorf("%s, the ledger emptied: %v, want ErrUnsure", name, err)
		}
		l, err := s.reopen(m)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		l.Close()
		if !bytes.Equal(m.get(s.path), s.last()) || m.get(s.new) != nil || !bytes.Equal(m.get(s.new+".left-1"), left) || len(l.Said) == 0 {
			t.Errorf("%s: said %q\n%v", name, l.Said, m)
		}
	}
}

// TestChangedWhileItIsOpened: another program, without a lock, records something between the
// reading of the files and the end of Open, which finds it out: it would offer a step again.
func TestChangedWhileItIsOpened(t *testing.T) {
	s := newScene(t, testPlan(t, "changed", 1), 1)
	s.m.unlocks = true
	begun := false
	s.m.turn = func(call string) {
		if call == "open "+filepath.Base(s.new) && !begun { // both files have been read
			begun = true
			if err := s.l.Begin(2); err != nil {
				t.Error(err)
			}
		}
	}
	if l, err := s.reopen(s.m); !errors.Is(err, ErrUnsure) || !strings.Contains(err.Error(), "open the ledger again") {
		t.Errorf("%v and a ledger %v, want ErrUnsure", err, l != nil)
	}
}

// TestSameRecordAtOnce: two programs that record the same in the same second do not write
// the same line, so that neither takes the other's for its own.
func TestSameRecordAtOnce(t *testing.T) {
	h := happening{event: note, detail: "the same", at: epoch}
	one, _ := recordLine(5, h, 7)
	h.at = h.at.Add(time.Microsecond)
	if other, _ := recordLine(5, h, 7); bytes.Equal(one, other) {
		t.Errorf("%q twice", one)
	}
}
