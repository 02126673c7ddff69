package calc

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// Bounds are how much an Evaluator does.
type Bounds struct {
	Visits int // cells that are looked at, in all: a sum of 1000 cells looks at 1000
	Array  int // elements of a list that a formula computes with
	Work   int // pieces of work for all formulas together: elements of lists and cells that are looked at, and formulas, each worth formulaWork of them; 0 for no bound
}

// DefaultBounds returns the bounds that the program uses.
func DefaultBounds() Bounds {
	return Bounds{Visits: 100_000_000, Array: 250_000, Work: 100_000_000}
}

// String says the bounds in words, for a program's help.
func (b Bounds) String() string {
	return fmt.Sprintf("%d characters, %d brackets in one another; lists of %d elements; %d cells looked at, %d pieces of work, and %d MB of texts and long ratios for all of them", longestFormula, mostNests, b.Array, b.Visits, b.Work, mostHeld>>20)
}

// A Ref is a cell of a sheet.
type Ref struct {
	Sheet string
	At    sheet.Place
}

// String returns the cell as formulas write it: "Mains!C7".
func (r Ref) String() string {
	var b strings.Builder
	writeSheet(&b, "", r.Sheet, "")
	return b.String() + r.At.String()
}

// A Pair is what a cell's formula gives: exactly, and in binary64 as office programs
// compute. The two are computed apart from each other: where a comparison hangs on the
// last bit, they go different ways from there.
type Pair struct {
	Exact, Binary Value
}

// An Evaluator evaluates the formulas of a workbook, each once. It is not safe for use
// by several goroutines at once.
type Evaluator struct {
	book   Book
	bounds Bounds
	names  []string
	sheets map[string]int // by name, and by name in small letters
	known  results
	rings  map[sheet.Key][]Ref
	parsed map[string]definition // what names stand for
	exact  machine
	binary machine
	forms  *Forms
	made   formed // the book, if it has formulas read already; else nil
	used   *meter
	lower  int // the last row that any sheet has
	right  int
	usedUp string // what is said of cells that are asked for when the work is used up: very many may be

	// Of the work that is going on:
	ctx     context.Context
	needs   []sheet.Key // cells that must be evaluated first
	missing int         // how often a cell was asked for that is not evaluated yet
	waiting []sheet.Key // likewise, of all formulas that wait
	ticks   int
	stopped error // why the work ends before it is done
}

// A meter is how much of its bounds an Evaluator has used, with those beside it.
type meter struct {
	visits int
	work   int
	held   int // bytes of texts and ratios, beside the pairs themselves
}

// formulaWork is how many elements of a list take as long as a formula of a few cells.
const formulaWork = 32

// A formed is a Book that has some formulas read already.
type formed interface {
	// Form returns the formula of a cell; nil if its text is to be read.
	Form(index int, at sheet.Place) *Form
}

// New returns an evaluator of a workbook's formulas. Where the book has a method
// Form(index int, at sheet.Place) *Form, that gives the formula of a cell, and the text of
// the cell is read only if it gives nil.
func New(book Book, bounds Bounds) *Evaluator {
	return newEvaluator(book, bounds, &Forms{}, &meter{})
}

// Beside returns an evaluator of another workbook, or of the same with other cells in it, for
// which the bounds count together with this one's.
func (e *Evaluator) Beside(book Book) *Evaluator {
	return newEvaluator(book, e.bounds, e.forms, e.used)
}

func newEvaluator(book Book, bounds Bounds, forms *Forms, used *meter) *Evaluator {
	e := &Evaluator{book: book, bounds: bounds, forms: forms, used: used, names: book.Sheets(), sheets: map[string]int{},
		rings: map[sheet.Key][]Ref{}, parsed: map[string]definition{},
		usedUp: fmt.Sprintf("the %d pieces of work for formulas are used up", bounds.Work)}
	for i, name := range e.names {
		for _, key := range []string{name, strings.ToLower(name)} {
			if _, double := e.sheets[key]; !double {
				e.sheets[key] = i
			}
		}
		row, column := book.Extent(i)
		e.lower, e.right = max(e.lower, row), max(e.right, column)
	}
	e.made, _ = book.(formed)
	e.exact = newMachine(e, false)
	e.binary = newMachine(e, true)
	return e
}

// sheet returns the number of a sheet. Capitals do not count.
func (e *Evaluator) sheet(name string) (int, bool) {
	index, ok := e.sheets[name]
	if !ok {
		index, ok = e.sheets[strings.ToLower(name)]
	}
	return index, ok
}

