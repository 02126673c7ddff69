package measure

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"sync/atomic"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// Stations are readings of one journal or one bore, or of one clearance, at several
// planes along it and in several directions around it in each plane: the same
// directions in every plane.
//
// The largest of many readings is large by its errors too: on a perfect journal, the
// largest of eight readings less the smallest is rarely zero. With errors e at the
// stations, independent and with the standard uncertainty u, whatever the part's form
//
//	|range(x + e) - range(x)| <= range(e) <= q·u
//	|max(x + e) - max(x)| <= max|e| <= m·√(u² + uc²)
//
// at the coverage of q, the quantile of the studentized range, and of m, that of the
// largest of n magnitudes; uc is the common part, which cancels in a range. Doubts of
// unknown correlation may oppose each other: then range(e) <= 2·m·u. (Z. Šidák,
// Rectangular confidence regions for the means of multivariate normal distributions,
// Journal of the American Statistical Association 62, 1967, for m under any correlation.)
//
// All claims of the stations hold together at the coverage of k = 2: the kinds of claim
// share the level, and so do the planes or directions in each.
type Stations[D units.Dimension] struct {
	all    row[D] // those of all planes, one plane after the other
	across int    // how many directions a plane has
	claims []Claim
	reach  *atomic.Pointer[class[D]] // of the error of the largest and of the smallest, once it was asked for
}

// A Claim is a statement about a part that its stations prove together.
type Claim uint8

const (
	// Largest and Smallest are the extreme sizes: intervals that hold the largest and the
	// smallest of the true sizes at the stations. The two share one level.
	Largest Claim = iota
	Smallest

	// Taper is how much the size changes along the axis: in each direction, the largest
	// plane less the smallest; of the directions, the most.
	Taper

	// OutOfRound is how far the section is from a circle: in each plane, the largest
	// direction less the smallest; of the planes, the most. Diameters in a few directions
	// see an oval, and cannot see a shape of three lobes.
	OutOfRound

	// MeanSize is the mean of all stations: a plain sum, which takes no share of the level.
	MeanSize
)

var claimWords = []string{Largest: "largest", Smallest: "smallest", Taper: "taper", OutOfRound: "out-of-round", MeanSize: "mean"}

// MarshalText returns "largest", "smallest", "taper", "out-of-round" or "mean".
func (c Claim) MarshalText() ([]byte, error) { return writeWord(c, claimWords, "claim") }

// String returns the word of MarshalText.
func (c Claim) String() string { return claimWords[c] }

// UnmarshalText reads the words of MarshalText.
func (c *Claim) UnmarshalText(text []byte) error { return wordOf(c, claimWords, text, "claim") }

// NewStations returns the stations of the planes given, each plane the readings of its
// directions, with the claims to make of them. The fewer claims share the level, the
// closer each is. Without claims, it makes all. A taper needs two planes, an out-of-round
// two directions; otherwise the claim is left out. The error is of kind ErrEmpty if there
// are no planes, or two have a different number of directions; ErrNotMeasured for a
// reading that proves nothing.
func NewStations[D units.Dimension](planes [][]Reading[D], claims ...Claim) (Stations[D], error) {
	fail := func(kind error, found, fix string) (Stations[D], error) {
		return Stations[D]{}, &units.Error{Kind: kind, Where: "stations", Found: found, Fix: fix}
	}
	if len(planes) == 0 || len(planes[0]) == 0 {
		return fail(ErrEmpty, "", "give the readings of each plane, one for each direction")
	}
	s := Stations[D]{reach: new(atomic.Pointer[class[D]]), across: len(planes[0])}
	for i, plane := range planes {
		if len(plane) != len(planes[0]) {
			return fail(ErrEmpty, fmt.Sprintf("plane %d has %d readings, plane 1 has %d", i+1, len(plane), len(planes[0])), "read every plane in the same directions")
		}
		for j := range plane {
			if problem := plane[j].problem(); problem != "" {
				return fail(ErrNotMeasured, fmt.Sprintf("plane %d, direction %d: %s", i+1, j+1, problem), "read it, or leave out its plane or direction everywhere")
			}
		}
	}
	s.all = row[D]{slices.Concat(planes...), make([][]group[D], len(planes)*s.across)}
	for i := range s.all.readings {
		s.all.groups[i] = s.all.readings[i].single()
	}
	for c := range MeanSize + 1 {
		shown := c == Taper && len(planes) > 1 || c == OutOfRound && len(planes[0]) > 1 || c != Taper && c != OutOfRound
		if shown && (len(claims) == 0 || slices.Contains(claims, c)) {
			s.claims = append(s.claims, c)
		}
	}
	return s, nil
}

