package measure

import (
	"slices"
	"strings"

	"example.com/closefit/units"
)

// A Sum is a quantity that follows from readings by adding and subtracting: the
// running clearance of a bearing is the housing bore less two walls and the
// journal. It is the one signed sum of this module; bearings, end plays, decks,
// stacks and ISO pairs are made with it.
//
// Doubts of one source are added with their signs first: a bore gauge takes over the
// error of the micrometer that it was set in, and the error cancels if that micrometer
// read the journal too; one micrometer used for two walls counts twice. Different sources
// are combined by root-sum-square, brackets by worst case. If the correlation of two
// doubts is unknown, the worst is assumed.
type Sum[D units.Dimension] struct {
	Name   string    `json:"name"`   // "main 3, running clearance"
	Symbol string    `json:"symbol"` // "C"
	Terms  []Term[D] `json:"terms"`

	// NonNegative says that the quantity cannot be below zero.
	NonNegative bool `json:"non_negative"`

	// AtWorst adds every doubt at its worst instead of by root-sum-square, signs within a
	// source first: the true value lies outside only if an error exceeds its stated
	// uncertainty.
	AtWorst bool `json:"at_worst"`
}

// A Term is one reading of a sum.
type Term[D units.Dimension] struct {
	Symbol  string      `json:"symbol"` // "D"
	Name    string      `json:"name"`   // "housing bore"
	Factor  units.Ratio `json:"factor"` // how often it counts, with its sign; the zero Factor leaves it out
	Reading Reading[D]  `json:"reading"`
	Needs   []Condition `json:"needs"` // what its reading must state for the sum to prove anything
}

// Plus returns a term that is added once.
func Plus[D units.Dimension](symbol, name string, r Reading[D]) Term[D] {
	return Term[D]{Symbol: symbol, Name: name, Factor: plus, Reading: r}
}

// Minus returns a term that is subtracted once.
func Minus[D units.Dimension](symbol, name string, r Reading[D]) Term[D] {
	return Term[D]{Symbol: symbol, Name: name, Factor: minus, Reading: r}
}

// Reading returns the sum as a reading, which keeps its sources, so that it can stand in
// another sum. The sum is missing if any term is missing, or if there are no terms. If a
// term needs a condition that its reading does not state, the sum has an empty interval,
// and its [Reading.Problem] names the condition.
func (s *Sum[D]) Reading() Reading[D] {
	if len(s.Terms) == 0 || slices.ContainsFunc(s.Terms, func(t Term[D]) bool { return !t.Reading.Taken() }) {
		return Reading[D]{}
	}
	own := 0 // acts of the terms' own
	for i := range s.Terms {
		if s.Terms[i].Reading.of == nil {
			own++
		}
	}
	of := &made[D]{words: s.Name, parts: make([]part[D], 0, len(s.Terms))}
	acts := make([]act[D], 0, own) // a sum keeps those that its terms have now
	for i := range s.Terms {
		t := &s.Terms[i]
		missing := unmet(t.label(), t.Needs, t.Reading.conditions)
		if t.Reading.of != nil {
			missing = append(missing, t.Reading.of.unmet...)
			of.spread = of.spread || t.Reading.of.spread
		}
		for _, m := range missing {
			if !slices.Contains(of.unmet, m) {
				of.unmet = append(of.unmet, m)
			}
		}
		if t.Reading.of != nil {
			of.parts = gather(of.parts, t.Factor, t.Reading.of.parts)
			continue
		}
		acts = append(acts, t.Reading.act)
		of.parts = gather(of.parts, t.Factor, []part[D]{{plus, &acts[len(acts)-1]}})
	}
	return Reading[D]{of: of, nonNegative: s.NonNegative, atWorst: s.atWorst()}
}

// atWorst reports whether doubts are added at their worst: if the sum or a reading in
// it asks for that, or if one of several readings is of stations, which has lost its
// sources.
func (s *Sum[D]) atWorst() bool {
	worst := s.AtWorst
	for i := range s.Terms {
		r := &s.Terms[i].Reading
		worst = worst || r.atWorst || len(s.Terms) > 1 && r.of != nil && r.of.spread
	}
	return worst
}

// Interval is Reading().Interval(). It is quicker for values that instruments with one
// stated uncertainty read.
func (s *Sum[D]) Interval() units.Interval[D] {
	if a, ok := s.plainInterval(); ok {
		return a
	}
	// A copy without its name, so that s and its terms can stay where they are.
	c := Sum[D]{Terms: make([]Term[D], len(s.Terms)), NonNegative: s.NonNegative, AtWorst: s.AtWorst}
	copy(c.Terms, s.Terms)
	r := c.Reading()
	return r.Interval()
}

