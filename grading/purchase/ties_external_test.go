package purchase_test

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// drawTies draws a small order of which many purchases cost the same: of one part, which a
// table answers, or of two with alternatives, which a search does.
func drawTies(t *rapid.T) order {
	var o order
	parts := few[:rapid.IntRange(1, 2).Draw(t, "parts")]
	for i := range rapid.IntRange(1, 2).Draw(t, "needs") {
		n := need{Name: fmt.Sprint("need ", i), N: rapid.IntRange(1, 4-len(parts)).Draw(t, "n")}
		for range rapid.IntRange(1, len(parts)).Draw(t, "alternatives") {
			a := alternative{Parts: []name{rapid.SampledFrom(parts).Draw(t, "part")},
				Distance: units.Micrometre.OfInt(rapid.Int64Range(0, 1).Draw(t, "distance"))}
			if rapid.IntRange(0, 3).Draw(t, "of two parts") == 0 {
				a.Parts = append(a.Parts, rapid.SampledFrom(parts).Draw(t, "second part"))
			}
			n.Alternatives = append(n.Alternatives, a)
		}
		o.Needs = append(o.Needs, n)
	}
	for i := range rapid.IntRange(2, 4).Draw(t, "packs") {
		p := pack{Name: fmt.Sprint("pack ", i), Price: new(decimal.NewFromInt(rapid.Int64Range(1, 3).Draw(t, "price")))}
		for k, part := range parts {
			if n := rapid.IntRange(0, 3).Draw(t, "holds"); n > 0 || k == i%len(parts) {
				p.Parts = append(p.Parts, some{Part: part, N: max(1, n)})
			}
		}
		if rapid.Bool().Draw(t, "limited") {
			p.Limit = new(rapid.IntRange(1, 3).Draw(t, "limit"))
		}
		o.Packs = append(o.Packs, p)
	}
	return o
}

// drawTrades draws an order of up to four places that any of three parts serves, each part
// sold by itself at a price of its own, and some of them together.
func drawTrades(t *rapid.T) order {
	var o order
	for i := range 2 {
		n := need{Name: fmt.Sprint("need ", i), N: rapid.IntRange(1, 2).Draw(t, "n")}
		for _, part := range few {
			n.Alternatives = append(n.Alternatives, alternative{Parts: []name{part}, Distance: units.Micrometre.OfInt(rapid.Int64Range(0, 9).Draw(t, "distance"))})
		}
		o.Needs = append(o.Needs, n)
	}
	for i, part := range few {
		o.Packs = append(o.Packs, pack{Name: "one " + part.String(), Price: new(decimal.NewFromInt(rapid.Int64Range(1, 9).Draw(t, "price"))), Parts: []some{{Part: part, N: 1 + i%2}}})
	}
	o.Packs = append(o.Packs, pack{Name: "mixed", Price: new(decimal.NewFromInt(rapid.Int64Range(3, 9).Draw(t, "price"))), Limit: new(1), Parts: []some{{Part: "A", N: 1}, {Part: "C", N: 1}}})
	return o
}

// aims are the price in cents and what the documentation puts after it, in turn.
type aims [6]int64

// every visits what each purchase comes to, with every way to serve the needs from it; those
// of a price that is too dear are left out.
func every(o order, tooDear func(price int64) bool, visit func(aims)) {
	var places [][]alternative
	for _, n := range o.Needs {
		for range n.N {
			places = append(places, n.Alternatives)
		}
	}
	left := map[name]int{}
	var serve func(at aims, from int)
	serve = func(at aims, from int) {
		if from < len(places) {
			for k, a := range places[from] {
				next := at
				next[1] += a.Distance.In(units.Micrometre, 0).IntPart()
				next[4] += int64(k)
				for _, part := range a.Parts {
					left[part]--
				}
				serve(next, from+1)
				for _, part := range a.Parts {
					left[part]++
				}
			}
			return
		}
		for _, n := range left {
			if n < 0 {
				return
			}
			at[2] += int64(n)
		}
		visit(at)
	}
	var buy func(at aims, j int)
	buy = func(at aims, j int) {
		if j == len(o.Packs) {
			serve(at, 0)
			return
		}
		p := o.Packs[j]
		limit := 2 * len(places)
		if p.Limit != nil {
			limit = min(limit, *p.Limit)
		}
		for n := 0; n <= limit && !tooDear(at[0]); n++ {
			buy(at, j+1)
			at[0] += p.Price.Shift(2).IntPart()
			at[3]++
			at[5] += int64(j)
			for _, c := range p.Parts {
				left[c.Part] += c.N
			}
			defer func() {
				for _, c := range p.Parts {
					left[c.Part] -= c.N
				}
			}()
		}
	}
	buy(aims{}, 0)
}

