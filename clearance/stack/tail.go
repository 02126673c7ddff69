package stack

import (
	"context"
	"math/big"
)

// tail returns P(S > t) of the sum S of terms, which are in the order of compare.
//
// It is computed by the best of the ways that reach it: exactly, where all terms are
// uniform, triangular or samples (rational); by the closed form of one term (closed); by
// inversion of the characteristic function (invert); between the tails of the sum without
// the terms that are small beside the others (bracket); and by lattices otherwise. The last
// alone is an estimate. Where S has a density, the smaller of P(S > t) and P(S < t) is
// computed and the other follows from it. Once the context ends it returns soon, with a number of
// no meaning: whoever called asks the context.
func tail(ctx context.Context, terms []term, t *big.Rat) Computed {
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
		return smaller(ctx, sorted(mirrored), new(big.Rat).Neg(t)).other()
	}
	return smaller(ctx, terms, t)
}

func smaller(ctx context.Context, terms []term, t *big.Rat) Computed {
	if p, ok := proven(ctx, terms, t); ok {
		return p
	}
	if p, ok := bracket(ctx, terms, t); ok {
		return p
	}
	return estimate(ctx, terms, nearestTo(t))
}

func proven(ctx context.Context, terms []term, t *big.Rat) (Computed, bool) {
	for _, way := range []func(context.Context, []term, *big.Rat) (Computed, bool){rational, closed, invert} {
		if p, ok := way(ctx, terms, t); ok {
			return p, true
		}
	}
	return Computed{}, false
}

// bracket returns P(S > t) from the sum R of the larger terms. If what the others add
// lies within ±r but for a probability of q,
//
//	P(R > t+r) - q <= P(S > t) <= P(R > t-r) + q
//
// r is the sum of the half widths of the small terms, with 20 standard deviations for a
// normal one, which q counts as 2·Q(20) < 6e-89. ok is false if nothing is small, or if that
// is wider than provenEnough.
func bracket(ctx context.Context, terms []term, t *big.Rat) (p Computed, ok bool) {
	const small, deviations, beyond = 1e-5, 20, 6e-89
	var widest float64
	for _, x := range terms {
		widest = max(widest, x.half)
	}
	var larger []term
	r, q := new(big.Rat), 0.0
	for _, x := range terms {
		switch {
		case x.half > small*widest || x.kind == sampled: // a sample need not lie about its middle
			larger = append(larger, x)
		case x.kind == normal:
			r.Add(r, new(big.Rat).SetFloat64(deviations*x.sigma*widened))
			q += beyond
		default:
			r.Add(r, x.exactly().half)
		}
	}
	if len(larger) == len(terms) {
		return Computed{}, false
	}
	least, ok1 := proven(ctx, larger, new(big.Rat).Add(t, r))
	most, ok2 := proven(ctx, larger, new(big.Rat).Sub(t, r))
	if !ok1 || !ok2 {
		return Computed{}, false
	}
	lo, hi := least.Value-least.Error-q, most.Value+most.Error+q
	p = Computed{Value: (lo + hi) / 2, Error: ((hi-lo)/2 + 4*halfUlp*hi) * widened, Proven: true}
	return p, p.Error <= provenEnough*p.Value && p.Value <= 1
}
