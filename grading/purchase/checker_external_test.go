package purchase_test

import (
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading/purchase"
)

// The third person: checks a proof from the request and the package's documentation,
// and knows nothing of the solver. What it takes is proven: that nothing which serves
// the request costs less than the proof's Least.

type (
	order     = purchase.Request[name]
	proof     = purchase.Proof[name]
	component = purchase.Component[name]
)

// A third is a component as the third person works it out again.
type third struct {
	component
	o     order
	packs map[string]purchase.Pack[name]
	lines [][]string // of each line those that count
	lo    []int64    // by line, then by way of each choice
	hi    []int64
	fixed []int64 // by part: what needs of one way take, less the stock
	most  []int64 // by part: what all needs can lack
}

// refute returns what is wrong with a proof, or nil.
func refute(o order, p proof) (err error) {
	defer func() { // also of a proof so altered that it names what is not there
		if r := recover(); r != nil {
			err = fmt.Errorf("%v", r)
		}
	}()
	packs, used, sum := map[string]purchase.Pack[name]{}, map[string]bool{}, decimal.Zero
	for _, pack := range o.Packs {
		packs[pack.Name] = pack
	}
	for _, c := range p.Components {
		t := &third{component: c, o: o, packs: packs}
		for _, pack := range slices.Concat(c.Lines...) {
			check(!used[pack] && packs[pack].Name == pack, "%s stands twice, or is not on sale", pack)
			used[pack] = true
		}
		for _, pack := range o.Packs {
			in := slices.Contains(slices.Concat(c.Lines...), pack.Name) || pack.Limit != nil && *pack.Limit == 0
			for _, part := range c.Parts {
				check(in || t.holds(pack.Name, part) == 0, "%s holds %s, and is left out", pack.Name, part)
			}
		}
		check(c.Unit.Sign() > 0 && (c.Table == nil) != (c.Cases == nil), "no unit, or not one of cases and a table")
		t.demand()
		t.numbers()
		if c.Table != nil {
			check(t.table() == c.Least, "the table says otherwise")
		} else {
			least := t.cases(c.Cases)
			check(least != nil && *least == c.Least, "the cases say otherwise")
		}
		sum = sum.Add(c.Unit.Mul(decimal.NewFromInt(c.Least)))
	}
	check(sum.Equal(p.Least), "%s in all, not %s", sum, p.Least)
	return nil
}

func check(holds bool, format string, args ...any) {
	if !holds {
		panic(fmt.Sprintf(format, args...))
	}
}

// takes is how many of a part are among some.
func takes(some []name, part name) (n int64) {
	for _, p := range some {
		if p == part {
			n++
		}
	}
	return n
}

func (t *third) holds(pack string, part name) (n int64) {
	for _, c := range t.packs[pack].Parts {
		if c.Part == part {
			n += int64(c.N)
		}
	}
	return n
}

// places is how many places a choice has. Its needs have the ways that it says.
func (t *third) places(c purchase.Choice[name]) (n int64) {
	for k, i := range c.Needs {
		need := t.o.Needs[i]
		check(!slices.Contains(c.Needs[:k], i) && len(need.Ways) == len(c.Ways) && len(c.Ways) > 1 && c.Name == t.o.Needs[c.Needs[0]].Name, "another need")
		for w, way := range need.Ways {
			check(slices.Equal(way.Parts, c.Ways[w]), "another way")
		}
		n += int64(need.N)
	}
	return n
}

// demand works out fixed and most.
func (t *third) demand() {
	seen := map[int]bool{}
	for _, part := range t.Parts {
		fixed, most := int64(0), int64(0)
		for _, s := range t.o.Stock {
			fixed -= takes([]name{s.Part}, part) * int64(s.N)
		}
		for _, n := range t.o.Needs {
			if len(n.Ways) == 1 {
				fixed += int64(n.N) * takes(n.Ways[0].Parts, part)
			}
		}
		for _, c := range t.Choices {
			each := int64(0)
			for _, way := range c.Ways {
				each = max(each, takes(way, part))
			}
			most += each * t.places(c)
		}
		t.fixed, t.most = append(t.fixed, fixed), append(t.most, fixed+most)
	}
	for _, c := range t.Choices {
		for _, i := range c.Needs {
			check(!seen[i], "need %d stands twice", i)
			seen[i] = true
		}
	}
}

