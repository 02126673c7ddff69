package measure

import (
	"fmt"
	"slices"

	"example.com/closefit/units"
)

// places is to how many places of a dimension's first unit an uncertainty is
// rounded up.
const places = 7

// rootSumSquare returns the root of the sum of the squares, rounded up.
func rootSumSquare[D units.Dimension](terms ...units.Quantity[D]) units.Quantity[D] {
	const first = 0
	return units.RootSumSquare(units.Unit[D](first), places, terms...)
}

// gather adds parts up: the same act once, with its factors added.
func gather[D units.Dimension](into []part[D], factor units.Ratio, of []part[D]) []part[D] {
next:
	for _, p := range of {
		f := p.factor
		if !factor.Equal(plus) {
			f = f.Times(factor)
		}
		for i := range into {
			if into[i].act.same(p.act) {
				into[i].factor = into[i].factor.Add(f)
				continue next
			}
		}
		into = append(into, part[D]{f, p.act})
	}
	return into
}

// same reports whether two acts are known to be one: those that have a name, the
// same one, and agree in all else.
func (a *act[D]) same(b *act[D]) bool {
	if a == b {
		return true
	}
	if a.at == "" || a.at != b.at || a.by != b.by {
		return false
	}
	m, n := a.rest(), b.rest()
	return m.setting == n.setting && a.means == b.means && m.count == n.count &&
		m.seen[0].Equal(n.seen[0]) && m.seen[1].Equal(n.seen[1]) && a.bracket.Equal(b.bracket) &&
		a.stated.Equal(b.stated) && a.freedom == b.freedom && slices.EqualFunc(m.doubts, n.doubts, doubt[D].equal)
}

func (d doubt[D]) equal(o doubt[D]) bool {
	return d.source == o.source && d.freedom == o.freedom && d.lo.Equal(o.lo) && d.hi.Equal(o.hi)
}

// id returns what tells an act from another by the same instrument: its name, what
// was seen, and after which setting. It is empty for an act without a name.
func (a *act[D]) id() string {
	if a.at == "" {
		return ""
	}
	id, m := readingOf+a.at, a.rest()
	if !m.seen[0].IsZero() { // as it is in a setting
		id += ", " + m.seen[0].Exact()
	}
	if !m.seen[1].IsZero() {
		id += " and " + m.seen[1].Exact()
	}
	if m.count > 0 {
		id += fmt.Sprintf(", mean of %d", m.count)
	}
	if m.setting != "" {
		id += ", " + m.setting
	}
	return id
}

// bracket returns what is certain of a reading: the interval sum of its acts, with
// what the pieces among their doubts add at each end.
func (r *Reading[D]) bracket() units.Interval[D] {
	if r.of == nil {
		return r.certain()
	}
	if b := r.of.certain.Load(); b != nil {
		return *b
	}
	return kept(&r.of.certain, r.certain())
}

// certain works out bracket.
func (r *Reading[D]) certain() units.Interval[D] {
	var room [1]part[D]
	parts := r.parts(&room)
	if len(parts) == 0 {
		return units.Interval[D]{}
	}
	sum := units.Exactly(units.Quantity[D]{})
	pieces := false
	for i := range parts {
		f, a := parts[i].factor, parts[i].act
		for _, d := range a.doubts() {
			pieces = pieces || d.kind == piece
		}
		switch {
		case f.Equal(plus):
			sum = sum.Add(a.bracket)
		case f.Equal(minus):
			sum = sum.Sub(a.bracket)
		case !f.IsZero():
			sum = sum.Add(a.bracket.Times(f))
		}
	}
	if !pieces {
		return sum
	}
	var lower, upper units.Quantity[D]
	for _, d := range r.tallied().doubts {
		if d.kind == piece {
			lower, upper = lower.Add(d.lo.Abs()), upper.Add(d.hi.Abs())
		}
	}
	if lower.IsZero() && upper.IsZero() {
		return sum
	}
	return sum.Add(units.MustInterval(lower.Neg(), upper))
}

// tallied are the doubts of a reading by source, and as they are added up. Nobody changes
// them.
type tallied[D units.Dimension] struct {
	doubts []doubt[D]
	groups []group[D]
}

// tallied returns the doubts of the reading's acts.
func (r *Reading[D]) tallied() tallied[D] {
	if r.of != nil {
		if t := r.of.tallied.Load(); t != nil {
			return *t
		}
	}
	var room [1]part[D]
	doubts := tally(r.parts(&room), nil)
	t := tallied[D]{doubts, grouped(doubts)}
	if r.of != nil {
		return kept(&r.of.tallied, t)
	}
	return t
}

// standing returns the doubts of the reading by source, without those that cancel.
func (r *Reading[D]) standing() []doubt[D] {
	return slices.DeleteFunc(slices.Clone(r.tallied().doubts), func(d doubt[D]) bool { return d.lo.IsZero() && d.hi.IsZero() })
}

