package purchase

import (
	"cmp"
	"slices"
	"sort"
)

// A component is a part of an order that shares nothing with the rest: no pack and
// no demand joins it to another. Its boxes come by likes, its variables are the
// boxes first and then the alternatives of its demands.
type component struct {
	parts   []int    // of the numbers: those that can be short
	names   []string // of the parts
	stock   []int64
	fixed   []int64  // how many of each part the demands of a single alternative take
	boxes   []box    // their contents are of the component's parts
	likes   [][]int  // boxes of the same contents, in the order in which they are bought
	demands []demand // those of several alternatives
	index   []int    // which demand of the numbers each is
	unit    int64    // the largest number that divides every price; the boxes' prices are in it
}

// A refusal is a box that is left out because another one is as good.
type refusal struct{ box, by int }

// short reports whether the part can be short.
func (n *numbers) short(part int) bool { return n.most[part] > n.stock[part] }

// refuse divides the boxes into those that an answer may hold and the others: those
// that are sold out, those that hold nothing that can be short, and those that are
// beaten. A box is beaten by one that holds at least as much of all that can be short,
// of which there are enough, and that comes first by price, then by size, then by place.
func (n *numbers) refuse(limits []*int) (kept []int, beaten []refusal) {
	var order []int
	for j, b := range n.boxes {
		if b.limit > 0 {
			order = append(order, j)
		}
	}
	slices.SortStableFunc(order, func(j, k int) int { return n.boxes[j].before(n.boxes[k]) })
	for _, j := range order {
		beats := func(k int) bool { return n.enough(k, limits[k]) && n.holdsAll(k, j) }
		if k := slices.IndexFunc(kept, beats); k >= 0 {
			beaten = append(beaten, refusal{j, kept[k]})
			continue
		}
		kept = append(kept, j)
	}
	return kept, beaten
}

// before compares boxes by what a purchase prefers.
func (b box) before(c box) int {
	return cmp.Or(cmp.Compare(b.price, c.price), cmp.Compare(b.size, c.size), cmp.Compare(b.place, c.place))
}

// enough reports whether as many of the box can be had as can be useful.
func (n *numbers) enough(j int, limit *int) bool {
	if limit == nil {
		return true
	}
	for i, holds := range n.boxes[j].holds {
		if holds > 0 && ceilDiv(n.most[i]-n.stock[i], holds) > int64(*limit) {
			return false
		}
	}
	return true
}

// holdsAll reports whether box k holds at least as much as j of all that can be
// short.
func (n *numbers) holdsAll(k, j int) bool {
	for i := range n.parts {
		if n.short(i) && n.boxes[k].holds[i] < n.boxes[j].holds[i] {
			return false
		}
	}
	return true
}

// split returns the components of the order, of the boxes kept.
func (n *numbers) split(kept []int) []*component {
	// Each part, box and demand points to one of the same component.
	boxes, demands := len(n.parts), len(n.parts)+len(n.boxes)
	to := make([]int, demands+len(n.demands))
	for i := range to {
		to[i] = i
	}
	find := func(i int) int {
		for to[i] != i {
			to[i] = to[to[i]]
			i = to[i]
		}
		return i
	}
	join := func(a, b int) { to[find(b)] = find(a) }
	for _, j := range kept {
		for i, holds := range n.boxes[j].holds {
			if holds > 0 && n.short(i) {
				join(boxes+j, i)
			}
		}
	}
	for k, w := range n.demands {
		for _, v := range w.alternatives {
			for _, i := range v.takes {
				if len(w.alternatives) > 1 && n.short(i) {
					join(demands+k, i)
				}
			}
		}
	}
	var members [][]int
	at := map[int]int{}
	for i := range to {
		one := i >= demands && len(n.demands[i-demands].alternatives) > 1 || i >= boxes && i < demands && slices.Contains(kept, i-boxes) || i < boxes && n.short(i)
		if !one {
			continue
		}
		root := find(i)
		if _, known := at[root]; !known {
			at[root] = len(members)
			members = append(members, nil)
		}
		members[at[root]] = append(members[at[root]], i)
	}
	components := make([]*component, len(members))
	for k, m := range members {
		components[k] = n.component(m, boxes, demands)
	}
	return components
}

// whole returns the order as one component.
func (n *numbers) whole(kept []int) *component {
	var members []int
	for i := range n.parts {
		if n.short(i) {
			members = append(members, i)
		}
	}
	inOrder := slices.Clone(kept)
	slices.SortStableFunc(inOrder, cmp.Compare)
	for _, j := range inOrder {
		members = append(members, len(n.parts)+j)
	}
	for k, w := range n.demands {
		if len(w.alternatives) > 1 {
			members = append(members, len(n.parts)+len(n.boxes)+k)
		}
	}
	return n.component(members, len(n.parts), len(n.parts)+len(n.boxes))
}

