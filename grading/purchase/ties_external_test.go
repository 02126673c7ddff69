package purchase_test

import (
	"context"
	"fmt"
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
		n := need{Name: fmt.Sprint("need ", i), N: rapid.IntRange(1, 5-2*len(parts)+i).Draw(t, "n")}
		for range rapid.IntRange(1, len(parts)).Draw(t, "alternatives") {
			n.Alternatives = append(n.Alternatives, alternative{Parts: []name{rapid.SampledFrom(parts).Draw(t, "part")},
				Distance: units.Micrometre.OfInt(rapid.Int64Range(0, 1).Draw(t, "distance"))})
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

// aims are the price in cents and what the documentation puts after it, in turn.
type aims [6]int64

// best tries every purchase with every way to serve the needs from it, and returns the best
// aims; ok is false if nothing serves.
func best(o order) (least aims, ok bool) {
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
				left[a.Parts[0]]--
				serve(next, from+1)
				left[a.Parts[0]]++
			}
			return
		}
		for _, n := range left {
			if n < 0 {
				return
			}
			at[2] += int64(n)
		}
		if !ok || slices.Compare(at[:], least[:]) < 0 {
			least, ok = at, true
		}
	}
	var buy func(at aims, j int)
	buy = func(at aims, j int) {
		if j == len(o.Packs) {
			serve(at, 0)
			return
		}
		p := o.Packs[j]
		limit := len(places)
		if p.Limit != nil {
			limit = min(limit, *p.Limit)
		}
		for n := 0; n <= limit && (!ok || at[0] <= least[0]); n++ {
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
