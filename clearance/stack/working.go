package stack

import (
	"fmt"
	"math"
	"strings"

	"example.com/closefit/units"
)

// Working shows the steps to the probability of a gap outside limits: the mean, the
// standard deviation with the share of each contributor, Cp and Cpk, and the two tails.
// The error is that of Capability.
func (l *Law) Working(limits units.LengthInterval) (units.Working, error) {
	c, err := l.Capability(limits)
	if err != nil {
		return units.Working{}, err
	}
	w := c.working()
	w.Name = "gap and its limits"
	w.Steps = append([]units.Working{l.meanStep(), l.deviationStep()}, w.Steps...)
	tail := func(name, formula, numbers string, z float64, p Computed) {
		w.Steps = append(w.Steps, units.Working{Name: name, Formula: formula, Numbers: fmt.Sprintf("%s = %.4f standard deviations", numbers, z), Result: p.String()})
	}
	if limits.HasLo() {
		tail("below the limit", "(μ - L) / σ", fmt.Sprintf("(%s - %s) / %s", inMillimetres(c.Mean), inMillimetres(limits.Lo()), inMillimetres(c.StdDev)), (l.mean-l.from(limits.Lo()))/l.sigma, c.Below)
	}
	if limits.HasHi() {
		tail("above the limit", "(U - μ) / σ", fmt.Sprintf("(%s - %s) / %s", inMillimetres(limits.Hi()), inMillimetres(c.Mean), inMillimetres(c.StdDev)), (l.from(limits.Hi())-l.mean)/l.sigma, c.Above)
	}
	return w, nil
}

// inMillimetres writes a length as a bare number with five places.
func inMillimetres(q units.Length) string {
	const places = 5
	return q.In(units.Millimetre, places).String()
}

// meanStep shows the mean of the gap.
func (l *Law) meanStep() units.Working {
	var terms []string
	for i, c := range l.Stack {
		sign := " + "
		switch {
		case c.Sensitivity.Sign() < 0:
			sign = " - "
		case i == 0:
			sign = ""
		}
		factor := ""
		if s := c.Sensitivity.Abs(); !s.Equal(units.One.OfInt(1)) {
			factor = s.WrittenBare(units.One) + " × "
		}
		mean := c.centre().Add(millimetres(newTerm(c.asItself()).mean()))
		terms = append(terms, sign+factor+inMillimetres(mean))
	}
	return units.Working{Name: "mean of the gap", Formula: "μ = Σ s·m", Numbers: strings.TrimSpace(strings.Join(terms, "")), Result: inMillimetres(l.Mean) + " mm"}
}

// deviationStep shows the standard deviation of the gap.
func (l *Law) deviationStep() units.Working {
	w := units.Working{Name: "standard deviation of the gap", Formula: "σ = √(Σ (s·σᵢ)²)", Result: inMillimetres(l.StdDev) + " mm"}
	effect := func(c Contributor) float64 {
		return c.Sensitivity.Float64(units.One) * math.Sqrt(newTerm(c.asItself()).variance())
	}
	for i, c := range l.Stack {
		if c.exact() {
			continue
		}
		formula, numbers := c.deviationInWords()
		if s := c.Sensitivity.Abs(); !s.Equal(units.One.OfInt(1)) {
			formula, numbers = "s·"+formula, s.WrittenBare(units.One)+" × "+numbers
		}
		name := c.Name
		if name == "" {
			name = fmt.Sprintf("size %d", i+1)
		}
		w.Steps = append(w.Steps, units.Working{Name: name + ", " + c.Distribution.String(), Formula: formula, Numbers: numbers, Result: fmt.Sprintf("%.5f mm", math.Abs(effect(c)))})
	}
	w.Numbers = l.Stack.squared(effect)
	if !l.Stack.independent() {
		w.Formula = "σ = √(Σ Σ r·s·σᵢ·s·σⱼ)"
		w.Source = "JCGM 100:2008, 5.2.2"
	}
	return w
}

// squared writes the root of the sum of the squares of effects, and of what sizes that hang
// together add to it.
func (s Stack) squared(effect func(c Contributor) float64) string {
	var terms []string
	for i, c := range s {
		if c.exact() {
			continue
		}
		terms = append(terms, fmt.Sprintf("%.5g²", math.Abs(effect(c))))
		for j := range i {
			if r := s.correlation(i, j); r != 0 {
				terms = append(terms, fmt.Sprintf("2 × (%.4g × %.5g × %.5g)", r, effect(s[j]), effect(c)))
			}
		}
	}
	return "√(" + strings.Join(terms, " + ") + ")"
}

