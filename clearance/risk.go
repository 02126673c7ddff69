package clearance

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/closefit/units"
)

// Probabilities are float64: they rest on a distribution that is assumed, and
// more than three digits of them mean nothing.

// ConformityProbability returns the probability that the true value lies inside
// the limits, after JCGM 106:2012, 7: for a value y with the standard uncertainty
// u,
//
//	p = Φ((T_U - y)/u) - Φ((T_L - y)/u)
//
// with T_L and T_U the limits and Φ the standard normal distribution; Student's t
// takes its place where the degrees of freedom are limited. A bracket is taken as
// an even spread (JCGM 100:2008, 4.3.7), and with an uncertainty as the sum of the
// two. Prior knowledge of the process is not used: see Process. The error is an
// *Error of kind ErrNoTolerance for an empty tolerance, or of kind ErrProbability for a
// reading that was not taken or lacks an end, of which no distribution is known.
func ConformityProbability[D units.Dimension](r Reading[D], tolerance units.Interval[D]) (float64, error) {
	if err := needTolerance("probability of conformity", tolerance); err != nil {
		return 0, err
	}
	b := r.Bracket()
	if !b.Bounded() {
		const u = 0
		return 0, &Error{Kind: ErrProbability, Where: "probability of conformity", Found: r.How(u),
			Fix: "give a reading with both ends; one-sided readings have no distribution"}
	}
	below := func(limit units.Quantity[D]) float64 { return r.probabilityBelow(limit) }
	p := 1.0
	if tolerance.HasHi() {
		p = below(tolerance.Hi())
	}
	if tolerance.HasLo() {
		p -= below(tolerance.Lo())
	}
	if b.IsPoint() && r.expanded.IsZero() { // an exact value, which may stand on a limit
		p = 0
		if tolerance.Contains(b.Lo()) {
			p = 1
		}
	}
	return min(max(p, 0), 1), nil
}

// probabilityBelow returns the probability that the true value lies below the
// limit, for a reading with both ends.
func (r Reading[D]) probabilityBelow(limit units.Quantity[D]) float64 {
	const unit = 0
	lo := limit.Sub(r.bracket.Lo()).Float64(unit)
	hi := limit.Sub(r.bracket.Hi()).Float64(unit)
	u := r.expanded.Float64(unit) / 2
	switch {
	case u == 0 && lo == hi:
		return step(lo)
	case u == 0:
		return min(max(lo/(lo-hi), 0), 1)
	case lo == hi && r.freedom > 0:
		return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(r.freedom)}.CDF(lo / u)
	case lo == hi:
		return normalCDF(lo / u)
	case r.freedom > 0:
		t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(r.freedom)}
		from, to := hi/u, lo/u
		cuts := []float64{from, to}
		for x := -30.0; x <= 30; x++ {
			cuts = append(cuts, x)
		}
		return pieces(t.CDF, from, to, cuts) / (to - from)
	}
	// The mean of Φ over the bracket: ∫Φ = zΦ(z) + φ(z).
	area := func(z float64) float64 { return z*normalCDF(z) + math.Exp(-z*z/2)/math.Sqrt(2*math.Pi) }
	return (area(lo/u) - area(hi/u)) * u / (lo - hi)
}

func step(x float64) float64 {
	if x < 0 {
		return 0
	}
	return 1
}

