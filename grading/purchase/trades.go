package purchase

import (
	"context"
	"slices"
)

// Trades returns what more money buys: the purchase itself first, then each next cheapest
// with a smaller distance, up to the smallest of all. No purchase at the price of one of
// them comes nearer, and no purchase as near costs less. The purchase must be the answer
// of Cheapest to the same order, with price and distance proven; the others have packs,
// alternatives, price and distance only, and no proof.
//
// The list has at most so many entries as most says, which is 2 or more. If there are
// more trades, complete is false, and those just before the last and nearest are left
// out. If the context ends or the search takes too long, the list holds the trades found
// until then and complete is false; the error is the context's cause.
func Trades[P Item](ctx context.Context, o Request[P], cheapest *Purchase[P], most int) (trades []*Purchase[P], complete bool, err error) {
	r, err := o.read()
	if err != nil {
		return nil, false, err
	}
	trades = append(trades, cheapest)
	kept, _ := r.refuse(r.limits())
	c := r.whole(kept)
	t := newTrading(ctx, c, r.Progress)
	add := func(x []int64) {
		p := r.purchase([]*component{c}, []answer{{x: x}}, Proof[P]{})
		if p.Distance.Less(trades[len(trades)-1].Distance) { // and not by rounding alone
			trades = append(trades, p)
		}
	}
	distance := c.at(c.distances(), r.point(c, cheapest))
	for distance > 0 && len(trades) < most {
		next, err := t.nearer(distance - 1)
		if err != nil || next.x == nil {
			return trades, next.proven && err == nil, err
		}
		if len(trades) == most-1 {
			last, err := t.nearest()
			if err != nil || last.x == nil {
				return trades, false, err
			}
			if c.at(c.distances(), last.x) < c.at(c.distances(), next.x) {
				add(last.x)
				return trades, false, nil
			}
		}
		distance = c.at(c.distances(), next.x)
		add(next.x)
	}
	return trades, true, nil
}

// at returns what a point comes to in an aim.
func (c *component) at(a aim, x []int64) int64 { return dot(a.cost, x) }

// point returns the point of a component that a purchase is.
func (r *reading[P]) point(c *component, p *Purchase[P]) []int64 {
	x := make([]int64, c.variables())
	number := map[string]int{}
	for _, b := range p.Packs {
		number[b.Pack.Name] = b.N
	}
	for j, b := range c.boxes {
		x[j] = int64(number[b.name])
	}
	t := len(c.boxes)
	for _, w := range c.demands {
		for k := range w.alternatives {
			for _, s := range p.Served {
				if s.Alternative == k && slices.Contains(w.needs, s.Need) {
					x[t+k] += int64(s.N)
				}
			}
		}
		t += len(w.alternatives)
	}
	return x
}

// trading searches for trades. It keeps its programs from one to the next.
type trading struct {
	*component
	ctx      context.Context
	byPrice  *program // with a row for the distance
	byDetail *program // with a row for the distance and one for the price
}

// tradeCases bounds how many cases are looked at for one aim of a trade.
const tradeCases = 2_000

func newTrading(ctx context.Context, c *component, progress func(aim string, examined, open int)) *trading {
	t := &trading{c, ctx, c.program(), c.program()}
	for _, p := range []*program{t.byPrice, t.byDetail} {
		p.progress, p.budget = progress, tradeCases
		p.atMost(c.distances().cost, 0)
	}
	t.byDetail.atMost(c.prices().cost, 0)
	return t
}

// nearer finds the cheapest purchase of at most a distance, and of those the nearest.
// Without a point, proven says that there is none; with one, both aims are proven.
func (t *trading) nearer(distance int64) (outcome, error) {
	row := len(t.byPrice.rows) - 1
	t.byPrice.rows[row].least, t.byDetail.rows[row].least = -distance, -distance
	o, err := t.byPrice.reach(t.ctx, t.prices(), nil)
	if err != nil || o.x == nil || !o.proven {
		return outcome{proven: o.x == nil && o.proven}, err
	}
	t.byDetail.rows[row+1].least = -o.least
	return t.whole(t.byDetail.reach(t.ctx, t.distances(), o.x))
}

// nearest finds the nearest purchase of all, and of those the cheapest. There is no
// point if it is not proven.
func (t *trading) nearest() (outcome, error) {
	p := t.program()
	p.progress, p.budget = t.byPrice.progress, tradeCases
	o, err := t.whole(p.reach(t.ctx, t.distances(), nil))
	if err != nil || o.x == nil {
		return o, err
	}
	p.atMost(t.distances().cost, o.least)
	return t.whole(p.reach(t.ctx, t.prices(), o.x))
}

// whole is the outcome if it is proven, and else none.
func (t *trading) whole(o outcome, err error) (outcome, error) {
	if err != nil || !o.proven {
		return outcome{}, err
	}
	return o, nil
}
