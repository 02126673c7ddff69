package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mathext"

	"example.com/closefit/units"
)

// Conformity returns the probability that the true value lies inside the limits (JCGM
// 106:2012, 7), from the same description of the reading as its verdict: the chance that
// the error is at most d is the coverage at which the uncertainty is d. A reading that
// conforms at a coverage has at least that probability.
//
// Nobody knows where in a bracket the value lies, nor how unsplit doubts are correlated:
// the probability runs from the least to the greatest that they allow. It is computed in
// float64 and rests on an assumed distribution: digits beyond the third mean nothing.
//
// The probability of a quantity that cannot be negative is conditional on that. Prior
// knowledge of a process is not used; see [Process]. The error is of kind ErrProbability
// for a reading that proves nothing, or without limits.
func Conformity[D units.Dimension](r Reading[D], tolerance units.Interval[D]) (least, greatest float64, err error) {
	const where = "probability of conformity"
	if problem := r.Problem(); problem != "" {
		return 0, 0, &units.Error{Kind: ErrProbability, Where: where, Found: problem, Fix: "give a reading that proves something"}
	}
	if tolerance.IsEmpty() {
		return 0, 0, &units.Error{Kind: ErrProbability, Where: where, Found: "no limits", Fix: "give the tolerance interval"}
	}
	low, high := ends(tolerance)
	b := r.bracket()
	if r.nonNegative {
		b = above(b)
		if high < 0 {
			return 0, 0, nil
		}
		if low = max(low, 0); low == 0 && r.of != nil && r.of.spread {
			low = math.Inf(-1)
		}
	}
	from, to := ends(b)
	least = 1
	for _, l := range r.laws() {
		for _, v := range within(from, to, (low+high)/2, r.nonNegative) {
			some, most := l.between(distance(low, v), distance(high, v))
			if r.nonNegative && !l.flat && !math.IsInf(v, 1) {
				possible, _ := l.between(-v, math.Inf(1))
				some, most = min(some/possible, 1), min(most/possible, 1)
			}
			least, greatest = min(least, some), max(greatest, most)
		}
	}
	return least, greatest, nil
}

// ends returns the bounds of an interval in the dimension's first unit, infinite
// where there is none.
func ends[D units.Dimension](a units.Interval[D]) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	if a.HasLo() {
		lo = a.Lo().Float64(0)
	}
	if a.HasHi() {
		hi = a.Hi().Float64(0)
	}
	return lo, hi
}

// distance returns how far a bound lies above v; one that there is not stays so.
func distance(bound, v float64) float64 {
	if math.IsInf(bound, 0) {
		return bound
	}
	return bound - v
}

// within returns where in a bracket a probability that has one hill, about the
// middle of the limits, can be least and greatest: at both ends and nearest to the
// hill. That of a truncated law is not quite there, so some between are looked at too.
func within(from, to, hill float64, truncated bool) []float64 {
	if from == to {
		return []float64{from}
	}
	at := []float64{from, to, min(max(from, hill), to)}
	if truncated {
		const between = 16
		for i := range between {
			at = append(at, from+(to-from)*(float64(i)+0.5)/between)
		}
	}
	return at
}

// A law is the distribution of a reading's error: symmetric about zero, its error at
// most the root of Σ (Σ t·c/2)² with the coverage that t has.
type law struct {
	terms   [][]lawTerm // those of one group are added before they are squared
	atWorst bool
	flat    bool // nothing is claimed below k = 2
}

type lawTerm struct {
	twice   float64 // twice the standard uncertainty
	freedom int32
}

// normal reports whether the law is that of a normal distribution.
func (l law) normal() bool {
	return !l.flat && !slices.ContainsFunc(l.terms, func(group []lawTerm) bool {
		return slices.ContainsFunc(group, func(t lawTerm) bool { return t.freedom > 0 })
	})
}

// laws returns the distributions that the error of a reading may have: with what is
// not known of its correlations at its worst, at its best, and some between.
func (r *Reading[D]) laws() []law {
	all := r.tallied().groups
	steps := 1
	if slices.ContainsFunc(all, func(g group[D]) bool { return len(g.doubts) > 1 }) {
		steps = 9
	}
	var laws []law
	for i := range steps {
		l := law{atWorst: r.atWorst, flat: r.of != nil && r.of.spread}
		for _, g := range all {
			l.add(g.shares(1 - float64(i)/8))
		}
		laws = append(laws, l)
	}
	return laws
}