// Find returns the reading of a claim. It is the zero Reading if the stations do not make
// that claim.
func (s Stations[D]) Find(c Claim) Reading[D] {
	switch {
	case !slices.Contains(s.claims, c):
	case c == Largest:
		return s.extreme(c, +1)
	case c == Smallest:
		return s.extreme(c, -1)
	case c == OutOfRound:
		return s.widest(c, s.planes())
	case c == Taper:
		return s.widest(c, s.lines())
	case c == MeanSize:
		n := len(s.all.readings)
		mean := Sum[D]{Name: fmt.Sprintf("mean of %d stations", n)}
		for _, r := range s.all.readings {
			mean.Terms = append(mean.Terms, Term[D]{Factor: units.One.OfRat(big.NewRat(1, int64(n))), Reading: r})
		}
		return mean.Reading()
	}
	return Reading[D]{}
}

// row are stations with the doubts of each.
type row[D units.Dimension] struct {
	readings []Reading[D]
	groups   [][]group[D]
}

// planes are the stations of each plane.
func (s Stations[D]) planes() []row[D] {
	all := make([]row[D], 0, len(s.all.readings)/s.across)
	for i := 0; i < len(s.all.readings); i += s.across {
		all = append(all, row[D]{s.all.readings[i : i+s.across], s.all.groups[i : i+s.across]})
	}
	return all
}

// lines are the stations of each direction.
func (s Stations[D]) lines() []row[D] {
	all := make([]row[D], s.across)
	for i, r := range s.all.readings {
		line := &all[i%s.across]
		line.readings, line.groups = append(line.readings, r), append(line.groups, s.all.groups[i])
	}
	return all
}

// outside returns the probability of being wrong that one of several comparisons of
// one kind may have.
func (s Stations[D]) outside(comparisons int) float64 {
	kinds := map[Claim]bool{}
	for _, c := range s.claims {
		if c == Smallest {
			c = Largest // the same bound of the errors holds both
		}
		if c != MeanSize {
			kinds[c] = true
		}
	}
	all := (coverage{}).outside() / float64(len(kinds))
	if comparisons == 1 {
		return all
	}
	return -math.Expm1(math.Log1p(-all) / float64(comparisons))
}

// extreme returns the smallest (-1) or largest (+1) of all stations.
func (s Stations[D]) extreme(c Claim, sign int) Reading[D] {
	all := s.all.readings
	bracket := all[0].bracket()
	for i := range all {
		bracket = outermost(bracket, all[i].bracket(), sign)
	}
	reach := s.reach.Load()
	if reach == nil {
		spread := spreadOf(s.all.groups)
		reach = &class[D]{spread.modulus(len(all), s.outside(1)), spread.freedom()}
		s.reach.Store(reach)
	}
	return stationed(fmt.Sprintf("%s of %d stations", claimWords[c], len(all)), bracket, reach.twice, reach.freedom)
}

// widest returns the reading of the largest range of a row, of all rows.
func (s Stations[D]) widest(c Claim, rows []row[D]) Reading[D] {
	bracket := widestBracket(rows[0].readings)
	var doubt units.Quantity[D]
	var freedom int32
	for _, row := range rows {
		bracket = outermost(bracket, widestBracket(row.readings), +1)
		spread := spreadOf(row.groups)
		doubt, freedom = units.Max(doubt, rangeDoubt(row.readings, spread, s.outside(len(rows)))), fewer(freedom, spread.freedom())
	}
	return stationed(fmt.Sprintf("%s: largest less smallest of %d stations", claimWords[c], len(rows[0].readings)), bracket, doubt, freedom).NonNegative()
}

// rangeDoubt returns the uncertainty of the largest less the smallest of a row: of two
// stations that of their difference, which is a Sum. Two that share an act, by name or
// by mistake, take the bound of a range, in which the act cancels nothing.
func rangeDoubt[D units.Dimension](row []Reading[D], spread spreads[D], outside float64) units.Quantity[D] {
	if len(row) != 2 {
		return spread.ranges(len(row), outside)
	}
	pair := Sum[D]{Terms: []Term[D]{Plus("", "", row[0]), Minus("", "", row[1])}}
	r := pair.Reading()
	if slices.ContainsFunc(r.of.parts, func(p part[D]) bool { return p.factor.IsZero() }) {
		return spread.ranges(len(row), outside)
	}
	level := coverage{}
	if outside != level.outside() {
		level = missing(outside)
	}
	return r.expanded(level)
}