// useful is how many of a pack can be of use, and limit how many of these can be had.
func (t *third) useful(pack string) (n int64) {
	for i, part := range t.Parts {
		if holds := t.holds(pack, part); holds > 0 {
			n = max(n, up(t.most[i], holds))
		}
	}
	return n
}

func (t *third) limit(pack string) int64 {
	if l := t.packs[pack].Limit; l != nil {
		return min(int64(*l), t.useful(pack))
	}
	return t.useful(pack)
}

// numbers checks that each line can be counted by one number, and how far that goes.
func (t *third) numbers() {
	for _, line := range t.Lines {
		counted, most, enough := 0, int64(0), false
		for i, pack := range line {
			last := line[max(counted-1, 0)]
			for _, part := range t.Parts {
				n := t.holds(last, part) - t.holds(pack, part)
				check(n == 0 || n > 0 && enough, "%s is not like %s", pack, last)
			}
			check(t.packs[last].Price.LessThanOrEqual(*t.packs[pack].Price), "%s stands after a dearer one", pack)
			if enough { // nothing is gained by this one
				continue
			}
			counted, most = i+1, most+t.limit(pack)
			enough = t.limit(pack) == t.useful(pack)
		}
		t.lines, t.lo, t.hi = append(t.lines, line[:counted]), append(t.lo, 0), append(t.hi, most)
	}
	for _, c := range t.Choices {
		for range c.Ways {
			t.lo, t.hi = append(t.lo, 0), append(t.hi, t.places(c))
		}
	}
}

// cases returns the bound of a case; nil if nothing in it serves.
func (t *third) cases(k *purchase.Case) *int64 {
	if k.Bound != nil {
		check(k.Of == 0 && k.AtMost == 0 && k.Fewer == nil && k.More == nil, "an end that is divided")
		return t.bound(*k.Bound)
	}
	lo, hi := t.lo[k.Of], t.hi[k.Of]
	check(lo <= k.AtMost && k.AtMost < hi, "a division of what is not there")
	t.hi[k.Of] = k.AtMost
	fewer := t.cases(k.Fewer)
	t.lo[k.Of], t.hi[k.Of] = k.AtMost+1, hi
	more := t.cases(k.More)
	t.lo[k.Of] = lo
	if fewer == nil || more != nil && *more < *fewer {
		return more
	}
	return fewer
}

// bound works every line of a bound out again, from Scale and Worth.
func (t *third) bound(b purchase.Bound) *int64 {
	check(b.Scale >= 0 && len(b.Worth) == len(t.Parts), "a worth left out")
	own := purchase.Bound{Scale: b.Scale, Worth: b.Worth}
	lack := make([]int64, len(t.Parts))
	for i, part := range t.Parts {
		missing, most, open, chosen := t.fixed[i], int64(0), int64(0), false
		for k, line := range t.lines {
			missing -= t.lo[k] * t.holds(line[0], part)
			if t.lo[k] < t.hi[k] {
				open = divisor(open, t.holds(line[0], part))
			}
		}
		v := len(t.lines)
		for _, c := range t.Choices {
			each, all := int64(0), int64(0)
			for _, way := range c.Ways {
				each, all = max(each, takes(way, part)), all+takes(way, part)*t.hi[v]
				v++
			}
			chosen, most = chosen || each > 0, most+min(all, each*t.places(c))
		}
		if !chosen && open > 0 {
			missing = up(missing, open) * open
		}
		check(b.Worth[i] >= 0, "a worth below zero")
		own.Missing, lack[i] = append(own.Missing, missing), missing+most
		own.Sum += b.Worth[i] * missing
	}
	for k, line := range t.lines {
		gives, bought, before := int64(0), int64(0), int64(0)
		for i, part := range t.Parts {
			gives += b.Worth[i] * max(0, min(t.holds(line[0], part), lack[i]))
		}
		for _, pack := range line { // the cheapest first
			from, to := within(t.lo[k]-before, t.limit(pack)), within(t.hi[k]-before, t.limit(pack))
			bought += from*t.price(pack)*b.Scale + (to-from)*min(0, t.price(pack)*b.Scale-gives)
			before += t.limit(pack)
		}
		own.Dearer, own.Bought = append(own.Dearer, t.price(line[0])*b.Scale-gives), append(own.Bought, bought)
		own.Sum += bought
	}
	v := len(t.lines)
	for _, c := range t.Choices {
		open, served := t.places(c), int64(0)
		var costs [][2]int64 // of one, and how many more than in any case
		for _, way := range c.Ways {
			cost := int64(0)
			for i, part := range t.Parts {
				cost += b.Worth[i] * takes(way, part)
			}
			served, open = served+t.lo[v]*cost, open-t.lo[v]
			costs = append(costs, [2]int64{cost, t.hi[v] - t.lo[v]})
			v++
		}
		slices.SortFunc(costs, func(a, b [2]int64) int { return int(max(-1, min(1, a[0]-b[0]))) })
		for _, cost := range costs {
			n := within(open, cost[1])
			served, open = served+n*cost[0], open-n
		}
		if b.Scale == 0 {
			served += max(0, open)
		}
		own.Served = append(own.Served, served)
		own.Sum += served
	}
	if b.Scale > 0 {
		own.Least = up(own.Sum, b.Scale)
	}
	check(fmt.Sprint(own) == fmt.Sprint(b), "%v, not %v", own, b)
	check(b.Scale > 0 || b.Sum > 0, "something in it serves")
	if b.Scale == 0 {
		return nil
	}
	return &own.Least
}

