package purchase

import (
	"container/heap"
	"context"
	"math"
	"slices"
)

// An outcome is what a search found, and how it proved it.
type outcome struct {
	x        []int64 // the cheapest point found; nil if none was
	least    int64   // what it costs
	bound    int64   // nothing costs less
	proven   bool    // the search went to its end: x is the cheapest there is, or there is none
	tree     *tree   // the cases, if the program was proving
	examined int     // how many cases were looked at
}

// A tree is a case: divided in two by the sum of a class, or ended by values for
// the rows of the parts.
type tree struct {
	class     int
	at        int64
	low, high *tree // low: at most at of the class; both nil in an end

	value []int64 // of each row of the program, in units of 1/scale
	scale int64
	bound int64
	lacks int // the row that nothing in the case satisfies; -1 if there is none
}

// A node is a case that has not been decided.
type node struct {
	lo, hi []int64
	bound  int64
	near   []float64 // where the variables would lie if they need not be whole
	order  int       // in which it was made, so that equal bounds are taken in order
	tree   *tree
	solved *tableau // how its relaxation was solved; nil if that is not kept
}

type queue []*node

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	if q[i].bound != q[j].bound {
		return q[i].bound < q[j].bound
	}
	return q[i].order > q[j].order // the newest: deeper, nearer to an end
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(n any)   { *q = append(*q, n.(*node)) }
func (q *queue) Pop() any {
	last := len(*q) - 1
	n := (*q)[last]
	*q = (*q)[:last]
	return n
}

// search is one run of branch and bound, best bound first.
type search struct {
	*program
	outcome
	open queue
	made int
	told int // how many cases are examined before the next report

	root *relaxation // of a large program: that of all its ranges
	last *tableau    // and how it was solved last; nil of a small program
	kept int         // how many open nodes keep how they were solved
}

// solve finds the cheapest point of the program and proves it. start is a point
// that satisfies the rows, or nil. Of points that cost the same it returns the
// first that it meets, in an order that depends on the program alone. If the
// context or the budget ends first, the outcome is the best found, with its bound,
// and is not proven; the error is the context's.
func (p *program) solve(ctx context.Context, start []int64) (outcome, error) {
	s := &search{program: p, outcome: outcome{least: dot(p.cost, p.hi) + 1, tree: &tree{}}}
	if start != nil && p.admits(start) {
		s.offer(start)
	}
	s.enter(slices.Clone(p.lo), slices.Clone(p.hi), s.tree, nil)
	s.bound = s.least
	for len(s.open) > 0 {
		n := s.open[0]
		if n.bound >= s.least {
			break // and so have all others
		}
		if err := ctx.Err(); err != nil || p.budget > 0 && s.examined >= p.budget {
			s.bound = n.bound
			if err != nil {
				err = context.Cause(ctx)
			}
			return s.outcome, err
		}
		s.report()
		heap.Pop(&s.open)
		s.branch(n)
	}
	s.bound, s.proven = s.least, true
	return s.outcome, nil
}

// report tells how the search goes: when its first case is left open, and then once
// in some cases.
func (s *search) report() {
	const often = 32
	if s.progress != nil && s.examined >= s.told {
		s.told = s.examined + often
		s.progress(s.aim, s.examined, len(s.open))
	}
}

// offer keeps x if it is cheaper than what is known.
func (s *search) offer(x []int64) {
	if c := dot(s.cost, x); c < s.least {
		s.x, s.least = slices.Clone(x), c
	}
}

// enter makes a node of the ranges, unless the case is closed already. from is how
// the case that it comes from was solved, or nil.
func (s *search) enter(lo, hi []int64, t *tree, from *tableau) {
	s.examined++
	t.lacks = s.lacks(lo, hi)
	if t.lacks >= 0 || !s.proving && !s.large() && !s.tighten(lo, hi) {
		return
	}
	n := &node{lo: lo, hi: hi, order: s.made, tree: t, near: make([]float64, len(lo))}
	s.made++
	for v := range lo {
		n.near[v] = float64(lo[v])
	}
	x, value, steps, ray := s.relaxed(lo, hi, from)
	if ray != nil && !s.proving && x.contradicts(ray) {
		return
	}
	for k, v := range x.free {
		n.near[v] += steps[k]
	}
	s.gather(n)
	worths, scale, bound := x.round(value, len(s.rows))
	n.bound = bound
	if s.proving {
		t.value, t.scale, t.bound = worths, scale, bound
	}
	if n.bound >= s.least {
		return
	}
	if g := s.guess(lo, hi, n.near); g != nil && s.admits(g) {
		s.offer(g)
	}
	if n.bound < s.least {
		if s.kept*len(s.cost)*len(s.rows) < mostKept {
			n.solved = s.last
			s.kept++
		}
		heap.Push(&s.open, n)
	}
}

