package grading

import (
	"container/heap"
	"context"
	"math"
	"slices"
)

// An outcome is what a search found and how it proved it.
type outcome struct {
	x        []int64 // the cheapest point; nil if there is none
	least    int64   // what it costs
	leaves   []leaf  // the cases of the proof, if they are few
	examined int     // how many cases were looked at
}

// A leaf is a case that holds nothing cheaper than what was found, proven by the
// bound of its relaxation.
type leaf struct {
	lo, hi []int64
	value  []int64 // of each row of the program, in units of 1/scale; nil if the ranges themselves are impossible
	scale  int64
	bound  int64
}

// maxLeaves is how many cases of a proof are kept to be shown.
const maxLeaves = 64

// A node is a case that has not been decided.
type node struct {
	leaf
	near  []float64 // where the variables would lie if they need not be whole
	order int       // in which it was made, so that equal bounds are taken in order
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
	open    queue
	made    int
	tooMany bool // more leaves than are kept
	told    int  // cases examined at the last report
}

// solve finds the cheapest point of the program and proves it. start is a point
// that satisfies the rows, or nil. Of points that cost the same it returns the
// first that it meets, in an order that depends on the program alone. The error
// is the context's.
func (p *program) solve(ctx context.Context, start []int64) (outcome, error) {
	if ctx.Err() != nil {
		return outcome{}, context.Cause(ctx)
	}
	s := &search{program: p, outcome: outcome{least: dot(p.cost, p.hi) + 1}}
	if start != nil && p.admits(start) {
		s.offer(start)
	}
	s.enter(slices.Clone(p.lo), slices.Clone(p.hi))
	for len(s.open) > 0 {
		if ctx.Err() != nil {
			return outcome{}, context.Cause(ctx)
		}
		s.report()
		n := heap.Pop(&s.open).(*node)
		if n.bound >= s.least {
			s.close(n.leaf)
			continue
		}
		s.branch(n)
	}
	if s.tooMany {
		s.leaves = nil
	}
	return s.outcome, nil
}

// report tells how the search goes, once in some cases.
func (s *search) report() {
	const often = 32
	if s.progress != nil && s.examined >= s.told+often {
		s.told = s.examined
		s.progress(Progress{Aim: s.aim, Examined: s.examined, Open: len(s.open)})
	}
}

// offer keeps x if it is cheaper than what is known.
func (s *search) offer(x []int64) {
	if c := dot(s.cost, x); c < s.least {
		s.x, s.least = slices.Clone(x), c
	}
}

func (s *search) close(l leaf) {
	if len(s.leaves) >= maxLeaves {
		s.tooMany = true
		return
	}
	s.leaves = append(s.leaves, l)
}

// enter makes a node of the ranges, or closes the case.
func (s *search) enter(lo, hi []int64) {
	s.examined++
	given := leaf{lo: slices.Clone(lo), hi: slices.Clone(hi)}
	if !s.tighten(lo, hi) {
		given.bound = impossible
		s.close(given)
		return
	}
	x := s.relax(lo, hi)
	n := &node{leaf: leaf{lo: lo, hi: hi, scale: 1}, order: s.made}
	s.made++
	n.near = make([]float64, len(lo))
	for t := range lo {
		n.near[t] = float64(lo[t])
	}
	t := newTableau(x)
	value, steps := t.solve(float64(s.least))
	for k, v := range x.free {
		n.near[v] += steps[k]
	}
	n.value, n.scale, n.bound = x.round(value, len(s.rows))
	if n.bound >= s.least {
		s.close(n.leaf)
		return
	}
	if s.guess != nil {
		if g := s.guess(lo, hi, n.near); g != nil && s.admits(g) {
			s.offer(g)
		}
	}
	if whole := s.whole(n.near); whole != nil {
		s.offer(whole)
	}
	if n.bound >= s.least {
		s.close(n.leaf)
		return
	}
	heap.Push(&s.open, n)
}

// whole returns near as integers if it is so, and satisfies the rows.
func (s *search) whole(near []float64) []int64 {
	x := make([]int64, len(near))
	for t, v := range near {
		r := math.Round(v)
		if math.Abs(v-r) > 1e-6 {
			return nil
		}
		x[t] = int64(r)
	}
	if !s.admits(x) {
		return nil
	}
	return x
}

// round turns the values of a tableau into integers over the rows of the
// program, as fine as fits, and gives the bound that they prove.
func (x *relaxation) round(value []float64, rows int) (whole []int64, scale, bound int64) {
	size := float64(x.fixed) + 1
	for k, c := range x.cost {
		e := float64(c)
		for i, r := range x.rows {
			e += float64(value[i] * math.Abs(float64(r.coef[k])))
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
	for scale < 1<<20 && size*float64(2*scale) < 1<<60 {
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

// branch divides a case in two at the variable that is farthest from whole.
func (s *search) branch(n *node) {
	t, at := s.divide(n)
	if at+1 <= n.hi[t] {
		lo := slices.Clone(n.lo)
		lo[t] = at + 1
		s.enter(lo, slices.Clone(n.hi))
	}
	hi := slices.Clone(n.hi)
	hi[t] = at
	s.enter(slices.Clone(n.lo), hi)
}

// divide returns a variable and the number after which to cut its range.
func (s *search) divide(n *node) (variable int, at int64) {
	best, variable := 1e-6, -1
	for t := range n.lo {
		if t == s.first && variable >= 0 {
			break
		}
		if n.lo[t] == n.hi[t] {
			continue
		}
		f := n.near[t] - math.Floor(n.near[t])
		if d := math.Min(f, 1-f); d > best {
			best, variable = d, t
		}
	}
	if variable >= 0 {
		at = int64(math.Floor(n.near[variable]))
		return variable, min(max(at, n.lo[variable]), n.hi[variable]-1)
	}
	// Whole already, but not proven: cut beside the value of the widest range.
	for t := range n.lo {
		if n.lo[t] < n.hi[t] && (variable < 0 || n.hi[t]-n.lo[t] > n.hi[variable]-n.lo[variable]) {
			variable = t
		}
	}
	at = int64(math.Round(n.near[variable]))
	return variable, min(max(at, n.lo[variable]), n.hi[variable]-1)
}
