package purchase

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// A Purchase is an answer to a Request.
type Purchase[P Item] struct {
	Packs    []Bought[P]     `json:"packs"`    // what to buy, in the order of the packs on sale
	Price    decimal.Decimal `json:"price"`    // of all of it
	Leftover []Count[P]      `json:"leftover"` // what is left of the stock and the packs, in the order in which the request names the parts
	Served   []Serving[P]    `json:"served"`   // need by need, alternative by alternative
	Distance units.Length    `json:"distance"` // Σ distance of the alternatives
	Proof    Proof[P]        `json:"proof"`    // that no purchase costs less
	Gap      decimal.Decimal `json:"gap"`      // by how much the purchase may be dearer than the cheapest; zero if it is proven the cheapest

	// Unproven names the first aim in which another purchase might do better: "price",
	// "distance", "parts left over", and so on. It is empty if all are.
	Unproven string `json:"unproven"`
}

// Bought is a number of one pack.
type Bought[P Item] struct {
	Pack Pack[P] `json:"pack"`
	N    int     `json:"n"`
}

// A Serving is a number of places of a need that are served by one of its alternatives.
type Serving[P Item] struct {
	Need        int    `json:"need"`        // of the request, from 0
	Name        string `json:"name"`        // of the need
	Alternative int    `json:"alternative"` // of the need, from 0
	Parts       []P    `json:"parts"`
	N           int    `json:"n"`
}

// Cheapest finds the purchase that, with the stock, serves all needs and costs
// least. Among those of the same price it takes the one with the smallest sum of
// distances, then the fewest parts left over, then the fewest packs, then alternatives
// that stand earlier in their lists (by the sum of their places), then packs that do. Where
// distances were rounded to be compared, as the package documentation says, the smallest sum
// is that of the rounded ones.
//
// If the context ends first, Cheapest returns its cause, and with it the best purchase
// found so far with its proof and gap. There is one if each alternative takes one part
// and any purchase serves. If alternatives take several parts, and some of these are
// limited, finding any purchase can take a search: then it may be nil. The aims after the
// price have a bounded effort; Unproven names the first that it gave up.
//
// The error is a *units.Error of kind ErrRequest for a wrong statement, ErrTooLarge for
// numbers too large to prove, and ErrUnserved for needs that cannot be met: it names all
// that no pack on sale meets, or the first that cannot be met together with those before
// it.
func Cheapest[P Item](ctx context.Context, o Request[P]) (*Purchase[P], error) {
	r, err := o.read()
	if err != nil {
		return nil, err
	}
	if err := r.unserved(); err != nil {
		return nil, err
	}
	kept, beaten := r.refuse(r.limits())
	components := r.split(kept)
	answers := make([]answer, len(components))
	var ended error
	for i, c := range components {
		answers[i], err = c.solve(ctx, r.Progress)
		switch {
		case err != nil && ctx.Err() == nil:
			return nil, err
		case err != nil:
			ended = err
		}
		if answers[i].x == nil {
			if ended != nil {
				return nil, ended
			}
			return nil, r.shortage(ctx)
		}
	}
	return r.purchase(components, answers, r.proof(components, answers, beaten)), ended
}

// limits returns the limit of each pack.
func (r *reading[P]) limits() []*int {
	limits := make([]*int, len(r.Packs))
	for j, p := range r.Packs {
		limits[j] = p.Limit
	}
	return limits
}

// An answer is the purchase of one component.
type answer struct {
	x        []int64 // nil if none was found
	least    int64   // no purchase costs less, in units of the component
	unproven string
	grid     *grid // the proof: a grid, or a tree
	tree     *tree
	examined int
}

// aims returns what is made as small as possible after the price.
func (c *component) aims() []aim {
	return []aim{c.distances(), c.leftover(), c.fewest(), c.firstAlternatives(), c.earliest()}
}

