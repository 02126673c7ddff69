package clearance

import (
	"slices"

	"gonum.org/v1/gonum/stat/combin"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Remeasurement is a set of sizes to read again, each with one of the instruments at
// hand, and the chance that this settles an undecided fit.
type Remeasurement struct {
	With     map[string]measure.LengthInstrument `json:"with"`     // what to read a size with, by its term's symbol
	Expanded units.Length                        `json:"expanded"` // how far the sum would then be known, to either side, at k = 2
	Chance   float64                             `json:"chance"`   // as measure.Assessment.Chance has it
}

// Remeasurements returns the smallest sets of sizes to read again with the instruments at
// hand, so that an undecided fit is settled at least with the chance given: all the sets
// of one size if one is enough, else all those of two, and so on. Each size has the best
// of the instruments offered for it. The closest set comes first. The list is empty if
// the fit is proven, or if no set would do.
//
// offered names the instruments that can read a size, by the term's symbol. The chance is
// for planning: see measure.Assessment.Chance. Doubts that the new readings share with
// each other and with the remaining ones count as in the sum.
func (f Fit) Remeasurements(tolerance units.LengthInterval, chance float64, offered map[string][]measure.LengthInstrument) []Remeasurement {
	before := measure.Assess(f.Sum.Reading(), tolerance)
	if before.Verdict != measure.Undecided {
		return nil
	}
	better := make([]*measure.LengthInstrument, len(f.Sum.Terms))
	var open []int
	for i, t := range f.Sum.Terms {
		if best := finest(offered[t.Symbol]); best != nil && betters(best, t.Reading) {
			better[i] = best
			open = append(open, i)
		}
	}
	for size := 1; size <= len(open); size++ {
		var found []Remeasurement
		for _, set := range combin.Combinations(len(open), size) {
			for i, at := range set {
				set[i] = open[at]
			}
			if m, ok := f.remeasured(before, set, better); ok && m.Chance >= chance {
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

// remeasured returns what reading a set of sizes again would do.
func (f Fit) remeasured(before measure.Assessment[units.LengthDim], set []int, better []*measure.LengthInstrument) (m Remeasurement, ok bool) {
	m.With = map[string]measure.LengthInstrument{}
	after := f.Sum
	after.Terms = slices.Clone(f.Sum.Terms)
	for _, i := range set {
		t := &after.Terms[i]
		value := t.Reading.Bracket()
		if !value.Bounded() {
			return m, false
		}
		r, err := better[i].Read(f.Sum.Name+", "+t.Name+", again", value.Mid())
		if err != nil {
			return m, false
		}
		t.Reading = r.With(t.Needs...)
		m.With[t.Symbol] = *better[i]
	}
	r := after.Reading()
	known := r.Interval()
	if !known.Bounded() {
		return m, false
	}
	m.Expanded = known.Radius()
	m.Chance, ok = before.Chance(m.Expanded)
	return m, ok
}

// betters reports whether the instrument reads more closely than was read.
func betters(in *measure.LengthInstrument, r measure.LengthReading) bool {
	m := r.Supposed()
	if !m.Bounded() {
		return true
	}
	reach, ok := reach(in)
	return ok && reach.Less(m.Radius())
}

// reach returns how far a reading of the instrument reaches to either side; ok is false
// for an instrument that measure.Instrument.Check refuses.
func reach(in *measure.LengthInstrument) (units.Length, bool) {
	r, err := in.Read("", units.Millimetre.OfInt(1))
	if err != nil {
		return units.Length{}, false
	}
	return r.Interval().Radius(), true
}

// finest returns the instrument whose readings reach the least to either side, or nil.
func finest(instruments []measure.LengthInstrument) *measure.LengthInstrument {
	var best *measure.LengthInstrument
	var least units.Length
	for i := range instruments {
		if r, ok := reach(&instruments[i]); ok && (best == nil || r.Less(least)) {
			best, least = &instruments[i], r
		}
	}
	return best
}
