package purchase

import (
	"fmt"
	"math"
	"slices"

	"github.com/shopspring/decimal"
)

// A Proof shows that no purchase that serves a request costs less than Least. It
// can be checked from the request alone, with whole numbers and by hand if it is
// short; the package documentation says how.
type Proof[P Item] struct {
	Least      decimal.Decimal `json:"least"` // Σ Unit × Least of the components
	Components []Component[P]  `json:"components"`
	Examined   int             `json:"examined"` // how many cases were looked at on the way
}

// A Component is packs and all that is known of the parts that only they hold, so
// that the least prices of components add up. It has either Cases or a table of Prices.
//
// A line is packs of which one number is kept, the first to be bought first. They hold
// the same of Parts, up to the first one of which there are enough; those behind it hold no
// more and cost no less.
//
// Cases divide all purchases. They stand in one list: a case that is divided comes
// first, then all that becomes of its purchases with at most AtMost, then all that
// becomes of those with more. The first case is every purchase.
//
// The table bounds the price of every shortage up to the one in question. A shortage is a
// number of lots of each of some parts, its axes. A lot is the largest number that
// divides what each pack holds of the part, so that what is missing can be rounded up to
// whole lots. Prices lists the shortages in order, that of the last axis running fastest,
// from none to all that is missing.
//
// A price of the first stage is that of the cheapest pack to buy first: the pack's
// price and the price that the table gives for what is then still missing. A later
// stage takes in one more pack of a limited number: its price is the least, over
// all numbers of it, of their price and the price that the stage before gives for
// the rest. Nothing missing costs nothing. So each line can be checked from
// others.
type Component[P Item] struct {
	Unit    decimal.Decimal `json:"unit"`    // the amount in which its prices are counted
	Least   int64           `json:"least"`   // no purchase of its packs costs less than so many units
	Parts   []P             `json:"parts"`   // those that can be short
	Lines   [][]string      `json:"lines"`   // its packs
	Choices []Need[P]       `json:"choices"` // needs that have several alternatives, those that have the same taken together; needs of one alternative only count for Parts

	Cases []Case `json:"cases"` // none with a table

	Axes    []int      `json:"axes"`    // of the table: Parts, by their places there
	Lots    []int64    `json:"lots"`    // by axis
	Missing []int64    `json:"missing"` // by axis, in lots
	Stages  [][]string `json:"stages"`  // the packs that each takes in
	Prices  [][]int64  `json:"prices"`  // by stage, by shortage: the least price in units; -1 where nothing serves
}

// A Case is a set of purchases. It is divided by one number into those with at most
// AtMost and those with more, or a bound is proven for all of them. Money is in 1/Scale
// of the component's Unit. Each part has a worth; what is missing must be bought, so that
//
//	Scale × price >= Σ Missing × Worth + Σ Served + Σ Bought = Sum
//
// holds whatever the worths are. With a Scale of 0 prices count for nothing, and a Sum
// above zero says that the case holds no purchase at all.
type Case struct {
	Of     int    `json:"of"`      // the number of packs of a line, or, after the lines, of places served by an alternative of a choice
	AtMost *int64 `json:"at_most"` // nil where the case is not divided: what follows is its bound

	Scale   int64   `json:"scale"`
	Worth   []int64 `json:"worth"`   // by part: of one
	Missing []int64 `json:"missing"` // by part: what the needs of one alternative take, less the stock and the packs bought in any case; rounded up to what the packs left open can add
	Dearer  []int64 `json:"dearer"`  // by line: by how much the first pack costs more than the worth of what it can add; below zero if it costs less
	Bought  []int64 `json:"bought"`  // by line: the price of the packs bought in any case, and, for each other one that costs less than its worth, the difference
	Served  []int64 `json:"served"`  // by choice: the worth of the cheapest alternatives to serve all its places; with a Scale of 0 also 1 for each place that no alternative is left for
	Sum     int64   `json:"sum"`
	Least   int64   `json:"least"` // Sum / Scale, rounded up; 0 with a Scale of 0
}

