package grading

import (
	"context"
	"fmt"

	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// An Order is what a purchase is to be found for.
type Order struct {
	Demand      []Count      // what is needed; a part named twice counts twice
	Stock       []Count      // what is on hand
	Packs       []Pack       // what is on sale
	Substitutes []Substitute // what may stand in for what

	// Progress is told now and then how a long search goes; it may be nil.
	Progress func(purchase.Progress)
}

// A Substitute says that one part may be used where another is demanded. It
// holds in this direction alone, and does not chain.
type Substitute struct {
	For Part // demanded
	Use Part // may be fitted instead
}

// A Purchase is the answer to an Order.
type Purchase struct {
	purchase.Purchase[Part]
	Uses []Use // what serves the demand
}

// A Use is a number of parts that serve the demand for a part: for another one
// where they stand in for it.
type Use struct {
	For, Use Part
	N        int
}

// Buy finds the cheapest purchase that, with the stock, serves the demand. Among
// purchases of the same price it takes the one that leaves fewest parts over,
// then the one of fewest packs, then the one that uses fewest substitutes (by the
// sum of their places in the order's list), then the one whose packs stand earlier
// in theirs (likewise). The price is proven; see [purchase.Cheapest] for how long
// the rest is sought, and for the errors.
//
// If the context ends first, the error is its cause, and the purchase is the best
// that was found, with its Gap. There always is one if anything serves.
func Buy(ctx context.Context, o Order) (*Purchase, error) {
	needs, err := o.needs()
	if err != nil {
		return nil, err
	}
	p, err := purchase.Cheapest(ctx, purchase.Order[Part]{Needs: needs, Stock: o.Stock, Packs: o.Packs, Progress: o.Progress})
	if p == nil {
		return nil, err
	}
	return bought(p, needs), err
}

// needs makes a need of every part demanded: the part itself serves it, or one of
// its substitutes.
func (o Order) needs() ([]purchase.Need[Part], error) {
	if err := o.checkGrades(); err != nil {
		return nil, err
	}
	for _, d := range o.Demand {
		if d.N < 0 {
			return nil, &purchase.NumberError{List: "demand", Name: d.Part.String(), N: d.N, Kind: purchase.ErrNegativeCount}
		}
		if d.N > maxCount {
			return nil, &purchase.NumberError{List: "demand", Name: d.Part.String(), N: d.N, Kind: ErrTooLarge}
		}
	}
	var needs []purchase.Need[Part]
	for _, d := range total(o.Demand) {
		n := purchase.Need[Part]{Name: d.Part.String(), N: d.N}
		for _, p := range o.serving(d.Part) {
			n.Ways = append(n.Ways, purchase.Way[Part]{Parts: []Part{p}})
		}
		needs = append(needs, n)
	}
	return needs, nil
}

// maxCount bounds a number that a person types, so that sums fit a machine integer.
const maxCount = 100_000

// serving returns the part and what may stand in for it, each once.
func (o Order) serving(p Part) []Part {
	parts := []Part{p}
	seen := map[Part]bool{p: true}
	for _, s := range o.Substitutes {
		if s.For == p && !seen[s.Use] {
			seen[s.Use] = true
			parts = append(parts, s.Use)
		}
	}
	return parts
}

// bought adds what serves the demand, whose needs come first in the purchase.
func bought(p *purchase.Purchase[Part], demand []purchase.Need[Part]) *Purchase {
	b := &Purchase{Purchase: *p}
	for i, need := range demand {
		for k, n := range p.Served[i] {
			if n > 0 {
				b.Uses = append(b.Uses, Use{For: need.Ways[0].Parts[0], Use: need.Ways[k].Parts[0], N: n})
			}
		}
	}
	return b
}

// Working shows what to buy, what it serves, and why nothing cheaper does.
func (p *Purchase) Working() units.Working {
	w := p.Purchase.Working()
	for _, u := range p.Uses {
		if u.For != u.Use {
			w.Notes = append(w.Notes, fmt.Sprintf("%d × %s in place of %s", u.N, u.Use, u.For))
		}
	}
	return w
}
