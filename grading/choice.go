package grading

import "example.com/closefit/units"

// A Choice is the pair chosen for a location.
type Choice struct {
	Location string
	Fit      Fit
}

// Nearest chooses for each place the pair nearest to the wanted clearance.
func Nearest(places []Place) ([]Choice, error) {
	choices := make([]Choice, len(places))
	for i, p := range places {
		if len(p.Fits) == 0 {
			return nil, &NoFitError{Location: p.Location}
		}
		choices[i] = Choice{p.Location, p.Fits[0]}
	}
	return choices, nil
}

// Alike chooses pairs that are near to the wanted clearance and keep neighbouring
// locations alike: of all choices the one with the smallest
//
//	Σ |c(i) - w| + Σ |c(i+1) - c(i)|
//
// with c(i) the middle of the clearance at place i, in the order of the places,
// and w the clearance wanted there. Of choices that are equal in this, the one
// whose fits stand earlier in the lists, decided at the last place first. It is
// found by going through the places once, keeping the best way to each fit
// (dynamic programming), and is exact.
func Alike(places []Place) ([]Choice, error) {
	if _, err := Nearest(places); err != nil || len(places) == 0 {
		return nil, err
	}
	// best[k] is the smallest sum of a way to fit k; before[i][k] the fit before it.
	best := make([]units.Length, len(places[0].Fits))
	for k, f := range places[0].Fits {
		best[k] = f.Off
	}
	before := make([][]int, len(places))
	for i := 1; i < len(places); i++ {
		next := make([]units.Length, len(places[i].Fits))
		before[i] = make([]int, len(places[i].Fits))
		for k, f := range places[i].Fits {
			for m, g := range places[i-1].Fits {
				way := units.Sum(best[m], f.Off, f.Clearance.Mid().Sub(g.Clearance.Mid()).Abs())
				if m == 0 || way.Less(next[k]) {
					next[k], before[i][k] = way, m
				}
			}
		}
		best = next
	}
	at := 0
	for k := range best {
		if best[k].Less(best[at]) {
			at = k
		}
	}
	choices := make([]Choice, len(places))
	for i := len(places) - 1; i >= 0; i-- {
		choices[i] = Choice{places[i].Location, places[i].Fits[at]}
		if i > 0 {
			at = before[i][at]
		}
	}
	return choices, nil
}

// DemandOf counts the parts of the choices.
func DemandOf(choices []Choice) []Count {
	var demand []Count
	for _, c := range choices {
		demand = append(demand, Count{Part: c.Fit.Pair.Upper, N: 1}, Count{Part: c.Fit.Pair.Lower, N: 1})
	}
	return total(demand)
}
