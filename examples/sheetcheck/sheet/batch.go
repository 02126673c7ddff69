package sheet

import (
	"context"
	"iter"
	"slices"
)

// BatchRows is about how many rows a Batch has.
const BatchRows = 512

// A Batch is rows that were read together. It is good until it is released.
type Batch struct {
	Rows  []Row
	cells []Cell // of all of them
	free  chan<- *Batch
}

// Release gives the batch back to be filled again. Its rows must not be used after
// that, though the texts of their cells may.
func (b *Batch) Release() {
	select {
	case b.free <- b:
	default:
	}
}

// batches is a supply of batches.
type batches chan *Batch

func newBatches() batches { return make(chan *Batch, 8) }

// next returns an empty batch, a used one if there is any.
func (s batches) next() *Batch {
	select {
	case b := <-s:
		b.Rows, b.cells = b.Rows[:0], b.cells[:0]
		return b
	default:
		return &Batch{Rows: make([]Row, 0, BatchRows), cells: make([]Cell, 0, 16*BatchRows), free: s}
	}
}

// add adds a cell to the row begun last. The cell is filled in place: cells are
// many, and large to copy.
func (b *Batch) add(text string, n Notation) {
	i := len(b.cells)
	if i == cap(b.cells) {
		b.cells = slices.Grow(b.cells, i)
	}
	b.cells = b.cells[:i+1]
	c := &b.cells[i]
	c.Text, c.note = text, nil
	c.Number, c.IsNumber = n.Number(text)
}

// addNumber is add for a text that is known to be the number. Its cells never have
// notes: they are a text file's.
func (b *Batch) addNumber(text string, number Number) {
	i := len(b.cells)
	if i == cap(b.cells) {
		b.cells = slices.Grow(b.cells, i)
	}
	b.cells = b.cells[:i+1]
	c := &b.cells[i]
	c.Text, c.Number, c.IsNumber = text, number, true
}

// row begins a row. Its cells are those added until the next one begins.
func (b *Batch) row(number int) {
	b.Rows = append(b.Rows, Row{Number: number})
}

// end takes the cells from the index on for the row begun last.
func (b *Batch) end(start int) {
	b.Rows[len(b.Rows)-1].Cells = b.cells[start:len(b.cells):len(b.cells)]
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
			for i := range b.Rows {
				if !yield(&b.Rows[i], nil) {
					return
				}
			}
			b.Release()
		}
	}
}
