package stack

import "math/big"

// tail returns P(S > t) of the sum S of terms, which are in the order of compare.
//
// It is computed by the best of the ways that reach it: exactly, where all terms are
// uniform, triangular or samples (rational); by the closed form of one term (closed);
// and by lattices otherwise, which alone is an estimate (estimate). Where S has a
// density, the smaller of P(S > t) and P(S < t) is computed and the other follows from it.
func tail(terms []term, t *big.Rat) Probability {
	lo, hi := new(big.Rat), new(big.Rat)
	bounded, continuous := true, false
	var mean float64
	for _, x := range terms {
		e := x.exactly()
		bounded = bounded && x.kind != normal
		continuous = continuous || x.kind != sampled
		mean += x.mean()
		if x.kind == sampled {
			lo.Add(lo, e.atoms[0])
			hi.Add(hi, e.atoms[len(e.atoms)-1])
			continue
		}
		lo.Sub(lo, e.half)
		hi.Add(hi, e.half)
	}
	switch {
	case bounded && t.Cmp(hi) >= 0:
		return exactly(0)
	case bounded && t.Cmp(lo) < 0:
		return exactly(1)
	case continuous && nearestTo(t) < mean:
		mirrored := make([]term, len(terms))
		for i, x := range terms {
			mirrored[i] = x.mirrored()
		}
		return smaller(sorted(mirrored), new(big.Rat).Neg(t)).other()
	}
	return smaller(terms, t)
}

func smaller(terms []term, t *big.Rat) Probability {
	if p, ok := rational(terms, t); ok {
		return p
	}
	if p, ok := closed(terms, t); ok {
		return p
	}
	return estimate(terms, nearestTo(t))
}
