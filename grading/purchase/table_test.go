package purchase

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestGridAgainstEveryPurchase: the grid finds, of all purchases that serve, one of the least
// price, then of the least contents, packs and places.
func TestGridAgainstEveryPurchase(t *testing.T) {
	grids := 0
	rapid.Check(t, func(t *rapid.T) {
		c := &component{}
		for i := range rapid.IntRange(1, 3).Draw(t, "parts") {
			c.parts = append(c.parts, i)
			c.stock = append(c.stock, rapid.Int64Range(0, 2).Draw(t, "stock"))
			c.fixed = append(c.fixed, c.stock[i]+rapid.Int64Range(1, 6).Draw(t, "missing"))
		}
		lot := rapid.Int64Range(1, 2).Draw(t, "lot") // of the first part
		for j := range rapid.IntRange(1, 4).Draw(t, "boxes") {
			b := box{name: fmt.Sprint(j), place: j, price: rapid.Int64Range(1, 4).Draw(t, "price"),
				size: rapid.Int64Range(0, 2).Draw(t, "contents that cannot be short"), limit: rapid.Int64Range(1, 6).Draw(t, "limit")}
			for i := range c.parts {
				n := rapid.Int64Range(0, 3).Draw(t, "holds")
				if i == 0 {
					n *= lot
				}
				b.holds, b.size = append(b.holds, n), b.size+n
			}
			c.boxes = append(c.boxes, b)
		}
		// What x comes to, and whether it serves.
		sums := func(x []int64) (of [4]int64, serves bool) {
			serves = true
			for i := range c.parts {
				n := c.stock[i] - c.fixed[i]
				for j, b := range c.boxes {
					n += x[j] * b.holds[i]
				}
				serves = serves && n >= 0
			}
			for j, b := range c.boxes {
				of[0], of[1], of[2], of[3] = of[0]+x[j]*b.price, of[1]+x[j]*b.size, of[2]+x[j], of[3]+x[j]*int64(b.place)
			}
			return of, serves
		}
		var want [4]int64
		var any bool
		x := make([]int64, len(c.boxes))
		var buy func(j int)
		buy = func(j int) {
			if j == len(x) {
				if of, serves := sums(x); serves && (!any || slices.Compare(of[:], want[:]) < 0) {
					want, any = of, true
				}
				return
			}
			for x[j] = 0; x[j] <= c.boxes[j].limit; x[j]++ {
				buy(j + 1)
			}
		}
		buy(0)
		g := c.newGrid()
		if g == nil {
			if _, decides := c.axis(); decides {
				t.Fatal("no grid")
			}
			return
		}
		grids++
		got := g.solve(c)
		if (got != nil) != any {
			t.Fatalf("served %v, want %v", got != nil, any)
		}
		if !any {
			return
		}
		for j, n := range got {
			if n > c.boxes[j].limit {
				t.Fatalf("%d of box %d", n, j)
			}
		}
		if of, serves := sums(got); !serves || of != want {
			t.Fatalf("%v comes to %v and serves: %v; want %v", got, of, serves, want)
		}
	})
	if grids == 0 {
		t.Error("no component had a grid")
	}
}

// A bundle is bought whole or not at all, and those of a box make every number up to its limit.
func TestBundlesMakeEveryNumber(t *testing.T) {
	for limit := int64(1); limit <= 40; limit++ {
		c := &component{parts: []int{0}, stock: []int64{0}, fixed: []int64{100}, boxes: []box{{holds: []int64{1}, limit: limit}}}
		makes := map[int64]bool{0: true}
		for _, b := range c.newGrid().bundles {
			for n := limit; n >= 0; n-- {
				if makes[n] {
					makes[n+b.n] = true
				}
			}
		}
		if int64(len(makes)) != limit+1 || !makes[limit] {
			t.Errorf("limit %d: %v", limit, makes)
		}
	}
}

// A part decides if all others are there in plenty whenever it is.
func TestPartThatDecides(t *testing.T) {
	for _, test := range []struct {
		name    string
		missing []int64
		holds   [][]int64 // by box
		want    int       // -1 if none does
	}{
		// Six of the second are three boxes, which hold at least 12 of the first.
		{"the first follows", []int64{8, 6}, [][]int64{{6, 2}, {4, 2}}, 1},
		// Eight of the first are four boxes, which hold at least 8 of the second.
		{"the second follows", []int64{8, 6}, [][]int64{{2, 2}, {2, 4}}, 0},
		// Two boxes of one kind hold 8 of one part, but 4 of the other.
		{"neither follows", []int64{8, 8}, [][]int64{{4, 2}, {2, 4}}, -1},
		{"each follows, and the first stays", []int64{2, 4}, [][]int64{{1, 2}, {3, 6}}, 0},
		// The second decides for the first and not for the third, which decides for none.
		{"two of three", []int64{8, 6, 6}, [][]int64{{6, 2, 1}, {4, 2, 6}}, -1},
		{"alone", []int64{3}, [][]int64{{2}}, 0},
	} {
		c := &component{parts: make([]int, len(test.missing)), stock: make([]int64, len(test.missing)), fixed: test.missing}
		for _, holds := range test.holds {
			c.boxes = append(c.boxes, box{holds: holds, limit: 9})
		}
		got, ok := c.axis()
		if ok != (test.want >= 0) || ok && got.part != test.want {
			t.Errorf("%s: part %d, %v; want %d", test.name, got.part, ok, test.want)
		}
	}
}