// normalCDF is Φ.
func normalCDF(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// GuardFactor returns how many standard uncertainties wide a guard band must be
// so that a value measured at the acceptance limit is outside the tolerance
// limit with the risk given: 1.645 for 5 %, 2 for 2.275 %. For one limit, the
// other being far away, and a normal uncertainty. JCGM 106:2012, 8.3.2; ISO
// 14253-1:2017 takes 1.65 by default (from memory). The error is an *Error of
// kind ErrProbability unless 0 < risk < 1/2.
func GuardFactor(risk float64) (float64, error) {
	if !(risk > 0 && risk < 0.5) {
		return 0, &Error{Kind: ErrProbability, Where: "risk", Found: fmt.Sprint(risk), Fix: "give one between 0 and 0.5, such as 0.05"}
	}
	return -distuv.UnitNormal.Quantile(risk), nil
}

// GuardBand returns the guard band for the risk given, as GuardFactor has it, of a
// reading with the expanded uncertainty (k = 2) given, rounded up to the sixth
// place of the dimension's first unit. The error is that of GuardFactor.
func GuardBand[D units.Dimension](expanded units.Quantity[D], risk float64) (units.Quantity[D], error) {
	k, err := GuardFactor(risk)
	if err != nil {
		return units.Quantity[D]{}, err
	}
	return roundUp(expanded.Abs().Mul(upward(k)).MulRat(half())), nil
}

// A Process is what is known of many such parts before one is measured: they
// are spread normally about a mean.
type Process[D units.Dimension] struct {
	Mean   units.Quantity[D]
	Spread units.Quantity[D] // standard deviation, above zero
}

// Risks are the shares of all parts that are judged wrongly.
type Risks struct {
	Consumer float64 // outside the limits, and accepted
	Producer float64 // inside the limits, and refused
}

// Risks returns the consumer's and the producer's global risk of accepting parts
// whose measured value lies in the acceptance interval (JCGM 106:2012, 9), for
// a normal measurement with the expanded uncertainty (k = 2) given:
//
//	R_C = ∫ outside the limits, g(η)·F(η) dη;  R_P = ∫ inside, g(η)·(1 - F(η)) dη
//
// with g the process's density and F(η) the probability that a part of size η is
// measured within the acceptance interval. Integrated by Gauss-Legendre
// quadrature, to better than 1e-9. The error is an *Error of kind ErrProbability
// unless the spread and the uncertainty are above zero, or of kind ErrNoTolerance for
// an empty tolerance or acceptance interval.
func (p Process[D]) Risks(tolerance, accept units.Interval[D], expanded units.Quantity[D]) (Risks, error) {
	const where = "risks"
	if p.Spread.Sign() <= 0 {
		return Risks{}, &Error{Kind: ErrProbability, Where: where, Found: "a process spread of " + p.Spread.String(), Fix: "give a standard deviation above zero"}
	}
	if expanded.Sign() <= 0 {
		return Risks{}, &Error{Kind: ErrProbability, Where: where, Found: "an expanded uncertainty of " + expanded.String(), Fix: "give one above zero"}
	}
	if err := cmp.Or(needTolerance(where+", tolerance", tolerance), needTolerance(where+", acceptance interval", accept)); err != nil {
		return Risks{}, err
	}
	// In units of the process's spread, about its mean.
	z := func(q units.Quantity[D]) float64 {
		f, _ := q.Sub(p.Mean).Ratio(p.Spread).Float64()
		return f
	}
	u, _ := expanded.Ratio(p.Spread).Float64()
	u /= 2
	ends := func(a units.Interval[D]) (lo, hi float64) {
		lo, hi = math.Inf(-1), math.Inf(1)
		if a.HasLo() {
			lo = z(a.Lo())
		}
		if a.HasHi() {
			hi = z(a.Hi())
		}
		return lo, hi
	}
	tl, tu := ends(tolerance)
	al, au := ends(accept)
	accepted := func(x float64) float64 { return density(x) * (normalCDF((au-x)/u) - normalCDF((al-x)/u)) }
	refused := func(x float64) float64 { return density(x) * (normalCDF((x-au)/u) + normalCDF((al-x)/u)) }
	return Risks{
		Consumer: integral(accepted, math.Inf(-1), tl, u, al, au) + integral(accepted, tu, math.Inf(1), u, al, au),
		Producer: integral(refused, tl, tu, u, al, au),
	}, nil
}

// density is that of the standard normal distribution.
func density(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }

// integral integrates a function that dies out as the normal density does, and
// is steep over u about the points given, by pieces.
func integral(f func(float64) float64, lo, hi, u float64, steep ...float64) float64 {
	const reach = 9 // the density beyond it is below 1e-18
	lo, hi = max(lo, -reach), min(hi, reach)
	if lo >= hi {
		return 0
	}
	cuts := []float64{lo, hi}
	for x := -reach; x <= reach; x++ {
		cuts = append(cuts, float64(x))
	}
	for _, s := range steep {
		for k := -8.0; k <= 8; k += 2 {
			cuts = append(cuts, s+k*u)
		}
	}
	return pieces(f, lo, hi, cuts)
}

// pieces integrates from lo to hi, between each two of the cuts that lie there.
func pieces(f func(float64) float64, lo, hi float64, cuts []float64) float64 {
	slices.Sort(cuts)
	sum, from := 0.0, lo
	for _, to := range cuts {
		if to = min(to, hi); to > from {
			sum += quad.Fixed(f, from, to, 24, quad.Legendre{}, 1)
			from = to
		}
	}
	return sum
}