// largeProgram is how many coefficients a program has for which a new start from
// the last solution is quicker than a closer relaxation.
const largeProgram = 1000

func (p *program) large() bool { return len(p.cost)*len(p.rows) >= largeProgram }

// mostKept is how many numbers the open nodes of a large program may keep.
const mostKept = 16 << 20

// relaxed solves a relaxation on the ranges.
func (s *search) relaxed(lo, hi []int64, from *tableau) (x *relaxation, value, steps, ray []float64) {
	if !s.large() {
		x = s.relax(lo, hi)
		value, steps, ray = newTableau(x).solve(float64(s.least))
		return x, value, steps, ray
	}
	if s.root == nil {
		s.root = s.relax(s.lo, s.hi)
	}
	if from != nil {
		s.last = from
	}
	if s.last == nil || s.last.tired {
		s.last = newTableau(s.root)
	}
	x = s.root.at(s.program, lo, hi)
	s.last.aim(x)
	value, steps, ray = s.last.solve(float64(s.least))
	return x, value, steps, ray
}

// gather moves what a class has over to its first variables.
func (s *search) gather(n *node) {
	for _, class := range s.classes {
		rest := 0.0
		for _, t := range class {
			rest += n.near[t] - float64(n.lo[t])
		}
		for _, t := range class {
			step := min(rest, float64(n.hi[t]-n.lo[t]))
			n.near[t] = float64(n.lo[t]) + step
			rest -= step
		}
	}
}

// contradicts reports whether values prove that nothing satisfies the rows: what they
// ask for together is more than all steps together give.
func (x *relaxation) contradicts(ray []float64) bool {
	lacks := *x
	lacks.fixed, lacks.cost = 0, make([]int64, len(x.cost))
	value := make([]int64, len(ray))
	for i, v := range ray {
		value[i] = int64(math.Round(v * (1 << 30)))
	}
	least, ok := lacks.bound(value, 1)
	return ok && least > 0
}

// round turns the values of a tableau into integers over the rows of the
// program, as fine as fits, and gives the bound that they prove.
func (x *relaxation) round(value []float64, rows int) (whole []int64, scale, bound int64) {
	size := float64(x.fixed)
	for k, c := range x.cost {
		e := float64(c)
		for i, r := range x.rows {
			if value[i] != 0 {
				e += float64(value[i] * math.Abs(float64(r.coef[k])))
			}
		}
		size += float64(e * float64(x.span[k]))
	}
	for i, r := range x.rows {
		size += float64(value[i] * math.Abs(float64(r.least)))
	}
	whole = make([]int64, rows)
	if math.IsNaN(size) || size > 1<<58 {
		return whole, 1, x.fixed
	}
	scale = 1
	for scale < 1<<30 && size*float64(2*scale) < 1<<60 {
		scale *= 2
	}
	own := make([]int64, len(x.rows))
	for i, v := range value {
		own[i] = int64(math.Round(v * float64(scale)))
		whole[x.origin[i]] = own[i]
	}
	b, ok := x.bound(own, scale)
	if !ok || b < x.fixed {
		return make([]int64, rows), 1, x.fixed
	}
	return whole, scale, b
}

// branch divides a case in two at the class whose sum is farthest from whole.
func (s *search) branch(n *node) {
	class, at := s.divide(n)
	n.tree.class, n.tree.at = class, at
	n.tree.low, n.tree.high = &tree{}, &tree{}
	var second *tableau
	if n.solved != nil {
		second = n.solved.clone()
		s.kept--
	}
	lo, hi := slices.Clone(n.lo), slices.Clone(n.hi)
	s.cut(lo, hi, class, at, true)
	s.enter(lo, hi, n.tree.high, n.solved)
	s.cut(n.lo, n.hi, class, at, false)
	s.enter(n.lo, n.hi, n.tree.low, second)
}

// divide returns a class and the number after which to cut the range of its sum.
func (s *search) divide(n *node) (class int, at int64) {
	best, class := 1e-6, -1
	var near float64
	var from, to int64
	widest, width := -1, int64(0)
	sums := func(k int) (near float64, lo, hi int64) {
		for _, t := range s.classes[k] {
			near, lo, hi = near+n.near[t], lo+n.lo[t], hi+n.hi[t]
		}
		return near, lo, hi
	}
	for k := range s.classes {
		if k == s.first && class >= 0 {
			break
		}
		v, lo, hi := sums(k)
		if lo == hi {
			continue
		}
		if hi-lo > width {
			widest, width = k, hi-lo
		}
		if d := math.Abs(v - math.Round(v)); d > best {
			best, class, near, from, to = d, k, v, lo, hi
		}
	}
	if class >= 0 {
		return class, min(max(int64(math.Floor(near)), from), to-1)
	}
	// Whole already, but not proven: cut beside the value of the widest range.
	near, from, to = sums(widest)
	return widest, min(max(int64(math.Round(near)), from), to-1)
}