// plainInterval is Interval of a plain sum; ok is false for any other.
func (s *Sum[D]) plainInterval() (a units.Interval[D], ok bool) {
	if len(s.Terms) == 0 || s.AtWorst {
		return a, false
	}
	var p plainly[D]
	for i := range s.Terms {
		t := &s.Terms[i]
		if once := t.Factor.Equal(plus); !once && !t.Factor.Equal(minus) || !p.add(&t.Reading, once, t.Needs) {
			return a, false
		}
	}
	return p.interval(s.NonNegative), true
}

// Difference returns the interval of one reading less others, which is that of their
// [Sum]. Needs are what the one must state. It is the quick way to a verdict alone.
func Difference[D units.Dimension](needs []Condition, one *Reading[D], others ...*Reading[D]) units.Interval[D] {
	var p plainly[D]
	ok := p.add(one, true, needs)
	for _, r := range others {
		ok = ok && p.add(r, false, nil)
	}
	if ok {
		return p.interval(false)
	}
	first := Plus("", "", *one)
	first.Needs = needs
	s := Sum[D]{Terms: []Term[D]{first}}
	for _, r := range others {
		s.Terms = append(s.Terms, Minus("", "", *r))
	}
	r := s.Reading()
	return r.Interval()
}

// mostPlain is how many terms a plain sum has at the most.
const mostPlain = 8

// plainly is a sum of values that instruments with one stated uncertainty read, each of
// them once, while it is added up.
type plainly[D units.Dimension] struct {
	sum    units.Interval[D]
	n      int
	names  [mostPlain]struct{ by, at string }
	doubts [mostPlain]units.Quantity[D] // of each instrument, at its first act
}

// add adds a reading, or takes it off; it returns false for one that is not plain.
func (p *plainly[D]) add(r *Reading[D], once bool, needs []Condition) bool {
	a := &r.act
	if p.n == mostPlain || a.means == notTaken || r.of != nil || r.atWorst || a.more != nil || a.freedom > 0 || len(needs) > 0 && !met(needs, r.conditions) {
		return false
	}
	owner := p.n
	for k := range p.n {
		o := &p.names[k]
		if a.at == o.at && a.at != "" {
			return false // it may be one act twice
		}
		if owner == p.n && a.by == o.by {
			owner = k
		}
	}
	switch {
	case p.n == 0 && once:
		p.sum = a.bracket
	case p.n == 0:
		p.sum = a.bracket.Neg()
	case once:
		p.sum = p.sum.Add(a.bracket)
	default:
		p.sum = p.sum.Sub(a.bracket)
	}
	p.doubts[owner] = p.doubts[owner].Add(a.stated)
	p.names[p.n].by, p.names[p.n].at = a.by, a.at
	p.n++
	return true
}

// interval returns the interval of the sum.
func (p *plainly[D]) interval(nonNegative bool) units.Interval[D] {
	known := p.doubts[:0]
	for _, d := range p.doubts[:p.n] {
		if !d.IsZero() {
			known = append(known, d)
		}
	}
	u, a := rootOf(false, known), p.sum
	if nonNegative {
		if a.HasHi() && a.Hi().Add(u).Sign() < 0 {
			return units.Interval[D]{}
		}
		a = above(a)
	}
	if a = a.Add(units.MustInterval(u.Neg(), u)); nonNegative {
		a = above(a)
	}
	return a
}

// Missing returns the names of the terms whose reading was not taken.
func (s *Sum[D]) Missing() []string {
	var missing []string
	for i := range s.Terms {
		if !s.Terms[i].Reading.Taken() {
			missing = append(missing, s.Terms[i].label())
		}
	}
	return missing
}

func (t *Term[D]) label() string {
	if t.Name != "" {
		return t.Name
	}
	return t.Symbol
}

// Formula returns the sum in symbols: "C = D - t1 - t2 - d".
func (s *Sum[D]) Formula() string {
	return s.Symbol + " = " + s.written(func(t *Term[D]) string { return t.Symbol })
}

// written writes the terms with their signs and factors.
func (s *Sum[D]) written(write func(*Term[D]) string) string {
	var b strings.Builder
	for i := range s.Terms {
		t := &s.Terms[i]
		switch {
		case t.Factor.Sign() < 0 && i == 0:
			b.WriteString("-")
		case t.Factor.Sign() < 0:
			b.WriteString(" - ")
		case i > 0:
			b.WriteString(" + ")
		}
		if f := t.Factor.Abs(); !f.Equal(plus) {
			b.WriteString(f.Rat(units.One).RatString() + "·")
		}
		text := write(t)
		if strings.HasPrefix(text, "-") {
			text = "(" + text + ")"
		}
		b.WriteString(text)
	}
	return b.String()
}
