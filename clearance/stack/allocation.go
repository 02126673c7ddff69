package stack

import (
	"fmt"
	"math"

	"example.com/closefit/units"
)

// A Target is what a gap is to reach: the part Yield of all gaps within Limits.
type Target struct {
	Limits units.LengthInterval
	Yield  float64 // between 0 and 1, such as 0.9973
}

// A Cost says what a tolerance costs, as far as it depends on its width:
//
//	cost = Scale / T^Exponent
//
// T: half the width of the contributor's limits in millimetres; Scale: the cost at
// T = 1 mm, in any unit that all costs of a stack share; Exponent: a pure number,
// about 0.5 to 2 (common practice, no source). Both are positive.
type Cost struct {
	Scale, Exponent float64
}

func (c Cost) at(half float64) float64 { return c.Scale / math.Pow(half, c.Exponent) }

// An Allocation is a stack with tolerances that reach a target.
type Allocation struct {
	Stack   *Stack      // with the new limits
	Factors []float64   // new width of each contributor's limits over the old
	Outside Probability // what is left outside the target's limits
	Cost    float64     // of all tolerances that were allocated; 0 from Proportional
}

// Proportional returns the stack with every tolerance multiplied by one factor,
// the largest that reaches the target: below one where tolerances must be tighter,
// above where they may be wider. Limits keep their middle, distributions their
// kind (a normal one its k). Fixed contributors and measured samples stay. The
// new limits are rounded inward to the nanometre. Errors: ErrLimits,
// ErrProbability, ErrNoDistribution, and ErrUnreachable if the target is not
// reached by the narrowest tolerances, because the gap's middle lies outside the
// limits or what is fixed varies too much.
func (s *Stack) Proportional(target Target) (*Allocation, error) {
	search, err := s.search(target)
	if err != nil {
		return nil, err
	}
	return search.largest(func(lever float64) []float64 {
		factors := make([]float64, len(s.contributors))
		for i := range factors {
			factors[i] = lever
		}
		return factors
	}, nil)
}

// LeastCost returns the stack whose tolerances reach the target at the least cost.
// costs has one Cost to each contributor, in order; those of fixed contributors
// and measured samples, which stay, are not looked at. Each tolerance satisfies
//
//	Tᵢ^(eᵢ+2) = μ·eᵢ·aᵢ / (sᵢ·σᵢ/Tᵢ)²
//
// which makes the sum of aᵢ/Tᵢ^eᵢ least for a given variance of the gap; aᵢ, eᵢ:
// Scale and Exponent of the cost; sᵢ: sensitivity; σᵢ/Tᵢ: standard deviation over
// half the width, a constant of the distribution. The one μ for all is the largest
// at which the true distribution still reaches the target: least cost is meant by
// variance, the yield is exact. Errors are those of Proportional, and ErrCost.
func (s *Stack) LeastCost(target Target, costs []Cost) (*Allocation, error) {
	if len(costs) != len(s.contributors) {
		return nil, wrong(ErrCost, fmt.Sprintf("%d costs for %d contributors", len(costs), len(s.contributors)), "give one to each, in their order")
	}
	search, err := s.search(target)
	if err != nil {
		return nil, err
	}
	for i, c := range costs {
		if !search.fixed[i] && !(c.Scale > 0 && c.Exponent > 0 && !math.IsInf(c.Scale, 1) && !math.IsInf(c.Exponent, 1)) {
			return nil, &ContributorError{Index: i, Name: s.contributors[i].Name, Kind: ErrCost,
				What: fmt.Sprintf("a cost of %g / T^%g", c.Scale, c.Exponent), Fix: "give a positive scale and a positive exponent, such as 1"}
		}
	}
	return search.largest(func(lever float64) []float64 {
		factors := make([]float64, len(costs))
		for i, c := range costs {
			if search.fixed[i] {
				factors[i] = 1
				continue
			}
			t := search.terms[i]
			half := search.halves[i]
			perWidth := t.variance() / (half * half)
			// The lever is a length ratio: μ grows with its power e+2 when all e are one.
			mu := math.Pow(lever, 3)
			factors[i] = math.Pow(mu*c.Exponent*c.Scale/perWidth, 1/(c.Exponent+2)) / half
		}
		return factors
	}, costs)
}

