package sheet

import (
	"context"
	"iter"
	"slices"
)

// batchRows is about how many rows a Batch has.
const batchRows = 512

// A Batch is rows that were read together. It is good until it is released.
type Batch struct {
	rows  []Row
	cells []Cell   // of all of them
	lines *unsplit // of a text, which are no rows yet
	bytes []byte   // of the lines
	free  chan<- *Batch
}

// Rows returns the rows of the batch. Lines of a text are only now split into cells: several
// batches can be split at once, each by one goroutine.
func (b *Batch) Rows() ([]Row, error) {
	if b.lines != nil {
		lines := b.lines
		b.lines = nil
		if err := lines.split(b); err != nil {
			return nil, err
		}
	}
	return b.rows, nil
}

// Release gives the batch back to be filled again. Its rows must not be used after
// that, though the texts of their cells may.
func (b *Batch) Release() {
	select {
	case b.free <- b:
	default:
	}
}

// A supply fills batches with rows and hands them on.
type supply struct {
	free  chan *Batch
	yield func(*Batch, error) bool
	*Batch
	start int // of the row begun last, in cells
}

func newSupply(yield func(*Batch, error) bool) *supply {
	s := &supply{free: make(chan *Batch, 8), yield: yield}
	s.next()
	return s
}

// next takes an empty batch, a used one if there is any.
func (s *supply) next() {
	select {
	case b := <-s.free:
		b.rows, b.cells, b.lines = b.rows[:0], b.cells[:0], nil
		s.Batch = b
	default:
		s.Batch = &Batch{rows: make([]Row, 0, batchRows), cells: make([]Cell, 0, 16*batchRows), free: s.free}
	}
}

// keep copies bytes to where the batch keeps them.
func (s *supply) keep(text []byte) []byte {
	s.bytes = append(s.bytes[:0], text...)
	return s.bytes
}

// row returns the open row, with so many columns at least: those that it did not have
// yet are blank. Cells are filled in place: they are many, and large to copy.
func (s *supply) row(columns int) []Cell {
	have, want := len(s.cells), s.start+columns
	if want > have {
		s.cells = slices.Grow(s.cells, want-have)[:want]
		clear(s.cells[have:])
	}
	return s.cells[s.start:]
}

// end makes a row of the cells since the last one, unless there are none, and hands
// the batch on if it is full. more is false if no more rows are wanted.
func (s *supply) end(number int) (more bool) {
	if len(s.cells) > s.start {
		s.rows = append(s.rows, Row{Number: number, Cells: s.cells[s.start:len(s.cells):len(s.cells)]})
	}
	s.start = len(s.cells)
	return len(s.rows) < batchRows || s.hand()
}

// hand hands the batch on, if anything is in it.
func (s *supply) hand() (more bool) {
	if len(s.rows) == 0 && s.lines == nil {
		return true
	}
	if !s.yield(s.Batch, nil) {
		return false
	}
	s.next()
	s.start = 0
	return true
}

// Rows reads a sheet's rows one by one, in order, empty ones left out. A row is
// good until the next one.
func Rows(ctx context.Context, f File, sheet string) iter.Seq2[*Row, error] {
	return func(yield func(*Row, error) bool) {
		for b, err := range f.Batches(ctx, sheet) {
			if err != nil {
				yield(nil, err)
				return
			}
			rows, err := b.Rows()
			if err != nil {
				yield(nil, err)
				return
			}
			for i := range rows {
				if !yield(&rows[i], nil) {
					return
				}
			}
			b.Release()
		}
	}
}