// proof writes out the proof of the components' answers.
func (r *reading[P]) proof(components []*component, answers []answer, beaten []refusal) Proof[P] {
	proof := Proof[P]{}
	least := int64(0)
	for i, c := range components {
		a := answers[i]
		k := Component[P]{Unit: r.money.amount(c.unit), Lines: make([][]string, len(c.likes))}
		if flat(c.prices().cost) {
			k.Unit = decimal.New(1, 0)
		}
		for _, part := range c.parts {
			k.Parts = append(k.Parts, r.names[part])
		}
		for n, like := range c.likes {
			for _, j := range like {
				k.Lines[n] = append(k.Lines[n], c.boxes[j].name)
				for _, b := range beaten {
					if b.by == c.boxes[j].place {
						k.Lines[n] = append(k.Lines[n], r.Packs[b.box].Name)
					}
				}
			}
		}
		for _, w := range c.demands {
			need := r.Needs[w.needs[0]]
			need.N = int(w.n)
			if more := len(w.needs) - 1; more > 0 {
				need.Name = fmt.Sprintf("%s and %d alike", need.Name, more)
			}
			k.Choices = append(k.Choices, need)
		}
		if a.grid != nil {
			k.Least = a.least
			writeTable(&k, c, a.grid)
		} else {
			w := newWriter(c, a)
			k.Least = w.write(a.tree, w.program.lo, w.program.hi)
			k.Cases = w.cases
		}
		least += k.Least * c.unit
		proof.Examined += a.examined
		proof.Components = append(proof.Components, k)
	}
	proof.Least = r.money.amount(least)
	return proof
}

// writeTable writes a grid.
func writeTable[P Item](k *Component[P], c *component, g *grid) {
	for _, a := range g.axes {
		k.Axes, k.Lots, k.Missing = append(k.Axes, a.part), append(k.Lots, a.lot), append(k.Missing, a.missing)
	}
	for _, prices := range g.prices {
		for p, price := range prices {
			if price == never {
				prices[p] = -1
			}
		}
	}
	k.Prices, k.Stages = g.prices, [][]string{nil}
	for _, j := range g.free {
		k.Stages[0] = append(k.Stages[0], c.boxes[j].name)
	}
	for _, j := range g.limits {
		k.Stages = append(k.Stages, []string{c.boxes[j].name})
	}
}

// A writer writes a tree as cases.
type writer struct {
	*component
	program *program
	rigid   []bool
	first   []int // the first variable of each demand
	least   int64 // the bound to be reached, which lets worths be rounded to short ones
	brief   bool  // the tree is small enough to look for short worths
	cases   []Case
}

func newWriter(c *component, a answer) *writer {
	w := &writer{component: c, program: c.program(), rigid: c.rigid(), least: a.least, brief: a.tree.ends() <= 64}
	t := len(c.boxes)
	for _, demand := range c.demands {
		w.first = append(w.first, t)
		t += len(demand.alternatives)
	}
	return w
}

// mostScale is the finest scale at which short worths are looked for.
const mostScale = 120

// ends returns how many cases the tree ends in.
func (t *tree) ends() int {
	if t.low == nil {
		return 1
	}
	return t.low.ends() + t.high.ends()
}

// write writes the cases of a tree, whose variables lie between lo and hi, and returns
// its bound.
func (w *writer) write(t *tree, lo, hi []int64) int64 {
	if t.low == nil {
		k := w.bound(t, lo, hi)
		w.cases = append(w.cases, *k)
		if k.Scale == 0 {
			return never
		}
		return k.Least
	}
	w.cases = append(w.cases, Case{Of: t.class, AtMost: new(t.at)})
	least := int64(never)
	for i, part := range []*tree{t.low, t.high} {
		lows, highs := slices.Clone(lo), slices.Clone(hi)
		w.program.cut(lows, highs, t.class, t.at, i == 1)
		least = min(least, w.write(part, lows, highs))
	}
	return least
}

