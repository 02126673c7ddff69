package measure

import (
	"slices"

	"example.com/closefit/units"
)

// places is to how many places of a dimension's first unit an uncertainty is
// rounded up.
const places = 7

// step is what uncertainties are rounded up to a multiple of.
func step[D units.Dimension]() units.Quantity[D] {
	const first = 0
	return units.Unit[D](first).Place(places)
}

// gather adds parts up: the same act once, with its factors added.
func gather[D units.Dimension](into []part[D], factor units.Ratio, of []part[D]) []part[D] {
next:
	for _, p := range of {
		f := p.factor
		if !factor.Equal(plus) {
			f = product(f, factor)
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

// product returns a·b.
func product(a, b units.Ratio) units.Ratio {
	switch {
	case a.Equal(plus):
		return b
	case b.Equal(plus):
		return a
	}
	return a.MulRat(b.Rat(units.One))
}

// same reports whether two acts are known to be one: those that have a name, the
// same one, and saw the same.
func (a *act[D]) same(b *act[D]) bool {
	if a == b {
		return true
	}
	return a.at != "" && a.at == b.at && a.by == b.by && a.means == b.means && a.count == b.count &&
		a.seen[0].Equal(b.seen[0]) && a.seen[1].Equal(b.seen[1]) && a.bracket.Equal(b.bracket) && a.stated.Equal(b.stated)
}

// id returns what tells an act from another by the same instrument: its name and
// what was seen. It is empty for an act without a name.
func (a *act[D]) id() string {
	if a.at == "" {
		return ""
	}
	return a.at + ", " + a.seen[0].Exact()
}

// bracket returns what is certain of a reading: the interval sum of its acts, with
// what the pieces among their doubts add at each end.
func (r *Reading[D]) bracket() units.Interval[D] {
	var room [1]part[D]
	parts := r.parts(&room)
	if len(parts) == 0 {
		return units.Interval[D]{}
	}
	sum := units.Exactly(units.Quantity[D]{})
	doubtful := false
	for i := range parts {
		f, a := parts[i].factor, parts[i].act
		doubtful = doubtful || len(a.doubts) > 0
		switch {
		case f.Equal(plus):
			sum = sum.Add(a.bracket)
		case f.Equal(minus):
			sum = sum.Sub(a.bracket)
		case !f.IsZero():
			sum = sum.Add(a.bracket.MulRat(f.Rat(units.One)))
		}
	}
	if !doubtful {
		return sum
	}
	var lower, upper units.Quantity[D]
	for _, d := range collect(parts) {
		if d.kind == piece {
			lower, upper = lower.Add(d.lo.Abs()), upper.Add(d.hi.Abs())
		}
	}
	if lower.IsZero() && upper.IsZero() {
		return sum
	}
	return sum.Add(units.MustInterval(lower.Neg(), upper))
}

// collect returns the doubts of the acts by source: those of one source as one,
// with their signs. The unsplit uncertainty of an act is a doubt like any other.
func collect[D units.Dimension](parts []part[D]) []doubt[D] {
	var all []doubt[D]
	add := func(d doubt[D]) {
		if d.act != "" || d.named() {
			for i := range all {
				if all[i].source == d.source && all[i].freedom == d.freedom {
					all[i].lo, all[i].hi = all[i].lo.Add(d.lo), all[i].hi.Add(d.hi)
					return
				}
			}
		}
		all = append(all, d)
	}
	for _, p := range parts {
		if p.factor.IsZero() {
			continue
		}
		if a := p.act; !a.stated.IsZero() {
			add(doubt[D]{source{whole, a.by, a.id()}, a.stated, a.stated, a.freedom}.times(p.factor))
		}
		for _, d := range p.act.doubts {
			add(d.times(p.factor))
		}
	}
	for i := range all {
		if all[i].kind != piece && all[i].of != "" && undivided(all, all[i].of) {
			all[i].kind = whole
		}
	}
	return slices.DeleteFunc(all, func(d doubt[D]) bool { return d.lo.IsZero() && d.hi.IsZero() })
}

// undivided reports whether an instrument stands among doubts with an uncertainty that
// is not split. If it stands there split as well, it was described in two ways, and
// all of it is taken at its worst.
func undivided[D units.Dimension](doubts []doubt[D], of string) bool {
	return slices.ContainsFunc(doubts, func(d doubt[D]) bool { return d.kind == whole && d.of == of })
}

// expanded returns the uncertainty of a reading at the coverage:
//
//	U = √( Σ C(s)² + Σ (Σ |c|)² ), rounded up
//
// with C(s) what each known source does to the sum, its parts added with their
// signs, and c what the acts of one instrument do whose uncertainty is not split,
// added at their worst; each is expanded by its own factor before it is added.
// JCGM 100:2008, 5.2.2, with what is not known of a correlation at its worst.
func (r *Reading[D]) expanded(c Coverage) units.Quantity[D] {
	if r.of == nil && len(r.act.doubts) == 0 {
		return expand(c, r.act.stated, r.act.freedom)
	}
	if r.of != nil && r.of.spread {
		c = c.atLeast2()
	}
	var room [1]part[D]
	parts := r.parts(&room)
	var terms [8]units.Quantity[D]
	return rootOf(r.atWorst, grouped(c, parts, terms[:0]))
}

// grouped returns what each source, and each instrument that is not split, adds to
// a reading at the coverage.
func grouped[D units.Dimension](c Coverage, parts []part[D], terms []units.Quantity[D]) []units.Quantity[D] {
	simple := true
	for i := range parts {
		simple = simple && len(parts[i].act.doubts) == 0
	}
	if simple {
		var owners [8]string
		names := owners[:0]
	next:
		for i := range parts {
			a := parts[i].act
			if a.stated.IsZero() || parts[i].factor.IsZero() {
				continue
			}
			u := expand(c, scaled(a.stated, parts[i].factor).Abs(), a.freedom)
			for j, name := range names {
				if name == a.by {
					terms[j] = terms[j].Add(u)
					continue next
				}
			}
			names, terms = append(names, a.by), append(terms, u)
		}
		return terms
	}
	type owner struct {
		kind kind
		of   string
		at   int
	}
	var owners []owner
next2:
	for _, d := range collect(parts) {
		if d.kind == piece {
			continue
		}
		u := expand(c, d.lo.Abs(), d.freedom)
		if !d.named() {
			if d.of == "" {
				d.kind = whole // no name: it may share its error with any other that has none
			}
			for _, o := range owners {
				if o.kind == d.kind && o.of == d.of {
					terms[o.at] = terms[o.at].Add(u)
					continue next2
				}
			}
			owners = append(owners, owner{d.kind, d.of, len(terms)})
		}
		terms = append(terms, u)
	}
	return terms
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
	return units.RootSumSquare(step[D](), terms...)
}
