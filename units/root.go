package units

import (
	"math"
	"math/big"
	"math/bits"
)

// RootSumSquare returns the square root of the sum of the squares of the terms,
// rounded up to so many decimal places of the unit: the combined uncertainty of
// independent readings (JCGM 100:2008, 5.1.2), which must not shrink by
// rounding. A root that needs no more places is exact.
func RootSumSquare[D Dimension](u Unit[D], places int32, terms ...Quantity[D]) Quantity[D] {
	step := u.place(places)
	if q, ok := rootSumSquareInt64(step, terms); ok {
		return q
	}
	square := new(big.Rat)
	for _, q := range terms {
		s := q.steps()
		square.Add(square, new(big.Rat).Mul(s, s))
	}
	// The root in multiples of step is √(a/b) = √(ab)/b. A whole n reaches it when
	// nb reaches √(ab), and so, nb being whole, when nb reaches that rounded up.
	square.Quo(square, new(big.Rat).Mul(step.steps(), step.steps()))
	product := new(big.Int).Mul(square.Num(), square.Denom())
	r := new(big.Int).Sqrt(product)
	if new(big.Int).Mul(r, r).Cmp(product) != 0 {
		r.Add(r, big.NewInt(1))
	}
	n := roundRat(new(big.Rat).SetFrac(r, square.Denom()), Ceiling)
	return step.MulRat(new(big.Rat).SetInt(n))
}

// rootSumSquareInt64 is RootSumSquare in machine arithmetic; ok is false where
// that does not fit.
func rootSumSquareInt64[D Dimension](step Quantity[D], terms []Quantity[D]) (q Quantity[D], ok bool) {
	if step.x != nil {
		return q, false
	}
	var sum uint64
	for _, t := range terms {
		n := magnitude(t.n)
		if t.x != nil || n >= 1<<31 {
			return q, false
		}
		sum += n * n
		if sum >= 1<<62 {
			return q, false
		}
	}
	n := (ceilRoot(sum) + uint64(step.n) - 1) / uint64(step.n)
	hi, lo := bits.Mul64(n, uint64(step.n))
	return Quantity[D]{n: int64(lo)}, hi == 0 && lo < 1<<63
}

// ceilRoot returns the smallest r with r² >= n, for n < 2^62. The float64 root
// is a first guess only.
func ceilRoot(n uint64) uint64 {
	r := uint64(math.Sqrt(float64(n)))
	for r*r < n {
		r++
	}
	for r > 0 && (r-1)*(r-1) >= n {
		r--
	}
	return r
}

// place returns one of the given decimal place of the unit: the seventh place of a
// millimetre is a tenth of a nanometre.
func (u Scale[D, E]) place(places int32) Value[E, E] {
	def := u.def()
	if places >= 0 && int(places) < len(def.places) {
		return Value[E, E]{n: def.places[places]}
	}
	return fromSteps[E, E](scaled(def.factor, -places))
}