// solve finds the component's best purchase. The error is the context's cause, with
// the best found beside it, or wraps ErrTooLarge.
func (c *component) solve(ctx context.Context, progress func(aim string, examined, open int)) (answer, error) {
	if g := c.newGrid(); g != nil {
		return c.byGrid(g), nil
	}
	return c.search(ctx, progress)
}

// search finds the component's best purchase by branch and bound: as many cases as it takes
// for the price, and a bounded effort for the other aims.
func (c *component) search(ctx context.Context, progress func(aim string, examined, open int)) (answer, error) {
	p := c.program()
	p.progress, p.proving = progress, true
	p.cost = c.prices().cost
	first, err := p.reach(ctx, c.prices(), c.everything(p))
	a := answer{x: first.x, least: first.bound, tree: first.tree, examined: first.examined}
	if err != nil || first.x == nil || !first.proven {
		a.unproven = p.aim
		return a, err
	}
	p.proving = false
	p.atMost(p.cost, first.least)
	return c.breakTies(ctx, p, a)
}

// readable is how many cases a proof may have to be preferred to a table.
const readable = 31

// byGrid solves the component by its grid. The proof is a tree of a few cases if
// there is one: it is shorter to read.
func (c *component) byGrid(g *grid) answer {
	p := c.program()
	x := g.solve(c)
	if x == nil {
		return answer{}
	}
	a := answer{x: x, least: g.cost[g.points-1].price, grid: g}
	p.proving, p.budget = true, readable
	if o, err := p.reach(context.Background(), c.prices(), x); err == nil && o.proven {
		a.grid, a.tree, a.examined = nil, o.tree, o.examined
	}
	return a
}

// The effort for an aim after the price: how many cases, by how large the program
// is. The distance is worth more of it than what only breaks ties.
const (
	distanceCases = 2_000
	lesserCases   = 20_000
	lesserWork    = 4 << 20
)

// breakTies reaches for the aims one after the other, each kept while the next is
// reached for. p holds the conditions of all aims before.
func (c *component) breakTies(ctx context.Context, p *program, a answer) (answer, error) {
	for _, next := range c.aims() {
		if flat(next.cost) {
			continue
		}
		p.budget = min(lesserCases, max(100, lesserWork/(len(p.cost)*len(p.rows)+1)))
		if next.name == aimNames[1] {
			p.budget = distanceCases
		}
		o, err := p.reach(ctx, next, a.x)
		if o.x != nil {
			a.x = o.x
		}
		if err != nil || !o.proven {
			a.unproven = next.name
			return a, err
		}
		p.atMost(next.cost, o.least)
	}
	return a, nil
}

// flat reports whether the cost is nothing whatever is bought.
func flat(cost []int64) bool {
	for _, c := range cost {
		if c != 0 {
			return false
		}
	}
	return true
}

// purchase puts the answers of the components together.
func (r *reading[P]) purchase(components []*component, answers []answer, proof Proof[P]) *Purchase[P] {
	p := &Purchase[P]{Proof: proof}
	number := make([]int64, len(r.boxes)) // by pack
	alternatives := make([][]int64, len(r.demands))
	for k, w := range r.demands {
		alternatives[k] = make([]int64, len(w.alternatives))
		if len(w.alternatives) == 1 {
			alternatives[k][0] = w.n
		}
	}
	for i, c := range components {
		x := answers[i].x
		for j, b := range c.boxes {
			number[b.place] = x[j]
		}
		t := len(c.boxes)
		for k, w := range c.demands {
			copy(alternatives[c.index[k]], x[t:t+len(w.alternatives)])
			w.trim(alternatives[c.index[k]])
			t += len(w.alternatives)
		}
		if u := answers[i].unproven; p.Unproven == "" || u != "" && slices.Index(aimNames, u) < slices.Index(aimNames, p.Unproven) {
			p.Unproven = u
		}
	}
	price := int64(0)
	for j, n := range number {
		price += n * r.boxes[j].price
		if n > 0 {
			p.Packs = append(p.Packs, Bought[P]{r.Packs[j], int(n)})
		}
	}
	p.Price = r.money.amount(price)
	p.Gap = p.Price.Sub(proof.Least)
	for k, w := range r.demands {
		for m, n := range alternatives[k] {
			p.Distance = p.Distance.Add(r.Needs[w.needs[0]].Alternatives[m].Distance.MulInt(n))
		}
	}
	p.Leftover = r.left(number, alternatives)
	r.serve(p, alternatives)
	return p
}

