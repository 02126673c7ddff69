package stack

import "math"

// An Outcome is what a simulation found. All values are in the unit of what was
// simulated: millimetres for a gap.
type Outcome struct {
	Trials       int64
	Mean, StdDev float64
	Min, Max     float64
	Below, Above int64 // trials below and above Simulation.Limits

	histogram *histogram
}

func (c *collector) outcome() *Outcome {
	t := c.total
	return &Outcome{
		Trials: t.n, Mean: t.mean(), StdDev: t.stdDev(), Min: t.min, Max: t.max,
		Below: t.below, Above: t.above, histogram: c.histogram,
	}
}

// Outside returns the part of the trials outside the limits, and the standard
// uncertainty of that part as an estimate of the probability:
//
//	√(p·(1-p)/n)
//
// For no trial outside, the uncertainty is that of one: 1/n.
func (o *Outcome) Outside() (part, uncertainty float64) {
	n := float64(o.Trials)
	p := float64(o.Below+o.Above) / n
	return p, math.Max(math.Sqrt(p*(1-p)/n), 1/n)
}

// Quantile returns the value below which lies the part p of the trials, and how
// finely the run resolves it: the width of a bin, 20/16384 of a standard deviation
// for values within ten standard deviations of the mean; beyond them, the distance
// from there to the farthest trial. 0 < p < 1; the error is an *Error of kind
// ErrProbability. What chance does to a quantile is not in the resolution.
func (o *Outcome) Quantile(p float64) (value, resolution float64, err error) {
	if err := checkProbability(p); err != nil {
		return 0, 0, err
	}
	value, resolution = o.histogram.quantile(p, o.Trials, o.Min, o.Max)
	return value, resolution, nil
}
