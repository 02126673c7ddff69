package purchase

import (
	"math"
	"slices"

	"github.com/shopspring/decimal"
)

// A Proof shows that no purchase that serves an order costs less than Least. It
// can be checked from the order alone, with whole numbers and by hand if it is
// short; the package documentation says how.
type Proof[P Part] struct {
	Least      decimal.Decimal // Σ Unit × Least of the components
	Components []Component[P]
	Refused    []Refused // the packs on sale that are in no component
	Examined   int       // how many cases were looked at on the way
}

// Refused is a pack on sale that the purchase can do without.
type Refused struct {
	Pack   string
	Reason Reason
	By     string // the pack that is better, for Beaten
}

// A Component is parts, packs and needs that share nothing with the other
// components, so that the least prices of components add up. It has either Cases
// or a Table.
type Component[P Part] struct {
	Unit    decimal.Decimal // the largest amount of which every price in it is a whole multiple; 1 if nothing in it has a price
	Least   int64           // no purchase for the component costs less than so many units
	Parts   []P             // those that can be short
	Likes   [][]string      // its packs; those that hold the same of Parts stand together, the first to be bought first
	Choices []Choice        // its needs that have several ways; the needs of one way only count for Parts
	Cases   *Case
	Table   *Table
}

// A Choice is needs that have the same ways, taken together.
type Choice struct {
	Needs []int // of the order, from 0
	Name  string
	Ways  []string
}

// A Case is a set of purchases. It is divided into two other cases, or it has a
// bound.
type Case struct {
	Split *Split
	Bound *Bound
}

// A Split divides a case by a number of packs, or of places served in one way: in
// one case there are at most AtMost of them, in the other more.
type Split struct {
	Of     Range // Least and Most are those of the case that is divided
	AtMost int64
	Fewer  *Case
	More   *Case
}

// A Range is a number between Least and Most: of the packs of Likes[Like]
// together, or, if Like is below zero, of places of Choices[Choice] that are
// served in the way Way.
type Range struct {
	Like, Choice, Way int
	Least, Most       int64
}

// A Bound is the least price of a case. Money is in 1/Scale of the component's
// Unit. Each part has a worth; what is missing must be bought, so that
//
//	Scale × price >= Σ Missing × Worth + Σ Served + Σ Bought = Sum
//
// holds whatever the worths are. Or else nothing in the case serves: Short says
// what there is too little of.
type Bound struct {
	Ranges  []Range // those that the divisions have narrowed
	Short   *Short
	Scale   int64
	Worth   []int64 // by part: of one
	Missing []int64 // by part: what the needs of one way take, less the stock and the packs bought in any case; rounded up to what the packs left open can add
	Dearer  []int64 // by like: by how much the first pack costs more than the worth of what it can add; below zero if it costs less
	Bought  []int64 // by like: the price of the packs bought in any case, and, for each other one that costs less than its worth, the difference
	Served  []int64 // by choice: the worth of the cheapest ways to serve all its places
	Sum     int64
	Least   int64 // Sum / Scale, rounded up
	Control int64 // Scale + Σ Worth, which shows a worth that was copied wrongly even where no other line depends on it
}

// Short says that a case can serve at most Most of Needed: of Parts[Part], or, if
// Part is below zero, of the places of Choices[Choice].
type Short struct {
	Part, Choice int
	Needed, Most int64
}

// A Table bounds the price of every demand up to the one in question. Its axes are
// parts, counted in lots; a demand is a number of lots of each. Prices lists the
// demands in order, that of the last axis running fastest, from none to all that is
// missing.
//
// A price of the first stage is that of the cheapest pack to buy first: the pack's
// price and the price that the table gives for what is then still missing. A later
// stage takes in one more pack of a limited number: its price is the least, over
// all numbers of it, of their price and the price that the stage before gives for
// the rest. Nothing missing costs nothing. So each line can be checked from
// others.
type Table struct {
	Axes   []Axis
	Stages []Stage
}