// tally returns the doubts of the acts by source: those of one source as one, with
// their signs. The unsplit uncertainty of an act is a doubt like any other. each, unless
// it is nil, is told what an act adds to which of them.
func tally[D units.Dimension](parts []part[D], each func(of int, adds units.Quantity[D])) (all []doubt[D]) {
	n := 0
	for i := range parts {
		if n += len(parts[i].act.doubts()); !parts[i].act.stated.IsZero() {
			n++
		}
	}
	all = make([]doubt[D], 0, n)
	twice := describedTwice(parts)
	add := func(d doubt[D]) {
		of := -1
		if (d.act != "" || d.named()) && (d.kind == scatter || !slices.Contains(twice, d.of)) {
			of = slices.IndexFunc(all, func(o doubt[D]) bool { return o.source == d.source && o.freedom == d.freedom })
		}
		if of < 0 {
			of, all = len(all), append(all, d)
		} else {
			all[of].lo, all[of].hi = all[of].lo.Add(d.lo), all[of].hi.Add(d.hi)
		}
		if each != nil {
			each(of, d.lo)
		}
	}
	for i := range parts {
		a := parts[i].act
		f := parts[i].factor
		if f.IsZero() {
			continue
		}
		if !a.stated.IsZero() {
			add(doubt[D]{source{whole, a.by, a.id()}, a.stated, a.stated, a.freedom}.times(f))
		}
		for _, d := range a.doubts() {
			add(d.times(f))
		}
	}
	// An instrument that stands among them with an uncertainty that is not split, or
	// with one error estimated twice, is taken at its worst in all that it does.
	for i, d := range all {
		if !d.shares() || d.of == "" || slices.Contains(twice, d.of) {
			continue
		}
		if d.kind == whole || slices.ContainsFunc(all[:i], func(o doubt[D]) bool { return o.source == d.source }) {
			twice = append(twice, d.of)
		}
	}
	for i := range all {
		if all[i].shares() && slices.Contains(twice, all[i].of) {
			all[i].kind = whole
		}
	}
	return all
}

// describedTwice returns the instruments whose common error is stated otherwise in
// one act than in another. It is not known which is right, so nothing of them may
// cancel.
func describedTwice[D units.Dimension](parts []part[D]) (twice []string) {
	for i := range parts {
		a := parts[i].act
		for j := range i {
			b := parts[j].act
			if a.by == "" || a.by != b.by || !a.split() || !b.split() || a.common().Equal(b.common()) {
				continue
			}
			if !slices.Contains(twice, a.by) {
				twice = append(twice, a.by)
			}
		}
	}
	return twice
}

// split reports whether the act is of an instrument that states its parts, and common
// returns the part that it has in every reading. They stand first among the doubts.
func (a *act[D]) split() bool {
	d := a.doubts()
	return len(d) > 0 && d[0].of == a.by && (d[0].kind == common || d[0].kind == repeat)
}

func (a *act[D]) common() (q units.Quantity[D]) {
	if d := a.doubts(); d[0].kind == common {
		q = d[0].lo
	}
	return q
}

// A group is what is added up before anything is squared: the one error of a source,
// or all errors of one instrument whose correlation is not known.
type group[D units.Dimension] struct {
	source
	doubts []doubt[D]
	first  int // which of the doubts of a reading is its first
}

// grouped returns the spreads among doubts.
func grouped[D units.Dimension](doubts []doubt[D]) []group[D] {
	all := make([]group[D], 0, len(doubts))
next:
	for i, d := range doubts {
		if d.kind == piece || !d.named() && d.lo.IsZero() {
			continue
		}
		of := d.source
		if !d.named() {
			of.act = ""
			if of.of == "" && of.kind != scatter {
				of.kind = whole // no name: it may share its error with any other that has none
			}
			for j := range all {
				if all[j].source == of {
					all[j].doubts = append(all[j].doubts, d)
					continue next
				}
			}
		}
		all = append(all, group[D]{of, doubts[i : i+1 : i+1], i})
	}
	return all
}

// expanded returns what the group adds to the sum at the coverage, at its worst.
func (g *group[D]) expanded(c coverage) units.Quantity[D] {
	var total units.Quantity[D]
	for _, t := range g.byFreedom() {
		total = total.Add(expand(c, t.twice, t.freedom))
	}
	return total
}

// byFreedom returns twice the standard uncertainties of the group, added at their
// worst, for each number of degrees of freedom.
func (g *group[D]) byFreedom() []class[D] {
	var classes [4]class[D]
	all := classes[:0]
	for _, d := range g.doubts {
		all = append(all, class[D]{d.lo.Abs(), d.freedom})
	}
	return summed(all, true)
}

// expanded returns the uncertainty of a reading at the coverage:
//
//	U = √( Σ C(s)² + Σ (Σ |c|)² ), rounded up
//
// with C(s) what each known source does to the sum, its parts added with their
// signs, and c what the acts of one instrument do whose uncertainty is not split,
// added at their worst; each is expanded by its own factor before it is added.
// JCGM 100:2008, 5.2.2, with what is not known of a correlation at its worst.
func (r *Reading[D]) expanded(c coverage) units.Quantity[D] {
	if r.of == nil && len(r.act.doubts()) == 0 {
		return expand(c, r.act.stated, r.act.freedom)
	}
	if r.of == nil || c != (coverage{}) {
		return r.root(c)
	}
	i := 0
	if r.atWorst {
		i = 1
	}
	if u := r.of.twice[i].Load(); u != nil {
		return *u
	}
	return kept(&r.of.twice[i], r.root(c))
}

// root works out expanded.
func (r *Reading[D]) root(c coverage) units.Quantity[D] {
	if r.of != nil && r.of.spread {
		c = c.atLeast2()
	}
	var terms []units.Quantity[D]
	for _, g := range r.tallied().groups {
		if u := g.expanded(c); !u.IsZero() {
			terms = append(terms, u)
		}
	}
	return rootOf(r.atWorst, terms)
}

// rootOf returns the root of the sum of the squares, rounded up; at their worst,
// the sum.
func rootOf[D units.Dimension](atWorst bool, terms []units.Quantity[D]) units.Quantity[D] {
	switch {
	case len(terms) == 1:
		return terms[0]
	case atWorst:
		return units.Sum(terms...)
	}
	return rootSumSquare(terms...)
}
