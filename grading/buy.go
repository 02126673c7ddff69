package grading

import (
	"context"
	"slices"

	"github.com/shopspring/decimal"
)

// An Order is what a purchase is to be found for.
type Order struct {
	Demand      []Count      // what is needed; a part named twice counts twice
	Stock       []Count      // what is on hand
	Packs       []Pack       // what is on sale
	Substitutes []Substitute // what may stand in for what

	// Progress is told now and then how a long search goes; it may be nil.
	Progress func(Progress)
}

// Progress is how far a search has come. One search follows another: first for
// the price, then for each thing that breaks its ties.
type Progress struct {
	Aim      string // what is made as small as possible: "price", "packs", …
	Examined int    // cases looked at
	Open     int    // cases that still may hold something better
}

// A Substitute says that one part may be used where another is demanded. It
// holds in this direction alone, and does not chain.
type Substitute struct {
	For Part // demanded
	Use Part // may be fitted instead
}

// A Purchase is the answer to an Order.
type Purchase struct {
	Packs    []Bought        // what to buy, in the order of the packs on sale
	Price    decimal.Decimal // of all of it
	Leftover []Count         // what is left of the stock and the packs, in the order in which the order names the parts
	Uses     []Use           // what serves the demand
	Proof    Proof           // that nothing cheaper serves it
}

// Bought is a number of one pack.
type Bought struct {
	Pack Pack
	N    int
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
// in theirs (likewise). All of this is exact and proven; Proof shows it for the
// price.
//
// Errors: *PackError for a pack that cannot be one; *NumberError for a negative
// number in demand or stock; *UnservedError, which wraps ErrUnserved, for demand
// that nothing on sale meets; one that wraps ErrTooLarge if numbers are beyond
// what can be proven; the context's cause if it ends first.
func Buy(ctx context.Context, o Order) (*Purchase, error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	money, prices, err := moneyOf(o.Packs)
	if err != nil {
		return nil, err
	}
	c := o.counter()
	c.makeUp()
	if err := c.unserved(); err != nil {
		return nil, err
	}
	outcomes, err := best(ctx, c.program(), c.prices(prices), c.leftover(), c.fewest(), c.firstWays(), c.earliest())
	if err != nil {
		return nil, err
	}
	x := outcomes[len(outcomes)-1].x
	return &Purchase{
		Packs:    c.bought(x),
		Price:    money.amount(outcomes[0].least),
		Leftover: c.left(x),
		Uses:     c.uses(x, total(o.Demand)),
		Proof:    c.proof(outcomes[0], c.prices(prices).cost, money),
	}, nil
}

// check reports the first thing in the order that cannot be.
func (o Order) check() error {
	for _, l := range []struct {
		name   string
		counts []Count
	}{{"demand", o.Demand}, {"stock", o.Stock}} {
		for _, c := range l.counts {
			if c.N < 0 {
				return &NumberError{List: l.name, Count: c, Kind: ErrNegativeCount}
			}
		}
		for _, c := range slices.Concat(l.counts, total(l.counts)) {
			if c.N > maxCount {
				return &NumberError{List: l.name, Count: c, Kind: ErrTooLarge}
			}
		}
	}
	return checkPacks(o.Packs)
}

// counter puts the order into numbers: every part demanded is a want, with the
// part itself and its substitutes as the ways to serve it.
func (o Order) counter() *counter {
	c := newCounter(o.Packs)
	c.progress = o.Progress
	demand := total(o.Demand)
	for _, d := range demand {
		c.part(d.Part)
	}
	for _, s := range o.Stock {
		c.stock[c.part(s.Part)] += int64(s.N)
	}
	for _, d := range demand {
		w := want{name: d.Part.String(), n: int64(d.N)}
		for _, p := range o.serving(d.Part) {
			w.ways = append(w.ways, way{takes: []int{c.part(p)}})
		}
		c.wants = append(c.wants, w)
	}
	return c
}

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

// bought returns the packs of the point x.
func (c *counter) bought(x []int64) []Bought {
	var packs []Bought
	for j, p := range c.packs {
		if x[j] > 0 {
			packs = append(packs, Bought{p, int(x[j])})
		}
	}
	return packs
}

// left returns what is over at the point x.
func (c *counter) left(x []int64) []Count {
	n := append([]int64(nil), c.stock...)
	for j := range c.packs {
		for i, a := range c.made[j] {
			n[i] += a * x[j]
		}
	}
	t := len(c.packs)
	for _, w := range c.wants {
		for _, v := range w.ways {
			for _, i := range v.takes {
				n[i] -= x[t]
			}
			t++
		}
	}
	var left []Count
	for i, p := range c.parts {
		if n[i] > 0 {
			left = append(left, Count{p, int(n[i])})
		}
	}
	return left
}

// uses returns which parts serve which demand at the point x.
func (c *counter) uses(x []int64, demand []Count) []Use {
	var uses []Use
	t := len(c.packs)
	for k, w := range c.wants {
		for _, v := range w.ways {
			if x[t] > 0 {
				uses = append(uses, Use{For: demand[k].Part, Use: c.parts[v.takes[0]], N: int(x[t])})
			}
			t++
		}
	}
	return uses
}
