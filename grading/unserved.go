package grading

import "math"

// unserved returns an *UnservedError if not even all packs on sale serve the
// wants, of which each way must take one part. It fills the wants from the
// largest supply there can be, by augmenting paths; a want that stays open shows
// a set of wants whose parts together are too few.
func (c *counter) unserved() error {
	supply := make([]int64, len(c.parts))
	copy(supply, c.stock)
	for j, p := range c.packs {
		for i, n := range c.made[j] {
			switch {
			case n == 0:
			case p.Limit == nil:
				supply[i] = math.MaxInt32
			default:
				supply[i] = min(math.MaxInt32, supply[i]+n*min(math.MaxInt32, int64(*p.Limit)))
			}
		}
	}
	f := &filling{counter: c, supply: supply, used: make([]int64, len(c.parts)), from: make([][]int64, len(c.wants))}
	for k := range c.wants {
		f.from[k] = make([]int64, len(c.parts))
	}
	e := &UnservedError{}
	told := make([]bool, len(c.wants))
	for k, w := range c.wants {
		for open := w.n; open > 0; {
			f.seen = make([]bool, len(c.parts))
			got := f.more(k, open)
			if got == 0 {
				if !told[k] {
					e.Missing = append(e.Missing, f.missing(k, told))
				}
				break
			}
			open -= got
		}
	}
	if len(e.Missing) > 0 {
		return e
	}
	return nil
}

// A filling says how many of each part serve each want.
type filling struct {
	*counter
	supply, used []int64
	from         [][]int64 // by want, by part
	seen         []bool    // parts met on the way
}

// more gets up to n more parts for a want, moving others over if it must.
func (f *filling) more(k int, n int64) int64 {
	for _, v := range f.wants[k].ways {
		i := v.takes[0]
		if f.seen[i] {
			continue
		}
		f.seen[i] = true
		if spare := min(n, f.supply[i]-f.used[i]); spare > 0 {
			f.used[i] += spare
			f.from[k][i] += spare
			return spare
		}
		for other := range f.wants {
			if other == k || f.from[other][i] == 0 {
				continue
			}
			if moved := f.more(other, min(n, f.from[other][i])); moved > 0 {
				f.from[other][i] -= moved
				f.from[k][i] += moved
				return moved
			}
		}
	}
	return 0
}

// missing describes the wants that compete for the parts just met in vain.
func (f *filling) missing(k int, told []bool) Missing {
	m := Missing{}
	for i, met := range f.seen {
		if met {
			m.Most += int(f.supply[i])
		}
	}
	for other, w := range f.wants {
		competes := other == k
		for i, met := range f.seen {
			competes = competes || met && f.from[other][i] > 0
		}
		if competes {
			told[other] = true
			m.Parts = append(m.Parts, f.parts[w.ways[0].takes[0]])
			m.Wanted += int(w.n)
		}
	}
	for j := range f.packs {
		for i, met := range f.seen {
			if met && f.made[j][i] > 0 {
				m.Packs++
				break
			}
		}
	}
	return m
}
