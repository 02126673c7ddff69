package grading_test

import (
	"context"
	"maps"
	"math/big"
	"slices"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/grading"
)

// drawLargeOrder draws orders of the size that people have: too large to try
// every purchase.
func drawLargeOrder(t *rapid.T) grading.Order {
	seed := rapid.Uint64().Draw(t, "seed")
	o := mixedOrder(seed, rapid.IntRange(1, 10).Draw(t, "parts"), rapid.IntRange(1, 20).Draw(t, "most"), rapid.IntRange(1, 8).Draw(t, "packs"))
	for range rapid.IntRange(0, 3).Draw(t, "substitutes") {
		i, k := rapid.IntRange(0, 9).Draw(t, "for"), rapid.IntRange(0, 9).Draw(t, "use")
		o.Substitutes = append(o.Substitutes, grading.Substitute{For: numbered(i), Use: numbered(k)})
	}
	return o
}

func mustBuy(t *rapid.T, o grading.Order) *grading.Purchase {
	p, err := grading.Buy(context.Background(), o)
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
		for _, u := range p.Uses {
			left[u.Use] -= u.N
			served[u.For] += u.N
			if u.For != u.Use && !slices.Contains(o.Substitutes, grading.Substitute{For: u.For, Use: u.Use}) {
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
		o.Stock = append(slices.Clone(o.Stock), grading.Count{Part: numbered(rapid.IntRange(0, 9).Draw(t, "part")), N: rapid.IntRange(1, 9).Draw(t, "n")})
		if after := mustBuy(t, o).Price; after.GreaterThan(before) {
			t.Errorf("%s with more stock, %s without", after, before)
		}
	})
}

func TestMorePacksOnSaleNeverCostMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawLargeOrder(t)
		before := mustBuy(t, o).Price
		o.Packs = append(slices.Clone(o.Packs), grading.Pack{Name: "one more", Price: decimal.New(rapid.Int64Range(0, 9999).Draw(t, "price"), -2),
			Parts: []grading.Count{{Part: numbered(rapid.IntRange(0, 9).Draw(t, "part")), N: rapid.IntRange(1, 9).Draw(t, "n")}}})
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
		renamed := func(counts []grading.Count) []grading.Count {
			counts = slices.Clone(counts)
			for i := range counts {
				counts[i].Part = rename(counts[i].Part)
			}
			return counts
		}
		r := grading.Order{Demand: renamed(o.Demand), Stock: renamed(o.Stock), Packs: slices.Clone(o.Packs)}
		for i := range r.Packs {
			r.Packs[i].Parts = renamed(r.Packs[i].Parts)
		}
		for _, s := range o.Substitutes {
			r.Substitutes = append(r.Substitutes, grading.Substitute{For: rename(s.For), Use: rename(s.Use)})
		}
		p, q := mustBuy(t, o), mustBuy(t, r)
		if boughtText(p.Packs) != boughtText(q.Packs) || !p.Price.Equal(q.Price) || !slices.Equal(renamed(p.Leftover), q.Leftover) {
			t.Errorf("bought %s for %s with %v over; renamed, %s for %s with %v over",
				boughtText(p.Packs), p.Price, p.Leftover, boughtText(q.Packs), q.Price, q.Leftover)
		}
	})
}

// The proof is checked by its own statement, with nothing of the solver: each
// case's sum reaches its bound, each term is what the order makes it, no bound is
// below the price, and the purchase lies in one of the cases.
func TestProofHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawLargeOrder(t)
		o.Substitutes = nil // with them a want is a term too, and needs the solver's names
		p := mustBuy(t, o)
		if !p.Proof.Least.Equal(p.Price) {
			t.Fatalf("proof of %s for %s", p.Proof.Least, p.Price)
		}
		inSome := len(p.Proof.Cases) == 0
		for _, c := range p.Proof.Cases {
			if c.Impossible {
				continue
			}
			if c.Bound.LessThan(p.Price) {
				t.Errorf("a case of at least %s for a price of %s", c.Bound, p.Price)
			}
			checkCase(t, o, p, c)
			inSome = inSome || lies(p, c)
		}
		if !inSome {
			t.Error("the purchase lies in none of the cases")
		}
	})
}

