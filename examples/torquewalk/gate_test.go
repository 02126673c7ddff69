package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// proven is the job of an invented engine of which everything is proven: a single cylinder, with
// a trial assembly.
const proven = `title = "mill pump"
[engine]
cylinders = ["1"]
mains = ["front", "rear"]
thrust = "rear"
rings = ["ring"]
passages = ["gallery"]
[instruments]
strip = { kind = "crush strip", widths = ["0.025 mm", "0.038 mm", "0.051 mm"] }
blades = { kind = "feeler blades", blades = ["0.15 mm", "0.20 mm", "0.25 mm", "0.30 mm"] }
dial = { kind = "dial", uncertainty = "0.005 mm" }
[measure.passage]
reading = "clean"
[measure."main bearing clearance"]
limits = "0.020..0.060 mm"
conditions = { bolts = "tightened as for assembly", crankshaft = "not turned", oil = "wiped off" }
readings = { front = "0.038 mm", rear = "0.025..0.038 mm" }
[measure."rod bearing clearance"]
limits = "0.020..0.060 mm"
conditions = { bolts = "tightened as for assembly", crankshaft = "not turned", oil = "wiped off" }
reading = "0.038 mm"
[measure."crankshaft end play"]
limits = "0.10..0.30 mm"
with = "dial"
reading = "0.02 to 0.19 mm"
[measure."rod side play"]
limits = "0.14..0.35 mm"
with = "blades"
reading = "0.20..0.25 mm"
[measure."ring end gap"]
limits = "0.14..0.35 mm"
with = "blades"
conditions = { ring = "square in its own bore", depth = "as the manual says" }
reading = "0.20..0.25 mm"
[bolts."main cap bolts"]
new = "all"
[bolts."rod bolts"]
sound = ["a", "b"]
[[trial]]
group = "main cap bolts"
caps = [["FL", "FR"], ["RL", "RR"]]
old_bolts = true
stages = [{ torque = "9 N·m" }]
[[tightening]]
group = "main cap bolts"
caps = [["FL", "FR"], ["RL", "RR"]]
single_use = true
stages = [{ torque = "9 N·m" }, { turn = "50°" }]
[[tightening]]
group = "rod bolts"
caps = [["a", "b"]]
stages = [{ torque = "8 N·m" }]
`

// without is the job with one text in the place of another, which it has.
func without(t *testing.T, old, new string) string {
	t.Helper()
	if !strings.Contains(proven, old) {
		t.Fatalf("%q is not in the job", old)
	}
	return strings.Replace(proven, old, new, 1)
}

// jobFile writes a job to a folder of its own.
func jobFile(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "pump.toml")
	write(t, path, text)
	return path
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// has checks that texts are said, or, with "no " before them, that they are not.
func has(t *testing.T, said string, texts ...string) {
	t.Helper()
	for _, text := range texts {
		if text, not := strings.CutPrefix(text, "no "); not == strings.Contains(said, text) {
			t.Errorf("%q: want %v in\n%s", text, !not, said)
		}
	}
}

// TestOpenGate: a job that is proven is walked, its ledger stands beside it and holds what the
// gate said, once.
func TestOpenGate(t *testing.T) {
	path := jobFile(t, proven)
	said, _ := call(t, done, "-job", "-next", path)
	has(t, said, "final assembly\n", "1. FL: tighten to 9 N·m")
	call(t, done, "-job", "-begin", "1", path)
	call(t, done, "-job", "-done", "1", path)
	call(t, done, "-job", "-done", "2", path)
	history, _ := call(t, done, "-job", "-history", path)
	has(t, history, "final assembly: gate open; 14 proven\n") // 1 passage, 2 mains, 1 rod, end play, side play, ring, 6 bolts, the plan
	if n := strings.Count(history, "gate open"); n != 1 {
		t.Errorf("the gate is noted %d times, want once\n%s", n, history)
	}
	if _, err := os.Stat(strings.TrimSuffix(path, ".toml") + ".ledger"); err != nil {
		t.Error(err)
	}
}

