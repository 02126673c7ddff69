package stack

import "math"

// An Outcome is what a simulation found. All values are in the unit of what was
// simulated: millimetres for a gap.
type Outcome struct {
	Trials       int64
	Mean, StdDev float64
	Min, Max     float64

	// Below and Above are how many trials lie below and above the limits.
	Below, Above int64

	// Outside is the part of the trials outside the limits, Uncertainty the standard
	// uncertainty of that part as an estimate of the probability:
	//
	//	√(p·(1-p)/n)
	//
	// For no trial outside, it is that of one: 1/n. Both are nil if no limits were
	// given.
	Outside, Uncertainty *float64

	histogram *histogram
}

func (c *collector) outcome() *Outcome {
	t := c.total
	o := &Outcome{
		Trials: t.n, Mean: t.mean(), StdDev: t.stdDev(), Min: t.min, Max: t.max,
		Below: t.below, Above: t.above, histogram: c.histogram,
	}
	if c.limits != nil {
		n := float64(t.n)
		p := float64(t.below+t.above) / n
		u := math.Max(math.Sqrt(p*(1-p)/n), 1/n)
		o.Outside, o.Uncertainty = &p, &u
	}
	return o
}

// Quantile returns the value below which lies the part p of the trials, and how
// finely the run resolves it: the width of a bin, 20/16384 of a standard deviation
// for values within ten standard deviations of the mean; beyond them, the distance
// from there to the farthest trial. 0 < p < 1; the error is of kind
// [measure.ErrProbability]. What chance does to a quantile is not in the resolution.
func (o *Outcome) Quantile(p float64) (value, resolution float64, err error) {
	if o.histogram == nil {
		return 0, 0, notMade("outcome of a simulation", "use what Simulate or SimulateFunc returned")
	}
	if err := checkProbability("quantile of a simulation", p); err != nil {
		return 0, 0, err
	}
	value, resolution = o.histogram.quantile(p, o.Trials, o.Min, o.Max)
	return value, resolution, nil
}
