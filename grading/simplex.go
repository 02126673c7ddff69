package grading

import "math"

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
	for i, r := range x.rows {
		t.gain[i] = float64(r.least)
		t.out[i] = symbol{index: i}
	}
	room := make([]float64, len(x.free)*len(x.rows))
	for k := range x.free {
		t.span[k] = float64(x.span[k])
		t.rhs[k] = float64(x.cost[k])
		t.basic[k] = symbol{index: k, slack: true}
		t.a[k], room = room[:len(x.rows):len(x.rows)], room[len(x.rows):]
		for i, r := range x.rows {
			t.a[k][i] = float64(r.coef[k])
		}
	}
	return t
}

// solve pivots until no column gains, or the bound is beyond enough, or so often
// that it gives up, which is harmless. It returns the rows' values and the
// variables' steps above lo.
func (t *tableau) solve(enough float64) (value, steps []float64) {
	limit := 20 * (len(t.basic) + len(t.out) + 5)
	for pivots := 0; pivots < limit && t.total < enough; pivots++ {
		t.turnOver()
		column := t.entering(pivots > limit/2)
		if column < 0 {
			break
		}
		leaving := t.leaving(column)
		if leaving < 0 {
			t.follow(column, enough)
			break
		}
		t.pivot(leaving, column)
	}
	value = make([]float64, len(t.out))
	steps = make([]float64, len(t.span))
	for k, s := range t.basic {
		switch {
		case !s.slack:
			value[s.index] = math.Max(0, t.rhs[k])
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
	return value, steps
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

func (t *tableau) leaving(column int) int {
	at, least := -1, math.Inf(1)
	for k := range t.a {
		if a := t.a[k][column]; a > epsilon {
			if ratio := t.rhs[k] / a; ratio < least {
				at, least = k, ratio
			}
		}
	}
	return at
}

// follow goes along a column that nothing stops until the bound is beyond enough:
// the conditions contradict one another.
func (t *tableau) follow(column int, enough float64) {
	far := 2 * (enough - t.total + 1) / t.gain[column]
	for k := range t.a {
		t.rhs[k] -= float64(far * t.a[k][column])
	}
	if s := t.out[column]; !s.slack {
		// The value of the column itself takes the place of a basic one in the result.
		t.basic = append(t.basic, s)
		t.rhs = append(t.rhs, far)
	}
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
