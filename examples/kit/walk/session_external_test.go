package walk_test

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/examples/kit/walk"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
)

var update = flag.Bool("update", false, "rewrite the golden sessions")

// caps is a plan with everything a walk meets: checks, a wait, torques and turns of bolts that
// are used once, and bolts of another group that may be used again.
const caps = `title = "mill pump, bottom end"
engine = "mill pump engine 7"
build = "second rebuild"
[[tightening]]
group = "cap bolts"
caps = [["front left", "front right"]]
single_use = true
first = ["Are the threads oiled?"]
stages = [{ torque = "8 N·m", wait = "2m" }, { turn = "75°", check = "Does the crank turn freely?" }]
[[tightening]]
group = "cover bolts"
bolts = ["c1", "c2"]
single_use = false
stages = [{ torque = "5 N·m" }, { turn = "30°" }]
`

var pump = ledger.Work{Engine: "mill pump engine 7", Build: "second rebuild"}

// here is where the ledgers of a test are kept: in a folder that becomes the current one, so
// that no path of the machine is shown.
func here(t *testing.T) ledger.Home {
	t.Helper()
	t.Chdir(t.TempDir())
	if err := os.Mkdir("bench", 0o755); err != nil {
		t.Fatal(err)
	}
	return ledger.Home{Path: filepath.Join("bench", "pump.ledger"), Witness: "witnesses"}
}

func planOf(t *testing.T, text string) *torque.Plan {
	t.Helper()
	file, err := planfile.Read("pump.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return file.Plan
}

// walked walks with the lines typed, and returns what was shown with each line where it was
// typed.
func walked(t *testing.T, s walk.Session, typed ...string) (shown string, finished bool, err error) {
	t.Helper()
	var out bytes.Buffer
	s.In, s.Out = strings.NewReader(strings.Join(typed, "\n")+"\n"), &out
	finished, err = s.Run()
	var b strings.Builder
	for i, part := range strings.SplitAfter(out.String(), "\n> ") {
		b.WriteString(part)
		if strings.HasSuffix(part, "\n> ") && i < len(typed) {
			b.WriteString(typed[i] + "\n")
		}
	}
	return b.String(), finished, err
}

// pumpSession is a session on the plan.
func pumpSession(t *testing.T, home ledger.Home, columns int) walk.Session {
	return walk.Session{Home: home, Work: pump, Plan: planOf(t, caps), Columns: columns}
}

// sessions are golden: read one aloud before it is kept.
var sessions = []struct {
	name  string
	typed []string
}{
	{"whole", []string{"", "none", "",
		"y",
		"the builder", "wrench 2", "8 N·m", "C-114",
		"", "d", "8.1 N·m", "", "d", "",
		"", "skip",
		"", "d", "75° ; 21 N·m", "", "d", "",
		"y",
		"", "d", "", "", "d", "", "", "d", "30", "30°", "", "d", ""}},
	{"mishaps in a turn", []string{"none", "", "y", "", "", "", "d", "", "", "d", "", "", "skip",
		"", "0", "y", // nothing moved: it is done again
		"", "p", "n", "p", "y", // part-way: scrap
		"x", "l", "r front left",
		"k front right: the builder: page 12 of the manual lets it stay", "q"}},
	{"slip, wrong bolt, wrong step", []string{"none", "", "y", "", "",
		"", "s", "y", "", "t", "the builder", "wrench 3", "", "C-115", // slipped: a tool is asked for
		"", "w", "", "w", "front left", "w", "FRONT right", // another bolt
		"", "d", "", "", "d", "", "", "again", "", "skip",
		"", "o", "x", "o", "7", "n", "o", "6", "y", // the other turn was done
		"", "?", "u 6", "p", "y", "q"}},
	{"said too soon, and a check", []string{"none", "", "n", "?", "", "y", "", "", "", "d", "", "", "d", "", "", "skip",
		"", "d", "b", "d", "", "", "d", "",
		"m", "u 6", "", "u six", "u 99", "u 2", "0", "y", "q"}},
	{"turned before", []string{"nonsense", "front left, c1", "", "r front left", "l c1", "q"}},
	{"left in a turn", []string{"none", "", "y", "", "", "", "d", "", "", "d", "", "", "skip", "", "q"}},
	{"a turn too far", []string{"none", "", "y", "", "", "", "d", "", "", "d", "", "", "skip", "", "f", "n", "f", "y", "q"}},
}

// TestSessions: what is shown is golden, at 40 columns and at 80, and no line is wider.
func TestSessions(t *testing.T) {
	golden, err := filepath.Abs("testdata")
	if err != nil {
		t.Fatal(err)
	}
	for _, session := range sessions {
		for _, columns := range []int{40, 80} {
			t.Run(fmt.Sprintf("%s, %d", session.name, columns), func(t *testing.T) {
				s := pumpSession(t, here(t), columns)
				shown, _, err := walked(t, s, session.typed...)
				if err != nil {
					t.Fatal(err)
				}
				if session.name == "left in a turn" { // and found begun
					more, _, err := walked(t, s, "", "d", "n", "?", "q")
					if err != nil {
						t.Fatal(err)
					}
					shown += more
				}
				for line := range strings.Lines(shown) {
					line = strings.TrimSuffix(line, "\n")
					if _, typed, is := strings.Cut(line, "> "); is {
						line = strings.TrimSuffix(line, typed)
					}
					if n := utf8.RuneCountInString(line); n > columns {
						t.Errorf("%d columns: %q", n, line)
					}
				}
				path := filepath.Join(golden, strings.ReplaceAll(session.name, " ", "-")+fmt.Sprintf("-%d.txt", columns))
				if *update {
					if err := errors.Join(os.MkdirAll(golden, 0o755), os.WriteFile(path, []byte(shown), 0o644)); err != nil {
						t.Fatal(err)
					}
				}
				want, err := os.ReadFile(path)
				if err != nil {
					t.Fatal(err)
				}
				if shown != string(want) {
					t.Errorf("not as in %s; read it, and rewrite it with -update if it is right:\n%s", path, shown)
				}
			})
		}
	}
}

// known is the plan of caps with what is known of its cap bolts.
var known = strings.Replace(caps, "[[tightening]]\ngroup = \"cover", `[tightening.bolt]
thread = "M6"
class = "8.8"
friction = "0.12..0.14"
stiffness = "100..120 kN/mm"
neighbours = "0"
[[tightening]]
group = "cover`, 1)

// TestMisfit: a turn that took too little torque is said at once, noted, and nothing goes on before
// somebody says that it is known why.
func TestMisfit(t *testing.T) {
	file, err := planfile.Read("pump.toml", []byte(known))
	if err != nil {
		t.Fatal(err)
	}
	s := pumpSession(t, here(t), 80)
	s.Plan, s.Bolts = file.Plan, file.Bolts
	shown, _, err := walked(t, s, "none", "", "y", "", "", "", "d", "", "", "d", "", "", "skip",
		"", "d", "75°; 9 N·m", "", "d", "go on", "q")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"STOP. front left took", "less than the", "the thread strips", "Return alone is not an answer", `"d" is not an answer`, "Next: 6. front right"} {
		if !strings.Contains(shown, want) {
			t.Errorf("%q was not shown in\n%s", want, shown)
		}
	}
	_, entries, err := ledger.Read(s.Home, pump)
	if err != nil {
		t.Fatal(err)
	}
	noted, settled := entries[len(entries)-2], entries[len(entries)-1]
	if noted.What != "note" || !strings.HasPrefix(noted.Detail, "step 5: STOP. front left took") || settled.Detail != "step 5: it is known why, and the bolt is good" {
		t.Errorf("%+v\n%+v", noted, settled)
	}
	if last := walk.Last(entries); strings.Contains(last, "STOP") {
		t.Error(last)
	}
}

