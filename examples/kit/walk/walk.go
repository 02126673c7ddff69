package walk

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
)

// A Session is one walk along a plan at a terminal. It opens the ledger of the work, or, where
// there is none, asks what has to be known before one is started.
type Session struct {
	Home    ledger.Home
	Work    ledger.Work
	Plan    *torque.Plan
	Notice  string // what else to say at the beginning, such as where the ledger was found
	In      io.Reader
	Out     io.Writer
	Clear   bool  // clear the screen before each picture, with the escape sequences of ECMA-48
	Columns int   // how wide the screen is; 80 if zero
	Gate    *Gate // asked before each step; nil where no job stands behind the plan
	Bolts   Bolts // what is known of the bolts, to hold against it what a pull reached

	// Reread reads the plan as it is now, before each step; nil where its file cannot change, or
	// the Gate reads it.
	Reread func() (*torque.Plan, error)
}

// Run walks until the plan is finished, the user leaves or the input ends, and returns whether
// the plan is finished. A step that is begun then stays begun, and is asked about first when the
// walk goes on. Errors of the ledger that end the walk are returned; a step that the ledger
// refuses is said and asked again.
func (s Session) Run() (finished bool, err error) {
	if s.Columns == 0 {
		s.Columns = 80
	}
	w := &walker{Session: s, screen: newScreen(s.In, s.Out, s.Columns, s.Clear)}
	w.ledger, err = ledger.Open(s.Home, s.Work, s.Plan)
	if errors.Is(err, ledger.ErrNotStarted) {
		w.ledger, err = w.start()
	}
	if err != nil || w.ledger == nil {
		return false, err
	}
	defer func() { err = errors.Join(err, w.ledger.Close()) }()
	if step, ok := w.ledger.Next(); ok && w.ledger.Status(step.Number) == ledger.Begun {
		w.earlier = step.Number
	}
	again := false
	if err = w.look(); err == nil {
		again = w.cautions()
	}
	for again && err == nil {
		again, err = w.step()
	}
	_, more := w.ledger.Next()
	return !more && err == nil, err
}

// walker is a session under way.
type walker struct {
	Session
	*screen
	ledger  *ledger.Ledger
	last    string       // what the ledger records last
	using   *ledger.Tool // the tool that it records last; nil if none
	said    string       // what to say above the next picture
	earlier int          // the step that was found begun; 0 if none
	pulled  int          // the step of which it was said that it may be pulled; 0 if none
	asked   bool         // for the tool
	by      string       // who pulls; empty if nobody said
}

// cautions says what has to be said before the first step.
func (w *walker) cautions() (again bool) {
	w.head()
	w.say("%s, plan %.12s", w.Plan.Name(), w.Plan.Digest())
	w.say("Ledger: %s", w.ledger.Path)
	for _, said := range append([]string{w.Notice}, w.ledger.Said...) {
		if said != "" {
			w.say("%s", said)
		}
	}
	w.print("\n")
	for _, caution := range w.Plan.Cautions() {
		w.hang("! ", caution)
	}
	if w.Gate != nil && w.Gate.Phase == job.Trial {
		w.hang("! ", "This is the trial assembly: everything in it comes off again.")
	}
	w.hang("! ", "Pull only when the screen says BEGUN. Then say only what is sure. If nobody knows, say so: the program takes the safer way.")
	w.print("\n")
	answer, ok := w.ask(choice{"Return", "go on"}, choice{"q", "leave"})
	return ok && answer != "q"
}

// head begins a picture with the work, what has been done and what is next.
func (w *walker) head() { w.top(len(w.ledger.Troubles()) > 0) }

// top is head; where something holds all else it offers no step.
func (w *walker) top(held bool) {
	w.wipe()
	w.say("%s", w.Work)
	done, skipped, of := w.ledger.Counts()
	w.say("%d of %d done%s.", done, of, Skipped(skipped))
	if w.last != "" {
		w.say("Last: %s", w.last)
	}
	switch next, ok := w.ledger.Next(); {
	case held:
		w.say("Next: nothing, before what is wrong is put right.")
	case !ok:
	default:
		word, what := "Next", next.String()
		if w.ledger.Status(next.Number) == ledger.Begun {
			word = "BEGUN"
		}
		if next.IsPause() { // its text stands below
			what = fmt.Sprintf("%d. %s", next.Number, next.Brief())
		}
		w.say("%s: %s", word, what)
	}
	w.print("\n")
	w.tellSaid()
}

// tellSaid says what was to be said above the next picture.
func (w *walker) tellSaid() {
	if w.said != "" {
		w.say("%s\n", w.said)
		w.said = ""
	}
}

// look reads the whole ledger and its witness as they are now. An error means that they were
// changed under the program, and nothing is shown as done that they do not hold.
func (w *walker) look() error {
	_, entries, err := ledger.Read(w.Home, w.Work)
	if err == nil {
		w.last, w.using = Last(entries), ToolOf(entries)
	}
	return err
}