// widestBracket returns what is certain of the largest less the smallest: over pairs of
// different stations, because what two share cancels. Of values no pair is needed.
func widestBracket[D units.Dimension](row []Reading[D]) units.Interval[D] {
	smallest, largest := row[0].bracket(), row[0].bracket()
	values := true
	for i := range row {
		b := row[i].bracket()
		values = values && b.IsPoint()
		smallest, largest = outermost(smallest, b, -1), outermost(largest, b, +1)
	}
	if values {
		return largest.Sub(smallest)
	}
	var widest units.Interval[D]
	for i, a := range row {
		for _, b := range row[i+1:] {
			pair := Sum[D]{Terms: []Term[D]{Plus("", "", a), Minus("", "", b)}}
			r := pair.Reading()
			if m := magnitude(r.bracket()); widest.IsEmpty() {
				widest = m
			} else {
				widest = outermost(widest, m, +1)
			}
		}
	}
	return widest
}

// stationed returns the reading of what several stations show, with its uncertainty
// at k = 2. At a higher coverage that grows as Student's t does, for the fewest degrees
// of freedom among its doubts. The quantiles of ranges and magnitudes grow more slowly,
// but for ranges at one degree of freedom, 0.3 % faster at 99 %.
func stationed[D units.Dimension](words string, bracket units.Interval[D], expanded units.Quantity[D], freedom int32) Reading[D] {
	a := &act[D]{means: given, by: words, bracket: bracket, stated: twiceStandard(expanded, freedom), freedom: freedom}
	return Reading[D]{of: &made[D]{words: words, parts: []part[D]{{plus, a}}, spread: true}}
}

// twiceStandard returns twice the standard uncertainty of which an uncertainty at k = 2
// was expanded with so many degrees of freedom.
func twiceStandard[D units.Dimension](expanded units.Quantity[D], freedom int32) units.Quantity[D] {
	if freedom == 0 {
		return expanded
	}
	t := coverage{}.factor(freedom).Rat()
	return expanded.MulRat(t.Quo(big.NewRat(2, 1), t))
}

// spreads are the doubts of several stations by their correlation; each is the largest
// of its class.
type spreads[D units.Dimension] struct {
	common    []class[D] // the same in all stations
	own       []class[D] // each station's own, from one estimate
	estimated []class[D] // each station's own, each from an estimate of its own
	open      []class[D] // not known
}

// class is twice a standard uncertainty with so many degrees of freedom.
type class[D units.Dimension] struct {
	twice   units.Quantity[D]
	freedom int32
}

// freedom returns the fewest degrees of freedom of the doubts, 0 for unlimited ones.
func (s spreads[D]) freedom() (fewest int32) {
	for _, c := range slices.Concat(s.common, s.own, s.estimated, s.open) {
		fewest = fewer(fewest, c.freedom)
	}
	return fewest
}

// fewer returns the fewer of two numbers of degrees of freedom, of which 0 stands for
// unlimited ones.
func fewer(a, b int32) int32 {
	if a == 0 || b > 0 && b < a {
		return b
	}
	return a
}

// single returns the doubts of one station. One whose doubts are not added by
// root-sum-square has one doubt of which nothing is known.
func (r *Reading[D]) single() []group[D] {
	if !r.atWorst && (r.of == nil || !r.of.spread) {
		return r.tallied().groups
	}
	freedom := r.fewest()
	q := twiceStandard(r.expanded(coverage{}), freedom)
	return []group[D]{{source: source{kind: whole}, doubts: []doubt[D]{{lo: q, hi: q, freedom: freedom}}}}
}

// spreadOf sorts the doubts of stations.
func spreadOf[D units.Dimension](all [][]group[D]) spreads[D] {
	count := map[source]int{}
	for i := range all {
		for _, g := range all[i] {
			if g.named() {
				count[g.source]++
			}
		}
	}
	shared := func(g group[D]) bool {
		if count[g.source] != len(all) || len(all) < 2 {
			return false
		}
		for _, station := range all {
			for _, o := range station {
				if o.source == g.source && !o.doubts[0].lo.Equal(g.doubts[0].lo) {
					return false
				}
			}
		}
		return true
	}
	var s spreads[D]
	for i := range all {
		var common, own, estimated, open []class[D]
		for _, g := range all[i] {
			c := g.class()
			switch {
			case c.twice.IsZero():
			case g.named() && shared(g):
				common = append(common, c)
			case g.kind == scatter && count[g.source] == 1:
				estimated = append(estimated, c)
			case g.kind == repeat && count[g.source] == 1:
				own = append(own, c)
			default:
				open = append(open, c)
			}
		}
		s.common, s.own = merged(s.common, summed(common, false)), merged(s.own, summed(own, false))
		s.estimated, s.open = merged(s.estimated, summed(estimated, false)), merged(s.open, summed(open, false))
	}
	return s
}