func lies(p *grading.Purchase, c grading.Case) bool {
	for _, r := range c.Ranges {
		n := 0
		for _, b := range p.Packs {
			if b.Pack.Name == r.Pack {
				n = b.N
			}
		}
		if n < r.Least || n > r.Most {
			return false
		}
	}
	return true
}

// checkCase works out a case's bound again from its worths alone.
func checkCase(t *rapid.T, o grading.Order, p *grading.Purchase, c grading.Case) {
	missing := map[grading.Part]int64{}
	for _, d := range o.Demand {
		missing[d.Part] += int64(d.N)
	}
	for _, s := range o.Stock {
		missing[s.Part] -= int64(s.N)
	}
	short := maps.Clone(missing) // before anything is bought
	total := 0
	for _, d := range o.Demand {
		total += d.N
	}
	sum := new(big.Rat)
	type span struct{ least, most int64 }
	spans := make([]span, len(o.Packs))
	for j, pack := range o.Packs {
		spans[j] = span{0, int64(total)}
		for _, r := range c.Ranges {
			if r.Pack == pack.Name {
				spans[j] = span{int64(r.Least), int64(r.Most)}
			}
		}
		sum.Add(sum, new(big.Rat).Mul(pack.Price.Rat(), new(big.Rat).SetInt64(spans[j].least)))
		for _, n := range pack.Parts {
			missing[n.Part] -= spans[j].least * int64(n.N)
		}
	}
	if sum.Cmp(c.Spent.Rat()) != 0 {
		t.Errorf("spent %s, not %s", sum.FloatString(2), c.Spent)
	}
	worth := map[grading.Part]*big.Rat{}
	claimed := c.Spent.Rat()
	for _, term := range c.Terms {
		claimed.Add(claimed, new(big.Rat).Mul(term.Worth, new(big.Rat).SetInt64(term.N)))
		if term.Part == (grading.Part{}) {
			continue
		}
		if term.Worth.Sign() < 0 || term.N != missing[term.Part] {
			t.Errorf("%d × %s at %s; %d are missing", term.N, term.What, term.Worth, missing[term.Part])
		}
		worth[term.Part] = term.Worth
		sum.Add(sum, new(big.Rat).Mul(term.Worth, new(big.Rat).SetInt64(missing[term.Part])))
	}
	for j, pack := range o.Packs {
		gives := new(big.Rat).Neg(pack.Price.Rat())
		inPack := map[grading.Part]int64{}
		for _, n := range pack.Parts {
			inPack[n.Part] += int64(n.N)
		}
		for part, n := range inPack {
			if w := worth[part]; w != nil {
				gives.Add(gives, new(big.Rat).Mul(w, new(big.Rat).SetInt64(min(n, missing[part]))))
			}
		}
		if gives.Sign() > 0 {
			// A pack not named in the ranges is never bought more often than its parts can be missing.
			most := spans[j].most
			if most == int64(total) {
				most = 0
				for part, n := range inPack {
					if n > 0 && short[part] > 0 {
						most = max(most, (short[part]+n-1)/n)
					}
				}
			}
			sum.Sub(sum, gives.Mul(gives, new(big.Rat).SetInt64(most-spans[j].least)))
		}
	}
	if claimed.Cmp(sum) != 0 {
		t.Errorf("the terms come to %s, the worths prove %s", claimed.FloatString(6), sum.FloatString(6))
	}
	rounding := new(big.Rat).Sub(c.Bound.Rat(), claimed)
	if rounding.Cmp(p.Proof.Unit.Rat()) >= 0 {
		t.Errorf("a bound of %s from %s: more than rounding up to %s", c.Bound, claimed.FloatString(6), p.Proof.Unit)
	}
}
