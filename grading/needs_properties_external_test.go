package grading_test

import (
	"context"
	"slices"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/grading"
)

// drawLargeOrder draws orders of the size that people have: too large to try
// every purchase.
func drawLargeOrder(t *rapid.T) order {
	seed := rapid.Uint64().Draw(t, "seed")
	o := mixedOrder(seed, rapid.IntRange(1, 10).Draw(t, "parts"), rapid.IntRange(1, 20).Draw(t, "most"), rapid.IntRange(1, 8).Draw(t, "packs"))
	for range rapid.IntRange(0, 3).Draw(t, "substitutes") {
		i, k := rapid.IntRange(0, 9).Draw(t, "for"), rapid.IntRange(0, 9).Draw(t, "use")
		o.Substitutes = append(o.Substitutes, substitute{For: numbered(i), Use: numbered(k)})
	}
	return o
}

func mustBuy(t *rapid.T, o order) *bought {
	p, err := buy(context.Background(), o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestPurchaseAndStockCoverTheDemand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawLargeOrder(t)
		p := mustBuy(t, o)
		left := map[grading.Part]int{}
		for _, c := range o.Stock {
			left[c.Part] += c.N
		}
		price := decimal.Zero
		for _, b := range p.Packs {
			price = price.Add(b.Pack.Price.Mul(decimal.NewFromInt(int64(b.N))))
			for _, c := range b.Pack.Parts {
				left[c.Part] += b.N * c.N
			}
		}
		if !price.Equal(p.Price) {
			t.Errorf("the packs cost %s, not %s", price, p.Price)
		}
		served := map[grading.Part]int{}
		for _, u := range usesOf(o, p) {
			left[u.Use] -= u.N
			served[u.For] += u.N
			if u.For != u.Use && !slices.Contains(o.Substitutes, substitute{For: u.For, Use: u.Use}) {
				t.Errorf("%s may not stand in for %s", u.Use, u.For)
			}
		}
		for _, d := range o.Demand {
			served[d.Part] -= d.N
		}
		for part, n := range served {
			if n != 0 {
				t.Errorf("%s: %d more served than wanted", part, n)
			}
		}
		for _, c := range p.Leftover {
			left[c.Part] -= c.N
		}
		for part, n := range left {
			if n != 0 {
				t.Errorf("%s: %d unaccounted for", part, n)
			}
		}
	})
}

func TestMoreStockNeverCostsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawLargeOrder(t)
		before := mustBuy(t, o).Price
		o.Stock = append(slices.Clone(o.Stock), count{Part: numbered(rapid.IntRange(0, 9).Draw(t, "part")), N: rapid.IntRange(1, 9).Draw(t, "n")})
		if after := mustBuy(t, o).Price; after.GreaterThan(before) {
			t.Errorf("%s with more stock, %s without", after, before)
		}
	})
}

func TestMorePacksOnSaleNeverCostMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawLargeOrder(t)
		before := mustBuy(t, o).Price
		o.Packs = append(slices.Clone(o.Packs), box{Name: "one more", Price: new(decimal.New(rapid.Int64Range(0, 9999).Draw(t, "price"), -2)),
			Parts: []count{{Part: numbered(rapid.IntRange(0, 9).Draw(t, "part")), N: rapid.IntRange(1, 9).Draw(t, "n")}}})
		if after := mustBuy(t, o).Price; after.GreaterThan(before) {
			t.Errorf("%s with one more pack on sale, %s without", after, before)
		}
	})
}

// Renaming every grade changes nothing but the names.
func TestRenamingGradesChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawLargeOrder(t)
		names := rapid.Permutation([]string{"e", "d", "c", "b", "a"}).Draw(t, "names")
		rename := func(p grading.Part) grading.Part {
			return grading.Part{Grade: "new " + names[p.Grade[0]-'0'], Half: p.Half}
		}
		renamed := func(counts []count) []count {
			counts = slices.Clone(counts)
			for i := range counts {
				counts[i].Part = rename(counts[i].Part)
			}
			return counts
		}
		r := order{Demand: renamed(o.Demand), Stock: renamed(o.Stock), Packs: slices.Clone(o.Packs)}
		for i := range r.Packs {
			r.Packs[i].Parts = renamed(r.Packs[i].Parts)
		}
		for _, s := range o.Substitutes {
			r.Substitutes = append(r.Substitutes, substitute{For: rename(s.For), Use: rename(s.Use)})
		}
		p, q := mustBuy(t, o), mustBuy(t, r)
		if boughtText(p.Packs) != boughtText(q.Packs) || !p.Price.Equal(q.Price) || !slices.Equal(renamed(p.Leftover), q.Leftover) {
			t.Errorf("bought %s for %s with %v over; renamed, %s for %s with %v over",
				boughtText(p.Packs), p.Price, p.Leftover, boughtText(q.Packs), q.Price, q.Leftover)
		}
	})
}
