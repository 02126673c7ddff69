package units

import (
	"math"
	"math/big"
	"math/bits"
)

// A smallRatio is a ratio of machine integers in lowest terms, den above zero: half a step of a
// grid, a third of one. What is no whole number of steps is nearly always one, and needs no
// arithmetic of big integers.
type smallRatio struct {
	num int64
	den uint64 // at most math.MaxInt64
}

// smallOf returns r as one; ok is false where it is none.
func smallOf(r *big.Rat) (f smallRatio, ok bool) {
	if !r.Num().IsInt64() {
		return f, false
	}
	if r.IsInt() {
		return smallRatio{r.Num().Int64(), 1}, true
	}
	d := r.Denom()
	return smallRatio{r.Num().Int64(), d.Uint64()}, d.IsInt64()
}

// small returns q in grid steps; ok is false where that is none.
func (q Value[D, E]) small() (f smallRatio, ok bool) {
	if q.x != nil {
		return smallOf(q.x)
	}
	return smallRatio{q.n, 1}, true
}

// fromSmall returns the value of so many grid steps in its one form.
func fromSmall[D, E Dimension](f smallRatio) Value[D, E] {
	if f.den == 1 {
		return Value[D, E]{n: f.num}
	}
	return Value[D, E]{x: f.rat()}
}

// smalls returns the bounds of an interval; ok is false where one is missing or none.
func (a ClosedInterval[D, E]) smalls() (lo, hi smallRatio, ok bool) {
	if a.x == &grid {
		return smallRatio{a.lo, 1}, smallRatio{a.hi, 1}, true
	}
	if !a.Bounded() {
		return lo, hi, false
	}
	lo, ok = smallOf(a.x.lo)
	hi, too := smallOf(a.x.hi)
	return lo, hi, ok && too
}

// fromSmalls returns the interval from lo to hi in its one form.
func fromSmalls[D, E Dimension](lo, hi smallRatio) ClosedInterval[D, E] {
	if lo.den == 1 && hi.den == 1 {
		return fromGrid[D, E](lo.num, hi.num)
	}
	return ClosedInterval[D, E]{x: &bounds{lo.rat(), hi.rat()}}
}

// rat returns f as a ratio of big integers.
func (f smallRatio) rat() *big.Rat {
	if f.den == 1 {
		return new(big.Rat).SetInt64(f.num)
	}
	if bits.UintSize < 64 {
		return new(big.Rat).SetFrac64(f.num, int64(f.den))
	}
	// In lowest terms it is already, so that the two words are put where SetFrac64 would put
	// them after it looked for what they share. A Rat that has a denominator hands out both its
	// integers by reference.
	r := &struct {
		big.Rat
		words [2]big.Word
	}{Rat: *oneHalf, words: [2]big.Word{big.Word(magnitude(f.num)), big.Word(f.den)}}
	num := r.Num().SetBits(r.words[:1:1])
	if f.num < 0 {
		num.Neg(num)
	}
	r.Denom().SetBits(r.words[1:])
	return &r.Rat
}

var oneHalf = big.NewRat(1, 2)

// plus returns f + g; ok is false where that is none.
func (f smallRatio) plus(g smallRatio) (sum smallRatio, ok bool) {
	share := gcd(f.den, g.den)
	a, okA := mulInt64(f.num, int64(g.den/share))
	b, okB := mulInt64(g.num, int64(f.den/share))
	num := a + b
	if !okA || !okB || (a^num)&(b^num) < 0 || num == math.MinInt64 {
		return sum, false
	}
	// What the sum shares with its denominator it shares with share (Knuth, The Art of Computer
	// Programming, volume 2, 4.5.1; from memory).
	again := gcd(magnitude(num), share)
	den, ok := mulInt64(int64(f.den/share), int64(g.den/again))
	return smallRatio{num / int64(again), uint64(den)}, ok
}

// neg returns -f; ok is false where that is none.
func (f smallRatio) neg() (smallRatio, bool) {
	return smallRatio{-f.num, f.den}, f.num != math.MinInt64
}

// times returns f · g; ok is false where that is none.
func (f smallRatio) times(g smallRatio) (product smallRatio, ok bool) {
	if f.num == math.MinInt64 || g.num == math.MinInt64 {
		return product, false
	}
	a, b := gcd(magnitude(f.num), g.den), gcd(magnitude(g.num), f.den)
	num, ok := mulInt64(f.num/int64(a), g.num/int64(b))
	den, too := mulInt64(int64(f.den/b), int64(g.den/a))
	return smallRatio{num, uint64(den)}, ok && too
}

// over returns f divided by a whole number above zero; ok is false where that is none.
func (f smallRatio) over(whole int64) (smallRatio, bool) {
	share := gcd(magnitude(f.num), uint64(whole))
	den, ok := mulInt64(int64(f.den), whole/int64(share))
	if f.num == math.MinInt64 {
		return f, false
	}
	return smallRatio{f.num / int64(share), uint64(den)}, ok
}

// cmp compares f with g.
func (f smallRatio) cmp(g smallRatio) int {
	if f.den == g.den || (f.num < 0) != (g.num < 0) {
		switch {
		case f.num < g.num:
			return -1
		case f.num > g.num:
			return 1
		}
		return 0
	}
	ah, al := bits.Mul64(magnitude(f.num), g.den)
	bh, bl := bits.Mul64(magnitude(g.num), f.den)
	c := 0
	switch {
	case ah < bh || ah == bh && al < bl:
		c = -1
	case ah != bh || al != bl:
		c = 1
	}
	if f.num < 0 {
		return -c
	}
	return c
}

// gcd returns the greatest common divisor of a and b, of which b is above zero; that of 0 is b.
func gcd(a, b uint64) uint64 {
	for a != 0 {
		a, b = b%a, a
	}
	return b
}
