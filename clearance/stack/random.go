package stack

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mathext"

	"example.com/closefit/units"
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
	case trapezoidal:
		addUniforms(x, t.half*(1+t.top)/2, r)
		addUniforms(x, t.half*(1-t.top)/2, r)
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
		if v := t.offset + t.sigma*r.NormFloat64(); math.Abs(v) <= t.half {
			return v
		}
	}
	for {
		v := t.half * (2*r.Float64() - 1)
		if r.Float64() < math.Exp(-(v-t.offset)*(v-t.offset)/(2*t.sigma*t.sigma)) {
			return v
		}
	}
}

// A joint draws the sizes of a stack together.
type joint struct {
	terms  []term // the sizes, not times their sensitivities
	about  []float64
	parts  [][]float64 // of each size of each source that somebody shares
	own    []float64   // what the parts leave
	others int         // how many sources
}

// joint returns the sizes of the stack, whose parts are known.
func (s Stack) joint() joint {
	j := joint{parts: make([][]float64, len(s)), own: make([]float64, len(s))}
	var names []string
	for _, group := range s.together() {
		if len(group) == 1 {
			continue
		}
		for _, i := range group {
			for _, source := range s[i].Sources {
				names = append(names, source.Name)
			}
			own, _ := s[i].own().Float64()
			j.own[i], j.parts[i] = math.Sqrt(own), []float64{}
		}
	}
	slices.Sort(names)
	names = slices.Compact(names)
	j.others = len(names)
	for i, c := range s {
		j.terms = append(j.terms, newTerm(c.asItself()))
		j.about = append(j.about, c.centre().Float64(units.Millimetre))
		if j.parts[i] == nil {
			continue
		}
		for _, name := range names {
			j.parts[i] = append(j.parts[i], c.part(name))
		}
	}
	return j
}

// draw fills a column of n for each size, one after the other.
func (j joint) draw(sizes []float64, n int, r *rand.Rand) {
	scores := make([]float64, (j.others+1)*n) // those of the sources, and of one size
	for i := range scores[:j.others*n] {
		scores[i] = r.NormFloat64()
	}
	score := scores[j.others*n:]
	for i, t := range j.terms {
		column := sizes[i*n : (i+1)*n]
		for k := range column {
			column[k] = j.about[i]
		}
		if j.parts[i] == nil {
			t.addDraws(column, r)
			continue
		}
		for k := range score {
			score[k] = j.own[i] * r.NormFloat64()
		}
		for source, part := range j.parts[i] {
			if part != 0 {
				for k, z := range scores[source*n : (source+1)*n] {
					score[k] += part * z
				}
			}
		}
		for k, z := range score {
			column[k] += t.ranked(z)
		}
	}
}

// ranked returns the value of the term that has the rank of z in a standard normal
// distribution: F⁻¹(Φ(z)).
func (t term) ranked(z float64) float64 {
	if t.kind == normal {
		return t.sigma * z
	}
	if z > 0 { // in the lower half small probabilities keep their digits
		return -t.mirrored().ranked(-z)
	}
	p := above(-z)
	switch t.kind {
	case uniform:
		return t.half * (2*p - 1)
	case triangular:
		return t.half * (math.Sqrt(2*p) - 1)
	case trapezoidal:
		if side := (1 - t.top) / (2 * (1 + t.top)); p > side {
			return t.half * ((p-side)*(1+t.top) - t.top)
		}
		return t.half * (math.Sqrt(2*p*(1-t.top*t.top)) - 1)
	case arcsine:
		return -t.half * math.Cos(math.Pi*p)
	case normalWithin:
		below := above((t.half + t.offset) / t.sigma)
		return max(-t.half, min(t.half, t.offset+t.sigma*mathext.NormalQuantile(below+p*t.inside())))
	}
	return t.atoms[min(int(p*float64(len(t.atoms))), len(t.atoms)-1)]
}