// An Axis is a part of the table. A lot is the largest number that divides what
// each pack holds of it, so that what is missing can be rounded up to whole lots.
type Axis struct {
	Part    int // of the component's Parts
	Lot     int64
	Missing int64 // lots
}

// A Stage is the packs that it takes in, and the least price of each demand, in
// units, with them and those before.
type Stage struct {
	Packs  []string
	Prices []int64 // -1 where nothing serves
}

// proof writes out the proof of the components' answers.
func (r *reading[P]) proof(components []*component, answers []answer, refused []refusal) Proof[P] {
	proof := Proof[P]{}
	least := int64(0)
	for i, c := range components {
		a := answers[i]
		k := Component[P]{Unit: r.money.amount(c.unit), Likes: make([][]string, len(c.likes))}
		if flat(c.prices().cost) {
			k.Unit = decimal.New(1, 0)
		}
		for _, part := range c.parts {
			k.Parts = append(k.Parts, r.names[part])
		}
		for n, like := range c.likes {
			for _, j := range like {
				k.Likes[n] = append(k.Likes[n], c.boxes[j].name)
			}
		}
		for n, w := range c.wants {
			choice := Choice{Needs: w.needs, Name: r.Needs[w.needs[0]].Name}
			for _, way := range r.Needs[c.wants[n].needs[0]].Ways {
				choice.Ways = append(choice.Ways, wayText(way))
			}
			k.Choices = append(k.Choices, choice)
		}
		if a.grid != nil {
			k.Table, k.Least = c.table(a.grid), a.least
		} else {
			w := newWriter(c, a)
			k.Cases, k.Least = w.write(a.tree, w.program.lo, w.program.hi, nil)
		}
		least += k.Least * c.unit
		proof.Examined += a.examined
		proof.Components = append(proof.Components, k)
	}
	proof.Least = r.money.amount(least)
	for _, f := range refused {
		q := Refused{Pack: r.Packs[f.box].Name, Reason: f.reason}
		if f.reason == Beaten {
			q.By = r.Packs[f.by].Name
		}
		proof.Refused = append(proof.Refused, q)
	}
	return proof
}

// table writes a grid.
func (c *component) table(g *grid) *Table {
	t := &Table{}
	for _, a := range g.axes {
		t.Axes = append(t.Axes, Axis{a.part, a.lot, a.missing})
	}
	for s, prices := range g.prices {
		stage := Stage{Prices: prices}
		for p, price := range prices {
			if price == never {
				prices[p] = -1
			}
		}
		if s == 0 {
			for _, j := range g.free {
				stage.Packs = append(stage.Packs, c.boxes[j].name)
			}
		} else {
			stage.Packs = []string{c.boxes[g.limits[s-1]].name}
		}
		t.Stages = append(t.Stages, stage)
	}
	return t
}

// A writer writes a tree as cases.
type writer struct {
	*component
	program *program
	rigid   []bool
	first   []int // the first variable of each want
	least   int64 // the bound to be reached, which lets worths be rounded to short ones
	brief   bool  // the tree is small enough to look for short worths
}

