package purchase

import (
	"cmp"
	"math"
	"slices"
)

// A grid is the least cost for each number of parts that may be missing, of a
// component without demands in which one part decides: the purchase problem solved by
// dynamic programming. It counts in lots: the largest number of parts that divides the
// contents of every box. A point is a number of missing lots.
type grid struct {
	axis
	points int
	limits []int // the boxes of a limited number, in the order in which they come in
	free   []int // the boxes of which there are enough

	cost    []toll    // by point, with the boxes taken in so far
	first   []int16   // by point: the box to buy first among the free ones; -1 if none serves
	bundles []bundle  // of limited boxes
	prices  [][]int64 // by stage, by point: the least price; never where nothing serves
}

// An axis is a part, how many of it a lot has, and how many lots are missing.
type axis struct {
	part    int
	lot     int64
	missing int64
}

// A toll is what a purchase costs: the price, then what breaks ties in turn.
type toll struct{ price, size, packs, place int64 }

func (a toll) less(b toll) bool {
	return cmp.Or(cmp.Compare(a.price, b.price), cmp.Compare(a.size, b.size), cmp.Compare(a.packs, b.packs), cmp.Compare(a.place, b.place)) < 0
}

// plus adds what n of a box cost.
func (a toll) plus(b box, n int64) toll {
	return toll{a.price + n*b.price, a.size + n*b.size, a.packs + n, a.place + n*int64(b.place)}
}

// A bundle is some of one box, bought together or not at all; those of a box make
// every number up to its limit.
type bundle struct {
	box   int
	n     int64
	taken []bool // by point
}

// never is the price of what nothing serves.
const never = math.MaxInt64

// Bounds on a grid: how many points it has, and how often it goes through one. They limit
// memory and time: whether a grid or a search finds an answer, the answer is the same.
const (
	mostPoints = 1 << 18
	mostWork   = 4 << 20
)

// newGrid returns the grid of a component; nil if it has demands, if more than one part
// decides, or if it is too large.
func (c *component) newGrid() *grid {
	a, ok := c.axis()
	if len(c.demands) > 0 || !ok || a.missing >= mostPoints {
		return nil
	}
	g := &grid{axis: a, points: int(a.missing) + 1}
	for j, b := range c.boxes {
		if n := b.holds[a.part]; n == 0 || ceilDiv(a.missing*a.lot, n) <= b.limit {
			g.free = append(g.free, j)
			continue
		}
		g.limits = append(g.limits, j)
		for rest := b.limit; rest > 0; {
			n := (rest + 1) / 2
			g.bundles = append(g.bundles, bundle{box: j, n: n})
			rest -= n
		}
	}
	if g.points*(len(g.free)+len(g.bundles)) > mostWork {
		return nil
	}
	return g
}

// axis returns the part that decides: whatever is bought, the others are there in plenty
// whenever it is. ok is false if there is none. Tables of several parts were tried, for
// orders whose packs cost nearly the same for each part: where a search was long, they took
// longer.
func (c *component) axis() (decides axis, ok bool) {
	var all []axis
	for i := range c.parts {
		a := axis{part: i}
		for _, b := range c.boxes {
			a.lot = gcd(a.lot, b.holds[i])
		}
		a.lot = max(1, a.lot)
		a.missing = ceilDiv(c.fixed[i]-c.stock[i], a.lot)
		all = append(all, a)
	}
	// i follows from k: contents of i for those of k are at least what is missing of i
	// for what is missing of k, in every box.
	follows := func(i, k axis) bool {
		return !slices.ContainsFunc(c.boxes, func(b box) bool {
			return b.holds[i.part]*k.missing*k.lot < b.holds[k.part]*i.missing*i.lot
		})
	}
	for _, k := range all {
		if !slices.ContainsFunc(all, func(i axis) bool { return !follows(i, k) }) {
			return k, true
		}
	}
	return axis{}, false
}

// after returns the point that is left of a point when n of the box have been bought.
func (g *grid) after(p int, b box, n int64) int {
	return max(0, p-int(n*(b.holds[g.part]/g.lot)))
}

// solve fills the grid and returns the best purchase; nil if nothing serves.
func (g *grid) solve(c *component) (x []int64) {
	g.takeFree(c)
	g.keep()
	for m := range g.bundles {
		g.takeBundle(c, &g.bundles[m])
		if m+1 == len(g.bundles) || g.bundles[m+1].box != g.bundles[m].box {
			g.keep()
		}
	}
	p := g.points - 1
	if g.cost[p].price == never {
		return nil
	}
	x = make([]int64, len(c.boxes))
	buy := func(j int, n int64) {
		x[j] += n
		p = g.after(p, c.boxes[j], n)
	}
	for _, b := range slices.Backward(g.bundles) {
		if b.taken[p] {
			buy(b.box, b.n)
		}
	}
	for p > 0 {
		buy(int(g.first[p]), 1)
	}
	return x
}

// takeFree finds the best of the boxes of which there are enough.
func (g *grid) takeFree(c *component) {
	g.cost = make([]toll, g.points)
	g.first = make([]int16, g.points)
	for p := 1; p < g.points; p++ {
		best := toll{price: never}
		g.first[p] = -1
		for _, j := range g.free {
			q := g.after(p, c.boxes[j], 1)
			if q == p || g.cost[q].price == never {
				continue
			}
			if t := g.cost[q].plus(c.boxes[j], 1); t.less(best) {
				best, g.first[p] = t, int16(j)
			}
		}
		g.cost[p] = best
	}
}

// takeBundle takes one more bundle in. It goes from the last point to the first, so
// that what it looks up is without the bundle.
func (g *grid) takeBundle(c *component, b *bundle) {
	b.taken = make([]bool, g.points)
	one := c.boxes[b.box]
	for p := g.points - 1; p > 0; p-- {
		if q := g.after(p, one, b.n); g.cost[q].price != never {
			if t := g.cost[q].plus(one, b.n); t.less(g.cost[p]) {
				g.cost[p], b.taken[p] = t, true
			}
		}
	}
}

// keep writes down the least prices of a stage.
func (g *grid) keep() {
	prices := make([]int64, g.points)
	for p, t := range g.cost {
		prices[p] = t.price
	}
	g.prices = append(g.prices, prices)
}
