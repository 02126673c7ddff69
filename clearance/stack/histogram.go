package stack

import "math"

// A histogram counts results in bins of equal width about a centre, and beyond
// them in one bin on either side. It is what is kept of the trials, instead of the
// trials: its size does not depend on how many there are.
type histogram struct {
	centre, width float64
	recent        []uint32 // counts since the last settling, half the memory to reach: [0] and [bins+1] lie beyond
	counts        []int64  // those before; nil, as recent, until there are any
	unsettled     int64
}

const (
	bins       = 1 << 14
	binsReach  = 10 // standard deviations on either side
	mostRecent = math.MaxUint32 - chunk
)

// newHistogram returns a histogram that reaches ten standard deviations to either
// side of the mean.
func newHistogram(mean, sigma float64) *histogram {
	if sigma == 0 { // every trial gave the same
		sigma = math.Max(math.Abs(mean), 1) * epsilon * bins
	}
	return &histogram{centre: mean, width: 2 * binsReach * sigma / bins}
}

// empty returns a histogram with the same bins and nothing in them.
func (h *histogram) empty() *histogram {
	return &histogram{centre: h.centre, width: h.width}
}

// start is where the first bin between the two that lie beyond begins.
func (h *histogram) start() float64 { return h.centre - bins/2*h.width }

// A tally is what is kept of trials beside the histogram.
type tally struct {
	n, below, above int64   // all trials, and those outside the limits
	sum, squares    float64 // Σ d and Σ d²; d: result less the histogram's centre
	min, max        float64
}

// add counts a chunk of results.
func (h *histogram) add(t *tally, x []float64, limits span) {
	if h.recent == nil {
		h.recent = make([]uint32, bins+2)
	}
	if h.unsettled += int64(len(x)); h.unsettled > mostRecent {
		h.settle()
		h.unsettled = int64(len(x))
	}
	if t.n == 0 {
		t.min, t.max = x[0], x[0]
	}
	recent := (*[bins + 2]uint32)(h.recent)
	centre, perWidth := h.centre, 1/h.width
	var sum, squares float64
	var below, above int64
	lo, hi := t.min, t.max
	for _, v := range x {
		if v < lo {
			lo = v
		}
		if v > hi {
			hi = v
		}
		if v < limits.lo {
			below++
		}
		if v > limits.hi {
			above++
		}
		d := v - centre
		sum += d
		squares += d * d
		at := d*perWidth + (bins/2 + 1)
		if !(at >= 0) { // or no number, where a bin has nearly no width
			at = 0
		}
		if at > bins+1 {
			at = bins + 1
		}
		recent[int(at)]++
	}
	t.merge(tally{n: int64(len(x)), below: below, above: above, sum: sum, squares: squares, min: lo, max: hi})
}

// merge adds what was kept of other trials.
func (t *tally) merge(o tally) {
	if t.n == 0 {
		*t = o
		return
	}
	t.n += o.n
	t.below += o.below
	t.above += o.above
	t.sum += o.sum
	t.squares += o.squares
	t.min, t.max = min(t.min, o.min), max(t.max, o.max)
}

// moments returns the mean and the standard deviation of two trials or more. The centre
// lies among them, so that the difference of the two squares keeps its digits.
func (t *tally) moments(centre float64) (mean, sigma float64) {
	n := float64(t.n)
	return centre + t.sum/n, math.Sqrt(max(0, t.squares-t.sum*t.sum/n) / (n - 1))
}

// settle moves the recent counts to where there is space for more.
func (h *histogram) settle() {
	h.merge(&histogram{recent: h.recent})
	clear(h.recent)
}

// merge adds what another histogram with the same bins has counted.
func (h *histogram) merge(o *histogram) {
	if h.counts == nil {
		h.counts = make([]int64, bins+2)
	}
	for i, n := range o.counts {
		h.counts[i] += n
	}
	for i, n := range o.recent {
		h.counts[i] += int64(n)
	}
}
