package grading

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Comparison puts codes and sizes of one location side by side.
type Comparison struct {
	Site     Site       `json:"site"`
	Assigned Assignment `json:"assigned"` // the pairs that the codes call for, without those that the sizes rule out
	Coded    []PairFit  `json:"coded"`    // the pairs of Assigned, in these sizes
	Sized    []PairFit  `json:"sized"`    // the pairs proven inside by the sizes, the nearest first
	Agree    bool       `json:"agree"`    // the codes leave one pair, it is proven inside, and the sizes are those of the codes
	Notes    []string   `json:"notes"`    // possible codes that the sizes rule out; sizes that the stamped codes do not have
}

// String gives both answers: "main 2: the codes say red upper + blue lower (0.012..0.020
// mm, below limit), the sizes say blue upper + blue lower (0.030..0.038 mm)".
func (c Comparison) String() string {
	say := func(fits []PairFit) string {
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
	s := c.Site.Location + ": "
	if c.Agree {
		s += "codes and sizes agree on " + say(c.Coded)
	} else {
		s += "the codes say " + say(c.Coded) + ", the sizes say " + say(c.Sized)
	}
	for _, n := range c.Notes {
		s += "; " + n
	}
	return s
}

// Compare puts the answer of the codes beside the answer of the sizes, location by
// location. The sizes rule out possible codes that stand for other sizes, and readings of
// a row that give some location a code of another size; unless that leaves nothing, as on
// a worn crank. Notes name a size that fits none of its location's codes.
//
// Errors: one of kind ErrLocations unless codes and sites have the same locations in the
// same order; those of Assign, and those of Fits except for a site without a pair.
func (s *Scheme) Compare(housing, journal RowReading, sites []Site) ([]Comparison, error) {
	before, err := s.Assign(housing, journal)
	if err != nil {
		return nil, err
	}
	if err := s.sameSites(before, sites); err != nil {
		return nil, err
	}
	bores, journals := make([]units.LengthInterval, len(sites)), make([]units.LengthInterval, len(sites))
	for i, site := range sites {
		if site.thrust() {
			return nil, s.fault(site.Location, "give its bore and its journal", "a room or an end play, where codes call for shells")
		}
		bores[i], journals[i] = site.Housing, site.Journal
	}
	assigned, err := s.Assign(s.ruled(housing, bores), s.ruled(journal, journals))
	if err != nil {
		return nil, err
	}
	list := make([]Comparison, len(sites))
	for i, site := range sites {
		a := assigned[i]
		c := Comparison{Site: site, Assigned: a}
		for _, p := range a.Pairs {
			f, err := s.fit(site, p)
			if err != nil {
				return nil, err
			}
			c.Coded = append(c.Coded, f)
		}
		slices.SortStableFunc(c.Coded, func(a, b PairFit) int { return cmp.Compare(verdictRank(a), verdictRank(b)) })
		all, err := s.every(site)
		if err != nil {
			return nil, err
		}
		c.Sized = inside(all)
		ruled := append(ruledOut(Housing, before[i].Housing, a.Housing, site.Housing), ruledOut(Journal, before[i].Journal, a.Journal, site.Journal)...)
		strange := append(s.strangers(Housing, a.Housing, site.Housing), s.strangers(Journal, a.Journal, site.Journal)...)
		c.Notes = append(ruled, strange...)
		c.Agree = len(c.Coded) == 1 && c.Coded[0].Verdict == measure.Conforming && len(strange) == 0
		list[i] = c
	}
	return list, nil
}

// ruled returns the reading without the ways to read it, and without the codes,
// that the sizes rule out.
func (s *Scheme) ruled(r RowReading, sizes []units.LengthInterval) RowReading {
	readings := append([]RowReading{{Row: r.Row, Stamps: r.Stamps}}, r.Others...)
	var kept []RowReading
	for _, reading := range readings {
		reading.Stamps = slices.Clone(reading.Stamps)
		possible := true
		for i := range reading.Stamps {
			stamp := &reading.Stamps[i]
			left := s.withSize(r.Row.Side, stamp.Possible, sizes[i])
			if possible = possible && len(left) > 0; len(left) > 0 {
				stamp.Possible = left
			}
		}
		if possible {
			kept = append(kept, reading)
		}
	}
	if len(kept) == 0 {
		return s.ruledApart(r, sizes)
	}
	r.Stamps, r.Others = kept[0].Stamps, kept[1:]
	r.Tell = r.Row.tell(r)
	return r
}

// ruledApart returns the reading without codes that the sizes rule out at their
// own location, where others are left there.
func (s *Scheme) ruledApart(r RowReading, sizes []units.LengthInterval) RowReading {
	narrow := func(stamps []Stamp) []Stamp {
		stamps = slices.Clone(stamps)
		for i := range stamps {
			if left := s.withSize(r.Row.Side, stamps[i].Possible, sizes[i]); len(left) > 0 {
				stamps[i].Possible = left
			}
		}
		return stamps
	}
	r.Stamps, r.Others = narrow(r.Stamps), slices.Clone(r.Others)
	for i := range r.Others {
		r.Others[i].Stamps = narrow(r.Others[i].Stamps)
	}
	return r
}

// withSize returns the codes that can have the size, or of which no size is known.
func (s *Scheme) withSize(side Side, codes []string, size units.LengthInterval) []string {
	var left []string
	for _, code := range codes {
		if c, _ := s.code(side, code); c.Size.IsEmpty() || c.Size.Overlaps(size) {
			left = append(left, code)
		}
	}
	return left
}

// ruledOut says which codes a size has ruled out.
func ruledOut(side Side, before, after Stamp, size units.LengthInterval) []string {
	if len(after.Possible) == len(before.Possible) {
		return nil
	}
	return []string{fmt.Sprintf("the %s measures %s, so that of %s its code is %s", side, size,
		strings.Join(before.Possible, ", "), strings.Join(after.Possible, " or "))}
}

// verdictRank puts conforming fits first and those proven outside last.
func verdictRank(f PairFit) int {
	switch f.Verdict {
	case measure.Conforming:
		return 0
	case measure.Undecided:
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
		return otherLocations("codes", codes, "sizes", names)
	}
	return nil
}

// strangers notes a size that none of the codes it can be has.
func (s *Scheme) strangers(side Side, stamp Stamp, size units.LengthInterval) []string {
	for _, code := range stamp.Possible {
		c, err := s.code(side, code)
		if err != nil || c.Size.IsEmpty() || c.Size.Overlaps(size) {
			return nil
		}
	}
	if len(stamp.Possible) == 0 {
		return nil
	}
	c, _ := s.code(side, stamp.Possible[0])
	return []string{fmt.Sprintf("the %s measures %s, but code %s is %s", side, size, stamp.Code, c.Size)}
}