// bound writes the end of a tree.
func (w *writer) bound(t *tree, lo, hi []int64) *Case {
	if t.lacks >= 0 { // a part of which there are too few, or places without an alternative
		worth := make([]int64, len(w.parts))
		if t.lacks < len(worth) {
			worth[t.lacks] = 1
		}
		return w.sums(worth, 0, lo, hi)
	}
	target := min(t.bound, w.least)
	worth := slices.Clone(t.value[:len(w.parts)])
	if w.brief {
		short := make([]int64, len(worth))
		for scale := int64(1); scale <= mostScale; scale++ {
			for i, v := range worth {
				short[i] = int64(math.Round(float64(v) / float64(t.scale) * float64(scale)))
			}
			if b := w.sums(short, scale, lo, hi); b != nil && b.Least >= target {
				return b
			}
		}
	}
	divisor := t.scale
	for _, v := range worth {
		divisor = gcd(divisor, v)
	}
	for i := range worth {
		worth[i] /= divisor
	}
	if b := w.sums(worth, t.scale/divisor, lo, hi); b != nil && b.Least >= target {
		return b
	}
	// What is spent in any case is a bound too: no worth at all. Prices add up.
	return w.sums(make([]int64, len(worth)), 1, lo, hi)
}

// sums works a bound out from its worths; nil if a number is too large.
func (w *writer) sums(worth []int64, scale int64, lo, hi []int64) *Case {
	b := &Case{
		Scale: scale, Worth: slices.Clone(worth), Missing: make([]int64, len(w.parts)),
		Dearer: make([]int64, len(w.likes)), Bought: make([]int64, len(w.likes)), Served: make([]int64, len(w.demands)),
	}
	lack := make([]int64, len(w.parts))
	total := sum{ok: true}
	for i := range w.parts {
		b.Missing[i], lack[i] = w.missing(i, lo, hi)
		total.add(worth[i], b.Missing[i])
	}
	for k, demand := range w.demands {
		served, open := w.served(demand, worth, lo[w.first[k]:], hi[w.first[k]:])
		if scale == 0 {
			served.add(open, 1)
		}
		b.Served[k] = served.n
		total.add(served.n, 1)
		total.ok = total.ok && served.ok
	}
	for k, like := range w.likes {
		gives := sum{ok: true}
		for i, n := range w.boxes[like[0]].holds {
			gives.add(worth[i], max(0, min(n, lack[i])))
		}
		bought := sum{ok: true}
		for m, j := range like {
			dearer := sum{n: -gives.n, ok: gives.ok}
			dearer.add(w.boxes[j].price, scale)
			if m == 0 {
				b.Dearer[k] = dearer.n
			}
			bought.add(w.boxes[j].price*lo[j], scale)
			bought.add(min(0, dearer.n), hi[j]-lo[j])
			total.ok = total.ok && dearer.ok && bought.ok
		}
		b.Bought[k] = bought.n
		total.add(bought.n, 1)
	}
	if !total.ok {
		return nil
	}
	b.Sum = total.n
	if scale > 0 {
		b.Least = ceilDiv(total.n, scale)
	}
	return b
}

// missing returns how many of a part the needs of one alternative lack, rounded up to what
// the open packs can add, and how many the needs can lack together.
func (w *writer) missing(i int, lo, hi []int64) (missing, lack int64) {
	missing = w.fixed[i] - w.stock[i]
	divisor := int64(0)
	for j, b := range w.boxes {
		missing -= lo[j] * b.holds[i]
		if lo[j] < hi[j] {
			divisor = gcd(divisor, b.holds[i])
		}
	}
	if w.rigid[i] {
		if divisor > 1 {
			missing = upTo(missing, divisor)
		}
		return missing, missing
	}
	lack = missing
	for k, demand := range w.demands {
		most, each := int64(0), int64(0)
		for m, v := range demand.alternatives {
			takes := int64(0)
			for _, part := range v.takes {
				if part == i {
					takes++
				}
			}
			each = max(each, takes)
			most += takes * hi[w.first[k]+m]
		}
		lack += min(most, each*demand.n)
	}
	return missing, lack
}

// served returns the worth of the cheapest alternatives to serve a demand, each used as
// often as its range allows, and how many places are then still open.
func (w *writer) served(demand demand, worth, lo, hi []int64) (s sum, open int64) {
	costs := make([]int64, len(demand.alternatives))
	order := make([]int, len(demand.alternatives))
	s.ok = true
	open = demand.n
	for k, v := range demand.alternatives {
		order[k] = k
		for _, i := range v.takes {
			costs[k] += worth[i]
		}
		s.add(costs[k], lo[k])
		open -= lo[k]
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(max(-1, min(1, costs[a]-costs[b]))) })
	for _, k := range order {
		n := max(0, min(open, hi[k]-lo[k]))
		s.add(costs[k], n)
		open -= n
	}
	return s, max(0, open)
}