// TestShutGate: nothing is offered, what keeps it shut is said worst first, and how to accept
// it; a job that accepts it opens the gate, and the ledger keeps on whose word.
func TestShutGate(t *testing.T) {
	text := without(t, `front = "0.038 mm", rear = "0.025..0.038 mm"`, `front = "0.025 mm", rear = "?"`)
	path := jobFile(t, text)
	said, errs := call(t, notAllowed, "-job", "-next", path)
	has(t, said, "STOP. final assembly: the gate is shut. Not proven: 2; proven: 12.", "  not measured: main bearing rear clearance", "  undecided: main bearing front clearance",
		"[[accepted]]", `what = "main bearing rear clearance"`, `-against "NAME: REASON"`, "no tighten to", "no 1. FL")
	if strings.Index(said, "not measured:") > strings.Index(said, "undecided:") {
		t.Errorf("not worst first\n%s", said)
	}
	has(t, errs, "step is offered")
	var n next
	said, _ = call(t, notAllowed, "-job", "-next", "-format", "json", path)
	if err := json.Unmarshal([]byte(said), &n); err != nil || n.Step != 0 || n.Do+n.Brief+n.Bolt+n.Group != "" || n.Gate == nil || n.Gate.Open || len(n.Gate.Shut) != 2 {
		t.Errorf("%v, %s", err, said)
	}
	for _, what := range []string{"-begin", "-done"} {
		_, errs = call(t, notAllowed, "-job", what, "1", path)
		has(t, errs, "the gate is shut", "main bearing rear clearance")
	}
	if _, err := os.Stat(strings.TrimSuffix(path, ".toml") + ".ledger"); err == nil {
		t.Error("a refusal left a ledger")
	}
	write(t, path, text+"[[accepted]]\nwhat = \"main bearing clearance\"\nby = \"the builder\"\nreason = \"the strips are on order\"\n")
	call(t, done, "-job", "-begin", "1", path)
	history, _ := call(t, done, "-job", "-history", path)
	has(t, history, "final assembly: gate open; 12 proven; accepted: main bearing clearance, by the builder: the strips are on order")
}

// TestGoingAgainst: it is an act of its own, with a name and a reason, in the ledger; what
// comes to keep the gate shut later stops the walk again, and what is proven later does not.
func TestGoingAgainst(t *testing.T) {
	path := jobFile(t, without(t, `rear = "0.025..0.038 mm"`, `rear = "?"`))
	for _, bad := range []string{"", ":", "the builder", "the builder:", ": later"} {
		if _, errs := call(t, badInput, "-job", "-against", bad, path); !strings.Contains(errs, "NAME: REASON") {
			t.Errorf("%q: %s", bad, errs)
		}
	}
	said, _ := call(t, done, "-job", "-against", "the builder: read tomorrow: at noon", path)
	has(t, said, "goes on against the gate; not proven: 1;")
	call(t, done, "-job", "-done", "1", path)
	history, _ := call(t, done, "-job", "-history", path)
	has(t, history, "gate shut by main bearing rear clearance: not measured; 13 proven; went on against it, the builder: read tomorrow: at noon")

	write(t, path, strings.Replace(without(t, `rear = "0.025..0.038 mm"`, `rear = "?"`), `"clean"`, `"blocked"`, 1))
	said, _ = call(t, notAllowed, "-job", "-next", path)
	has(t, said, "wrong: passage gallery", "what = \"main bearing rear clearance\"", "no 2. FR")
	call(t, notAllowed, "-job", "-begin", "2", path)

	write(t, path, without(t, `rear = "0.025..0.038 mm"`, `rear = ">= 0.051 mm"`))
	call(t, notAllowed, "-job", "-begin", "2", path)

	write(t, path, proven)
	call(t, done, "-job", "-done", "2", path)
	_, errs := call(t, notAllowed, "-job", "-against", "the builder: for no reason", path)
	has(t, errs, "nothing to go against")
	if _, errs := call(t, badInput, "-against", "a: b", "-ledger", filepath.Join(t.TempDir(), "l")); !strings.Contains(errs, "no gate") {
		t.Error(errs)
	}
}

// TestHeldBolt: a bolt that the job holds is offered in no way, not even where somebody goes
// on against the gate, until a new one is recorded in its place.
func TestHeldBolt(t *testing.T) {
	path := jobFile(t, without(t, `new = "all"`, "new = [\"FR\", \"RL\", \"RR\"]\nsound = [\"FL\"]")) // used, in a group that is used once
	said, _ := call(t, notAllowed, "-job", "-next", path)
	has(t, said, "used, and its group is used once", "FL is held: used, and its group is used once: fit a new one", `-replaced "FL"`, "no tighten to")
	call(t, notAllowed, "-job", "-begin", "1", path)
	call(t, done, "-job", "-against", "the builder: the rest is sound", path)
	said, _ = call(t, notAllowed, "-job", "-next", path)
	has(t, said, "FL is held", "no gate is shut", "no 1. FL")
	for _, what := range []string{"-begin", "-done"} {
		_, errs := call(t, notAllowed, "-job", what, "1", path)
		has(t, errs, "FL is held")
	}
	plan, _ := call(t, done, "-job", "-plan", path)
	has(t, plan, "! HELD FL: used, and its group is used once: fit a new one", "! The gate before the final assembly is shut: 1 not proven")
	call(t, done, "-job", "-replaced", "FL", path)
	plan, _ = call(t, done, "-job", "-plan", path)
	has(t, plan, "no HELD", "no gate before")
	said, _ = call(t, done, "-job", "-next", path)
	has(t, said, "1. FL: tighten")
	call(t, done, "-job", "-done", "1", path)
	// The same in a group that may be used again: nothing is said of it.
	path = jobFile(t, without(t, `sound = ["a", "b"]`, `sound = ["a"]`))
	said, _ = call(t, notAllowed, "-job", "-next", path)
	has(t, said, "rod bolts b: not known to be new or sound")
}

