package sheet

// A Key is a cell of a Book.
type Key uint64

// KeyOf returns the key of a cell of the sheet of that number, from 0.
func KeyOf(index int, at Place) Key {
	return Key(index)<<48 | Key(at.Row)<<16 | Key(at.Column)
}

// Cell returns the number of the cell's sheet, and its place there.
func (k Key) Cell() (index int, at Place) {
	return int(k >> 48), Place{Row: int(k >> 16 & 0xFFFFFFFF), Column: int(k & 0xFFFF)}
}

// A ByCell holds something for each of very many cells, those of a column together in blocks. The
// zero ByCell holds nothing.
type ByCell[T any] struct {
	blocks map[Key]*[rowsTogether]T // by the first cell that each could hold
}

const rowsTogether = 32

func (k Key) block() (first Key, i int) {
	const rows = (rowsTogether - 1) << 16
	return k &^ rows, int(k & rows >> 16)
}

// At returns what is held for a cell; the zero T if nothing is.
func (b *ByCell[T]) At(k Key) (v T) {
	first, i := k.block()
	if held := b.blocks[first]; held != nil {
		return held[i]
	}
	return v
}

// Empty reports whether nothing is held for any cell.
func (b *ByCell[T]) Empty() bool { return len(b.blocks) == 0 }

// Set holds something for a cell.
func (b *ByCell[T]) Set(k Key, v T) {
	first, i := k.block()
	held := b.blocks[first]
	if held == nil {
		held = new([rowsTogether]T)
		if b.blocks == nil {
			b.blocks = map[Key]*[rowsTogether]T{}
		}
		b.blocks[first] = held
	}
	held[i] = v
}