// step shows what is next and takes one answer; again is false when the walk is over.
func (w *walker) step() (again bool, err error) {
	if err := w.look(); err != nil {
		w.big("Stop", 1)
		return false, err
	}
	if len(w.ledger.Troubles()) > 0 {
		return w.troubles()
	}
	step, ok := w.ledger.Next()
	if !ok {
		w.finish()
		return false, nil
	}
	status := w.ledger.Status(step.Number)
	_, waits := torque.As[torque.Wait](step.Do)
	switch {
	case status == ledger.Begun && waits:
		return w.waiting(step)
	case status == ledger.Begun && !step.IsPause():
		return w.ending(step)
	}
	w.earlier, w.pulled = 0, 0
	if status != ledger.Begun {
		if err := w.edited(); err != nil {
			return w.unread("The plan", err)
		}
	}
	if w.Gate != nil && status != ledger.Begun {
		gate, err := w.Gate.Ask(w.ledger, step)
		if err != nil {
			return w.unread("The job", err)
		}
		if !gate.Passes() {
			return w.shut(gate, step)
		}
	}
	if w.needsTool(step) {
		return w.tool()
	}
	w.head()
	if status == ledger.Failed {
		w.say("STOP. It was answered no. Nothing goes on until it is put right and answered yes.\n")
	}
	w.picture(step)
	switch {
	case waits:
		w.say("Do not wait yet.")
		return w.begins(step, "record that the wait begins")
	case step.IsPause():
		return w.check(step, status)
	}
	if step.Mark {
		w.say("Mark %s first, across its head and the part.", step.Bolt)
	}
	if wrong := SetWrong(w.using, step); wrong != "" {
		w.say("%s Type t for that.\n", wrong)
	}
	w.say("Do not pull yet.")
	return w.begins(step, "record that it begins")
}

// picture shows a step large, and the pattern with it.
func (w *walker) picture(step torque.Step) {
	if step.IsPause() {
		w.big(step.Brief(), 2)
		if _, waits := torque.As[torque.Wait](step.Do); !waits {
			w.say("%s", step.Do)
		}
		return
	}
	w.big(step.Bolt, 2)
	w.big(step.Brief(), 2)
	w.say("%s, stage %d", step.Group, step.Stage)
	for _, line := range pattern(w.ledger, step, w.Columns) {
		w.print("%s\n", line)
	}
	w.print("\n")
}

// begins asks whether a step may be recorded as begun.
func (w *walker) begins(step torque.Step, what string) (again bool, err error) {
	answer, ok := w.ask(choice{"Return", what}, choice{"m", "something else happened"}, choice{"q", "leave"})
	switch {
	case !ok || answer == "q":
		return false, nil
	case answer == "":
		return w.begin(step)
	}
	return w.else_(answer)
}

// edited returns an error if the plan's file is not as the ledger has it, or cannot be read.
func (w *walker) edited() error {
	if w.Reread == nil {
		return nil
	}
	plan, err := w.Reread()
	if err != nil {
		return err
	}
	if is, was := plan.Digest(), w.ledger.Plan.Digest(); is != was {
		return fmt.Errorf("%w: the plan was changed while it was walked: it is %.12s now, and the ledger's is %.12s; put it back as it was, or leave and lay the new one against the ledger: -revise \"NAME: REASON\"", ledger.ErrOtherPlan, is, was)
	}
	return nil
}

// begin asks the plan and the gate once more, for they may have been edited while the step was shown,
// and records what the gate says and that the step is begun.
func (w *walker) begin(step torque.Step) (again bool, err error) {
	if err := w.edited(); err != nil {
		return w.unread("The plan", err)
	}
	if w.Gate != nil {
		gate, err := w.Gate.Ask(w.ledger, step)
		if err != nil {
			return w.unread("The job", err)
		}
		if !gate.Passes() {
			w.said = "STOP. The job was changed while this step was shown."
			return true, nil
		}
		if again, err := w.tell(gate.Record(w.ledger)); err != nil || w.said != "" {
			return again, err
		}
	}
	return w.tell(w.ledger.Begin(step.Number))
}

// check takes the answer to a check. A check that was answered no is asked again: nothing goes
// on before it is answered yes.
func (w *walker) check(step torque.Step, status ledger.Status) (again bool, err error) {
	answer, ok := w.ask(choice{"y", "yes, it is so"}, choice{"n", "no, it is not"}, choice{"?", "I do not know"}, choice{"m", "something else happened"}, choice{"q", "leave"})
	switch {
	case !ok || answer == "q":
		return false, nil
	case answer == "?":
		w.said = "Then look again, or ask somebody who knows. Nothing goes on before."
		return true, nil
	case answer != "y" && answer != "n":
		return w.else_(answer)
	}
	if status != ledger.Begun {
		if again, err := w.begin(step); err != nil || w.said != "" {
			return again, err
		}
	}
	if answer == "n" {
		return w.tell(w.ledger.No(step.Number))
	}
	return w.tell(w.ledger.Done(step.Number, ledger.Reached{By: w.by}))
}

