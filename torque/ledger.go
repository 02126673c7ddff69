package torque

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"
	"time"
)

// A Ledger is the record of a plan being carried out: a text file to which a line is
// added when a step is begun and when it is done. A call returns only once its line
// is on the disk, so whatever has been acknowledged is there after any crash.
//
// One program holds a ledger at a time; another that opens it gets ErrLocked. Within
// the program any number of goroutines may use it.
//
// # The file
//
// Each line has fields between tabs, the last a checksum of the line and of the
// checksum before it, so that a line altered, taken out or put in is noticed. The
// first line names the plan by its digest. The others say their number, the time,
// what happened (begin, done, skipped, stopped, hold, lost, replaced, loosened), to which
// step and which bolt.
//
// A crash while a line is being written can leave the last line torn: without its end,
// or with zeros in place of its beginning. [OpenLedger] then moves it to a file
// beside the ledger, named with ".torn" at the end, and [Ledger.SetAside] says so.
// Any other damage is refused, and the file left as it is.
//
// A call that had not returned when the crash came may be found done or not done; its
// line was or was not complete. No other call is in question.
type Ledger struct {
	mu       sync.Mutex
	file     disk
	path     string
	progress *Progress
	lines    int    // complete lines in the file
	size     int64  // of the complete lines
	sum      uint32 // the last line's checksum
	aside    *Aside
	failed   error // once writing has failed, nothing is known of the file any more
	now      func() time.Time
}

// Aside is a torn last line that was moved out of a ledger.
type Aside struct {
	Path  string // the file it was moved to
	Bytes []byte // the line
}

// OpenLedger opens the plan's ledger at path, or makes one where there is no file. The
// error is a *LedgerError: ErrOtherPlan for a ledger of another plan, ErrDamaged,
// ErrNotLedger, ErrLocked, or ErrStorage with the system's own error. With any of
// them the file is as it was.
//
// A step that was begun and not done, by a program that ended without closing the
// ledger, is no longer begun: a torque, a wait or a check is to be done again, and a
// turn leaves its bolt unknown. See [Progress.Trouble].
func OpenLedger(path string, p *Plan) (*Ledger, error) {
	file, err := openLocked(path)
	if err != nil {
		return nil, withPath(path, err)
	}
	return openOn(lockedFile{file, path}, path, p)
}

// openOn opens the ledger on a disk, which it closes if it cannot.
func openOn(file disk, path string, p *Plan) (*Ledger, error) {
	l := &Ledger{file: file, path: path, progress: NewProgress(p), now: time.Now}
	if err := l.load(); err != nil {
		file.Close()
		return nil, withPath(path, err)
	}
	return l, nil
}

// ReadLedger returns the progress that a ledger has recorded, without locking it or
// changing anything; another program may be using it. A torn last line, which may
// be one that is being written, is left out. The errors are those of OpenLedger,
// but a file that is not there is an error that wraps fs.ErrNotExist.
func ReadLedger(path string, p *Plan) (*Progress, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, withPath(path, storage("it cannot be opened", err))
	}
	defer file.Close()
	h := &history{progress: NewProgress(p)}
	if err := h.replay(file); err != nil {
		return nil, withPath(path, err)
	}
	return h.progress, nil
}

// An Entry is one line of a ledger: what happened, when.
type Entry struct {
	Line int       // in the file, from 1
	Time time.Time // to the second, as the clock of the machine said
	What string    // begin, done, skipped, stopped, hold, lost, replaced or loosened
	Step int       // 0 where a bolt was replaced or loosened
	Bolt string    // empty for a pause
}

// ReadEntries returns everything that a ledger records, in the order it happened. The
// errors are those of ReadLedger.
func ReadEntries(path string, p *Plan) ([]Entry, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, withPath(path, storage("it cannot be opened", err))
	}
	defer file.Close()
	var entries []Entry
	h := &history{progress: NewProgress(p), keep: func(e Entry) { entries = append(entries, e) }}
	if err := h.replay(file); err != nil {
		return nil, withPath(path, err)
	}
	return entries, nil
}

