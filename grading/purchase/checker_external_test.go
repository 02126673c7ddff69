package purchase_test

import (
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading/purchase"
)

// The third person: checks a proof from the order and the proof's documentation, and
// knows nothing of the solver. Every figure of the proof is worked out again, so that
// none can be altered.

type (
	order     = purchase.Order[name]
	proof     = purchase.Proof[name]
	component = purchase.Component[name]
)

// A third is what the third person knows of the order.
type third struct {
	o     order
	packs map[string]purchase.Pack[name]
	stock map[name]int64
	fixed map[name]int64 // what needs of one way take
	most  map[name]int64 // what all needs can take
}

// refute returns what is wrong with a proof, or nil.
func refute(o order, p proof) (err error) {
	defer func() { // a proof so altered that it names what is not there
		if r := recover(); r != nil {
			err = fmt.Errorf("%v", r)
		}
	}()
	t := third{o, map[string]purchase.Pack[name]{}, map[name]int64{}, map[name]int64{}, map[name]int64{}}
	for _, s := range o.Stock {
		t.stock[s.Part] += int64(s.N)
	}
	for _, n := range o.Needs {
		each := map[name]int64{}
		for _, w := range n.Ways {
			for part, k := range takes(w) {
				each[part] = max(each[part], k)
			}
		}
		for part, k := range each {
			t.most[part] += k * int64(n.N)
			if len(n.Ways) == 1 {
				t.fixed[part] += k * int64(n.N)
			}
		}
	}
	for _, pack := range o.Packs {
		t.packs[pack.Name] = pack
	}
	// Each pack is refused, or in one component; each need of several ways is in one; and
	// parts that can be short are nowhere else.
	packs, needs, home := map[string]int{}, map[int]int{}, map[name]int{}
	for _, r := range p.Refused {
		packs[r.Pack]++
		check(t.refused(r), "%s is refused wrongly", r.Pack)
	}
	for i, c := range p.Components {
		for _, part := range c.Parts {
			check(home[part] == 0 && t.short(part), "%s stands twice, or cannot be short", part)
			home[part] = i + 1
		}
	}
	sum := decimal.Zero
	for i, c := range p.Components {
		var used []name
		for _, pack := range slices.Concat(c.Likes...) {
			packs[pack]++
			used = append(used, partsOf(t.packs[pack])...)
		}
		for _, choice := range c.Choices {
			for _, n := range choice.Needs {
				needs[n]++
				check(len(choice.Ways) == len(o.Needs[n].Ways), "a way left out, or one more")
				check(fmt.Sprint(o.Needs[n].Ways) == fmt.Sprint(o.Needs[choice.Needs[0]].Ways), "needs that are not alike")
				for k, w := range o.Needs[n].Ways {
					check(choice.Ways[k] == wayName(w), "another way")
					used = append(used, w.Parts...)
				}
			}
			check(choice.Name == o.Needs[choice.Needs[0]].Name, "another need")
		}
		for _, part := range used {
			check(home[part] == i+1 || !t.short(part), "%s joins components", part)
		}
		t.component(c)
		sum = sum.Add(c.Unit.Mul(decimal.NewFromInt(c.Least)))
	}
	for _, pack := range o.Packs {
		check(packs[pack.Name] == 1, "%s stands in the proof %d times", pack.Name, packs[pack.Name])
	}
	for i, n := range o.Needs {
		check(needs[i] == 1 || needs[i] == 0 && (n.N == 0 || len(n.Ways) == 1), "need %d stands in the proof %d times", i, needs[i])
	}
	for part := range t.fixed {
		check(home[part] > 0 || !t.short(part), "%s is left out", part)
	}
	check(sum.Equal(p.Least), "%s in all, not %s", sum, p.Least)
	return nil
}

func check(holds bool, format string, args ...any) {
	if !holds {
		panic(fmt.Sprintf(format, args...))
	}
}

func takes(w purchase.Way[name]) map[name]int64 {
	n := map[name]int64{}
	for _, part := range w.Parts {
		n[part]++
	}
	return n
}

func partsOf(p purchase.Pack[name]) (parts []name) {
	for _, c := range p.Parts {
		if c.N > 0 {
			parts = append(parts, c.Part)
		}
	}
	return parts
}

