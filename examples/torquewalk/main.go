// Torquewalk walks a tightening plan, one pull at a time, and keeps a ledger of it that says
// when it no longer knows.
//
//	torquewalk [options] [PLAN.toml]                          at the terminal
//	torquewalk -start no|"BOLT, BOLT" [PLAN.toml]             start the ledger of the work
//	torquewalk -next [-format json] [PLAN.toml]               say what is next
//	torquewalk -begin ID | -done ID | … [PLAN.toml]           record one fact
//	torquewalk -plan | -meaning | -history | -drawings FOLDER [PLAN.toml]
//	torquewalk -takeover "NAME: REASON" [PLAN.toml]           go on with what is there
//	torquewalk -revise "NAME: REASON" [-choose "BOLT: CHOICE"] … [PLAN.toml]
//
// Without a plan it shows a demonstration, of an invented engine, whose ledger is kept in the folder
// of witnesses. A - in the place of the file is standard input. -help lists every option.
//
// The ledger belongs to the engine and the build that the file names. It stands beside the file,
// under its name or another, and is found by its work; a second copy of it, its witness, is kept
// in another folder. A ledger that is not there is never taken for a new one: starting one is an
// act of its own, which says which bolts were turned already. If ledger and witness do not agree,
// or one of them is not there, the program says which bolts may have been turned, and goes on
// only when somebody takes over what is there.
//
// Each call records one fact: a step is begun in one call, before the wrench moves, and its end
// is said in another. A step whose end was not said stays begun.
//
// With -job the file is a job file of shortblock, and the plan is that of its final assembly, or
// with -phase trial that of its trial assembly. Before each step is begun the job is read again,
// and its gate asked: while something that must be known is not proven, no step is offered.
// Somebody may go on against the gate all the same, which the ledger records. A bolt that the job
// holds is not tightened until a new one is recorded in its place.
//
// The exit status is 0 if what was asked was done and the work may go on; 1 if it may not: the
// plan, its ledger or the job's gate does not allow it, a check was answered no, a bolt is in
// trouble, the ledger is not started, in use by another program, or no longer knows; 2 if the
// input is wrong, or a file cannot be read or written.
package main

import (
	_ "embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strconv"
	"strings"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/page"
	"example.com/closefit/examples/kit/version"
	"example.com/closefit/examples/kit/walk"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
)

// The exit statuses.
const (
	done       = 0
	notAllowed = 1
	badInput   = 2
)

//go:embed demonstration.toml
var demonstration []byte

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// run is the program with its surroundings given, for tests.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	err := torquewalk(args, stdin, stdout, stderr)
	if err == nil || errors.Is(err, flag.ErrHelp) {
		return done
	}
	text := err.Error()
	if !errors.As(err, new(stopped)) { // which was said in full
		for _, c := range after(err) {
			text += "\n" + c.String()
		}
	}
	for _, line := range strings.Split(text, "\n") {
		for _, part := range wrapped("torquewalk: "+line, stderr) {
			fmt.Fprintln(stderr, part)
		}
	}
	for _, kind := range stops {
		if errors.Is(err, kind) {
			return notAllowed
		}
	}
	return badInput
}

// wrapped breaks a line for a terminal; elsewhere it stays whole.
func wrapped(line string, w io.Writer) []string {
	if !isTerminal(w) {
		return []string{line}
	}
	return page.Wrap(line, columns(w))
}

// The kinds of error of the program's own.
var (
	errNotFinished = errors.New("left before the end: call again to go on")
	errStop        = errors.New("STOP")
)

// stops are the kinds of error for which the work may not go on as it is.
var stops = []error{errNotFinished, errStop, ledger.ErrRefused, ledger.ErrUnsure, ledger.ErrNotStarted, ledger.ErrDamaged,
	ledger.ErrOtherWork, ledger.ErrOtherPlan, ledger.ErrLocked}

func torquewalk(args []string, stdin io.Reader, stdout, stderr io.Writer) error {
	o, err := parse(args, stdin, stderr)
	if err != nil {
		return err
	}
	if o.shown {
		_, err := io.WriteString(stdout, version.Line("torquewalk"))
		return err
	}
	c := &program{options: o, stdin: stdin, stdout: stdout}
	if err := c.read(); err != nil {
		return err
	}
	if !o.act.planAlone {
		if err := c.find(); err != nil {
			return err
		}
	}
	return o.act.run(c)
}

// atTerminal asks at the terminal.
func atTerminal(c *program) error {
	session := walk.Session{Home: c.home, Work: c.work, Plan: c.plan, Notice: c.notice, In: c.stdin, Out: c.stdout,
		Clear: isTerminal(c.stdout), Columns: columns(c.stdout), Gate: c.gate, Bolts: c.bolts}
	if c.gate == nil && !c.builtIn {
		session.Reread = c.reread
	}
	finished, err := session.Run()
	if err == nil && !finished {
		err = fmt.Errorf("%s: %w", c.home.Path, errNotFinished)
	}
	return err
}

// reread reads the plan as it is now.
func (c *program) reread() (*torque.Plan, error) {
	name, text, err := tomlfile.Load(c.name, nil)
	if err != nil {
		return nil, err
	}
	file, err := planfile.Read(name, text)
	if err != nil {
		return nil, err
	}
	return file.Plan, nil
}

// isTerminal reports whether w is a terminal that knows more than plain text.
func isTerminal(w io.Writer) bool {
	file, is := w.(*os.File)
	if !is || os.Getenv("TERM") == "dumb" {
		return false
	}
	info, err := file.Stat()
	return err == nil && info.Mode()&fs.ModeCharDevice != 0
}

// columns returns how wide the terminal is: as its environment says, else as it says
// itself, else 80.
func columns(w io.Writer) int {
	n, err := strconv.Atoi(os.Getenv("COLUMNS"))
	if file, is := w.(*os.File); is && err != nil {
		n = terminalWidth(file)
	}
	if n < 20 {
		return 80
	}
	return n
}