// best returns the best aims of every purchase; ok is false if nothing serves.
func best(o order) (least aims, ok bool) {
	every(o, func(price int64) bool { return ok && price > least[0] }, func(at aims) {
		if !ok || slices.Compare(at[:], least[:]) < 0 {
			least, ok = at, true
		}
	})
	return least, ok
}

// TestTiesAgainstEveryPurchase: of all purchases of the least price, the one with the smallest
// sum of distances, then the fewest parts left over, packs, and places in the lists.
func TestTiesAgainstEveryPurchase(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawTies(t)
		want, ok := best(o)
		p, err := purchase.Cheapest(context.Background(), o)
		if !ok {
			if err == nil {
				t.Fatalf("%v, where nothing serves", p)
			}
			return
		}
		if err != nil || p.Unproven != "" {
			t.Fatal(err, p.Unproven)
		}
		got := aims{0: p.Price.Shift(2).IntPart(), 1: p.Distance.In(units.Micrometre, 0).IntPart()}
		for _, c := range p.Leftover {
			got[2] += int64(c.N)
		}
		for _, b := range p.Packs {
			got[3] += int64(b.N)
			got[5] += int64(b.N * slices.IndexFunc(o.Packs, func(q pack) bool { return q.Name == b.Pack.Name }))
		}
		for _, s := range p.Served {
			got[4] += int64(s.N * s.Alternative)
		}
		if got != want {
			t.Fatalf("%v, want %v", got, want)
		}
	})
}

// TestTradesAgainstEveryPurchase: the trades are, of every purchase, those that nothing
// beats in price and distance together; of too many the cheapest and the nearest.
func TestTradesAgainstEveryPurchase(t *testing.T) {
	lengths := map[int]int{}
	rapid.Check(t, func(t *rapid.T) {
		o := drawTrades(t)
		cheapest, err := purchase.Cheapest(context.Background(), o)
		if err != nil {
			return
		}
		nearest := map[int64]int64{} // by price: the least distance
		every(o, func(int64) bool { return false }, func(at aims) {
			if d, known := nearest[at[0]]; !known || at[1] < d {
				nearest[at[0]] = at[1]
			}
		})
		var want [][2]int64
		for _, price := range slices.Sorted(maps.Keys(nearest)) {
			if d := nearest[price]; len(want) == 0 || d < want[len(want)-1][1] {
				want = append(want, [2]int64{price, d})
			}
		}
		lengths[len(want)]++
		most := rapid.IntRange(2, 5).Draw(t, "most")
		whole := len(want) <= most
		if !whole {
			want = append(want[:most-1], want[len(want)-1])
		}
		trades, complete, err := purchase.Trades(context.Background(), o, cheapest, most)
		if err != nil || complete != whole {
			t.Fatalf("complete %v, want %v, error %v", complete, whole, err)
		}
		var got [][2]int64
		for _, p := range trades {
			keeps(t, o, p)
			got = append(got, [2]int64{p.Price.Shift(2).IntPart(), p.Distance.In(units.Micrometre, 0).IntPart()})
		}
		if !slices.Equal(got, want) {
			t.Fatalf("%v, want %v", got, want)
		}
	})
	if lengths[3]+lengths[4]+lengths[5] == 0 {
		t.Errorf("no order has three trades or more: %v", lengths)
	}
}
