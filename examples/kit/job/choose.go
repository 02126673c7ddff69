package job

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/grading"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// chosen is what is known of the shells of one location.
type chosen struct {
	location string
	assigned grading.Assignment // by the codes, without those that the sizes rule out; no pairs where no codes count
	sized    []grading.PairFit  // the pairs proven inside by the sizes, the nearest first
	noFit    string             // why there is none, where bore and journal are known
	notes    []string

	parts []partAt // to be fitted; none while it is open
	by    string   // byHand, byCodes, asFitted without parts, or bySizes, where the parts are yet to be chosen from sized
	open  []string // the questions that keep it open
	blank bool     // it is open because nothing was read
	wrong string   // why these shells are proven wrong
}

// anySize is the size of what was not measured: it rules nothing out, and proves nothing.
var anySize = units.MustInterval(units.Micrometre.OfInt(1), largest)

// knownSize is the size that a line has at the place of a location; empty unless it was
// read under its conditions, and no slip of it stands unanswered.
func (j *Job) knownSize(line, location string) units.LengthInterval {
	m := j.line(line)
	if m == nil {
		return units.LengthInterval{}
	}
	at := j.placeOf(m, location)
	if len(m.slips[at]) > 0 {
		return units.LengthInterval{}
	}
	if size := m.asked(m.taken[at].whole(m.states)).Interval(); size.Bounded() && size.Lo().Sign() > 0 {
		return size
	}
	return units.LengthInterval{}
}

// site is a location with its sizes; whole reports whether both are known.
func (j *Job) site(set *shellSet, location string) (site grading.Site, whole bool) {
	site = grading.Site{Location: location, Housing: j.knownSize(set.part+" bore", location), Journal: j.knownSize(set.part+" journal", location)}
	whole = !site.Housing.IsEmpty() && !site.Journal.IsEmpty()
	if site.Housing.IsEmpty() {
		site.Housing = anySize
	}
	if site.Journal.IsEmpty() {
		site.Journal = anySize
	}
	return site, whole
}

// limited is a scheme with the limits of the job; ok reports whether they, the walls and
// the clearance aimed at are known, so that shells can be chosen by sizes.
func (j *Job) limited(set *shellSet, s *grading.Scheme) (limited *grading.Scheme, ok bool) {
	own := *s
	if m := j.line(set.name() + " clearance"); m != nil {
		own.Limits = m.limits[m.quantity]
	}
	return &own, len(own.Shells) > 0 && !own.Limits.IsEmpty() && (own.Wanted != nil || own.Limits.Bounded())
}

// choices finds the shells of every location: by what somebody chose, by the codes or by
// the sizes. Where codes and sizes call for different ones, or a doubt of them stands
// unanswered, the choice is open until somebody makes it.
func (j *Job) choices(set *shellSet, inside []string) []chosen {
	if set.scheme == nil {
		return nil
	}
	assigned := j.assigned(set)
	var list []chosen
	for i, location := range set.locations {
		c := chosen{location: location}
		if assigned != nil {
			c.assigned = assigned[i]
			c.notes = ruledOut(set.coded[i], assigned[i])
		}
		if set.ground[location] != nil {
			c.assigned.Pairs, c.assigned.Why = nil, nil
		}
		j.bySite(set, &c)
		j.decide(set, &c, j.doubts(set, location), slices.Contains(inside, location))
		list = append(list, c)
	}
	return list
}

// assigned is what the codes call for, without the codes and the ways to read a row that
// the sizes rule out.
func (j *Job) assigned(set *shellSet) []grading.Assignment {
	s, ok := j.limited(set, set.scheme)
	if set.coded == nil || !ok {
		return set.coded
	}
	var sites []grading.Site
	for _, location := range set.locations {
		site, _ := j.site(set, location)
		if set.ground[location] != nil {
			site.Journal = anySize // its code is of the size before
		}
		sites = append(sites, site)
	}
	compared, err := s.Compare(set.rows[grading.Housing].reading, set.rows[grading.Journal].reading, sites)
	if err != nil {
		return set.coded
	}
	var list []grading.Assignment
	for _, c := range compared {
		list = append(list, c.Assigned)
	}
	return list
}

