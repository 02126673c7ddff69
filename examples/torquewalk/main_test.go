package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.com/closefit/internal/thorough"
)

// built is the program, which the tests run as a process: a copy of themselves by its name.
var built string

func TestMain(m *testing.M) {
	if filepath.Base(os.Args[0]) == name {
		main()
	}
	os.Exit(func() int {
		folder, err := os.MkdirTemp("", "torquewalk-test")
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		defer os.RemoveAll(folder)
		if err := os.Chmod(folder, 0o755); err != nil { // other users run the program too
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		built = filepath.Join(folder, name)
		if err := copyOfTests(built); err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		os.Setenv("XDG_STATE_HOME", filepath.Join(folder, "state")) // no test touches the user's own
		os.Setenv("COLUMNS", "80")
		status := m.Run()
		if err := reliability(); err != nil && status == 0 {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		return status
	}())
}

// name is the name of the program.
const name = "torquewalk"

// copyOfTests copies the running tests: linking the program takes longer than all that they do with it.
func copyOfTests(to string) error {
	own, err := os.Executable()
	if err != nil {
		return err
	}
	text, err := os.ReadFile(own)
	if err != nil {
		return err
	}
	return os.WriteFile(to, text, 0o755)
}

// caps is a plan in which every bolt is turned at once: torques, then turns of bolts that are
// used once, two under each cap.
const caps = `title = "mill pump, caps"
engine = "mill pump engine 7"
build = "second rebuild"
[[tightening]]
group = "cap bolts"
caps = [["FL", "FR"], ["RL", "RR"]]
order = "rows"
single_use = true
stages = [{ torque = "9 N·m" }, { turn = "50°" }]
`

// A bench is a folder with a plan, and one with the witness of its ledger.
type bench struct {
	t       *testing.T
	folder  string
	plan    string
	witness string
	options []string // before every act
	cwd     string   // from which the built program is called; that of the test if empty
	before  []string // what the built program is called by
}

func newBench(t *testing.T, plan string) *bench {
	t.Helper()
	at := t.TempDir()
	b := &bench{t: t, folder: filepath.Join(at, "bench"), witness: filepath.Join(at, "witness")}
	if err := os.Mkdir(b.folder, 0o755); err != nil {
		t.Fatal(err)
	}
	b.plan = filepath.Join(b.folder, "pump.toml")
	b.options = []string{"-witness", b.witness}
	b.write(plan)
	return b
}

// write writes the plan.
func (b *bench) write(plan string) {
	b.t.Helper()
	if err := os.WriteFile(b.plan, []byte(plan), 0o644); err != nil {
		b.t.Fatal(err)
	}
}

// ledger is the path of the ledger under its usual name.
func (b *bench) ledger() string { return strings.TrimSuffix(b.plan, ".toml") + ".ledger" }

// args is a command line: the act, and the plan at the end.
func (b *bench) args(act ...string) []string {
	return append(append(append([]string{}, b.options...), act...), b.plan)
}

// call runs the program within the test, and checks its status.
func (b *bench) call(want int, act ...string) (out, errs string) {
	b.t.Helper()
	return call(b.t, want, b.args(act...)...)
}

func call(t *testing.T, want int, args ...string) (stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	// What another test starts now would hold the lock of this ledger until it has become another program.
	syscall.ForkLock.RLock()
	defer syscall.ForkLock.RUnlock()
	if status := run(args, strings.NewReader(""), &out, &errs); status != want {
		t.Errorf("%q: status %d, want %d\n%s%s", args, status, want, &out, &errs)
	}
	return out.String(), errs.String()
}

// exec runs the built program, and returns its status and what it said. Where not everything is
// tried, the program is run within the test if nothing of its surroundings is another.
func (b *bench) exec(act ...string) (status int, said string) {
	b.t.Helper()
	if !thorough.Whole() && len(b.before) == 0 && b.cwd == "" {
		return b.status(act...)
	}
	line := append(append(append([]string{}, b.before...), built), b.args(act...)...)
	cmd := exec.Command(line[0], line[1:]...)
	cmd.Dir = b.cwd
	out, err := cmd.CombinedOutput()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		b.t.Fatal(err)
	}
	return cmd.ProcessState.ExitCode(), string(out)
}

// must runs the built program, and fails the test unless the status is 0.
func (b *bench) must(act ...string) string {
	b.t.Helper()
	status, said := b.exec(act...)
	if status != done {
		b.t.Fatalf("%q: status %d\n%s", act, status, said)
	}
	return said
}

// next is what -next says, in JSON.
func (b *bench) next(want int) (n next) {
	b.t.Helper()
	text, errs := b.call(want, "-next", "-format", "json")
	if err := json.Unmarshal([]byte(text), &n); err != nil {
		b.t.Fatalf("%v\n%s%s", err, text, errs)
	}
	return n
}

// does records a step that begins and is done.
func (b *bench) does(steps ...int) {
	b.t.Helper()
	for _, n := range steps {
		b.call(done, "-begin", fmt.Sprint(n))
		b.call(done, "-done", fmt.Sprint(n))
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

// copyFile copies a file.
func copyFile(t *testing.T, from, to string) {
	t.Helper()
	text, err := os.ReadFile(from)
	if err == nil {
		err = os.WriteFile(to, text, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// session is the program at a terminal, as far as it can be told from pipes.
type session struct {
	t    *testing.T
	cmd  *exec.Cmd
	in   io.WriteCloser
	out  chan string
	said string
}

// open starts the built program at the terminal.
func (b *bench) open(options ...string) *session {
	t := b.t
	t.Helper()
	s := &session{t: t, cmd: exec.Command(built, b.args(options...)...), out: make(chan string, 100)}
	var err error
	if s.in, err = s.cmd.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	out, err := s.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	s.cmd.Stderr = s.cmd.Stdout
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
	t.Cleanup(func() { s.in.Close(); s.cmd.Process.Kill() })
	return s
}

// expect reads until a text was said, and returns what was said since the last.
func (s *session) expect(text string) string {
	s.t.Helper()
	late := time.After(thorough.Patience)
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

// prompt is what is said until something can be typed.
func (s *session) prompt() string {
	s.t.Helper()
	return s.expect("\n> ")
}

// types types a line, and returns what is said until the next can be typed.
func (s *session) types(line string) string {
	s.t.Helper()
	s.type_(line)
	return s.prompt()
}

func (s *session) type_(line string) { io.WriteString(s.in, line+"\n") }

// leave ends the input, checks the status and returns what is said last.
func (s *session) leave(want int) string {
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
	return s.said
}
