// Torquewalk walks a tightening plan, one pull at a time, and keeps a ledger that an
// interruption cannot confuse.
//
//	torquewalk [-ledger FILE] [PLAN.toml]
//	torquewalk [-ledger FILE] -next | -begin ID | -done ID | -skipped ID | -stopped ID | -replaced BOLT | -loosened BOLT [PLAN.toml]
//	torquewalk [-ledger FILE] -plan | -history | -drawings FOLDER [PLAN.toml]
//	torquewalk -job [-phase trial|final] [-against "NAME: REASON"] ... JOB.toml
//
// Without a plan it shows a demonstration, of an invented engine. A - in the place of the file
// is standard input. The ledger stands beside the file.
//
// With -job the file is a job file of shortblock, and the plan is that of its final assembly,
// or with -phase trial that of its trial assembly. Before each step is begun the job is read
// again, and its gate asked: while something that must be known is not proven, no step is
// offered. Somebody may go on against the gate all the same, which the ledger records. A bolt
// that the job holds is not tightened until a new one is recorded in its place.
//
// The exit status is 0 if what was asked was done; 1 if the plan, its ledger or the job's gate
// does not allow it (a step out of order, done already, or on a bolt in doubt, a wait that is
// not over); 2 if the input is wrong.
package main

import (
	_ "embed"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"example.com/closefit/examples/kit/drawing"
	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/job"
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
	fmt.Fprintf(stderr, "torquewalk: %s\n", strings.ReplaceAll(err.Error(), "\n", "\ntorquewalk: "))
	if errors.Is(err, ledger.ErrRefused) || errors.Is(err, errNotFinished) {
		return notAllowed
	}
	return badInput
}

// errNotFinished is the error of a walk that was left before its end.
var errNotFinished = errors.New("left before the end: call again to go on")

// options are what the command line asks for.
type options struct {
	ledger   string
	job      bool
	format   string
	next     bool
	plan     bool
	history  bool
	drawings string
	what     string // begin, done, skipped, stopped, replaced, loosened or against
	on       string // the step, the bolt, or who goes on against the gate and why

	name   string // of the plan's file
	text   []byte
	folder fs.FS      // that it lies in; nil if it lies in none
	phase  job.Phase  // of a job
	gate   *walk.Gate // of a job; nil of a plan alone
}

func torquewalk(args []string, stdin io.Reader, stdout, stderr io.Writer) error {
	o, err := parse(args, stdin, stderr)
	if err != nil {
		return err
	}
	plan, end, err := o.read()
	if err != nil {
		return err
	}
	switch {
	case o.plan:
		return printPlan(stdout, o, plan, end)
	case o.history:
		return printHistory(stdout, o.ledger, plan)
	case o.drawings != "":
		return writeDrawings(o.drawings, plan, o.ledger, stdout)
	case o.next:
		return sayNext(stdout, o, plan)
	case o.what != "":
		return record(stdout, o, plan)
	}
	return walkPlan(stdin, stdout, o, plan)
}

