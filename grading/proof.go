package grading

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// A Proof shows that nothing cheaper serves. It divides what could be bought
// into cases, by how many of each pack are bought; every case costs at least its
// bound, and no bound is below the price that was found.
type Proof struct {
	Least    decimal.Decimal // the lower bound of the price, which the purchase reaches
	Unit     decimal.Decimal // every price there can be is a whole multiple of this
	Examined int             // how many cases were looked at on the way
	Cases    []Case          // those that the proof ends in; empty if more than 64, which nobody checks by hand
}

// A Case is one case of a Proof. Every part that is missing has a worth in it,
// and what is missing must be bought, so that
//
//	price >= Spent + Σ N × Worth
//
// where a pack that gives parts of more worth than its price stands among the
// terms with what it gives too much, as often as it can be bought. Of a pack no
// more is counted of a part than can be missing. (Weak duality of linear
// programming.) Bound is the sum, rounded up to a price that there can be.
type Case struct {
	Ranges     []Range         // how many of each pack; packs not named are free
	Spent      decimal.Decimal // for the least number of each pack
	Terms      []Term
	Bound      decimal.Decimal
	Impossible bool // nothing in the case serves at all
}

// A Range is a number of packs from Least to Most.
type Range struct {
	Pack        string
	Least, Most int
}

// String returns "1 to 3 of pack" or "2 of pack".
func (r Range) String() string {
	if r.Least == r.Most {
		return fmt.Sprintf("%d of %s", r.Least, r.Pack)
	}
	return fmt.Sprintf("%d to %d of %s", r.Least, r.Most, r.Pack)
}

// A Term is one product of a Case's sum.
type Term struct {
	Part   Part   // what is missing: as many as N, none or less where the stock holds them; the zero Part if the term is about something else
	Served bool   // it is about places that can be served in several ways, each for the worth of its cheapest way
	What   string // "B upper", "main 3 served", "a set of 6 gives too much"
	N      int64
	Worth  *big.Rat // of one, in the currency of the prices
}

// proof turns an outcome of the aim of price into a Proof.
func (c *counter) proof(o outcome, prices []int64, m money) Proof {
	proof := Proof{Least: m.amount(o.least), Unit: m.amount(1), Examined: o.examined}
	p := c.program()
	p.cost = prices
	for _, l := range o.leaves {
		k := Case{Impossible: l.value == nil}
		for j, pack := range c.packs {
			if l.lo[j] > 0 || l.hi[j] < p.hi[j] {
				k.Ranges = append(k.Ranges, Range{pack.Name, int(l.lo[j]), int(l.hi[j])})
			}
		}
		if !k.Impossible {
			k.Bound = m.amount(l.bound)
			k.Spent = m.amount(dot(prices, l.lo))
			k.Terms = c.terms(p.relax(l.lo, l.hi), l, m)
		}
		proof.Cases = append(proof.Cases, k)
	}
	return proof
}

// terms writes out the sum of relaxation.bound.
func (c *counter) terms(x *relaxation, l leaf, m money) []Term {
	var terms []Term
	worth := func(n int64) *big.Rat {
		r := new(big.Rat).SetFrac64(n, l.scale)
		return r.Mul(r, m.rat())
	}
	excess := make([]int64, len(x.free))
	for k, cost := range x.cost {
		excess[k] = -cost * l.scale
	}
	for i, r := range x.rows {
		row := x.origin[i]
		v := l.value[row]
		if v == 0 {
			continue
		}
		for k := range x.free {
			excess[k] += v * r.coef[k]
		}
		t := Term{N: r.least, Worth: worth(v)}
		if row < len(c.parts) {
			t.Part, t.What = c.parts[row], c.parts[row].String()
		} else {
			t.Served, t.What = true, c.wants[row-len(c.parts)].name+" served"
		}
		if t.N != 0 || t.Part != (Part{}) {
			terms = append(terms, t)
		}
	}
	for k, v := range x.free {
		if excess[k] <= 0 {
			continue
		}
		what := c.nameOf(v) + " gives too much"
		terms = append(terms, Term{What: what, N: x.span[k], Worth: worth(-excess[k])})
	}
	return terms
}

// nameOf names a variable.
func (c *counter) nameOf(v int) string {
	if v < len(c.packs) {
		return c.packs[v].Name
	}
	v -= len(c.packs)
	for _, w := range c.wants {
		if v < len(w.ways) {
			parts := make([]string, len(w.ways[v].takes))
			for i, p := range w.ways[v].takes {
				parts[i] = c.parts[p].String()
			}
			return w.name + " by " + strings.Join(parts, " + ")
		}
		v -= len(w.ways)
	}
	panic("grading: no such variable")
}

