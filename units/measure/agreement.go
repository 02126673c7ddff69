package measure

import "example.com/closefit/units"

// An Agreement says whether two readings of one quantity can both be right: a
// clearance by strip, and the same from micrometer and bore gauge.
type Agreement[D units.Dimension] struct {
	First  Reading[D] `json:"first"`
	Second Reading[D] `json:"second"`

	// Difference is the first less the second, with what both share cancelled. It is
	// missing if either reading is missing.
	Difference Reading[D] `json:"difference"`

	// Known is whether there are two readings to compare, each of which proves something.
	Known bool `json:"known"`

	// Agree is whether the difference may be zero. It is false if either reading is
	// missing or proves nothing.
	Agree bool `json:"agree"`
}

// Compare compares two readings of one quantity: they agree if zero lies in the interval
// of their difference. Two right readings disagree about as often as an interval misses
// the truth: 1 time in 22 at k = 2, and less often where brackets are wide. If they
// disagree, one of them is wrong; use neither before you know which.
func Compare[D units.Dimension](first, second Reading[D]) Agreement[D] {
	a := Agreement[D]{First: first, Second: second}
	if !first.Taken() || !second.Taken() {
		return a
	}
	d := Sum[D]{Name: "difference of two readings", Symbol: "Δ", Terms: []Term[D]{Plus("1", "first", first), Minus("2", "second", second)}}
	a.Difference = d.Reading()
	apart := a.Difference.Interval()
	a.Known, a.Agree = !apart.IsEmpty(), apart.Contains(units.Quantity[D]{})
	return a
}

// Best returns the reading to use. If one is missing, it is the other. If the two agree,
// it is the closer one. If they disagree, it proves nothing until one is withdrawn, and
// its [Reading.Problem] says so. The intervals are never intersected: the overlap of two
// readings holds the truth less often than either.
//
// If both have an uncertainty, and one of these rests on few degrees of freedom, the
// first reading stands: picking the one that happens to scatter less holds the truth less
// often (92 % instead of 95.45 % of two pairs). Put the one you trust first.
func (a Agreement[D]) Best() Reading[D] {
	switch {
	case !a.First.Taken():
		return a.Second
	case !a.Second.Taken():
		return a.First
	case !a.Agree:
		return contradicted[D](a.First, a.Second)
	}
	if a.First.doubtful() && a.Second.doubtful() && (a.First.fewest() > 0 || a.Second.fewest() > 0) {
		return a.First
	}
	first, second := a.First.Interval(), a.Second.Interval()
	if second.Bounded() && (!first.Bounded() || second.Width().Less(first.Width())) {
		return a.Second
	}
	return a.First
}

// doubtful reports whether the reading is not certain, and fewest returns the fewest
// degrees of freedom of its doubts, 0 for unlimited ones.
func (r *Reading[D]) doubtful() bool { return !r.expanded(coverage{}).IsZero() }

func (r *Reading[D]) fewest() (fewest int32) {
	for _, g := range r.tallied().groups {
		c := g.class()
		fewest = fewer(fewest, c.freedom)
	}
	return fewest
}

// contradicted returns the reading of two that do not agree: nothing is proven by
// it, and its problem says why.
func contradicted[D units.Dimension](first, second Reading[D]) Reading[D] {
	const unit = 0
	why := "two readings that do not agree (" + first.How(unit) + "; " + second.How(unit) + "): one is wrong, measure both again"
	return Reading[D]{of: &made[D]{words: why, unmet: []string{why}, parts: []part[D]{
		{plus, &act[D]{means: given, by: why, bracket: units.AtMost(units.Quantity[D]{}).Hull(units.AtLeast(units.Quantity[D]{}))}},
	}}}
}
