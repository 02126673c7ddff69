package purchase

import (
	"fmt"
	"math/big"
	"strings"

	"example.com/closefit/units"
)

// numbers is an order in integers. Parts, packs and demands go by their indices.
type numbers struct {
	parts   []string
	stock   []int64
	boxes   []box
	demands []demand
	most    []int64 // by part: how many the demands can take together
}

// A box is a pack in numbers.
type box struct {
	name  string
	place int // in the order's list
	price int64
	holds []int64 // by part
	size  int64   // all that it holds
	limit int64   // how many of it can be useful and had
}

// A demand is the needs that have the same alternatives, taken together.
type demand struct {
	needs        []int // of the order
	n            int64
	alternatives []alternative
}

// An alternative serves one place of a demand.
type alternative struct {
	takes    []int // parts, one of each
	size     int   // how many parts it takes
	distance int64
}

// reading is an order with its translation into numbers and back.
type reading[P Item] struct {
	Request[P]
	numbers
	names []P // by part
	money money
}

// read translates the order. Parts are numbered in the order in which needs name
// them as their first alternative, then stock, other alternatives, packs.
func (o Request[P]) read() (*reading[P], error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	r := &reading[P]{Request: o}
	m, prices, err := moneyOf(o.Packs)
	if err != nil {
		return nil, err
	}
	r.money = m
	index := map[P]int{}
	part := func(p P) int {
		i, known := index[p]
		if !known {
			i = len(r.names)
			index[p] = i
			r.names = append(r.names, p)
			r.parts = append(r.parts, p.String())
		}
		return i
	}
	for _, n := range o.Needs {
		if len(n.Alternatives) > 0 {
			for _, p := range n.Alternatives[0].Parts {
				part(p)
			}
		}
	}
	for _, s := range o.Stock {
		part(s.Part)
	}
	r.readNeeds(part)
	for _, p := range o.Packs {
		for _, c := range p.Parts {
			part(c.Part)
		}
	}
	r.stock = make([]int64, len(r.parts))
	for _, s := range o.Stock {
		r.stock[index[s.Part]] += int64(s.N)
	}
	r.countMost()
	for j, p := range o.Packs {
		b := box{name: p.Name, place: j, price: prices[j], holds: make([]int64, len(r.parts)), size: int64(p.size())}
		for _, c := range p.Parts {
			b.holds[index[c.Part]] += int64(c.N)
		}
		for i, n := range b.holds {
			if n > 0 {
				b.limit = max(b.limit, ceilDiv(max(0, r.most[i]-r.stock[i]), n))
			}
		}
		if p.Limit != nil {
			b.limit = min(b.limit, int64(*p.Limit))
		}
		r.boxes = append(r.boxes, b)
	}
	return r, nil
}

// readNeeds makes a demand of all needs that have the same alternatives, at distances that
// are exactly the same: rounded ones are for the search alone.
func (r *reading[P]) readNeeds(part func(P) int) {
	at := map[string]int{}
	distances := wholeDistances(r.Needs)
	for i, n := range r.Needs {
		if n.N == 0 {
			continue
		}
		w := demand{needs: []int{i}, n: int64(n.N)}
		var exact []*big.Rat
		for k, v := range n.Alternatives {
			takes := make([]int, len(v.Parts))
			for j, p := range v.Parts {
				takes[j] = part(p)
			}
			w.alternatives = append(w.alternatives, alternative{takes: takes, size: len(takes), distance: distances[i][k]})
			exact = append(exact, v.Distance.Rat(units.Millimetre))
		}
		key := fmt.Sprint(w.alternatives, exact)
		if k, known := at[key]; known {
			r.demands[k].n += w.n
			r.demands[k].needs = append(r.demands[k].needs, i)
			continue
		}
		at[key] = len(r.demands)
		r.demands = append(r.demands, w)
	}
}

func (n *numbers) countMost() {
	n.most = make([]int64, len(n.parts))
	for _, w := range n.demands {
		for i, m := range w.atOnce(len(n.parts)) {
			n.most[i] += m * w.n
		}
	}
}

// atOnce returns the most of each of the parts that one place of the demand can take.
func (w demand) atOnce(parts int) []int64 {
	most := make([]int64, parts)
	for _, v := range w.alternatives {
		takes := make([]int64, parts)
		for _, i := range v.takes {
			takes[i]++
			most[i] = max(most[i], takes[i])
		}
	}
	return most
}

// alternativeText names an alternative: "B upper + C lower".
func alternativeText[P Item](parts []P) string {
	texts := make([]string, len(parts))
	for i, p := range parts {
		texts[i] = p.String()
	}
	return strings.Join(texts, " + ")
}
