package ask

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
	"github.com/shopspring/decimal"
)

// A Stack asks how wide a gap can be that is a sum of sizes.
type Stack struct {
	Name         string               `json:"name"`
	Contributors []Contributor        `json:"contributors"`
	Limits       units.LengthInterval `json:"limits"`    // of the gap; null if there are none
	Unit         string               `json:"unit"`      // of the working: "mm"
	Inflation    *units.Ratio         `json:"inflation"` // by how much the root sum of squares is widened, "1.5"; null for not at all
	Quantiles    []float64            `json:"quantiles"` // probabilities of which to give the gap that so many lie below: 0.001; empty for none
	Histogram    bool                 `json:"histogram"` // with the law, and the simulation, shared out among bins for a chart

	// Correlations are those between the contributors, a row for each in their order, with 1 where
	// it meets itself; null if they are independent, or name sources. What sources say as
	// causes this says as numbers: a stack has one or the other.
	Correlations *[][]float64 `json:"correlations"`

	// Simulation draws so many stacks by chance: the only answer for sizes that hang together
	// and are not normal. Null for none.
	Simulation *Simulation `json:"simulation"`
}

// A Simulation says how to draw. The same seed draws the same.
type Simulation struct {
	Trials int `json:"trials"` // 2 to 1000000
	Seed   int `json:"seed"`   // 0 or more
}

// A Contributor is one size of a stack.
type Contributor struct {
	Name         string               `json:"name"`
	Times        units.Ratio          `json:"times"`        // "1" opens the gap, "-1" closes it
	Limits       units.LengthInterval `json:"limits"`       // both bounds
	Distribution *Distribution        `json:"distribution"` // of its sizes in them; null if it is not known, and then there are no probabilities, or of an exact size
	Exact        bool                 `json:"exact"`        // it does not vary: its limits are one size, "2.5 mm", and it has no distribution

	// Sources move it together with other contributors that name them, such as the setting of a machine.
	// Empty for a size of its own.
	Sources []stack.Source `json:"sources"`
}

// Stacked is the answer to Stack.
type Stacked struct {
	WorstCase Gap             `json:"worst_case"` // every gap that the limits allow
	RSS       Gap             `json:"rss"`        // root sum of squares; what is not known of how sizes hang together is taken at its worst
	Law       *Law            `json:"law"`        // null unless every contributor has a distribution, and there is a law of such sizes; notes say why
	Simulated *Simulated      `json:"simulated"`  // null unless a simulation was asked for
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
	Histogram *Histogram `json:"histogram"` // null if it was not asked for
}

// Simulated is what the draws show.
type Simulated struct {
	Mean      string     `json:"mean"` // rounded to the nanometre, as the others
	StdDev    string     `json:"std_dev"`
	Least     string     `json:"least"` // of all that were drawn
	Greatest  string     `json:"greatest"`
	Below     *Float     `json:"below"` // the part of them below the lower limit; null without limits
	Above     *Float     `json:"above"`
	Outside   *Float     `json:"outside"`
	Chance    *Float     `json:"chance"`    // the standard uncertainty of "outside" as an estimate of the probability; null without limits
	Quantiles []Quantile `json:"quantiles"` // each as good as the bins of the simulation, a part of a thousandth of the standard deviation, and chance
	Histogram *Histogram `json:"histogram"` // in the bins of the law's, if there is one; null if it was not asked for
}

// A Histogram shares all gaps out among bins: from one edge up to the next, with all that lies below
// the first edge before them and all that lies above the last one behind.
type Histogram struct {
	Edges []string `json:"edges"` // ascending, rounded to the nanometre
	Parts []Tail   `json:"parts"` // one more than there are edges; together they are one
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
	maxTrials       = 1_000_000
	maxDraws        = 10_000_000 // of sizes
	maxSources      = 100        // of one contributor
)

