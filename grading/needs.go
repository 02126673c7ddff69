package grading

import "example.com/closefit/grading/purchase"

// Needs turns a demand into the needs of [purchase.Cheapest]: one for each part, served
// by the part itself or by one of its substitutes, in their order. A part demanded twice
// counts twice. A substitute serves for the part that lists it, not the other way round,
// and substitutes do not chain. Cheapest reports impossible numbers.
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