// Progress returns how far the plan has come. It does not change any more.
func (l *Ledger) Progress() *Progress {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.progress.clone()
}

// Next is Progress().Next().
func (l *Ledger) Next() (Step, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.progress.Next()
}

// Trouble is Progress().Trouble().
func (l *Ledger) Trouble() (Trouble, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.progress.Trouble()
}

// Status is Progress().Status(number).
func (l *Ledger) Status(number int) Status {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.progress.Status(number)
}

// SetAside returns the torn line that was moved out of the file when it was opened;
// nil if there was none.
func (l *Ledger) SetAside() *Aside { return l.aside }

// Path returns the ledger's file.
func (l *Ledger) Path() string { return l.path }

// Begin records that a step is about to be done. Call it before the wrench moves. The
// error, a *LedgerError, refuses a step that is done already, begun already, not the
// next one, or whose bolt is in doubt.
func (l *Ledger) Begin(number int) error { return l.step(begin, number) }

// Done records that a step that was begun has been done. The error, a *LedgerError,
// refuses one that was not begun, is done already, or is in doubt, and a wait that is not
// over: ErrTooSoon.
//
// Within one program a wait is timed by a clock that nobody can set, which may stand
// while the machine sleeps. Where another program began it, the clock of the machine
// counts: ErrClock says that it was set back before the beginning. That it was set
// forward nobody can tell.
func (l *Ledger) Done(number int) error { return l.step(finish, number) }

// Skip records that a wait that was begun is cut short knowingly: the plan goes on, and
// its status stays Skipped. The error wraps ErrNotWait for any other step.
func (l *Ledger) Skip(number int) error { return l.step(skip, number) }

// Stop records that a step that was begun was given up part-way: a torque, a wait or
// a check is to be done again, and a turn leaves its bolt unknown.
func (l *Ledger) Stop(number int) error { return l.step(stop, number) }

// Replace records that a new bolt was fitted: its steps are to be done again, and so
// is every wait and check since the first of them.
func (l *Ledger) Replace(bolt string) error { return l.append(happening{event: replace, bolt: bolt}) }

// Loosen records that a bolt was backed off until it turns freely: its steps are to be
// done again, as in Replace. The error wraps ErrScrap for a single-use bolt whose turn,
// or, where it has none, whose greatest torque, was begun.
func (l *Ledger) Loosen(bolt string) error { return l.append(happening{event: loosen, bolt: bolt}) }

// Close closes the file. A step that is begun stays begun: it goes on while no
// program is running, and whoever opens the ledger next may say that it is done.
func (l *Ledger) Close() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.failed != nil {
		if errors.Is(l.failed, ErrClosed) {
			return l.failed
		}
		return l.close()
	}
	if open := l.progress.open; open != 0 && l.progress.Status(open) == Begun && !l.progress.held {
		if err := l.write(l.happening(hold, open)); err != nil {
			return errors.Join(err, l.close())
		}
	}
	return l.close()
}

// Abandon closes the file without a word, as a crash would: a step that is begun is no
// longer begun when the ledger is opened again.
func (l *Ledger) Abandon() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.close()
}

// close closes the file, and with it gives up the lock.
func (l *Ledger) close() error {
	l.failed = &LedgerError{Kind: ErrClosed, Path: l.path, Fix: "open it again"}
	if err := l.file.Close(); err != nil {
		return withPath(l.path, storage("it cannot be closed", err))
	}
	return nil
}

// happening returns an event on a step.
func (l *Ledger) happening(e event, number int) happening {
	h := happening{event: e, step: number}
	if step, ok := l.progress.plan.Step(number); ok {
		h.bolt = step.Bolt
	}
	return h
}

func (l *Ledger) step(e event, number int) error { return l.append(l.happening(e, number)) }

