package measure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// SimpleAcceptance judges by the best estimate, as if it were the truth (JCGM 106:2012,
// 8.2): it accepts an estimate inside the limits and refuses one outside. The estimate of
// a bracket with two ends is its middle. A bracket that lacks an end has no estimate, and
// SimpleAcceptance judges it as Judge does. It shares the risk of a wrong answer between
// both sides, up to one half for a value at a limit. A reading with a Problem is
// undecided.
func SimpleAcceptance[D units.Dimension](reading Reading[D], tolerance units.Interval[D]) Verdict {
	measured, b := reading.Interval(), reading.Bracket()
	if reading.nonNegative {
		b = above(b)
	}
	if !measured.IsEmpty() && b.Bounded() {
		measured = units.Exactly(b.Mid())
	}
	return Judge(measured, tolerance)
}

// Accepting returns the acceptance interval of JCGM 106:2012, 8.3: the tolerance interval
// less a guard band at each limit. A measured value inside it is accepted. Judge applies
// a guard band of the expanded uncertainty. A larger one protects the buyer more, a
// smaller one less. For a stated risk of being wrong, take the standard uncertainty times
// the factor of [CoverageFactor]; ISO 14253-1:2017 takes 1.65 by default (from memory). A
// negative guard band widens the interval instead, and protects the maker (guarded
// rejection, 8.3.3). A quantity that cannot be negative needs no guard band at a lower
// limit of zero or less: give the tolerance without that limit, by [units.AtMost]. The
// error is of kind ErrOrder if the guard band leaves nothing, ErrEmpty if no limits were
// given.
func Accepting[D units.Dimension](tolerance units.Interval[D], guard units.Quantity[D]) (units.Interval[D], error) {
	const where = "guard band"
	if tolerance.IsEmpty() {
		return tolerance, &units.Error{Kind: ErrEmpty, Where: where, Found: "no limits", Fix: "give the tolerance interval"}
	}
	switch {
	case !tolerance.HasLo() && !tolerance.HasHi():
		return tolerance, nil
	case !tolerance.HasLo():
		return units.AtMost(tolerance.Hi().Sub(guard)), nil
	case !tolerance.HasHi():
		return units.AtLeast(tolerance.Lo().Add(guard)), nil
	}
	accept, err := units.NewInterval(tolerance.Lo().Add(guard), tolerance.Hi().Sub(guard))
	if err != nil {
		return units.Interval[D]{}, &units.Error{Kind: ErrOrder, Where: where, Found: guard.String() + " on each side of " + tolerance.String(),
			Fix: "nothing is left to accept: measure with an uncertainty well below half the width of the limits"}
	}
	return accept, nil
}

// A Process is the spread of many parts, as known before one is measured: normal, about a
// mean.
type Process[D units.Dimension] struct {
	Mean   units.Quantity[D] `json:"mean"`
	Spread units.Quantity[D] `json:"spread"` // standard deviation, above zero
}

// Risks returns the global risks of accepting parts whose measured value lies in the
// acceptance interval that the guard band leaves (JCGM 106:2012, 9; see [Accepting]), for a
// normal measurement with the expanded uncertainty (k = 2) given. The consumer's is the share of all parts that are outside the
// limits and accepted, the producer's the share that are inside and refused:
//
//	R_C = ∫ outside the limits, g(η)·F(η) dη;  R_P = ∫ inside, g(η)·(1 - F(η)) dη
//
// with g the process's density and F(η) the probability that a part of size η is
// measured within the acceptance interval. Integrated by Gauss-Legendre
// quadrature, to better than 1e-9. The error is of kind ErrProbability
// unless the spread and the uncertainty are above zero, or what Accepting returns.
func (p Process[D]) Risks(tolerance units.Interval[D], guard, expanded units.Quantity[D]) (consumer, producer float64, err error) {
	const where = "risks"
	if p.Spread.Sign() <= 0 {
		return 0, 0, &units.Error{Kind: ErrProbability, Where: where, Found: "a process spread of " + p.Spread.String(), Fix: "give a standard deviation above zero"}
	}
	if expanded.Sign() <= 0 {
		return 0, 0, &units.Error{Kind: ErrProbability, Where: where, Found: "an expanded uncertainty of " + expanded.String(), Fix: "give one above zero"}
	}
	accept, err := Accepting(tolerance, guard)
	if err != nil {
		return 0, 0, err
	}
	// In units of the process's spread, about its mean.
	z := func(q units.Quantity[D]) float64 {
		f, _ := q.Sub(p.Mean).Ratio(p.Spread).Float64()
		return f
	}
	u, _ := expanded.Ratio(p.Spread).Float64()
	u /= 2
	scaled := func(a units.Interval[D]) (lo, hi float64) {
		lo, hi = math.Inf(-1), math.Inf(1)
		if a.HasLo() {
			lo = z(a.Lo())
		}
		if a.HasHi() {
			hi = z(a.Hi())
		}
		return lo, hi
	}
	tl, tu := scaled(tolerance)
	al, au := scaled(accept)
	accepted := func(x float64) float64 { return density(x) * (normal((au-x)/u) - normal((al-x)/u)) }
	refused := func(x float64) float64 { return density(x) * (normal((x-au)/u) + normal((al-x)/u)) }
	consumer = integral(accepted, math.Inf(-1), tl, u, al, au) + integral(accepted, tu, math.Inf(1), u, al, au)
	return consumer, integral(refused, tl, tu, u, al, au), nil
}