// class returns the group as one class: the sum of its doubts, with the fewest degrees
// of freedom among them.
func (g *group[D]) class() (all class[D]) {
	for _, c := range g.byFreedom() {
		all.twice, all.freedom = all.twice.Add(c.twice), fewer(all.freedom, c.freedom)
	}
	return all
}

// summed returns one class for each number of degrees of freedom: by root-sum-square,
// or where their correlation is not known by their sum.
func summed[D units.Dimension](classes []class[D], atWorst bool) []class[D] {
	var all []class[D]
	for _, c := range classes {
		i := slices.IndexFunc(all, func(o class[D]) bool { return o.freedom == c.freedom })
		switch {
		case i < 0:
			all = append(all, c)
		case atWorst:
			all[i].twice = all[i].twice.Add(c.twice)
		default:
			all[i].twice = rootSumSquare(all[i].twice, c.twice)
		}
	}
	return all
}

// merged returns the largest of each class.
func merged[D units.Dimension](into, from []class[D]) []class[D] {
	for _, c := range from {
		i := slices.IndexFunc(into, func(o class[D]) bool { return o.freedom == c.freedom })
		if i < 0 {
			into = append(into, c)
			continue
		}
		into[i].twice = units.Max(into[i].twice, c.twice)
	}
	return into
}

// modulus returns the bound of the largest magnitude of n errors.
func (s spreads[D]) modulus(n int, outside float64) units.Quantity[D] {
	var terms []units.Quantity[D]
	for _, c := range slices.Concat(s.common, s.own, s.open) {
		terms = append(terms, c.times(modulusQuantile(n, c.freedom, outside)))
	}
	for _, c := range s.estimated {
		terms = append(terms, c.times(separateQuantile(n, c.freedom, outside)))
	}
	return rootOf(false, terms)
}

// ranges returns the bound of the range of n errors; what is common cancels.
func (s spreads[D]) ranges(n int, outside float64) units.Quantity[D] {
	opposed := len(s.open) > 0 || len(s.estimated) > 0
	var terms []units.Quantity[D]
	for _, c := range s.own {
		q := rangeQuantile(n, c.freedom, outside)
		if opposed {
			q = 2 * modulusQuantile(n, c.freedom, outside)
		}
		terms = append(terms, c.times(q))
	}
	for _, c := range s.open {
		terms = append(terms, c.times(2*modulusQuantile(n, c.freedom, outside)))
	}
	for _, c := range s.estimated {
		terms = append(terms, c.times(2*separateQuantile(n, c.freedom, outside)))
	}
	return rootOf(false, terms)
}

// times returns so many standard uncertainties, rounded up.
func (c class[D]) times(factor float64) units.Quantity[D] {
	return roundUp(c.twice.Mul(decimal.NewFromFloat(factor)).MulRat(big.NewRat(1, 2)))
}

// separateQuantile is the modulusQuantile of n errors each with an estimate of its
// own: Student's t at the n-th root of the level.
func separateQuantile(n int, freedom int32, outside float64) float64 {
	each := -math.Expm1(math.Log1p(-outside) / float64(n))
	return math.Ceil(studentQuantile(freedom, each)*1e6) / 1e6
}

// outermost returns the interval of the smaller (-1) or larger (+1) of a value of
// a and one of b.
func outermost[D units.Dimension](a, b units.Interval[D], sign int) units.Interval[D] {
	if sign < 0 {
		return outermost(a.Neg(), b.Neg(), +1).Neg()
	}
	if a.HasLo() && (!b.HasLo() || b.Lo().Less(a.Lo())) {
		a, b = b, a // b has the higher lower bound
	}
	switch {
	case !b.HasLo():
		return a.Hull(b)
	case !a.HasHi() || !b.HasHi():
		return units.AtLeast(b.Lo())
	}
	return units.MustInterval(b.Lo(), units.Max(a.Hi(), b.Hi()))
}

// magnitude returns the interval of the absolute values of those of a.
func magnitude[D units.Dimension](a units.Interval[D]) units.Interval[D] {
	if a.HasLo() && a.Lo().Sign() >= 0 {
		return a
	}
	if a.HasHi() && a.Hi().Sign() <= 0 {
		return a.Neg()
	}
	if !a.Bounded() {
		return units.AtLeast(units.Quantity[D]{})
	}
	return units.MustInterval(units.Quantity[D]{}, units.Max(a.Lo().Neg(), a.Hi()))
}
