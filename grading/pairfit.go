package grading

import (
	"fmt"
	"slices"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Site is a place for two parts, as measured: a bearing by its bore and its journal; or
// thrust washers, either by Room or by EndPlay with the two that are Fitted. Each is an
// interval that holds the true size, empty if not measured.
type Site struct {
	Location string               `json:"location"`
	Housing  units.LengthInterval `json:"housing"` // the bore without shells, cap tightened
	Journal  units.LengthInterval `json:"journal"`

	Room    units.LengthInterval `json:"room"` // the length for the washers and the end play, without any washer in it
	EndPlay units.LengthInterval `json:"end_play"`
	Fitted  []Shell              `json:"fitted"` // for EndPlay the front and the rear washer: the thickness of each as listed, or closer as measured
}

// A PairFit is a pair of parts in a location, with the clearance that it gives.
type PairFit struct {
	Location  string               `json:"location"`
	Pair      Pair                 `json:"pair"`
	Clearance units.LengthInterval `json:"clearance"` // for washers, the end play
	Verdict   measure.Verdict      `json:"verdict"`   // against the limits
	Off       units.Length         `json:"off"`       // how far the middle of Clearance lies from the wanted one
}

// Fits returns, for each site, every pair of parts that the scheme's Mix allows
// and whose clearance is proven inside the limits, the nearest to the wanted clearance
// first. Pairs that are equally near stand in order of the upper wall's place in the
// scheme's list, then of the lower's.
//
// For thrust washers the clearance is the end play, and the front one counts as upper.
// From a room it is
//
//	E' = R - tf' - tr'
//
// with R the room, tf' and tr' the thicknesses of the front and the rear washer to fit.
// From an end play it changes with the exchanged washers,
//
//	E' = E + tf - tf' + tr - tr'
//
// with E the end play, tf and tr the washers that were fitted. A fitted washer of the
// wanted grade stays: it stands on both sides of the sum and cancels, so E' is E if both
// stay. Count fitted washers as stock when you buy. All are lengths, each an interval; E'
// holds the end play of every choice from them.
//
// Errors: one of kind ErrScheme if limits or shells are missing, a shell is wrongly
// listed, a site says too little or too much, or a size is impossible; ErrNoFit for the
// first site without a proven pair.
func (s *Scheme) Fits(sites []Site) ([][]PairFit, error) {
	if err := s.shellsValid(); err != nil {
		return nil, err
	}
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

// shellsValid returns the first fault of the list of shells.
func (s *Scheme) shellsValid() error {
	v := validation{Scheme: s}
	v.shells()
	if len(v.faults) > 0 {
		return v.faults[0]
	}
	return nil
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
	pairs := s.mixes(site)
	if len(pairs) == 0 {
		return nil, s.fault("parts", "list them with their thickness", "none that make a pair")
	}
	fits := make([]PairFit, len(pairs))
	for i, p := range pairs {
		f, err := s.fit(site, p)
		if err != nil {
			return nil, err
		}
		fits[i] = f
	}
	slices.SortStableFunc(fits, func(a, b PairFit) int { return a.Off.Cmp(b.Off) })
	return fits, nil
}

// measured returns an error unless the site says what a clearance can be reckoned from.
func (s *Scheme) measured(site Site) error {
	if site.thrust() {
		return s.washersMeasured(site)
	}
	for _, d := range []units.LengthInterval{site.Housing, site.Journal} {
		if !isSize(d) {
			return s.fault(site.Location, "a size lies above zero and has both bounds", "bore %s, journal %s", site.Housing, site.Journal)
		}
	}
	return nil
}

// bearing is the bearing of a pair in a site.
func (s *Scheme) bearing(site Site, p Pair) (clearance.Bearing, error) {
	upper, err := s.wall(p.Upper)
	if err != nil {
		return clearance.Bearing{}, err
	}
	lower, err := s.wall(p.Lower)
	return clearance.Bearing{HousingBore: site.Housing, UpperWall: upper, LowerWall: lower, Journal: site.Journal}, err
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
	if first, second := site.halves(); p.Upper.Half != Either && p.Upper.Half != first || p.Lower.Half != Either && p.Lower.Half != second {
		return PairFit{}, s.fault(site.Location, fmt.Sprintf("give a pair of %s and %s", first, second), "%s does not go there", p)
	}
	var c units.LengthInterval
	if site.thrust() {
		sum, err := s.endPlay(site, p)
		if err != nil {
			return PairFit{}, err
		}
		c = sum.Interval()
	} else {
		b, err := s.bearing(site, p)
		if err != nil {
			return PairFit{}, err
		}
		c = b.Clearance()
	}
	return PairFit{Location: site.Location, Pair: p, Clearance: c, Verdict: measure.Judge(c, s.Limits), Off: c.Mid().Sub(wanted).Abs()}, nil
}

// wanted returns the clearance aimed at.
func (s *Scheme) wanted() (units.Length, error) {
	if l := s.Limits; !l.HasLo() && !l.HasHi() || l.HasHi() && l.Hi().Sign() <= 0 {
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

// mixes returns the pairs that may share a site.
func (s *Scheme) mixes(site Site) []Pair {
	first, second := site.halves()
	rank := s.Ranks()
	var pairs []Pair
	for _, u := range s.halves(first) {
		for _, l := range s.halves(second) {
			apart := rank[u.Grade] - rank[l.Grade]
			p := s.pairOf(Part{u.Grade, first}, Part{l.Grade, second})
			if max(apart, -apart) > s.Mix || s.Interchangeable && slices.Contains(pairs, Pair{p.Lower, p.Upper}) { // the same two parts
				continue
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

// Ranks numbers the grades that have shells in the order of their walls, by the thinnest
// shell of each. The difference of two numbers is how many steps the halves are apart.
func (s *Scheme) Ranks() map[string]int {
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