// A search looks for the largest tolerances that reach a target.
type search struct {
	stack  *Stack
	target Target
	terms  []term
	halves []float64 // half the width of each contributor's limits, mm
	fixed  []bool
}

func (s *Stack) search(target Target) (*search, error) {
	if err := checkLimits(target.Limits); err != nil {
		return nil, err
	}
	if err := checkProbability(target.Yield); err != nil {
		return nil, err
	}
	terms, err := s.terms()
	if err != nil {
		return nil, err
	}
	f := &search{stack: s, target: target, terms: terms}
	movable := false
	for _, c := range s.contributors {
		fixed := c.Fixed || c.Distribution.kind == sampled
		movable = movable || !fixed
		f.fixed = append(f.fixed, fixed)
		f.halves = append(f.halves, c.Limits.Radius().Float64(units.Millimetre))
	}
	if !movable {
		return nil, wrong(ErrUnreachable, "every contributor is fixed", "leave Fixed unset for those whose limits can change")
	}
	return f, nil
}

// outside returns the probability that is left outside with the factors given.
func (f *search) outside(factors []float64) (Probability, error) {
	terms := make([]term, len(f.terms))
	for i, t := range f.terms {
		terms[i] = t
		if !f.fixed[i] {
			terms[i] = t.scaled(factors[i])
		}
	}
	law, err := newLaw(f.stack.Middle(), terms)
	if err != nil {
		return Probability{}, err
	}
	below, above := law.Outside(f.target.Limits)
	return below.Plus(above), nil
}

// largest returns the allocation for the largest lever at which the factors it
// gives reach the target. Factors grow with the lever.
func (f *search) largest(factors func(lever float64) []float64, costs []Cost) (*Allocation, error) {
	allowed := 1 - f.target.Yield
	reaches := func(lever float64) (bool, error) {
		p, err := f.outside(factors(lever))
		return p.Value <= allowed, err
	}
	const narrowest, widest = 1e-9, 1e9
	lo, hi := 1.0, 1.0
	for ; ; lo /= 2 {
		ok, err := reaches(lo)
		if err != nil {
			return nil, err
		}
		if ok {
			break
		}
		if hi = lo; lo < narrowest {
			return nil, wrong(ErrUnreachable, fmt.Sprintf("no tolerances put %g of all gaps within %s about a middle of %s", f.target.Yield, f.target.Limits, f.stack.Middle()),
				"move the middle of the gap into the limits, or fix fewer contributors")
		}
	}
	for ; lo == hi && hi < widest; hi *= 2 {
		ok, err := reaches(2 * hi)
		if err != nil {
			return nil, err
		}
		if !ok {
			hi *= 2
			break
		}
		lo = 2 * hi
	}
	for hi/lo > 1+1e-9 {
		lever := math.Sqrt(lo * hi)
		ok, err := reaches(lever)
		if err != nil {
			return nil, err
		}
		if ok {
			lo = lever
		} else {
			hi = lever
		}
	}
	return f.allocation(factors(lo), costs)
}

func (f *search) allocation(factors []float64, costs []Cost) (*Allocation, error) {
	a := &Allocation{Factors: factors}
	contributors := f.stack.Contributors()
	for i := range contributors {
		c := &contributors[i]
		if f.fixed[i] {
			factors[i] = 1
			continue
		}
		half := millimetres(f.halves[i] * factors[i])
		limits, err := units.PlusMinus(c.Limits.Mid(), half).Inward(units.Nanometre, 0)
		if err != nil || limits.IsPoint() {
			return nil, wrong(ErrUnreachable, fmt.Sprintf("a tolerance of ±%s for %s", half, c.Name), "widen the limits of the gap, or ask for a smaller yield")
		}
		c.Limits = limits
		if costs != nil {
			a.Cost += costs[i].at(f.halves[i] * factors[i])
		}
	}
	var err error
	if a.Stack, err = New(contributors...); err != nil {
		return nil, err
	}
	a.Outside, err = f.outside(factors)
	return a, err
}
