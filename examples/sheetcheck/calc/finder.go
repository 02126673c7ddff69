package calc

import (
	"hash/maphash"
	"math"
	"strings"
)

// fewRows is how many rows are looked through one by one.
const fewRows = 32

// A finder is what is known of a column that look-ups go through.
type finder struct {
	uses    int
	slots   []int32 // of a hash table: which element from 1, or 0
	counts  []int32 // of each slot, how many elements equal it
	refused bool    // elements are unknown, or not known exactly
	numbers bool    // a text among them looks like a number
	ordered map[orderKey][]int32
	faults  map[orderKey]Value
}

type orderKey struct {
	kind       Kind
	descending bool
}

func (v *vector) finder() *finder {
	a := v.area
	a.right = a.left
	f, ok := v.f.finds[a]
	if !ok {
		f = &finder{ordered: map[orderKey][]int32{}, faults: map[orderKey]Value{}}
		v.f.finds[a] = f
	}
	return f
}

var seed = maphash.MakeSeed()

// hash is the same for values that are equal. ok is false for one that it may not be.
func hash(v Value) (h uint64, ok bool) {
	switch v.kind {
	case KindNumber:
		if v.form >= enclosure {
			return 0, false
		}
		f := v.Float64()
		if f == 0 {
			f = 0 // without a sign
		}
		return maphash.Comparable(seed, math.Float64bits(f)), true
	case KindText:
		return maphash.String(seed, strings.ToLower(v.text)), true
	case KindLogical:
		return maphash.Comparable(seed, v.n), true
	}
	return 0, false
}

// indexed finds the first element that equals a key by a hash table, which holds some
// 16 bytes for each element and is made at the second look-up. ok is false if the
// elements must be gone through one by one.
func (v *vector) indexed(key Value) (i int, why Value, ok bool) {
	found := v.finder()
	if found.uses++; found.uses < 2 || found.refused {
		return 0, why, false
	}
	h, ok := hash(key)
	if !ok {
		return 0, why, false
	}
	if found.slots == nil {
		if why, ok := v.index(found); !ok {
			return 0, why, why.kind == KindUnknown
		}
	}
	slot, why := v.slot(found, h, key)
	if why.kind != KindBlank {
		return 0, why, true
	}
	return int(found.slots[slot]) - 1, why, true
}

// slot returns where a key is in the hash table; why is notFound if it is not there.
func (v *vector) slot(found *finder, h uint64, key Value) (slot uint64, why Value) {
	mask := uint64(len(found.slots) - 1)
	for at := h & mask; found.slots[at] != 0; at = (at + 1) & mask {
		x := v.at(int(found.slots[at]) - 1)
		if x.kind != key.kind {
			continue
		}
		order, why, ok := v.f.order(x, key)
		if !ok {
			return 0, why
		}
		if order == 0 {
			return at, Value{}
		}
	}
	return 0, notFound
}

// counted counts the elements that equal a key by the same table.
func (v *vector) counted(key Value) (n int, ok bool) {
	i, why, ok := v.indexed(key)
	found := v.finder()
	switch {
	case !ok || found.slots == nil || found.numbers && key.kind == KindNumber:
		return 0, false
	case why == notFound:
		return 0, true
	case why.kind != KindBlank:
		return 0, false
	}
	h, _ := hash(v.at(i))
	slot, why := v.slot(found, h, key)
	return int(found.counts[slot]), why.kind == KindBlank
}

// index makes the hash table, in which the first of equal elements stands.
func (v *vector) index(found *finder) (why Value, ok bool) {
	if why, ok := v.f.e.look(v.filled); !ok {
		return why, false
	}
	size := 4
	for size < 2*v.filled {
		size *= 2
	}
	slots, counts := make([]int32, size), make([]int32, size)
	mask := uint64(size - 1)
	before := v.f.e.missing
	for i := range v.filled {
		x := v.at(i)
		if x.kind == KindBlank || x.kind == KindError {
			continue
		}
		if v.f.e.missing > before {
			continue // the table is not kept, but all that is needed is noted
		}
		h, ok := hash(x)
		if !ok {
			found.refused = true
			return Value{}, false
		}
		if x.kind == KindText && !found.numbers {
			found.numbers = v.f.fromText(x.text).kind != KindError
		}
		at := h & mask
		for ; slots[at] != 0; at = (at + 1) & mask {
			y := v.at(int(slots[at]) - 1)
			if x.kind != y.kind {
				continue
			}
			if order, _, ok := v.f.order(x, y); ok && order == 0 {
				break
			}
		}
		if slots[at] == 0 {
			slots[at] = int32(i) + 1
		}
		counts[at]++
	}
	if v.f.e.missing > before {
		return unknown("not yet"), false
	}
	found.slots, found.counts = slots, counts
	return Value{}, true
}
