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
	lo    []int64    // by line, then by alternative of each choice
	hi    []int64
	fixed []int64 // by part: what needs of one alternative take, less the stock
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
		check(c.Unit.Sign() > 0 && (c.Prices == nil) != (c.Cases == nil), "no unit, or not one of cases and a table")
		t.demand()
		t.numbers()
		if c.Prices != nil {
			check(t.table() == c.Least, "the table says otherwise")
		} else {
			least, more := t.cases(c.Cases)
			check(least != nil && *least == c.Least && len(more) == 0, "the cases say otherwise")
			check(c.Counted == 0 && c.Lot == 0 && c.Missing == 0 && len(c.Stages) == 0, "some of a table")
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

// choice checks that a choice is all needs of its alternatives, and how many places
// these have.
func (t *third) choice(k int) {
	c := t.Choices[k]
	check(len(c.Alternatives) > 1, "no choice")
	for _, other := range t.Choices[:k] {
		check(!alike(other, c), "a choice twice")
	}
	var names []string
	n := 0
	for _, need := range t.o.Needs {
		if need.N > 0 && alike(need, c) {
			names, n = append(names, need.Name), n+need.N
		}
	}
	check(n > 0 && n == c.N, "%d places, not %d", n, c.N)
	name := names[0]
	if len(names) > 1 {
		name = fmt.Sprintf("%s and %d alike", name, len(names)-1)
	}
	check(name == c.Name, "of %s, not %s", name, c.Name)
}

// alike tells whether two needs have the same alternatives.
func alike(a, b need) bool {
	return slices.EqualFunc(a.Alternatives, b.Alternatives, func(x, y alternative) bool { return slices.Equal(x.Parts, y.Parts) && x.Distance.Equal(y.Distance) })
}

// demand works out fixed and most.
func (t *third) demand() {
	for k := range t.Choices {
		t.choice(k)
	}
	for _, part := range t.Parts {
		fixed, most := int64(0), int64(0)
		for _, s := range t.o.Stock {
			fixed -= takes([]name{s.Part}, part) * int64(s.N)
		}
		for _, n := range t.o.Needs {
			if len(n.Alternatives) == 1 {
				fixed += int64(n.N) * takes(n.Alternatives[0].Parts, part)
			}
		}
		for _, c := range t.Choices {
			each := int64(0)
			for _, a := range c.Alternatives {
				each = max(each, takes(a.Parts, part))
			}
			most += each * int64(c.N)
		}
		t.fixed, t.most = append(t.fixed, fixed), append(t.most, fixed+most)
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
		for range c.Alternatives {
			t.lo, t.hi = append(t.lo, 0), append(t.hi, int64(c.N))
		}
	}
}

// cases returns the bound of the first case, nil if nothing in it serves, and the cases
// that stand behind all that becomes of it.
func (t *third) cases(list []purchase.Case) (least *int64, more []purchase.Case) {
	k, more := list[0], list[1:]
	if k.AtMost == nil {
		check(k.Of == 0, "an end that is divided")
		return t.bound(k), more
	}
	own := purchase.Case{Of: k.Of, AtMost: k.AtMost}
	check(fmt.Sprint(own) == fmt.Sprint(k), "a division with a bound")
	lo, hi := t.lo[k.Of], t.hi[k.Of]
	check(lo <= *k.AtMost && *k.AtMost < hi, "a division of what is not there")
	t.hi[k.Of] = *k.AtMost
	fewer, more := t.cases(more)
	t.lo[k.Of], t.hi[k.Of] = *k.AtMost+1, hi
	above, more := t.cases(more)
	t.lo[k.Of] = lo
	if fewer == nil || above != nil && *above < *fewer {
		return above, more
	}
	return fewer, more
}

// bound works every line of a bound out again, from Scale and Worth.
func (t *third) bound(b purchase.Case) *int64 {
	check(b.Scale >= 0 && len(b.Worth) == len(t.Parts), "a worth left out")
	own := purchase.Case{Scale: b.Scale, Worth: b.Worth}
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
			for _, a := range c.Alternatives {
				each, all = max(each, takes(a.Parts, part)), all+takes(a.Parts, part)*t.hi[v]
				v++
			}
			chosen, most = chosen || each > 0, most+min(all, each*int64(c.N))
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
		open, served := int64(c.N), int64(0)
		var costs [][2]int64 // of one, and how many more than in any case
		for _, a := range c.Alternatives {
			cost := int64(0)
			for i, part := range t.Parts {
				cost += b.Worth[i] * takes(a.Parts, part)
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
	all, lot := slices.Concat(t.lines...), int64(0)
	for _, pack := range all {
		lot = divisor(lot, t.holds(pack, t.Parts[t.Counted]))
	}
	check(t.Lot == lot && t.Missing == up(t.fixed[t.Counted], lot), "another shortage")
	points := int(t.Missing) + 1
	taken := slices.Concat(t.Stages...)
	slices.Sort(all)
	slices.Sort(taken)
	check(slices.Equal(all, taken) && len(t.Stages) == len(t.Prices), "the stages take in %v of %v", taken, all)
	for k, prices := range t.Prices {
		check(len(prices) == points && prices[0] == 0 && (k == 0 || len(t.Stages[k]) == 1), "lines left out")
		for p := 1; p < points; p++ {
			best := int64(-1)
			try := func(before []int64, pack string, n int64) {
				q := t.after(p, pack, n)
				if (q < p || k > 0) && before[q] >= 0 && (best < 0 || before[q]+n*t.price(pack) < best) {
					best = before[q] + n*t.price(pack)
				}
			}
			for _, pack := range t.Stages[k] {
				if k == 0 {
					check(t.limit(pack) == t.useful(pack), "%s has a limit", pack)
					try(prices, pack, 1)
					continue
				}
				for n := range t.limit(pack) + 1 {
					try(t.Prices[k-1], pack, n)
				}
			}
			check(prices[p] == best, "line %d: %d, not %d", p, best, prices[p])
		}
	}
	last := t.Prices[len(t.Prices)-1]
	return last[len(last)-1]
}

// after returns the demand that is left of a demand after n of a pack.
func (t *third) after(p int, pack string, n int64) int {
	return int(max(0, int64(p)-n*t.holds(pack, t.Parts[t.Counted])/t.Lot))
}
