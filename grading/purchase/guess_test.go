package purchase

import (
	"context"
	"slices"
	"testing"
)

type label string

func (l label) String() string { return string(l) }

// Packs are filled in by what they give for their price, as many at once as are needed
// whole: of 5 missing and a pack of 1 at 2, five packs and no more of the nine on sale; of a
// pack of 2 at 3 beside it, two, and then a single for the last one.
func TestFill(t *testing.T) {
	one, two := box{holds: []int64{1}}, box{holds: []int64{2}}
	for _, test := range []struct {
		name           string
		boxes          []box
		cost, hi, want []int64
	}{
		{"singles", []box{one}, []int64{2}, []int64{9}, []int64{5}},
		{"singles, too few", []box{one}, []int64{2}, []int64{4}, nil},
		{"pairs and singles", []box{one, two}, []int64{2, 3}, []int64{9, 9}, []int64{1, 2}},
		{"pairs that run out", []box{one, two}, []int64{2, 3}, []int64{9, 1}, []int64{3, 1}},
		{"the last one by a pair", []box{two}, []int64{3}, []int64{9}, []int64{3}},
	} {
		c, p, x := &component{boxes: test.boxes}, &program{cost: test.cost}, make([]int64, len(test.boxes))
		if filled := c.fill(p, test.hi, x, []int64{5}); filled != (test.want != nil) || filled && !slices.Equal(x, test.want) {
			t.Errorf("%s: %v %v, want %v", test.name, filled, x, test.want)
		}
	}
}

// Sums are kept within 2^62 either way, and products that go beyond are noticed.
func TestSumNoticesWhatDoesNotFit(t *testing.T) {
	const half = 1 << 31
	for _, test := range []struct {
		terms [][2]int64
		ok    bool
	}{
		{[][2]int64{{half, half}}, true},
		{[][2]int64{{-half, half}}, true},
		{[][2]int64{{half, half}, {1, 1}}, false},
		{[][2]int64{{-half, half}, {1, -1}}, false},
		{[][2]int64{{half + 1, half}, {-half, half}}, false},
		{[][2]int64{{1 << 40, 1 << 40}}, false},
		{[][2]int64{{half, half}, {-half, half}, {-3, 5}}, true},
	} {
		s := sum{ok: true}
		for _, f := range test.terms {
			s.add(f[0], f[1])
		}
		if s.ok != test.ok {
			t.Errorf("%v: fits %v", test.terms, s.ok)
		}
	}
}

// An aim that was given up counts for nothing in the list of trades.
func TestOnlyProvenOutcomesCount(t *testing.T) {
	var trades trading
	found := outcome{x: []int64{1}, least: 3}
	if o, err := trades.whole(found, nil); o.x != nil || err != nil {
		t.Errorf("not proven: %+v, %v", o, err)
	}
	found.proven = true
	if o, err := trades.whole(found, nil); o.x == nil || err != nil {
		t.Errorf("proven: %+v, %v", o, err)
	}
	if o, err := trades.whole(found, context.Canceled); o.x != nil || err == nil {
		t.Errorf("broken off: %+v, %v", o, err)
	}
}

// A case in which one row cannot be satisfied is closed by that row, whichever it is. At
// most two of a variable never make three.
func TestCaseClosedByOneRow(t *testing.T) {
	never, easy := row{coef: []int64{1}, least: 3}, row{coef: []int64{1}, least: 1}
	for i, rows := range [][]row{{never, easy}, {easy, never}} {
		for _, proving := range []bool{false, true} {
			p := &program{cost: []int64{1}, lo: []int64{0}, hi: []int64{2}, rows: rows, classes: [][]int{{0}}, proving: proving}
			o, err := p.solve(t.Context(), nil)
			if err != nil || !o.proven || o.x != nil || o.examined != 1 || o.tree.low != nil || o.tree.lacks != i || o.tree.value != nil {
				t.Errorf("row %d, proving %v: %+v, %+v, %v", i, proving, o, o.tree, err)
			}
		}
	}
}

// Three places take A or B, which are sold two A at a time and one B at a time. Leaning
// to 1.7 of A and 1.3 of B, two places take A and one takes B: one pack of each.
func TestGuess(t *testing.T) {
	o := pairsAndSingles()
	r, err := o.read()
	if err != nil {
		t.Fatal(err)
	}
	kept, _ := r.refuse(r.limits())
	components := r.split(kept)
	if len(components) != 1 || len(components[0].boxes) != 2 {
		t.Fatal("not one component of two packs")
	}
	c := components[0]
	p := c.program()
	p.cost = c.prices().cost
	for _, test := range []struct {
		name   string
		hi     []int64 // of A and B
		leans  []float64
		served []int64
		bought map[string]int64
	}{
		{"leaning to A", []int64{3, 3}, []float64{1.7, 1.3}, []int64{2, 1}, map[string]int64{"two A": 1, "one B": 1}},
		{"leaning to B", []int64{3, 3}, []float64{1.4, 1.6}, []int64{1, 2}, map[string]int64{"two A": 1, "one B": 2}},
		{"no more of A", []int64{1, 3}, []float64{1, 1.3}, []int64{1, 2}, map[string]int64{"two A": 1, "one B": 2}},
		{"whole already", []int64{3, 3}, []float64{3, 0}, []int64{3, 0}, map[string]int64{"two A": 2, "one B": 0}},
		{"no place left", []int64{1, 1}, []float64{1, 1}, nil, nil},
	} {
		lo, hi, near := slices.Clone(p.lo), slices.Clone(p.hi), make([]float64, len(p.lo))
		copy(hi[2:], test.hi)
		copy(near[2:], test.leans)
		x := p.guess(lo, hi, near)
		if test.served == nil {
			if x != nil {
				t.Errorf("%s: %v", test.name, x)
			}
			continue
		}
		if x == nil || !slices.Equal(x[2:], test.served) {
			t.Errorf("%s: %v, want %v served", test.name, x, test.served)
			continue
		}
		for j, b := range c.boxes {
			if x[j] != test.bought[b.name] {
				t.Errorf("%s: %d × %s, want %d", test.name, x[j], b.name, test.bought[b.name])
			}
		}
	}
}
