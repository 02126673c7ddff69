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
	"example.com/closefit/units/measure"
)

func micrometres(n int64) units.Length { return units.Micrometre.OfInt(n) }

// drawPlaces makes places whose fits lie whole micrometres off.
func drawPlaces(t *rapid.T) [][]grading.PairFit {
	var places [][]grading.PairFit
	for i := range rapid.IntRange(1, 3).Draw(t, "places") {
		var fits []grading.PairFit
		off := int64(0)
		for range rapid.IntRange(1, 3).Draw(t, "fits") {
			off += rapid.Int64Range(0, 3).Draw(t, "off")
			fits = append(fits, grading.PairFit{Location: string(rune('1' + i)),
				Pair: grading.Pair{Upper: rapid.SampledFrom(fewParts).Draw(t, "upper"), Lower: rapid.SampledFrom(fewParts).Draw(t, "lower")},
				Off:  micrometres(off),
			})
		}
		places = append(places, fits)
	}
	return places
}

// slowChoose tries every choice with every purchase. frontier maps nothing: it
// returns for each distance reached the least price.
func slowChoose(places [][]grading.PairFit, o order) map[int64]decimal.Decimal {
	least := map[int64]decimal.Decimal{}
	demand := o.Demand
	var try func(i int, distance int64, demand []count)
	try = func(i int, distance int64, demand []count) {
		if i == len(places) {
			o.Demand = demand
			price, _, ok := slowBuy(o)
			if known, there := least[distance]; ok && (!there || price.LessThan(known)) {
				least[distance] = price
			}
			return
		}
		for _, f := range places[i] {
			d := append([]count(nil), demand...)
			d = append(d, count{Part: f.Pair.Upper, N: 1}, count{Part: f.Pair.Lower, N: 1})
			try(i+1, distance+f.Off.In(units.Micrometre, 0).IntPart(), d)
		}
	}
	try(0, 0, demand)
	return least
}

func TestChooseAgainstEveryChoice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		places := drawPlaces(t)
		o := drawOrder(t)
		o.Demand, o.Substitutes = nil, nil
		if rapid.Bool().Draw(t, "more") {
			o.Demand = []count{{Part: fewParts[1], N: 1}}
		}
		if len(o.Packs) > 3 {
			o.Packs = o.Packs[:3]
		}
		least := slowChoose(places, o)
		plan, err := choose(context.Background(), places, o)
		if len(least) == 0 {
			if !errors.Is(err, purchase.ErrUnserved) {
				t.Fatalf("chose %v with error %v, where nothing serves", plan, err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		// The trades are the undominated pairs of price and distance, cheapest first.
		for k, trade := range plansOf(plan) {
			distance := trade.Purchase.Distance.In(units.Micrometre, 0).IntPart()
			if want, ok := least[distance]; !ok || !want.Equal(trade.Purchase.Price) {
				t.Fatalf("trade %d: %s at %d µm, want %s", k, trade.Purchase.Price, distance, want)
			}
			for d, price := range least {
				if d < distance && price.LessThanOrEqual(trade.Purchase.Price) || d == distance && price.LessThan(trade.Purchase.Price) {
					t.Fatalf("trade %d: %s at %d µm, but %s reaches %d µm", k, trade.Purchase.Price, distance, price, d)
				}
			}
		}
		undominated := 0
		for d, price := range least {
			dominated := false
			for e, other := range least {
				dominated = dominated || e <= d && other.LessThanOrEqual(price) && (e < d || other.LessThan(price))
			}
			if !dominated {
				undominated++
			}
		}
		if plan.Complete != (undominated <= mostPlans) || plan.Complete && len(plan.Trades) != undominated-1 {
			t.Fatalf("%d trades, complete %v, of %d", len(plan.Trades), plan.Complete, undominated)
		}
		checkServed(t, o, plan)
	})
}