// deviationInWords returns the formula of the standard deviation of a size, and its
// numbers.
func (c Contributor) deviationInWords() (formula, numbers string) {
	half, d := inMillimetres(c.Limits.Radius()), c.Distribution
	switch d.kind {
	case uniform:
		return "T/√3", half + " / √3"
	case triangular:
		return "T/√6", half + " / √6"
	case trapezoidal:
		return "T·√((1+β²)/6)", fmt.Sprintf("%s × √((1 + %g²) / 6)", half, d.top)
	case arcsine:
		return "T/√2", half + " / √2"
	case normal:
		return "T/k", fmt.Sprintf("%s / %g", half, d.k)
	case normalWithin:
		t := newTerm(c.asItself())
		numbers = fmt.Sprintf("%s / %g × %.5f", half, d.k, math.Sqrt(t.variance())/t.sigma)
		if d.mean != nil {
			return "T/k, less what the limits cut off", numbers
		}
		return "T/k·√(1 - 2k·φ(k)/(1 - 2·Q(k)))", numbers
	}
	return "√(Σ (x - x̄)² / n)", fmt.Sprintf("of %d values", len(d.sample))
}

// Working shows the part of the trials outside the limits with its standard uncertainty,
// and how well the run settles the mean.
func (o *Outcome) Working() units.Working {
	n := float64(o.Trials)
	w := units.Working{
		Name:    "simulation",
		Formula: "ȳ = Σ y / M; u(ȳ) = s / √M",
		Numbers: fmt.Sprintf("s = %.5g, M = %d", o.StdDev, o.Trials),
		Result:  fmt.Sprintf("mean %.7g with a standard uncertainty of %.2g", o.Mean, o.StdDev/math.Sqrt(n)),
		Source:  "JCGM 101:2008, 7.6 and 7.9",
	}
	if o.Trials == 0 {
		return units.Working{Name: "simulation", Result: "not known", Notes: []string{"no trials were made"}}
	}
	tolerance := numericalTolerance(o.StdDev)
	settled := "is settled"
	if 2*o.StdDev/math.Sqrt(n) > tolerance || 2*o.StdDev/math.Sqrt(2*n) > tolerance {
		settled = "is not settled: make more trials"
	}
	w.Notes = append(w.Notes, fmt.Sprintf("to two digits of the standard deviation, ±%.1g, the run %s", tolerance, settled))
	if o.Outside == nil {
		return w
	}
	outside := units.Working{
		Name:    "outside the limits",
		Formula: "p = (n₁ + n₂) / M; u(p) = √(p·(1-p) / M)",
		Numbers: fmt.Sprintf("(%d + %d) / %d; √(%.4g × %.4g / %d)", o.Below, o.Above, o.Trials, *o.Outside, 1-*o.Outside, o.Trials),
		Result:  fmt.Sprintf("p = %.4g with a standard uncertainty of %.2g", *o.Outside, *o.Uncertainty),
		Source:  "variance of a binomial proportion",
	}
	if o.Below+o.Above == 0 {
		outside.Notes = append(outside.Notes, "no trial lies outside: its uncertainty is taken as that of one, 1/M")
	}
	w.Steps = append(w.Steps, outside)
	return w
}

// TrialsFor returns how many trials a simulation needs, so that a part of them estimates a
// probability with the standard uncertainty given, and its working:
//
//	M = p·(1-p) / u²
//
// p: the probability, about as it is expected; u: its standard uncertainty, above zero. The
// error is of kind [measure.ErrProbability] unless 0 < p < 1 and 0 < u, or ErrUnusable for
// more than 1e15 trials.
func TrialsFor(probability, uncertainty float64) (int64, units.Working, error) {
	const where = "trials of a simulation"
	if err := checkProbability(where, probability); err != nil {
		return 0, units.Working{}, err
	}
	if !(uncertainty > 0) {
		return 0, units.Working{}, wrong(ErrUnusable, where, fmt.Sprintf("a standard uncertainty of %g", uncertainty), "give one above zero, such as a tenth of the probability")
	}
	wanted := math.Ceil(probability * (1 - probability) / (uncertainty * uncertainty) * (1 - 1e-12)) // 0.25/0.01² is 2500
	if !(wanted <= 1e15) {
		return 0, units.Working{}, wrong(ErrUnusable, where, fmt.Sprintf("%.3g trials", wanted), "allow a larger uncertainty, or use Law, which reaches farther")
	}
	trials := max(2, int64(wanted))
	return trials, units.Working{
		Name:    "trials needed",
		Formula: "M = p·(1-p) / u²",
		Numbers: fmt.Sprintf("%.4g × %.4g / %.4g²", probability, 1-probability, uncertainty),
		Result:  fmt.Sprintf("%d trials", trials),
		Source:  "variance of a binomial proportion",
		Notes:   []string{"for a coverage interval that holds the part p, JCGM 101:2008, 7.2.2, asks for at least 10⁴/(1-p) trials: 200000 for 95 %"},
	}, nil
}