// A Refusal is the error for a cell that is not evaluated.
type Refusal struct {
	Cell Ref
	Why  string // begins with the cell that is to blame, if that is another one
	Ring []Ref  // of a formula that stands on itself: the cells, each standing on the next
}

func (r *Refusal) Error() string { return fmt.Sprintf("%s is not evaluated: %s", r.Cell, r.Why) }

// Is reports whether target is ErrFormula.
func (r *Refusal) Is(target error) bool { return target == ErrFormula }

// At returns what a cell holds: what its formula gives, or what is typed into it. The
// error is a *Refusal if its formula cannot be evaluated as office programs do; one
// that only has no exact value is not an error.
func (e *Evaluator) At(ctx context.Context, name string, at sheet.Place) (Pair, error) {
	index, ok := e.sheet(name)
	if !ok {
		return Pair{}, &Refusal{Cell: Ref{name, at}, Why: "there is no such sheet"}
	}
	key := sheet.KeyOf(index, at)
	cell := e.book.Cell(index, at)
	if cell == nil || cell.Formula == "" {
		return Pair{e.exact.typed(cell), e.binary.typed(cell)}, nil
	}
	e.ctx, e.stopped = ctx, context.Cause(ctx)
	err := e.evaluate(key)
	if errors.Is(err, errWork) {
		return Pair{}, &Refusal{Cell: Ref{e.names[index], at}, Why: e.usedUp}
	}
	if err != nil {
		return Pair{}, err
	}
	p := e.known.pair(e.known.At(key))
	if p.Binary.kind == KindUnknown {
		why := strings.TrimPrefix(p.Binary.text, Ref{e.names[index], at}.String()+": ")
		return p, &Refusal{Cell: Ref{e.names[index], at}, Why: why, Ring: e.rings[key]}
	}
	return p, nil
}

// step is a cell whose formula waits.
type step struct {
	key   sheet.Key
	needs int // how many cells were needed by the steps before it
}

// A reading is a formula that was read, and by how much its references move.
type reading struct {
	form          *Form
	rows, columns int
}

// read reads the formula of a cell.
func (e *Evaluator) read(index int, at sheet.Place, cell *sheet.Cell) (r reading, err error) {
	if e.made != nil {
		r.form = e.made.Form(index, at)
	}
	if r.form == nil {
		if array, ok := cell.Array(); ok {
			at = array.Area.First // for which it is written
		}
		if r.form, err = e.forms.Read(cell.Formula, at); err != nil {
			return r, err
		}
	}
	r.rows, r.columns = r.form.Off(at)
	return r, nil
}

// mostWaiting bounds the cells that formulas wait for, all together.
const mostWaiting = 1 << 20

// keptFormulas is how many formulas that wait are kept as they were read.
const keptFormulas = 1000

// evaluate evaluates a cell and all that it stands on. Formulas that stand on one
// another are a list here and no recursion: sheets have chains of them a million deep.
func (e *Evaluator) evaluate(key sheet.Key) error {
	if e.known.At(key) != unseen {
		return nil
	}
	stack := []step{{key: key}}
	e.known.Set(key, open)
	e.waiting = e.waiting[:0]
	defer func() { // of what was given up, nothing is known
		for _, s := range stack {
			e.known.Set(s.key, unseen)
		}
	}()
	var kept []reading // formulas of the first steps, which would be read again
	for len(stack) > 0 {
		if e.tick(formulaWork); e.stopped != nil {
			return e.stopped
		}
		top := stack[len(stack)-1]
		if len(e.waiting) == top.needs {
			var parsed reading
			if len(kept) == len(stack) {
				parsed, kept = kept[len(kept)-1], kept[:len(kept)-1]
			}
			done := e.compute(top.key, &parsed)
			if e.stopped != nil {
				return e.stopped
			}
			if !done {
				if len(e.waiting)+len(e.needs) > mostWaiting { // the rest is asked for again when the first is known
					e.needs = e.needs[len(e.needs)-1:]
				}
				e.waiting = append(e.waiting, e.needs...)
				if len(stack) <= keptFormulas {
					kept = append(kept, parsed)
				}
				continue
			}
			stack = stack[:len(stack)-1]
			continue
		}
		next := e.waiting[len(e.waiting)-1]
		e.waiting = e.waiting[:len(e.waiting)-1]
		switch e.known.At(next) {
		case unseen:
			e.known.Set(next, open)
			stack = append(stack, step{key: next, needs: len(e.waiting)})
		case open:
			stack = stack[:e.close(stack, next)]
			kept = kept[:min(len(kept), len(stack))]
		}
	}
	return nil
}

