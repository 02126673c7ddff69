package grading

import (
	"context"
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

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
	// all. It has at most MaxTrades entries; if Complete is false there are more, and
	// those just before the last are left out.
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
// packs, then of fits that stand earlier in their lists, then of packs that do. All
// of it is exact and proven.
//
// Places of several schemes may stand in one list: mains, rods and thrust washers,
// or the engines of a fleet. The order's Demand is bought in addition, and its
// Substitutes serve that demand; what serves a place is written in its fits.
//
// Errors: those of Buy, where an *UnservedError says which demand cannot be met;
// *ShortError if the places cannot all be served; *NoFitError for a place without
// fits; one that wraps ErrTooLarge if distances are too finely divided to be added
// up in whole numbers. If the context ends when the plan is found and only trades
// are still sought, the error is its cause and the plan is there too, with the
// trades found so far.
func Choose(ctx context.Context, places []Place, o Order) (*Plan, error) {
	b, err := newBoth(places, o)
	if err != nil {
		return nil, err
	}
	first, err := b.cheapest(ctx, b.program())
	if err != nil {
		return nil, err
	}
	if first == nil {
		return nil, b.short(ctx)
	}
	plan := &Plan{
		Choices:  b.choices(first.x),
		Distance: b.far(first.distance),
		Purchase: &Purchase{
			Price: b.money.amount(first.price), Packs: b.bought(first.x), Leftover: b.left(first.x),
			Uses: b.demandUses(first.x), Proof: b.proof(first.proof, b.prices(b.price).cost, b.money),
		},
	}
	plan.Complete, err = b.trades(ctx, plan, first)
	return plan, err
}

// both is places and an order in numbers. Its wants are the order's demand, then
// the places, those alike taken together.
type both struct {
	*counter
	order  Order
	places []Place
	groups [][]int // by want after the demand: which places
	money  money
	price  []int64      // by pack, in units of money
	step   units.Length // one unit of distance
}

func newBoth(places []Place, o Order) (*both, error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	b := &both{order: o, places: places, counter: o.counter()}
	var err error
	if b.money, b.price, err = moneyOf(o.Packs); err != nil {
		return nil, err
	}
	if err := b.addPlaces(); err != nil {
		return nil, err
	}
	b.makeUp()
	if len(b.groups) == 0 {
		return b, b.unserved()
	}
	return b, nil
}

// addPlaces makes a want of every set of places that have the same fits.
func (b *both) addPlaces() error {
	distance, step, err := wholeDistances(b.places)
	if err != nil {
		return err
	}
	b.step = step
	at := map[string]int{}
	demand := len(b.wants)
	for i, p := range b.places {
		if len(p.Fits) == 0 {
			return &NoFitError{Location: p.Location}
		}
		w := want{name: p.Location, n: 1}
		for k, f := range p.Fits {
			w.ways = append(w.ways, way{takes: []int{b.part(f.Pair.Upper), b.part(f.Pair.Lower)}, distance: distance[i][k]})
		}
		key := fmt.Sprint(w.ways)
		if g, known := at[key]; known {
			b.wants[demand+g].n++
			b.groups[g] = append(b.groups[g], i)
			continue
		}
		at[key] = len(b.groups)
		b.groups = append(b.groups, []int{i})
		b.wants = append(b.wants, w)
	}
	return nil
}

// maxDistance bounds a distance in whole units, so that sums fit.
const maxDistance = 1 << 34

// wholeDistances returns every fit's Off in whole units of the largest length
// that divides them all.
func wholeDistances(places []Place) ([][]int64, units.Length, error) {
	unit := new(big.Rat)
	for _, p := range places {
		for _, f := range p.Fits {
			unit = commonDivisor(unit, f.Off.Rat(units.Millimetre))
		}
	}
	list := make([][]int64, len(places))
	for i, p := range places {
		for _, f := range p.Fits {
			n := new(big.Rat)
			if unit.Sign() > 0 {
				n.Quo(f.Off.Rat(units.Millimetre), unit)
			}
			if !n.Num().IsInt64() || n.Num().Int64() > maxDistance {
				return nil, units.Length{}, fmt.Errorf("%s, %s: a distance of %s where %s mm is the common divisor: %w; round the sizes",
					p.Location, f.Pair, f.Off, unit.RatString(), ErrTooLarge)
			}
			list[i] = append(list[i], n.Num().Int64())
		}
	}
	return list, units.Millimetre.OfRat(unit), nil
}

// commonDivisor returns the largest ratio of which a and b are whole multiples;
// neither is below zero.
func commonDivisor(a, b *big.Rat) *big.Rat {
	// a/b = (a.Num·b.Denom) / (b.Num·a.Denom), over the product of denominators.
	x := new(big.Int).Mul(a.Num(), b.Denom())
	y := new(big.Int).Mul(b.Num(), a.Denom())
	return new(big.Rat).SetFrac(x.GCD(nil, nil, x, y), new(big.Int).Mul(a.Denom(), b.Denom()))
}

// A solution is a point with what it comes to.
type solution struct {
	x               []int64
	price, distance int64
	proof           outcome // of the price
}

// cheapest returns the cheapest point of the program with all ties broken, or
// nil if nothing satisfies it.
func (b *both) cheapest(ctx context.Context, p *program) (*solution, error) {
	outcomes, err := best(ctx, p, b.prices(b.price), b.distances(), b.leftover(), b.fewest(), b.firstWays(), b.earliest())
	if err != nil || outcomes[0].x == nil {
		return nil, err
	}
	x := outcomes[len(outcomes)-1].x
	return &solution{x: x, price: outcomes[0].least, distance: dot(b.distances().cost, x), proof: outcomes[0]}, nil
}

// nearest returns the point of the program that is nearest to what is wanted, and
// of those the cheapest, with all ties broken. There is one.
func (b *both) nearest(ctx context.Context, p *program) (*solution, error) {
	outcomes, err := best(ctx, p, b.distances(), b.prices(b.price), b.leftover(), b.fewest(), b.firstWays(), b.earliest())
	if err != nil {
		return nil, err
	}
	return &solution{x: outcomes[len(outcomes)-1].x, price: outcomes[1].least, distance: outcomes[0].least}, nil
}

// trades adds to the plan what more money buys, and reports whether nothing had
// to be left out.
func (b *both) trades(ctx context.Context, plan *Plan, s *solution) (complete bool, err error) {
	for {
		plan.Trades = append(plan.Trades, b.trade(s))
		if s.distance == 0 || len(plan.Trades) == MaxTrades {
			return true, nil
		}
		p := b.program()
		p.atMost(b.distances().cost, s.distance-1)
		next, err := b.cheapest(ctx, p)
		if err != nil {
			return false, err
		}
		if next == nil {
			return true, nil
		}
		if len(plan.Trades) == MaxTrades-1 {
			last, err := b.nearest(ctx, b.program())
			if err != nil {
				return false, err
			}
			if last.distance < next.distance {
				plan.Trades = append(plan.Trades, b.trade(last))
				return false, nil
			}
		}
		s = next
	}
}

// trade puts a solution into words.
func (b *both) trade(s *solution) Trade {
	return Trade{Price: b.money.amount(s.price), Distance: b.far(s.distance), Choices: b.choices(s.x), Packs: b.bought(s.x)}
}

// far returns n units of distance.
func (b *both) far(n int64) units.Length { return b.step.MulInt(n) }

// choices returns the fit of every place at the point x.
func (b *both) choices(x []int64) []Choice {
	list := make([]Choice, len(b.places))
	t := b.start(len(b.wants) - len(b.groups))
	for _, group := range b.groups {
		next := 0
		for k := range b.places[group[0]].Fits {
			for range x[t+k] {
				i := group[next]
				next++
				list[i] = Choice{b.places[i].Location, b.places[i].Fits[k]}
			}
		}
		t += len(b.places[group[0]].Fits)
	}
	return list
}

// start returns the first variable of a want.
func (c *counter) start(want int) int {
	t := len(c.packs)
	for _, w := range c.wants[:want] {
		t += len(w.ways)
	}
	return t
}

func (b *both) demandUses(x []int64) []Use {
	demand := total(b.order.Demand)
	only := *b.counter
	only.wants = only.wants[:len(demand)]
	return only.uses(x, demand)
}

// short says why the places cannot all be served: the first part of the demand
// that fails, or the fewest of the first places that cannot be served together.
func (b *both) short(ctx context.Context) error {
	demand := *b.counter
	demand.wants = demand.wants[:len(b.wants)-len(b.groups)]
	if err := demand.unserved(); err != nil {
		return err
	}
	for n := 1; n <= len(b.places); n++ {
		some, err := newBoth(b.places[:n], b.order)
		if err != nil {
			return err
		}
		o, err := some.program().solve(ctx, nil)
		if err != nil {
			return err
		}
		if o.x == nil {
			e := &ShortError{Location: b.places[n-1].Location, Served: n - 1}
			for _, f := range b.places[n-1].Fits {
				e.Pairs = append(e.Pairs, f.Pair)
			}
			return e
		}
	}
	return nil
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
