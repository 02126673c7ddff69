package walk

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"example.com/closefit/examples/kit/drawing"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
)

// A Session is one walk along a plan. It neither opens nor closes the ledger.
type Session struct {
	Ledger  *ledger.Ledger
	In      io.Reader
	Out     io.Writer
	Clear   bool  // clear the screen before each step, with the escape sequences of ECMA-48
	Columns int   // how wide the screen is; 80 if zero
	Gate    *Gate // asked before each step; nil where no job stands behind the plan
}

// ErrLeft is the error of a walk whose input ended while a step was begun. What became
// of the step is not known, so the ledger should be abandoned, not closed.
var ErrLeft = errors.New("the input ended while a step was begun")

// Run walks until the plan is finished, the user leaves or the input ends. It
// returns whether the plan is finished. Errors of the ledger that end the walk, and
// ErrLeft, are returned; a step that the ledger refuses is said and asked again.
func (s Session) Run() (finished bool, err error) {
	if s.Columns == 0 {
		s.Columns = 80
	}
	w := &walker{Session: s, lines: bufio.NewScanner(s.In)}
	if step, ok := s.Ledger.Next(); ok && s.Ledger.Status(step.Number) == ledger.Begun {
		w.earlier = step.Number
	}
	w.cautions()
	for {
		again, err := w.step()
		if err != nil || !again {
			_, more := s.Ledger.Next()
			return !more, err
		}
	}
}

// walker is a session under way.
type walker struct {
	Session
	lines   *bufio.Scanner
	said    string // what to say above the next step
	earlier int    // the step that was begun before this session; 0 if none
}

func (w *walker) print(format string, args ...any) { fmt.Fprintf(w.Out, format, args...) }

// cautions says what has to be said before the first step.
func (w *walker) cautions() {
	plan := w.Ledger.Plan
	done, _, of := w.Ledger.Counts()
	w.print("%s\n%d of %d steps done. Plan %.12s, ledger %s\n\n", plan.Name(), done, of, plan.Digest(), w.Ledger.Path)
	if torn := w.Ledger.TornTo; torn != "" {
		w.print("The ledger's last line was torn by a crash: nobody had been told that its step was recorded.\nIt was moved to %s.\n\n", torn)
	}
	for _, caution := range plan.Cautions() {
		for i, line := range drawing.Wrap(caution, w.Columns-2) {
			w.print("%s%s\n", [2]string{"! ", "  "}[min(i, 1)], line)
		}
	}
	if w.Gate != nil && w.Gate.Phase == job.Trial {
		w.print("! This is the trial assembly: everything in it comes off again.\n")
	}
	w.ask("\nReturn to go on: ")
}

// ask prints a prompt and returns the line typed; ok is false when the input has
// ended.
func (w *walker) ask(prompt string) (answer string, ok bool) {
	w.print("%s", prompt)
	if !w.lines.Scan() {
		w.print("\n")
		return "", false
	}
	return strings.TrimSpace(w.lines.Text()), true
}

// step shows what is next and takes one answer; again is false when the walk is over.
func (w *walker) step() (again bool, err error) {
	if w.Clear {
		w.print("\x1b[2J\x1b[H")
	}
	if w.said != "" {
		w.print("%s\n\n", w.said)
		w.said = ""
	}
	if turn, advice, doubt := w.Ledger.Trouble(); doubt {
		return w.trouble(turn, advice)
	}
	step, ok := w.Ledger.Next()
	if !ok {
		w.show("All done")
		done, skipped, of := w.Ledger.Counts()
		if skipped > 0 {
			w.print("%d of the %d steps are done, and %d skipped: see what the manual says of waits cut short. It is recorded in %s.\n",
				done, of, skipped, w.Ledger.Path)
		} else {
			w.print("Every one of the %d steps is done and recorded in %s.\n", of, w.Ledger.Path)
		}
		w.finish()
		return false, nil
	}
	if w.Gate != nil && w.Ledger.Status(step.Number) != ledger.Begun {
		gate, err := w.Gate.Ask(w.Ledger, step)
		if err != nil {
			return w.unread(err)
		}
		if !gate.Passes() {
			return w.shut(gate, step)
		}
	}
	w.head(step)
	if w.Ledger.Status(step.Number) == ledger.Begun {
		return w.end(step)
	}
	w.earlier = 0
	answer, ok := w.ask(w.prompt(step))
	if !ok {
		return false, nil
	}
	switch command, bolt, _ := strings.Cut(answer, " "); command {
	case "":
		return w.begin(step)
	case "r":
		return w.mend(bolt, "was replaced: its stages begin again", w.Ledger.Replace)
	case "l":
		return w.mend(bolt, "was backed off: its stages begin again", w.Ledger.Loosen)
	case "q":
		return false, nil
	}
	w.said = fmt.Sprintf("%q is none of the answers.", answer)
	return true, nil
}

