package ledger

import (
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"example.com/closefit/torque"
)

// progress is how far a plan has been carried out.
type progress struct {
	plan   *torque.Plan
	status []Status // of each step
	next   int      // the first step that is neither done nor skipped, as an index
	done   int      // how many are done
	skips  int      // how many are skipped
	open   int      // the number of the step that is begun or unknown; 0 if none
	held   bool     // the open step goes on outside the program

	began time.Time       // when the open step was begun
	late  time.Duration   // by how much later it may have been: the ledger writes whole seconds
	spent map[string]bool // the single-use bolts that are scrap once they are loosened

	replaced map[string]bool // the bolts in whose place a new one was fitted
	notes    []string
}

// newProgress returns the progress of a plan of which nothing is done.
func newProgress(p *torque.Plan) *progress {
	return &progress{plan: p, status: make([]Status, len(p.Steps())), spent: map[string]bool{}, replaced: map[string]bool{}}
}

// step returns the step of a number that the plan has.
func (p *progress) step(number int) torque.Step {
	s, _ := p.plan.Step(number)
	return s
}

func (p *progress) statusOf(number int) Status {
	if number < 1 || number > len(p.status) {
		return Pending
	}
	return p.status[number-1]
}

func (p *progress) finished() bool { return p.done+p.skips == len(p.status) }

func (p *progress) waitOver() (at time.Time, ok bool) {
	if p.open == 0 || p.statusOf(p.open) != Begun {
		return time.Time{}, false
	}
	wait, ok := torque.As[torque.Wait](p.step(p.open).Do)
	if !ok {
		return time.Time{}, false
	}
	return p.began.Add(p.late + wait.For), true
}

func (p *progress) nextStep() (s torque.Step, ok bool) {
	if p.finished() {
		return torque.Step{}, false
	}
	return p.step(p.next + 1), true
}

func (p *progress) trouble() (step torque.Step, advice string, doubt bool) {
	if p.open == 0 || p.statusOf(p.open) != Unknown {
		return torque.Step{}, "", false
	}
	step = p.step(p.open)
	if step.Spends {
		return step, fmt.Sprintf("Nobody knows how far %s was turned, and turning it again may take it too far. "+
			"Back it off and scrap it; fit a new bolt and say that it was replaced. Its stages then begin again.", step.Bolt), true
	}
	return step, fmt.Sprintf("Nobody knows how far %s was turned. "+
		"Back it off until it turns freely and say that it was loosened. Its stages then begin again with the first torque.", step.Bolt), true
}

// An event is what may happen to a plan's progress.
type event uint8

const (
	noEvent event = iota
	begin         // a step is begun
	hold          // the program ends while the step goes on
	finish        // a step is done
	stop          // a step is given up part-way
	lose          // the program ended without a word while the step went on
	skip          // a wait is cut short knowingly
	replace       // a new bolt is fitted
	loosen        // a bolt is backed off until it turns freely
	note          // something to remember, which changes nothing here
	events        // the number of events and noEvent
)

// eventWords are the events as the ledger writes them.
var eventWords = [events]string{begin: "begin", hold: "hold", finish: "done", stop: "stopped", lose: "lost", skip: "skipped", replace: "replaced", loosen: "loosened", note: "note"}

func (e event) String() string { return eventWords[e] }

// parseEvent returns the event of a word, or noEvent.
func parseEvent(word []byte) event {
	for e := begin; e < events; e++ {
		if eventWords[e] == string(word) {
			return e
		}
	}
	return noEvent
}

// A happening is an event with the step or the bolt that it concerns.
type happening struct {
	event event
	step  int    // 0 where a bolt is replaced or loosened
	bolt  string // empty for a pause
	text  string // of a note

	at   time.Time     // when; the zero time where nobody asks, as for the lines of a ledger that are read
	late time.Duration // by how much later it may have been
}

// check returns why h cannot happen now: an error without a path.
func (p *progress) check(h happening) error {
	switch h.event {
	case replace, loosen:
		return p.checkBolt(h)
	case note:
		return checkNote(h.text)
	default:
		return p.checkStep(h)
	}
}

// longestNote bounds a note, in bytes.
const longestNote = 32 << 10

// checkNote refuses what would break a line.
func checkNote(text string) error {
	fail := func(what, fix string) error { return fault{kind: ErrRefused, found: what, fix: fix}.err() }
	switch i := strings.IndexFunc(text, unicode.IsControl); {
	case text == "":
		return fail("an empty note", "say what there is to remember")
	case len(text) > longestNote:
		return fail(fmt.Sprintf("a note of %d bytes", len(text)), fmt.Sprintf("write at most %d", longestNote))
	case !utf8.ValidString(text):
		return fail("a note that is not UTF-8", "write it as UTF-8")
	case i >= 0:
		return fail(fmt.Sprintf("the character %U in a note", []rune(text[i:])[0]), "write it on one line, without tabs")
	}
	return nil
}

