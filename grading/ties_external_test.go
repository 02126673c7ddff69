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
	"example.com/closefit/units"
)

// A rank is what is made as small as possible after the price, in this order:
// distance in µm, parts left over, packs, places of substitutes and fits in their
// lists, places of packs in theirs.
type rank [5]int

// An option is one way to serve one want.
type option struct {
	parts    []grading.Part
	distance int
}

// wantsOf lists the options of every single part demanded and of every place.
func wantsOf(places [][]grading.PairFit, o order) [][]option {
	var wants [][]option
	for _, d := range o.Demand {
		options := []option{{parts: []grading.Part{d.Part}}}
		seen := []grading.Part{d.Part}
		for _, s := range o.Substitutes {
			if s.For == d.Part && !slices.Contains(seen, s.Use) {
				seen = append(seen, s.Use)
				options = append(options, option{parts: []grading.Part{s.Use}})
			}
		}
		for range d.N {
			wants = append(wants, options)
		}
	}
	for _, p := range places {
		var options []option
		for _, f := range p {
			options = append(options, option{[]grading.Part{f.Pair.Upper, f.Pair.Lower}, int(f.Off.In(units.Micrometre, 0).IntPart())})
		}
		wants = append(wants, options)
	}
	return wants
}

// slowRank tries every purchase with every way to serve, and returns the price and
// the rank of the best: the plain reference for all ties together.
func slowRank(places [][]grading.PairFit, o order) (price decimal.Decimal, best rank, ok bool) {
	wants := wantsOf(places, o)
	supply := map[grading.Part]int{}
	add := func(counts []count, times int) (n int) {
		for _, c := range counts {
			supply[c.Part] += times * c.N
			n += times * c.N
		}
		return n
	}
	over := add(o.Stock, 1)
	for _, w := range wants {
		over -= len(w[0].parts)
	}
	var serve func(k int, cost decimal.Decimal, r rank)
	serve = func(k int, cost decimal.Decimal, r rank) {
		if k == len(wants) {
			if !ok || cost.LessThan(price) || cost.Equal(price) && slices.Compare(r[:], best[:]) < 0 {
				price, best, ok = cost, r, true
			}
			return
		}
		for i, w := range wants[k] {
			there := true
			for _, p := range w.parts {
				supply[p]--
				there = there && supply[p] >= 0
			}
			if there {
				next := r
				next[0] += w.distance
				next[3] += i
				serve(k+1, cost, next)
			}
			for _, p := range w.parts {
				supply[p]++
			}
		}
	}
	var buy func(j int, cost decimal.Decimal, r rank)
	buy = func(j int, cost decimal.Decimal, r rank) {
		if j == len(o.Packs) {
			serve(0, cost, r)
			return
		}
		p := o.Packs[j]
		most := 2 * len(wants)
		if p.Limit != nil {
			most = min(most, *p.Limit)
		}
		for n := 0; ; n++ {
			buy(j+1, cost, r)
			if n == most {
				add(p.Parts, -n)
				return
			}
			cost = cost.Add(*p.Price)
			r[1] += add(p.Parts, 1)
			r[2]++
			r[4] += j
		}
	}
	buy(0, decimal.Zero, rank{1: over})
	return price, best, ok
}

// rankOf returns the rank of an answer.
func rankOf(places [][]grading.PairFit, o order, choices []grading.PairFit, p *bought) rank {
	var r rank
	for i, c := range choices {
		k := slices.IndexFunc(places[i], func(f grading.PairFit) bool { return f.Pair == c.Pair && f.Off.Equal(c.Off) })
		r[0] += int(c.Off.In(units.Micrometre, 0).IntPart())
		r[3] += k
	}
	for _, c := range p.Leftover {
		r[1] += c.N
	}
	for _, b := range p.Packs {
		r[2] += b.N
		r[4] += b.N * slices.IndexFunc(o.Packs, func(q box) bool { return q.Name == b.Pack.Name })
	}
	for _, u := range usesOf(o, p) {
		options := wantsOf(nil, order{Demand: []count{{Part: u.For, N: 1}}, Substitutes: o.Substitutes})[0]
		r[3] += u.N * slices.IndexFunc(options, func(w option) bool { return w.parts[0] == u.Use })
	}
	return r
}

func TestEveryTieIsBroken(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		o.Packs = o.Packs[:min(3, len(o.Packs))]
		o.Demand = o.Demand[:min(1, len(o.Demand))]
		var places [][]grading.PairFit
		if rapid.Bool().Draw(t, "choose") {
			places = drawPlaces(t)
		}
		price, want, ok := slowRank(places, o)
		plan, err := choose(context.Background(), places, o)
		if !ok {
			if !errors.Is(err, purchase.ErrUnserved) {
				t.Fatalf("chose %v with error %v, where nothing serves", plan, err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if got := rankOf(places, o, plan.Choices, plan.Purchase); !plan.Purchase.Price.Equal(price) || got != want {
			t.Errorf("chose %s, %v; want %s, %v", plan.Purchase.Price, got, price, want)
		}
		if places != nil {
			return
		}
		p, err := buy(context.Background(), o)
		if err != nil {
			t.Fatal(err)
		}
		if got := rankOf(nil, o, nil, p); !p.Price.Equal(price) || got != want {
			t.Errorf("bought %s, %v; want %s, %v", p.Price, got, price, want)
		}
	})
}
