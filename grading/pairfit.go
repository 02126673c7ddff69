package grading

import (
	"slices"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Site is a location as measured: both diameters, each an interval that holds
// the true one.
type Site struct {
	Location string               `json:"location"`
	Housing  units.LengthInterval `json:"housing"` // the bore without shells, cap tightened
	Journal  units.LengthInterval `json:"journal"`
}

// A PairFit is a pair of parts in a location, with the clearance that it gives.
type PairFit struct {
	Location  string               `json:"location"`
	Pair      Pair                 `json:"pair"`
	Clearance units.LengthInterval `json:"clearance"` // for washers, the end play
	Verdict   measure.Verdict      `json:"verdict"`   // against the limits
	Off       units.Length         `json:"off"`       // how far the middle of Clearance lies from what is wanted
}

// Fits returns, for each site, every pair of shells that the scheme's Mix allows
// and whose clearance is proven inside the limits, the nearest to the wanted clearance
// first. Pairs that are equally near stand in order of the upper wall's place in the
// scheme's list, then of the lower's.
//
// Errors: one of kind ErrScheme if limits or shells are missing, or a size is none;
// ErrNoFit for the first site that no pair is proven to fit.
func (s *Scheme) Fits(sites []Site) ([][]PairFit, error) {
	places := make([][]PairFit, len(sites))
	for i, site := range sites {
		all, err := s.every(site)
		if err != nil {
			return nil, err
		}
		if places[i], err = s.proven(all); err != nil {
			return nil, err
		}
	}
	return places, nil
}

// proven keeps the fits that are proven inside. The error names the nearest, if none is.
func (s *Scheme) proven(all []PairFit) ([]PairFit, error) {
	fits := inside(all)
	if len(fits) > 0 {
		return fits, nil
	}
	nearest, fix := all[0], "no listed part fits: look for another or have the part machined"
	if nearest.Verdict == measure.Undecided {
		fix = "measure better"
	}
	return nil, fault(ErrNoFit, nearest.Location, fix, "nearest is %s with %s against %s, %s", nearest.Pair, nearest.Clearance, s.Limits, nearest.Verdict)
}

func inside(all []PairFit) []PairFit {
	var fits []PairFit
	for _, f := range all {
		if f.Verdict == measure.Conforming {
			fits = append(fits, f)
		}
	}
	return fits
}

// every returns all pairs that may be mixed, proven inside or not, the nearest
// to the wanted clearance first.
func (s *Scheme) every(site Site) ([]PairFit, error) {
	if err := s.measured(site); err != nil {
		return nil, err
	}
	return s.rank(site.Location, func(p Pair) (units.LengthInterval, error) { return s.clearance(site, p) })
}

// measured returns an error unless both sizes of the site are sizes.
func (s *Scheme) measured(site Site) error {
	for _, d := range []units.LengthInterval{site.Housing, site.Journal} {
		if !isSize(d) {
			return s.fault(site.Location, "a size lies above zero and has both bounds", "bore %s, journal %s", site.Housing, site.Journal)
		}
	}
	return nil
}

// clearance works out the clearance of a pair in a site.
func (s *Scheme) clearance(site Site, p Pair) (units.LengthInterval, error) {
	upper, err := s.wall(p.Upper)
	if err != nil {
		return units.LengthInterval{}, err
	}
	lower, err := s.wall(p.Lower)
	if err != nil {
		return units.LengthInterval{}, err
	}
	return clearance.Bearing{HousingBore: site.Housing, UpperWall: upper, LowerWall: lower, Journal: site.Journal}.Clearance(), nil
}

// rank returns every pair with the clearance that it gives, the nearest to what is
// wanted first.
func (s *Scheme) rank(location string, gives func(Pair) (units.LengthInterval, error)) ([]PairFit, error) {
	wanted, err := s.wanted()
	if err != nil {
		return nil, err
	}
	pairs := s.mixes()
	if len(pairs) == 0 {
		return nil, s.fault("parts", "list them with their thickness", "none that make a pair")
	}
	fits := make([]PairFit, len(pairs))
	for i, p := range pairs {
		c, err := gives(p)
		if err != nil {
			return nil, err
		}
		fits[i] = s.judged(location, p, c, wanted)
	}
	slices.SortStableFunc(fits, func(a, b PairFit) int { return a.Off.Cmp(b.Off) })
	return fits, nil
}

// judged returns the fit of a pair that gives the clearance.
func (s *Scheme) judged(location string, p Pair, c units.LengthInterval, wanted units.Length) PairFit {
	return PairFit{Location: location, Pair: p, Clearance: c, Verdict: measure.Judge(c, *s.Limits), Off: c.Mid().Sub(wanted).Abs()}
}

// fit works out one pair in one site.
func (s *Scheme) fit(site Site, p Pair) (PairFit, error) {
	wanted, err := s.wanted()
	if err != nil {
		return PairFit{}, err
	}
	if err := s.measured(site); err != nil {
		return PairFit{}, err
	}
	c, err := s.clearance(site, p)
	if err != nil {
		return PairFit{}, err
	}
	return s.judged(site.Location, p, c, wanted), nil
}

// wanted returns the clearance aimed at.
func (s *Scheme) wanted() (units.Length, error) {
	if l := s.Limits; l == nil || !l.HasLo() && !l.HasHi() || l.HasHi() && l.Hi().Sign() <= 0 {
		return units.Length{}, s.fault("limits", "write the limits of the clearance", "the scheme has none")
	}
	if s.Wanted != nil {
		return *s.Wanted, nil
	}
	if !s.Limits.Bounded() {
		return units.Length{}, s.fault("wanted", "write the clearance that is wanted", "limits of %s have no middle", s.Limits)
	}
	return s.Limits.Mid(), nil
}

// mixes returns the pairs that may share a location.
func (s *Scheme) mixes() []Pair {
	uppers, lowers := s.halves(Upper), s.halves(Lower)
	rank := s.ranks()
	var pairs []Pair
	for _, u := range uppers {
		for _, l := range lowers {
			p := s.pairOf(u.Grade, l.Grade)
			switch apart := rank[u.Grade] - rank[l.Grade]; {
			case u.Grade == l.Grade, s.Mix == AnyGrades, s.Mix == Neighbours && (apart == 1 || apart == -1):
			default:
				continue
			}
			if s.Interchangeable && slices.Contains(pairs, Pair{p.Lower, p.Upper}) {
				continue // the same two parts
			}
			pairs = append(pairs, p)
		}
	}
	return pairs
}

// halves returns the shells that fit a half.
func (s *Scheme) halves(h Half) []Shell {
	var shells []Shell
	for _, sh := range s.Shells {
		if sh.Family == "" && (sh.Half == h || sh.Half == Either) {
			shells = append(shells, sh)
		}
	}
	return shells
}

// ranks numbers the grades in order of wall, by the thinnest shell of each.
func (s *Scheme) ranks() map[string]int {
	thinnest := map[string]units.Length{}
	var grades []string
	for _, sh := range s.Shells {
		if sh.Family != "" {
			continue
		}
		t, known := thinnest[sh.Grade]
		if !known {
			grades = append(grades, sh.Grade)
		}
		if !known || sh.Wall.Lo().Less(t) {
			thinnest[sh.Grade] = sh.Wall.Lo()
		}
	}
	slices.SortStableFunc(grades, func(a, b string) int { return thinnest[a].Cmp(thinnest[b]) })
	rank := map[string]int{}
	for i, g := range grades {
		rank[g] = i
	}
	return rank
}