// parse reads the command line and the plan that it names, from standard input if that is "-".
func parse(args []string, stdin io.Reader, stderr io.Writer) (o options, err error) {
	flags := flag.NewFlagSet("torquewalk", flag.ContinueOnError)
	flags.SetOutput(io.Discard) // errors are said once, by run
	flags.StringVar(&o.ledger, "ledger", "", "keep the ledger in `FILE`; else beside the plan, in its name with .ledger at the end, or .trial.ledger")
	flags.BoolVar(&o.job, "job", false, "the file is a job file of shortblock, and its tightening the plan; its gate is asked before each step")
	phase := flags.String("phase", "", "the `phase` of the job: trial, or final if it is not said")
	flags.StringVar(&o.format, "format", "text", "`form` of what -next says: text or json")
	flags.BoolVar(&o.next, "next", false, "say what is next, and record nothing")
	flags.BoolVar(&o.plan, "plan", false, "print the whole plan")
	flags.BoolVar(&o.history, "history", false, "print what the ledger records, and when it happened")
	flags.StringVar(&o.drawings, "drawings", "", "write a drawing of each part, in SVG, to `FOLDER`")
	asked := 0
	for _, what := range []struct{ name, usage string }{
		{"begin", "record that step `ID` is begun, before the wrench moves"},
		{"done", "record that step `ID` is done"},
		{"skipped", "record that step `ID`, a wait, is cut short knowingly"},
		{"stopped", "record that step `ID` was stopped part-way"},
		{"replaced", "record that a new `BOLT` is fitted"},
		{"loosened", "record that `BOLT` was backed off until it turns freely"},
		{"against", "go on against the job's gate, and record it: `\"NAME: REASON\"`"},
	} {
		flags.Func(what.name, what.usage, func(on string) error {
			o.what, o.on = what.name, on
			asked++
			return nil
		})
	}
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			usage(flags, stderr)
			return o, err
		}
		return o, fmt.Errorf("%w; -help shows what can be asked", err)
	}
	for _, also := range []bool{o.next, o.plan, o.history, o.drawings != ""} {
		if also {
			asked++
		}
	}
	switch {
	case asked > 1:
		return o, errors.New("more than one thing asked at once; ask one at a time")
	case o.format != "text" && o.format != "json":
		return o, fmt.Errorf("-format %q; write text or json", o.format)
	case !o.job && (*phase != "" || o.what == "against"):
		return o, errors.New("a plan alone has no phases and no gate; give -job and a job file")
	}
	if o.phase = job.Final; *phase == "trial" {
		o.phase = job.Trial
	} else if *phase != "" && *phase != "final" {
		return o, fmt.Errorf("-phase %q; write trial or final", *phase)
	}
	piped := false // from standard input
	switch flags.NArg() {
	case 0:
		o.name, o.text = "demonstration.toml", demonstration
		if o.job {
			return o, errors.New("-job without a file; name the job file")
		}
	case 1:
		if o.name, o.text, err = tomlfile.Load(flags.Arg(0), stdin); err != nil {
			return o, err
		}
		o.folder = tomlfile.Folder(flags.Arg(0))
		switch piped = flags.Arg(0) == "-"; {
		case piped && asked == 0:
			return o, errors.New("a walk reads its answers from standard input, and the plan comes from there: put the plan in a file, or ask for -plan or -next")
		case piped && o.ledger == "" && !o.plan:
			return o, errors.New("a plan from standard input has no name to call its ledger by; name that with -ledger FILE")
		}
	default:
		return o, fmt.Errorf("%d plans (%s); name one, after the options", flags.NArg(), strings.Join(flags.Args(), ", "))
	}
	if o.ledger == "" && !(piped && o.plan) {
		o.ledger = strings.TrimSuffix(o.name, filepath.Ext(o.name)) + map[job.Phase]string{job.Trial: ".trial.ledger", job.Final: ".ledger"}[o.phase]
	}
	if o.job {
		o.gate = &walk.Gate{Phase: o.phase, Read: func() (*job.Job, error) {
			if piped {
				return job.ReadBeside(o.folder, o.name, o.text)
			}
			name, text, err := tomlfile.Load(o.name, nil) // as it is now
			if err != nil {
				return nil, err
			}
			return job.ReadBeside(o.folder, name, text)
		}}
	}
	return o, nil
}

func usage(flags *flag.FlagSet, w io.Writer) {
	fmt.Fprint(w, `usage: torquewalk [options] [PLAN.toml]

Walks a tightening plan one pull at a time and keeps a ledger of it. Without one of
-next, -begin, -done, -skipped, -stopped, -replaced, -loosened, -against, -plan, -history and
-drawings it asks at the terminal. With -job it asks the job's gate before each step. Exit status
0: done; 1: the plan, its ledger or the gate does not allow it; 2: the input is wrong. The engine
maker's manual and licensed practice come first.

`)
	flags.SetOutput(w)
	flags.PrintDefaults()
}

// read makes the plan, and says what follows its end.
func (o options) read() (plan *torque.Plan, end string, err error) {
	if o.gate == nil {
		plan, err = planfile.Read(o.name, o.text)
		return plan, "", err
	}
	j, err := job.ReadBeside(o.folder, o.name, o.text)
	if err != nil {
		return nil, "", err
	}
	if plan, end, err = walk.PlanOf(j, o.phase); err != nil {
		return nil, "", fmt.Errorf("%s: %w", o.name, err)
	}
	return plan, end, nil
}