// close makes the cells unknown that stand on one another in a ring, and returns how
// many steps are left.
func (e *Evaluator) close(stack []step, first sheet.Key) int {
	from := slices.IndexFunc(stack, func(s step) bool { return s.key == first })
	var ring []Ref
	e.waiting = e.waiting[:stack[from].needs]
	for _, s := range stack[from:] {
		index, at := s.key.Cell()
		ring = append(ring, Ref{e.names[index], at})
	}
	const shown = 8
	var words []string
	for _, r := range ring[:min(len(ring), shown)] {
		words = append(words, r.String())
	}
	if len(ring) > shown {
		words = append(words, fmt.Sprintf("… (%d cells)", len(ring)))
	}
	why := "it depends on itself, through " + strings.Join(append(words, ring[0].String()), " → ")
	const longest = 1000 // of rings of which every cell keeps its own reason
	v := unknown(ring[0].String() + ": " + why)
	v.n = located
	for i, s := range stack[from:] {
		if len(ring) <= longest {
			v.text = ring[i].String() + ": " + why
			e.rings[s.key] = ring
		}
		e.know(s.key, Pair{v, v})
	}
	return from
}

// mostHeld is how many bytes texts and ratios that formulas give may take together. Numbers that
// take no more than their own room stay known when it is used up.
const mostHeld = 32 << 20

func (e *Evaluator) know(key sheet.Key, p Pair) {
	size := p.Exact.size() + p.Binary.size()
	if size > mostHeld-e.used.held {
		v := unknown(heldUp)
		v.n = located
		p, size = Pair{v, v}, 0
	}
	e.used.held += size
	e.known.know(key, p)
}

var heldUp = fmt.Sprintf("formulas give more than %d MB of texts and long ratios", mostHeld>>20)

// located marks a reason that says which cell is to blame.
const located = 1

// compute evaluates a formula, unless it needs cells that are not evaluated yet.
func (e *Evaluator) compute(key sheet.Key, parsed *reading) (done bool) {
	e.needs = e.needs[:0]
	index, at := key.Cell()
	cell := e.book.Cell(index, at)
	if parsed.form == nil {
		var err error
		if *parsed, err = e.read(index, at, cell); err != nil {
			v := e.blame(unknown(err.Error()), index, at)
			e.know(key, Pair{v, v})
			return true
		}
	}
	var binary Value
	exact := e.exact.formula(*parsed, index, at, cell)
	if len(e.needs) == 0 { // what the one needs, the other mostly does
		binary = e.binary.formula(*parsed, index, at, cell)
	}
	if e.stopped != nil {
		return false
	}
	if len(e.needs) > 0 {
		slices.Sort(e.needs)
		e.needs = slices.Compact(e.needs)
		slices.Reverse(e.needs) // the last is taken first
		return false
	}
	e.know(key, Pair{e.blame(exact, index, at), e.blame(binary, index, at)})
	return true
}

// blame puts the cell that a reason belongs to before it.
func (e *Evaluator) blame(v Value, index int, at sheet.Place) Value {
	if v.kind == KindUnknown && v.n != located {
		v.text = Ref{e.names[index], at}.String() + ": " + v.text
		v.n = located
	}
	return v
}

// errWork is why the work ends when the bound on it is reached.
var errWork = errors.New("the work is used up")

// tick is called for every small piece of work, and asks whether it is to be stopped. What is
// computed after that does not count. The bound is in work and not in time, so that one sheet
// gives one answer on every machine.
func (e *Evaluator) tick(work int) {
	e.used.work += work
	switch e.ticks++; {
	case e.stopped != nil:
	case e.bounds.Work > 0 && e.used.work > e.bounds.Work:
		e.stopped = errWork
	case e.ticks&0x3FF == 0 && e.ctx.Err() != nil:
		e.stopped = context.Cause(e.ctx)
	}
}

// look counts cells that are looked at. ok is false if they are too many.
func (e *Evaluator) look(cells int) (v Value, ok bool) {
	e.used.work += cells
	if e.used.visits += cells; e.used.visits > e.bounds.Visits {
		return unknown(fmt.Sprintf("more than %d cells to look at", e.bounds.Visits)), false
	}
	return Value{}, true
}
