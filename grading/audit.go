package grading

import (
	"errors"
	"fmt"
	"slices"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// An Audit has the clearances of a scheme: for every pair of codes, from the sizes behind
// the codes and the walls of the shells.
type Audit struct {
	// Cells are the pairs of codes: housing codes in order, for each the journal codes in
	// order. Coded is the pair that the scheme gives; Sized are the pairs of the shells that
	// may be mixed that are proven inside, nearest first.
	Cells []Comparison `json:"cells"`

	// Spread of the clearance over all pairs of codes: from the smallest possible to the
	// largest.
	AsTyped  units.LengthInterval `json:"as_typed"` // with the scheme's shells
	Best     units.LengthInterval `json:"best"`     // with the best choice for each pair from the shells that may be mixed: the narrowest spread, and of equal ones the nearest to the wanted clearance
	Ungraded units.LengthInterval `json:"ungraded"` // with one pair of shells everywhere: the narrowest spread

	// Widest is a width that the clearance of some pair of codes reaches whichever shells
	// it gets: the widths of both size ranges and of the two closest walls that may be
	// put together. No choice of shells makes Best narrower.
	Widest units.Length `json:"widest"`
}

// Audit works out the clearance of every pair of codes and judges it against the
// limits. It needs every code's size, the shells' walls and the limits.
//
// If a cell is not proven inside the limits, Audit returns both the audit and an error.
// The error joins one of kind ErrNoFit for each such cell, and names a pair that would be
// inside, if there is one. Without an audit, the errors are those of Validate, or one of
// kind ErrScheme for missing data, or for over two million pairs.
func (s *Scheme) Audit() (*Audit, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	if cells, pairs := len(s.Housing)*len(s.Journal), len(s.mixes(Site{})); cells*pairs > maxFits {
		return nil, s.fault("audit", "allow fewer grades to be mixed", "%d pairs of codes, each with %d pairs of shells", cells, pairs)
	}
	a := &Audit{}
	var possible [][]PairFit
	var faults []error
	for _, h := range s.Housing {
		for _, j := range s.Journal {
			site, err := s.siteOf(h, j)
			if err != nil {
				return nil, err
			}
			p, err := s.Pair(h.Code, j.Code)
			if err != nil {
				return nil, err
			}
			f, err := s.fit(site, p)
			if err != nil {
				return nil, err
			}
			all, err := s.every(site)
			if err != nil {
				return nil, err
			}
			stamp := func(c Code) Stamp { return Stamp{site.Location, c.Code, []string{c.Code}} }
			c := Comparison{Site: site, Assigned: Assignment{Location: site.Location, Housing: stamp(h), Journal: stamp(j), Pairs: []Pair{p}},
				Coded: []PairFit{f}, Sized: inside(all), Agree: f.Verdict == measure.Conforming}
			if !c.Agree {
				faults = append(faults, s.outside(c))
			}
			a.Widest = units.Max(a.Widest, leastWidth(append(all, f)))
			if len(a.Cells) == 0 {
				a.AsTyped = f.Clearance
			}
			a.AsTyped = a.AsTyped.Hull(f.Clearance)
			a.Cells = append(a.Cells, c)
			possible = append(possible, append(all, f))
		}
	}
	wanted, err := s.wanted()
	if err != nil {
		return nil, err
	}
	a.Best = narrowest(possible, wanted)
	a.Ungraded = s.ungraded()
	return a, errors.Join(faults...)
}

// outside reports a cell that is not proven inside.
func (s *Scheme) outside(c Comparison) error {
	fix := "no pair of the shells listed is proven inside"
	if len(c.Sized) > 0 {
		fix = fmt.Sprintf("%s would give %s", c.Sized[0].Pair, c.Sized[0].Clearance)
	}
	f := c.Coded[0]
	return fault(ErrNoFit, fmt.Sprintf("scheme %q, %s", s.Name, c.Site.Location), fix, "%s gives %s, %s", f.Pair, f.Clearance, f.Verdict)
}

// leastWidth returns the width of the narrowest clearance.
func leastWidth(fits []PairFit) units.Length {
	least := fits[0].Clearance.Width()
	for _, f := range fits[1:] {
		least = units.Min(least, f.Clearance.Width())
	}
	return least
}

// siteOf returns the sizes that two codes stand for.
func (s *Scheme) siteOf(h, j Code) (Site, error) {
	for _, c := range []struct {
		side Side
		Code
	}{{Housing, h}, {Journal, j}} {
		if c.Size.IsEmpty() {
			return Site{}, s.fault(string(c.side)+" "+c.Code.Code, "write the range that the code stands for", "no size")
		}
	}
	return Site{Location: cell(h.Code, j.Code), Housing: h.Size, Journal: j.Size}, nil
}

// narrowest returns the narrowest interval that holds the clearance of at least
// one fit of every list; of several as narrow, the one whose middle is nearest to
// what is wanted, and then the lowest. Its lower end is the lower end of some fit:
// those are tried from the lowest up, until a list has nothing left that begins
// there or above.
func narrowest(lists [][]PairFit, wanted units.Length) units.LengthInterval {
	var starts []units.Length
	tops := make([]ladder, len(lists))
	for i, list := range lists {
		tops[i] = newLadder(list)
		for _, f := range list {
			starts = append(starts, f.Clearance.Lo())
		}
	}
	slices.SortFunc(starts, units.Length.Cmp)
	starts = slices.CompactFunc(starts, units.Length.Equal)
	var best units.LengthInterval
	for k, lo := range starts {
		hi := lo
		for i := range tops {
			top, any := tops[i].lowestTop(lo)
			if !any {
				return best
			}
			hi = units.Max(hi, top)
		}
		window := units.MustInterval(lo, hi)
		if k == 0 {
			best = window
			continue
		}
		order := window.Width().Cmp(best.Width())
		if order == 0 {
			order = window.Mid().Sub(wanted).Abs().Cmp(best.Mid().Sub(wanted).Abs())
		}
		if order < 0 {
			best = window
		}
	}
	return best
}

// A ladder is clearances in order of their lower end, asked for ever higher ones.
type ladder struct {
	rungs []units.LengthInterval
	tops  []units.Length // the lowest upper end from each rung on
	at    int
}

func newLadder(fits []PairFit) ladder {
	var l ladder
	for _, f := range fits {
		l.rungs = append(l.rungs, f.Clearance)
	}
	slices.SortFunc(l.rungs, func(a, b units.LengthInterval) int { return a.Lo().Cmp(b.Lo()) })
	l.tops = make([]units.Length, len(l.rungs))
	for i := len(l.rungs) - 1; i >= 0; i-- {
		l.tops[i] = l.rungs[i].Hi()
		if i+1 < len(l.tops) {
			l.tops[i] = units.Min(l.tops[i], l.tops[i+1])
		}
	}
	return l
}

// lowestTop returns the lowest upper end of the clearances that begin at lo or
// above.
func (l *ladder) lowestTop(lo units.Length) (top units.Length, any bool) {
	for l.at < len(l.rungs) && l.rungs[l.at].Lo().Less(lo) {
		l.at++
	}
	if l.at == len(l.rungs) {
		return top, false
	}
	return l.tops[l.at], true
}

// ungraded returns the spread with one pair of shells in every location: the
// pair that makes it narrowest, and of those the one nearest to what is wanted.
func (s *Scheme) ungraded() units.LengthInterval {
	whole := Site{Location: "every location", Housing: s.Housing[0].Size, Journal: s.Journal[0].Size}
	for _, h := range s.Housing {
		whole.Housing = whole.Housing.Hull(h.Size)
	}
	for _, j := range s.Journal {
		whole.Journal = whole.Journal.Hull(j.Size)
	}
	fits, err := s.every(whole)
	if err != nil {
		return units.LengthInterval{}
	}
	best := fits[0].Clearance
	for _, f := range fits {
		if f.Clearance.Width().Less(best.Width()) {
			best = f.Clearance
		}
	}
	return best
}

// Working shows the clearance of a pair in a site as worked out by hand, judged against
// the limits. The audit's cell has the site of a pair of codes.
func (s *Scheme) Working(site Site, p Pair, u units.LengthUnit) (units.Working, error) {
	f, err := s.fit(site, p)
	if err != nil {
		return units.Working{}, err
	}
	var w units.Working
	if site.thrust() {
		sum, _ := s.endPlay(site, p)
		w = sum.Working(u)
		w.Steps = w.Steps[len(sum.Terms):] // the sizes themselves say nothing more
	} else {
		b, _ := s.bearing(site, p)
		w = b.Working(u)
	}
	w.Name = site.Location + ", " + p.String()
	w.Notes = append(w.Notes, fmt.Sprintf("against %s: %s", s.Limits, f.Verdict))
	return w, nil
}
