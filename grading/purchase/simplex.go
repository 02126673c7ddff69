package purchase

import (
	"math"
	"slices"
)

// A tableau solves the dual of a relaxation in floating point, to find good
// values for its rows and to see where the variables would lie if they need not
// be whole. Nothing is concluded from its numbers: the values are rounded to
// integers and the bound is computed again from them exactly. Products are
// rounded before they are added (the conversions to float64 that look needless
// forbid fusing), so that every machine searches in the same order and, where
// purchases are equal in everything, finds the same one.
//
//	maximise  Σ value·least - Σ span·excess
//	with      Σ value·coef - excess <= cost  for every variable
//
// It stands here in place of gonum's optimize/convex/lp.Simplex, which was tried on the
// relaxations of the benchmark's orders, given the same dual and the slacks as its start
// (gonum v0.17.0, 2,000 of them at the most, both new each time). It came to the same
// bounds and took 11 times as long for 10 parts and 12 packs, 52 times for 20 and 24, 167
// times for the hard orders, and 2,000 times for 14 mains; for 60 mains it took more than
// minutes. It gives neither the steps nor the ray, and starts from no last solution.
//
// As no cost is below zero, all values zero is a start, and no first phase is
// needed. (The simplex method in dictionary form; bounded variables
// by turning a slack over into the excess. Common knowledge of the subject.)
type tableau struct {
	span  []float64   // by variable
	a     [][]float64 // by variable (basic at first), by column
	rhs   []float64
	gain  []float64 // by column
	total float64   // the bound so far
	basic []symbol
	out   []symbol // not basic: by column

	unit  []float64 // by row: what its numbers are divided by, so that all rows are of like size
	tired bool      // the last solution was given up; start anew

	stops  []stop
	filled []int // the columns in which the line of a pivot is not zero
}

// A symbol is a value of a row, or the slack or excess of a variable.
type symbol struct {
	index  int
	slack  bool // belongs to a variable
	excess bool // turned over: it is the excess
}

const epsilon = 1e-9

func newTableau(x *relaxation) *tableau {
	t := &tableau{
		span:  make([]float64, len(x.free)),
		a:     make([][]float64, len(x.free)),
		rhs:   make([]float64, len(x.free)),
		basic: make([]symbol, len(x.free)),
		gain:  make([]float64, len(x.rows)),
		total: float64(x.fixed),
		out:   make([]symbol, len(x.rows)),
	}
	t.unit = make([]float64, len(x.rows))
	for i, r := range x.rows {
		t.unit[i] = 1
		for _, a := range r.coef {
			t.unit[i] = math.Max(t.unit[i], math.Abs(float64(a)))
		}
		t.gain[i] = float64(r.least) / t.unit[i]
		t.out[i] = symbol{index: i}
	}
	backing := make([]float64, len(x.free)*len(x.rows))
	for k := range x.free {
		t.span[k] = float64(x.span[k])
		t.rhs[k] = float64(x.cost[k])
		t.basic[k] = symbol{index: k, slack: true}
		t.a[k], backing = backing[:len(x.rows):len(x.rows)], backing[len(x.rows):]
		for i, r := range x.rows {
			t.a[k][i] = float64(r.coef[k]) / t.unit[i]
		}
	}
	return t
}

// aim sets what a relaxation of other ranges, with the same coefficients and costs,
// asks for: the lack of each row, the span of each variable, and the fixed cost. The
// values so far are a start for it.
func (t *tableau) aim(x *relaxation) {
	t.total = float64(x.fixed)
	for k, span := range x.span {
		t.span[k] = float64(span)
	}
	clear(t.gain)
	for c, s := range t.out {
		t.gain[c] = t.weight(s, x)
	}
	for k, s := range t.basic {
		w := t.weight(s, x)
		if w == 0 {
			continue
		}
		t.total += float64(w * t.rhs[k])
		for c, a := range t.a[k] {
			if a != 0 {
				t.gain[c] -= float64(w * a)
			}
		}
	}
}

