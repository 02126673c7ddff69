package purchase

import (
	"slices"
	"testing"

	"github.com/shopspring/decimal"
)

type label string

func (l label) String() string { return string(l) }

// Three places take A or B, which are sold two A at a time and one B at a time. Leaning
// to 1.7 of A and 1.3 of B, two places take A and one takes B: one pack of each.
func TestGuess(t *testing.T) {
	o := Request[label]{
		Needs: []Need[label]{{Name: "main", N: 3, Alternatives: []Alternative[label]{{Parts: []label{"A"}}, {Parts: []label{"B"}}}}},
		Packs: []Pack[label]{
			{Name: "two A", Price: new(decimal.New(5, 0)), Parts: []Count[label]{{"A", 2}}},
			{Name: "one B", Price: new(decimal.New(4, 0)), Parts: []Count[label]{{"B", 1}}}},
	}
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
