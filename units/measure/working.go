package measure

import (
	"slices"
	"strings"

	"example.com/closefit/units"
)

// Working shows how the sum was worked out, with its numbers in the unit: each reading,
// the value or the two ends, the share of each source of doubt, and their root.
func (s *Sum[D]) Working(u units.Unit[D]) units.Working {
	r := s.Reading()
	w := units.Working{Name: s.Name, Formula: s.Formula(), Result: r.Supposed().Written(u)}
	w.Steps = make([]units.Working, 0, len(s.Terms)+3+len(r.tallied().groups)) // terms, two ends, doubts and their root
	for i := range s.Terms {
		t := &s.Terms[i]
		w.Steps = append(w.Steps, units.Working{
			Name: t.Symbol + ", " + t.label(), Numbers: t.Reading.How(u), Result: t.Reading.Supposed().Written(u),
		})
	}
	if missing := s.Missing(); len(missing) > 0 || len(s.Terms) == 0 {
		w.Result = "not known"
		for _, name := range missing {
			w.Notes = append(w.Notes, name+" was not measured")
		}
		return w
	}
	w.Notes = append(w.Notes, r.Unmet()...)
	if problem := r.Problem(); problem != "" && len(r.Unmet()) == 0 {
		w.Notes = append(w.Notes, problem)
	}
	w.Steps = append(w.Steps, s.bracketSteps(&r, u)...)
	if q := r.expanded(coverage{}); !q.IsZero() {
		w.Steps = append(w.Steps, s.doubtSteps(&r, u)...)
		w.Source = "JCGM 100:2008, 5.2.2; what is not known of a correlation is taken at its worst"
	} else {
		w.Source = "interval arithmetic"
	}
	if s.NonNegative {
		w.Notes = append(w.Notes, "it cannot be below zero")
	}
	return w
}

// bracketSteps shows the sum of what is certain: one line if it is a value, else
// one for each end that there is.
func (s *Sum[D]) bracketSteps(r *Reading[D], u units.Unit[D]) []units.Working {
	b := r.bracket()
	own := func(t *Term[D]) units.Interval[D] { return t.Reading.bracket() }
	numbers := func(largest bool) string {
		return s.written(func(t *Term[D]) string {
			end := own(t)
			switch {
			case t.Factor.IsZero():
				return t.Symbol
			case largest == (t.Factor.Sign() > 0):
				return end.Hi().WrittenBare(u)
			}
			return end.Lo().WrittenBare(u)
		})
	}
	if b.IsPoint() {
		same := true
		for i := range s.Terms {
			same = same && own(&s.Terms[i]).IsPoint()
		}
		if same {
			return []units.Working{{Name: "value", Numbers: numbers(true), Result: b.Lo().Written(u)}}
		}
	}
	plain := units.Exactly(units.Quantity[D]{})
	for i := range s.Terms {
		plain = plain.Add(own(&s.Terms[i]).Times(s.Terms[i].Factor))
	}
	var notes []string
	if !plain.Equal(b) {
		notes = []string{"what two terms share counts once, with its signs: " + plain.Written(u) + " becomes " + b.Written(u)}
	}
	var steps []units.Working
	if plain.HasLo() {
		steps = append(steps, units.Working{Name: "smallest", Numbers: numbers(false), Result: plain.Lo().Written(u)})
	}
	if plain.HasHi() {
		steps = append(steps, units.Working{Name: "largest", Numbers: numbers(true), Result: plain.Hi().Written(u)})
	}
	if len(notes) > 0 && len(steps) > 0 {
		steps[len(steps)-1].Notes = notes
	}
	return steps
}

// doubtSteps shows what each source adds, and their root.
func (s *Sum[D]) doubtSteps(r *Reading[D], u units.Unit[D]) []units.Working {
	var steps []units.Working
	var squares []string
	shown := func(name, numbers, result string, q units.Quantity[D]) {
		steps = append(steps, units.Working{Name: name, Numbers: numbers, Result: result})
		squares = append(squares, q.WrittenBare(u)+"²")
	}
	sure := "k = 2"
	for _, l := range r.ledger() {
		if l.limited {
			sure = "95.45 %"
		}
		var b strings.Builder
		for i, q := range l.parts {
			switch taken := q.Sign() < 0 && !l.worst; {
			case taken && i > 0:
				b.WriteString(" - ")
			case taken:
				b.WriteString("-")
			case i > 0:
				b.WriteString(" + ")
			}
			b.WriteString(q.Abs().WrittenBare(u))
		}
		if l.factor != "" {
			text := b.String()
			if len(l.parts) > 1 {
				text = "(" + text + ")"
			}
			b.Reset()
			b.WriteString(text + " × " + l.factor)
		}
		result := l.total.Written(u)
		if l.total.IsZero() {
			result = "0: it cancels"
		}
		numbers := b.String()
		if len(l.parts) == 1 && l.factor == "" {
			numbers = ""
		}
		shown(l.name, numbers, result, l.total)
		if l.total.IsZero() {
			squares = squares[:len(squares)-1]
		}
	}
	name, formula, join := "expanded uncertainty, "+sure+", rounded up", "U = √(U1² + U2² + …)", "√("+strings.Join(squares, " + ")+")"
	if r.atWorst {
		name, formula = "expanded uncertainty, "+sure+", at its worst", "U = U1 + U2 + …"
		join = strings.ReplaceAll(strings.Join(squares, " + "), "²", "")
	}
	return append(steps, units.Working{Name: name, Formula: formula, Numbers: join, Result: r.expanded(coverage{}).Written(u)})
}

// entry is a group of doubts as a working shows it.
type entry[D units.Dimension] struct {
	name   string
	worst  bool // its parts are added at their worst
	parts  []units.Quantity[D]
	factor string // Student's, over 2
	total  units.Quantity[D]

	limited bool // some of its degrees of freedom are
}

// ledger returns what each group of doubts adds to a reading, with its parts.
func (r *Reading[D]) ledger() []entry[D] {
	groups := r.tallied().groups
	entries := make([]entry[D], 0, len(groups))
	var room [1]part[D]
	shown := map[int][]units.Quantity[D]{} // what each act adds to a doubt
	tally(r.parts(&room), func(of int, adds units.Quantity[D]) { shown[of] = append(shown[of], adds) })
	for _, g := range groups {
		e := entry[D]{name: g.source.String(), total: g.expanded(coverage{})}
		classes := g.byFreedom()
		if len(g.doubts) == 1 {
			e.parts = positiveFirst(shown[g.first])
		} else {
			e.name, e.worst = e.name+": correlation not known, added at its worst", true
			if len(classes) == 1 {
				for _, d := range g.doubts {
					e.parts = append(e.parts, d.lo.Abs())
				}
			} else {
				for _, t := range classes {
					e.parts = append(e.parts, expand(coverage{}, t.twice, t.freedom))
				}
			}
		}
		e.limited = g.class().freedom > 0
		if f := classes[0].freedom; len(classes) == 1 && f > 0 {
			e.factor = coverage{}.factor(f).String() + "/2"
		}
		entries = append(entries, e)
	}
	return entries
}

// positiveFirst changes quantities to the signs that make their sum positive, and returns
// those that are added before those that are taken off.
func positiveFirst[D units.Dimension](parts []units.Quantity[D]) []units.Quantity[D] {
	if units.Sum(parts...).Sign() < 0 {
		for i := range parts {
			parts[i] = parts[i].Neg()
		}
	}
	slices.SortStableFunc(parts, func(a, b units.Quantity[D]) int { return b.Sign() - a.Sign() })
	return parts
}
