package ask

import (
	"context"
	"errors"
	"fmt"
	"math"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Stack asks how wide a gap can be that is a sum of sizes.
type Stack struct {
	Name         string               `json:"name"`
	Contributors []Contributor        `json:"contributors"`
	Limits       units.LengthInterval `json:"limits"`    // of the gap; null if there are none
	Unit         string               `json:"unit"`      // of the working: "mm"
	Inflation    *units.Ratio         `json:"inflation"` // by how much the root sum of squares is widened, "1.5"; null for not at all
	Quantiles    []float64            `json:"quantiles"` // probabilities of which to give the gap that so many lie below: 0.001; empty for none
}

// A Contributor is one size of a stack.
type Contributor struct {
	Name         string               `json:"name"`
	Times        units.Ratio          `json:"times"`        // "1" opens the gap, "-1" closes it
	Limits       units.LengthInterval `json:"limits"`       // both bounds
	Distribution *Distribution        `json:"distribution"` // of its sizes in them; null if it is not known, and then there are no probabilities
}

// Stacked is the answer to Stack.
type Stacked struct {
	WorstCase Gap             `json:"worst_case"` // every gap that the limits allow
	RSS       Gap             `json:"rss"`        // root sum of squares
	Law       *Law            `json:"law"`        // null unless every contributor has a distribution
	Shares    []Share         `json:"shares"`     // in the order of the contributors
	Notes     []string        `json:"notes"`
	Working   []units.Working `json:"working"`
}

// A Gap is judged where there are limits.
type Gap struct {
	Lo      *string          `json:"lo"`
	Hi      *string          `json:"hi"`
	Verdict *measure.Verdict `json:"verdict"` // null without limits
}

// A Law is the distribution of the gap.
type Law struct {
	Mean      string     `json:"mean"` // rounded to the nanometre
	StdDev    string     `json:"std_dev"`
	Below     *Tail      `json:"below"` // the probability below the lower limit; null without limits
	Above     *Tail      `json:"above"`
	Outside   *Tail      `json:"outside"`
	Cp        *Float     `json:"cp"`  // null without two limits
	Cpk       *Float     `json:"cpk"` // null without limits
	Quantiles []Quantile `json:"quantiles"`
}

// A Tail is a probability and how far it may be off.
type Tail struct {
	Value  Float `json:"value"`
	Error  Float `json:"error"`
	Proven bool  `json:"proven"` // the error is a bound that follows from a proof, else an estimate
}

// A Quantile is the gap that a part of all gaps lie below.
type Quantile struct {
	P   float64 `json:"p"`
	Gap string  `json:"gap"` // rounded to the nanometre
}

// A Share is what one contributor has of the spread.
type Share struct {
	Name       string `json:"name"`
	OfWidth    Float  `json:"of_width"`    // in the worst case, from 0 to 1
	OfVariance *Float `json:"of_variance"` // null unless every contributor has a distribution
}

// The most that a Stack may have.
const (
	maxContributors = 100
	maxSample       = 1000 // values of all samples
	maxQuantiles    = 50
)

func stacking(_ context.Context, q Stack) (a Stacked, err error) {
	unit, err := units.Parse[units.LengthUnit](q.Unit)
	if err != nil {
		return a, at(err, `Stack, "unit"`)
	}
	if err := errors.Join(few(`Stack, "contributors"`, len(q.Contributors), maxContributors), few(`Stack, "quantiles"`, len(q.Quantiles), maxQuantiles)); err != nil {
		return a, err
	}
	var s stack.Stack
	known, sample := true, 0
	for i, c := range q.Contributors {
		if c.Limits.IsEmpty() || !c.Limits.Bounded() {
			return a, wrong(fmt.Sprintf(`Stack, "contributors", number %d, "limits"`, i+1), c.Limits.String(), "give both bounds")
		}
		x := stack.Contributor{Name: c.Name, Sensitivity: c.Times, Limits: c.Limits}
		if c.Distribution != nil && c.Distribution.Sample != nil {
			sample += len(c.Distribution.Sample.Values)
		}
		if known = known && c.Distribution != nil; c.Distribution != nil {
			x.Distribution = c.Distribution.made()
		}
		s = append(s, x)
	}
	if err := few(`Stack, the values of all samples`, sample, maxSample); err != nil {
		return a, err
	}
	inflation := units.One.OfInt(1)
	if q.Inflation != nil {
		inflation = *q.Inflation
	}
	rss, err := s.RSS(inflation)
	if err != nil {
		return a, err
	}
	worst := s.WorstCase()
	worst.Name, rss.Name = q.Name+", worst case", q.Name+", root sum of squares"
	a.WorstCase, a.RSS = gapOf(worst.Interval(), q.Limits, unit), gapOf(rss.Interval(), q.Limits, unit)
	a.Working = []units.Working{worst.Working(unit), rss.Working(unit)}
	if !known {
		a.Notes = append(a.Notes, "not every contributor has a distribution, so there are no probabilities")
		whole := worst.Interval().Width()
		for _, c := range q.Contributors {
			part, _ := c.Limits.Width().MulRat(c.Times.Abs().Rat(units.One)).Ratio(whole).Float64()
			a.Shares = append(a.Shares, Share{Name: c.Name, OfWidth: Float(part)})
		}
		return a, nil
	}
	ofWidth, ofVariance, err := s.Shares()
	if err != nil {
		return a, err
	}
	for i, c := range q.Contributors {
		a.Shares = append(a.Shares, Share{c.Name, Float(ofWidth[i]), ptr(Float(ofVariance[i]))})
	}
	law, err := s.Law()
	if err != nil {
		return a, err
	}
	a.Law, err = lawOf(q, law, unit, &a.Working)
	return a, err
}

func lawOf(q Stack, law *stack.Law, unit units.LengthUnit, working *[]units.Working) (*Law, error) {
	nanometre := func(l units.Length) string { return inUnit(l.In(unit, nanoPlaces(unit)), unit) }
	l := &Law{Mean: nanometre(law.Mean), StdDev: nanometre(law.StdDev), Quantiles: []Quantile{}}
	if !q.Limits.IsEmpty() {
		c, err := law.Capability(q.Limits)
		if err != nil {
			return nil, at(err, `Stack, "limits"`)
		}
		l.Below, l.Above, l.Outside = tailOf(c.Below), tailOf(c.Above), tailOf(c.Outside)
		l.Cpk = ptr(Float(c.Cpk))
		if c.Cp != nil {
			l.Cp = ptr(Float(*c.Cp))
		}
		w, err := law.Working(q.Limits)
		if err != nil {
			return nil, at(err, `Stack, "limits"`)
		}
		*working = append(*working, w)
	}
	for i, p := range q.Quantiles {
		g, err := law.Quantile(p)
		if err != nil {
			return nil, at(err, `Stack, "quantiles", number %d`, i+1)
		}
		l.Quantiles = append(l.Quantiles, Quantile{p, nanometre(g)})
	}
	return l, nil
}

// nanoPlaces is how many places of a unit show a nanometre.
func nanoPlaces(u units.LengthUnit) int32 {
	nanometre := units.Micrometre.OfInt(1).Float64(u) / 1000
	places := int32(0)
	for ; nanometre < 0.9; nanometre *= 10 {
		places++
	}
	return places
}

func tailOf(p stack.Computed) *Tail {
	return &Tail{Float(p.Value), Float(upToTwo(p.Error)), p.Proven}
}

// upToTwo rounds an error up to two digits, to more than it is: the differences that it comes
// from hang on the last bits of what was computed.
func upToTwo(f float64) float64 {
	if f == 0 {
		return 0
	}
	step := math.Pow10(int(math.Floor(math.Log10(f))) - 1)
	return (math.Ceil(f/step) + 1) * step
}

func gapOf(a, limits units.LengthInterval, unit units.LengthUnit) Gap {
	b := shownOutward(a, unit)
	g := Gap{Lo: b.Lo, Hi: b.Hi}
	if !limits.IsEmpty() {
		g.Verdict = ptr(measure.Judge(a, limits))
	}
	return g
}
