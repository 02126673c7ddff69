package stack

import "math"

// moments are the count, the mean and the spread of results, held so that parts
// can be merged without losing digits.
type moments struct {
	n        int64
	average  float64
	squares  float64 // Σ (x - average)²
	min, max float64
}

// add adds a chunk of results that lie about a centre.
func (m *moments) add(x []float64, centre float64) {
	var sum, squares float64
	lo, hi := x[0], x[0]
	for _, v := range x {
		d := v - centre
		sum += d
		squares += d * d
		if v < lo {
			lo = v
		}
		if v > hi {
			hi = v
		}
	}
	n := float64(len(x))
	m.merge(moments{n: int64(len(x)), average: centre + sum/n, squares: math.Max(0, squares-sum*sum/n), min: lo, max: hi})
}

// merge adds the moments of other results:
//
//	Σ (x-m)² of both = Σ (x-m₁)² + Σ (x-m₂)² + (m₂-m₁)²·n₁n₂/(n₁+n₂)
func (m *moments) merge(o moments) {
	switch {
	case o.n == 0:
		return
	case m.n == 0:
		*m = o
		return
	}
	n1, n2 := float64(m.n), float64(o.n)
	d := o.average - m.average
	m.average += d * n2 / (n1 + n2)
	m.squares += o.squares + d*d*n1*n2/(n1+n2)
	m.n += o.n
	m.min, m.max = math.Min(m.min, o.min), math.Max(m.max, o.max)
}

func (m *moments) stdDev() float64 { return math.Sqrt(m.squares / float64(m.n-1)) }