// price returns the price of a pack in units of the component.
func (t *third) price(pack string) int64 {
	n := t.packs[pack].Price.Rat()
	n.Quo(n, t.Unit.Rat())
	check(n.IsInt(), "%s is not a multiple of %s", pack, t.Unit)
	return n.Num().Int64()
}

func within(n, most int64) int64 { return max(0, min(n, most)) }

// up returns a/b rounded up; b is above zero.
func up(a, b int64) int64 {
	if a%b > 0 {
		return a/b + 1
	}
	return a / b
}

func divisor(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// table checks each price by others, and returns the last.
func (t *third) table() int64 {
	check(len(t.Choices) == 0, "a table of choices")
	points, all := 1, slices.Concat(t.lines...)
	for i, a := range t.Table.Axes {
		lot := int64(0)
		for _, pack := range all {
			lot = divisor(lot, t.holds(pack, t.Parts[a]))
		}
		check(t.Table.Lots[i] == lot && t.Table.Missing[i] == up(t.fixed[a], lot), "another axis")
		points *= int(t.Table.Missing[i]) + 1
	}
	taken := slices.Concat(t.Table.Packs...)
	slices.Sort(all)
	slices.Sort(taken)
	check(slices.Equal(all, taken) && len(t.Table.Packs) == len(t.Table.Prices), "the stages take in %v of %v", taken, all)
	for k, prices := range t.Table.Prices {
		check(len(prices) == points && prices[0] == 0 && (k == 0 || len(t.Table.Packs[k]) == 1), "lines left out")
		for p := 1; p < points; p++ {
			best := int64(-1)
			try := func(before []int64, pack string, n int64) {
				q := t.after(p, pack, n)
				if (q < p || k > 0) && before[q] >= 0 && (best < 0 || before[q]+n*t.price(pack) < best) {
					best = before[q] + n*t.price(pack)
				}
			}
			for _, pack := range t.Table.Packs[k] {
				if k == 0 {
					check(t.limit(pack) == t.useful(pack), "%s has a limit", pack)
					try(prices, pack, 1)
					continue
				}
				for n := range t.limit(pack) + 1 {
					try(t.Table.Prices[k-1], pack, n)
				}
			}
			check(prices[p] == best, "line %d: %d, not %d", p, best, prices[p])
		}
	}
	last := t.Table.Prices[len(t.Table.Prices)-1]
	return last[len(last)-1]
}

// after returns the demand that is left of a demand after n of a pack.
func (t *third) after(p int, pack string, n int64) int {
	at, stride := 0, 1
	for i := len(t.Table.Axes) - 1; i >= 0; i-- {
		size := int(t.Table.Missing[i]) + 1
		left := int64(p%size) - n*t.holds(pack, t.Parts[t.Table.Axes[i]])/t.Table.Lots[i]
		at += int(max(0, left)) * stride
		p, stride = p/size, stride*size
	}
	return at
}
