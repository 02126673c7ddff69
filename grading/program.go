package grading

import "math/bits"

// A program asks for the cheapest whole numbers x that lie in their ranges and
// satisfy its rows:
//
//	minimise  cost·x   with  row·x >= least  for every row,  lo <= x <= hi
//
// All numbers are integers, so that nothing it answers depends on rounding. No
// cost is below zero.
type program struct {
	cost   []int64
	lo, hi []int64
	rows   []row
	first  int // variables before this one are branched on before the others

	aim      string // what the cost is, for progress
	progress func(Progress)

	// guess makes a point that satisfies the rows out of a fractional one, or
	// returns nil. It may be nil.
	guess func(lo, hi []int64, near []float64) []int64
}

// A row is one condition.
type row struct {
	coef  []int64
	least int64
}

// admits reports whether x satisfies every row and range.
func (p *program) admits(x []int64) bool {
	for t, v := range x {
		if v < p.lo[t] || v > p.hi[t] {
			return false
		}
	}
	for _, r := range p.rows {
		if dot(r.coef, x) < r.least {
			return false
		}
	}
	return true
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

func dot(a, b []int64) int64 {
	var s int64
	for i, v := range a {
		s += v * b[i]
	}
	return s
}

// tighten narrows the ranges lo and hi to what the rows leave possible, and
// reports whether anything is. It loses no point that satisfies the rows.
func (p *program) tighten(lo, hi []int64) bool {
	for changed := true; changed; {
		changed = false
		for _, r := range p.rows {
			most := int64(0)
			for t, a := range r.coef {
				if a > 0 {
					most += a * hi[t]
				} else if a < 0 {
					most += a * lo[t]
				}
			}
			spare := most - r.least
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

// A relaxation is the program on narrowed ranges with its rows tightened: of
// each variable no more is counted for a row than the row can lack.
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
	for i, r := range p.rows {
		least := r.least - dot(r.coef, lo)
		lack := least // the most that the row can lack
		for k, t := range x.free {
			if a := r.coef[t]; a < 0 {
				lack -= a * x.span[k]
			}
		}
		if lack <= 0 {
			continue
		}
		coef := make([]int64, len(x.free))
		for k, t := range x.free {
			coef[k] = min(r.coef[t], lack)
		}
		x.rows = append(x.rows, row{coef, least})
		x.origin = append(x.origin, i)
	}
	return x
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
	for i, r := range x.rows {
		s.add(value[i], r.least)
	}
	for k, c := range x.cost {
		e := sum{ok: true}
		for i, r := range x.rows {
			e.add(value[i], r.coef[k])
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
	p := int64(lo)
	if (a < 0) != (b < 0) {
		p = -p
	}
	s.n += p
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

// ceilDiv returns a/b rounded up; b is above zero.
func ceilDiv(a, b int64) int64 {
	q := a / b
	if a%b > 0 {
		q++
	}
	return q
}