// trim takes back what a search that was cut short serves beyond the demand, of the
// farthest alternatives first.
func (w demand) trim(alternatives []int64) {
	surplus := -w.n
	for _, n := range alternatives {
		surplus += n
	}
	for surplus > 0 {
		far := -1
		for m, n := range alternatives {
			if n > 0 && (far < 0 || w.alternatives[m].distance >= w.alternatives[far].distance) {
				far = m
			}
		}
		n := min(surplus, alternatives[far])
		alternatives[far], surplus = alternatives[far]-n, surplus-n
	}
}

// left returns what is over.
func (r *reading[P]) left(number []int64, alternatives [][]int64) []Count[P] {
	n := append([]int64(nil), r.stock...)
	for j, b := range r.boxes {
		for i, holds := range b.holds {
			n[i] += holds * number[j]
		}
	}
	for k, w := range r.demands {
		for m, v := range w.alternatives {
			for _, i := range v.takes {
				n[i] -= alternatives[k][m]
			}
		}
	}
	var left []Count[P]
	for i, part := range r.names {
		if n[i] > 0 {
			left = append(left, Count[P]{part, int(n[i])})
		}
	}
	return left
}

// serve deals the alternatives of each demand out to its needs: the first need has the first
// alternative.
func (r *reading[P]) serve(p *Purchase[P], alternatives [][]int64) {
	for k, w := range r.demands {
		m := 0
		for _, i := range w.needs {
			need := r.Needs[i]
			for open := need.N; open > 0; {
				n := min(open, int(alternatives[k][m]))
				if n > 0 {
					p.Served = append(p.Served, Serving[P]{Need: i, Name: need.Name, Alternative: m, Parts: need.Alternatives[m].Parts, N: n})
				}
				alternatives[k][m] -= int64(n)
				open -= n
				if open > 0 {
					m++
				}
			}
		}
	}
	slices.SortStableFunc(p.Served, func(a, b Serving[P]) int { return cmp.Compare(a.Need, b.Need) })
}

// shortage says why the needs cannot all be served: it names the first need that
// cannot be served together with those before it.
func (r *reading[P]) shortage(ctx context.Context) error {
	serves := func(n int) (bool, error) {
		some := r.Request
		some.Needs = some.Needs[:n]
		s, err := some.read()
		if err != nil {
			return false, err
		}
		if s.unserved() != nil {
			return false, nil
		}
		kept, _ := s.refuse(s.limits())
		for _, c := range s.split(kept) {
			p := c.program()
			p.cost = make([]int64, len(p.cost))
			o, err := p.solve(ctx, c.everything(p))
			if err != nil || o.x == nil {
				return false, err
			}
		}
		return true, nil
	}
	low, high := 0, len(r.Needs) // low serve, high do not
	for high-low > 1 {
		middle := (low + high) / 2
		ok, err := serves(middle)
		if err != nil {
			return err
		}
		if ok {
			low = middle
		} else {
			high = middle
		}
	}
	n := r.Needs[low]
	alternatives := make([]string, len(n.Alternatives))
	for k, w := range n.Alternatives {
		alternatives[k] = alternativeText(w.Parts)
	}
	return fault(ErrUnserved, n.Name, "order other packs, or find other parts that fit",
		"once the %d before it are served, nothing is left for any of its alternatives: %s", low, strings.Join(alternatives, "; "))
}
