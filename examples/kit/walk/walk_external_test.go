package walk_test

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/examples/kit/walk"
	"example.com/closefit/torque/ledger"
)

const rods = `title = "rods"
[[tightening]]
group = "rod bolts"
caps = [["1A", "1B"]]
single_use = true
first = ["Are the threads oiled?"]
stages = [{ torque = "8 N·m" }, { turn = "75°" }]
`

// start opens a ledger of the plan.
func start(t *testing.T, path string) *ledger.Ledger {
	t.Helper()
	plan, err := planfile.Read("rods.toml", []byte(rods))
	if err != nil {
		t.Fatal(err)
	}
	l, err := ledger.Open(path, plan)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { l.Close() })
	return l
}

// answer walks with the lines typed, and returns what was shown.
func answer(t *testing.T, l *ledger.Ledger, typed ...string) (shown string, finished bool, err error) {
	t.Helper()
	var out strings.Builder
	finished, err = walk.Session{Ledger: l, In: strings.NewReader(strings.Join(typed, "\n") + "\n"), Out: &out}.Run()
	return out.String(), finished, err
}

func TestWholeWalk(t *testing.T) {
	l := start(t, filepath.Join(t.TempDir(), "ledger"))
	shown, finished, err := answer(t, l, "", "", "d", "", "d", "", "d", "", "d", "", "d")
	if err != nil || !finished {
		t.Fatalf("finished %v, %v\n%s", finished, err, shown)
	}
	for _, want := range []string{
		"! A bolt that has been tightened past yield is scrap",
		"Are the threads oiled? If not: stop and find out why.",
		"2. 1A: tighten to 8 N·m",
		"[x] 1A", "==> 1B",
		"5. 1B: mark it, then turn 75° further",
		// 8 N·m, large.
		" ███        █   █\n",
		"Every one of the 5 steps is done",
	} {
		if !strings.Contains(shown, want) {
			t.Errorf("%q was not shown in\n%s", want, shown)
		}
	}
}

func TestMishaps(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	l := start(t, path)
	// The check does not hold, then it does; a torque is stopped and done; a turn is
	// stopped, which loosening does not mend; nonsense is asked again.
	shown, finished, err := answer(t, l, "", "", "s", "", "d", "", "s", "", "q", "x", "d", "", "d", "", "s", "l", "x", "r", "r 9Z", "q")
	if err != nil || finished {
		t.Fatalf("finished %v, %v", finished, err)
	}
	for _, want := range []string{
		"STOP. The check did not hold: Are the threads oiled?",
		"First say how this step ended",
		`"x" is none of the answers: it has to be known`,
		"Back it off and scrap it",
		"a single-use bolt that has been pulled to the full",
		"1A was replaced: its stages begin again",
		"the plan has no such bolt",
	} {
		if !strings.Contains(shown, want) {
			t.Errorf("%q was not shown in\n%s", want, shown)
		}
	}
	if next, _ := l.Next(); next.Number != 2 {
		t.Errorf("step %d is next, want 2, the first of the replaced bolt", next.Number)
	}
}

// TestWaitIsNotDoneAtOnce: a wait shows the time, is not done before it, and is either
// begun again or skipped on purpose.
func TestWaitIsNotDoneAtOnce(t *testing.T) {
	plan, err := planfile.Read("flange.toml", []byte(strings.Replace(rods, `{ torque = "8 N·m" }`, `{ torque = "8 N·m", wait = "5m" }`, 1)))
	if err != nil {
		t.Fatal(err)
	}
	l, err := ledger.Open(filepath.Join(t.TempDir(), "ledger"), plan)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { l.Close() })
	shown, _, err := answer(t, l, "", "", "d", "", "d", "", "d", "", "d", "s", "q")
	if err != nil || !strings.Contains(shown, "Not before ") || !strings.Contains(shown, " of 5m are over") || l.Status(4) != ledger.Pending {
		t.Errorf("%v, step 4 is %v\n%s", err, l.Status(4), shown)
	}
	shown, _, err = answer(t, l, "", "", "skip", "", "d", "", "d")
	if err != nil || l.Status(4) != ledger.Skipped || !strings.Contains(shown, "5 of the 6 steps are done, and 1 skipped") {
		t.Errorf("%v, step 4 is %v\n%s", err, l.Status(4), shown)
	}
}

// TestInputEndsInAPull: what became of the bolt is not known.
func TestInputEndsInAPull(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	l := start(t, path)
	_, _, err := answer(t, l, "", "", "d", "", "d", "", "d", "")
	if !errors.Is(err, walk.ErrLeft) {
		t.Fatalf("%v, want ErrLeft", err)
	}
	l.Abandon()
	l = start(t, path)
	shown, _, err := answer(t, l, "", "q")
	if err != nil || !strings.Contains(shown, "[?] 1A") || !strings.Contains(shown, "Nobody knows how far 1A was turned") {
		t.Errorf("%v\n%s", err, shown)
	}
}

// TestBegunBefore: of a turn that was begun by another call, whoever comes next may not know
// how it ended; of one begun here, they do.
func TestBegunBefore(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	const doubt = "begun before this session"
	l := start(t, path)
	shown, _, err := answer(t, l, "", "", "d", "", "d", "", "d", "q")
	if err != nil || strings.Contains(shown, doubt) {
		t.Fatalf("%v\n%s", err, shown)
	}
	for _, err := range []error{l.Begin(4), l.Close()} {
		if err != nil {
			t.Fatal(err)
		}
	}
	l = start(t, path)
	shown, _, err = answer(t, l, "", "s", "q")
	if err != nil || strings.Count(shown, doubt) != 1 || l.Status(4) != ledger.Unknown {
		t.Errorf("%v, step 4 is %v\n%s", err, l.Status(4), shown)
	}
}