// TestTrialAssembly: it has a gate, a ledger and an end of its own.
func TestTrialAssembly(t *testing.T) {
	path := jobFile(t, without(t, `front = "0.038 mm", rear = "0.025..0.038 mm"`, `front = "?", rear = "?"`))
	call(t, notAllowed, "-job", "-next", path) // the final assembly needs the strips
	said, _ := call(t, done, "-job", "-phase", "trial", "-next", path)
	has(t, said, "trial assembly\n", "1. FL: tighten to 9 N·m")
	plan, _ := call(t, done, "-job", "-phase", "trial", "-plan", path)
	has(t, plan, "mill pump, trial assembly", "take everything off again. The main cap bolts in it are old")
	for _, id := range []string{"1", "2", "3", "4"} {
		call(t, done, "-job", "-phase", "trial", "-done", id, path)
	}
	said, _ = call(t, done, "-job", "-phase", "trial", "-next", path)
	has(t, said, "finished: 4 of 4", "take everything off again")
	if _, err := os.Stat(strings.TrimSuffix(path, ".toml") + ".trial.ledger"); err != nil {
		t.Error(err)
	}
	write(t, path, proven)
	said, _ = call(t, done, "-job", "-phase", "final", "-next", path)
	has(t, said, "0 of 10 steps done")
	none := proven[:strings.Index(proven, "[[trial]]")] + proven[strings.Index(proven, "[[tightening]]"):]
	write(t, path, none)
	_, errs := call(t, badInput, "-job", "-phase", "trial", "-next", path)
	has(t, errs, "plan for the trial assembly", "[[trial]]")
	_, errs = call(t, badInput, "-job", "-phase", "after", path)
	has(t, errs, "write trial or final")
	_, errs = call(t, badInput, "-phase", "trial", path)
	has(t, errs, "has no phases")
}

// TestJobFromStandardInput: a - is standard input for a job too, which each call reads.
func TestJobFromStandardInput(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	for _, tt := range []struct {
		status int
		in     string
		args   []string
		want   string
	}{
		{done, proven, []string{"-job", "-plan", "-"}, "mill pump"},
		{done, proven, []string{"-job", "-ledger", path, "-next", "-"}, "1. FL"},
		{done, proven, []string{"-job", "-ledger", path, "-done", "1", "-"}, "recorded: 1 done"},
		{badInput, proven, []string{"-job", "-next", "-"}, "-ledger FILE"},
		{badInput, proven, []string{"-job", "-ledger", path, "-"}, "put the plan in a file"},
		{badInput, "", []string{"-job", "-ledger", path, "-next", "-"}, "title"},
	} {
		var out, errs bytes.Buffer
		if status := run(tt.args, strings.NewReader(tt.in), &out, &errs); status != tt.status || !strings.Contains(out.String()+errs.String(), tt.want) {
			t.Errorf("%v: %d, want %d and %q\n%s%s", tt.args, status, tt.status, tt.want, &out, &errs)
		}
	}
}

// program builds the program once for the tests of it.
func program(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "torquewalk")
	if out, err := exec.Command("go", "build", "-o", path, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return path
}

// session is the program at a terminal, as far as it can be told from pipes.
type session struct {
	t    *testing.T
	cmd  *exec.Cmd
	in   io.WriteCloser
	out  chan string
	said string
}

func start(t *testing.T, program string, args ...string) *session {
	t.Helper()
	s := &session{t: t, cmd: exec.Command(program, args...), out: make(chan string, 100)}
	var err error
	if s.in, err = s.cmd.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	out, err := s.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := s.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go func() {
		buffer := make([]byte, 4096)
		for {
			n, err := out.Read(buffer)
			if n > 0 {
				s.out <- string(buffer[:n])
			}
			if err != nil {
				close(s.out)
				return
			}
		}
	}()
	return s
}

