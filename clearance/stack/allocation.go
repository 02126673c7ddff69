package stack

import (
	"fmt"
	"math"
	"slices"

	"example.com/closefit/units"
)

// A Cost is the part of a tolerance's cost that depends on its width:
//
//	cost = Scale / T^Exponent
//
// T: half the width of the contributor's limits in millimetres; Scale: the cost at
// T = 1 mm, in any unit that all costs of a stack share, from 1e-60 to 1e60; Exponent: a
// pure number, about 0.5 to 2 (common practice, no source), and from 0.01 to 6.
type Cost struct {
	Scale    float64 `json:"scale"`
	Exponent float64 `json:"exponent"`
}

func (c Cost) at(half float64) float64 { return c.Scale / math.Pow(half, c.Exponent) }

// An Allocation is a stack whose tolerances put a stated part of all gaps within limits.
type Allocation struct {
	Stack   Stack     `json:"stack"`   // with the new limits
	Factors []float64 `json:"factors"` // new width of each contributor's limits over the old

	// Outside is the probability left outside the limits: no more than the yield allows,
	// with its error added if that is proven.
	Outside Computed `json:"outside"`

	Cost *float64 `json:"cost"` // of all tolerances that were allocated; nil if no costs were given
}

// Allocate returns the stack with the widest tolerances that put the part yield of all
// gaps, such as 0.9973, within the limits. Limits of contributors keep their middle,
// distributions their kind (a normal one its k, and its mean where it is stated); fixed
// contributors, measured samples and sorted parts of a process off centre stay. The new limits are rounded inward to the picometre.
//
// Without costs every tolerance is multiplied by one factor: below one where tolerances
// must be tighter, above where they may be wider. With costs the tolerances are the
// cheapest. Give one cost to each contributor, in their order; those of contributors that
// stay are ignored. At the least cost, every tolerance saves the same for a little more
// probability outside:
//
//	eᵢ·aᵢ / Tᵢ^(eᵢ+1) = λ·∂P/∂Tᵢ   for every i
//
// aᵢ, eᵢ: Scale and Exponent of the cost; Tᵢ: half the width of the limits, mm;
// P: probability of a gap outside, from the true distribution; λ: one number for
// all. It is solved by steps Tᵢ = (μ·eᵢ·aᵢ/wᵢ)^(1/(eᵢ+2)), with the largest μ that
// reaches the yield, in which wᵢ is (∂P/∂Tᵢ)/Tᵢ from the step before, and the
// square of sensitivity times standard deviation over Tᵢ in the first; it ends
// when no tolerance changes by more than 0.1 %, or after 20 steps with the cheapest
// of them.
//
// Errors: those of [Law.Capability] for the limits, of [Law.Quantile] for the yield, of
// [Stack.Law], ErrUnusable for the costs, and [ErrUnreachable] if the narrowest
// tolerances do not reach the yield, because the gap's centre lies outside the limits or
// the fixed sizes vary too much.
func (s Stack) Allocate(limits units.LengthInterval, yield float64, costs ...Cost) (*Allocation, error) {
	search, err := s.search(limits, yield)
	if err != nil {
		return nil, err
	}
	if len(costs) > 0 {
		return search.leastCost(costs)
	}
	return search.reach(func(lever float64) []float64 {
		return slices.Repeat([]float64{lever}, len(s))
	})
}