func stacking(ctx context.Context, q Stack) (a Stacked, err error) {
	unit, err := units.Parse[units.LengthUnit](q.Unit)
	if err != nil {
		return a, at(err, `Stack, "unit"`)
	}
	if err := q.bounded(); err != nil {
		return a, err
	}
	s, known, err := q.made()
	if err != nil {
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
		if q.Simulation != nil {
			return a, wrong(`Stack, "simulation"`, "one of sizes without a distribution", "give every contributor a distribution, or write null")
		}
		a.Notes = append(a.Notes, "not every contributor has a distribution, so there are no probabilities")
		a.Shares = widths(q)
		return a, nil
	}
	law, err := s.LawContext(ctx)
	switch {
	case errors.Is(err, stack.ErrUnusable): // each contributor was found usable: it is how they hang together
		a.Notes = append(a.Notes, noLaw(err))
		a.Shares = widths(q)
	case err != nil:
		return a, err
	default:
		ofWidth, ofVariance, err := s.Shares()
		if err != nil {
			return a, err
		}
		for i, c := range q.Contributors {
			a.Shares = append(a.Shares, Share{c.Name, Float(ofWidth[i]), ptr(Float(ofVariance[i]))})
		}
		if a.Law, err = lawOf(ctx, q, law, unit, &a.Working); err != nil {
			return a, err
		}
	}
	if q.Simulation == nil {
		return a, nil
	}
	a.Simulated, err = simulated(ctx, q, s, law, unit, &a.Working)
	return a, err
}

// noLaw says why there is none.
func noLaw(err error) string {
	why := err.Error()
	if e, is := errors.AsType[*units.Error](err); is {
		why = strings.TrimPrefix(e.Where+": ", ": ") + e.Found
	}
	return "there is no law of this stack, which is of normal sizes, sizes of one shape whose parts are 1 or -1, and independent ones; " + why
}

// made returns the library's stack, and whether each of its sizes has a distribution or is exact.
func (q Stack) made() (s stack.Stack, known bool, err error) {
	known = true
	for i, c := range q.Contributors {
		where := fmt.Sprintf(`Stack, "contributors", number %d`, i+1)
		switch point := c.Limits.IsPoint(); {
		case c.Limits.IsEmpty() || !c.Limits.Bounded():
			return nil, false, wrong(where+`, "limits"`, c.Limits.String(), "give both bounds")
		case c.Exact && !point:
			return nil, false, wrong(where+`, "limits"`, c.Limits.String()+", of an exact size", `write one size, or false under "exact"`)
		case c.Exact && c.Distribution != nil:
			return nil, false, wrong(where+`, "distribution"`, "that of an exact size", "write null: it does not vary")
		case point && !c.Exact:
			return nil, false, wrong(where+`, "limits"`, "limits of no width: "+c.Limits.String(), `give the limits it may have, such as 2.5 ±0.02 mm, or write true under "exact"`)
		}
		x := stack.Contributor{Name: c.Name, Sensitivity: c.Times, Limits: c.Limits, Fixed: c.Exact, Sources: c.Sources}
		if c.Distribution != nil {
			x.Distribution = c.Distribution.made()
		}
		if _, err := (stack.Stack{x}).RSS(units.One.OfInt(1)); err != nil { // what is wrong with it by itself
			return nil, false, at(err, "%s", where)
		}
		known = known && (c.Exact || c.Distribution != nil)
		s = append(s, x)
	}
	if q.Correlations != nil {
		if s, err = s.Correlated(*q.Correlations); err != nil {
			return nil, false, at(err, `Stack, "correlations"`)
		}
	}
	return s, known, nil
}

// bounded returns what is too much.
func (q Stack) bounded() error {
	sample := 0
	bounds := []error{few(`Stack, "contributors"`, len(q.Contributors), maxContributors), few(`Stack, "quantiles"`, len(q.Quantiles), maxQuantiles)}
	for i, c := range q.Contributors {
		if c.Distribution != nil && c.Distribution.Sample != nil {
			sample += len(c.Distribution.Sample.Values)
		}
		bounds = append(bounds, few(fmt.Sprintf(`Stack, "contributors", number %d, "sources"`, i+1), len(c.Sources), maxSources))
	}
	bounds = append(bounds, few(`Stack, the values of all samples`, sample, maxSample))
	if d := q.Simulation; d != nil {
		const where = `Stack, "simulation"`
		switch {
		case d.Trials < 2:
			return wrong(where+`, "trials"`, fmt.Sprint(d.Trials), fmt.Sprintf("write 2 to %d", maxTrials))
		case d.Seed < 0:
			return wrong(where+`, "seed"`, fmt.Sprint(d.Seed), "write 0 or more")
		}
		bounds = append(bounds, few(where+`, "trials"`, d.Trials, min(maxTrials, maxDraws/max(1, len(q.Contributors)))))
	}
	return errors.Join(bounds...)
}

