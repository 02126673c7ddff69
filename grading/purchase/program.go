package purchase

import (
	"context"
	"fmt"
	"math/bits"
	"slices"
)

// A program asks for the cheapest whole numbers x that lie in their ranges and
// satisfy its rows:
//
//	minimise  cost·x   with  row·x >= least  for every row,  lo <= x <= hi
//
// All numbers are integers, so that nothing it answers depends on rounding. No
// cost is below zero.
//
// The variables of a class are alike in every row, and are raised in the order of
// the class: a later one only when those before it are at their most. Cases are
// divided by the sum of a class.
type program struct {
	cost    []int64
	lo, hi  []int64
	rows    []row
	classes [][]int
	first   int // classes before this one are branched on before the others

	aim      string // what the cost is, for progress
	progress func(aim string, examined, open int)
	proving  bool // keep the tree of cases, and narrow no range but by dividing
	budget   int  // how many cases to look at, at the most; 0 for all

	// guess makes a point that satisfies the rows out of a fractional one, or
	// returns nil. Out of a whole one that does, it makes one that costs no more.
	guess func(lo, hi []int64, near []float64) []int64
}

// A row is one condition.
type row struct {
	coef  []int64
	least int64
}

// An aim is a cost to be made as small as possible, by variable.
type aim struct {
	name string
	cost []int64
}

// admits reports whether x, which lies in the ranges, satisfies every row.
func (p *program) admits(x []int64) bool {
	return !slices.ContainsFunc(p.rows, func(r row) bool { return dot(r.coef, x) < r.least })
}

// addsUp reports whether the cost of every point in the ranges fits a machine
// integer, with room for the sums that are made of it.
func (p *program) addsUp() bool {
	s := sum{ok: true}
	for t, c := range p.cost {
		s.add(c, p.hi[t])
	}
	return s.ok && s.n <= 1<<60
}

// reach aims the program and solves it. start is a point that satisfies the rows,
// or nil.
func (p *program) reach(ctx context.Context, a aim, start []int64) (outcome, error) {
	p.cost, p.aim = a.cost, a.name
	if !p.addsUp() {
		return outcome{}, fault(ErrTooLarge, fmt.Sprintf("the %s of all that could be bought", a.name), "ask for less at once, or round", "")
	}
	return p.solve(ctx, start)
}

// atMost adds the condition cost·x <= most.
func (p *program) atMost(cost []int64, most int64) {
	r := row{coef: make([]int64, len(cost)), least: -most}
	for t, c := range cost {
		r.coef[t] = -c
	}
	p.rows = append(p.rows, r)
}

func dot(a, b []int64) int64 {
	var s int64
	for i, v := range a {
		s += v * b[i]
	}
	return s
}

// lacks returns the first row that no point in the ranges satisfies, or -1.
func (p *program) lacks(lo, hi []int64) int {
	return slices.IndexFunc(p.rows, func(r row) bool { return r.spare(lo, hi) < 0 })
}

// spare returns by how much the row can be exceeded within the ranges.
func (r row) spare(lo, hi []int64) int64 {
	most := -r.least
	for t, a := range r.coef {
		if a > 0 {
			most += a * hi[t]
		} else if a < 0 {
			most += a * lo[t]
		}
	}
	return most
}

// tighten narrows the ranges lo and hi to what the rows leave possible, and
// reports whether anything is. It loses no point that satisfies the rows.
func (p *program) tighten(lo, hi []int64) bool {
	for changed := true; changed; {
		changed = false
		for _, r := range p.rows {
			spare := r.spare(lo, hi)
			if spare < 0 {
				return false
			}
			for t, a := range r.coef {
				switch {
				case a > 0 && a*(hi[t]-lo[t]) > spare:
					lo[t] = hi[t] - spare/a
					changed = true
				case a < 0 && -a*(hi[t]-lo[t]) > spare:
					hi[t] = lo[t] + spare/-a
					changed = true
				}
			}
		}
	}
	return true
}

// cut narrows the ranges to the points whose sum over a class is at most at, or
// above it.
func (p *program) cut(lo, hi []int64, class int, at int64, above bool) {
	before := int64(0)
	for _, t := range p.classes[class] {
		if above {
			lo[t] = max(lo[t], min(p.hi[t], at+1-before))
		} else {
			hi[t] = min(hi[t], max(0, at-before))
		}
		before += p.hi[t]
	}
}