// shares returns the terms of a group, with so much of what is not known of their
// correlation at its worst: 1 for all, 0 for the best that they allow, where the
// others oppose the largest.
func (g *group[D]) shares(worst float64) []lawTerm {
	var terms []lawTerm
	var sum, most float64
	for _, d := range g.doubts {
		f := d.lo.Abs().Float64(0)
		sum, most = sum+f, max(most, f)
	}
	least := max(0, 2*most-sum)
	for _, c := range g.byFreedom() {
		if f := c.twice.Float64(0); f > 0 {
			terms = append(terms, lawTerm{f * (least + (sum-least)*worst) / sum, c.freedom})
		}
	}
	return terms
}

// add adds the terms of a group. Groups of one number of degrees of freedom are one.
func (l *law) add(terms []lawTerm) {
	if len(terms) == 1 {
		for i := range l.terms {
			if t := l.terms[i]; len(t) == 1 && t[0].freedom == terms[0].freedom {
				t[0].twice = l.join(t[0].twice, terms[0].twice)
				return
			}
		}
	}
	if len(terms) > 0 {
		l.terms = append(l.terms, terms)
	}
}

// join adds what one group does to what others do.
func (l *law) join(a, b float64) float64 {
	if l.atWorst {
		return a + b
	}
	return math.Hypot(a, b)
}

// between returns the probability that the error lies from lo to hi, at the least and
// at the greatest. The two differ for what several stations show, of which only the
// magnitude of the error is bounded: a range is read too large more often than too
// small.
func (l law) between(lo, hi float64) (least, greatest float64) {
	switch {
	case l.flat && lo > 0:
		return 0, l.outside(lo)
	case l.flat && hi < 0:
		return 0, l.outside(-hi)
	case l.flat:
		return 1 - l.outside(min(-lo, hi)), 1
	}
	var p float64
	switch { // of two on one side of zero, from the tails, which keep their digits
	case lo > 0:
		p = (l.outside(lo) - l.outside(hi)) / 2
	case hi < 0:
		p = (l.outside(-hi) - l.outside(-lo)) / 2
	default:
		p = 1 - l.outside(-lo)/2 - l.outside(hi)/2
	}
	return max(0, p), max(0, p)
}

// outside returns the probability that the error is more than d >= 0, either way.
func (l law) outside(d float64) float64 {
	if math.IsInf(d, 1) {
		return 0
	}
	spread, limited := 0.0, false
	for _, group := range l.terms {
		sum := 0.0
		for _, t := range group {
			sum += t.twice
			limited = limited || t.freedom > 0
		}
		spread = l.join(spread, sum)
	}
	var out float64
	switch {
	case spread == 0:
		return 0
	case !limited:
		out = math.Erfc(2 * d / spread / math.Sqrt2)
	case len(l.terms) == 1 && len(l.terms[0]) == 1:
		out = studentOutside(l.terms[0][0].freedom, 2*d/spread)
	default:
		out = l.invert(d)
	}
	if l.flat && out > (coverage{}).outside()*(1+1e-9) { // k = 2 itself is claimed, rounded as it may be
		return 1
	}
	return out
}

// invert finds the probability outside at which the uncertainty is d, which falls as
// the probability grows: by the secant of their logarithms, which is nearly straight (the
// Illinois form of the false position).
func (l law) invert(d float64) float64 {
	beyond := func(p float64) float64 { return math.Log(l.reach(math.Exp(p)) / d) }
	least, most := math.Log(1e-14), 0.0
	atLeast, atMost := beyond(least), math.Inf(-1) // nothing is exceeded always
	if !(atLeast > 0) {
		return math.Exp(least)
	}
	for side, width := 0, most-least; width > 1e-13; width = most - least {
		p := (least + most) / 2
		if !math.IsInf(atMost, -1) { // a little inside the ends, so that the far one moves as well
			p = min(max(least+width*atLeast/(atLeast-atMost), least+width/1000), most-width/1000)
		}
		at := beyond(p)
		switch {
		case math.IsInf(at, 1): // of a distance of nothing
			return 1
		case math.Abs(at) < 1e-13:
			return math.Exp(p)
		case at > 0:
			if side > 0 {
				atMost /= 2 // the same end twice: the other must move too
			}
			least, atLeast, side = p, at, +1
		default:
			if side < 0 {
				atLeast /= 2
			}
			most, atMost, side = p, at, -1
		}
	}
	return math.Exp(most)
}

// reach returns the uncertainty that the error exceeds with the probability given.
func (l law) reach(outside float64) float64 {
	reach := 0.0
	for _, group := range l.terms {
		sum := 0.0
		for _, t := range group {
			q := -mathext.NormalQuantile(outside / 2)
			if t.freedom > 0 {
				q = studentBeyond(t.freedom, outside)
			}
			sum += q * t.twice / 2
		}
		reach = l.join(reach, sum)
	}
	return reach
}