// component makes one of its members, numbered as in split.
func (n *numbers) component(members []int, boxes, demands int) *component {
	c := &component{}
	own := map[int]int{}
	var kept []box
	for _, m := range members {
		switch {
		case m < boxes:
			own[m] = len(c.parts)
			c.parts = append(c.parts, m)
			c.names = append(c.names, n.parts[m])
			c.stock = append(c.stock, n.stock[m])
		case m < demands:
			kept = append(kept, n.boxes[m-boxes])
		default:
			w := n.demands[m-demands]
			c.index = append(c.index, m-demands)
			alternatives := make([]alternative, len(w.alternatives))
			for k, v := range w.alternatives {
				alternatives[k] = alternative{size: v.size, distance: v.distance}
				for _, i := range v.takes {
					if n.short(i) {
						alternatives[k].takes = append(alternatives[k].takes, own[i])
					}
				}
			}
			c.demands = append(c.demands, demand{needs: w.needs, n: w.n, alternatives: alternatives})
		}
	}
	c.fixed = make([]int64, len(c.parts))
	for _, w := range n.demands {
		if len(w.alternatives) != 1 {
			continue
		}
		for _, i := range w.alternatives[0].takes {
			if k, mine := own[i]; mine {
				c.fixed[k] += w.n
			}
		}
	}
	for i, b := range kept {
		holds := make([]int64, len(c.parts))
		for k, part := range c.parts {
			holds[k] = b.holds[part]
		}
		kept[i].holds = holds
		c.unit = gcd(c.unit, b.price)
	}
	c.unit = max(c.unit, 1)
	c.addLikes(kept)
	return c
}

// addLikes takes boxes in, those of the same contents together.
func (c *component) addLikes(kept []box) {
	for len(kept) > 0 {
		var like, other []box
		for _, b := range kept {
			if slices.Equal(b.holds, kept[0].holds) {
				b.price /= c.unit
				like = append(like, b)
			} else {
				other = append(other, b)
			}
		}
		sort.Slice(like, func(j, k int) bool { return like[j].before(like[k]) < 0 }) // a generic one of so large a type is 15 kB of code
		var indices []int
		for _, b := range like {
			indices = append(indices, len(c.boxes))
			c.boxes = append(c.boxes, b)
		}
		c.likes = append(c.likes, indices)
		kept = other
	}
}

// rigid reports for each part whether all that take it have no other alternative.
func (c *component) rigid() []bool {
	r := make([]bool, len(c.parts))
	for i := range r {
		r[i] = true
	}
	for _, w := range c.demands {
		for _, v := range w.alternatives {
			for _, i := range v.takes {
				r[i] = false
			}
		}
	}
	return r
}

// variables returns how many variables the component's program has.
func (c *component) variables() int {
	n := len(c.boxes)
	for _, w := range c.demands {
		n += len(w.alternatives)
	}
	return n
}

// program returns the conditions that a purchase must meet, with no cost yet:
// a row for each part (as many as are taken are there), then one for each demand
// (each place is served).
func (c *component) program() *program {
	size := c.variables()
	p := &program{cost: make([]int64, size), lo: make([]int64, size), hi: make([]int64, size), classes: slices.Clone(c.likes), first: len(c.likes)}
	for j, b := range c.boxes {
		p.hi[j] = b.limit
	}
	for i := range c.parts {
		r := row{coef: make([]int64, size), least: c.fixed[i] - c.stock[i]}
		for j, b := range c.boxes {
			r.coef[j] = b.holds[i]
		}
		p.rows = append(p.rows, r)
	}
	t := len(c.boxes)
	for _, w := range c.demands {
		r := row{coef: make([]int64, size), least: w.n}
		for _, v := range w.alternatives {
			p.hi[t] = w.n
			r.coef[t] = 1
			for _, i := range v.takes {
				p.rows[i].coef[t]--
			}
			p.classes = append(p.classes, []int{t})
			t++
		}
		p.rows = append(p.rows, r)
	}
	p.guess = c.guess(p)
	return p
}

// aimNames are the names of the aims, the first one first.
var aimNames = []string{"price", "distance", "parts left over", "packs", "places of the alternatives in their lists", "places of the packs in their list"}

// The aims, by variable.

func (c *component) prices() aim {
	a := make([]int64, c.variables())
	for j, b := range c.boxes {
		a[j] = b.price
	}
	return aim{aimNames[0], a}
}

func (c *component) distances() aim {
	return aim{aimNames[1], c.byAlternative(func(w demand, k int) int64 { return w.alternatives[k].distance })}
}

func (c *component) leftover() aim {
	// What the demands take counts too where their alternatives differ in it.
	a := c.byAlternative(func(w demand, k int) int64 {
		most := 0
		for _, v := range w.alternatives {
			most = max(most, v.size)
		}
		return int64(most - w.alternatives[k].size)
	})
	for j, b := range c.boxes {
		a[j] = b.size
	}
	return aim{aimNames[2], a}
}

func (c *component) fewest() aim {
	a := make([]int64, c.variables())
	for j := range c.boxes {
		a[j] = 1
	}
	return aim{aimNames[3], a}
}

// firstAlternatives also sees to it that no demand is served more often than it asks for:
// an alternative that does so in vain would be used once less.
func (c *component) firstAlternatives() aim {
	return aim{aimNames[4], c.byAlternative(func(_ demand, k int) int64 { return int64(k) })}
}

func (c *component) earliest() aim {
	a := make([]int64, c.variables())
	for j, b := range c.boxes {
		a[j] = int64(b.place)
	}
	return aim{aimNames[5], a}
}

func (c *component) byAlternative(cost func(w demand, k int) int64) []int64 {
	a := make([]int64, len(c.boxes), c.variables())
	for _, w := range c.demands {
		for k := range w.alternatives {
			a = append(a, cost(w, k))
		}
	}
	return a
}