// expect reads until a text was said, and returns what was said since the last.
func (s *session) expect(text string) string {
	s.t.Helper()
	late := time.After(time.Minute)
	for !strings.Contains(s.said, text) {
		select {
		case more, ok := <-s.out:
			if !ok {
				s.t.Fatalf("the end, and %q was not said in\n%s", text, s.said)
			}
			s.said += more
		case <-late:
			s.t.Fatalf("%q was not said in\n%s", text, s.said)
		}
	}
	before, after, _ := strings.Cut(s.said, text)
	s.said = after
	return before + text
}

func (s *session) type_(line string) { io.WriteString(s.in, line+"\n") }

// leave ends the program and checks its status.
func (s *session) leave(want int) {
	s.t.Helper()
	s.in.Close()
	for more := range s.out {
		s.said += more
	}
	err := s.cmd.Wait()
	status := 0
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		status = exit.ExitCode()
	}
	if status != want {
		s.t.Errorf("status %d, want %d\n%s", status, want, s.said)
	}
}

// TestTerminal: at the terminal a held bolt and a shut gate are not offered, Return asks the
// job again, a job that is edited while a step is shown stops it, and going on against the gate
// is recorded.
func TestTerminal(t *testing.T) {
	torquewalk := program(t)
	const fl = "new = [\"FR\", \"RL\", \"RR\"]\nscrap = [\"FL\"]"
	path := jobFile(t, without(t, `new = "all"`, fl))
	s := start(t, torquewalk, "-job", path)
	s.expect("Return to go on: ")
	s.type_("")
	shown := s.expect("\n> ")
	has(t, shown, "the gate is shut", "wrong: main cap bolts FL: scrap: fit a new one", "FL is held", "no Return, then pull", "no tighten to")
	s.type_("") // Return does not begin it
	has(t, s.expect("\n> "), "the gate is shut", "no BEGUN")
	s.type_("d")
	has(t, s.expect("\n> "), "is not an answer", "no BEGUN")
	s.type_("against the builder")
	has(t, s.expect("\n> "), "NAME: REASON")
	s.type_("against the builder: try it") // which does not free the bolt
	has(t, s.expect("\n> "), "FL is held", "no the gate is shut", "no against NAME")
	s.type_("")
	has(t, s.expect("\n> "), "FL is held", "no BEGUN")
	s.type_("r FL")
	shown = s.expect("q: leave\n> ")
	has(t, shown, "FL was replaced", "1. FL: tighten to 9 N·m", "Return, then pull")
	// A passage is found blocked while the step is shown.
	write(t, path, strings.Replace(without(t, `new = "all"`, fl), `"clean"`, `"blocked"`, 1))
	s.type_("")
	has(t, s.expect("recorded; not with a bolt that is held\n> "), "The job was changed while this step was shown", "wrong: passage gallery: blocked", "no BEGUN")
	write(t, path, without(t, `new = "all"`, fl))
	s.type_("")
	s.expect("q: leave\n> ")
	s.type_("")
	s.expect("BEGUN.")
	s.expect("> ")
	// While a pull is under way the job no longer decides: what was done is recorded.
	write(t, path, strings.Replace(without(t, `new = "all"`, fl), `"clean"`, `"blocked"`, 1))
	s.type_("d")
	has(t, s.expect("\n> "), "wrong: passage gallery: blocked", "no 2. FR")
	s.type_("q")
	s.leave(notAllowed)
	history, _ := call(t, done, "-job", "-history", path)
	has(t, history, "went on against it, the builder: try it", "replaced  FL", "final assembly: gate open; 14 proven", "done      1. FL")

	// A plan that is edited under way is another plan; a job that cannot be read offers nothing.
	write(t, path, proven)
	s = start(t, torquewalk, "-job", path)
	s.expect("Return to go on: ")
	write(t, path, "title = ")
	s.type_("")
	has(t, s.expect("q: leave\n> "), "The gate cannot be asked", "pump.toml:1", "no tighten to")
	write(t, path, proven)
	s.type_("")
	has(t, s.expect("q: leave\n> "), "2. FR: tighten to 9 N·m")
	write(t, path, without(t, `{ turn = "50°" }`, `{ turn = "60°" }`))
	s.type_("")
	has(t, s.expect("q: leave\n> "), "The gate cannot be asked", "is another now", "no BEGUN")
	s.leave(badInput)

	trial := start(t, torquewalk, "-job", "-phase", "trial", jobFile(t, proven))
	trial.expect("This is the trial assembly")
	trial.type_("")
	for range 4 {
		trial.expect("TRIAL ASSEMBLY")
		trial.expect("q: leave\n> ")
		trial.type_("")
		trial.expect("BEGUN.")
		trial.type_("d")
	}
	trial.expect("take everything off again.")
	trial.leave(done)
}
