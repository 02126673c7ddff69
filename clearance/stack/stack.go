package stack

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// A Contributor is one size in a stack.
type Contributor struct {
	Name string

	// Sensitivity is by how much the gap grows when the size grows by one: +1 for
	// a size that opens the gap, -1 for one that closes it, any other number where
	// a lever, an angle or a diameter taken as a radius comes between. It is never
	// zero.
	Sensitivity decimal.Decimal

	// Nominal is the size that the drawing names. It decides nothing but
	// Stack.Nominal; limits need not lie about it.
	Nominal units.Length

	Limits       units.LengthInterval // both bounds, and not the same
	Distribution Distribution

	// Fixed marks a size whose limits cannot be had tighter, such as a bought part:
	// Proportional and LeastCost leave it as it is. A measured sample is fixed.
	Fixed bool
}

// Adds returns a contributor that opens the gap, with the middle of its limits
// as its nominal size.
func Adds(name string, limits units.LengthInterval, d Distribution) Contributor {
	return contributor(name, 1, limits, d)
}

// Takes returns a contributor that closes the gap, with the middle of its limits
// as its nominal size.
func Takes(name string, limits units.LengthInterval, d Distribution) Contributor {
	return contributor(name, -1, limits, d)
}

func contributor(name string, sign int64, limits units.LengthInterval, d Distribution) Contributor {
	c := Contributor{Name: name, Sensitivity: decimal.NewFromInt(sign), Limits: limits, Distribution: d}
	if limits.Bounded() {
		c.Nominal = limits.Mid()
	}
	return c
}

// A Stack is a gap that is a sum of contributors, each times its sensitivity. It
// is immutable; New makes it.
type Stack struct {
	contributors []Contributor
}

