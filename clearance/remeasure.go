package clearance

import (
	"slices"

	"example.com/closefit/units"
)

// A Use is an instrument for one size of a fit.
type Use struct {
	Term       string // the term's symbol: "d"
	Instrument LengthInstrument
}

// A Remeasurement is a set of sizes to read again, each with one of the
// instruments at hand, after which an undecided fit would be settled, its values
// staying where they are.
type Remeasurement struct {
	Uses     []Use        // in the order of the fit's terms
	Expanded units.Length // the expanded uncertainty that results, k = 2; by worst case, half the width
}

// Remeasurements returns the smallest sets of sizes to read again with the
// instruments at hand so that an undecided fit would be settled, combined by the
// rule: all the sets of one size, if one is enough, else all those of two,
// and so on; in each, the best of the instruments offered for the size. A size
// that is a bracket is taken to come out in the middle of it. The list is empty
// if the fit is proven, or no set would do.
//
// offered names the instruments that can read a size, by the term's symbol.
func (f Fit) Remeasurements(rule Combination, tolerance units.LengthInterval, offered map[string][]LengthInstrument) []Remeasurement {
	if Assess(f.Computed(rule), tolerance).Verdict.Proven() {
		return nil
	}
	better := make([]*LengthInstrument, len(f.Terms))
	var open []int
	for i, t := range f.Terms {
		if best := finest(offered[t.Symbol]); best != nil && betters(*best, t.Reading) {
			better[i] = best
			open = append(open, i)
		}
	}
	for size := 1; size <= len(open); size++ {
		var found []Remeasurement
		for _, set := range subsets(open, size) {
			if m, ok := f.remeasured(rule, tolerance, set, better); ok {
				found = append(found, m)
			}
		}
		if len(found) > 0 {
			slices.SortStableFunc(found, func(a, b Remeasurement) int { return a.Expanded.Cmp(b.Expanded) })
			return found
		}
	}
	return nil
}

// remeasured returns the set if it settles the fit.
func (f Fit) remeasured(rule Combination, tolerance units.LengthInterval, set []int, better []*LengthInstrument) (Remeasurement, bool) {
	terms := slices.Clone(f.Terms)
	var m Remeasurement
	for _, i := range set {
		value := terms[i].Reading.bracket
		if !terms[i].Reading.Taken() || !value.Bounded() {
			return m, false
		}
		in := better[i]
		terms[i].Reading = LengthReading{
			bracket: units.Exactly(value.Mid()), expanded: in.Uncertainty, freedom: freedom(in.Freedom),
			how: byInstrument, name: in.label(),
		}
		m.Uses = append(m.Uses, Use{Term: terms[i].Symbol, Instrument: *in})
	}
	r := combine(f.Name, rule, terms)
	m.Expanded = r.expanded
	if rule == WorstCase && r.Interval().Bounded() {
		m.Expanded = r.Interval().Radius()
	}
	return m, r.Taken() && Judge(r.Interval(), tolerance).Proven()
}

// betters reports whether the instrument reads more closely than was read.
func betters(in LengthInstrument, r LengthReading) bool {
	m := r.Interval()
	return !m.Bounded() || in.reach().Less(m.Radius())
}

// finest returns the instrument whose readings reach the least to either side, of
// those that Check passes, or nil.
func finest(instruments []LengthInstrument) *LengthInstrument {
	var best *LengthInstrument
	for i, in := range instruments {
		if in.Check() == nil && (best == nil || in.reach().Less(best.reach())) {
			best = &instruments[i]
		}
	}
	return best
}

// subsets returns the subsets of a size, in order.
func subsets(of []int, size int) [][]int {
	if size == 0 {
		return [][]int{nil}
	}
	var all [][]int
	for i := range of {
		for _, rest := range subsets(of[i+1:], size-1) {
			all = append(all, append([]int{of[i]}, rest...))
		}
	}
	return all
}