// finish says what follows when all is done.
func (w *walker) finish() {
	if w.Gate == nil {
		return
	}
	gate, err := w.Gate.Ask(w.Ledger, torque.Step{})
	if err != nil { // what is done is done
		gate.End = fmt.Sprintf("What follows the %s is not known, because the job cannot be read: %v", w.Gate.Phase, err)
	}
	for _, line := range drawing.Wrap(gate.End, w.Columns) {
		w.print("%s\n", line)
	}
}

// begin asks the gate once more, for the job may have been edited while the step was shown,
// and records what it says and that the step is begun.
func (w *walker) begin(step torque.Step) (again bool, err error) {
	if w.Gate != nil {
		gate, err := w.Gate.Ask(w.Ledger, step)
		if err != nil {
			return w.unread(err)
		}
		if !gate.Passes() {
			w.said = "STOP. The job was changed while this step was shown."
			return true, nil
		}
		if again, err := w.tell(gate.Record(w.Ledger)); err != nil || w.said != "" {
			return again, err
		}
	}
	return w.tell(w.Ledger.Begin(step.Number))
}

// unread says why the gate cannot be asked, as while the job is being edited, and offers
// nothing until it can.
func (w *walker) unread(err error) (again bool, fatal error) {
	w.print("STOP. The gate cannot be asked, so no step is offered.\n%v\n", err)
	if answer, ok := w.ask("\nReturn: read the job again   q: leave\n> "); !ok || answer == "q" {
		return false, err
	}
	return true, nil
}

// shut says why the step is not offered, and takes what can be done about it.
func (w *walker) shut(gate Answer, step torque.Step) (again bool, err error) {
	w.show("Stop")
	for _, line := range strings.Split(gate.Why(step), "\n") {
		indent := line[:len(line)-len(strings.TrimLeft(line, " "))]
		for i, part := range drawing.Wrap(line, w.Columns-len(indent)-2) {
			w.print("%s%s%s\n", indent, [2]string{"", "  "}[min(i, 1)], part)
		}
	}
	prompt := "\nr BOLT: a new one is fitted   Return: ask the job again   q: leave\n"
	if gate.Against == nil && !gate.Gate.Open {
		prompt += "against NAME: REASON   go on all the same, which is recorded; not with a bolt that is held\n"
	}
	answer, ok := w.ask(prompt + "> ")
	if !ok {
		return false, nil
	}
	switch command, rest, _ := strings.Cut(answer, " "); command {
	case "":
		return true, nil
	case "q":
		return false, nil
	case "r":
		if rest == "" {
			rest = step.Bolt
		}
		return w.mend(rest, "was replaced: its stages begin again", w.Ledger.Replace)
	case "against":
		word, err := ParseAgainst(rest)
		if err != nil {
			w.said = err.Error()
			return true, nil
		}
		return w.tell(gate.GoAgainst(w.Ledger, word))
	}
	w.said = fmt.Sprintf("%q is not an answer.", answer)
	return true, nil
}

// prompt asks for what may be done before a step is begun.
func (w *walker) prompt(step torque.Step) string {
	what := "Return, then pull"
	if step.IsPause() {
		what = "Return to begin"
	}
	return what + "   r BOLT: it was replaced   l BOLT: it was backed off   q: leave\n> "
}

