package purchase

import (
	"math"
	"slices"
)

// A grid is the least cost for each number of parts that may be missing, of a
// component without demands: the purchase problem solved by dynamic programming.
//
// Its axes are the parts that matter; the others are there in plenty whenever these
// are. An axis counts in lots: the largest number of parts that divides the contents
// of every box. A point has an index, the last axis running fastest.
type grid struct {
	axes   []axis
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
	stride  int // how far the index goes for one lot
}

// A toll is what a purchase costs: the price, then what breaks ties in turn.
type toll struct{ price, size, packs, place int64 }

func (a toll) less(b toll) bool {
	switch {
	case a.price != b.price:
		return a.price < b.price
	case a.size != b.size:
		return a.size < b.size
	case a.packs != b.packs:
		return a.packs < b.packs
	}
	return a.place < b.place
}

func (a toll) plus(b toll, n int64) toll {
	return toll{a.price + n*b.price, a.size + n*b.size, a.packs + n*b.packs, a.place + n*b.place}
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

// Bounds on a grid: how many points it has, and how often it goes through one.
const (
	mostPoints = 1 << 18
	mostWork   = 4 << 20
)

// newGrid returns the grid of a component, or nil if it has demands or is too large.
func (c *component) newGrid() *grid {
	if len(c.demands) > 0 {
		return nil
	}
	g := &grid{axes: c.axes(), points: 1}
	for i := len(g.axes) - 1; i >= 0; i-- {
		a := &g.axes[i]
		a.stride = g.points
		if a.missing >= mostPoints {
			return nil
		}
		if g.points *= int(a.missing) + 1; g.points > mostPoints {
			return nil
		}
	}
	for j, b := range c.boxes {
		if g.enough(b) {
			g.free = append(g.free, j)
			continue
		}
		g.limits = append(g.limits, j)
		for n, rest := int64(1), b.limit; rest > 0; n, rest = 2*n, rest-n {
			g.bundles = append(g.bundles, bundle{box: j, n: min(n, rest)})
		}
	}
	if g.points*(len(g.free)+len(g.bundles))*len(g.axes) > mostWork {
		return nil
	}
	return g
}

// enough reports whether there are as many of the box as can be useful.
func (g *grid) enough(b box) bool {
	for _, a := range g.axes {
		if n := b.holds[a.part]; n > 0 && ceilDiv(a.missing*a.lot, n) > b.limit {
			return false
		}
	}
	return true
}

// axes returns the parts that matter: one is left out if, whatever is bought, it is
// there in plenty whenever another one that is kept is.
func (c *component) axes() []axis {
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
		for _, b := range c.boxes {
			if b.holds[i.part]*k.missing*k.lot < b.holds[k.part]*i.missing*i.lot {
				return false
			}
		}
		return true
	}
	var kept []axis
	for i, a := range all {
		redundant := slices.ContainsFunc(kept, func(k axis) bool { return follows(a, k) })
		for k := i + 1; k < len(all) && !redundant; k++ {
			redundant = follows(a, all[k]) && !follows(all[k], a)
		}
		if !redundant {
			kept = append(kept, a)
		}
	}
	return kept
}

// after returns the point that is left of a point, given by its lots, when n of the
// box have been bought.
func (g *grid) after(lots []int64, b box, n int64) int {
	at := 0
	for k, a := range g.axes {
		if left := lots[k] - n*(b.holds[a.part]/a.lot); left > 0 {
			at += int(left) * a.stride
		}
	}
	return at
}

// step counts the lots up by one point.
func (g *grid) step(lots []int64) {
	for k := len(lots) - 1; k >= 0; k-- {
		if lots[k]++; lots[k] <= g.axes[k].missing {
			return
		}
		lots[k] = 0
	}
}

// stepBack counts the lots down by one point.
func (g *grid) stepBack(lots []int64) {
	for k := len(lots) - 1; k >= 0; k-- {
		if lots[k]--; lots[k] >= 0 {
			return
		}
		lots[k] = g.axes[k].missing
	}
}

// solve fills the grid and returns the best purchase; ok is false if nothing serves.
func (g *grid) solve(c *component) (x []int64, ok bool) {
	g.takeFree(c)
	g.keep()
	for m := range g.bundles {
		g.takeBundle(c, &g.bundles[m])
		if m+1 == len(g.bundles) || g.bundles[m+1].box != g.bundles[m].box {
			g.keep()
		}
	}
	last := g.points - 1
	if g.cost[last].price == never {
		return nil, false
	}
	x = make([]int64, len(c.boxes))
	lots := make([]int64, len(g.axes))
	for k, a := range g.axes {
		lots[k] = a.missing
	}
	buy := func(j int, n int64) {
		x[j] += n
		for k, a := range g.axes {
			lots[k] = max(0, lots[k]-n*(c.boxes[j].holds[a.part]/a.lot))
		}
	}
	at := func() int {
		p := 0
		for k, a := range g.axes {
			p += int(lots[k]) * a.stride
		}
		return p
	}
	for m := len(g.bundles) - 1; m >= 0; m-- {
		if b := g.bundles[m]; b.taken[at()] {
			buy(b.box, b.n)
		}
	}
	for p := at(); p > 0; p = at() {
		buy(int(g.first[p]), 1)
	}
	return x, true
}

// toll returns what one of the box costs.
func (b box) toll() toll { return toll{b.price, b.size, 1, int64(b.place)} }

// takeFree finds the best of the boxes of which there are enough.
func (g *grid) takeFree(c *component) {
	g.cost = make([]toll, g.points)
	g.first = make([]int16, g.points)
	lots := make([]int64, len(g.axes))
	for p := 1; p < g.points; p++ {
		g.step(lots)
		best := toll{price: never}
		g.first[p] = -1
		for _, j := range g.free {
			q := g.after(lots, c.boxes[j], 1)
			if q == p || g.cost[q].price == never {
				continue
			}
			if t := g.cost[q].plus(c.boxes[j].toll(), 1); t.less(best) {
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
	lots := make([]int64, len(g.axes))
	for k, a := range g.axes {
		lots[k] = a.missing
	}
	one := c.boxes[b.box].toll()
	for p := g.points - 1; p > 0; p-- {
		if q := g.after(lots, c.boxes[b.box], b.n); g.cost[q].price != never {
			if t := g.cost[q].plus(one, b.n); t.less(g.cost[p]) {
				g.cost[p], b.taken[p] = t, true
			}
		}
		g.stepBack(lots)
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
