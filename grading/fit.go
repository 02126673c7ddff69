package grading

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

// A Site is a location as measured: both diameters, each an interval that holds
// the true one.
type Site struct {
	Location         string
	Housing, Journal units.LengthInterval // bore without shells, cap tightened; journal
}

// A Fit is a pair of parts in a location, with what it gives.
type Fit struct {
	Pair      Pair
	Clearance units.LengthInterval // for washers, the end play
	Verdict   clearance.Verdict    // against the limits
	Off       units.Length         // how far the middle of Clearance lies from what is wanted
}

// A Place is a location with the pairs that are proven inside its limits there,
// the nearest to the wanted clearance first.
type Place struct {
	Location string
	Fits     []Fit
}

// Fits returns, for each site, every pair of shells that the scheme's Mix allows
// and whose clearance is proven inside the limits. Pairs that are equally near
// to the wanted clearance stand in order of the upper wall's place in the
// scheme's list, then of the lower's.
//
// Errors: *SchemeError, which wraps ErrNoLimits or ErrNoShell, if limits or
// shells are missing, or ErrSize, for a size that is none; *NoFitError for
// the first site that no pair is proven to fit.
func (s *Scheme) Fits(sites []Site) ([]Place, error) {
	places := make([]Place, len(sites))
	for i, site := range sites {
		all, err := s.every(site)
		if err != nil {
			return nil, err
		}
		if places[i], err = s.place(site.Location, all); err != nil {
			return nil, err
		}
	}
	return places, nil
}

// place keeps the fits that are proven inside.
func (s *Scheme) place(location string, all []Fit) (Place, error) {
	p := Place{Location: location, Fits: inside(all)}
	if len(p.Fits) == 0 {
		return Place{}, &NoFitError{Location: location, Limits: *s.Limits, Nearest: all[0]}
	}
	return p, nil
}

func inside(all []Fit) []Fit {
	var fits []Fit
	for _, f := range all {
		if f.Verdict == clearance.Conforming {
			fits = append(fits, f)
		}
	}
	return fits
}

// every returns all pairs that may be mixed, proven inside or not, the nearest
// to the wanted clearance first.
func (s *Scheme) every(site Site) ([]Fit, error) {
	room, err := s.room(site)
	if err != nil {
		return nil, err
	}
	return s.rank(site.Location, room)
}

// room returns what two walls and the clearance fill together.
func (s *Scheme) room(site Site) (units.LengthInterval, error) {
	for _, d := range []units.LengthInterval{site.Housing, site.Journal} {
		if !d.Bounded() || d.Lo().Sign() <= 0 {
			return units.LengthInterval{}, s.errorf(ErrSize, site.Location, "bore %s, journal %s; a size lies above zero and has both bounds", site.Housing, site.Journal)
		}
	}
	return site.Housing.Sub(site.Journal), nil
}

