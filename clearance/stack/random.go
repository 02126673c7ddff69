package stack

import (
	"math"
	"math/bits"
	"sync"
)

// A stream is a source of random numbers: the PCG generator of math/rand/v2, with
// the same output for the same state (a test compares them), held here so that its
// state stays in registers through the loops below, which is half their speed.
type stream struct {
	hi, lo uint64
}

// streamOf returns the stream of one block of trials. Blocks have streams of their
// own so that a run gives the same trials however many workers share it. The seeds
// are mixed, so that neighbouring blocks begin far apart on the generator's cycle
// of 2^128.
func streamOf(seed, block uint64) stream {
	a := mixed(seed)
	b := mixed(a ^ block*0x9e3779b97f4a7c15)
	return stream{hi: b, lo: mixed(b + a)}
}

// mixed is the finalizer of the SplitMix64 generator: a bijection whose every
// output bit depends on every input bit.
func mixed(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// The constants of PCG-DXSM with 128 bits of state, as in math/rand/v2.
const (
	mulHi    = 2549297995355413924
	mulLo    = 4865540595714422341
	incHi    = 6364136223846793005
	incLo    = 1442695040888963407
	cheapMul = 0xda942042e4dd58b5
)

// next returns 64 random bits.
func (s *stream) next() uint64 {
	hi, lo := bits.Mul64(s.lo, mulLo)
	hi += s.hi*mulLo + s.lo*mulHi
	lo, carry := bits.Add64(lo, incLo, 0)
	hi += incHi + carry
	s.hi, s.lo = hi, lo
	hi ^= hi >> 32
	hi *= cheapMul
	hi ^= hi >> 48
	return hi * (lo | 1)
}

// unit returns a float64 uniform on [0, 1).
func (s *stream) unit() float64 { return float64(s.next()>>11) * 0x1p-53 }

// addUniforms adds to each x a number uniform on ±half.
func (s *stream) addUniforms(x []float64, half float64) {
	r := *s
	scale := half * 0x1p-63
	for i := range x {
		x[i] += float64(int64(r.next())) * scale
	}
	*s = r
}

// addNormals adds to each x a normal number of mean 0 and standard deviation
// sigma, by the ziggurat method with 256 layers (Journal of Statistical Software
// 5:8, 2000), with 54 random bits to a number and the layer from bits of its own.
func (s *stream) addNormals(x []float64, sigma float64) {
	z := ziggurat()
	hi, lo := s.hi, s.lo
	for i := range x {
		// The same as next, with the state in registers.
		h, l := bits.Mul64(lo, mulLo)
		h += hi*mulLo + lo*mulHi
		l, carry := bits.Add64(l, incLo, 0)
		h += incHi + carry
		hi, lo = h, l
		h ^= h >> 32
		h *= cheapMul
		h ^= h >> 48
		u := h * (l | 1)

		layer := &z[u&0xff]
		v := float64(int64(u)>>10) * layer.scale
		if math.Abs(v) >= layer.inner {
			r := stream{hi, lo}
			v = r.normalOutside(u, v)
			hi, lo = r.hi, r.lo
		}
		x[i] += v * sigma
	}
	s.hi, s.lo = hi, lo
}

// normal returns a normal number of mean 0 and standard deviation 1.
func (s *stream) normal() float64 {
	u := s.next()
	layer := &ziggurat()[u&0xff]
	v := float64(int64(u)>>10) * layer.scale
	if math.Abs(v) >= layer.inner {
		return s.normalOutside(u, v)
	}
	return v
}

// normalOutside finishes a draw that fell outside the rectangle within its
// layer: into the wedge beside it, or into the tail.
func (s *stream) normalOutside(u uint64, v float64) float64 {
	i := u & 0xff
	if i == 0 {
		for {
			x := -math.Log(1-s.unit()) / tailStart
			if y := -math.Log(1 - s.unit()); y+y >= x*x {
				return math.Copysign(tailStart+x, v)
			}
		}
	}
	layer := &ziggurat()[i]
	if layer.bottom+s.unit()*(layer.top-layer.bottom) < math.Exp(-v*v/2) {
		return v
	}
	return s.normal()
}

// A layer is one of the 256 strips of equal area under exp(-x²/2).
type layer struct {
	scale       float64 // of 54 signed bits to the strip's width
	inner       float64 // what is less lies under the curve for certain
	bottom, top float64
}

const tailStart = 3.6541528853610088 // where the lowest strip's rectangle ends (a test closes the layers with it)

var ziggurat = sync.OnceValue(func() *[256]layer {
	var z [256]layer
	f := func(x float64) float64 { return math.Exp(-x * x / 2) }
	area := tailStart*f(tailStart) + math.Sqrt(math.Pi/2)*math.Erfc(tailStart/math.Sqrt2)
	x, y := tailStart, f(tailStart)
	z[0] = layer{scale: area / y * 0x1p-53, inner: x}
	for i := 1; i < 256; i++ {
		top := min(1, y+area/x)
		inner := 0.0
		if i < 255 {
			inner = math.Sqrt(-2 * math.Log(top))
		}
		z[i] = layer{scale: x * 0x1p-53, inner: inner, bottom: y, top: top}
		x, y = inner, top
	}
	return &z
})

// addDraws adds to each x a draw of the term.
func (t term) addDraws(x []float64, s *stream) {
	switch t.kind {
	case uniform:
		s.addUniforms(x, t.half)
	case triangular: // the sum of two uniform numbers
		s.addUniforms(x, t.half/2)
		s.addUniforms(x, t.half/2)
	case arcsine:
		for i := range x {
			x[i] += t.half * math.Sin(math.Pi*(s.unit()-0.5))
		}
	case normal:
		s.addNormals(x, t.sigma)
	case normalWithin:
		for i := range x {
			x[i] += t.drawWithin(s)
		}
	case sampled:
		n := uint64(len(t.atoms))
		for i := range x {
			which, _ := bits.Mul64(s.next(), n)
			x[i] += t.atoms[which]
		}
	}
}

// drawWithin draws from a normal distribution cut off at the limits: by drawing
// again what falls outside or, where that would be most, by drawing evenly and
// keeping in proportion to the density.
func (t term) drawWithin(s *stream) float64 {
	if t.half >= t.sigma {
		for {
			if v := s.normal() * t.sigma; math.Abs(v) <= t.half {
				return v
			}
		}
	}
	for {
		v := t.half * (2*s.unit() - 1)
		if s.unit() < math.Exp(-v*v/(2*t.sigma*t.sigma)) {
			return v
		}
	}
}
