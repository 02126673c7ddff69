package stack

import (
	"math"
	"math/rand/v2"
)

// streamOf returns the random numbers of one block of trials. Blocks have streams of
// their own so that a run gives the same trials however many workers share it. The
// seeds are mixed, so that neighbouring blocks begin far apart on the generator's
// cycle of 2^128.
func streamOf(seed, block uint64) *rand.Rand {
	a := mixed(seed)
	b := mixed(a ^ block*0x9e3779b97f4a7c15)
	return rand.New(rand.NewPCG(b, mixed(b+a)))
}

// mixed is the finalizer of the SplitMix64 generator: a bijection whose every
// output bit depends on every input bit.
func mixed(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// addDraws adds to each x a draw of each term. Normal terms are drawn four to a pass,
// which saves three times of four that x is read and written.
func addDraws(x []float64, terms []term, r *rand.Rand) {
	var normals []float64
	for _, t := range terms {
		if t.kind == normal {
			normals = append(normals, t.sigma)
			continue
		}
		t.addDraws(x, r)
	}
	for ; len(normals) >= 4; normals = normals[4:] {
		a, b, c, d := normals[0], normals[1], normals[2], normals[3]
		for i := range x {
			v := x[i] + a*r.NormFloat64()
			v += b * r.NormFloat64()
			v += c * r.NormFloat64()
			v += d * r.NormFloat64()
			x[i] = v
		}
	}
	for _, sigma := range normals {
		for i := range x {
			x[i] += sigma * r.NormFloat64()
		}
	}
}

// addDraws adds to each x a draw of the term.
func (t term) addDraws(x []float64, r *rand.Rand) {
	switch t.kind {
	case uniform:
		addUniforms(x, t.half, r)
	case triangular: // the sum of two uniform numbers
		addUniforms(x, t.half/2, r)
		addUniforms(x, t.half/2, r)
	case arcsine:
		for i := range x {
			x[i] += t.half * math.Sin(math.Pi*(r.Float64()-0.5))
		}
	case normal:
		for i := range x {
			x[i] += t.sigma * r.NormFloat64()
		}
	case normalWithin:
		for i := range x {
			x[i] += t.drawWithin(r)
		}
	case sampled:
		for i := range x {
			x[i] += t.atoms[r.IntN(len(t.atoms))]
		}
	}
}

// addUniforms adds to each x a number uniform on ±half.
func addUniforms(x []float64, half float64, r *rand.Rand) {
	for i := range x {
		x[i] += half * (2*r.Float64() - 1)
	}
}

// drawWithin draws from a normal distribution cut off at the limits: by drawing
// again what falls outside or, where that would be most, by drawing evenly and
// keeping in proportion to the density.
func (t term) drawWithin(r *rand.Rand) float64 {
	for t.half >= t.sigma {
		if v := t.sigma * r.NormFloat64(); math.Abs(v) <= t.half {
			return v
		}
	}
	for {
		v := t.half * (2*r.Float64() - 1)
		if r.Float64() < math.Exp(-v*v/(2*t.sigma*t.sigma)) {
			return v
		}
	}
}
