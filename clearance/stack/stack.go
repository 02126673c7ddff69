package stack

import (
	"errors"
	"fmt"
	"math"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Stack is a gap that is a sum of sizes, each times its sensitivity:
//
//	stack.Stack{
//		stack.Adds("housing", housing, stack.Normal(3)),
//		stack.Takes("bearing", bearing, stack.Uniform()),
//	}
//
// In JSON it is the list of its contributors. WorstCase and RSS need no distributions;
// the other methods do. All but WorstCase check the contributors first. The
// error joins one for each unusable contributor: of kind [ErrUnusable], or of kind
// [measure.ErrEmpty] if it has no distribution or too small a sample,
// [measure.ErrProbability] for the k of a normal distribution. A stack without
// contributors is an error of kind [measure.ErrEmpty].
type Stack []Contributor

// check returns what is wrong with the contributors.
func (s Stack) check() error {
	if len(s) == 0 {
		return wrong(measure.ErrEmpty, "stack", "", "give the sizes that the gap is made of")
	}
	var errs []error
	for i, c := range s {
		errs = append(errs, c.check(c.label(i)))
	}
	return errors.Join(errs...)
}

// centre returns the gap if every size were that about which it varies.
func (s Stack) centre() units.Length {
	var sum units.Length
	for _, c := range s {
		sum = sum.Add(c.centre().Times(c.Sensitivity))
	}
	return sum
}

// WorstCase returns the gap as the sum of its contributors' limits. Its interval holds
// every gap that sizes within their limits can make, exactly, whatever their
// distributions are:
//
//	gap = Σ sᵢ·xᵢ,  each xᵢ anywhere within its limits
//
// sᵢ is the sensitivity, a pure number, xᵢ the size. Limits with one bound leave the
// interval one. It is empty if a contributor has no limits or no sensitivity.
func (s Stack) WorstCase() *measure.Sum[units.LengthDim] {
	return s.sum("gap, worst case", func(i int, _ string) measure.LengthReading {
		c := s[i]
		if c.Sensitivity.IsZero() {
			return measure.LengthReading{} // it was not said; a term without a factor would be left out
		}
		return measure.Given(c.Limits, "")
	})
}

// RSS returns the gap as the sum of sizes whose tolerances are spreads: the middle of the
// gap ± the root-sum-square of the effects of the tolerances.
//
//	gap = Σ sᵢ·mᵢ ± √(Σ (sᵢ·f·Tᵢ)²)
//
// sᵢ: sensitivity, a pure number; mᵢ: middle of the limits, or the mean that the
// distribution has by About; Tᵢ: half the width of the limits; f: inflation, 1 for plain root-sum-square, or a greater number such as 1.5 for tolerances
// less well centred than the sum supposes. The root is rounded up to the tenth of a
// nanometre. An inflated interval may be wider than the worst case; then use the worst
// case.
//
// Tolerances of sizes that share sources are added with their signs for each source first,
// and what is each size's own by itself (JCGM 100:2008, 5.2.2, the same as 2·Σ Σ of the
// covariances). If it is not known how far sizes share one, their tolerances are added at
// their worst, all in one direction.
//
// The sum supposes that the sizes are normal about their centres, and enters f·Tᵢ as an expanded uncertainty (k = 2); limits that lie at
// three standard deviations make the interval hold three of the gap's. Source: JCGM
// 100:2008, 5.1.2 (the sum of squares); the factor is common practice, no source. The
// error is of kind ErrUnusable for an inflation below one; other errors are those of Stack.
func (s Stack) RSS(inflation units.Ratio) (*measure.Sum[units.LengthDim], error) {
	if inflation.Less(units.One.OfInt(1)) {
		return nil, wrong(ErrUnusable, "inflation of tolerances", inflation.WrittenBare(units.One), "give 1 for plain root-sum-square, or a greater number such as 1.5")
	}
	if err := s.check(); err != nil {
		return nil, err
	}
	groups := make([][]int, len(s))
	for _, group := range s.together() {
		for _, i := range group {
			groups[i] = group
		}
	}
	return s.sum("gap, root-sum-square of tolerances", func(i int, symbol string) measure.LengthReading {
		if s[i].exact() {
			return measure.Given(s[i].Limits, "exact")
		}
		return s.shared(i, groups[i], s[i].centre(), s[i].Limits.Radius().Times(inflation), symbol)
	}), nil
}

// sum returns the signed sum of what is known of the contributors.
func (s Stack) sum(name string, of func(i int, symbol string) measure.LengthReading) *measure.Sum[units.LengthDim] {
	sum := &measure.Sum[units.LengthDim]{Name: name, Symbol: "gap"}
	for i, c := range s {
		symbol := fmt.Sprintf("x%d", i+1)
		sum.Terms = append(sum.Terms, measure.Term[units.LengthDim]{Symbol: symbol, Name: c.Name, Factor: c.Sensitivity, Reading: of(i, symbol)})
	}
	return sum
}

// Shares returns the share of each contributor, in the order given: in the width of the
// worst case, and in the variance of the gap. Each list sums to one. float64. The error
// is that of Law.
//
//	worst case: |sᵢ|·Tᵢ / Σ |s|·T        variance: sᵢ·σᵢ · Σ rᵢⱼ·sⱼ·σⱼ / σ²
//
// s: sensitivity; T: half the width of the limits; σ: standard deviation, that of the gap
// without an index; r: correlation, 0 of independent sizes and 1 of one with itself. The
// share of a size that is independent of all others is (sᵢ·σᵢ)²/σ². One that cancels
// others by its correlation may have a share below zero.
func (s Stack) Shares() (ofWidth, ofVariance []float64, err error) {
	terms, err := s.terms()
	if err != nil {
		return nil, nil, err
	}
	if _, err := s.merged(terms); err != nil {
		return nil, nil, err
	}
	var width, total float64
	variance := make([]float64, len(s))
	for i, t := range terms {
		width += t.half
		variance[i] = t.variance()
	}
	for _, group := range s.together() {
		if len(group) == 1 {
			continue
		}
		signed := func(i int) float64 { return float64(s[i].Sensitivity.Sign()) * math.Sqrt(terms[i].variance()) }
		for _, i := range group {
			for _, j := range group {
				if i != j {
					variance[i] += s.correlation(i, j) * signed(i) * signed(j)
				}
			}
		}
	}
	for _, v := range variance {
		total += v
	}
	if !(total > 0) {
		return nil, nil, nothingVaries()
	}
	for i, t := range terms {
		ofWidth, ofVariance = append(ofWidth, t.half/width), append(ofVariance, variance[i]/total)
	}
	return ofWidth, ofVariance, nil
}

// terms returns the contributors as terms of the sum, in order.
func (s Stack) terms() ([]term, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	terms := make([]term, len(s))
	var errs []error
	for i, c := range s {
		if c.Distribution.kind == noDistribution && !c.exact() {
			errs = append(errs, wrong(measure.ErrEmpty, c.label(i), "no distribution", "give its distribution within the limits: Uniform() if you know nothing more"))
			continue
		}
		terms[i] = newTerm(c)
	}
	return terms, errors.Join(errs...)
}