// leastCost returns the allocation of the cheapest tolerances.
func (f *search) leastCost(costs []Cost) (*Allocation, error) {
	if len(costs) != len(f.stack) {
		return nil, wrong(ErrUnusable, "costs of tolerances", fmt.Sprintf("%d costs for %d contributors", len(costs), len(f.stack)), "give one to each, in their order")
	}
	weights := make([]float64, len(costs))
	for i, c := range costs {
		if f.fixed[i] {
			continue
		}
		if !(c.Scale >= 1e-60 && c.Scale <= 1e60 && c.Exponent >= 0.01 && c.Exponent <= 6) { // no cost overflows
			return nil, wrong(ErrUnusable, f.stack[i].label(i), fmt.Sprintf("a cost of %g / T^%g", c.Scale, c.Exponent),
				"give a scale from 1e-60 to 1e60 and an exponent from 0.01 to 6, such as 1")
		}
		weights[i] = f.terms[i].variance() / (f.halves[i] * f.halves[i])
	}
	f.cells, f.precision = fewestCells/4, 1e-4 // until the weights are found
	var best, bestWeights []float64
	least := math.Inf(1)
	for range 20 {
		factors, err := f.largest(func(lever float64) []float64 { return f.balanced(lever, costs, weights) })
		if err != nil {
			return nil, err
		}
		still := best != nil
		for i := range best {
			still = still && math.Abs(factors[i]/best[i]-1) < 1e-3
		}
		if cost := f.cost(factors, costs); cost < least {
			best, bestWeights, least = factors, slices.Clone(weights), cost
		}
		if still {
			break
		}
		f.reweigh(weights, factors)
	}
	f.cells, f.precision = fewestCells, finalPrecision
	a, err := f.reach(func(lever float64) []float64 { return f.balanced(lever, costs, bestWeights) })
	if err != nil {
		return nil, err
	}
	cost := f.cost(a.Factors, costs)
	a.Cost = &cost
	return a, nil
}

// balanced returns the factors of one step of leastCost. The lever is a length
// ratio.
func (f *search) balanced(lever float64, costs []Cost, weights []float64) []float64 {
	factors := make([]float64, len(costs))
	for i, c := range costs {
		factors[i] = 1
		if !f.fixed[i] {
			mu := lever * lever * lever // the power e+2 of a length when all e are one
			factors[i] = math.Pow(mu*c.Exponent*c.Scale/weights[i], 1/(c.Exponent+2)) / f.halves[i]
		}
	}
	return factors
}

// reweigh sets the weights from how the probability outside changes with each
// tolerance, half way from the old ones on a logarithmic scale, so that the steps
// do not swing.
func (f *search) reweigh(weights, factors []float64) {
	const apart = 0.01
	fresh := make([]float64, len(weights))
	var scale, count float64
	for i := range weights {
		if f.fixed[i] {
			continue
		}
		var p [2]float64
		for side, factor := range []float64{1 - apart, 1 + apart} {
			moved := slices.Clone(factors)
			moved[i] *= factor
			p[side] = f.outside(moved)
		}
		half := f.halves[i] * factors[i]
		fresh[i] = math.Max(p[1]-p[0], 1e-9*p[1]) / (half * half) // never none: it would let the tolerance grow without end
		scale += math.Log(fresh[i] / weights[i])
		count++
	}
	for i := range weights {
		if !f.fixed[i] {
			weights[i] = math.Sqrt(weights[i] * fresh[i] / math.Exp(scale/count))
		}
	}
}

func (f *search) cost(factors []float64, costs []Cost) float64 {
	var sum float64
	for i, c := range costs {
		if !f.fixed[i] {
			sum += c.at(f.halves[i] * factors[i])
		}
	}
	return sum
}

// A search looks for the largest tolerances that put the part yield of all gaps within
// the limits.
type search struct {
	stack  Stack
	limits units.LengthInterval
	yield  float64
	terms  []term
	halves []float64 // half the width of each contributor's limits, mm
	fixed  []bool

	// How finely to search: cells on the lattices, and the part of the lever that may
	// be given away.
	cells     int
	precision float64

	at float64 // where the last search ended, as a logarithm of the lever: the next begins there
}

const finalPrecision = 1e-8

const allocating = "allocation of tolerances"

func (s Stack) search(limits units.LengthInterval, yield float64) (*search, error) {
	if err := checkLimits(limits); err != nil {
		return nil, err
	}
	if err := checkProbability("yield", yield); err != nil {
		return nil, err
	}
	terms, err := s.terms()
	if err != nil {
		return nil, err
	}
	if _, err := s.merged(terms); err != nil {
		return nil, err
	}
	f := &search{stack: s, limits: limits, yield: yield, terms: terms, cells: fewestCells, precision: finalPrecision}
	movable := false
	for _, c := range s {
		fixed := c.Fixed || c.Distribution.kind == sampled || c.Distribution.kind == normalWithin && c.Distribution.mean != nil
		movable = movable || !fixed
		f.fixed = append(f.fixed, fixed)
		f.halves = append(f.halves, c.Limits.Radius().Float64(units.Millimetre))
	}
	if !movable {
		return nil, wrong(ErrUnreachable, allocating, "every contributor is fixed", "leave Fixed unset for those whose limits can change")
	}
	return f, nil
}

