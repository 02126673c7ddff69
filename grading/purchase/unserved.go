package purchase

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// unserved returns an error of kind ErrUnserved if not even all packs on sale serve
// the needs of which each alternative takes one part. A need of one alternative counts as
// one need for each of its parts.
func (r *reading[P]) unserved() error {
	supply := slices.Clone(r.stock)
	for j, p := range r.Packs {
		for i, n := range r.boxes[j].holds {
			switch {
			case n == 0:
			case p.Limit == nil:
				supply[i] = math.MaxInt32
			default:
				supply[i] = min(math.MaxInt32, supply[i]+n*min(math.MaxInt32, int64(*p.Limit)))
			}
		}
	}
	f := newFilling(supply, r.singles())
	var missing []string
	told := make([]bool, len(f.demands))
	for k := range f.demands {
		if open := f.serve(k); open > 0 && !told[k] {
			missing = append(missing, r.missing(f, k, told))
		}
	}
	if missing == nil {
		return nil
	}
	return fault(ErrUnserved, "", "order other packs, or find other parts that serve", "%s", strings.Join(missing, "; "))
}

// singles returns the demands of which each alternative takes one part, and those of one
// alternative taken apart.
func (r *reading[P]) singles() []demand {
	var demands []demand
	for _, w := range r.demands {
		single := true
		for _, v := range w.alternatives {
			single = single && len(v.takes) == 1
		}
		switch {
		case single:
			demands = append(demands, w)
		case len(w.alternatives) == 1:
			for _, i := range w.alternatives[0].takes {
				demands = append(demands, demand{needs: w.needs, n: w.n, alternatives: []alternative{{takes: []int{i}}}})
			}
		}
	}
	return demands
}

// missing describes the demands that compete for the parts just met in vain: how many
// places they have together, and how many of them all that is on sale can serve.
func (r *reading[P]) missing(f *filling, k int, told []bool) string {
	most, wanted := int64(0), int64(0)
	why := "no pack on sale holds it"
	for i, met := range f.seen {
		if !met {
			continue
		}
		most += f.supply[i]
		if slices.ContainsFunc(r.boxes, func(b box) bool { return b.holds[i] > 0 }) {
			why = "the packs on sale that hold it are not enough"
		}
	}
	var names []string
	for other, w := range f.demands {
		competes := other == k
		for i, met := range f.seen {
			competes = competes || met && f.from[other][i] > 0
		}
		if !competes {
			continue
		}
		told[other] = true
		wanted += w.n
		for _, need := range w.needs {
			names = append(names, r.Needs[need].Name)
		}
	}
	return fmt.Sprintf("%s: %d wanted, %d to be had; %s", strings.Join(names, " and "), wanted, most, why)
}

// A filling says how many of each part serve each demand, of which each alternative takes
// one part or none that can be short.
type filling struct {
	demands      []demand
	supply, used []int64
	from         [][]int64 // by demand, by part
	seen         []bool    // parts met on the way
}

func newFilling(supply []int64, demands []demand) *filling {
	f := &filling{demands: demands, supply: supply, used: make([]int64, len(supply)), from: make([][]int64, len(demands))}
	for k := range demands {
		f.from[k] = make([]int64, len(supply))
	}
	return f
}

// serve fills a demand, by augmenting paths, and returns how many of its places stay
// open. The parts seen last then show which demands compete for too few.
func (f *filling) serve(k int) (open int64) {
	for open = f.demands[k].n; open > 0; {
		f.seen = make([]bool, len(f.supply))
		got := f.more(k, open)
		if got == 0 {
			return open
		}
		open -= got
	}
	return 0
}

// more gets up to n more parts for a demand, moving others over if it must.
func (f *filling) more(k int, n int64) int64 {
	for _, v := range f.demands[k].alternatives {
		if len(v.takes) == 0 {
			return n
		}
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
		for other := range f.demands {
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
