package ledger

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/units"
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
// what happened (begin, done, skipped, stopped, hold, lost, replaced, loosened, note), to which
// step and which bolt. A note has its text in place of the bolt.
//
// A crash while a line is being written can leave the last line torn: without its end,
// or with zeros in place of its beginning. [Open] then moves it to a file
// beside the ledger, named with ".torn" at the end, and TornTo says so.
// Any other damage is refused, and the file left as it is.
//
// A call that had not returned when the crash came may be found done or not done; its
// line was or was not complete. No other call is in question.
type Ledger struct {
	Plan   *torque.Plan // the plan that is carried out
	Path   string       // the ledger's file
	TornTo string       // the file that a torn last line was moved to when the ledger was opened; empty if there was none

	mu       sync.Mutex
	file     disk
	progress *progress
	lines    int    // complete lines in the file
	size     int64  // of the complete lines
	sum      uint32 // the last line's checksum
	failed   error  // once writing has failed, nothing is known of the file any more
	closed   bool
	now      func() time.Time
}

// Open opens the plan's ledger at path, or makes one where there is no file. The
// error is of kind ErrOtherPlan for a ledger of another plan, ErrDamaged, ErrLocked, or
// ErrStorage with the system's own error. With any of them the file is as it was.
//
// A step that was begun and not done, by a program that ended without closing the
// ledger, is no longer begun: a torque, a wait or a check is to be done again, and a
// turn leaves its bolt unknown. See [Ledger.Trouble].
func Open(path string, p *torque.Plan) (*Ledger, error) {
	file, err := openLocked(path)
	if err != nil {
		return nil, withPath(path, err)
	}
	return openOn(lockedFile{file, path}, path, p)
}

// openOn opens the ledger on a disk, which it closes if it cannot.
func openOn(file disk, path string, p *torque.Plan) (*Ledger, error) {
	l := &Ledger{Plan: p, Path: path, file: file, progress: newProgress(p), now: time.Now}
	if err := l.load(); err != nil {
		file.Close()
		return nil, withPath(path, err)
	}
	return l, nil
}

// Read returns a ledger as it stands and everything that it records, in the order it
// happened. It locks nothing and changes nothing, and another program may be using the
// ledger. Nothing can be recorded in what it returns. A torn last line, which may be one that
// is being written, is left out. The errors are those of Open, but a file that is not there
// is an error that wraps fs.ErrNotExist.
func Read(path string, p *torque.Plan) (*Ledger, []Entry, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, nil, withPath(path, storage("it cannot be opened", err))
	}
	defer file.Close()
	var entries []Entry
	h := &history{progress: newProgress(p), keep: func(e Entry) { entries = append(entries, e) }}
	if err := h.replay(file); err != nil {
		return nil, nil, withPath(path, err)
	}
	return &Ledger{Plan: p, Path: path, progress: h.progress,
		failed: fault{kind: ErrStorage, path: path, found: "it was opened for reading", fix: "open it with Open"}.err()}, entries, nil
}

// An Entry is one line of a ledger: what happened, when.
type Entry struct {
	Line int       `json:"line"` // in the file, from 1
	Time time.Time `json:"time"` // to the second, as the clock of the machine said
	What string    `json:"what"` // begin, done, skipped, stopped, hold, lost, replaced, loosened or note
	Step int       `json:"step"` // 0 where a bolt was replaced or loosened, and of a note
	Bolt string    `json:"bolt"` // empty for a pause, and of a note
	Text string    `json:"text"` // of a note
}

// UnmarshalJSON reads {"line":…,"time":"2026-02-03T14:05:06Z","what":"begin","step":…,"bolt":…,"text":…}.
func (e *Entry) UnmarshalJSON(data []byte) error {
	type entry Entry
	read := entry{}
	if err := units.DecodeObject(data, &read); err != nil {
		return err
	}
	if parseEvent([]byte(read.What)) == noEvent {
		return &units.Error{Kind: units.ErrNotWritten, Where: "entry", Found: fmt.Sprintf("%.40q happened", read.What), Fix: fmt.Sprintf("write one of %q", eventWords[begin:])}
	}
	*e = Entry(read)
	return nil
}

// Next returns the step to do, or to finish: the first that is neither done nor skipped. ok
// is false when the plan is finished. Ask Trouble first: while a bolt is in doubt, its step
// is next and cannot be done.
func (l *Ledger) Next() (s torque.Step, ok bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.progress.nextStep()
}