// outside returns the probability that is left outside with the factors given, on
// one lattice.
func (f *search) outside(factors []float64) float64 {
	terms := slices.Clone(f.terms)
	for i, t := range f.terms {
		if !f.fixed[i] {
			terms[i] = t.scaled(factors[i])
		}
	}
	merged, err := f.stack.merged(terms)
	if err != nil {
		panic("stack: what could be merged no longer can: " + err.Error())
	}
	law := newLaw(f.stack.centre(), merged)
	var p float64
	if f.limits.HasLo() {
		p += sketchedTail(law.down, -law.from(f.limits.Lo()), f.cells)
	}
	if f.limits.HasHi() {
		p += sketchedTail(law.up, law.from(f.limits.Hi()), f.cells)
	}
	return p
}

// largest returns the factors for the largest lever at which they reach the
// yield. Factors grow with the lever.
func (f *search) largest(factors func(lever float64) []float64) ([]float64, error) {
	allowed := 1 - f.yield
	excess := func(x float64) float64 { // of the logarithm of the lever
		return math.Log(f.outside(factors(math.Exp(x))) / allowed)
	}
	const farthest = 40
	lo, hi := f.at, f.at // excess(lo) <= 0 < excess(hi), once widened
	atLo := excess(lo)
	atHi := atLo
	for step := 0.1; atLo > 0; step *= 2 {
		hi, atHi = lo, atLo
		if lo -= step; lo < -farthest {
			return nil, wrong(ErrUnreachable, allocating, fmt.Sprintf("no tolerances put %g of all gaps within %s about a middle of %s", f.yield, f.limits, f.stack.centre()),
				"move the middle of the gap into the limits, or fix fewer contributors")
		}
		atLo = excess(lo)
	}
	for step := 0.1; atHi <= 0; step *= 2 {
		if hi >= farthest {
			return nil, wrong(ErrUnreachable, allocating, fmt.Sprintf("however wide the tolerances, %g of all gaps lie within %s", f.yield, f.limits),
				"ask for a greater yield")
		}
		lo, atLo = hi, atHi
		hi += step
		atHi = excess(hi)
	}
	f.at, _ = narrowed(excess, lo, hi, atLo, atHi, f.precision, 0)
	return factors(math.Exp(f.at)), nil
}

// reach returns the allocation with the largest lever at which the factors reach the
// yield. The search goes by one lattice; what is left outside is then computed as Law
// does, and the lever taken back until that is no more than allowed, with its error
// where the error is proven.
func (f *search) reach(factors func(lever float64) []float64) (*Allocation, error) {
	if _, err := f.largest(factors); err != nil {
		return nil, err
	}
	const least = 1e-9
	for x, back := f.at, least; ; x, back = x-back, 2*back {
		a, err := f.allocation(factors(math.Exp(x)))
		if err != nil {
			return nil, err
		}
		outside := a.Outside.Value
		if a.Outside.Proven {
			outside += a.Outside.Error
		}
		allowed := 1 - f.yield
		if outside <= allowed {
			return a, nil
		}
		const steep = 64 // by so many parts can the probability fall when tolerances do by one
		back = max(back, (outside/allowed-1)/steep)
	}
}

func (f *search) allocation(factors []float64) (*Allocation, error) {
	a := &Allocation{Stack: slices.Clone(f.stack), Factors: factors}
	for i := range a.Stack {
		c := &a.Stack[i]
		if f.fixed[i] {
			factors[i] = 1
			continue
		}
		half := millimetres(math.Floor(f.halves[i]*factors[i]*1e9) / 1e9) // down to the picometre
		limits, err := units.PlusMinus(c.Limits.Mid(), half).Inward(units.Nanometre, 3)
		if err != nil || limits.IsPoint() {
			return nil, wrong(ErrUnreachable, allocating, fmt.Sprintf("a tolerance of ±%s for %s", half, c.Name), "widen the limits of the gap, or ask for a smaller yield")
		}
		c.Limits = limits
	}
	law, err := a.Stack.Law()
	if err != nil {
		return nil, err
	}
	below, above := law.outside(f.limits)
	a.Outside = below.plus(above)
	return a, nil
}