// negative reports whether the row has a coefficient below zero.
func (r row) negative() bool {
	return slices.ContainsFunc(r.coef, func(a int64) bool { return a < 0 })
}

// A relaxation is the program on narrowed ranges with its rows tightened: a row in
// which only some divisor's multiples can be added is rounded up to such a one,
// and of each variable no more is counted for a row than the row can lack.
type relaxation struct {
	free   []int   // the variables whose range holds more than one number
	span   []int64 // hi - lo of each
	cost   []int64 // of each
	rows   []row   // over free, in steps above lo; only those that can fail
	origin []int   // which row of the program each is
	fixed  int64   // the cost of lo
}

func (p *program) relax(lo, hi []int64) *relaxation {
	x := &relaxation{fixed: dot(p.cost, lo)}
	for t := range lo {
		if lo[t] < hi[t] {
			x.free = append(x.free, t)
			x.span = append(x.span, hi[t]-lo[t])
			x.cost = append(x.cost, p.cost[t])
		}
	}
	backing := make([]int64, len(x.free)*len(p.rows))
	for i, r := range p.rows {
		least := r.least - dot(r.coef, lo)
		divisor := int64(0)
		for _, t := range x.free {
			if divisor != 1 {
				divisor = gcd(divisor, r.coef[t])
			}
		}
		if divisor > 1 && !r.negative() {
			least = upTo(least, divisor)
		}
		lack := least // the most that the row can lack
		for k, t := range x.free {
			if a := r.coef[t]; a < 0 {
				lack -= a * x.span[k]
			}
		}
		if lack <= 0 {
			continue
		}
		coef := backing[:len(x.free):len(x.free)]
		backing = backing[len(x.free):]
		for k, t := range x.free {
			coef[k] = min(r.coef[t], lack)
		}
		x.rows = append(x.rows, row{coef, least})
		x.origin = append(x.origin, i)
	}
	return x
}

// at returns the relaxation on ranges within those of x, with its coefficients. It
// may prove less than a new one, but is quicker to solve after one like it.
func (x *relaxation) at(p *program, lo, hi []int64) *relaxation {
	y := &relaxation{free: x.free, cost: x.cost, origin: x.origin, fixed: dot(p.cost, lo), span: make([]int64, len(x.free)), rows: slices.Clone(x.rows)}
	for k, t := range x.free {
		y.span[k] = hi[t] - lo[t]
		if steps := lo[t] - p.lo[t]; steps != 0 {
			for i, r := range x.rows {
				y.rows[i].least -= r.coef[k] * steps
			}
		}
	}
	return y
}

// bound returns a proven lower bound of the cost from a value for each row, in
// units of 1/scale:
//
//	cost >= fixed + Σ value·least - Σ span·max(0, Σ value·coef - cost)
//
// It holds for any values that are not negative: whatever satisfies the rows
// has Σ value·row·x >= Σ value·least, and a step of a variable adds its cost
// but takes away Σ value·coef at the most. (Weak duality of linear programming.)
// ok is false if the sums do not fit a machine integer.
func (x *relaxation) bound(value []int64, scale int64) (least int64, ok bool) {
	s := sum{ok: true}
	s.add(x.fixed, scale)
	var valued []int // most rows have no value, and most coefficients are zero
	for i, r := range x.rows {
		if value[i] != 0 {
			s.add(value[i], r.least)
			valued = append(valued, i)
		}
	}
	for k, c := range x.cost {
		e := sum{ok: true}
		for _, i := range valued {
			if a := x.rows[i].coef[k]; a != 0 {
				e.add(value[i], a)
			}
		}
		e.add(-c, scale)
		if !e.ok {
			return 0, false
		}
		if e.n > 0 {
			s.add(-e.n, x.span[k])
		}
	}
	return ceilDiv(s.n, scale), s.ok
}

// sum adds products and notices when they do not fit.
type sum struct {
	n  int64
	ok bool
}

func (s *sum) add(a, b int64) {
	hi, lo := bits.Mul64(magnitude(a), magnitude(b))
	if hi != 0 || lo > 1<<62 {
		s.ok = false
		return
	}
	s.n += a * b
	if s.n > 1<<62 || s.n < -1<<62 {
		s.ok = false
	}
}

func magnitude(a int64) uint64 {
	if a < 0 {
		return -uint64(a)
	}
	return uint64(a)
}