func newWriter(c *component, a answer) *writer {
	w := &writer{component: c, program: c.program(), rigid: c.rigid(), least: a.least, brief: a.tree.ends() <= 64}
	t := len(c.boxes)
	for _, want := range c.wants {
		w.first = append(w.first, t)
		t += len(want.ways)
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

// write returns the case of a tree, whose variables lie between lo and hi, and its
// bound.
func (w *writer) write(t *tree, lo, hi []int64, ranges []Range) (*Case, int64) {
	if t.low == nil {
		b := w.bound(t, lo, hi)
		b.Ranges = ranges
		if b.Short != nil {
			return &Case{Bound: b}, never
		}
		return &Case{Bound: b}, b.Least
	}
	s := &Split{Of: w.sum(t.class, lo, hi), AtMost: t.at}
	var least [2]int64
	for k, above := range []bool{false, true} {
		lo, hi := slices.Clone(lo), slices.Clone(hi)
		w.program.cut(lo, hi, t.class, t.at, above)
		narrowed := slices.Clone(ranges)
		of := s.Of
		if above {
			of.Least = t.at + 1
		} else {
			of.Most = t.at
		}
		same := func(r Range) bool { return r.Like == of.Like && r.Choice == of.Choice && r.Way == of.Way }
		if i := slices.IndexFunc(narrowed, same); i >= 0 {
			narrowed[i] = of
		} else {
			narrowed = append(narrowed, of)
		}
		if above {
			s.More, least[k] = w.write(t.high, lo, hi, narrowed)
		} else {
			s.Fewer, least[k] = w.write(t.low, lo, hi, narrowed)
		}
	}
	return &Case{Split: s}, min(least[0], least[1])
}

// sum returns the range of the sum of a class.
func (w *writer) sum(class int, lo, hi []int64) Range {
	r := Range{Like: class}
	for _, t := range w.program.classes[class] {
		r.Least += lo[t]
		r.Most += hi[t]
	}
	if class < len(w.likes) {
		return r
	}
	way := class - len(w.likes)
	r.Like = -1
	for way >= len(w.wants[r.Choice].ways) {
		way -= len(w.wants[r.Choice].ways)
		r.Choice++
	}
	r.Way = way
	return r
}

// bound writes the end of a tree.
func (w *writer) bound(t *tree, lo, hi []int64) *Bound {
	if t.lacks >= 0 {
		return &Bound{Short: w.short(t.lacks, lo, hi)}
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

// short says what a row lacks.
func (w *writer) short(row int, lo, hi []int64) *Short {
	r := w.program.rows[row]
	s := &Short{Part: row, Choice: row - len(w.parts)}
	if row >= len(w.parts) {
		s.Part = -1
		s.Needed = r.least
	} else {
		s.Choice = -1
		s.Needed = w.fixed[row]
		for t := len(w.boxes); t < len(lo); t++ {
			s.Needed -= r.coef[t] * lo[t]
		}
	}
	s.Most = s.Needed + r.spare(lo, hi)
	return s
}

// sums works a bound out from its worths; nil if a number is too large.
func (w *writer) sums(worth []int64, scale int64, lo, hi []int64) *Bound {
	b := &Bound{
		Scale: scale, Worth: slices.Clone(worth), Missing: make([]int64, len(w.parts)),
		Dearer: make([]int64, len(w.likes)), Bought: make([]int64, len(w.likes)), Served: make([]int64, len(w.wants)),
	}
	lack := make([]int64, len(w.parts))
	total := sum{ok: true}
	for i := range w.parts {
		b.Missing[i], lack[i] = w.missing(i, lo, hi)
		total.add(worth[i], b.Missing[i])
	}
	for k, want := range w.wants {
		served := w.served(want, worth, lo[w.first[k]:], hi[w.first[k]:])
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
	b.Sum, b.Least, b.Control = total.n, ceilDiv(total.n, scale), scale
	for _, v := range worth {
		b.Control += v
	}
	return b
}

// missing returns how many of a part the needs of one way lack, rounded up to what
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
	for k, want := range w.wants {
		most, each := int64(0), int64(0)
		for m, v := range want.ways {
			takes := int64(0)
			for _, part := range v.takes {
				if part == i {
					takes++
				}
			}
			each = max(each, takes)
			most += takes * hi[w.first[k]+m]
		}
		lack += min(most, each*want.n)
	}
	return missing, lack
}

// served returns the worth of the cheapest ways to serve a want, each used as often
// as its range allows.
func (w *writer) served(want want, worth, lo, hi []int64) sum {
	costs := make([]int64, len(want.ways))
	order := make([]int, len(want.ways))
	s := sum{ok: true}
	open := want.n
	for k, v := range want.ways {
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
	return s
}
