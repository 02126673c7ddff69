package stack

import "math"

// A histogram counts results in bins of equal width about a centre, and beyond
// them in one bin on either side. It is what is kept of the trials, instead of the
// trials: its size does not depend on how many there are.
type histogram struct {
	centre, first, width float64
	recent               []uint32 // counts since the last merge; [0] and [bins+1] lie beyond
	counts               []int64
	sinceMerge           int64
}

const (
	bins        = 1 << 14
	binsReach   = 10 // standard deviations on either side
	mostRecent  = math.MaxUint32 - chunk
	binsPerUnit = bins / (2 * binsReach)
)

// newHistogram returns a histogram that reaches ten standard deviations to either
// side of the mean.
func newHistogram(mean, sigma float64) *histogram {
	if sigma == 0 { // every trial gave the same
		sigma = math.Max(math.Abs(mean), 1) * epsilon * bins
	}
	return &histogram{
		centre: mean, first: mean - binsReach*sigma, width: 2 * binsReach * sigma / bins,
		counts: make([]int64, bins+2), recent: make([]uint32, bins+2),
	}
}

// empty returns a histogram with the same bins and nothing in them.
func (h *histogram) empty() *histogram {
	return &histogram{centre: h.centre, first: h.first, width: h.width,
		counts: make([]int64, bins+2), recent: make([]uint32, bins+2)}
}

// add counts a chunk of results.
func (h *histogram) add(x []float64) {
	if h.sinceMerge += int64(len(x)); h.sinceMerge > mostRecent {
		h.settle()
		h.sinceMerge = int64(len(x))
	}
	recent := (*[bins + 2]uint32)(h.recent)
	scale := 1 / h.width
	for _, v := range x {
		at := (v-h.first)*scale + 1
		if !(at >= 1) {
			at = 0
		}
		recent[min(uint(at), bins+1)]++
	}
}

// settle moves the recent counts to where there is room.
func (h *histogram) settle() {
	for i, n := range h.recent {
		h.counts[i] += int64(n)
	}
	clear(h.recent)
}

// merge adds what another histogram with the same bins has counted.
func (h *histogram) merge(o *histogram) {
	o.settle()
	for i, n := range o.counts {
		h.counts[i] += n
	}
}