// rank returns what each pair gives in a room, the nearest to what is wanted
// first.
func (s *Scheme) rank(location string, room units.LengthInterval) ([]Fit, error) {
	if !room.Bounded() {
		return nil, s.errorf(ErrSize, location, "%s; a size has both bounds", room)
	}
	wanted, err := s.wanted()
	if err != nil {
		return nil, err
	}
	pairs := s.mixes()
	if len(pairs) == 0 {
		return nil, s.errorf(ErrNoShell, "parts", "none that make a pair; list them with their thickness")
	}
	fits := make([]Fit, len(pairs))
	for i, p := range pairs {
		if fits[i], err = s.fitIn(room, p, wanted); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(fits, func(a, b Fit) int { return a.Off.Cmp(b.Off) })
	return fits, nil
}

// fitIn works out one pair in a room.
func (s *Scheme) fitIn(room units.LengthInterval, p Pair, wanted units.Length) (Fit, error) {
	upper, err := s.wall(p.Upper)
	if err != nil {
		return Fit{}, err
	}
	lower, err := s.wall(p.Lower)
	if err != nil {
		return Fit{}, err
	}
	c := room.Sub(upper).Sub(lower)
	return Fit{Pair: p, Clearance: c, Verdict: clearance.Judge(c, *s.Limits), Off: c.Mid().Sub(wanted).Abs()}, nil
}

// fit works out one pair in one site.
func (s *Scheme) fit(site Site, p Pair) (Fit, error) {
	wanted, err := s.wanted()
	if err != nil {
		return Fit{}, err
	}
	room, err := s.room(site)
	if err != nil {
		return Fit{}, err
	}
	return s.fitIn(room, p, wanted)
}

// wanted returns the clearance aimed at.
func (s *Scheme) wanted() (units.Length, error) {
	if s.Limits == nil {
		return units.Length{}, s.errorf(ErrNoLimits, "limits", "the scheme has none; write the limits of the clearance")
	}
	if s.Wanted != nil {
		return *s.Wanted, nil
	}
	if !s.Limits.Bounded() {
		return units.Length{}, s.errorf(ErrNoLimits, "wanted", "limits of %s have no middle; write the clearance that is wanted", s.Limits)
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

// A Choice is the pair chosen for a location.
type Choice struct {
	Location string
	Fit      Fit
}

// Nearest chooses for each place the pair nearest to the wanted clearance.
func Nearest(places []Place) ([]Choice, error) {
	choices := make([]Choice, len(places))
	for i, p := range places {
		if len(p.Fits) == 0 {
			return nil, &NoFitError{Location: p.Location}
		}
		choices[i] = Choice{p.Location, p.Fits[0]}
	}
	return choices, nil
}

// Alike chooses pairs that are near to the wanted clearance and keep neighbouring
// locations alike: of all choices the one with the smallest
//
//	Σ |c(i) - w| + Σ |c(i+1) - c(i)|
//
// with c(i) the middle of the clearance at place i, in the order of the places,
// and w the clearance wanted there. Of choices that are equal in this, the one
// whose fits stand earlier in the lists, decided at the last place first. It is
// found by going through the places once, keeping the best way to each fit
// (dynamic programming), and is exact.
func Alike(places []Place) ([]Choice, error) {
	if _, err := Nearest(places); err != nil || len(places) == 0 {
		return nil, err
	}
	// best[k] is the smallest sum of a way to fit k; before[i][k] the fit before it.
	best := make([]units.Length, len(places[0].Fits))
	for k, f := range places[0].Fits {
		best[k] = f.Off
	}
	before := make([][]int, len(places))
	for i := 1; i < len(places); i++ {
		next := make([]units.Length, len(places[i].Fits))
		before[i] = make([]int, len(places[i].Fits))
		for k, f := range places[i].Fits {
			for m, g := range places[i-1].Fits {
				way := units.Sum(best[m], f.Off, f.Clearance.Mid().Sub(g.Clearance.Mid()).Abs())
				if m == 0 || way.Less(next[k]) {
					next[k], before[i][k] = way, m
				}
			}
		}
		best = next
	}
	at := 0
	for k := range best {
		if best[k].Less(best[at]) {
			at = k
		}
	}
	choices := make([]Choice, len(places))
	for i := len(places) - 1; i >= 0; i-- {
		choices[i] = Choice{places[i].Location, places[i].Fits[at]}
		if i > 0 {
			at = before[i][at]
		}
	}
	return choices, nil
}

// DemandOf counts the parts of the choices.
func DemandOf(choices []Choice) []Count {
	var demand []Count
	for _, c := range choices {
		demand = append(demand, Count{c.Fit.Pair.Upper, 1}, Count{c.Fit.Pair.Lower, 1})
	}
	return total(demand)
}

// A Comparison is what codes and sizes say of one location.
type Comparison struct {
	Location string
	Coded    []Fit    // the pairs that the codes call for, in the sizes measured
	Sized    []Fit    // the pairs proven inside by the sizes, the nearest first
	Notes    []string // sizes that the stamped codes do not have
}

// Agree reports whether the codes leave one pair, and it is proven inside.
func (c Comparison) Agree() bool {
	return len(c.Coded) == 1 && c.Coded[0].Verdict == clearance.Conforming && len(c.Notes) == 0
}

// String says what both answers are: "main 2: the codes say red upper + blue
// lower (0.012..0.020 mm, below limit), the sizes say blue upper + blue lower
// (0.030..0.038 mm)".
func (c Comparison) String() string {
	say := func(fits []Fit) string {
		if len(fits) == 0 {
			return "that no pair is proven inside"
		}
		f := fits[0]
		s := fmt.Sprintf("%s (%s, %s)", f.Pair, f.Clearance, f.Verdict)
		if n := len(fits) - 1; n > 0 {
			s += fmt.Sprintf(" or %d others", n)
		}
		return s
	}
	s := c.Location + ": "
	if c.Agree() {
		s += "codes and sizes agree on " + say(c.Coded)
	} else {
		s += "the codes say " + say(c.Coded) + ", the sizes say " + say(c.Sized)
	}
	for _, n := range c.Notes {
		s += "; " + n
	}
	return s
}

// Compare puts the answer of the codes beside the answer of the sizes, location
// by location. A size that its stamped code cannot have is noted. Errors:
// *LocationsError if assignments and sites are not the same locations in the same
// order; those of Fits, save that no pair need fit.
func (s *Scheme) Compare(assignments []Assignment, sites []Site) ([]Comparison, error) {
	if err := s.sameSites(assignments, sites); err != nil {
		return nil, err
	}
	list := make([]Comparison, len(sites))
	for i, site := range sites {
		a := assignments[i]
		c := Comparison{Location: site.Location}
		for _, p := range a.Pairs {
			f, err := s.fit(site, p)
			if err != nil {
				return nil, err
			}
			c.Coded = append(c.Coded, f)
		}
		slices.SortStableFunc(c.Coded, func(a, b Fit) int { return cmp.Compare(verdictRank(a), verdictRank(b)) })
		all, err := s.every(site)
		if err != nil {
			return nil, err
		}
		c.Sized = inside(all)
		c.Notes = append(s.strangers(Housing, a.Housing, site.Housing), s.strangers(Journal, a.Journal, site.Journal)...)
		list[i] = c
	}
	return list, nil
}

// verdictRank puts conforming fits first and those proven outside last.
func verdictRank(f Fit) int {
	switch f.Verdict {
	case clearance.Conforming:
		return 0
	case clearance.Undecided:
		return 1
	}
	return 2
}

func (s *Scheme) sameSites(assignments []Assignment, sites []Site) error {
	var names, codes []string
	for _, site := range sites {
		names = append(names, site.Location)
	}
	for _, a := range assignments {
		codes = append(codes, a.Location)
	}
	if !slices.Equal(names, codes) {
		return &LocationsError{What: "codes", Than: "sizes", Got: codes, Want: names}
	}
	return nil
}

// strangers notes a size that none of the codes it can be has.
func (s *Scheme) strangers(side Side, stamp Stamp, size units.LengthInterval) []string {
	for _, code := range stamp.Possible {
		c, err := s.code(side, code)
		if err != nil || c.Size == nil || c.Size.Overlaps(size) {
			return nil
		}
	}
	if len(stamp.Possible) == 0 {
		return nil
	}
	c, _ := s.code(side, stamp.Possible[0])
	return []string{fmt.Sprintf("the %s measures %s, but code %s is %s", side, size, stamp.Code, c.Size)}
}