// printPlan prints the plan, and of a job what holds it and what follows.
func printPlan(w io.Writer, o options, plan *torque.Plan, end string) error {
	var b strings.Builder
	b.WriteString(plan.Text() + "\n")
	if end != "" {
		b.WriteString(end + "\n\n")
	}
	for _, caution := range plan.Cautions() {
		b.WriteString("! " + caution + "\n")
	}
	if o.gate != nil {
		l, err := readIfThere(o.ledger, plan)
		if err != nil {
			return err
		}
		a, err := o.gate.Ask(l, torque.Step{})
		if err != nil {
			return err
		}
		for _, held := range a.Held {
			b.WriteString("! HELD " + held + "\n")
		}
		if !a.Gate.Open {
			fmt.Fprintf(&b, "! The gate before the %s is shut: %d not proven. -next lists them.\n", o.phase, len(a.Gate.Shut))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// readIfThere reads a ledger; nil if there is none.
func readIfThere(path string, plan *torque.Plan) (*ledger.Ledger, error) {
	l, _, err := ledger.Read(path, plan)
	if path == "" || errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return l, err
}

// printHistory prints the ledger's lines with what their steps ask for.
func printHistory(w io.Writer, path string, plan *torque.Plan) error {
	_, entries, err := ledger.Read(path, plan)
	if err != nil {
		return err
	}
	var b strings.Builder
	for _, e := range entries {
		on := e.Bolt
		if step, ok := plan.Step(e.Step); ok {
			on = step.String()
		}
		if e.Text != "" {
			on = walk.Said(e.Text)
		}
		fmt.Fprintf(&b, "%s  %-8s  %s\n", e.Time.Local().Format(time.DateTime), e.What, on)
	}
	_, err = io.WriteString(w, b.String())
	return err
}

// writeDrawings writes a file for each part: the plan's drawings, or, once there is a
// ledger, those of what is done.
func writeDrawings(folder string, plan *torque.Plan, path string, stdout io.Writer) error {
	drawings := drawing.Of(plan)
	switch l, _, err := ledger.Read(path, plan); {
	case err == nil:
		drawings = drawing.OfLedger(l)
	case !errors.Is(err, fs.ErrNotExist):
		return err
	}
	for i, d := range drawings {
		path := filepath.Join(folder, fmt.Sprintf("drawing-%d.svg", i+1))
		if err := os.WriteFile(path, []byte(d.SVG), 0o644); err != nil {
			return err
		}
		fmt.Fprintf(stdout, "%s: %s\n", path, d.On)
	}
	return nil
}

// next is what is next, as -format json writes it.
type next struct {
	Finished bool   `json:"finished"`
	Step     int    `json:"step,omitempty"` // the ID for -begin and the others
	Status   string `json:"status,omitempty"`
	Group    string `json:"group,omitempty"`
	Stage    int    `json:"stage,omitempty"`
	Bolt     string `json:"bolt,omitempty"`
	Mark     bool   `json:"mark,omitempty"`
	Do       string `json:"do,omitempty"`
	Brief    string `json:"brief,omitempty"`
	Scrap    bool   `json:"scrap,omitempty"`
	Advice   string `json:"advice,omitempty"`
	NotUntil string `json:"not_until,omitempty"` // when a wait that is begun is over, RFC 3339
	Done     int    `json:"done"`
	Skipped  int    `json:"skipped"`
	Of       int    `json:"of"`
	Plan     string `json:"plan"` // its digest

	// Of a job. While the gate is shut, or the bolt is held, there is no step above.
	Phase   string        `json:"phase,omitempty"`
	Gate    *job.Gate     `json:"gate,omitempty"`
	Against *walk.Against `json:"against,omitempty"` // who goes on while it is shut
	Held    string        `json:"held,omitempty"`    // the bolt, which has to be replaced first
	Hold    string        `json:"hold,omitempty"`    // and why
	After   string        `json:"after,omitempty"`   // what follows the end of the plan

	why string // what does not let the step begin
}

// look returns what the ledger says is next. A ledger that is there is opened, so that
// what a crash left is seen as it is; one that another program holds, or that may not be
// written, is only read. Without one nothing is done.
func look(o options, plan *torque.Plan) (next, torque.Step, error) {
	n := next{Of: len(plan.Steps()), Plan: plan.Digest()}
	if !exists(o.ledger) {
		step, ok := plan.Step(1)
		n.take(step, ok, ledger.Pending)
		return n, step, n.ask(o.gate, nil, step)
	}
	l, err := ledger.Open(o.ledger, plan)
	if errors.Is(err, ledger.ErrLocked) || errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS) {
		l, _, err = ledger.Read(o.ledger, plan)
	}
	if err != nil {
		return n, torque.Step{}, err
	}
	n.Done, n.Skipped, _ = l.Counts()
	step, ok := l.Next()
	n.take(step, ok, l.Status(step.Number))
	if over, waits := l.WaitOver(); waits {
		n.NotUntil = over.Format(time.RFC3339)
	}
	if turn, advice, doubt := l.Trouble(); doubt {
		n.Scrap, n.Advice = turn.Spends, advice
	}
	if err := n.ask(o.gate, l, step); err != nil {
		return n, step, errors.Join(err, l.Close())
	}
	return n, step, l.Close()
}

// ask asks a job's gate, and takes the step back if it may not be begun.
func (n *next) ask(gate *walk.Gate, l *ledger.Ledger, step torque.Step) error {
	if gate == nil {
		return nil
	}
	a, err := gate.Ask(l, step)
	if err != nil {
		return err
	}
	n.Phase, n.Gate, n.Against, n.After = gate.Phase.String(), &a.Gate, a.Against, a.End
	if n.Finished || n.Status != ledger.Pending.String() || a.Passes() {
		return nil
	}
	n.why = a.Why(step)
	if a.Hold != "" {
		n.Held, n.Hold = step.Bolt, a.Hold
	}
	n.Step, n.Status, n.Group, n.Stage, n.Bolt, n.Mark, n.Do, n.Brief = 0, "", "", 0, "", false, "", ""
	return nil
}

// exists reports whether there is a file, or one that cannot be looked at.
func exists(path string) bool {
	_, err := os.Stat(path)
	return !errors.Is(err, fs.ErrNotExist)
}

// take notes the step that is next, if there is one.
func (n *next) take(step torque.Step, ok bool, status ledger.Status) {
	if n.Finished = !ok; ok {
		n.Step, n.Status, n.Group, n.Stage, n.Bolt = step.Number, status.String(), step.Group, step.Stage, step.Bolt
		n.Mark, n.Do, n.Brief = step.Mark, step.Do.String(), step.Brief()
	}
}

// sayNext says what is next. A bolt in doubt is an error once it is said.
func sayNext(w io.Writer, o options, plan *torque.Plan) error {
	n, step, err := look(o, plan)
	if err != nil {
		return err
	}
	if o.format == "json" {
		text, err := json.MarshalIndent(n, "", "  ")
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "%s\n", text)
	} else {
		sayText(w, n, step)
	}
	if n.why != "" {
		return fmt.Errorf("%s: %w: no step is offered", o.name, walk.ErrShut)
	}
	if n.Advice != "" {
		return fmt.Errorf("%s, step %d, bolt %q: %w: its turn was begun and not finished", o.ledger, step.Number, step.Bolt, ledger.ErrInDoubt)
	}
	return nil
}

func sayText(w io.Writer, n next, step torque.Step) {
	if n.Phase != "" {
		fmt.Fprintf(w, "%s\n", n.Phase)
	}
	switch {
	case n.why != "":
		fmt.Fprintf(w, "STOP. %s\n", n.why)
		if n.Held != "" {
			fmt.Fprintf(w, "to record a new bolt: -replaced %q\n", n.Held)
		}
		if !n.Gate.Open && n.Against == nil {
			fmt.Fprintln(w, `to go on against the gate, which is recorded: -against "NAME: REASON"`)
		}
	case n.Finished:
		fmt.Fprintf(w, "finished: %d of %d steps done%s\n", n.Done, n.Of, skipped(n.Skipped))
		if n.After != "" {
			fmt.Fprintln(w, n.After)
		}
	case n.Advice != "":
		fmt.Fprintf(w, "%s\nSTOP. %s\n", step, n.Advice)
	default:
		stage := "before the first stage"
		if n.Stage > 0 {
			stage = fmt.Sprintf("stage %d", n.Stage)
		}
		fmt.Fprintf(w, "%s\n%s; %s, %s; %d of %d steps done%s\n", step, n.Status, n.Group, stage, n.Done, n.Of, skipped(n.Skipped))
		if n.NotUntil != "" {
			fmt.Fprintf(w, "it is over at %s\n", n.NotUntil)
		}
		if _, turn := torque.As[torque.Turn](step.Do); turn && n.Status == ledger.Begun.String() {
			fmt.Fprintf(w, "if nobody knows whether the whole turn was given, record -stopped %d\n", n.Step)
		}
	}
}

// skipped says how many waits were skipped, if any were.
func skipped(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(", %d skipped", n)
}

// record tells the ledger what happened. A step other than a turn may be said to be
// done without having been begun: if its record is lost, doing it again does no harm.
func record(w io.Writer, o options, plan *torque.Plan) error {
	number := 0
	if o.what == "against" {
		return goAgainst(w, o, plan)
	}
	if o.what != "replaced" && o.what != "loosened" {
		var err error
		if number, err = strconv.Atoi(o.on); err != nil {
			return fmt.Errorf("-%s %q is no step; write its number", o.what, o.on)
		}
	}
	if first, _ := plan.Step(1); o.gate != nil && number == 1 && !exists(o.ledger) { // then a refusal leaves no ledger behind
		if _, err := allowed(o.gate, nil, first); err != nil {
			return err
		}
	}
	l, err := open(o.ledger, plan)
	if err != nil {
		return err
	}
	if torn := l.TornTo; torn != "" {
		fmt.Fprintf(w, "the ledger's last line was torn by a crash; it was moved to %s\n", torn)
	}
	err = tell(l, o.gate, o.what, number, o.on)
	if closed := l.Close(); err != nil || closed != nil {
		return errors.Join(err, closed)
	}
	fmt.Fprintf(w, "recorded: %s %s\n", o.on, o.what)
	return nil
}

// goAgainst records who goes on against the job's gate.
func goAgainst(w io.Writer, o options, plan *torque.Plan) error {
	word, err := walk.ParseAgainst(o.on)
	if err != nil {
		return fmt.Errorf("-against: %w", err)
	}
	l, err := open(o.ledger, plan)
	if err != nil {
		return err
	}
	a, err := o.gate.Ask(l, torque.Step{})
	if err == nil {
		err = a.GoAgainst(l, word)
	}
	if closed := l.Close(); err != nil || closed != nil {
		return errors.Join(err, closed)
	}
	fmt.Fprintf(w, "recorded: %s goes on against the gate; not proven: %d; bolts that are held stay held\n", word.By, len(a.Gate.Shut))
	return nil
}

// begin begins a step, if the job's gate lets it, and records what the gate says.
func begin(l *ledger.Ledger, gate *walk.Gate, number int) error {
	step, known := l.Plan.Step(number)
	if next, _ := l.Next(); gate == nil || !known || next.Number != number || l.Status(number) != ledger.Pending {
		return l.Begin(number) // which refuses what is not next
	}
	a, err := allowed(gate, l, step)
	if err != nil {
		return err
	}
	if err := a.Record(l); err != nil {
		return err
	}
	return l.Begin(number)
}

// allowed returns what the gate says before a step; the error wraps walk.ErrShut if the step
// may not be begun.
func allowed(gate *walk.Gate, l *ledger.Ledger, step torque.Step) (walk.Answer, error) {
	a, err := gate.Ask(l, step)
	if err == nil && !a.Passes() {
		err = fmt.Errorf("%w: %s", walk.ErrShut, a.Why(step))
	}
	return a, err
}

func tell(l *ledger.Ledger, gate *walk.Gate, what string, number int, bolt string) error {
	switch what {
	case "begin":
		return begin(l, gate, number)
	case "stopped":
		return l.Stop(number)
	case "replaced":
		return l.Replace(bolt)
	case "loosened":
		return l.Loosen(bolt)
	}
	end := l.Done
	if what == "skipped" {
		end = l.Skip
	}
	step, _ := l.Plan.Step(number)
	_, turns := torque.As[torque.Turn](step.Do)
	_, waits := torque.As[torque.Wait](step.Do)
	if turns || what == "skipped" && !waits || l.Status(number) != ledger.Pending {
		return end(number)
	}
	if err := begin(l, gate, number); err != nil {
		return err
	}
	if err := end(number); err != nil {
		return fmt.Errorf("step %d is begun now: %w", number, err)
	}
	return nil
}

// open opens a ledger, and waits a little for a program that is about to leave it.
func open(path string, plan *torque.Plan) (*ledger.Ledger, error) {
	for range 20 {
		l, err := ledger.Open(path, plan)
		if !errors.Is(err, ledger.ErrLocked) {
			return l, err
		}
		time.Sleep(50 * time.Millisecond)
	}
	return ledger.Open(path, plan)
}

// walkPlan asks at the terminal.
func walkPlan(stdin io.Reader, stdout io.Writer, o options, plan *torque.Plan) error {
	l, err := ledger.Open(o.ledger, plan)
	if err != nil {
		return err
	}
	finished, err := walk.Session{Ledger: l, In: stdin, Out: stdout, Clear: isTerminal(stdout), Columns: columns(stdout), Gate: o.gate}.Run()
	if err != nil {
		return errors.Join(err, l.Abandon())
	}
	if err := l.Close(); err != nil {
		return err
	}
	if !finished {
		return fmt.Errorf("%s: %w", o.ledger, errNotFinished)
	}
	return nil
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
