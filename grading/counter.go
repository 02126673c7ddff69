package grading

import (
	"context"
	"fmt"
	"math"
	"slices"
)

// A counter holds what a purchase is decided on, in numbers: how many of each
// pack to buy, and which parts serve each want.
//
// Its variables are the packs first, then the ways of every want, in order.
type counter struct {
	parts []Part
	index map[Part]int
	stock []int64
	packs []Pack
	made  [][]int64 // by pack, by part
	wants []want

	progress func(Progress)
}

// A want is so many places that each need one way out of several.
type want struct {
	name string // for telling
	n    int64
	ways []way
}

// A way serves one place of a want: it takes parts, and lies some distance from
// what would be best.
type way struct {
	takes    []int // parts, one of each
	distance int64
}

func newCounter(packs []Pack) *counter {
	return &counter{index: map[Part]int{}, packs: packs, made: make([][]int64, len(packs))}
}

// part returns the index of a part, which it learns if it is new.
func (c *counter) part(p Part) int {
	i, known := c.index[p]
	if !known {
		i = len(c.parts)
		c.index[p] = i
		c.parts = append(c.parts, p)
		c.stock = append(c.stock, 0)
	}
	return i
}

// make up fills in the packs, once every part has been named that is wanted.
func (c *counter) makeUp() {
	for _, p := range c.packs {
		for _, n := range p.Parts {
			c.part(n.Part)
		}
	}
	for j, p := range c.packs {
		c.made[j] = make([]int64, len(c.parts))
		for _, n := range p.Parts {
			c.made[j][c.part(n.Part)] += int64(n.N)
		}
	}
}

// most returns how many of each part the wants can take together.
func (c *counter) most() []int64 {
	most := make([]int64, len(c.parts))
	for _, w := range c.wants {
		top := make([]int64, len(c.parts))
		for _, v := range w.ways {
			uses := make([]int64, len(c.parts))
			for _, i := range v.takes {
				uses[i]++
				top[i] = max(top[i], uses[i])
			}
		}
		for i, n := range top {
			most[i] += n * w.n
		}
	}
	return most
}

// variables returns how many variables the program has.
func (c *counter) variables() int {
	n := len(c.packs)
	for _, w := range c.wants {
		n += len(w.ways)
	}
	return n
}

// program returns the conditions that a purchase must meet, with no cost yet:
// a row for each part (as many as are taken are there), then one for each want
// (each place is served).
func (c *counter) program() *program {
	size := c.variables()
	p := &program{cost: make([]int64, size), lo: make([]int64, size), hi: make([]int64, size), first: len(c.packs), progress: c.progress}
	most := c.most()
	for j := range c.packs {
		for i, n := range c.made[j] {
			if n > 0 {
				p.hi[j] = max(p.hi[j], ceilDiv(max(0, most[i]-c.stock[i]), n))
			}
		}
		if limit := c.packs[j].Limit; limit != nil {
			p.hi[j] = min(p.hi[j], int64(*limit))
		}
	}
	for i := range c.parts {
		r := row{coef: make([]int64, size), least: -c.stock[i]}
		for j := range c.packs {
			r.coef[j] = c.made[j][i]
		}
		p.rows = append(p.rows, r)
	}
	t := len(c.packs)
	for _, w := range c.wants {
		r := row{coef: make([]int64, size), least: w.n}
		for _, v := range w.ways {
			p.hi[t] = w.n
			r.coef[t] = 1
			for _, i := range v.takes {
				p.rows[i].coef[t]--
			}
			t++
		}
		p.rows = append(p.rows, r)
	}
	p.guess = c.guess(p)
	return p
}

// guess makes a purchase out of a fractional one: each want is served in the
// ways that it leans to, then packs are bought until nothing is short, then
// those are left that are not needed.
func (c *counter) guess(p *program) func(lo, hi []int64, near []float64) []int64 {
	return func(lo, hi []int64, near []float64) []int64 {
		x := slices.Clone(lo)
		t := len(c.packs)
		for _, w := range c.wants {
			open := w.n
			for k := range w.ways {
				x[t+k] = min(hi[t+k], max(lo[t+k], int64(math.Floor(near[t+k]+1e-6))))
				open -= x[t+k]
			}
			for ; open > 0; open-- {
				best := -1
				for k := range w.ways {
					if x[t+k] < hi[t+k] && (best < 0 || near[t+k]-float64(x[t+k]) > near[t+best]-float64(x[t+best])) {
						best = k
					}
				}
				if best < 0 {
					return nil
				}
				x[t+best]++
			}
			t += len(w.ways)
		}
		short := make([]int64, len(c.parts))
		for i := range c.parts {
			short[i] = p.rows[i].least - dot(p.rows[i].coef, x)
		}
		for j := range c.packs {
			x[j] = min(hi[j], max(x[j], int64(math.Floor(near[j]+1e-6))))
			for i, n := range c.made[j] {
				short[i] -= n * (x[j] - lo[j])
			}
		}
		if !c.fill(p, hi, x, short) {
			return nil
		}
		c.thin(p, lo, x, short)
		return x
	}
}