// checkServed checks that stock and purchase hold what the choices and the demand
// take, and that Leftover is the rest.
func checkServed(t interface{ Fatalf(string, ...any) }, o order, plan *grading.Plan) {
	left := map[grading.Part]int{}
	for _, c := range o.Stock {
		left[c.Part] += c.N
	}
	for _, b := range plan.Purchase.Packs {
		for _, c := range b.Pack.Parts {
			left[c.Part] += b.N * c.N
		}
	}
	for _, c := range plan.Choices {
		left[c.Pair.Upper]--
		left[c.Pair.Lower]--
	}
	for _, c := range o.Demand {
		left[c.Part] -= c.N
	}
	for _, c := range plan.Purchase.Leftover {
		left[c.Part] -= c.N
	}
	for p, n := range left {
		if n != 0 {
			t.Fatalf("%s: %d unaccounted for", p, n)
		}
	}
}

// renamed gives every grade another name, in another order of the alphabet.
func renamed(places [][]grading.PairFit, o order) ([][]grading.PairFit, order) {
	rename := func(p grading.Part) grading.Part {
		return grading.Part{Grade: map[string]string{"0": "thick", "1": "a", "2": "10"}[p.Grade], Half: p.Half}
	}
	var named [][]grading.PairFit
	for _, p := range places {
		var q []grading.PairFit
		for _, f := range p {
			f.Pair = grading.Pair{Upper: rename(f.Pair.Upper), Lower: rename(f.Pair.Lower)}
			q = append(q, f)
		}
		named = append(named, q)
	}
	var q order
	for _, p := range o.Packs {
		p.Parts = slices.Clone(p.Parts)
		for i := range p.Parts {
			p.Parts[i].Part = rename(p.Parts[i].Part)
		}
		q.Packs = append(q.Packs, p)
	}
	return named, q
}

// What holds for buying holds for choosing and buying at once, at the size that
// people have: more stock and more packs on sale never cost more, each place gets
// a fit that is proven inside, of the trades each costs more and is nearer, and other
// names for the grades change nothing.
func TestChooseProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64Range(0, 1<<20).Draw(t, "seed")
		places := gradedPlaces(t, seed, rapid.IntRange(1, 5).Draw(t, "mains"), 3)
		o := order{Packs: mixedOrder(seed, 6, 1, rapid.IntRange(3, 6).Draw(t, "packs")).Packs}
		plan, err := choose(context.Background(), places, o)
		if err != nil {
			t.Fatal(err)
		}
		checkServed(t, o, plan)
		for i, c := range plan.Choices {
			if c.Location != places[i][0].Location || c.Verdict != measure.Conforming {
				t.Errorf("%s: %s, %s", c.Location, c.Pair, c.Verdict)
			}
		}
		plans := plansOf(plan)
		for i := 1; i < len(plans); i++ {
			if a, b := plans[i-1].Purchase, plans[i].Purchase; !a.Price.LessThan(b.Price) || !b.Distance.Less(a.Distance) {
				t.Errorf("%s at %s, then %s at %s", a.Price, a.Distance, b.Price, b.Distance)
			}
		}
		named, q := renamed(places, o)
		other, err := choose(context.Background(), named, q)
		if err != nil || !other.Purchase.Price.Equal(plan.Purchase.Price) || boughtText(other.Purchase.Packs) != boughtText(plan.Purchase.Packs) || len(other.Trades) != len(plan.Trades) {
			t.Errorf("%v, %v with other names for the grades", other, err)
		}
		stocked := o
		stocked.Stock = []count{{Part: numbered(rapid.IntRange(0, 5).Draw(t, "part")), N: 2}}
		offered := o
		offered.Packs = append(slices.Clone(o.Packs), box{Name: "one more", Price: new(decimal.New(rapid.Int64Range(0, 3000).Draw(t, "price"), -2)),
			Parts: []count{{Part: numbered(rapid.IntRange(0, 5).Draw(t, "other part")), N: 2}}})
		for _, better := range []order{stocked, offered} {
			if got, err := choose(context.Background(), places, better); err != nil || got.Purchase.Price.GreaterThan(plan.Purchase.Price) {
				t.Errorf("%v, %v with more to draw on; %s without", got.Purchase.Price, err, plan.Purchase.Price)
			}
		}
	})
}
