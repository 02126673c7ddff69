package stack

import (
	"math"

	"example.com/closefit/units/measure"
)

// An Outcome is the result of a simulation. All values are in the unit of the simulated
// quantity: millimetres for a gap.
type Outcome struct {
	Trials int64   `json:"trials"`
	Mean   float64 `json:"mean"`
	StdDev float64 `json:"stdDev"`
	Min    float64 `json:"min"`
	Max    float64 `json:"max"`

	// Below and Above are how many trials lie below and above the limits.
	Below int64 `json:"below"`
	Above int64 `json:"above"`

	// Outside is the part of the trials outside the limits, Uncertainty the standard
	// uncertainty of that part as an estimate of the probability:
	//
	//	√(p·(1-p)/n)
	//
	// For no trial outside, it is that of one: 1/n. Both are nil if no limits were
	// given.
	Outside     *float64 `json:"outside"`
	Uncertainty *float64 `json:"uncertainty"`

	// Bins is the histogram of the trials. Bins[i] counts those from
	// BinStart + (i-1)·BinWidth to BinStart + i·BinWidth, Bins[0] all that lie below, and
	// the last one all that lie above: the others reach ten standard deviations to either
	// side of the mean.
	BinStart float64 `json:"binStart"`
	BinWidth float64 `json:"binWidth"`
	Bins     []int64 `json:"bins"`
}

// outcome returns what was collected.
func (c *collector) outcome() *Outcome {
	t, h := c.total, c.histogram
	o := &Outcome{
		Trials: t.n, Min: t.min, Max: t.max, Below: t.below, Above: t.above,
		BinStart: h.start(), BinWidth: h.width, Bins: h.counts,
	}
	o.Mean, o.StdDev = t.moments(h.centre)
	if c.limited {
		n := float64(t.n)
		p := float64(t.below+t.above) / n
		u := math.Max(math.Sqrt(p*(1-p)/n), 1/n)
		o.Outside, o.Uncertainty = &p, &u
	}
	return o
}

func (o *Outcome) empty() error {
	return wrong(measure.ErrEmpty, "outcome of a simulation", "", "use an Outcome that Simulate or SimulateFunc returned")
}

// Quantile returns the value that the part p of the trials lies below, and how finely the
// run resolves it: the width of a bin, 20/16384 of a standard deviation for values within
// ten standard deviations of the mean; beyond them, the distance from there to the
// farthest trial. The true quantile of the trials lies within the resolution of the
// value; the scatter of chance comes on top. 0 < p < 1; the error is of kind
// [measure.ErrProbability], or [measure.ErrEmpty] for an Outcome without trials.
func (o *Outcome) Quantile(p float64) (value, resolution float64, err error) {
	if o.Trials == 0 {
		return 0, 0, o.empty()
	}
	if err := checkProbability("quantile of a simulation", p); err != nil {
		return 0, 0, err
	}
	wanted := p * float64(o.Trials)
	var before int64
	for i, n := range o.Bins {
		if n == 0 || float64(before+n) < wanted {
			before += n
			continue
		}
		lo, hi := o.span(i)
		return lo + (hi-lo)*(wanted-float64(before))/float64(n), hi - lo, nil
	}
	return o.Max, 0, nil
}