// fill buys packs, the one that gives most for its price first, until nothing is
// short.
func (c *counter) fill(p *program, hi, x, short []int64) bool {
	for {
		best, bestGives := -1, int64(0)
		lacking := false
		for _, s := range short {
			lacking = lacking || s > 0
		}
		if !lacking {
			return true
		}
		for j := range c.packs {
			if x[j] >= hi[j] {
				continue
			}
			gives := int64(0)
			for i, n := range c.made[j] {
				gives += max(0, min(n, short[i]))
			}
			if gives > 0 && (best < 0 || float64(gives)*float64(p.cost[best]) > float64(bestGives)*float64(p.cost[j])) {
				best, bestGives = j, gives
			}
		}
		if best < 0 {
			return false
		}
		x[best]++
		for i, n := range c.made[best] {
			short[i] -= n
		}
	}
}

// thin takes packs out again that nothing needs, the dearest first.
func (c *counter) thin(p *program, lo, x, short []int64) {
	order := make([]int, len(c.packs))
	for j := range order {
		order[j] = j
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(min(1, max(-1, p.cost[b]-p.cost[a]))) })
	for _, j := range order {
		for x[j] > lo[j] && c.spares(j, short) {
			x[j]--
			for i, n := range c.made[j] {
				short[i] += n
			}
		}
	}
}

// spares reports whether one pack less leaves nothing short.
func (c *counter) spares(j int, short []int64) bool {
	for i, n := range c.made[j] {
		if short[i]+n > 0 {
			return false
		}
	}
	return true
}

// An aim is a cost to be made as small as possible, by variable.
type aim struct {
	name string
	cost []int64
}

// prices and distances are what a purchase is for.

func (c *counter) prices(price []int64) aim {
	a := make([]int64, c.variables())
	copy(a, price)
	return aim{"price", a}
}

func (c *counter) distances() aim {
	a := make([]int64, len(c.packs), c.variables())
	for _, w := range c.wants {
		for _, v := range w.ways {
			a = append(a, v.distance)
		}
	}
	return aim{"distance from what is wanted", a}
}

// leftover, fewest, firstWays and earliest break ties.
func (c *counter) leftover() aim {
	a := make([]int64, c.variables())
	for j, p := range c.packs {
		a[j] = int64(p.size())
	}
	// What the wants take counts too where their ways differ in it.
	t := len(c.packs)
	for _, w := range c.wants {
		most := 0
		for _, v := range w.ways {
			most = max(most, len(v.takes))
		}
		for _, v := range w.ways {
			a[t] = int64(most - len(v.takes))
			t++
		}
	}
	return aim{"parts left over", a}
}

func (c *counter) fewest() aim {
	a := make([]int64, c.variables())
	for j := range c.packs {
		a[j] = 1
	}
	return aim{"packs", a}
}

// firstWays also sees to it that no want is served more often than it asks for:
// of a way that does so in vain there would be one less.
func (c *counter) firstWays() aim {
	a := make([]int64, len(c.packs), c.variables())
	for _, w := range c.wants {
		for k := range w.ways {
			a = append(a, int64(k))
		}
	}
	return aim{"place of the ways in their lists", a}
}

func (c *counter) earliest() aim {
	a := make([]int64, c.variables())
	for j := range c.packs {
		a[j] = int64(j)
	}
	return aim{"place of the packs in their list", a}
}

// best reaches for the aims one after the other, each kept while the next is
// reached for. It returns the outcome of each; the last has the point. If
// nothing satisfies the program the first has no point, and stands alone.
func best(ctx context.Context, p *program, aims ...aim) ([]outcome, error) {
	var outcomes []outcome
	var x []int64
	for _, a := range aims {
		p.cost, p.aim = a.cost, a.name
		if !p.addsUp() {
			return nil, fmt.Errorf("the %s of all that could be bought: %w; ask for less at once, or round", a.name, ErrTooLarge)
		}
		o, err := p.solve(ctx, x)
		if err != nil {
			return nil, err
		}
		outcomes = append(outcomes, o)
		if o.x == nil {
			return outcomes, nil
		}
		x = o.x
		p.atMost(a.cost, o.least)
	}
	return outcomes, nil
}

// atMost adds the condition cost·x <= most.
func (p *program) atMost(cost []int64, most int64) {
	r := row{coef: make([]int64, len(cost)), least: -most}
	for t, c := range cost {
		r.coef[t] = -c
	}
	p.rows = append(p.rows, r)
}