// append checks a happening, writes it and then lets it happen.
func (l *Ledger) append(h happening) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.failed != nil {
		return l.failed
	}
	h.at = l.now()
	if err := l.progress.check(h); err != nil {
		return withPath(l.path, err)
	}
	return l.write(h)
}

// write puts a happening on the disk and then lets it happen. If either the write or
// the sync fails, nobody knows what the disk holds: the ledger refuses all else
// until it is opened, and read, again.
func (l *Ledger) write(h happening) error {
	if h.at.IsZero() {
		h.at = l.now()
	}
	line, sum := recordLine(l.lines, h.at, h, l.sum)
	if err := l.put(line); err != nil {
		return err
	}
	l.sum = sum
	l.progress.apply(h)
	return nil
}

// put writes a line at the end and waits until the disk has it.
func (l *Ledger) put(line []byte) error {
	_, err := l.file.WriteAt(line, l.size)
	if err == nil {
		err = l.file.Sync()
	}
	if err != nil {
		e := storage("the line could not be written to the disk", err)
		e.Path, e.Fix = l.path, "the step is not recorded: find out why, open the ledger again, and see what it holds"
		l.failed = e
		return e
	}
	l.lines++
	l.size += int64(len(line))
	return nil
}

// load reads the file, sets a torn line aside, and writes what a ledger begins with.
func (l *Ledger) load() error {
	r := &history{progress: l.progress}
	if err := r.replay(l.file); err != nil {
		return err
	}
	l.lines, l.size, l.sum = r.lines, r.size, r.sum
	if len(r.torn) > 0 {
		if err := l.setAside(r.torn); err != nil {
			return err
		}
	}
	if l.lines == 0 {
		line, sum := headerLine(l.progress.plan, time.Now())
		if err := l.put(line); err != nil {
			return err
		}
		l.sum = sum
		if err := l.file.SyncName(); err != nil {
			return storage("its folder could not be written to the disk", err)
		}
		return nil
	}
	if r.lost != 0 {
		return l.write(l.happening(lose, r.lost))
	}
	return nil
}

// setAside moves a torn last line to the file beside the ledger.
func (l *Ledger) setAside(torn []byte) error {
	note := fmt.Appendf(nil, "%s: %d bytes from byte %d of %s\n", stamp(time.Now()), len(torn), l.size, filepath.Base(l.path))
	name, err := l.file.SetAside(append(append(note, torn...), '\n'))
	if err == nil {
		err = l.file.Truncate(l.size)
	}
	if err == nil {
		err = l.file.Sync()
	}
	if err != nil {
		return storage("a torn last line could not be set aside", err)
	}
	l.aside = &Aside{Path: name, Bytes: torn}
	return nil
}

// history is what replay finds in a ledger's file.
type history struct {
	progress *Progress
	lines    int
	size     int64 // of the complete lines
	sum      uint32
	torn     []byte // what follows them
	lost     int    // the number of a step that was begun and not closed; 0 if none

	keep func(Entry) // is given each record, if not nil
}

// longest bounds a line, and a torn one.
const longest = 64 << 10

// replay reads a ledger's file from the beginning. Each line must be one that could
// have been written where it stands.
func (h *history) replay(file io.Reader) error {
	r := bufio.NewReaderSize(file, longest)
	for {
		line, err := r.ReadSlice('\n')
		switch {
		case err == io.EOF:
			return h.end(line)
		case err == bufio.ErrBufferFull:
			return h.damage("a line longer than any that a ledger has")
		case err != nil:
			return storage("it cannot be read", err)
		}
		if err := h.add(line); err != nil {
			if line[0] == 0 && isLast(r) {
				// Its end got to the disk and its beginning did not.
				return h.end(line)
			}
			return err
		}
		h.lines++
		h.size += int64(len(line))
	}
}

// isLast reports whether the reader is at the end.
func isLast(r *bufio.Reader) bool {
	_, err := r.Peek(1)
	return err == io.EOF
}
