package purchase

import (
	"context"
	"reflect"
	"testing"

	"github.com/shopspring/decimal"
)

// Fifteen are missing, sold by three at 7 and by five at 11. Five at 11 give the best worth,
// 11/5 each, and 15 × 11/5 = 33 is the price of three packs. Shorter worths are
//
//	2/1: 15 × 2 = 30, too little
//	4/2: 15 × 4 / 2 = 30, too little
//	7/3: 15 × 7 = 105; three packs of five at 11 × 3 = 33 cost 2 less than their worth of
//	     35, so that (105 - 3 × 2) / 3 = 33 are proven.
func TestProofHasShortWorths(t *testing.T) {
	p, err := Cheapest(context.Background(), Request[label]{
		Needs: []Need[label]{{Name: "main", N: 15, Alternatives: []Alternative[label]{{Parts: []label{"A"}}}}},
		Packs: []Pack[label]{
			{Name: "five", Price: new(decimal.New(11, 0)), Parts: []Count[label]{{"A", 5}}},
			{Name: "three", Price: new(decimal.New(7, 0)), Parts: []Count[label]{{"A", 3}}}},
	})
	if err != nil {
		t.Fatal(err)
	}
	want := []Case{{Scale: 3, Worth: []int64{7}, Missing: []int64{15}, Dearer: []int64{-2, 0}, Bought: []int64{-6, 0}, Served: []int64{}, Sum: 99, Least: 33}}
	k := p.Proof.Components[0]
	if k.Lines[0][0] != "five" {
		want[0].Dearer, want[0].Bought = []int64{0, -2}, []int64{0, -6}
	}
	if !reflect.DeepEqual(k.Cases, want) {
		t.Errorf("%+v, want %+v", k.Cases, want)
	}
}

// What costs nothing is counted in whole units of money.
func TestProofOfWhatIsFree(t *testing.T) {
	p, err := Cheapest(context.Background(), Request[label]{
		Needs: []Need[label]{{Name: "main", N: 2, Alternatives: []Alternative[label]{{Parts: []label{"A"}}}}},
		Packs: []Pack[label]{{Name: "free", Price: new(decimal.Zero), Parts: []Count[label]{{"A", 1}}}},
	})
	if err != nil || !p.Price.IsZero() || !p.Proof.Components[0].Unit.Equal(decimal.New(1, 0)) {
		t.Errorf("%+v, %v; want units of 1", p, err)
	}
}

// pairsAndSingles asks for three places that take A or B, of which two A cost 5 and one B costs 4.
func pairsAndSingles() Request[label] {
	return Request[label]{
		Needs: []Need[label]{{Name: "main", N: 3, Alternatives: []Alternative[label]{{Parts: []label{"A"}}, {Parts: []label{"B"}}}}},
		Packs: []Pack[label]{
			{Name: "two A", Price: new(decimal.New(5, 0)), Parts: []Count[label]{{"A", 2}}},
			{Name: "one B", Price: new(decimal.New(4, 0)), Parts: []Count[label]{{"B", 1}}}},
	}
}

// The sums of a case, worked by hand. Three places take A or B; two A cost 5, one B costs 4.
func TestSumsOfACase(t *testing.T) {
	o := pairsAndSingles()
	r, err := o.read()
	if err != nil {
		t.Fatal(err)
	}
	kept, _ := r.refuse(r.limits())
	c := r.split(kept)[0]
	w := newWriter(c, answer{tree: &tree{}})
	// Numbers of: the boxes two A and one B, then the places served by A and by B.
	lo, hi := []int64{0, 1, 1, 0}, []int64{1, 3, 2, 3}
	if c.boxes[0].name != "two A" {
		t.Fatalf("%v", c.boxes)
	}
	// At 1/2 each: A is worth 6 and B 8. One B is bought in any case: of B -1 is missing.
	// Two A cost 10 and add 2 × 6: -2 each. One B costs 8 and adds 8: 0; one is bought, 8.
	// Served: one by A in any case, 6; one more by A, 6, as A may serve two; one by B, 8.
	// Sum = -8 + 20 - 2 + 8 = 18, and 18/2 = 9 = 5 + 4.
	want := &Case{Scale: 2, Worth: []int64{6, 8}, Missing: []int64{0, -1}, Dearer: []int64{-2, 0}, Bought: []int64{-2, 8}, Served: []int64{20}, Sum: 18, Least: 9}
	if got := w.sums([]int64{6, 8}, 2, lo, hi); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	// With at most one of each, one place of three is open.
	got := w.sums([]int64{0, 0}, 0, []int64{0, 0, 0, 0}, []int64{2, 3, 1, 1})
	if got == nil || got.Served[0] != 1 || got.Sum != 1 || got.Least != 0 {
		t.Errorf("%+v, want one place open", got)
	}
	// 5 × 2⁶² is no int64.
	if got := w.sums([]int64{0, 0}, 1<<62, []int64{0, 0, 0, 0}, []int64{2, 3, 3, 3}); got != nil {
		t.Errorf("%+v, want none", got)
	}
}
