package torque

import (
	"fmt"
	"maps"
	"slices"
	"time"
)

// A Status is how far a step has come.
type Status uint8

const (
	Pending Status = iota // not begun
	Begun                 // begun, and its end not yet said
	Done                  // done
	Unknown               // a turn that was begun and not finished: nobody knows how far the bolt went
	Skipped               // a wait that was cut short knowingly
)

// String returns the status in a word.
func (s Status) String() string {
	switch s {
	case Pending:
		return "pending"
	case Begun:
		return "begun"
	case Done:
		return "done"
	case Unknown:
		return "unknown"
	case Skipped:
		return "skipped"
	}
	return "no status"
}

// Progress is how far a plan has been carried out. Make one with NewProgress or get
// it from a ledger.
type Progress struct {
	plan   *Plan
	status []Status // of each step
	next   int      // the first step that is neither done nor skipped, as an index
	done   int      // how many are done
	skips  int      // how many are skipped
	open   int      // the number of the step that is begun or unknown; 0 if none
	held   bool     // the open step goes on outside the program

	began time.Time       // when the open step was begun
	late  time.Duration   // by how much later it may have been: the ledger writes whole seconds
	spent map[string]bool // the single-use bolts that are scrap once they are loosened
}

// NewProgress returns the progress of a plan of which nothing is done.
func NewProgress(p *Plan) *Progress {
	return &Progress{plan: p, status: make([]Status, p.Len()), spent: map[string]bool{}}
}

// Plan returns the plan.
func (p *Progress) Plan() *Plan { return p.plan }

// Status returns the status of a step; Pending of a number that no step has.
func (p *Progress) Status(number int) Status {
	if number < 1 || number > len(p.status) {
		return Pending
	}
	return p.status[number-1]
}

// DoneCount returns how many steps are done; skipped ones are not among them.
func (p *Progress) DoneCount() int { return p.done }

// SkippedCount returns how many waits were skipped.
func (p *Progress) SkippedCount() int { return p.skips }

// Finished reports whether every step is done, or is a wait that was skipped.
func (p *Progress) Finished() bool { return p.done+p.skips == len(p.status) }

// WaitOver returns when the wait that is begun will be over by the clock of the machine;
// ok is false if the step that is begun is no wait, or none is begun.
func (p *Progress) WaitOver() (at time.Time, ok bool) {
	if p.open == 0 || p.Status(p.open) != Begun {
		return time.Time{}, false
	}
	wait, ok := p.plan.steps[p.open-1].Pause.Wait()
	if !ok {
		return time.Time{}, false
	}
	return p.began.Add(p.late + wait.For), true
}

// Next returns the step to do, or to finish: the first that is neither done nor skipped. ok is false
// when the plan is finished. Ask Trouble first: while a bolt is in doubt, its step is
// next and cannot be done.
func (p *Progress) Next() (s Step, ok bool) {
	if p.Finished() {
		return Step{}, false
	}
	return p.plan.steps[p.next], true
}

// Trouble is a bolt whose turn was begun and not finished.
type Trouble struct {
	Step   Step
	Scrap  bool   // the bolt is past using again, and has to be replaced
	Advice string // what to do
}

// Trouble returns the bolt that is in doubt; ok is false if none is.
func (p *Progress) Trouble() (t Trouble, ok bool) {
	if p.open == 0 || p.Status(p.open) != Unknown {
		return Trouble{}, false
	}
	step := p.plan.steps[p.open-1]
	t = Trouble{Step: step, Scrap: p.plan.groupOf(step).singleUse()}
	if t.Scrap {
		t.Advice = fmt.Sprintf("Nobody knows how far %s was turned, and turning it again may take it too far. "+
			"Back it off and scrap it; fit a new bolt and say that it was replaced. Its stages then begin again.", step.Bolt)
	} else {
		t.Advice = fmt.Sprintf("Nobody knows how far %s was turned. "+
			"Back it off until it turns freely and say that it was loosened. Its stages then begin again with the first torque.", step.Bolt)
	}
	return t, true
}

// clone returns a copy that does not change with p.
func (p *Progress) clone() *Progress {
	c := *p
	c.status, c.spent = slices.Clone(p.status), maps.Clone(p.spent)
	return &c
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
	events        // the number of events and noEvent
)

// String returns the event as the ledger writes it.
func (e event) String() string {
	switch e {
	case begin:
		return "begin"
	case hold:
		return "hold"
	case finish:
		return "done"
	case stop:
		return "stopped"
	case lose:
		return "lost"
	case skip:
		return "skipped"
	case replace:
		return "replaced"
	case loosen:
		return "loosened"
	}
	return ""
}