// Working shows what to buy, what it serves, and why nothing cheaper does.
func (p *Purchase) Working() units.Working {
	w := units.Working{Name: "the cheapest purchase", Formula: "price = Σ number × price of the pack", Result: printed(p.Price)}
	var products []string
	for _, b := range p.Packs {
		products = append(products, fmt.Sprintf("%d × %s", b.N, printed(b.Pack.Price)))
		w.Notes = append(w.Notes, fmt.Sprintf("buy %d × %s at %s", b.N, b.Pack, printed(b.Pack.Price)))
	}
	w.Numbers = strings.Join(products, " + ")
	if len(p.Packs) == 0 {
		w.Notes = append(w.Notes, "the stock serves; buy nothing")
	}
	for _, u := range p.Uses {
		if u.For != u.Use {
			w.Notes = append(w.Notes, fmt.Sprintf("%d × %s in place of %s", u.N, u.Use, u.For))
		}
	}
	if len(p.Leftover) > 0 {
		w.Notes = append(w.Notes, "left over: "+list(p.Leftover))
	}
	w.Steps = append(w.Steps, p.Proof.Working())
	return w
}

// Working shows the cases of the proof.
func (p Proof) Working() units.Working {
	w := units.Working{
		Name:    "why nothing is cheaper",
		Formula: "price >= spent + Σ number missing × worth, in every case",
		Result:  "at least " + printed(p.Least),
		Source:  "weak duality of linear programming, case by case",
	}
	if len(p.Cases) == 0 {
		w.Notes = append(w.Notes, fmt.Sprintf("%d cases were examined, too many to print", p.Examined))
	}
	for _, c := range p.Cases {
		w.Steps = append(w.Steps, c.working(p.Unit))
	}
	return w
}

func (c Case) working(unit decimal.Decimal) units.Working {
	w := units.Working{Name: "whatever is bought"}
	if len(c.Ranges) > 0 {
		ranges := make([]string, len(c.Ranges))
		for i, r := range c.Ranges {
			ranges[i] = r.String()
		}
		w.Name = "with " + strings.Join(ranges, ", ")
	}
	if c.Impossible {
		w.Result = "cannot serve"
		return w
	}
	var terms, numbers []string
	if c.Spent.Sign() > 0 || len(c.Terms) == 0 {
		terms = append(terms, "spent")
		numbers = append(numbers, printed(c.Spent))
	}
	sum := c.Spent.Rat()
	var worths []string
	for _, t := range c.Terms {
		if t.Part != (Part{}) {
			worths = append(worths, t.What+" "+worthText(t.Worth))
		}
		if t.N == 0 {
			continue
		}
		terms = append(terms, fmt.Sprintf("%d × %s", t.N, t.What))
		numbers = append(numbers, fmt.Sprintf("%d × %s", t.N, worthText(t.Worth)))
		sum.Add(sum, new(big.Rat).Mul(t.Worth, new(big.Rat).SetInt64(t.N)))
	}
	if served := slices.ContainsFunc(c.Terms, func(t Term) bool { return t.Served }); served && len(worths) > 0 {
		w.Notes = append(w.Notes, "a place is served for the worth of the parts of its cheapest way that can be had: "+strings.Join(worths, ", "))
	}
	w.Formula = strings.Join(terms, " + ")
	w.Numbers = strings.Join(numbers, " + ")
	w.Result = "at least " + printed(c.Bound)
	if sum.Cmp(c.Bound.Rat()) < 0 {
		w.Notes = append(w.Notes, fmt.Sprintf("%s, rounded up to the next multiple of %s", worthText(sum), printed(unit)))
	}
	return w
}

// worthPlaces is how many places of a worth are printed; Term.Worth has them all.
const worthPlaces = 4

// worthText prints a worth, marked if it has more places.
func worthText(r *big.Rat) string {
	text := r.FloatString(worthPlaces)
	short := strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
	if exact, _ := new(big.Rat).SetString(text); exact.Cmp(r) != 0 {
		short = "≈" + short
	}
	if r.Sign() < 0 {
		return "(" + short + ")"
	}
	return short
}

// printed prints a price with the places that it has.
func printed(d decimal.Decimal) string { return d.StringFixed(max(0, -d.Exponent())) }

// impossible is the bound of a case in which nothing serves.
const impossible = math.MaxInt64
