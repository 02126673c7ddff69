package grading

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

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
