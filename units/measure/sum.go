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
	of := &made[D]{words: s.Name, parts: make([]part[D], 0, len(s.Terms))}
	acts := make([]act[D], len(s.Terms)) // a sum keeps those that its terms have now
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
		acts[i] = t.Reading.act
		of.parts = gather(of.parts, t.Factor, []part[D]{{plus, &acts[i]}})
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

// mostPlain is how many terms a plain sum has at the most.
const mostPlain = 8

// plainInterval is Interval of a plain sum; ok is false for any other.
func (s *Sum[D]) plainInterval() (a units.Interval[D], ok bool) {
	if len(s.Terms) == 0 || len(s.Terms) > mostPlain || s.AtWorst {
		return a, false
	}
	var room [mostPlain]units.Quantity[D]
	doubts := room[:len(s.Terms)] // of each instrument, at the first term that it read
	a = units.Exactly(units.Quantity[D]{})
	for i := range s.Terms {
		t := &s.Terms[i]
		r := &t.Reading
		if r.act.means == notTaken || r.of != nil || r.atWorst || len(r.act.doubts()) > 0 || r.act.freedom > 0 || !met(t.Needs, r.conditions) {
			return a, false
		}
		owner := i
		for j := range i {
			o := &s.Terms[j].Reading.act
			if r.act.at != "" && r.act.at == o.at {
				return a, false // it may be one act twice
			}
			if owner == i && r.act.by == o.by {
				owner = j
			}
		}
		switch {
		case t.Factor.Equal(plus):
			a = a.Add(r.act.bracket)
		case t.Factor.Equal(minus):
			a = a.Sub(r.act.bracket)
		default:
			return a, false
		}
		doubts[owner] = doubts[owner].Add(r.act.stated)
	}
	known := doubts[:0]
	for _, d := range doubts {
		if !d.IsZero() {
			known = append(known, d)
		}
	}
	u := rootOf(false, known)
	if s.NonNegative {
		if a.HasHi() && a.Hi().Add(u).Sign() < 0 {
			return units.Interval[D]{}, true
		}
		a = above(a)
	}
	if a = a.Add(units.PlusMinus(units.Quantity[D]{}, u)); s.NonNegative {
		a = above(a)
	}
	return a, true
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