// ruledOut says which codes are left of those that were possible.
func ruledOut(before, after grading.Assignment) []string {
	var notes []string
	for _, side := range []struct {
		what          string
		before, after grading.Stamp
	}{{"housing", before.Housing, after.Housing}, {"journal", before.Journal, after.Journal}} {
		if len(side.after.Possible) < len(side.before.Possible) {
			notes = append(notes, fmt.Sprintf("by its size the code of the %s is %s", side.what, strings.Join(side.after.Possible, " or ")))
		}
	}
	return notes
}

// bySite finds the pairs that are proven inside by the sizes.
func (j *Job) bySite(set *shellSet, c *chosen) {
	s, ok := j.limited(set, set.at(c.location))
	site, whole := j.site(set, c.location)
	if !ok || !whole {
		return
	}
	fits, err := s.Fits([]grading.Site{site})
	if err != nil {
		c.noFit = j.nearest(set, s, site)
		return
	}
	c.sized = fits[0]
}

// nearest says what the pair nearest to the clearance aimed at would give.
func (j *Job) nearest(set *shellSet, s *grading.Scheme, site grading.Site) string {
	wanted := s.Wanted
	if wanted == nil {
		wanted = new(s.Limits.Mid())
	}
	var best []partAt
	var with units.LengthInterval
	rank := s.Ranks()
	for _, upper := range s.Grades() {
		for _, lower := range s.Grades() {
			parts := []partAt{{"upper", partOf(s, upper, "upper")}, {"lower", partOf(s, lower, "lower")}}
			clear, apart := clearanceWith(s, site, parts), rank[upper]-rank[lower]
			if max(apart, -apart) <= s.Mix && !clear.IsEmpty() && (best == nil || clear.Mid().Sub(*wanted).Abs().Less(with.Mid().Sub(*wanted).Abs())) {
				best, with = parts, clear
			}
		}
	}
	if best == nil {
		return "no two halves may be put together: look at mix and walls"
	}
	v := measure.Judge(with, s.Limits)
	fix := "look for another grade, or ask a machine shop"
	if v == measure.Undecided {
		fix = "measure bore and journal better"
		if c := j.atMiddle(); c != nil {
			middle, _ := c.site(set, site.Location)
			if fits, err := s.Fits([]grading.Site{middle}); err == nil {
				fix = doubtfulWarmth(fmt.Sprintf("%s would give %s, %s", fitText(partsOf(fits[0][0].Pair)), reading(fits[0][0].Clearance, j.show.length, j.show.places), fits[0][0].Verdict))
			}
		}
	}
	return fmt.Sprintf("the nearest, %s, would give %s, %s: %s", fitText(best), reading(with, j.show.length, j.show.places), v, fix)
}

// clearanceWith is the clearance of a site with two shells; empty if a wall is not listed.
func clearanceWith(s *grading.Scheme, site grading.Site, parts []partAt) units.LengthInterval {
	b := clearance.Bearing{HousingBore: site.Housing, UpperWall: wallOf(s, parts[0].part), LowerWall: wallOf(s, parts[1].part), Journal: site.Journal}
	return b.Clearance()
}