// New returns the stack of the contributors. The error joins a
// *ContributorError for each that cannot be used; a stack of none is ErrEmpty.
func New(contributors ...Contributor) (*Stack, error) {
	if len(contributors) == 0 {
		return nil, wrong(ErrEmpty, "a stack without contributors", "give the sizes that the gap is made of")
	}
	var errs []error
	for i, c := range contributors {
		if what, fix, kind := c.check(); kind != nil {
			errs = append(errs, &ContributorError{Index: i, Name: c.Name, What: what, Fix: fix, Kind: kind})
		}
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	return &Stack{contributors: slices.Clone(contributors)}, nil
}

func (c Contributor) check() (what, fix string, kind error) {
	switch {
	case c.Sensitivity.IsZero():
		return "a sensitivity of zero", "give +1 if it opens the gap, -1 if it closes it; leave it out if it does neither", ErrSensitivity
	case !c.Limits.Bounded():
		return fmt.Sprintf("one limit: %s", c.Limits), "give both limits, such as 2.48..2.52 mm", ErrUnbounded
	case c.Limits.IsPoint():
		return fmt.Sprintf("limits of no width: %s", c.Limits.Lo()), "give the limits it may have, such as 2.5 ±0.02 mm", ErrNoTolerance
	case !c.computable():
		return fmt.Sprintf("a sensitivity of %.20se%d with limits %s", c.Sensitivity.Coefficient().String(), c.Sensitivity.Exponent(), c.Limits),
			"give a sensitivity and limits that make between 1e-30 mm and 1e30 mm of the gap", ErrRange
	}
	return c.Distribution.check(c.Limits)
}

// computable reports whether what the contributor does to the gap lies where float64
// and exact arithmetic both reach. The exponent comes first, before any number of
// that many digits is made.
func (c Contributor) computable() bool {
	const least, most, mostDigits = 1e-30, 1e30, 100
	if e := c.Sensitivity.Exponent(); e < -mostDigits || e > mostDigits {
		return false
	}
	moved := c.Limits.Mul(c.Sensitivity.Abs())
	half := moved.Radius().Float64(units.Millimetre)
	return half >= least && half <= most && math.Abs(moved.Mid().Float64(units.Millimetre)) <= most
}

// Contributors returns the contributors in the order given.
func (s *Stack) Contributors() []Contributor { return slices.Clone(s.contributors) }

// Nominal returns the gap if every size were nominal: Σ sensitivity × nominal.
func (s *Stack) Nominal() units.Length {
	var sum units.Length
	for _, c := range s.contributors {
		sum = sum.Add(c.Nominal.Mul(c.Sensitivity))
	}
	return sum
}

// Middle returns the gap if every size were in the middle of its limits.
func (s *Stack) Middle() units.Length { return s.WorstCase().Mid() }

// WorstCase returns every gap that sizes within their limits can make, exactly:
//
//	gap = Σ sᵢ·xᵢ,  each xᵢ anywhere within its limits
//
// sᵢ is the sensitivity, a pure number, xᵢ the size. It holds whatever the
// distributions are, as long as no size lies outside its limits.
func (s *Stack) WorstCase() units.LengthInterval {
	sum := units.Exactly(units.Length{})
	for _, c := range s.contributors {
		sum = sum.Add(c.Limits.Mul(c.Sensitivity))
	}
	return sum
}

// WorstCaseWorking shows how the worst case comes about.
func (s *Stack) WorstCaseWorking() units.Working {
	w := units.Working{
		Name:    "gap, worst case",
		Formula: "gap = " + s.formula(),
		Result:  s.WorstCase().String(),
		Source:  "interval arithmetic, exact",
	}
	for _, c := range s.contributors {
		w.Steps = append(w.Steps, units.Working{
			Name: c.Name, Formula: "sensitivity × limits", Numbers: fmt.Sprintf("%s × (%s)", c.Sensitivity, c.Limits),
			Result: c.Limits.Mul(c.Sensitivity).String(),
		})
	}
	return w
}

// formula writes the gap in the names of its contributors: "housing - 2 × wall".
func (s *Stack) formula() string {
	var b strings.Builder
	for i, c := range s.contributors {
		sign := " + "
		switch {
		case c.Sensitivity.IsNegative() && i == 0:
			sign = "-"
		case c.Sensitivity.IsNegative():
			sign = " - "
		case i == 0:
			sign = ""
		}
		b.WriteString(sign)
		if size := c.Sensitivity.Abs(); size.Cmp(decimal.NewFromInt(1)) != 0 {
			b.WriteString(size.String() + " × ")
		}
		b.WriteString(c.Name)
	}
	return b.String()
}

// RSS returns the middle of the gap ± the root of the sum of the squares of what
// each tolerance does to it, times an inflation factor: plain root-sum-square
// with a factor of one, inflated (for tolerances that are not as well centred as
// the sum supposes) with a greater one such as 1.5.
//
//	gap = Σ sᵢ·mᵢ ± f·√(Σ (sᵢ·Tᵢ)²)
//
// sᵢ: sensitivity, a pure number; mᵢ: middle of the limits; Tᵢ: half their width;
// f: inflation factor, 1 or more. If every size is normal and independent with its
// limits at k standard deviations, the plain interval is the gap's at k standard
// deviations. The root is rounded up to the next picometre: the interval is never
// too narrow. The inflated interval may be wider than the worst case, which then
// is the better one. Source: JCGM 100:2008, 5.1.2 (the sum of squares); the factor
// is common practice, no source. The error is an *Error of kind ErrInflation for
// a factor below one.
func (s *Stack) RSS(inflation decimal.Decimal) (units.LengthInterval, error) {
	if inflation.Cmp(decimal.NewFromInt(1)) < 0 {
		return units.LengthInterval{}, wrong(ErrInflation, "an inflation factor of "+inflation.String(), "give 1 for plain root-sum-square, or a greater number such as 1.5")
	}
	half := s.rootSumSquare().Mul(inflation)
	return units.PlusMinus(s.Middle(), half), nil
}

// rootSumSquare returns √(Σ (sᵢ·Tᵢ)²), rounded up to the picometre.
func (s *Stack) rootSumSquare() units.Length {
	const picometres = 1000 // in a nanometre
	sum := new(big.Rat)
	for _, c := range s.contributors {
		t := c.Limits.Radius().Mul(c.Sensitivity).Rat(units.Nanometre)
		t.Mul(t, new(big.Rat).SetInt64(picometres))
		sum.Add(sum, t.Mul(t, t))
	}
	whole, rest := new(big.Int).QuoRem(sum.Num(), sum.Denom(), new(big.Int))
	root := new(big.Int).Sqrt(whole)
	if rest.Sign() != 0 || new(big.Int).Mul(root, root).Cmp(whole) != 0 {
		root.Add(root, big.NewInt(1))
	}
	return units.Nanometre.OfRat(new(big.Rat).SetFrac(root, big.NewInt(picometres)))
}

// RSSWorking shows how RSS comes about. The error is RSS's.
func (s *Stack) RSSWorking(inflation decimal.Decimal) (units.Working, error) {
	gap, err := s.RSS(inflation)
	if err != nil {
		return units.Working{}, err
	}
	var squares []string
	for _, c := range s.contributors {
		squares = append(squares, fmt.Sprintf("(%s × %s)²", c.Sensitivity.Abs(), c.Limits.Radius()))
	}
	return units.Working{
		Name:    "gap, root-sum-square",
		Formula: "gap = Σ sᵢ·mᵢ ± f·√(Σ (sᵢ·Tᵢ)²)",
		Numbers: fmt.Sprintf("%s ± %s·√(%s) = %s ± %s", s.Middle(), inflation, strings.Join(squares, " + "), s.Middle(), gap.Radius()),
		Result:  gap.String(),
		Source:  "JCGM 100:2008, 5.1.2",
	}, nil
}

// A Share is what one contributor has of the whole.
type Share struct {
	Name      string
	WorstCase float64 // of the width of the worst case
	Variance  float64 // of the variance of the gap
}

// Shares returns the share of each contributor, in the order given; each column
// sums to one. float64. The error is that of Law.
//
//	worst case: |sᵢ|·Tᵢ / Σ |s|·T        variance: (sᵢ·σᵢ)² / Σ (s·σ)²
//
// s: sensitivity; T: half the width of the limits; σ: standard deviation.
func (s *Stack) Shares() ([]Share, error) {
	terms, err := s.terms()
	if err != nil {
		return nil, err
	}
	var width, variance float64
	for _, t := range terms {
		width += t.half
		variance += t.variance()
	}
	if variance == 0 {
		return nil, nothingVaries()
	}
	shares := make([]Share, len(terms))
	for i, t := range terms {
		shares[i] = Share{Name: s.contributors[i].Name, WorstCase: t.half / width, Variance: t.variance() / variance}
	}
	return shares, nil
}

// terms returns the contributors as terms of the sum, in order.
func (s *Stack) terms() ([]term, error) {
	terms := make([]term, len(s.contributors))
	var errs []error
	for i, c := range s.contributors {
		if c.Distribution.kind == noDistribution {
			errs = append(errs, &ContributorError{Index: i, Name: c.Name, What: "no distribution", Kind: ErrNoDistribution,
				Fix: "say how its sizes lie within the limits: Uniform() if nothing is known"})
			continue
		}
		terms[i] = newTerm(c)
	}
	return terms, errors.Join(errs...)
}