// TestMisfitIsNotForgotten: what did not fit and was not settled is shown again, whoever goes on and however
// much is done since, until the bolt is replaced.
func TestMisfitIsNotForgotten(t *testing.T) {
	file, err := planfile.Read("pump.toml", []byte(known))
	if err != nil {
		t.Fatal(err)
	}
	s := pumpSession(t, here(t), 80)
	s.Plan, s.Bolts = file.Plan, file.Bolts
	if _, _, err := walked(t, s, "none", "", "y", "", "", "", "d", "", "", "d", "", "", "skip", "", "d", "75°; 9 N·m", "q"); err != nil {
		t.Fatal(err)
	}
	const stop = "step 5: STOP. front left took"
	shown, _, err := walked(t, s, "", "", "", "", "d", "", "q")
	if err != nil {
		t.Fatal(err)
	}
	if _, after, ok := strings.Cut(shown, "Last: 6. front right: mark it, then turn 75° further; done"); !ok || !strings.Contains(after, stop) {
		t.Errorf("%q is not shown after the next pull:\n%s", stop, shown)
	}
	l, err := ledger.Open(s.Home, pump, s.Plan)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(l.Replace("front left"), l.Close()); err != nil {
		t.Fatal(err)
	}
	_, entries, err := ledger.Read(s.Home, pump)
	if last := walk.Last(entries); err != nil || strings.Contains(last, "STOP") {
		t.Errorf("%v, with a new bolt: %s", err, last)
	}
}

// TestPlanEditedInAWalk: a plan that is edited while it is walked, before a step is shown or while it is,
// begins no step; once it is put back, or can be read again, the walk goes on. How a step that is begun
// ended is asked all the same.
func TestPlanEditedInAWalk(t *testing.T) {
	plan, other := planOf(t, caps), planOf(t, strings.Replace(caps, "75°", "90°", 1))
	reads := 0
	s := pumpSession(t, here(t), 80)
	s.Reread = func() (*torque.Plan, error) {
		reads++
		switch reads {
		case 4: // as the first pull is to begin
			return nil, errors.New("half written")
		case 7, 8: // after it has ended
			return other, nil
		}
		return plan, nil
	}
	shown, _, err := walked(t, s, "none", "", "y", "", "", // 1 and 2 for the check, 3 for the pull
		"", "", // 4, read again, 5
		"", "d", "", // 6
		"", "", "", // 7 and 8
		"q")
	if err != nil {
		t.Fatal(err)
	}
	parts := strings.Split(shown, "The plan is not as it was, or cannot be read")
	if len(parts) != 4 || !strings.Contains(parts[1], "half written") || !strings.Contains(parts[2], "ledger of another plan: the plan was changed while it was walked") {
		t.Errorf("%d parts of\n%s", len(parts), shown)
	}
	l, _, err := ledger.Read(s.Home, pump)
	if err != nil || l.Status(2) != ledger.Done || l.Status(3) != ledger.Begun {
		t.Errorf("%v, steps 2 and 3 are %v and %v in\n%s", err, l.Status(2), l.Status(3), shown)
	}
}