// decide chooses the shells of a location, or says why they are open.
func (j *Job) decide(set *shellSet, c *chosen, doubts []string, inside bool) {
	u, places := j.show.length, j.show.places
	if fit := set.fit[c.location]; fit != nil {
		c.by, c.parts = byHand, fit
		switch {
		case len(doubts) > 0:
			c.parts, c.open = nil, doubts
		case len(fit) == 2:
		case len(c.assigned.Pairs) == 1: // the other half stays as the codes call for
			for i, p := range partsOf(c.assigned.Pairs[0]) {
				if p.half != fit[0].half {
					c.parts = slices.Insert(slices.Clone(fit), i, p)
				}
			}
		default:
			c.parts = nil
			c.open = []string{fmt.Sprintf("%s: fit says %s, and nothing says the other half: write both, as in fit = { %s = \"upper %s, lower %s\" }, under %s.",
				itemName(set.name(), c.location, "shells"), fitText(fit), key(c.location), fit[0].part.Grade, fit[0].part.Grade, set.path())}
		}
		return
	}
	ground := set.ground[c.location] != nil
	c.by = set.choose
	if c.by == "" || ground {
		if c.by = byCodes; len(c.assigned.Pairs) == 0 {
			c.by = bySizes
		}
	}
	c.open = doubts
	switch {
	case len(c.open) > 0:
	case c.by == byCodes && len(c.assigned.Pairs) > 1:
		for _, why := range c.assigned.Why {
			c.open = append(c.open, set.question(c.location, why))
		}
	case c.by == byCodes && len(c.assigned.Pairs) == 1:
		pair := c.assigned.Pairs[0]
		at := slices.IndexFunc(c.sized, func(f grading.PairFit) bool { return f.Pair == pair })
		if at >= 0 {
			c.notes = append(c.notes, "by its sizes these are inside: "+reading(c.sized[at].Clearance, u, places))
		}
		if at < 0 && set.choose == "" && len(c.sized) > 0 && !inside {
			c.open = []string{fmt.Sprintf("%s: the codes call for %s, which its sizes do not prove inside; they call for %s (%s). Measure and read the codes again, then write fit = { %s = %q }, or choose = %q or %q, under %s.",
				itemName(set.name(), c.location, "shells"), fitText(partsOf(pair)), fitText(partsOf(c.sized[0].Pair)), reading(c.sized[0].Clearance, u, places),
				key(c.location), fitText(partsOf(c.sized[0].Pair)), byCodes, bySizes, set.path())}
			return
		}
		c.parts = partsOf(pair)
	case set.choose == "" && inside:
		c.by = asFitted
	case c.by == bySizes && len(c.sized) > 0:
	case c.by == bySizes && c.noFit != "":
		c.open = []string{fmt.Sprintf("%s: by its sizes no pair that exists is proven inside; %s.", itemName(set.name(), c.location, "shells"), c.noFit)}
	default:
		c.blank = true
		why := "not chosen"
		switch {
		case ground:
			why = "its journal was ground, so that its code no longer counts"
		case set.unread:
			why = "its codes are not read"
		case set.coded == nil:
			why = "no codes are stated"
		}
		c.open = []string{fmt.Sprintf("%s: %s. To choose them by sizes, add %s; or write fit = { %s = \"…\" } under %s.",
			itemName(set.name(), c.location, "shells"), why, j.lacks(set, c.location), key(c.location), set.path())}
	}
}

// lacks says what is not known of a location of which shells are to be chosen by sizes.
func (j *Job) lacks(set *shellSet, location string) string {
	var list []string
	for _, side := range []grading.Side{grading.Housing, grading.Journal} {
		if m := j.line(set.line(side)); m != nil && j.knownSize(m.name(), location).IsEmpty() {
			list = append(list, itemName(m.group, j.placeOf(m, location), ""))
		}
	}
	s, ok := j.limited(set, set.at(location))
	switch {
	case len(list) == 0 && ok:
		return fmt.Sprintf("choose = %q", bySizes)
	case len(s.Shells) == 0:
		list = append(list, "the walls of the grades")
	case s.Limits.IsEmpty():
		list = append(list, "the limits of the clearance")
	case !ok:
		list = append(list, "the clearance that is wanted, where limits have one side")
	}
	return strings.Join(list, ", ")
}

// byTheCodes is what the codes of a location call for, in words; empty if none count.
func (c *chosen) byTheCodes() string {
	texts := make([]string, len(c.assigned.Pairs))
	for i, p := range c.assigned.Pairs {
		texts[i] = fitText(partsOf(p))
	}
	return strings.Join(texts, "; or ")
}

// byTheSizes is what the sizes of a location call for, the nearest first.
func (j *Job) byTheSizes(c *chosen) string {
	const most = 3
	var texts []string
	for _, f := range c.sized[:min(most, len(c.sized))] {
		texts = append(texts, fmt.Sprintf("%s (%s)", fitText(partsOf(f.Pair)), reading(f.Clearance, j.show.length, j.show.places)))
	}
	if n := len(c.sized) - most; n > 0 {
		texts = append(texts, fmt.Sprintf("%d others", n))
	}
	if texts == nil && c.noFit != "" {
		return "no pair that exists is proven inside"
	}
	return strings.Join(texts, "; or ")
}