// Working shows the steps to the risks, with numbers in the unit: the acceptance interval,
// how much of the process lies outside the limits, and the two shares. The error is that of
// Risks.
func (p Process[D]) Working(tolerance units.Interval[D], guard, expanded units.Quantity[D], u units.Unit[D]) (units.Working, error) {
	consumer, producer, err := p.Risks(tolerance, guard, expanded)
	if err != nil {
		return units.Working{}, err
	}
	below, above := 0.0, 0.0
	z := func(q units.Quantity[D]) float64 {
		f, _ := q.Ratio(p.Spread).Float64()
		return f
	}
	outside := units.Working{Name: "share of the process outside the limits", Source: "normal distribution"}
	var formulas, numbers []string
	if tolerance.HasLo() {
		below = normal(z(tolerance.Lo().Sub(p.Mean)))
		formulas, numbers = append(formulas, "Φ((L - μ)/σ)"), append(numbers, fmt.Sprintf("Φ((%s - %s) / %s)", tolerance.Lo().WrittenBare(u), p.Mean.WrittenBare(u), p.Spread.WrittenBare(u)))
	}
	if tolerance.HasHi() {
		above = normal(z(p.Mean.Sub(tolerance.Hi())))
		formulas, numbers = append(formulas, "Φ((μ - U)/σ)"), append(numbers, fmt.Sprintf("Φ((%s - %s) / %s)", p.Mean.WrittenBare(u), tolerance.Hi().WrittenBare(u), p.Spread.WrittenBare(u)))
	}
	outside.Formula, outside.Numbers, outside.Result = strings.Join(formulas, " + "), strings.Join(numbers, " + "), fmt.Sprintf("%.4g", below+above)
	if len(formulas) == 0 {
		outside.Numbers = "no limits"
	}
	w := units.Working{
		Name:    "risks of accepting what is measured inside",
		Steps:   []units.Working{acceptingStep(tolerance, guard, u), outside},
		Formula: "R_C = ∫ g(η)·F(η) dη outside the limits; R_P = ∫ g(η)·(1 - F(η)) dη inside",
		Numbers: fmt.Sprintf("g: density of the process, normal about %s with σ = %s; F: probability that a part of size η is measured within the acceptance interval, with u = %s / 2", p.Mean.Written(u), p.Spread.WrittenBare(u), expanded.WrittenBare(u)),
		Result:  fmt.Sprintf("consumer's risk %.4g, producer's risk %.4g", consumer, producer),
		Source:  "JCGM 106:2012, 9",
		Notes:   []string{"of all parts, the consumer's risk R_C is the share that is outside the limits and accepted, the producer's R_P the share that is inside and refused"},
	}
	if accepted := 1 - below - above - producer + consumer; accepted > consumer {
		w.Notes = append(w.Notes, fmt.Sprintf("%.4g of all parts are accepted; of these %.3g are outside the limits", accepted, consumer/accepted))
	}
	return w, nil
}

// acceptingStep shows the acceptance interval that Accepting returns.
func acceptingStep[D units.Dimension](tolerance units.Interval[D], guard units.Quantity[D], u units.Unit[D]) units.Working {
	w := units.Working{Name: "acceptance interval", Source: "JCGM 106:2012, 8.3"}
	var formulas, numbers []string
	if tolerance.HasLo() {
		formulas, numbers = append(formulas, "A_L = L + w"), append(numbers, tolerance.Lo().WrittenBare(u)+" + "+guard.WrittenBare(u))
	}
	if tolerance.HasHi() {
		formulas, numbers = append(formulas, "A_U = U - w"), append(numbers, tolerance.Hi().WrittenBare(u)+" - "+guard.WrittenBare(u))
	}
	w.Formula, w.Numbers = strings.Join(formulas, "; "), strings.Join(numbers, "; ")
	accept, err := Accepting(tolerance, guard)
	if w.Result = accept.Written(u); err != nil {
		w.Result = "nothing: the guard band takes all of the tolerance"
	}
	return w
}

// integral integrates a function that dies out as the normal density does, and
// is steep over u about the points given, by pieces.
func integral(f func(float64) float64, lo, hi, u float64, steep ...float64) float64 {
	const reach = 9 // the density beyond it is below 1e-18
	lo, hi = max(lo, -reach), min(hi, reach)
	var cuts []float64
	for x := -reach; x < reach; x += 2 {
		cuts = append(cuts, float64(x))
	}
	for _, s := range steep {
		for k := -8.0; k <= 8; k += 4 {
			cuts = append(cuts, s+k*u)
		}
	}
	return pieces(f, lo, hi, cuts)
}

// legendre holds the places above zero and the weights of Gauss-Legendre quadrature with 24 points from
// -1 to 1; those below zero mirror them. A table of a package for any number of points holds a
// hundred times as much.
var legendre = [...]struct{ at, weight float64 }{
	{0.06405689286260563, 0.12793819534675216},
	{0.1911188674736163, 0.1258374563468283},
	{0.3150426796961634, 0.12167047292780339},
	{0.4337935076260451, 0.1155056680537256},
	{0.5454214713888396, 0.10744427011596563},
	{0.6480936519369755, 0.09761865210411388},
	{0.7401241915785544, 0.08619016153195327},
	{0.820001985973903, 0.0733464814110803},
	{0.8864155270044011, 0.05929858491543678},
	{0.9382745520027328, 0.04427743881741981},
	{0.9747285559713095, 0.028531388628933663},
	{0.9951872199970213, 0.0123412297999872},
}

// pieces integrates from lo to hi, between each two of the cuts that lie there.
func pieces(f func(float64) float64, lo, hi float64, cuts []float64) float64 {
	slices.Sort(cuts)
	sum, from := 0.0, lo
	for _, to := range append(cuts, hi) {
		if to = min(to, hi); to > from {
			mid, half := (from+to)/2, (to-from)/2
			for _, p := range legendre {
				sum += half * p.weight * (f(mid-half*p.at) + f(mid+half*p.at))
			}
			from = to
		}
	}
	return sum
}
