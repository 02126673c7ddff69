package ledger

import (
	"errors"
	"slices"
	"sync"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// A Ledger is the record of a plan being carried out: a text file to which a line is added
// when a step is begun and when it is done, and a witness, a copy of it elsewhere. A
// call returns only once its line is on the disk in both, and both are what the program left.
//
// One program holds a ledger at a time; another that opens it gets ErrLocked. Within the
// program any number of goroutines may use it.
//
// Once a call has failed with ErrStorage or ErrUnsure, the ledger refuses all else until it is
// opened again: the record of that call may be there or not, and opening it tells.
//
// # The file
//
// Each line has fields between tabs, the last a checksum of the line and of the
// checksum before it, so that a line altered, taken out or put in is noticed. The
// first line names the work. The others say their number, the time, what happened, to which
// step and which bolt, and the particulars. The first record holds the plan.
type Ledger struct {
	Plan *torque.Plan // the plan that is carried out
	Path string       // the ledger's file
	Work Work         // what it belongs to
	Said []string     // what was found and mended when it was opened, such as a line torn by a crash

	mu       sync.Mutex
	sides    []*side // the ledger and its witness; none of a ledger that was opened for reading
	progress *progress
	lines    int    // in the file
	sum      uint32 // the last line's checksum
	failed   error  // once something failed, nothing is known of the files any more
	closed   bool
	clock    clock
}

// Next returns the step to do, or to finish: the first that is neither done nor skipped. ok
// is false when the plan is finished. Ask Troubles first: while there is one, no step begins.
func (l *Ledger) Next() (s torque.Step, ok bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.progress.nextStep()
}

// Troubles returns the bolts with which something has to be done before any step begins.
func (l *Ledger) Troubles() []Trouble {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.progress.troubles()
}

// Status returns the status of a step; Pending of a number that no step has.
func (l *Ledger) Status(number int) Status {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.progress.statusOf(number)
}

// Counts returns how many steps are done, how many waits were skipped, and how many steps
// there are. A step that went wrong after it was said to be done is not done.
func (l *Ledger) Counts() (done, skipped, of int) {
	l.mu.Lock()
	defer l.mu.Unlock()
	of = len(l.progress.status)
	for i := range of {
		switch l.progress.statusOf(i + 1) {
		case Done:
			done++
		case Skipped:
			skipped++
		}
	}
	return done, skipped, of
}

// WaitOver returns when the wait that is begun will be over, by the clock of the machine as it
// stands; ok is false if the step that is begun is no wait, or none is begun.
func (l *Ledger) WaitOver() (at time.Time, ok bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.progress.waitOver(l.clock.now(), l.clock.up())
}

// Notes returns the texts that were recorded by Note, in their order.
func (l *Ledger) Notes() []string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.Clone(l.progress.notes)
}

// Replaced reports whether a new bolt was recorded in the place of this one.
func (l *Ledger) Replaced(bolt string) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.progress.replaced[bolt]
}

// Begin records that a step is about to be done. Call it before the wrench moves. The
// error is of kind ErrRefused for a step that is done already, begun already or not the
// next one, and of kind ErrInDoubt while there is a Trouble.
func (l *Ledger) Begin(number int) error {
	return l.record(func(p *progress) happening { return p.begins(number, l.uptime(number)) })
}

// Done records that a step that was begun has been done, and what was reached; the zero Reached
// where nothing was measured. The error is of kind ErrRefused for a step that was not begun or is
// done already, and ErrTooSoon for a wait that is not over.
//
// Within one program a wait is timed by a clock that nobody can set. Where another program began
// it, the uptime of the machine counts, on Linux and until the machine is started again; else
// the clock of the machine counts. If that was set back before the beginning, nobody knows
// how long the wait was, and it is ErrTooSoon; nobody can tell that it was set forward.
func (l *Ledger) Done(number int, reached Reached) error {
	return l.record(func(p *progress) happening { return p.ends(number, reached) })
}

// No records that a check that was begun is answered no. It stays the next step, and everything
// else waits until it is begun again and done. Any other step is refused.
func (l *Ledger) No(number int) error { return l.step(answerNo, number) }

// Skip records that a wait that was begun is cut short knowingly: the plan goes on, and
// its status stays Skipped. Any other step is refused.
func (l *Ledger) Skip(number int) error { return l.step(skip, number) }

// Mishap records what went wrong with a step; see Mishap for what it leads to.
func (l *Ledger) Mishap(what What) error {
	return l.record(func(p *progress) happening { return p.goesWrong(what) })
}

// Replace records that a new bolt was fitted: its steps are to be done again, and so
// is every wait and check since the first of them.
func (l *Ledger) Replace(bolt string) error { return l.bolt(replace, bolt) }

