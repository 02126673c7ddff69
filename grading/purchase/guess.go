package purchase

import (
	"cmp"
	"math"
	"slices"
)

// guess makes a purchase out of a fractional one: each demand is served by the
// alternatives that it leans to, then packs are bought until nothing is short, then
// those that are not needed are left out.
func (c *component) guess(p *program) func(lo, hi []int64, near []float64) []int64 {
	return func(lo, hi []int64, near []float64) []int64 {
		x := slices.Clone(lo)
		t := len(c.boxes)
		for _, w := range c.demands {
			open := w.n
			for k := range w.alternatives {
				x[t+k] = min(hi[t+k], max(lo[t+k], int64(math.Floor(near[t+k]+1e-6))))
				open -= x[t+k]
			}
			for ; open > 0; open-- {
				best := -1
				for k := range w.alternatives {
					if x[t+k] < hi[t+k] && (best < 0 || near[t+k]-float64(x[t+k]) > near[t+best]-float64(x[t+best])) {
						best = k
					}
				}
				if best < 0 {
					return nil
				}
				x[t+best]++
			}
			t += len(w.alternatives)
		}
		short := c.shortAt(p, x)
		for j := range c.boxes {
			x[j] = min(hi[j], max(x[j], int64(math.Floor(near[j]+1e-6))))
			for i, n := range c.boxes[j].holds {
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

// shortAt returns how many of each part are short at the point x.
func (c *component) shortAt(p *program, x []int64) []int64 {
	short := make([]int64, len(c.parts))
	for i := range c.parts {
		short[i] = p.rows[i].least - dot(p.rows[i].coef, x)
	}
	return short
}

// fill buys packs, the one that gives most for its price first, until nothing is
// short.
func (c *component) fill(p *program, hi, x, short []int64) bool {
	for {
		best, bestGives := -1, int64(0)
		lacking := false
		for _, s := range short {
			lacking = lacking || s > 0
		}
		if !lacking {
			return true
		}
		for j := range c.boxes {
			if x[j] >= hi[j] {
				continue
			}
			gives := int64(0)
			for i, n := range c.boxes[j].holds {
				gives += max(0, min(n, short[i]))
			}
			if gives > 0 && (best < 0 || float64(gives)*float64(p.cost[best]) > float64(bestGives)*float64(p.cost[j])) {
				best, bestGives = j, gives
			}
		}
		if best < 0 {
			return false
		}
		// As many at once as are needed whole: a demand may be a hundred thousand.
		times := hi[best] - x[best]
		for i, n := range c.boxes[best].holds {
			if n > 0 && short[i] > 0 {
				times = min(times, max(1, short[i]/n))
			}
		}
		x[best] += times
		for i, n := range c.boxes[best].holds {
			short[i] -= times * n
		}
	}
}

// thin takes packs out again that nothing needs, the dearest first.
func (c *component) thin(p *program, lo, x, short []int64) {
	order := make([]int, len(c.boxes))
	for j := range order {
		order[j] = j
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.cost[b], p.cost[a]) })
	for _, j := range order {
		spare := x[j] - lo[j]
		for i, n := range c.boxes[j].holds {
			if n > 0 {
				spare = min(spare, max(0, -short[i])/n)
			}
		}
		x[j] -= spare
		for i, n := range c.boxes[j].holds {
			short[i] += spare * n
		}
	}
}

// everything returns a purchase made from all that can be had, thinned out; nil if there
// is none, or if an alternative takes several parts.
func (c *component) everything(p *program) []int64 {
	if !c.singles() {
		return nil
	}
	x := slices.Clone(p.hi)
	supply := make([]int64, len(c.parts))
	for i := range supply {
		supply[i] = c.stock[i] - c.fixed[i]
		for j, b := range c.boxes {
			supply[i] += b.holds[i] * x[j]
		}
	}
	clear(x[len(c.boxes):])
	f := newFilling(supply, c.demands)
	for k := range c.demands {
		f.serve(k)
	}
	t := len(c.boxes)
	for k, w := range c.demands {
		open := w.n
		for m, v := range w.alternatives {
			n := open
			if len(v.takes) > 0 {
				n = min(open, f.from[k][v.takes[0]])
				f.from[k][v.takes[0]] -= n
			}
			x[t+m] = n
			open -= n
		}
		t += len(w.alternatives)
	}
	if !p.admits(x) {
		return nil
	}
	c.thin(p, p.lo, x, c.shortAt(p, x))
	return x
}

// singles reports whether every alternative takes one part at the most.
func (c *component) singles() bool {
	for _, w := range c.demands {
		for _, v := range w.alternatives {
			if len(v.takes) > 1 {
				return false
			}
		}
	}
	return true
}
