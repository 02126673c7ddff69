package ledger

import (
	"bytes"
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// Start makes the ledger of a work, and its witness, and opens it. turned names the bolts that
// have been turned already: each is in doubt from the beginning. It must not be nil, which
// would mean that nobody asked; empty means that none has been.
//
// The error is of kind ErrRefused where a file is there already or turned is nil, and
// ErrUnsure where a witness of the work is there, for then the work has been begun.
func Start(h Home, w Work, p *torque.Plan, turned []string) (*Ledger, error) {
	return start(machine{}, systemClock(), h, w, p, turned)
}

// Open opens the ledger of a work, and never makes one. p must be the plan that the ledger
// holds; nil takes whatever plan it holds, for Revise.
//
// What an ordinary crash leaves is mended, and Said says so. The error is of kind ErrNotStarted,
// ErrUnsure, ErrDamaged, ErrOtherWork, ErrOtherPlan, ErrLocked, or ErrStorage with the system's own
// error. With any of them but ErrStorage the files are as they were.
func Open(h Home, w Work, p *torque.Plan) (*Ledger, error) {
	return open(machine{}, systemClock(), h, w, p)
}

// TakeOver opens a ledger of which Open says ErrUnsure: what is there is taken over, on somebody's
// word, and recorded.
//
// Where the ledger lacks records that its witness has, they are put back. Where the ledger
// is gone or damaged, it is made again from its witness, and what was there is renamed. Where the
// witness is gone, damaged or older, the ledger stands. Where the two part, the ledger
// stands, and every bolt of which the witness has more is in doubt.
//
// The error is of kind ErrRefused if there is nothing to take over, and ErrDamaged if neither
// file can be read: then move both away and Start, naming the bolts that may have been turned.
func TakeOver(h Home, w Work, p *torque.Plan, word Word) (*Ledger, error) {
	return takeItOver(machine{}, systemClock(), h, w, p, word)
}

// Read returns a ledger as it stands and everything that it records, in the order it happened. It
// locks nothing and changes nothing, needs no plan, and another program may be using the ledger.
// Nothing can be recorded in what it returns. The errors are those of Open. Beside an ErrUnsure
// the ledger and its entries are returned all the same if the ledger itself can be read.
func Read(h Home, w Work) (*Ledger, []Entry, error) { return read(machine{}, h, w) }

// Find returns the paths of the ledgers of a work among the files of a folder, sorted. The error
// is of kind ErrStorage.
func Find(folder string, w Work) (paths []string, err error) { return find(machine{}, folder, w) }

// start is Start on any system.
func start(sys system, c clock, h Home, w Work, p *torque.Plan, turned []string) (*Ledger, error) {
	at, err := h.abodeOf(sys, w)
	if err != nil {
		return nil, err
	}
	refuse := func(found, fix string) error {
		return fault{kind: ErrRefused, path: h.Path, found: found, fix: fix}.err()
	}
	switch {
	case p == nil:
		return nil, refuse("no plan", "start a ledger with the plan that is to be carried out")
	case len(p.Steps()) == 0:
		return nil, refuse("a plan without steps", "lay it out with torque.NewPlan")
	case turned == nil:
		return nil, refuse("nobody said which bolts have been turned already", "ask, and name them; an empty list says that none has been")
	}
	for _, bolt := range turned {
		if _, err := p.StepsOf(bolt); err != nil {
			e := *err.(*torque.PlanError).Err
			return nil, fault{kind: ErrNotInPlan, path: h.Path, bolt: bolt, found: "the plan has no such bolt", fix: e.Fix}.err()
		}
	}
	text, hist, err := firstText(w, p, turned, c)
	if err != nil {
		return nil, withPath(h.Path, err)
	}
	f, err := at.openFiles(toAppend)
	if err != nil {
		return nil, err
	}
	switch _, weighed := f.found.weigh(); {
	case f.found.ledger.there:
		err = refuse("a file is there already, and is not touched", "open it; or name another one")
	case !errors.Is(weighed, ErrNotStarted):
		err = f.explain(weighed, p)
	default:
		err = f.install(text)
	}
	if err != nil {
		return nil, also(err, f.close())
	}
	return f.held(hist, c, nil), nil
}

// firstText returns what a ledger begins with.
func firstText(w Work, p *torque.Plan, turned []string, c clock) ([]byte, *history, error) {
	id := make([]byte, idLen)
	rand.Read(id) // never fails
	planJSON, err := json.Marshal(p)
	if err != nil {
		return nil, nil, err
	}
	now := c.now()
	text, sum := headerLine(hex.EncodeToString(id), w, now)
	add := func(number int, h happening) error {
		h.at = now
		line, after := recordLine(number, h, sum)
		if len(line) > longest {
			return fault{kind: ErrRefused, found: fmt.Sprintf("a record of %d bytes, such as that of the plan", len(line)), fix: fmt.Sprintf("a line has at most %d", longest)}.err()
		}
		text, sum = append(text, line...), after
		return nil
	}
	if err := add(1, happening{event: firstPlan, detail: string(planJSON)}); err != nil {
		return nil, nil, err
	}
	asked := happening{event: note, detail: "asked whether bolts had been turned already: none"}
	if len(turned) > 0 {
		asked.detail = "asked whether bolts had been turned already: " + strings.Join(turned, ", ")
	}
	if err := add(2, asked); err != nil {
		return nil, nil, err
	}
	for i, bolt := range turned {
		if err := add(3+i, doubts(bolt, "it was turned before the ledger began")); err != nil {
			return nil, nil, err
		}
	}
	h := &history{plan: p, planJSON: planJSON}
	return text, h, h.replay(text)
}

// open is Open on any system.
func open(sys system, c clock, h Home, w Work, p *torque.Plan) (*Ledger, error) {
	at, err := h.abodeOf(sys, w)
	if err != nil {
		return nil, err
	}
	f, err := at.openFiles(toAppend)
	if err != nil {
		return nil, err
	}
	hist, said, err := f.openWith(p)
	if err != nil {
		return nil, also(err, f.close())
	}
	return f.held(hist, c, said), nil
}

// openWith reads the files and mends what a crash has left.
func (f *files) openWith(p *torque.Plan) (hist *history, said []string, err error) {
	v, err := f.judge(p)
	if err != nil {
		return nil, nil, err
	}
	if hist, err = f.replay(v.text, p); err != nil {
		return nil, nil, err
	}
	said, err = f.mend(v)
	return hist, said, err
}

// takeItOver is TakeOver on any system.
func takeItOver(sys system, c clock, h Home, w Work, p *torque.Plan, word Word) (*Ledger, error) {
	at, err := h.abodeOf(sys, w)
	if err == nil {
		err = word.check()
	}
	if err != nil {
		return nil, err
	}
	f, err := at.openFiles(toAppend)
	if err != nil {
		return nil, err
	}
	hist, said, err := f.takeOver(c, p, word)
	if err != nil {
		return nil, also(err, f.close())
	}
	return f.held(hist, c, said), nil
}

func (f *files) takeOver(c clock, p *torque.Plan, word Word) (hist *history, said []string, err error) {
	_, unsure := f.judge(p)
	switch {
	case unsure == nil:
		return nil, nil, fault{kind: ErrRefused, path: f.named, found: "there is nothing to take over: the ledger and its witness agree", fix: "open it"}.err()
	case !errors.Is(unsure, ErrUnsure):
		return nil, nil, unsure
	}
	if f.witness.file == nil && f.found.fresh.clean() {
		// What was to be the witness is the only one.
		if err := f.crown(); err != nil {
			return nil, nil, err
		}
		f.found.witness, f.found.fresh = f.found.fresh, chain{}
	}
	base, how := f.found.base()
	if hist, err = f.replay(base, p); err != nil {
		return nil, nil, err
	}
	text, now := bytes.Clone(base), c.now()
	add := func(h happening) error {
		h.at = now
		if err := hist.progress.check(h); err != nil {
			return withPath(f.named, err)
		}
		line, sum := recordLine(hist.lines, h, hist.sum)
		text, hist.sum = append(text, line...), sum
		hist.lines++
		hist.progress.apply(h)
		return nil
	}
	found := unsure.(*units.Error).Found
	for _, bolt := range f.found.beyond(base, hist.progress.plan) {
		if err := add(doubts(bolt, "the ledger was taken over, and what does not agree with it shows more of this bolt")); err != nil {
			return nil, nil, err
		}
	}
	if err := add(takesOver(word, found+"; "+how)); err != nil {
		return nil, nil, err
	}
	if err := f.install(text); err != nil {
		return nil, nil, err
	}
	said = []string{found + "; " + how}
	if c := &f.found.ledger; c.whole() && len(c.torn)+len(c.siblings) > 0 {
		said = append(said, "what followed its last whole line was moved to "+f.torn())
	}
	return hist, append(said, f.renamed...), nil
}

// base returns the records that are taken over, and says whose they are.
func (f *found) base() (text []byte, how string) {
	l, w := &f.ledger, &f.witness
	switch {
	case l.whole() && w.lines > l.lines && w.whole() && bytes.HasPrefix(w.text, l.text):
		return w.text, "what the ledger lacked was put back from its witness"
	case l.whole():
		return l.text, "the ledger stands as it is"
	}
	return w.text, "the ledger was made again from its witness"
}

// beyond returns the bolts of which the files show something that the base does not have,
// whether its checksum is right or not.
func (f *found) beyond(base []byte, p *torque.Plan) (bolts []string) {
	baseLines := slices.Collect(bytes.Lines(base))
	known := make(map[string]bool, len(baseLines))
	for _, line := range baseLines {
		known[string(line)] = true
	}
	at := func(i int) []byte {
		if i < 0 || i >= len(baseLines) {
			return nil
		}
		return baseLines[i]
	}
	for _, c := range []*chain{&f.ledger, &f.witness} {
		i := -1
		for line := range bytes.Lines(c.data) {
			i++
			if known[string(line)] || isAltered(line, at(i)) {
				continue
			}
			var fields, same [7][]byte
			of := splitTabs(line, fields[:])
			if of < 5 { // a piece that does not even have its step
				continue
			}
			if n, ok := number(fields[0]); ok && splitTabs(at(n), same[:]) >= 6 {
				if isAltered(line, at(n)) || bytes.Equal(bytes.Join(fields[2:5], nil), bytes.Join(same[2:5], nil)) {
					continue
				}
			}
			// The bolt by its name and by its step, for one of them may be what was altered.
			n, _ := number(fields[3])
			step, _ := p.Step(n)
			named := string(fields[4])
			if of == 5 {
				named = "" // it may be cut
			}
			for _, bolt := range []string{named, step.Bolt} {
				if _, err := p.StepsOf(bolt); err == nil && !slices.Contains(bolts, bolt) {
					bolts = append(bolts, bolt)
				}
			}
		}
	}
	return bolts
}

// isAltered reports whether a line is another one with a byte or two altered. A line of
// something else has another checksum too.
func isAltered(line, other []byte) bool {
	if len(line) != len(other) {
		return false
	}
	differ := 0
	for i := range line {
		if line[i] != other[i] {
			differ++
		}
	}
	return differ <= 2
}

// read is Read on any system.
func read(sys system, h Home, w Work) (*Ledger, []Entry, error) {
	at, err := h.abodeOf(sys, w)
	if err != nil {
		return nil, nil, err
	}
	for tries := 0; ; tries++ {
		f, err := at.openFiles(toRead)
		if err != nil {
			return nil, nil, err
		}
		v, unsure := f.judge(nil)
		if unsure != nil && tries < mostTries && f.moves() {
			f.close()
			continue
		}
		if err := f.close(); err != nil {
			return nil, nil, err
		}
		text := v.text
		if unsure != nil {
			if !errors.Is(unsure, ErrUnsure) || !f.found.ledger.whole() {
				return nil, nil, unsure
			}
			text = f.found.ledger.text
		}
		var entries []Entry
		hist := &history{keep: func(e Entry) { entries = append(entries, e) }}
		if err := hist.replay(text); err != nil {
			return nil, nil, withPath(h.Path, err)
		}
		l := &Ledger{Plan: hist.progress.plan, Path: h.Path, Work: hist.header.work, progress: hist.progress, clock: systemClock(),
			failed: fault{kind: ErrStorage, path: h.Path, found: "it was opened for reading", fix: "open it with Open"}.err()}
		for _, flaw := range v.flaws {
			l.Said = append(l.Said, flaw.what)
		}
		return l, entries, unsure
	}
}

// mostTries bounds how often a ledger is read that another program is writing.
const mostTries = 50

// moves reports whether one of the files has changed since it was opened, and waits a little.
func (f *files) moves() bool {
	moved := false
	for _, one := range []struct {
		*side
		c *chain
	}{{f.ledger, &f.found.ledger}, {f.witness, &f.found.witness}, {f.fresh, &f.found.fresh}} {
		info, err := f.sys.stat(one.path)
		moved = moved || (err == nil) != one.c.there || err == nil && info.Size() != int64(len(one.c.data))
	}
	if moved {
		time.Sleep(2 * time.Millisecond)
	}
	return moved
}

// find is Find on any system.
func find(sys system, folder string, w Work) (paths []string, err error) {
	if err := w.check(); err != nil {
		return nil, err
	}
	names, err := sys.list(folder)
	if err != nil {
		return nil, withPath(folder, storage("the folder cannot be read", err))
	}
	for _, name := range names {
		if strings.Contains(name, "."+damagedName+"-") {
			continue
		}
		path := filepath.Join(folder, name)
		if h, ok := headerOf(sys, path); ok && h.work.key() == w.key() {
			paths = append(paths, path)
		}
	}
	return paths, nil
}

// headerOf returns what a ledger's file begins with; ok is false of any other file.
func headerOf(sys system, path string) (h header, ok bool) {
	info, err := sys.stat(path)
	if err != nil || !info.Mode().IsRegular() {
		return h, false
	}
	f, err := sys.open(path, toRead)
	if err != nil {
		return h, false
	}
	defer f.Close()
	const longestHeader = 16 << 10 // three names of 500 bytes, each of which JSON may write in six
	b := make([]byte, longestHeader)
	n, _ := f.ReadAt(b, 0)
	line, _, ended := bytes.Cut(b[:n], []byte("\n"))
	body, _, sealed := unseal(append(line, '\n'), 0)
	if !ended || !sealed {
		return h, false
	}
	h, err = readHeader(body)
	return h, err == nil
}

// files are the files of an abode, opened and read.
type files struct {
	*abode
	found                  found
	ledger, witness, fresh *side
	renamed                []string // what was renamed, and to what
}

// openFiles opens what is there, and reads it.
func (p *abode) openFiles(how opening) (*files, error) {
	f := &files{abode: p,
		ledger:  &side{sys: p.sys, what: "the ledger", path: p.path},
		witness: &side{sys: p.sys, what: "its witness", path: p.witness()},
		fresh:   &side{sys: p.sys, what: "its new witness", path: p.fresh()}}
	for _, one := range []struct {
		*side
		c *chain
	}{{f.ledger, &f.found.ledger}, {f.witness, &f.found.witness}, {f.fresh, &f.found.fresh}} {
		err := one.open(how)
		var data []byte
		if err == nil {
			data, err = one.read()
		}
		if err != nil {
			return nil, also(err, f.close())
		}
		if one.side == f.witness && one.file != nil && f.ledger.file != nil && bytes.Equal(data, f.found.ledger.data) {
			*one.c = f.found.ledger // as it is nearly always, and need not be taken apart again
			continue
		}
		*one.c = linked(data, one.file != nil)
	}
	return f, nil
}

func (f *files) close() error { return closeAll(f.ledger, f.witness, f.fresh) }

// also joins an error to another, if there is one.
func also(err, other error) error {
	if other == nil {
		return err
	}
	return errors.Join(err, other)
}

// judge weighs the files, and explains what is wrong with them.
func (f *files) judge(p *torque.Plan) (verdict, error) {
	if c := &f.found.ledger; c.lines > 0 && c.header.work.key() != f.work.key() {
		return verdict{}, fault{kind: ErrOtherWork, path: f.named, found: fmt.Sprintf("it belongs to %s, and this is %s", c.header.work, f.work),
			fix: f.elsewhere("name the ledger of this work")}.err()
	}
	v, err := f.found.weigh()
	if err != nil {
		return v, f.explain(err, p)
	}
	return v, nil
}

// explain says of an error of weigh where it is, which bolts may have been turned, and what to
// do.
func (f *files) explain(err error, p *torque.Plan) error {
	e := err.(*units.Error)
	e.Where = f.named
	switch e.Kind {
	case ErrNotStarted:
		e.Fix = f.elsewhere(e.Fix)
	case ErrDamaged:
		e.Found += "; bolts that may have been turned: " + f.found.mayBeTurned(p)
		e.Fix = fmt.Sprintf("nothing was changed; look at the marks of every bolt, move the file and %s away, and start again, naming the bolts that may have been turned", f.abode.witness())
	case ErrUnsure:
		e.Found += "; bolts that may have been turned: " + f.found.mayBeTurned(p)
		e.Fix = fmt.Sprintf("look at the witness marks of these bolts; put back what is missing (the witness is %s), or take over what is there, on your word", f.abode.witness())
		if f.found.ledger.lines == 0 {
			e.Fix = f.elsewhere(e.Fix)
		}
	}
	return e
}

// elsewhere adds to a fix the other ledgers of the work in the folder.
func (f *files) elsewhere(fix string) string {
	paths, _ := find(f.sys, filepath.Dir(f.path), f.work)
	paths = slices.DeleteFunc(paths, func(p string) bool { return p == f.path })
	if len(paths) == 0 {
		return fix
	}
	return fix + "; ledgers of this work stand in " + strings.Join(paths, ", ")
}

// replay reads a text whose checksums are right. The plan that it holds must be p, unless p is
// nil.
func (f *files) replay(text []byte, p *torque.Plan) (*history, error) {
	h := &history{plan: p}
	if p != nil {
		var err error
		if h.planJSON, err = json.Marshal(p); err != nil {
			return nil, withPath(f.named, err)
		}
	}
	if err := h.replay(text); err != nil {
		return nil, withPath(f.named, err)
	}
	held := h.progress.plan
	if p == nil || held == p {
		return h, nil
	}
	if heldJSON, err := json.Marshal(held); err != nil || !bytes.Equal(heldJSON, h.planJSON) {
		return nil, fault{kind: ErrOtherPlan, path: f.named,
			found: fmt.Sprintf("it holds the plan %q (%.12s), and this is %q (%.12s)", held.Name(), held.Digest(), p.Name(), p.Digest()),
			fix:   "give the plan that it holds; or revise the ledger, which lays a corrected plan against what is done"}.err()
	}
	return h, nil
}

// held returns the ledger that holds the files.
func (f *files) held(h *history, c clock, said []string) *Ledger {
	return &Ledger{Plan: h.progress.plan, Path: f.named, Work: h.header.work, Said: said,
		sides: []*side{f.ledger, f.witness}, progress: h.progress, lines: h.lines, sum: h.sum, clock: c}
}

// mend makes the files hold what was found that they have to, and says what it did.
func (f *files) mend(v verdict) (said []string, err error) {
	for _, flaw := range v.flaws {
		if strings.HasSuffix(flaw.done, " ") {
			flaw.done += f.torn()
		}
		said = append(said, flaw.what+"; "+flaw.done)
	}
	if v.retire {
		if err := f.setAside(f.fresh, "left"); err != nil {
			return nil, err
		}
	}
	if err := f.mendLedger(v.text); err != nil {
		return nil, err
	}
	if v.finish {
		err = f.fresh.mend(f.found.fresh.data, v.text, "")
		if err == nil {
			err = f.crown()
		}
	} else {
		err = f.witness.mend(f.found.witness.data, v.text, "")
	}
	if err == nil {
		err = checkAll(f.ledger, f.witness)
	}
	return append(said, f.renamed...), err
}

// mendLedger makes the ledger's file hold a text. A file that cannot be read is renamed.
func (f *files) mendLedger(text []byte) error {
	c := &f.found.ledger
	if !bytes.HasPrefix(text, c.data) && (c.damage != nil || !bytes.HasPrefix(text, c.text)) {
		if err := f.setAside(f.ledger, damagedName); err != nil {
			return err
		}
		*c = chain{}
	}
	made := f.ledger.file == nil
	if made {
		if err := f.ledger.open(newToAppend); err != nil {
			return err
		}
	}
	aside := f.torn()
	if !c.ended {
		aside = "" // what is cut off stands in the place of a newline
	}
	if err := f.ledger.mend(c.data, text, aside); err != nil {
		return err
	}
	if made {
		return f.syncFolder(f.path)
	}
	return nil
}

// install gives a ledger a text that it did not have before, at its start or when it is taken
// over. The new witness is written first, and is whole before anything else is touched; so
// whatever is found after a crash shows how far it went.
func (f *files) install(text []byte) error {
	if err := f.sys.makeFolder(f.folder); err != nil {
		return withPath(f.folder, storage("the folder of the witness cannot be made", err))
	}
	if f.fresh.file == nil {
		if err := f.fresh.open(anyToAppend); err != nil {
			return err
		}
	}
	if err := f.fresh.mend(f.found.fresh.data, text, ""); err != nil {
		return err
	}
	if err := f.syncFolder(f.fresh.path); err != nil {
		return err
	}
	if err := f.mendLedger(text); err != nil {
		return err
	}
	if err := f.crown(); err != nil {
		return err
	}
	return checkAll(f.ledger, f.witness)
}

// crown gives the new witness the place of the witness, which is renamed.
func (f *files) crown() error {
	if f.witness.file != nil {
		if err := f.setAside(f.witness, "old"); err != nil {
			return err
		}
	}
	if err := f.fresh.close(); err != nil { // a file that is open cannot be renamed everywhere
		return err
	}
	if err := f.sys.rename(f.fresh.path, f.witness.path); err != nil {
		return withPath(f.fresh.path, storage("the new witness cannot be renamed", err))
	}
	if err := f.syncFolder(f.witness.path); err != nil {
		return err
	}
	f.witness.size, f.witness.tail = f.fresh.size, f.fresh.tail
	if err := f.witness.open(toAppend); err != nil {
		return err
	}
	if f.witness.file == nil {
		return fault{kind: ErrUnsure, path: f.witness.path, found: "its witness was changed under the program: it was removed or renamed", fix: "open the ledger again"}.err()
	}
	return nil
}

// damagedName is part of the name of a ledger that was set aside.
const damagedName = "damaged"

// setAside closes a file and renames it, to a name that no file has.
func (f *files) setAside(s *side, why string) error {
	if err := s.close(); err != nil {
		return err
	}
	for n := 1; ; n++ {
		path := fmt.Sprintf("%s.%s-%d", s.path, why, n)
		switch _, err := f.sys.stat(path); {
		case err == nil:
			continue
		case !errors.Is(err, fs.ErrNotExist):
			return withPath(path, storage("nobody knows whether it is there", err))
		}
		if err := f.sys.rename(s.path, path); err != nil {
			return withPath(s.path, storage(s.what+" cannot be renamed", err))
		}
		f.renamed = append(f.renamed, fmt.Sprintf("what was %s before is %s now", s.what, path))
		return f.syncFolder(path)
	}
}

// syncFolder waits until the disk has the names in a file's folder.
func (f *files) syncFolder(path string) error {
	if err := f.sys.syncFolder(filepath.Dir(path)); err != nil {
		return withPath(path, storage("its folder could not be written to the disk", err))
	}
	return nil
}
