package grading

import (
	"context"
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// A Plan is a choice of parts for every place together with the purchase that makes
// it possible.
type Plan struct {
	Choices  []PairFit                `json:"choices"`
	Purchase *purchase.Purchase[Part] `json:"purchase"` // its Distance is Σ Off of the choices

	// Trades lists what more money buys: each next cheapest plan that comes nearer to the
	// wanted clearances, up to the nearest of all. No plan at the price of one of them
	// comes nearer, and no plan as near costs less. If Complete is false there are more:
	// those just before the last are left out, or the search was cut short, or the plan
	// is not proven to be the nearest of the cheapest (Purchase.Unproven). The trades
	// have none of their own, and their purchases carry no proof.
	Trades   []Plan `json:"trades"`
	Complete bool   `json:"complete"`
}

// mostPlans is how many plans there are at the most, the cheapest and its trades.
const mostPlans = 12

// Choose finds, among all choices of a fit for every place, the one that costs least to
// buy; among those the one nearest to the wanted clearances (the smallest sum of Off);
// among those the one that leaves fewest parts over, then of fewest packs, then of fits
// that stand earlier in their lists, then of packs that do. The price is proven;
// [purchase.Cheapest] says how long it searches for the rest, and how it compares the sums
// of sizes that share no unit, as those corrected for temperature.
//
// Places of several schemes may stand in one list: mains, rods and thrust washers, or the
// engines of a fleet. The needs of the request are bought in addition.
//
// If the context ends first, the error is its cause, and the plan is the best one found,
// with the gap of its purchase and the trades found so far. It is nil only if no plan was
// found yet, which can happen if parts are limited.
//
// Errors: those of [purchase.Cheapest], which name the first place that cannot be
// served with those before it; one of kind ErrNoFit for a place without fits.
func Choose(ctx context.Context, places [][]PairFit, r purchase.Request[Part]) (*Plan, error) {
	if err := someEverywhere(places); err != nil {
		return nil, err
	}
	r.Needs = append([]purchase.Need[Part](nil), r.Needs...)
	for _, fits := range places {
		need := purchase.Need[Part]{Name: fits[0].Location, N: 1}
		for _, f := range fits {
			need.Alternatives = append(need.Alternatives, purchase.Alternative[Part]{Parts: []Part{f.Pair.Upper, f.Pair.Lower}, Distance: f.Off})
		}
		r.Needs = append(r.Needs, need)
	}
	best, err := purchase.Cheapest(ctx, r)
	if best == nil {
		return nil, err
	}
	plan := &Plan{Choices: chosen(places, best), Purchase: best}
	if err != nil || best.Unproven == "price" || best.Unproven == "distance" {
		return plan, err
	}
	trades, complete, err := purchase.Trades(ctx, r, best, mostPlans)
	for _, t := range trades[min(1, len(trades)):] {
		plan.Trades = append(plan.Trades, Plan{Choices: chosen(places, t), Purchase: t})
	}
	plan.Complete = complete
	return plan, err
}

// someEverywhere returns an error for the first place without fits.
func someEverywhere(places [][]PairFit) error {
	for i, fits := range places {
		if len(fits) == 0 {
			return fault(ErrNoFit, fmt.Sprintf("place %d", i+1), "give the fits of each place, as Fits lists them", "")
		}
	}
	return nil
}

// chosen returns the fit of every place, whose needs are the last ones of the purchase.
func chosen(places [][]PairFit, p *purchase.Purchase[Part]) []PairFit {
	choices := make([]PairFit, len(places))
	for i, s := range p.Served[len(p.Served)-len(places):] {
		choices[i] = places[i][s.Alternative]
	}
	return choices
}

// Working shows the parts for the choices, their cost, and what more money buys.
func (p *Plan) Working() units.Working {
	w := p.Purchase.Working()
	w.Name = "the cheapest purchase for which every location is proven inside"
	for _, c := range p.Choices {
		w.Notes = append(w.Notes, fmt.Sprintf("%s: %s, %s", c.Location, c.Pair, c.Clearance))
	}
	before := p.Purchase
	for i, t := range append([]Plan{*p}, p.Trades...) {
		now := t.Purchase
		note := fmt.Sprintf("for %s: %s from what is wanted, over all locations", printed(now.Price), now.Distance)
		if i > 0 {
			more, nearer := now.Price.Sub(before.Price), before.Distance.Sub(now.Distance)
			each := nearer.MulRat(new(big.Rat).Inv(more.Rat()))
			note += fmt.Sprintf("; %s more buys %s, %s for each 1", printed(more), nearer, each.Format(units.Micrometre, 3, units.HalfEven))
		}
		w.Notes = append(w.Notes, note)
		before = now
	}
	return w
}

// printed prints a price with the places that it has.
func printed(d decimal.Decimal) string { return d.StringFixed(max(0, -d.Exponent())) }
