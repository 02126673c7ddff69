package stack

import (
	"fmt"
	"math"
	"math/big"
	"slices"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// Histogram returns how the probability of the gap is shared among bins. edges are where
// one bin ends and the next begins, ascending; a gap at an edge counts in the upper bin.
// parts has one number more than there are edges: the first is the probability below them
// all, the last that above, and together they are one. Without edges it chooses some: whole
// multiples of 1, 2 or 5 parts of a power of ten, about 0.3 standard deviations apart, over
// four standard deviations to either side of the mean where gaps can lie.
//
// It returns the edges in millimetres, so that [Outcome.Histogram] can count the trials of
// a simulation in the same bins. The error is of kind [measure.ErrOrder] for edges that do
// not ascend.
func (l *Law) Histogram(edges ...units.Length) (at []float64, parts []Computed, err error) {
	if len(edges) == 0 {
		edges = l.bins()
	}
	for i, e := range edges {
		if i > 0 && !edges[i-1].Less(e) {
			return nil, nil, wrong(measure.ErrOrder, "edges of bins", fmt.Sprintf("%s after %s", e, edges[i-1]), "give them from the smallest to the largest, each once")
		}
		at = append(at, e.Float64(units.Millimetre))
	}
	// Beyond the mean it counts from above, so that nothing small is the difference of two
	// large numbers; but only where no gap has a probability of its own.
	stepped := !slices.ContainsFunc(l.up, func(t term) bool { return t.kind != sampled })
	fromAbove := func(e units.Length) bool { return !stepped && l.from(e) > l.mean }
	var before Computed // below the last edge, or above it
	above := false
	for i, e := range edges {
		if err := l.ctx.Err(); err != nil {
			return nil, nil, err
		}
		switch now := fromAbove(e); {
		case i == 0:
			before = l.Below(e)
			parts = append(parts, before)
			if now {
				before, above = l.Above(e), true
			}
		case above:
			next := l.Above(e)
			parts, before = append(parts, before.less(next)), next
		default:
			next := l.Below(e)
			parts, before = append(parts, next.less(before)), next
			if now {
				before, above = l.Above(e), true
			}
		}
	}
	if !above {
		before = before.other()
	}
	if err := l.ctx.Err(); err != nil {
		return nil, nil, err
	}
	return at, append(parts, before), nil
}

// less returns the probability of an event without another that is part of it.
func (p Computed) less(q Computed) Computed {
	v := max(0, p.Value-q.Value)
	e := p.Error + q.Error
	if q.Value != 0 {
		e += halfUlp * v
	}
	return Computed{Value: v, Error: e * widened, Proven: p.Proven && q.Proven}
}

// bins returns the edges that Histogram chooses.
func (l *Law) bins() []units.Length {
	const reach, part = 4, 0.4
	lo, hi := l.mean-reach*l.sigma, l.mean+reach*l.sigma
	var least, most float64
	for _, t := range l.up {
		least, most = least+t.lo(), most+t.hi()
	}
	lo, hi = max(lo, least), min(hi, most)
	power := int(math.Floor(math.Log10(part * l.sigma)))
	step := int64(1)
	for _, s := range []int64{2, 5} {
		if float64(s)*math.Pow10(power) <= part*l.sigma {
			step = s
		}
	}
	size := big.NewRat(step, 1)
	ten := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(power, -power))), nil))
	if power < 0 {
		ten.Inv(ten)
	}
	size.Mul(size, ten)
	count := func(x float64, up bool) int64 { // of whole steps
		n := l.centre.Add(millimetres(x)).Rat(units.Millimetre)
		n.Quo(n, size)
		whole := new(big.Int).Div(n.Num(), n.Denom()) // down, as the denominator is positive
		if up && !n.IsInt() {
			whole.Add(whole, big.NewInt(1))
		}
		return whole.Int64()
	}
	var edges []units.Length
	for n, end := count(lo, false), count(hi, true); n <= end; n++ {
		edges = append(edges, units.Millimetre.OfRat(new(big.Rat).Mul(size, new(big.Rat).SetInt64(n))))
	}
	return edges
}

// Histogram returns which part of the trials lies in each bin. edges are numbers of the
// unit of the simulated quantity, ascending: those that [Law.Histogram] returns lay a
// simulation over the law. parts has one number more than there are edges, as there, and
// sums to one.
//
// The error of a part is an estimate: its standard uncertainty as an estimate of the
// probability, √(p·(1-p)/n) and 1/n at the least, and what the cutting of an Outcome's own
// bins at the edges may add, whose trials count as spread evenly. The error is of kind
// [measure.ErrEmpty] for an Outcome without trials or no edges, [measure.ErrOrder] for edges
// that do not ascend.
func (o *Outcome) Histogram(edges ...float64) ([]Computed, error) {
	switch {
	case o.Trials == 0:
		return nil, o.empty()
	case len(edges) == 0:
		return nil, wrong(measure.ErrEmpty, "edges of bins", "", "give those that Histogram of the Law returns, or others")
	}
	n := float64(o.Trials)
	var parts []Computed
	var before, cutBefore float64
	add := func(up, cut float64) {
		p := max(0, up-before) / n
		parts = append(parts, Computed{Value: p, Error: max(math.Sqrt(p*(1-p)/n), 1/n) + (cut+cutBefore)/n})
		before, cutBefore = up, cut
	}
	for i, e := range edges {
		if math.IsNaN(e) || i > 0 && !(edges[i-1] < e) {
			return nil, wrong(measure.ErrOrder, "edges of bins", fmt.Sprintf("%g after %v", e, edges[:i]), "give them from the smallest to the largest, each once")
		}
		add(o.below(e))
	}
	add(n, 0)
	return parts, nil
}

// below returns how many trials lie below x, and by how many that may be wrong because x
// cuts a bin.
func (o *Outcome) below(x float64) (count, cut float64) {
	switch {
	case x <= o.Min:
		return 0, 0
	case x > o.Max:
		return float64(o.Trials), 0
	}
	for i, n := range o.Bins {
		lo, hi := o.span(i)
		if x < hi || x == hi && x == o.Max || i == len(o.Bins)-1 { // some may lie at the largest itself
			part := max(0, min(1, (x-lo)/(hi-lo)))
			if part == 0 || hi <= lo {
				return count, 0
			}
			return count + part*float64(n), float64(n)
		}
		count += float64(n)
	}
	return count, 0
}

// span returns the ends of a bin, within which its trials lie.
func (o *Outcome) span(i int) (lo, hi float64) {
	lo, hi = o.Min, o.Max
	if i > 0 {
		lo = max(lo, o.BinStart+float64(i-1)*o.BinWidth)
	}
	if i < len(o.Bins)-1 {
		hi = min(hi, o.BinStart+float64(i)*o.BinWidth)
	}
	return lo, hi
}