// weight is what one of a symbol adds to the bound.
func (t *tableau) weight(s symbol, x *relaxation) float64 {
	switch {
	case !s.slack:
		return float64(x.rows[s.index].least) / t.unit[s.index]
	case s.excess:
		return -t.span[s.index]
	}
	return 0
}

// solve pivots until no column gains, or the bound is beyond enough, or so often
// that it gives up, which is harmless. It returns the rows' values and the
// variables' steps above lo; and, if the conditions seem to contradict one another,
// the ray: values for which they do so.
func (t *tableau) solve(enough float64) (value, steps, ray []float64) {
	basic, rhs := t.basic, t.rhs
	limit := 2*(len(t.basic)+len(t.out)) + 100
	t.tired = true
	for pivots := 0; pivots < limit; pivots++ {
		if t.total >= enough {
			t.tired = false
			break
		}
		t.turnOver()
		column := t.entering(pivots > limit/2)
		if column < 0 {
			t.tired = false
			break
		}
		leaving := t.leaving(column)
		if leaving < 0 {
			basic, rhs = t.follow(column, enough)
			ray = t.ray(column)
			// What was passed on the way lies beyond its stop: no start for another solution.
			t.tired = slices.ContainsFunc(t.rhs, func(v float64) bool { return v < 0 })
			break
		}
		t.pivot(leaving, column)
	}
	value = make([]float64, len(t.out))
	steps = make([]float64, len(t.span))
	for k, s := range basic {
		switch {
		case !s.slack:
			value[s.index] = math.Max(0, rhs[k]) / t.unit[s.index]
		case s.excess:
			steps[s.index] = t.span[s.index]
		}
	}
	for c, s := range t.out {
		switch {
		case s.slack && s.excess:
			steps[s.index] = t.span[s.index] + t.gain[c]
		case s.slack:
			steps[s.index] = -t.gain[c]
		}
	}
	return value, steps, ray
}

// turnOver exchanges slack and excess where the other one gains.
func (t *tableau) turnOver() {
	for c := range t.out {
		s := &t.out[c]
		if !s.slack {
			continue
		}
		other := -t.gain[c] - t.span[s.index]
		if t.gain[c] > epsilon || other <= epsilon {
			continue
		}
		s.excess = !s.excess
		t.gain[c] = other
		for k := range t.a {
			t.a[k][c] = -t.a[k][c]
		}
	}
}

// entering returns the column that gains most; or, so as not to go in circles,
// the first that gains.
func (t *tableau) entering(first bool) int {
	best, at := epsilon, -1
	for c, g := range t.gain {
		if g > best {
			best, at = g, c
			if first {
				break
			}
		}
	}
	return at
}

// leaving returns the basic symbol at which an entering column stops gaining, or -1.
// On the way a slack may run out: the excess of its variable takes its place, and the
// column gains less from there on, by the variable's span; or an excess runs out, and
// the other way round. Those are exchanged without a pivot. (The long step of the dual
// simplex method with bounds.)
func (t *tableau) leaving(column int) int {
	t.stops = t.stops[:0]
	for k := range t.a {
		if a := t.a[k][column]; a > epsilon {
			t.stops = append(t.stops, stop{k, t.rhs[k] / a})
		}
	}
	gain := t.gain[column]
	passed := 0
	for ; passed < len(t.stops); passed++ {
		next := passed // few are passed, so that the rest need not be sorted
		for i := passed + 1; i < len(t.stops); i++ {
			if s, best := t.stops[i], t.stops[next]; s.at < best.at || s.at == best.at && s.row < best.row {
				next = i
			}
		}
		t.stops[passed], t.stops[next] = t.stops[next], t.stops[passed]
		k := t.stops[passed].row
		s := t.basic[k]
		if !s.slack {
			break
		}
		if gain -= float64(t.span[s.index] * t.a[k][column]); gain <= epsilon {
			break
		}
	}
	for _, s := range t.stops[:passed] {
		t.exchange(s.row)
	}
	if passed == len(t.stops) {
		return -1
	}
	return t.stops[passed].row
}