// parseEvent returns the event of a word, or noEvent.
func parseEvent(word string) event {
	for e := begin; e < events; e++ {
		if e.String() == word {
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

	at   time.Time     // when; the zero time where nobody asks, as for the lines of a ledger that are read
	late time.Duration // by how much later it may have been
}

// check returns why h cannot happen now: a *LedgerError, without a path.
func (p *Progress) check(h happening) error {
	switch h.event {
	case replace, loosen:
		return p.checkBolt(h)
	default:
		return p.checkStep(h)
	}
}

func (p *Progress) checkStep(h happening) error {
	step, ok := p.plan.Step(h.step)
	if !ok {
		return &LedgerError{Kind: ErrNoSuchStep, Step: h.step, What: fmt.Sprintf("the plan has no step %d", h.step),
			Fix: fmt.Sprintf("name a step from 1 to %d", p.plan.Len())}
	}
	fail := func(kind error, what, fix string) error {
		return &LedgerError{Kind: kind, Step: h.step, Bolt: step.Bolt, What: what, Fix: fix}
	}
	switch status := p.Status(h.step); {
	case status == Done, status == Skipped:
		return fail(ErrAlreadyDone, "the step is "+status.String()+" already", "do not do it again; go on with the next step")
	case status == Unknown:
		t, _ := p.Trouble()
		return fail(ErrInDoubt, "its turn was begun and not finished", t.Advice)
	case status == Begun && h.event == begin:
		return fail(ErrAlreadyBegun, "the step is begun already", "say that it is done, or that it stopped part-way")
	case status == Begun:
		return p.checkEnd(h, step, fail)
	case h.event != begin:
		return fail(ErrNotBegun, "the step was not begun", "begin it before the pull, so that an interruption is known of")
	}
	if p.open != 0 {
		return p.busy(fail, p.plan.steps[p.open-1])
	}
	if next := p.plan.steps[p.next]; next.Number != h.step {
		return fail(ErrOutOfOrder, fmt.Sprintf("it is not its turn; next is step %d", next.Number), "do that one first: "+next.String())
	}
	return nil
}

// checkEnd returns why a step that is begun cannot end so: a wait takes its time, and
// nothing else can be skipped. Two times of one program are compared by its own clock,
// which nobody sets; else by the clock of the machine.
func (p *Progress) checkEnd(h happening, step Step, fail func(kind error, what, fix string) error) error {
	wait, is := step.Pause.Wait()
	switch {
	case h.event == skip && !is:
		return fail(ErrNotWait, "only a wait can be skipped", "do it, or say that it stopped part-way")
	case h.event != finish || !is || h.at.IsZero():
		return nil
	}
	const clock = "2006-01-02 15:04:05"
	waited := h.at.Sub(p.began)
	switch {
	case waited < 0:
		return fail(ErrClock, fmt.Sprintf("the clock says %s, and the wait began at %s: it was set back, and nobody knows how long the wait was",
			h.at.Local().Format(clock), p.began.Local().Format(clock)),
			"set the clock right; or say that the wait was stopped and begin it again, or that it was skipped")
	case waited < p.late+wait.For:
		return fail(ErrTooSoon, fmt.Sprintf("%s of %s are over", waited.Truncate(time.Second), wait.time()),
			fmt.Sprintf("wait until %s, or say that it was skipped", p.began.Add(p.late+wait.For).Local().Format(clock)))
	}
	return nil
}

// busy returns the error of something that has to wait for the open step.
func (p *Progress) busy(fail func(kind error, what, fix string) error, open Step) error {
	if t, ok := p.Trouble(); ok {
		return fail(ErrInDoubt, fmt.Sprintf("first, bolt %q is in doubt", open.Bolt), t.Advice)
	}
	return fail(ErrOtherBegun, fmt.Sprintf("step %d is begun and not done", open.Number), "finish that one first: "+open.String())
}

func (p *Progress) checkBolt(h happening) error {
	fail := func(kind error, what, fix string) error {
		return &LedgerError{Kind: kind, Bolt: h.bolt, What: what, Fix: fix}
	}
	numbers := p.plan.ofBolt[h.bolt]
	if len(numbers) == 0 {
		return fail(ErrNoSuchBolt, "the plan has no such bolt", meant(h.bolt, p.plan.bolts(), "name one of the plan's bolts"))
	}
	if p.open != 0 && p.plan.steps[p.open-1].Bolt != h.bolt {
		return p.busy(fail, p.plan.steps[p.open-1])
	}
	if h.event == loosen && p.spent[h.bolt] {
		return fail(ErrScrap, "it is a single-use bolt that has been pulled to the full and cannot be used again", "fit a new bolt and say that it was replaced")
	}
	return nil
}

// apply makes h happen. It has been checked.
func (p *Progress) apply(h happening) {
	switch h.event {
	case begin:
		step := p.plan.steps[h.step-1]
		p.status[h.step-1] = Begun
		p.open, p.held, p.began, p.late = h.step, false, h.at, h.late
		if p.plan.groupOf(step).spends(step.Stage) && !step.IsPause() {
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
		if p.plan.steps[h.step-1].Pull.turns() {
			p.status[h.step-1] = Unknown
		} else {
			p.open = 0
		}
	case replace, loosen:
		delete(p.spent, h.bolt)
		p.restart(p.plan.ofBolt[h.bolt])
	}
}

// advance moves next to the first step that is neither done nor skipped.
func (p *Progress) advance() {
	for p.next < len(p.status) && (p.status[p.next] == Done || p.status[p.next] == Skipped) {
		p.next++
	}
}

// restart makes a bolt's steps pending again, and what was waited for or checked
// since the first of them, which must be checked again with the new bolt.
func (p *Progress) restart(numbers []int) {
	first := numbers[0]
	if p.status[first-1] == Pending {
		return
	}
	for _, n := range numbers {
		p.undo(n)
	}
	for _, n := range p.plan.pauses {
		if n > first {
			p.undo(n)
		}
	}
	p.next = min(p.next, first-1)
}

// undo makes a step pending.
func (p *Progress) undo(number int) {
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
