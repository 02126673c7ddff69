package grading

import (
	"example.com/closefit/units"
)

// Alike chooses pairs that are near to the wanted clearance and keep neighbouring
// locations alike: of all choices the one with the smallest
//
//	Σ |c(i) - w| + Σ |c(i+1) - c(i)|
//
// with c(i) the middle of the clearance at place i, in the order of the places, and w the
// clearance wanted there. Of equal choices it takes the one whose fits stand earlier in
// the lists, decided at the last place first. It goes through the places once and keeps
// the least sum up to each fit (dynamic programming); the answer is exact. The error is
// of kind ErrNoFit for a place without fits. (The nearest pair of each place stands
// first.)
func Alike(places [][]PairFit) ([]PairFit, error) {
	if err := someEverywhere(places); err != nil || len(places) == 0 {
		return nil, err
	}
	// best[k] is the smallest sum up to fit k; before[i][k] the fit before it.
	best := make([]units.Length, len(places[0]))
	for k, f := range places[0] {
		best[k] = f.Off
	}
	before := make([][]int, len(places))
	for i := 1; i < len(places); i++ {
		next := make([]units.Length, len(places[i]))
		before[i] = make([]int, len(places[i]))
		for k, f := range places[i] {
			for m, g := range places[i-1] {
				sum := units.Sum(best[m], f.Off, f.Clearance.Mid().Sub(g.Clearance.Mid()).Abs())
				if m == 0 || sum.Less(next[k]) {
					next[k], before[i][k] = sum, m
				}
			}
		}
		best = next
	}
	at := 0
	for k := range best {
		if best[k].Less(best[at]) {
			at = k
		}
	}
	choices := make([]PairFit, len(places))
	for i := len(places) - 1; i >= 0; i-- {
		choices[i] = places[i][at]
		if i > 0 {
			at = before[i][at]
		}
	}
	return choices, nil
}
