package stack

import (
	"errors"
	"fmt"

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
// the other methods do. All but WorstCase and Nominal check the contributors first. The
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

// Nominal returns the gap if every size were nominal: Σ sensitivity × nominal.
func (s Stack) Nominal() units.Length {
	var sum units.Length
	for _, c := range s {
		sum = sum.Add(c.Nominal.MulRat(c.Sensitivity.Rat(units.One)))
	}
	return sum
}

// middle returns the gap if every size were in the middle of its limits.
func (s Stack) middle() units.Length { return s.WorstCase().Interval().Mid() }

// WorstCase returns the gap as the sum of its contributors' limits. Its interval holds
// every gap that sizes within their limits can make, exactly, whatever their
// distributions are:
//
//	gap = Σ sᵢ·xᵢ,  each xᵢ anywhere within its limits
//
// sᵢ is the sensitivity, a pure number, xᵢ the size. Limits with one bound leave the
// interval one. It is empty if a contributor has no limits or no sensitivity.
func (s Stack) WorstCase() *measure.Sum[units.LengthDim] {
	return s.sum("gap, worst case", func(c Contributor, _ string) measure.LengthReading {
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
// sᵢ: sensitivity, a pure number; mᵢ: middle of the limits; Tᵢ: half their width; f:
// inflation, 1 for plain root-sum-square, or a greater number such as 1.5 for tolerances
// less well centred than the sum supposes. The root is rounded up to the tenth of a
// nanometre. An inflated interval may be wider than the worst case; then use the worst
// case.
//
// The sum supposes that the sizes are independent and normal about the middle of
// their limits, and enters f·Tᵢ as an expanded uncertainty (k = 2); limits that lie at
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
	return s.sum("gap, root-sum-square of tolerances", func(c Contributor, symbol string) measure.LengthReading {
		half := c.Limits.Radius().MulRat(inflation.Rat(units.One))
		r, err := measure.Estimated(c.Limits.Mid(), half, "tolerance of "+symbol)
		if err != nil {
			panic("stack: limits without width: " + err.Error()) // check refuses them
		}
		return r
	}), nil
}

// sum returns the signed sum of what is known of the contributors.
func (s Stack) sum(name string, of func(c Contributor, symbol string) measure.LengthReading) *measure.Sum[units.LengthDim] {
	sum := &measure.Sum[units.LengthDim]{Name: name, Symbol: "gap"}
	for i, c := range s {
		symbol := fmt.Sprintf("x%d", i+1)
		sum.Terms = append(sum.Terms, measure.Term[units.LengthDim]{Symbol: symbol, Name: c.Name, Factor: c.Sensitivity, Reading: of(c, symbol)})
	}
	return sum
}

// Shares returns the share of each contributor, in the order given: in the width of the
// worst case, and in the variance of the gap. Each list sums to one. float64. The error
// is that of Law.
//
//	worst case: |sᵢ|·Tᵢ / Σ |s|·T        variance: (sᵢ·σᵢ)² / Σ (s·σ)²
//
// s: sensitivity; T: half the width of the limits; σ: standard deviation.
func (s Stack) Shares() (ofWidth, ofVariance []float64, err error) {
	terms, err := s.terms()
	if err != nil {
		return nil, nil, err
	}
	var width, variance float64
	for _, t := range terms {
		width += t.half
		variance += t.variance()
	}
	if variance == 0 {
		return nil, nil, nothingVaries()
	}
	for _, t := range terms {
		ofWidth, ofVariance = append(ofWidth, t.half/width), append(ofVariance, t.variance()/variance)
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
		if c.Distribution.kind == noDistribution {
			errs = append(errs, wrong(measure.ErrEmpty, c.label(i), "no distribution", "give its distribution within the limits: Uniform() if you know nothing more"))
			continue
		}
		terms[i] = newTerm(c)
	}
	return terms, errors.Join(errs...)
}
