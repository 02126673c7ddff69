package stack

import (
	"context"
	"math"
	"math/big"
	"math/bits"
)

// How sums of uniform, triangular, trapezoidal and sampled terms are computed: exactly.
//
// A triangular term is the sum of two uniform ones of half its width, a trapezoidal one of
// two that share the width otherwise (JCGM 101:2008, 6.4.4), and a uniform
// one of width w lies Y below its largest value, 0 <= Y <= w. For n of them, and t at
// a distance d below the largest sum of all,
//
//	P(S > t) = P(Σ Y < d) = Σ over subsets A of (-1)^|A| · max(0, d - Σ_A w)^n / (n!·Π w)
//
// (Irwin-Hall's distribution with unequal widths). A sample of m values that lie a
// below its largest adds its own sum over them, each with the weight 1/m. All widths
// and distances are integers in some unit, so the sum is an integer and the
// probability a ratio of two: no cancellation, whatever the ratio of the widths. It is
// rounded once, to the nearest float64.

// A step is one of the distances at which the sum above has a term, and the sum of the
// signs that share it.
type step struct {
	at, count *big.Int
}

// A grid is a part of a millimetre of which all that it holds are whole multiples.
type grid struct{ perMillimetre *big.Int }

// hold makes the grid finer until r is a whole multiple.
func (g grid) hold(r *big.Rat) {
	gcd := new(big.Int).GCD(nil, nil, g.perMillimetre, r.Denom())
	g.perMillimetre.Mul(g.perMillimetre, gcd.Quo(r.Denom(), gcd))
}

// of returns how many times r, which the grid holds, is its step.
func (g grid) of(r *big.Rat) *big.Int {
	n := new(big.Int).Quo(g.perMillimetre, r.Denom())
	return n.Mul(n, r.Num())
}

// mostWork bounds the terms of the sum times what one power costs, in units of about
// a nanosecond.
const mostWork = 4_000_000

// A sumOfSteps is the sum above before its powers are taken. It serves any distance up to the one that it was made for.
type sumOfSteps struct {
	steps       []step // in ascending order, up to that distance
	whole       grid
	highest     *big.Int // the largest sum of all
	powers      int      // n
	denominator *big.Int // Π w, and the number of values of each sample
}

// inSteps reports whether a term is one that the sum above holds.
func (t term) inSteps() bool {
	switch t.kind {
	case uniform, triangular, trapezoidal, sampled:
		return true
	}
	return false
}

// stepsOf returns the sum for P(S > t) of each t; ok is false if S has terms that are not uniform,
// triangular, trapezoidal or sampled, or so many that the exact sum would take too long. Whoever asks for
// several at once may be refused where one alone is not, and never the other way round: the farthest has
// the most steps, and a grid that holds all is no coarser.
func stepsOf(ctx context.Context, terms []term, ts ...*big.Rat) (sum sumOfSteps, ok bool) {
	var widths []*big.Rat
	whole := grid{big.NewInt(1)}
	highest := new(big.Rat)
	for _, x := range terms {
		if !x.inSteps() {
			return sum, false
		}
	}
	for _, x := range terms {
		e := x.exactly()
		switch x.kind {
		case uniform:
			widths = append(widths, new(big.Rat).Add(e.half, e.half))
			highest.Add(highest, e.half)
		case triangular, trapezoidal:
			wide, narrow := x.sides()
			widths = append(widths, wide, narrow)
			highest.Add(highest, e.half)
		case sampled:
			for _, a := range e.atoms {
				whole.hold(a)
			}
			highest.Add(highest, e.atoms[len(e.atoms)-1])
		}
	}
	for _, w := range widths {
		whole.hold(w)
	}
	whole.hold(highest)
	for _, t := range ts {
		whole.hold(t)
	}
	sum = sumOfSteps{whole: whole, highest: whole.of(highest), powers: len(widths), denominator: big.NewInt(1)}
	farthest := new(big.Int)
	for _, t := range ts {
		if d := sum.distance(t); d.Cmp(farthest) > 0 {
			farthest = d
		}
	}
	words := sum.powers*farthest.BitLen()/64 + 1
	most := mostWork / (200 + words*words)
	steps := []step{{new(big.Int), big.NewInt(1)}}
	for _, r := range widths {
		w := whole.of(r)
		sum.denominator.Mul(sum.denominator, w)
		if ctx.Err() != nil {
			return sum, false
		}
		if steps, ok = spread(steps, []*big.Int{new(big.Int), w}, -1, farthest, most); !ok {
			return sum, false
		}
	}
	for _, x := range terms {
		if x.kind != sampled {
			continue
		}
		if ctx.Err() != nil {
			return sum, false
		}
		atoms := x.exactly().atoms
		below := make([]*big.Int, len(atoms))
		top := whole.of(atoms[len(atoms)-1])
		for i, a := range atoms {
			below[i] = new(big.Int).Sub(top, whole.of(a))
		}
		sum.denominator.Mul(sum.denominator, big.NewInt(int64(len(atoms))))
		if steps, ok = spread(steps, below, +1, farthest, most); !ok {
			return sum, false
		}
	}
	sum.steps = steps
	return sum, true
}