// end asks how a step that is begun ended.
func (w *walker) end(step torque.Step) (again bool, err error) {
	prompt := "BEGUN. When the whole pull is done: d   stopped part-way: s   bolt replaced: r\n> "
	_, checks := torque.As[torque.Inspection](step.Do)
	_, waits := torque.As[torque.Wait](step.Do)
	switch {
	case checks:
		prompt = "Yes, it is so: d   no, it is not: s\n> "
	case waits:
		if over, ok := w.Ledger.WaitOver(); ok {
			w.print("Not before %s.\n", over.Local().Format(time.TimeOnly))
		}
		prompt = "When the time is over: d   wait again from the beginning: s   go on without, which is recorded: skip\n> "
	}
	if step.Number == w.earlier && !step.IsPause() {
		for _, line := range drawing.Wrap("It was begun before this session. If nobody knows whether the whole pull was done, it was stopped part-way: s", w.Columns) {
			w.print("%s\n", line)
		}
	}
	answer, ok := w.ask(prompt)
	if !ok {
		return false, ErrLeft
	}
	switch {
	case answer == "d":
		return w.tell(w.Ledger.Done(step.Number))
	case answer == "skip" && waits:
		return w.tell(w.Ledger.Skip(step.Number))
	case answer == "s":
		if checks {
			w.said = "STOP. The check did not hold: " + step.Do.String()
		}
		return w.tell(w.Ledger.Stop(step.Number))
	case answer == "r" && !step.IsPause():
		return w.mend(step.Bolt, "was replaced: its stages begin again", w.Ledger.Replace)
	case answer == "q":
		w.said = "First say how this step ended: d or s."
	default:
		w.said = fmt.Sprintf("%q is none of the answers: it has to be known whether this was done.", answer)
	}
	return true, nil
}

// trouble asks about a bolt in doubt.
func (w *walker) trouble(turn torque.Step, advice string) (again bool, err error) {
	w.show("Stop", strings.ToUpper(turn.Bolt)+" ?")
	for _, line := range drawing.Wrap(advice, w.Columns) {
		w.print("%s\n", line)
	}
	w.print("\n%s\n\n", strings.Join(pattern(w.Ledger, turn, w.Columns), "\n"))
	prompt := "r: a new bolt is fitted   l: it was backed off until it turns freely   q: leave\n> "
	if turn.Spends {
		prompt = "r: a new bolt is fitted   q: leave\n> "
	}
	answer, ok := w.ask(prompt)
	switch {
	case !ok || answer == "q":
		return false, nil
	case answer == "r":
		return w.mend(turn.Bolt, "was replaced: its stages begin again", w.Ledger.Replace)
	case answer == "l":
		return w.mend(turn.Bolt, "was backed off: its stages begin again", w.Ledger.Loosen)
	}
	w.said = fmt.Sprintf("%q is none of the answers.", answer)
	return true, nil
}

// mend records that a bolt was replaced or backed off.
func (w *walker) mend(bolt, what string, record func(bolt string) error) (again bool, err error) {
	if again, err := w.tell(record(bolt)); err != nil || w.said != "" {
		return again, err
	}
	w.said = bolt + " " + what + "."
	return true, nil
}

// tell says what the ledger refuses; any other error of the ledger ends the walk.
func (w *walker) tell(err error) (again bool, fatal error) {
	if errors.Is(err, ledger.ErrStorage) {
		return false, err
	}
	if err != nil {
		w.said = err.Error()
	}
	return true, nil
}

// head shows a step large, and the pattern with it.
func (w *walker) head(step torque.Step) {
	stage := "first"
	if step.Stage > 0 {
		stage = fmt.Sprintf("stage %d", step.Stage)
	}
	done, _, of := w.Ledger.Counts()
	trial := ""
	if w.Gate != nil && w.Gate.Phase == job.Trial {
		trial = "TRIAL ASSEMBLY   "
	}
	w.print("%sStep %d of %d   %s, %s   %d done\n\n", trial, step.Number, of, step.Group, stage, done)
	if !step.IsPause() {
		w.show(strings.ToUpper(step.Bolt))
	}
	w.show(step.Brief())
	for _, line := range drawing.Wrap(step.String(), w.Columns) {
		w.print("%s\n", line)
	}
	if !step.IsPause() {
		w.print("\n%s\n", strings.Join(pattern(w.Ledger, step, w.Columns), "\n"))
	}
	w.print("\n")
}

// show prints two texts large.
func (w *walker) show(texts ...string) {
	for _, text := range texts {
		w.print("%s\n", strings.Join(large(text, w.Columns), "\n"))
	}
}