func wayName(w purchase.Way[name]) string {
	text := ""
	for i, part := range w.Parts {
		if i > 0 {
			text += " + "
		}
		text += part.String()
	}
	return text
}

func (t third) short(part name) bool { return t.most[part] > t.stock[part] }

func (t third) holds(pack string, part name) (n int64) {
	for _, c := range t.packs[pack].Parts {
		if c.Part == part {
			n += int64(c.N)
		}
	}
	return n
}

// useful is how many of a pack can be of use.
func (t third) useful(pack string) (n int64) {
	for _, part := range partsOf(t.packs[pack]) {
		if t.short(part) {
			n = max(n, up(t.most[part]-t.stock[part], t.holds(pack, part)))
		}
	}
	return n
}

func (t third) limit(pack string) int64 {
	if l := t.packs[pack].Limit; l != nil {
		return min(int64(*l), t.useful(pack))
	}
	return t.useful(pack)
}

func up(a, b int64) int64 { return -floor(-a, b) }

func floor(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

func divisor(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return max(a, -a)
}

func (t third) refused(r purchase.Refused) bool {
	p := t.packs[r.Pack]
	switch r.Reason {
	case purchase.SoldOut:
		return r.By == "" && *p.Limit == 0
	case purchase.Unneeded:
		return r.By == "" && t.useful(r.Pack) == 0 && (p.Limit == nil || *p.Limit > 0)
	case purchase.Beaten:
		q, known := t.packs[r.By]
		for part := range t.most {
			known = known && (!t.short(part) || t.holds(r.By, part) >= t.holds(r.Pack, part))
		}
		return known && r.By != r.Pack && !q.Price.GreaterThan(*p.Price) && t.limit(r.By) == t.useful(r.By) && t.limit(r.Pack) > 0
	}
	return false
}

// units returns the price of a pack in units of the component.
func (t third) units(c component, pack string) int64 {
	n := t.packs[pack].Price.Rat()
	n.Quo(n, c.Unit.Rat())
	check(n.IsInt(), "%s is not a multiple of %s", pack, c.Unit)
	return n.Num().Int64()
}

func (t third) component(c component) {
	all := int64(0)
	for _, like := range c.Likes {
		for i, pack := range like {
			for _, part := range c.Parts {
				check(t.holds(pack, part) == t.holds(like[0], part), "%s is not like %s", pack, like[0])
			}
			check(i == 0 || t.units(c, like[i-1]) <= t.units(c, pack), "%s stands before a cheaper one", like[max(0, i-1)])
			all = divisor(all, t.units(c, pack))
		}
	}
	check(all == 1 || all == 0 && c.Unit.Equal(decimal.New(1, 0)), "%s is not the largest unit", c.Unit)
	check((c.Table == nil) != (c.Cases == nil), "neither cases nor a table, or both")
	if c.Table != nil {
		check(t.table(c) == c.Least, "the table says otherwise")
		return
	}
	r := ranges{}
	for k, like := range c.Likes {
		of := purchase.Range{Like: k}
		for _, pack := range like {
			of.Most += t.limit(pack)
		}
		r[[3]int{k, 0, 0}] = of
	}
	for k, choice := range c.Choices {
		for w := range choice.Ways {
			r[[3]int{-1, k, w}] = purchase.Range{Like: -1, Choice: k, Way: w, Most: t.places(choice)}
		}
	}
	least, ok := t.cases(c, c.Cases, r, nil)
	check(ok && least == c.Least, "the cases say otherwise")
}

// ranges are the ranges of a case: by like, or by choice and way.
type ranges map[[3]int]purchase.Range

func key(r purchase.Range) [3]int { return [3]int{r.Like, r.Choice, r.Way} }

func (t third) places(c purchase.Choice) (n int64) {
	for _, i := range c.Needs {
		n += int64(t.o.Needs[i].N)
	}
	return n
}

// cases returns the bound of a case; ok is false if nothing in it serves.
func (t third) cases(c component, k *purchase.Case, r ranges, narrowed [][3]int) (least int64, ok bool) {
	check((k.Split == nil) != (k.Bound == nil), "neither divided nor ended, or both")
	if k.Bound != nil {
		return t.bound(c, k.Bound, r, narrowed)
	}
	s := k.Split
	at := key(s.Of)
	check(r[at] == s.Of && s.Of.Least <= s.AtMost && s.AtMost < s.Of.Most, "a division of what is not there")
	if !slices.Contains(narrowed, at) {
		narrowed = append(slices.Clone(narrowed), at)
	}
	for i, part := range []*purchase.Case{s.Fewer, s.More} {
		of := s.Of
		if i == 0 {
			of.Most = s.AtMost
		} else {
			of.Least = s.AtMost + 1
		}
		r[at] = of
		if n, serves := t.cases(c, part, r, narrowed); serves && (!ok || n < least) {
			least, ok = n, true
		}
		r[at] = s.Of
	}
	return least, ok
}

func (t third) bound(c component, b *purchase.Bound, r ranges, narrowed [][3]int) (least int64, ok bool) {
	check(len(b.Ranges) == len(narrowed), "a range left out")
	for i, at := range narrowed {
		check(b.Ranges[i] == r[at], "another range")
	}
	if b.Short != nil {
		check(b.Scale == 0 && b.Sum == 0 && b.Control == 0 && b.Least == 0 && len(b.Worth)+len(b.Missing)+len(b.Dearer)+len(b.Bought)+len(b.Served) == 0, "figures of what cannot be")
		needed, most := t.shortage(c, *b.Short, r)
		check(b.Short.Needed == needed && b.Short.Most == most && most < needed, "it is not short")
		return 0, false
	}
	check(b.Scale > 0 && len(b.Worth) == len(c.Parts) && len(b.Missing) == len(c.Parts) && len(b.Dearer) == len(c.Likes) && len(b.Bought) == len(c.Likes) && len(b.Served) == len(c.Choices), "lines left out")
	sum, control := int64(0), b.Scale
	lack := make([]int64, len(c.Parts))
	for i, part := range c.Parts {
		check(b.Worth[i] >= 0, "a worth below zero")
		missing, open := t.fixed[part]-t.stock[part], int64(0)
		for k, like := range c.Likes {
			of := r[[3]int{k, 0, 0}]
			missing -= of.Least * t.holds(like[0], part)
			if of.Least < of.Most {
				open = divisor(open, t.holds(like[0], part))
			}
		}
		rigid, most := true, int64(0)
		for k, choice := range c.Choices {
			each, all := int64(0), int64(0)
			for w, way := range t.o.Needs[choice.Needs[0]].Ways {
				n := takes(way)[part]
				each, all = max(each, n), all+n*r[[3]int{-1, k, w}].Most
			}
			rigid = rigid && each == 0
			most += min(all, each*t.places(choice))
		}
		if rigid && open > 0 {
			missing = up(missing, open) * open
		}
		check(b.Missing[i] == missing, "%d missing, not %d", missing, b.Missing[i])
		lack[i] = missing + most
		sum += b.Worth[i] * missing
		control += b.Worth[i]
	}
	for k, choice := range c.Choices {
		served := t.served(c, choice, k, b.Worth, r)
		check(b.Served[k] == served, "served for %d, not %d", served, b.Served[k])
		sum += served
	}
	for k, like := range c.Likes {
		of, gives, bought, before := r[[3]int{k, 0, 0}], int64(0), int64(0), int64(0)
		for i, part := range c.Parts {
			gives += b.Worth[i] * max(0, min(t.holds(like[0], part), lack[i]))
		}
		for _, pack := range like { // the cheapest first
			from, to := within(of.Least-before, t.limit(pack)), within(of.Most-before, t.limit(pack))
			price := t.units(c, pack) * b.Scale
			bought += from*price + (to-from)*min(0, price-gives)
			before += t.limit(pack)
		}
		check(b.Dearer[k] == t.units(c, like[0])*b.Scale-gives && b.Bought[k] == bought, "%s: %d and %d", like[0], gives, bought)
		sum += bought
	}
	check(b.Sum == sum && b.Least == up(sum, b.Scale) && b.Control == control, "a sum of %d, not %d", sum, b.Sum)
	return b.Least, true
}

func within(n, most int64) int64 { return max(0, min(n, most)) }

// served returns the worth of the cheapest ways to serve a choice.
func (t third) served(c component, choice purchase.Choice, k int, worth []int64, r ranges) (sum int64) {
	open := t.places(choice)
	var costs [][2]int64 // cost, how many at the most
	for w, way := range t.o.Needs[choice.Needs[0]].Ways {
		of, cost := r[[3]int{-1, k, w}], int64(0)
		for _, part := range way.Parts {
			if i := slices.Index(c.Parts, part); i >= 0 {
				cost += worth[i]
			}
		}
		sum += of.Least * cost
		open -= of.Least
		costs = append(costs, [2]int64{cost, of.Most - of.Least})
	}
	slices.SortFunc(costs, func(a, b [2]int64) int { return int(max(-1, min(1, a[0]-b[0]))) })
	for _, cost := range costs {
		n := within(open, cost[1])
		sum += n * cost[0]
		open -= n
	}
	return sum
}

func (t third) shortage(c component, s purchase.Short, r ranges) (needed, most int64) {
	if s.Part < 0 {
		for w := range c.Choices[s.Choice].Ways {
			most += r[[3]int{-1, s.Choice, w}].Most
		}
		return t.places(c.Choices[s.Choice]), most
	}
	check(s.Choice == -1, "short of two things")
	part := c.Parts[s.Part]
	needed, most = t.fixed[part], t.stock[part]
	for k, like := range c.Likes {
		most += r[[3]int{k, 0, 0}].Most * t.holds(like[0], part)
	}
	for k, choice := range c.Choices {
		for w, way := range t.o.Needs[choice.Needs[0]].Ways {
			needed += takes(way)[part] * r[[3]int{-1, k, w}].Least
		}
	}
	return needed, most
}

// table returns what the last line of a component's table says.
func (t third) table(c component) int64 {
	check(len(c.Choices) == 0, "a table of choices")
	points := 1
	for _, a := range c.Table.Axes {
		part, lot := c.Parts[a.Part], int64(0)
		for _, like := range c.Likes {
			lot = divisor(lot, t.holds(like[0], part))
		}
		check(a.Lot == lot && a.Missing == up(t.fixed[part]-t.stock[part], lot), "another axis")
		points *= int(a.Missing) + 1
	}
	var taken []string
	for k, s := range c.Table.Stages {
		check(len(s.Prices) == points && s.Prices[0] == 0 && (k == 0 || len(s.Packs) == 1), "lines left out")
		taken = append(taken, s.Packs...)
		for p := 1; p < points; p++ {
			best := int64(-1)
			better := func(n int64) {
				if best < 0 || n < best {
					best = n
				}
			}
			for _, pack := range s.Packs {
				if k == 0 {
					check(t.limit(pack) == t.useful(pack), "%s has a limit", pack)
					if q := t.after(c, p, pack, 1); q != p && s.Prices[q] >= 0 {
						better(s.Prices[q] + t.units(c, pack))
					}
					continue
				}
				for n := int64(0); n <= t.limit(pack); n++ {
					if rest := c.Table.Stages[k-1].Prices[t.after(c, p, pack, n)]; rest >= 0 {
						better(rest + n*t.units(c, pack))
					}
				}
			}
			check(s.Prices[p] == best, "line %d: %d, not %d", p, best, s.Prices[p])
		}
	}
	all := slices.Concat(c.Likes...)
	slices.Sort(all)
	slices.Sort(taken)
	check(slices.Equal(all, taken), "the stages take in %v of %v", taken, all)
	last := c.Table.Stages[len(c.Table.Stages)-1].Prices
	return last[len(last)-1]
}

// after returns the line of what is missing after n of a pack, at line p.
func (t third) after(c component, p int, pack string, n int64) int {
	at, stride, points := 0, 1, p
	for i := len(c.Table.Axes) - 1; i >= 0; i-- {
		a := c.Table.Axes[i]
		size := int(a.Missing) + 1
		left := int64(points%size) - n*t.holds(pack, c.Parts[a.Part])/a.Lot
		at += int(max(0, left)) * stride
		points, stride = points/size, stride*size
	}
	return at
}