// distance returns d of a t that the grid holds.
func (s *sumOfSteps) distance(t *big.Rat) *big.Int {
	d := s.whole.of(t)
	return d.Sub(s.highest, d)
}

// power returns Σ count·(d - at)^n / (n!·denominator) over the steps before d. With a reach
// that includes d, a step that lies there counts; that matters to no power but the zeroth.
func (s *sumOfSteps) power(n int, d *big.Int, including bool) *big.Rat {
	sum, base, power, next := new(big.Int), new(big.Int), new(big.Int), new(big.Int)
	for _, x := range s.steps {
		if before := x.at.Cmp(d); before > 0 || before == 0 && !including {
			break
		}
		base.Sub(d, x.at)
		power.SetInt64(1)
		for bit := bits.Len(uint(n)) - 1; bit >= 0; bit-- {
			next.Mul(power, power)
			if n>>bit&1 == 0 {
				power, next = next, power
				continue
			}
			power.Mul(next, base)
		}
		sum.Add(sum, next.Mul(power, x.count))
	}
	factorial := new(big.Int).MulRange(1, int64(n))
	return new(big.Rat).SetFrac(sum, factorial.Mul(factorial, s.denominator))
}

// rational returns P(S > t), to half a unit in the last place; ok is that of stepsOf.
func rational(ctx context.Context, terms []term, t *big.Rat) (p Computed, ok bool) {
	sum, ok := stepsOf(ctx, terms, t)
	if !ok {
		return Computed{}, false
	}
	return nearest(sum.power(sum.powers, sum.distance(t), false)), true
}

// spread returns the steps, which ascend, moved by each of the distances, those beyond d
// left out, equal ones made one. All but the first distance change the sign of the
// count by sign. ok is false if there are more than most.
func spread(steps []step, distances []*big.Int, sign int, d *big.Int, most int) (_ []step, ok bool) {
	if len(steps) > 8*most/len(distances) {
		return nil, false
	}
	lists := make([][]step, len(distances))
	for i, by := range distances {
		lists[i] = moved(steps, by, i > 0 && sign < 0, d)
	}
	for len(lists) > 1 {
		pairs := lists[:0]
		for i := 1; i < len(lists); i += 2 {
			pairs = append(pairs, merged(lists[i-1], lists[i]))
		}
		if len(lists)%2 == 1 {
			pairs = append(pairs, lists[len(lists)-1])
		}
		lists = pairs
	}
	return lists[0], len(lists[0]) <= most
}

// moved returns the steps that lie no farther than d once they are moved.
func moved(steps []step, by *big.Int, negative bool, d *big.Int) []step {
	all := make([]step, 0, len(steps))
	for _, s := range steps {
		if by.Sign() != 0 {
			s.at = new(big.Int).Add(s.at, by)
		}
		if s.at.Cmp(d) > 0 {
			break
		}
		if negative {
			s.count = new(big.Int).Neg(s.count)
		}
		all = append(all, s)
	}
	return all
}

// merged returns the steps of both lists, in ascending order. Those at one distance become
// one, or none if their counts cancel.
func merged(a, b []step) []step {
	all := make([]step, 0, len(a)+len(b))
	for len(a) > 0 && len(b) > 0 {
		switch order := a[0].at.Cmp(b[0].at); {
		case order < 0:
			all, a = append(all, a[0]), a[1:]
		case order > 0:
			all, b = append(all, b[0]), b[1:]
		default:
			if count := new(big.Int).Add(a[0].count, b[0].count); count.Sign() != 0 {
				all = append(all, step{a[0].at, count})
			}
			a, b = a[1:], b[1:]
		}
	}
	return append(append(all, a...), b...)
}

// nearest returns the probability p rounded to the nearest float64, with at most half
// a unit in its last place as the bound: 2^-53 of it, or, below the normal numbers, the
// smallest number there is.
func nearest(p *big.Rat) Computed {
	v, exact := p.Float64()
	if exact {
		return exactly(v)
	}
	return Computed{Value: v, Error: halfUlp*v + math.SmallestNonzeroFloat64, Proven: true}
}