// waiting waits for a wait that is begun, by a clock that nobody can set, and records that it is
// done.
func (w *walker) waiting(step torque.Step) (again bool, err error) {
	w.head()
	w.picture(step)
	for _, c := range []choice{{"skip", "go on without the rest, which is recorded"}, {"again", "wait again from the beginning"}, {"q", "leave; the time goes on"}} {
		w.hang(fmt.Sprintf(" %-5s  ", c.key), c.means)
	}
	for first := true; ; first = false {
		over, ok := w.ledger.WaitOver()
		if !ok {
			return true, nil
		}
		left := time.Until(over)
		if left <= 0 {
			again, err := w.tell(w.ledger.Done(step.Number, ledger.Reached{By: w.by}))
			if w.said == "" {
				w.said = "The time is over."
			}
			return again, err
		}
		tick := left
		if w.clear {
			tick = min(left, time.Second)
			w.print("\rTime left: %-12s > ", rounded(left))
		} else if first {
			w.print("Time left: %s\n> ", rounded(left))
		}
		answer, ok, late := w.wait(tick)
		switch {
		case late:
		case !ok || answer == "q":
			w.print("\n")
			return false, nil
		case answer == "skip":
			return w.tell(w.ledger.Skip(step.Number))
		case answer == "again":
			return w.tell(w.ledger.Mishap(ledger.What{Mishap: ledger.NotMoved, Step: step.Number}))
		default:
			return w.noAnswer(answer)
		}
	}
}

// rounded is a time to wait in whole seconds, never too little.
func rounded(d time.Duration) time.Duration {
	return (d + time.Second - 1).Truncate(time.Second)
}

// finish says what follows when all is done.
func (w *walker) finish() {
	w.head()
	w.big("All done", 2)
	done, skipped, of := w.ledger.Counts()
	if skipped > 0 {
		w.say("%d of the %d steps are done, and %d skipped: see what the manual says of waits cut short. It is recorded in %s.", done, of, skipped, w.ledger.Path)
	} else {
		w.say("Every one of the %d steps is recorded as done in %s.", of, w.ledger.Path)
	}
	if w.Gate == nil {
		return
	}
	gate, err := w.Gate.Ask(w.ledger, torque.Step{})
	if err != nil { // what is done is done
		gate.End = fmt.Sprintf("What follows the %s is not known, because the job cannot be read: %v", w.Gate.Phase, err)
	}
	w.say("%s", gate.End)
}

// unread says why the plan or the job cannot be gone by, as while it is being edited, and offers
// nothing until it can.
func (w *walker) unread(what string, err error) (again bool, fatal error) {
	w.top(true)
	w.big("Stop", 1)
	w.say("%s is not as it was, or cannot be read, so no step is offered.\n%v\n", what, err)
	if answer, ok := w.ask(choice{"Return", "read it again"}, choice{"q", "leave"}); !ok || answer == "q" {
		return false, err
	}
	return true, nil
}

// shut says why the step is not offered, and takes what can be done about it.
func (w *walker) shut(gate Answer, step torque.Step) (again bool, err error) {
	w.top(true)
	w.big("Stop", 1)
	w.say("%s\n", gate.Why(step))
	choices := []choice{{"Return", "ask the job again"}, {"r BOLT", "a new bolt is fitted"}}
	if gate.Against == nil && !gate.Gate.Open {
		choices = append(choices, choice{"against NAME: REASON", "go on all the same, which is recorded; not with a bolt that is held"})
	}
	answer, ok := w.ask(append(choices, choice{"q", "leave"})...)
	if !ok || answer == "q" {
		return false, nil
	}
	switch command, rest, _ := strings.Cut(answer, " "); command {
	case "":
		return true, nil
	case "r":
		if rest == "" {
			rest = step.Bolt
		}
		return w.mend(rest, fitted)
	case "against":
		word, err := ledger.ParseWord(rest)
		if err != nil {
			w.said = err.Error()
			return true, nil
		}
		return w.tell(gate.GoAgainst(w.ledger, word))
	}
	return w.noAnswer(answer)
}

// noAnswer says that nothing is recorded by what was typed.
func (w *walker) noAnswer(answer string) (again bool, err error) {
	w.said = fmt.Sprintf("%q is not an answer, and nothing is recorded. Type what stands on the left.", answer)
	if answer == "" {
		w.said = "Return alone is not an answer here. Type what stands on the left."
	}
	return true, nil
}

// tell says what the ledger refuses; an error after which the ledger takes nothing more ends the
// walk.
func (w *walker) tell(err error) (again bool, fatal error) {
	switch {
	case errors.Is(err, ledger.ErrRefused), errors.Is(err, ledger.ErrNotInPlan):
		w.said = err.Error()
	case err != nil:
		w.big("Stop", 1)
		return false, err
	}
	return true, nil
}
