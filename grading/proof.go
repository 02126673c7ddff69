package grading

import (
	"fmt"
	"math"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// A Proof shows that nothing cheaper serves. It divides what could be bought
// into cases, by how many of each pack are bought; every case costs at least its
// bound, and the smallest bound is the price that was found.
type Proof struct {
	// Least is the lower bound of the price: what was found.
	Least decimal.Decimal
	// Examined is how many cases were looked at on the way.
	Examined int
	// Cases are the cases that the proof ends in. It is empty if they are more
	// than 64, which nobody checks by hand.
	Cases []Case
}

// A Case is one case of a Proof. Price each part at its value: then no pack in
// the case's range gives more value than it costs, save for what Bound already
// allows for, and what is needed has a value of at least the bound.
type Case struct {
	Ranges     []Range // how many of each pack; packs not named are free
	Values     []Value // of the parts, above zero
	Bound      decimal.Decimal
	Impossible bool // nothing in the case serves at all
}

// A Range is a number of packs from Least to Most.
type Range struct {
	Pack        string
	Least, Most int
}

// String returns "1 to 3 of pack", "no pack" and the like.
func (r Range) String() string {
	if r.Least == r.Most {
		return fmt.Sprintf("%d of %s", r.Least, r.Pack)
	}
	return fmt.Sprintf("%d to %d of %s", r.Least, r.Most, r.Pack)
}

// A Value is what a part is worth in a case, in the currency of the prices.
type Value struct {
	Part  Part
	Worth *big.Rat
}

// proof turns an outcome of the aim of price into a Proof.
func (c *counter) proof(o outcome, m money) Proof {
	p := Proof{Least: m.amount(o.least), Examined: o.examined}
	unit := new(big.Rat).SetFrac(m.unit, new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(m.places)), nil))
	full := c.program().hi
	for _, l := range o.leaves {
		k := Case{Impossible: l.bound == math.MaxInt64}
		if !k.Impossible {
			k.Bound = m.amount(l.bound)
		}
		for j, pack := range c.packs {
			if l.lo[j] > 0 || l.hi[j] < full[j] {
				k.Ranges = append(k.Ranges, Range{pack.Name, int(l.lo[j]), int(l.hi[j])})
			}
		}
		for i, part := range c.parts {
			if l.value != nil && l.value[i] > 0 {
				worth := new(big.Rat).SetFrac64(l.value[i], l.scale)
				k.Values = append(k.Values, Value{part, worth.Mul(worth, unit)})
			}
		}
		p.Cases = append(p.Cases, k)
	}
	return p
}

// Working shows what to buy, what it serves, and why nothing cheaper does.
func (p *Purchase) Working() units.Working {
	w := units.Working{Name: "the cheapest purchase"}
	for _, b := range p.Packs {
		w.Steps = append(w.Steps, units.Working{
			Name:    fmt.Sprintf("%d × %s", b.N, b.Pack),
			Formula: "number × price",
			Numbers: fmt.Sprintf("%d × %s", b.N, printed(b.Pack.Price)),
			Result:  printed(b.Pack.Price.Mul(decimal.NewFromInt(int64(b.N)))),
		})
	}
	w.Steps = append(w.Steps, p.Proof.Working())
	w.Formula = "price = Σ number × price of the pack"
	w.Result = printed(p.Price)
	if len(p.Leftover) > 0 {
		w.Notes = append(w.Notes, "left over: "+list(p.Leftover))
	}
	return w
}

// Working shows the cases of the proof.
func (p Proof) Working() units.Working {
	w := units.Working{
		Name:    "why nothing is cheaper",
		Formula: "in every case: price >= what is needed, priced at the parts' values, of which no pack gives more than it costs",
		Result:  "at least " + printed(p.Least),
		Source:  "weak duality of linear programming, case by case",
	}
	if len(p.Cases) == 0 {
		w.Notes = append(w.Notes, fmt.Sprintf("%d cases were examined, too many to print", p.Examined))
	}
	for _, c := range p.Cases {
		w.Steps = append(w.Steps, c.working())
	}
	return w
}

func (c Case) working() units.Working {
	ranges := make([]string, len(c.Ranges))
	for i, r := range c.Ranges {
		ranges[i] = r.String()
	}
	values := make([]string, len(c.Values))
	for i, v := range c.Values {
		values[i] = fmt.Sprintf("%s %s", v.Part, v.Worth.FloatString(4))
	}
	w := units.Working{Name: "whatever is bought"}
	if len(ranges) > 0 {
		w.Name = "with " + strings.Join(ranges, ", ")
	}
	if c.Impossible {
		w.Result = "cannot serve"
		return w
	}
	w.Numbers = "values: " + strings.Join(values, ", ")
	w.Result = "at least " + printed(c.Bound)
	return w
}