func (p *progress) checkStep(h happening) error {
	step, ok := p.plan.Step(h.step)
	if !ok {
		return fault{kind: ErrNotInPlan, found: fmt.Sprintf("the plan has no step %d", h.step), fix: fmt.Sprintf("name a step from 1 to %d", len(p.status))}.err()
	}
	fail := func(kind error, what, fix string) error {
		return fault{kind: kind, step: h.step, bolt: step.Bolt, found: what, fix: fix}.err()
	}
	switch status := p.statusOf(h.step); {
	case status == Done, status == Skipped:
		return fail(ErrRefused, "the step is "+status.String()+" already", "do not do it again; go on with the next step")
	case status == Unknown:
		_, advice, _ := p.trouble()
		return fail(ErrInDoubt, "its turn was begun and not finished", advice)
	case status == Begun && h.event == begin:
		return fail(ErrRefused, "the step is begun already", "say that it is done, or that it stopped part-way")
	case status == Begun:
		return p.checkEnd(h, step, fail)
	case h.event != begin:
		return fail(ErrRefused, "the step was not begun", "begin it before the pull, so that an interruption is known of")
	}
	if p.open != 0 {
		return p.busy(fail, p.step(p.open))
	}
	if next := p.step(p.next + 1); next.Number != h.step {
		return fail(ErrRefused, fmt.Sprintf("it is not its turn; next is step %d", next.Number), "do that one first: "+next.String())
	}
	return nil
}

// checkEnd returns why a step that is begun cannot end so: a wait takes its time, and
// nothing else can be skipped. Two times of one program are compared by its own clock,
// which nobody sets; else by the clock of the machine.
func (p *progress) checkEnd(h happening, step torque.Step, fail func(kind error, what, fix string) error) error {
	wait, is := torque.As[torque.Wait](step.Do)
	switch {
	case h.event == skip && !is:
		return fail(ErrRefused, "only a wait can be skipped", "do it, or say that it stopped part-way")
	case h.event != finish || !is || h.at.IsZero():
		return nil
	}
	const clock = "2006-01-02 15:04:05"
	waited := h.at.Sub(p.began)
	switch {
	case waited < 0:
		return fail(ErrTooSoon, fmt.Sprintf("the clock says %s, and the wait began at %s: it was set back, and nobody knows how long the wait was",
			h.at.Local().Format(clock), p.began.Local().Format(clock)),
			"set the clock right; or say that the wait was stopped and begin it again, or that it was skipped")
	case waited < p.late+wait.For:
		return fail(ErrTooSoon, fmt.Sprintf("%s of %s are over", waited.Truncate(time.Second), strings.TrimPrefix(step.Brief(), "wait ")),
			fmt.Sprintf("wait until %s, or say that it was skipped", p.began.Add(p.late+wait.For).Local().Format(clock)))
	}
	return nil
}

// busy returns the error of something that has to wait for the open step.
func (p *progress) busy(fail func(kind error, what, fix string) error, open torque.Step) error {
	if _, advice, ok := p.trouble(); ok {
		return fail(ErrInDoubt, fmt.Sprintf("first, bolt %q is in doubt", open.Bolt), advice)
	}
	return fail(ErrRefused, fmt.Sprintf("step %d is begun and not done", open.Number), "finish that one first: "+open.String())
}

func (p *progress) checkBolt(h happening) error {
	fail := func(kind error, what, fix string) error {
		return fault{kind: kind, bolt: h.bolt, found: what, fix: fix}.err()
	}
	if _, err := p.plan.StepsOf(h.bolt); err != nil {
		e := *err.(*torque.PlanError).Err
		return fail(ErrNotInPlan, "the plan has no such bolt", e.Fix)
	}
	if p.open != 0 && p.step(p.open).Bolt != h.bolt {
		return p.busy(fail, p.step(p.open))
	}
	if h.event == loosen && p.spent[h.bolt] {
		return fail(ErrRefused, "it is a single-use bolt that has been pulled to the full and cannot be used again", "fit a new bolt and say that it was replaced")
	}
	return nil
}

// apply makes h happen. It has been checked.
func (p *progress) apply(h happening) {
	switch h.event {
	case begin:
		p.status[h.step-1] = Begun
		p.open, p.held, p.began, p.late = h.step, false, h.at, h.late
		if step := p.step(h.step); step.Spends {
			p.spent[step.Bolt] = true
		}
	case hold:
		p.held = true
	case finish:
		p.status[h.step-1] = Done
		p.done++
		p.open = 0
		p.advance()
	case skip:
		p.status[h.step-1] = Skipped
		p.skips++
		p.open = 0
		p.advance()
	case stop, lose:
		p.status[h.step-1] = Pending
		if _, turns := torque.As[torque.Turn](p.step(h.step).Do); turns {
			p.status[h.step-1] = Unknown
		} else {
			p.open = 0
		}
	case note:
		p.notes = append(p.notes, h.text)
	case replace, loosen:
		if h.event == replace {
			p.replaced[h.bolt] = true
		}
		delete(p.spent, h.bolt)
		p.restart(h.bolt)
	}
}

// advance moves next to the first step that is neither done nor skipped.
func (p *progress) advance() {
	for p.next < len(p.status) && (p.status[p.next] == Done || p.status[p.next] == Skipped) {
		p.next++
	}
}

// restart makes a bolt's steps pending again, and what was waited for or checked
// since the first of them, which must be checked again with the new bolt.
func (p *progress) restart(bolt string) {
	numbers, _ := p.plan.StepsOf(bolt)
	first := numbers[0]
	if p.status[first-1] == Pending {
		return
	}
	for n := first; n <= len(p.status); n++ {
		if s := p.step(n); s.Bolt == bolt || s.IsPause() {
			p.undo(n)
		}
	}
	p.next = min(p.next, first-1)
}

// undo makes a step pending.
func (p *progress) undo(number int) {
	switch p.status[number-1] {
	case Done:
		p.done--
	case Skipped:
		p.skips--
	}
	if p.open == number {
		p.open = 0
	}
	p.status[number-1] = Pending
}