// Troubles returns what has to be done before any step begins.
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
// there are.
func (l *Ledger) Counts() (done, skipped, of int) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.progress.done, l.progress.skips, len(l.progress.status)
}

// WaitOver returns when the wait that is begun will be over by the clock of the machine;
// ok is false if the step that is begun is no wait, or none is begun.
func (l *Ledger) WaitOver() (at time.Time, ok bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.progress.waitOver(l.now(), uptime{})
}

// Begin records that a step is about to be done. Call it before the wrench moves. The
// error, of kind ErrRefused, is for a step that is done already, begun already, not the
// next one, or whose bolt is in doubt.
func (l *Ledger) Begin(number int) error { return l.step(begin, number) }

// Done records that a step that was begun has been done. The error, of kind ErrRefused, is
// for one that was not begun, is done already, or is in doubt, and for a wait that is not
// over: ErrTooSoon.
//
// Within one program a wait is timed by a clock that nobody can set, which may stand
// while the machine sleeps. Where another program began it, the clock of the machine
// counts. If that was set back before the beginning, nobody knows how long the wait was, and
// it is ErrTooSoon; nobody can tell that it was set forward.
func (l *Ledger) Done(number int, r Reached) error { return l.append(l.progress.ends(number, r)) }

// Skip records that a wait that was begun is cut short knowingly: the plan goes on, and
// its status stays Skipped. Any other step is refused.
func (l *Ledger) Skip(number int) error { return l.step(skip, number) }

// Mishap records what went wrong.
func (l *Ledger) Mishap(w What) error { return l.append(l.progress.goesWrong(w)) }

// Replace records that a new bolt was fitted: its steps are to be done again, and so
// is every wait and check since the first of them.
func (l *Ledger) Replace(bolt string) error { return l.append(happening{event: replace, bolt: bolt}) }

// Loosen records that a bolt was backed off until it turns freely: its steps are to be
// done again, as in Replace. It is refused of a single-use bolt whose turn, or, where it has
// none, whose greatest torque, was begun: that bolt is scrap.
func (l *Ledger) Loosen(bolt string) error { return l.append(happening{event: loosen, bolt: bolt}) }

// Note records a text of one line, such as what was asked before the next step and who
// answered. It changes nothing else. The error is of kind ErrRefused for a text that is empty,
// of more than one line, or longer than 32 KiB.
func (l *Ledger) Note(text string) error { return l.append(happening{event: note, detail: text}) }

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

// Close closes the file. A step that is begun stays begun: it goes on while no
// program is running, and whoever opens the ledger next may say that it is done.
func (l *Ledger) Close() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	switch {
	case l.file == nil: // opened for reading
		return nil
	case l.failed != nil && l.closed:
		return l.failed
	case l.failed != nil:
		return l.close()
	}
	return l.close()
}

// Abandon closes the file without a word, as a crash would: a step that is begun is no
// longer begun when the ledger is opened again.
func (l *Ledger) Abandon() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.file == nil {
		return nil
	}
	return l.close()
}

// close closes the file, and with it gives up the lock.
func (l *Ledger) close() error {
	if l.closed {
		return nil
	}
	l.closed = true
	l.failed = fault{kind: ErrStorage, path: l.Path, found: "it is closed", fix: "open it again"}.err()
	if err := l.file.Close(); err != nil {
		return withPath(l.Path, storage("it cannot be closed", err))
	}
	return nil
}

func (l *Ledger) step(e event, number int) error { return l.append(l.progress.on(e, number)) }

// append checks a happening, writes it and then lets it happen.
func (l *Ledger) append(h happening) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.failed != nil {
		return l.failed
	}
	h.at = l.now()
	if err := l.progress.check(h); err != nil {
		return withPath(l.Path, err)
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
		l.failed = fault{kind: fmt.Errorf("%w: %w", ErrStorage, err), path: l.Path, found: "the line could not be written to the disk",
			fix: "the step is not recorded: find out why, open the ledger again, and see what it holds"}.err()
		return l.failed
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
	return nil
}

// setAside moves a torn last line to the file beside the ledger.
func (l *Ledger) setAside(torn []byte) error {
	note := fmt.Appendf(nil, "%s: %d bytes from byte %d of %s\n", stamp(time.Now()), len(torn), l.size, filepath.Base(l.Path))
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
	l.TornTo = name
	return nil
}

// history is what replay finds in a ledger's file.
type history struct {
	progress *progress
	lines    int
	size     int64 // of the complete lines
	sum      uint32
	torn     []byte // what follows them

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
