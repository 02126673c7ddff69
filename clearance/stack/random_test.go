package stack

import (
	"math"
	"slices"
	"testing"
)

// Draws of every kind follow their distribution: the largest distance between
// their share below a point and the closed form's stays below 1.95/√n, which
// chance passes once in a thousand (Kolmogorov's distribution); and so do mean
// and variance.
func TestDraws(t *testing.T) {
	for _, x := range []term{
		{kind: uniform, half: 0.3},
		{kind: triangular, half: 0.7},
		{kind: arcsine, half: 1.2},
		{kind: normal, half: 3, sigma: 0.8},
		{kind: normalWithin, half: 2, sigma: 0.9},
		{kind: normalWithin, half: 0.5, sigma: 0.9},
		{kind: sampled, half: 3, atoms: []float64{-2, 0, 0, 1.5, 3}},
	} {
		const n = 200_000
		s := streamOf(11, uint64(x.kind))
		draws := make([]float64, n)
		addDraws(draws, []term{x}, s)
		slices.Sort(draws)
		var far, sum, squares float64
		for i, v := range draws {
			if i+1 < n && draws[i+1] == v {
				continue // a sample's value counts when all of it has passed
			}
			far = max(far, math.Abs(float64(i+1)/n-(1-x.above(v))))
		}
		for _, v := range draws {
			sum += v
			squares += (v - x.mean()) * (v - x.mean())
		}
		if far > 1.95/math.Sqrt(n) {
			t.Errorf("%+v: draws lie %.4f from the distribution", x, far)
		}
		sigma := math.Sqrt(x.variance())
		if off := math.Abs(sum/n - x.mean()); off > 4*sigma/math.Sqrt(n) {
			t.Errorf("%+v: mean off by %g", x, off)
		}
		if ratio := squares / n / x.variance(); math.Abs(ratio-1) > 6*math.Sqrt(2.0/n) {
			t.Errorf("%+v: variance %.4f of the formula's", x, ratio)
		}
	}
}

// Six normal terms, which are drawn four to a pass, have the variance of their sum and no
// draw in common with it: 1 + 4 + 9 + 16 + 25 + 36 = 91.
func TestNormalsDrawnTogether(t *testing.T) {
	const n = 200_000
	var terms []term
	for sigma := 1.0; sigma <= 6; sigma++ {
		terms = append(terms, term{kind: normal, sigma: sigma})
	}
	terms = append(terms, term{kind: uniform, half: 0.5})
	draws := make([]float64, n)
	addDraws(draws, terms, streamOf(3, 4))
	var sum, squares, next float64
	for i, v := range draws {
		sum += v
		squares += v * v
		next += v * draws[(i+1)%n]
	}
	const variance = 91 + 1.0/12
	if off := math.Abs(sum / n); off > 4*math.Sqrt(variance/n) {
		t.Errorf("mean %g", sum/n)
	}
	if ratio := squares / n / variance; math.Abs(ratio-1) > 4*math.Sqrt(2.0/n) {
		t.Errorf("variance %g of what it should be", ratio)
	}
	if r := next / n / variance; math.Abs(r) > 4/math.Sqrt(n) {
		t.Errorf("correlation %g with the next", r)
	}
}

// Normal draws far out, where a fault of the tail or of a wedge would show.
func TestNormalDrawsFarOut(t *testing.T) {
	const n = 1 << 24
	s := streamOf(5, 5)
	one := term{kind: normal, sigma: 1}
	x := make([]float64, 1<<12)
	beyond := map[float64]int{2: 0, 3.5: 0, 3.8: 0, 4.5: 0}
	for range n / len(x) {
		clear(x)
		addDraws(x, []term{one}, s)
		for _, v := range x {
			if math.Abs(v) > 2 {
				for z := range beyond {
					if math.Abs(v) > z {
						beyond[z]++
					}
				}
			}
		}
	}
	for z, got := range beyond {
		want := n * math.Erfc(z/math.Sqrt2)
		if math.Abs(float64(got)-want) > 4*math.Sqrt(want) {
			t.Errorf("beyond ±%g: %d, want %.0f ± %.0f", z, got, want, math.Sqrt(want))
		}
	}
}

// Streams of neighbouring blocks and seeds have nothing in common.
func TestStreamsDiffer(t *testing.T) {
	seen := map[[2]uint64]bool{}
	for seed := range uint64(100) {
		for b := range uint64(100) {
			r := streamOf(seed, b)
			s := [2]uint64{r.Uint64(), r.Uint64()}
			if seen[s] {
				t.Fatalf("seed %d, block %d: a stream twice", seed, b)
			}
			seen[s] = true
		}
	}
}

func TestOutcomeQuantile(t *testing.T) {
	h := newHistogram(10, 2)
	x := []float64{-500, 4, 8, 9, 10, 11, 12, 16, 100}
	h.add(new(tally), x, span{})
	h.settle()
	o := Outcome{Trials: int64(len(x)), Min: -500, Max: 100, BinStart: h.start(), BinWidth: h.width, Bins: h.counts}
	for _, test := range []struct{ p, lo, hi float64 }{
		{0.05, -500, 4}, {0.3, 8 - 0.01, 8 + 0.01}, {0.5, 10 - 0.01, 10 + 0.01}, {0.99, 16, 100},
	} {
		v, resolution, err := o.Quantile(test.p)
		if err != nil || v < test.lo || v > test.hi || resolution <= 0 {
			t.Errorf("quantile %g: %g ± %g, want within %g..%g", test.p, v, resolution, test.lo, test.hi)
		}
	}
}

// A counter that is near its end is emptied before it is passed.
func TestHistogramSettles(t *testing.T) {
	h := newHistogram(0, 1)
	h.recent = make([]uint32, bins+2)
	h.unsettled = mostRecent - 3
	h.recent[7] = math.MaxUint32 - 5
	h.add(new(tally), []float64{0, 0, 0, 0, 0}, span{})
	o := h.empty()
	o.merge(h)
	if o.counts[7] != math.MaxUint32-5 || o.counts[bins/2+1] != 5 {
		t.Errorf("counts %d and %d", o.counts[7], o.counts[bins/2+1])
	}
}

func TestTalliesMerge(t *testing.T) {
	h := newHistogram(3, 10)
	limits := span{-20, 7}
	var a, b tally
	h.add(&a, []float64{1, 2, 4}, limits)
	h.add(&b, []float64{8, -16}, limits)
	h.add(&b, []float64{32, 5, -21}, limits)
	a.merge(b)
	// Σ x = 15, Σ x² = 1831, so Σ (x - mean)² = 1831 - 15²/8 = 1802.875.
	mean, sigma := a.moments(h.centre)
	if math.Abs(mean-15.0/8) > 1e-12 || math.Abs(sigma-math.Sqrt(1802.875/7)) > 1e-12 {
		t.Errorf("mean %g, standard deviation %g", mean, sigma)
	}
	if a.n != 8 || a.min != -21 || a.max != 32 || a.below != 1 || a.above != 2 {
		t.Errorf("merged %+v", a)
	}
}