// Loosen records that a bolt was backed off until it turns freely: its steps are to be
// done again, as in Replace. It is refused of a bolt that is scrap.
func (l *Ledger) Loosen(bolt string) error { return l.bolt(loosen, bolt) }

// Keep records that a bolt stays as it is, on somebody's word, although a bolt under the same
// cap was backed off or replaced. It is refused of a bolt that no such Trouble is about.
func (l *Ledger) Keep(bolt string, word Word) error {
	return l.record(func(*progress) happening { return keeps(bolt, word) })
}

// UseTool records what the bolts are pulled with from now on. After a tool has slipped, it
// records that the tool was checked or changed.
func (l *Ledger) UseTool(tool Tool) error {
	return l.record(func(*progress) happening { return usesTool(tool) })
}

// Note records a text of one line, such as what was asked before the next step and who
// answered. It changes nothing else. The error is of kind ErrRefused for a text that is empty,
// of more than one line, or longer than 32 KiB.
func (l *Ledger) Note(text string) error {
	return l.record(func(*progress) happening { return happening{event: note, detail: text} })
}

// Changes returns the bolts of which what was done is not the beginning of what a corrected plan
// asks of them, in the order of the plans. Revise needs a choice for each.
func (l *Ledger) Changes(plan *torque.Plan) []Change {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.progress.changes(plan)
}

// Revise goes on with a corrected plan, on somebody's word. What was done of pulls that are
// the same carries over, and each of the Changes needs a choice among its Choices. Nothing
// is changed where one is missing or impossible, or while a step is begun.
func (l *Ledger) Revise(plan *torque.Plan, choices map[string]Choice, word Word) error {
	return l.record(func(*progress) happening { return revises(plan, choices, word) })
}

func (l *Ledger) step(e event, number int) error {
	return l.record(func(p *progress) happening { return p.on(e, number) })
}

func (l *Ledger) bolt(e event, bolt string) error {
	return l.record(func(*progress) happening { return happening{event: e, bolt: bolt} })
}

// record checks a happening, writes it and then lets it happen.
func (l *Ledger) record(happened func(*progress) happening) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.failed != nil {
		return l.failed
	}
	h := happened(l.progress)
	h.at, h.up = l.clock.now(), l.uptime(h.step)
	if err := l.progress.check(h); err != nil {
		return withPath(l.Path, err)
	}
	line, sum := recordLine(l.lines, h, l.sum)
	if len(line) > longest {
		return fault{kind: ErrRefused, path: l.Path, found: "a record longer than a line may be", fix: "write less"}.err()
	}
	if err := l.write(line); err != nil {
		return err
	}
	l.lines++
	l.sum = sum
	l.progress.apply(h)
	l.Plan = l.progress.plan
	return nil
}

// uptime asks for the machine's uptime if the step is a wait; nothing else needs it, and it takes
// longer than the checks of the files.
func (l *Ledger) uptime(step int) uptime {
	if _, waits := l.progress.waitOf(step); !waits {
		return uptime{}
	}
	return l.clock.up()
}

// write adds a line to the ledger and then to its witness. Before, between and after, both must
// be as this program left them: so two programs without a lock find each other out before either
// is told that its line is recorded.
func (l *Ledger) write(line []byte) error {
	if err := checkAll(l.sides...); err != nil {
		return l.fail(err, "nothing was recorded, and nothing more is until the ledger is opened again")
	}
	for _, s := range l.sides {
		err := s.append(line)
		if err == nil {
			err = checkAll(l.sides...)
		}
		if err != nil {
			return l.fail(err, "this record may be there or not: make no pull on it, find out why, and open the ledger again to see what it holds")
		}
	}
	return nil
}

// fail remembers why nothing is known of the files any more.
func (l *Ledger) fail(err error, fix string) error {
	if e, ok := err.(*units.Error); ok {
		e.Fix = fix
	}
	l.failed = err
	return err
}

// checkAll returns why one of the files is not as this program left it.
func checkAll(sides ...*side) error {
	for _, s := range sides {
		if err := s.check(); err != nil {
			return err
		}
	}
	return nil
}

// Close closes the files, and with them gives up the lock. It writes nothing: a step that is
// begun stays begun until somebody says how it ended.
func (l *Ledger) Close() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	switch {
	case len(l.sides) == 0: // opened for reading
		return nil
	case l.closed:
		return l.failed
	}
	l.closed = true
	l.failed = fault{kind: ErrStorage, path: l.Path, found: "it is closed", fix: "open it again"}.err()
	return closeAll(l.sides...)
}

// closeAll closes the files that are open.
func closeAll(sides ...*side) error {
	var errs []error
	for _, s := range sides {
		errs = append(errs, s.close())
	}
	return errors.Join(errs...)
}