// widths are the shares of a stack without a law.
func widths(q Stack) (all []Share) {
	var whole units.Length
	for _, c := range q.Contributors {
		whole = whole.Add(c.Limits.Width().Times(c.Times.Abs()))
	}
	for _, c := range q.Contributors {
		part := 0.0
		if !whole.IsZero() {
			part, _ = c.Limits.Width().Times(c.Times.Abs()).Ratio(whole).Float64()
		}
		all = append(all, Share{Name: c.Name, OfWidth: Float(part)})
	}
	return all
}

// simulated draws. The law, if there is one, says in which bins.
func simulated(ctx context.Context, q Stack, s stack.Stack, law *stack.Law, unit units.LengthUnit, working *[]units.Working) (*Simulated, error) {
	o, err := s.Simulate(ctx, q.Limits, stack.Simulation{Trials: int64(q.Simulation.Trials), Seed: uint64(q.Simulation.Seed), Workers: 1})
	if err != nil {
		return nil, at(err, `Stack, "simulation"`)
	}
	of := millimetres(unit)
	a := &Simulated{Mean: of(o.Mean), StdDev: of(o.StdDev), Least: of(o.Min), Greatest: of(o.Max), Quantiles: []Quantile{}}
	if o.Outside != nil {
		n := float64(o.Trials)
		a.Below, a.Above = ptr(Float(float64(o.Below)/n)), ptr(Float(float64(o.Above)/n))
		a.Outside, a.Chance = ptr(Float(*o.Outside)), ptr(Float(*o.Uncertainty))
	}
	for i, p := range q.Quantiles {
		gap, _, err := o.Quantile(p)
		if err != nil {
			return nil, at(err, `Stack, "quantiles", number %d`, i+1)
		}
		a.Quantiles = append(a.Quantiles, Quantile{p, of(gap)})
	}
	if q.Histogram {
		var edges []float64
		if law != nil {
			if edges, _, err = law.Histogram(); err != nil {
				return nil, at(err, `Stack, "histogram"`)
			}
		} else {
			for i := -13; i <= 13; i++ { // as far and about as wide as those of a law
				edges = append(edges, math.Round((o.Mean+0.3*o.StdDev*float64(i))*1e6)/1e6)
			}
		}
		parts, err := o.Histogram(edges...)
		if err != nil {
			return nil, at(err, `Stack, "histogram"`)
		}
		a.Histogram = histogramOf(edges, parts, of)
	}
	*working = append(*working, o.Working())
	return a, nil
}
func lawOf(ctx context.Context, q Stack, law *stack.Law, unit units.LengthUnit, working *[]units.Working) (*Law, error) {
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
	for i, p := range q.Quantiles { // each is a search of its own
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		g, err := law.Quantile(p)
		if err != nil {
			return nil, at(err, `Stack, "quantiles", number %d`, i+1)
		}
		l.Quantiles = append(l.Quantiles, Quantile{p, nanometre(g)})
	}
	if q.Histogram {
		edges, parts, err := law.Histogram()
		if err != nil {
			return nil, at(err, `Stack, "histogram"`)
		}
		l.Histogram = histogramOf(edges, parts, millimetres(unit))
	}
	return l, nil
}

// histogramOf writes parts between edges.
func histogramOf(edges []float64, parts []stack.Computed, of func(float64) string) *Histogram {
	h := &Histogram{Edges: []string{}}
	for _, edge := range edges {
		h.Edges = append(h.Edges, of(edge))
	}
	for _, p := range parts {
		h.Parts = append(h.Parts, *tailOf(p))
	}
	return h
}

// millimetres writes a number of them in a unit, rounded to the nanometre.
func millimetres(unit units.LengthUnit) func(float64) string {
	return func(mm float64) string {
		return inUnit(units.Millimetre.Of(decimal.NewFromFloat(mm)).In(unit, nanoPlaces(unit)), unit)
	}
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
