package calc

import "example.com/closefit/examples/sheetcheck/sheet"

// results are what the formulas of a book give. There may be very many, most of them numbers that are
// short decimals, so that these take no more room than their digits and their binary64.
type results struct {
	sheet.ByCell[result]
	numbers room[plainPair]
	alikes  room[Value] // exactly and in binary64 the same, as texts are
	pairs   room[Pair]
}

// A result says where what a formula gives is held.
type result int32

const (
	unseen result = 0  // nothing is known of the cell
	open   result = -1 // its formula waits for others

	ofNumber, ofAlike, ofPair = 1, 2, 3 // the two lowest bits of one that is known
)

// A plainPair is a Pair of a short decimal and a binary64.
type plainPair struct {
	n      int64
	binary float64
	places int8
}

// know notes what a cell's formula gives.
func (r *results) know(key sheet.Key, p Pair) {
	x, b := p.Exact, p.Binary
	switch {
	case x == Value{kind: KindNumber, form: small, n: x.n, places: x.places} && b == Value{kind: KindNumber, form: binary, lo: b.lo}:
		r.Set(key, result(r.numbers.add(plainPair{x.n, b.lo, x.places})<<2|ofNumber))
	case x == b:
		r.Set(key, result(r.alikes.add(x)<<2|ofAlike))
	default:
		r.Set(key, result(r.pairs.add(p)<<2|ofPair))
	}
}

// pair returns what a cell gives, of which that is known.
func (r *results) pair(is result) Pair {
	switch i := int(is >> 2); is & 3 {
	case ofNumber:
		n := r.numbers.at(i)
		return Pair{Value{kind: KindNumber, form: small, n: n.n, places: n.places}, Value{kind: KindNumber, form: binary, lo: n.binary}}
	case ofAlike:
		return Pair{*r.alikes.at(i), *r.alikes.at(i)}
	default:
		return *r.pairs.at(i)
	}
}

// A room holds very many of a kind in blocks, so that they are not copied as they grow.
type room[T any] struct{ blocks [][]T }

const roomBlock = 4096

// add holds one more and returns its number.
func (r *room[T]) add(v T) int {
	last := len(r.blocks) - 1
	if last < 0 || len(r.blocks[last]) == roomBlock {
		r.blocks = append(r.blocks, nil)
		last++
	}
	r.blocks[last] = append(r.blocks[last], v)
	return last*roomBlock + len(r.blocks[last]) - 1
}

func (r *room[T]) at(i int) *T { return &r.blocks[i/roomBlock][i%roomBlock] }
