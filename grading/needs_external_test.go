package grading_test

import (
	"context"
	"errors"
	"slices"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
)

// slowBuy tries every purchase: the plain reference that Buy is checked against.
// It returns price, parts left over, number of packs and the sum of their places
// in the list, of the best one.
func slowBuy(o order) (price decimal.Decimal, ties [3]int, ok bool) {
	supply := map[grading.Part]int{}
	demand := map[grading.Part]int{}
	need, have := 0, 0
	for _, d := range o.Demand {
		demand[d.Part] += d.N
		need += d.N
	}
	for _, s := range o.Stock {
		supply[s.Part] += s.N
		have += s.N
	}
	var try func(j int, cost decimal.Decimal, parts, number, places int)
	try = func(j int, cost decimal.Decimal, parts, number, places int) {
		if j == len(o.Packs) {
			if !slowServes(o, demand, supply) {
				return
			}
			these := [3]int{have + parts - need, number, places}
			if !ok || cost.LessThan(price) || cost.Equal(price) && slices.Compare(these[:], ties[:]) < 0 {
				price, ties, ok = cost, these, true
			}
			return
		}
		p := o.Packs[j]
		size := 0
		for _, c := range p.Parts {
			size += c.N
		}
		limit := need
		if p.Limit != nil {
			limit = min(limit, *p.Limit)
		}
		for n := 0; n <= limit; n++ {
			try(j+1, cost.Add(p.Price.Mul(decimal.NewFromInt(int64(n)))), parts+n*size, number+n, places+n*j)
			for _, c := range p.Parts {
				supply[c.Part] += c.N
			}
		}
		for _, c := range p.Parts {
			supply[c.Part] -= (limit + 1) * c.N
		}
	}
	try(0, decimal.Zero, 0, 0, 0)
	return price, ties, ok
}

// slowServes tries every way of serving the demand.
func slowServes(o order, demand, supply map[grading.Part]int) bool {
	for part, n := range demand {
		if n == 0 {
			continue
		}
		ways := map[grading.Part]bool{part: true}
		for _, s := range o.Substitutes {
			if s.For == part {
				ways[s.Use] = true
			}
		}
		for use := range ways {
			if supply[use] == 0 {
				continue
			}
			demand[part]--
			supply[use]--
			serves := slowServes(o, demand, supply)
			demand[part]++
			supply[use]++
			if serves {
				return true
			}
		}
		return false
	}
	return true
}

var fewParts = []grading.Part{
	{Grade: "A", Half: grading.Upper}, {Grade: "A", Half: grading.Lower}, {Grade: "B", Half: grading.Upper},
}

func drawCounts(t *rapid.T, label string, least, most int) []count {
	var counts []count
	for _, p := range fewParts {
		if n := rapid.IntRange(least, most).Draw(t, label+" "+p.String()); n > 0 {
			counts = append(counts, count{Part: p, N: n})
		}
	}
	return counts
}

// drawOrder draws small orders; in half of them every part costs the same, so that
// many purchases do.
func drawOrder(t *rapid.T) order {
	ties := rapid.Bool().Draw(t, "ties")
	o := order{Demand: drawCounts(t, "demand", 0, 2), Stock: drawCounts(t, "stock", -2, 1)}
	for i := range rapid.IntRange(0, 4).Draw(t, "packs") {
		p := box{Name: string(rune('P' + i)), Parts: drawCounts(t, "pack", -1, 3)}
		if len(p.Parts) == 0 {
			p.Parts = []count{{Part: fewParts[i%3], N: 1}}
		}
		p.Price = new(decimal.New(rapid.Int64Range(0, 40).Draw(t, "price"), -1))
		if ties {
			size := 0
			for _, c := range p.Parts {
				size += c.N
			}
			p.Price = new(decimal.New(int64(size), 0))
		}
		if rapid.Bool().Draw(t, "limited") {
			p.Limit = new(rapid.IntRange(0, 2).Draw(t, "limit"))
		}
		o.Packs = append(o.Packs, p)
	}
	for range rapid.IntRange(0, 2).Draw(t, "substitutes") {
		o.Substitutes = append(o.Substitutes, substitute{
			For: rapid.SampledFrom(fewParts).Draw(t, "for"), Use: rapid.SampledFrom(fewParts).Draw(t, "use")})
	}
	return o
}

func TestBuyAgainstEveryPurchase(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		price, ties, ok := slowBuy(o)
		got, err := buy(context.Background(), o)
		if !ok {
			if !errors.Is(err, purchase.ErrUnserved) {
				t.Fatalf("bought %v with error %v, where nothing serves", got, err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		var found [3]int
		for _, c := range got.Leftover {
			found[0] += c.N
		}
		for _, b := range got.Packs {
			found[1] += b.N
			found[2] += b.N * slices.IndexFunc(o.Packs, func(p box) bool { return p.Name == b.Pack.Name })
		}
		if len(o.Substitutes) > 0 {
			found[2], ties[2] = 0, 0 // to use few of them comes before the packs' places
		}
		if !got.Price.Equal(price) || found != ties {
			t.Fatalf("price %s with %v over, packs and places, want %s with %v", got.Price, found, price, ties)
		}
		if !got.Proof.Least.Equal(price) {
			t.Errorf("proof of %s for %s", got.Proof.Least, price)
		}
	})
}
