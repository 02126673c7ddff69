package grading

import "example.com/closefit/grading/purchase"

// Needs makes a demand into what [purchase.Cheapest] asks for: one need of each part,
// which the part itself serves, or one of its substitutes, in their order. A part that is
// demanded twice counts twice. What substitutes says holds in that direction alone, from
// the part demanded to what may be fitted instead, and does not chain. Numbers that
// cannot be are for Cheapest to report.
func Needs(demand []purchase.Count[Part], substitutes map[Part][]Part) []purchase.Need[Part] {
	var needs []purchase.Need[Part]
	at := map[Part]int{}
	for _, d := range demand {
		i, known := at[d.Part]
		if known && d.N >= 0 && needs[i].N >= 0 && needs[i].N <= mostCounted {
			needs[i].N += min(d.N, mostCounted+1)
			continue
		}
		if !known {
			at[d.Part] = len(needs)
		}
		n := purchase.Need[Part]{Name: d.Part.String(), N: d.N, Alternatives: []purchase.Alternative[Part]{{Parts: []Part{d.Part}}}}
		seen := map[Part]bool{d.Part: true}
		for _, p := range substitutes[d.Part] {
			if !seen[p] {
				seen[p] = true
				n.Alternatives = append(n.Alternatives, purchase.Alternative[Part]{Parts: []Part{p}})
			}
		}
		needs = append(needs, n)
	}
	return needs
}

// mostCounted is beyond what can be bought, and small enough that sums fit.
const mostCounted = 1 << 30
