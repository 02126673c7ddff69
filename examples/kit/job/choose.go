package job

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// chosen is what is known of the shells of one location.
type chosen struct {
	location string
	assigned grading.Assignment // by the codes, without those that the sizes rule out; no pairs where no codes count
	sized    []grading.PairFit  // the pairs proven inside by the sizes, the nearest first
	noFit    string             // why there is none, where bore and journal are known
	notes    []string

	parts []partAt // to be fitted; none while it is open
	by    string   // "fit", byCodes or bySizes; with bySizes the parts are yet to be chosen from sized
	open  []string // the questions that keep it open
	blank bool     // it is open because nothing was read
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
	if len(j.slipsOf(m, at)) > 0 {
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
func (j *Job) choices(set *shellSet) []chosen {
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
		set.decide(&c, j.doubts(set, location))
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
		c.noFit = err.Error()
		return
	}
	c.sized = fits[0]
}

// decide chooses the shells of a location, or says why they are open.
func (set *shellSet) decide(c *chosen, doubts []string) {
	if fit := set.fit[c.location]; fit != nil {
		c.by, c.parts = "fit", fit
		if len(fit) == 1 && len(c.assigned.Pairs) == 1 { // the other half stays as the codes call for
			for i, p := range partsOf(c.assigned.Pairs[0]) {
				if p.half != fit[0].half {
					c.parts = slices.Insert(slices.Clone(fit), i, p)
				}
			}
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
	case c.by == byCodes:
		pair := c.assigned.Pairs[0]
		if set.choose == "" && len(c.sized) > 0 && !slices.ContainsFunc(c.sized, func(f grading.PairFit) bool { return f.Pair == pair }) {
			c.open = []string{fmt.Sprintf("%s: the codes call for %s, by which it is not proven inside; its sizes call for %s (%s). Measure and read the codes again, then write fit = { %s = %q }, or choose = %q or %q, under %s.",
				itemName(set.name(), c.location, "shells"), fitText(partsOf(pair)), fitText(partsOf(c.sized[0].Pair)), c.sized[0].Clearance,
				key(c.location), fitText(partsOf(c.sized[0].Pair)), byCodes, bySizes, set.path())}
			return
		}
		c.parts = partsOf(pair)
	case len(c.sized) > 0:
	case c.noFit != "":
		c.open = []string{fmt.Sprintf("%s: no pair that exists is proven inside: %s.", itemName(set.name(), c.location, "shells"), c.noFit)}
	case ground:
		c.blank = true
		c.open = []string{fmt.Sprintf("%s: its journal was ground, so that its code no longer counts: measure bore and journal, with limits and walls stated, or write fit = { %s = \"…\" } under %s.",
			itemName(set.name(), c.location, "shells"), key(c.location), set.path())}
	default:
		c.blank = true
		c.open = []string{fmt.Sprintf("%s: not chosen: read the codes; or measure bore and journal, with limits and walls stated; or write fit = { %s = \"…\" } under %s.",
			itemName(set.name(), c.location, "shells"), key(c.location), set.path())}
	}
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