// A stop is where a basic symbol runs out as a column enters.
type stop struct {
	row int
	at  float64
}

// exchange puts the excess of a variable in the place of its slack, or the other alternative
// round. An excess takes its variable's span from the bound, a slack nothing.
func (t *tableau) exchange(k int) {
	s := &t.basic[k]
	span := t.span[s.index]
	t.total += float64(span * t.rhs[k])
	for c, a := range t.a[k] {
		t.gain[c] -= float64(span * a)
		t.a[k][c] = -a
	}
	t.rhs[k] = -t.rhs[k]
	s.excess = !s.excess
}

// follow goes along a column that nothing stops until the bound is beyond enough:
// the conditions contradict one another. It returns what is basic then, and leaves
// the tableau as it was.
func (t *tableau) follow(column int, enough float64) (basic []symbol, rhs []float64) {
	far := 2 * (enough - t.total + 1) / t.gain[column]
	basic, rhs = t.basic, slices.Clone(t.rhs)
	for k := range t.a {
		rhs[k] -= float64(far * t.a[k][column])
	}
	if s := t.out[column]; !s.slack {
		// The value of the column itself takes the place of a basic one in the result.
		basic = append(slices.Clone(basic), s)
		rhs = append(rhs, far)
	}
	return basic, rhs
}

// ray returns by how much the values change along a column, the largest by one.
func (t *tableau) ray(column int) []float64 {
	ray := make([]float64, len(t.out))
	largest := 0.0
	if s := t.out[column]; !s.slack {
		ray[s.index] = 1 / t.unit[s.index]
	}
	for k, s := range t.basic {
		if !s.slack {
			ray[s.index] = math.Max(0, -t.a[k][column]) / t.unit[s.index]
		}
	}
	for _, v := range ray {
		largest = math.Max(largest, v)
	}
	for i := range ray {
		ray[i] /= largest
	}
	return ray
}

// clone returns a tableau of its own at the same point.
func (t *tableau) clone() *tableau {
	u := *t
	u.span, u.rhs, u.gain = slices.Clone(t.span), slices.Clone(t.rhs), slices.Clone(t.gain)
	u.basic, u.out, u.filled, u.stops = slices.Clone(t.basic), slices.Clone(t.out), nil, nil
	backing := make([]float64, len(t.a)*len(t.out))
	u.a = make([][]float64, len(t.a))
	for k, line := range t.a {
		u.a[k], backing = backing[:len(line):len(line)], backing[len(line):]
		copy(u.a[k], line)
	}
	return &u
}

func (t *tableau) pivot(k, c int) {
	line := t.a[k]
	inverse := 1 / line[c]
	t.filled = t.filled[:0] // most of a line is empty: a fit takes two parts of all there are
	for j := range line {
		if line[j] != 0 {
			line[j] *= inverse
			t.filled = append(t.filled, j)
		}
	}
	line[c] = inverse
	t.rhs[k] *= inverse
	for i := range t.a {
		if i == k || t.a[i][c] == 0 {
			continue
		}
		f := t.a[i][c]
		other := t.a[i]
		for _, j := range t.filled {
			other[j] -= float64(f * line[j])
		}
		other[c] = -f * inverse
		t.rhs[i] -= float64(f * t.rhs[k])
		if t.rhs[i] < 0 {
			t.rhs[i] = 0 // rounding only
		}
	}
	f := t.gain[c]
	t.total += float64(f * t.rhs[k])
	for _, j := range t.filled {
		t.gain[j] -= float64(f * line[j])
	}
	t.gain[c] = -f * inverse
	t.basic[k], t.out[c] = t.out[c], t.basic[k]
}
