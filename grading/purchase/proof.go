package purchase

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/shopspring/decimal"
)

// A Proof shows that no purchase that serves a request costs less than Least. Anyone with
// the request can check it, with whole numbers, and by hand if it is short; the package
// documentation says how.
type Proof[P Item] struct {
	Least      decimal.Decimal `json:"least"` // Σ Unit × Least of the components
	Components []Component[P]  `json:"components"`
	Examined   int             `json:"examined"` // how many cases the search examined
}

// A Component has packs, and the figures of the parts that only these packs hold, so the
// least prices of components add up. It has either Cases or a table of Prices.
//
// A line is a list of packs counted by one number, and bought in order. They hold the
// same of Parts, up to the first pack with a sufficient supply; the packs behind it hold
// no more and cost no less.
//
// Cases divide all purchases. They stand in one list: a divided case comes first, then
// all cases of its purchases with at most AtMost, then all cases of those with more. The
// first case is every purchase.
//
// The table bounds the price of every shortage of one part up to the actual one; that of
// the others follows. A shortage is a number of lots. A lot is the largest number that
// divides each pack's content of the part, so the shortage can be rounded up to whole
// lots. Prices lists the shortages in order, from none to the whole one.
//
// A price of the first stage is that of the cheapest pack to buy first: the pack's price
// plus the table's price for the rest. A later stage takes in one more pack of a limited
// number: its price is the least, over all numbers of it, of their price and the price
// that the stage before gives for the rest. No shortage costs nothing. So each price can
// be checked from others.
type Component[P Item] struct {
	Unit    decimal.Decimal `json:"unit"`    // the amount in which its prices are counted
	Least   int64           `json:"least"`   // no purchase of its packs costs less than so many units
	Parts   []P             `json:"parts"`   // those that can be short
	Lines   [][]string      `json:"lines"`   // its packs
	Choices []Need[P]       `json:"choices"` // needs with several alternatives, taken together if these are the same; needs of one alternative count in Parts alone

	Cases []Case `json:"cases"` // none with a table

	Counted int        `json:"counted"` // the part of the table, by its place in Parts
	Lot     int64      `json:"lot"`     // of that part; 0 without a table
	Missing int64      `json:"missing"` // of that part, in lots
	Stages  [][]string `json:"stages"`  // the packs that each takes in
	Prices  [][]int64  `json:"prices"`  // by stage, by shortage: the least price in units; -1 where nothing serves
}

// A Case is a set of purchases. It is divided by one number into those with at most
// AtMost and those with more, or a bound is proven for all of them. Money is in 1/Scale
// of the component's Unit. Each part has a worth; the missing parts must be bought, so
// that
//
//	Scale × price >= Σ Missing × Worth + Σ Served + Σ Bought = Sum
//
// holds for any worths. With a Scale of 0 prices count for nothing, and a Sum above zero
// says that the case holds no purchase at all.
type Case struct {
	Of     int    `json:"of"`      // the number of packs of a line, or, after the lines, of places served by an alternative of a choice
	AtMost *int64 `json:"at_most"` // nil if the case is not divided: its bound follows

	Scale   int64   `json:"scale"`
	Worth   []int64 `json:"worth"`   // by part: of one
	Missing []int64 `json:"missing"` // by part: the parts that needs of one alternative take, less the stock and the packs bought in any case; rounded up to an amount that the open packs can add
	Dearer  []int64 `json:"dearer"`  // by line: by how much the first pack costs more than the worth that it can add; below zero if it costs less
	Bought  []int64 `json:"bought"`  // by line: the price of the packs bought in any case, and, for each other one that costs less than its worth, the difference
	Served  []int64 `json:"served"`  // by choice: the worth of the cheapest alternatives to serve all its places; with a Scale of 0 also 1 for each place without an alternative left
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
	k.Counted, k.Lot, k.Missing = g.part, g.lot, g.missing
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
	w := &writer{component: c, program: c.program(), rigid: c.rigid(), least: a.least, brief: a.tree.ends() <= mostShortened}
	t := len(c.boxes)
	for _, demand := range c.demands {
		w.first = append(w.first, t)
		t += len(demand.alternatives)
	}
	return w
}

// Bounds on looking for short worths, which saves a reader digits and changes no bound: the
// finest scale, and the most cases of a tree.
const (
	mostScale     = 120
	mostShortened = 64
)

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
		missing = upTo(missing, max(1, divisor))
		return missing, missing
	}
	lack = missing
	for k, demand := range w.demands {
		var most, each int64
		for m, v := range demand.alternatives {
			var takes int64
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
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(costs[a], costs[b]) })
	for _, k := range order {
		n := max(0, min(open, hi[k]-lo[k]))
		s.add(costs[k], n)
		open -= n
	}
	return s, max(0, open)
}
