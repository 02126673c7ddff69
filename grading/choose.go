package grading

import (
	"context"
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// A Plan is a choice of parts for every place together with the purchase that
// makes it possible.
type Plan struct {
	Choices  []Choice
	Distance units.Length // Σ Off of the choices: how far they are from what is wanted, together
	Purchase *Purchase

	// Trades lists what money buys: the plan itself first, the cheapest of all; then
	// each next cheapest that comes nearer to what is wanted, up to the nearest of
	// all. It has at most MaxTrades entries. If Complete is false there are more: those
	// just before the last are left out, or the search for them was cut short, or it is
	// not proven that the plan is the nearest of the cheapest (Purchase.Unproven).
	Trades   []Trade
	Complete bool
}

// MaxTrades is how many entries Plan.Trades has at the most.
const MaxTrades = 12

// A Trade is one of the plans among which the user may choose: nothing that costs
// as much comes nearer to what is wanted, and nothing that comes as near costs
// less.
type Trade struct {
	Price    decimal.Decimal
	Distance units.Length
	Choices  []Choice
	Packs    []Bought
}

// Choose finds, among all choices of a fit for every place, the one that costs
// least to buy; among those the one nearest to what is wanted (the smallest sum
// of Off); among those the one that leaves fewest parts over, then of fewest
// packs, then of fits that stand earlier in their lists, then of packs that do. The
// price is proven; see [purchase.Cheapest] for how long the rest is sought.
//
// Places of several schemes may stand in one list: mains, rods and thrust washers,
// or the engines of a fleet. The order's Demand is bought in addition, and its
// Substitutes serve that demand; the fits of a place say what serves it.
//
// If the context ends first, the error is its cause, and the plan is the best that
// was found, with the gap of its purchase and the trades found so far. It is nil
// only if no plan was found yet, which can be where parts are limited.
//
// Errors: those of [purchase.Cheapest], where a *purchase.ShortError names the first
// place that cannot be served with those before it; *NoFitError for a place without
// fits.
func Choose(ctx context.Context, places []Place, o Order) (*Plan, error) {
	demand, err := o.needs()
	if err != nil {
		return nil, err
	}
	q := purchase.Order[Part]{Needs: demand, Stock: o.Stock, Packs: o.Packs, Progress: o.Progress}
	for _, p := range places {
		if len(p.Fits) == 0 {
			return nil, &NoFitError{Location: p.Location}
		}
		q.Needs = append(q.Needs, p.need())
	}
	best, err := purchase.Cheapest(ctx, q)
	if best == nil {
		return nil, err
	}
	plan := &Plan{Choices: chosen(places, best, len(demand)), Distance: best.Distance, Purchase: bought(best, demand)}
	trades := []*purchase.Purchase[Part]{best}
	if err == nil && best.Unproven != aimPrice && best.Unproven != aimDistance {
		trades, plan.Complete, err = purchase.Trades(ctx, q, best, MaxTrades)
	}
	for _, t := range trades {
		plan.Trades = append(plan.Trades, Trade{Price: t.Price, Distance: t.Distance, Choices: chosen(places, t, len(demand)), Packs: t.Packs})
	}
	return plan, err
}

// The aims that must be proven before trades are sought, as purchase names them.
const (
	aimPrice    = "price"
	aimDistance = "distance"
)

// need is the place as one need: each of its fits serves it.
func (p Place) need() purchase.Need[Part] {
	n := purchase.Need[Part]{Name: p.Location, N: 1}
	for _, f := range p.Fits {
		n.Ways = append(n.Ways, purchase.Way[Part]{Parts: []Part{f.Pair.Upper, f.Pair.Lower}, Distance: f.Off})
	}
	return n
}

// chosen returns the fit of every place, whose needs stand in the purchase after the
// demand's.
func chosen(places []Place, p *purchase.Purchase[Part], demand int) []Choice {
	choices := make([]Choice, len(places))
	for i, place := range places {
		k := slices.Index(p.Served[demand+i], 1)
		choices[i] = Choice{place.Location, place.Fits[k]}
	}
	return choices
}

// Working shows what the choices need, what they cost, and what money buys.
func (p *Plan) Working() units.Working {
	w := p.Purchase.Working()
	w.Name = "the cheapest purchase for which every location is proven inside"
	for _, c := range p.Choices {
		w.Notes = append(w.Notes, fmt.Sprintf("%s: %s, %s", c.Location, c.Fit.Pair, c.Fit.Clearance))
	}
	for i, t := range p.Trades {
		note := fmt.Sprintf("for %s: %s from what is wanted, over all locations", printed(t.Price), t.Distance)
		if i > 0 {
			before := p.Trades[i-1]
			note += fmt.Sprintf("; %s more buys %s, %s for each 1", printed(t.Price.Sub(before.Price)),
				before.Distance.Sub(t.Distance), t.PerMoney(before).Format(units.Micrometre, 3, units.HalfEven))
		}
		w.Notes = append(w.Notes, note)
	}
	return w
}

// PerMoney returns how much nearer one unit of money brings from the trade
// before this one to this one: a length for each unit of the currency. It panics
// if the prices do not differ, which those of two trades of a plan always do.
func (t Trade) PerMoney(before Trade) units.Length {
	more := t.Price.Sub(before.Price).Rat()
	return before.Distance.Sub(t.Distance).MulRat(more.Inv(more))
}

// printed prints a price with the places that it has.
func printed(d decimal.Decimal) string { return d.StringFixed(max(0, -d.Exponent())) }
