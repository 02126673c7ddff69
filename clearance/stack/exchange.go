package stack

import (
	"encoding/json"
	"fmt"
	"math"

	"example.com/closefit/units"
)

// notWritten is the error of what is not of the exchange form.
func notWritten(where, found, fix string) error {
	return wrong(units.ErrNotWritten, where, found, fix)
}

// writtenDistribution is the exchange form of a Distribution.
type writtenDistribution struct {
	Kind   kind           `json:"kind"`
	K      *float64       `json:"k"`      // of the normal ones
	Sample []units.Length `json:"sample"` // of a sample
}

// MarshalJSON writes {"kind":"normal","k":3,"sample":null}; null for no distribution.
func (d Distribution) MarshalJSON() ([]byte, error) {
	w := writtenDistribution{Kind: d.kind, Sample: d.sample}
	switch d.kind {
	case noDistribution:
		return []byte("null"), nil
	case normal, normalWithin:
		w.K = &d.k
	case sampled:
		w.Sample = append([]units.Length{}, d.sample...) // never null
	}
	return json.Marshal(w)
}

// ReadsNull says that null is no distribution.
func (d Distribution) ReadsNull() {}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (d *Distribution) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		*d = Distribution{}
		return nil
	}
	type distribution writtenDistribution // the names of these types stand in errors
	var w distribution
	if err := units.DecodeObject(data, &w); err != nil {
		return err
	}
	const where = "distribution"
	hasK, hasSample := w.K != nil, w.Sample != nil
	switch {
	case hasK != (w.Kind == normal || w.Kind == normalWithin):
		return notWritten(where, `"k" with "`+w.Kind.String()+`"`, "write the number of standard deviations for a normal distribution, null for any other")
	case hasSample != (w.Kind == sampled):
		return notWritten(where, `"sample" with "`+w.Kind.String()+`"`, "write the measured values for a sample, null for any other")
	}
	*d = Distribution{kind: w.Kind, sample: w.Sample}
	if hasK {
		d.k = *w.K
	}
	return nil
}

var kindWords = [...]string{noDistribution: "none", uniform: "uniform", normal: "normal", normalWithin: "normal within limits",
	triangular: "triangular", arcsine: "arcsine", sampled: "sample"}

func (k kind) String() string { return kindWords[k] }

func (k kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

func (k *kind) UnmarshalText(text []byte) error {
	for i := uniform; int(i) < len(kindWords); i++ {
		if string(text) == kindWords[i] {
			*k = i
			return nil
		}
	}
	return notWritten("kind of distribution", fmt.Sprintf("%.40q", text), `write "uniform", "normal", "normal within limits", "triangular", "arcsine" or "sample"; null for no distribution`)
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (c *Contributor) UnmarshalJSON(data []byte) error {
	type contributor struct {
		Name         string                `json:"name"`
		Sensitivity  units.Ratio           `json:"sensitivity"`
		Nominal      units.Length          `json:"nominal"`
		Limits       *units.LengthInterval `json:"limits"`
		Distribution Distribution          `json:"distribution"`
		Fixed        bool                  `json:"fixed"`
	}
	var w contributor
	if err := units.DecodeObject(data, &w); err != nil {
		return err
	}
	*c = Contributor{Name: w.Name, Sensitivity: w.Sensitivity, Nominal: w.Nominal, Distribution: w.Distribution, Fixed: w.Fixed}
	if w.Limits != nil {
		c.Limits = *w.Limits
	}
	return nil
}

// writtenStack is the exchange form of a Stack.
type writtenStack struct {
	Contributors []Contributor `json:"contributors"`
}

// MarshalJSON writes the contributors. The error is for the zero Stack, which is none.
func (s Stack) MarshalJSON() ([]byte, error) {
	if len(s.contributors) == 0 {
		return nil, notMade("stack", "make it by New")
	}
	return json.Marshal(writtenStack{s.contributors})
}

// UnmarshalJSON reads the exchange form; a missing key is an error, and so is what New
// refuses.
func (s *Stack) UnmarshalJSON(data []byte) error {
	type stack writtenStack
	var w stack
	if err := units.DecodeObject(data, &w); err != nil {
		return err
	}
	read, err := New(w.Contributors...)
	if err != nil {
		return err
	}
	*s = *read
	return nil
}

// MarshalJSON is an error: a law is worked out from its stack, which is what to write.
func (l Law) MarshalJSON() ([]byte, error) {
	return nil, notWritten("distribution of a gap", "", "write its Stack, and ask that for its Law again")
}

// UnmarshalJSON is an error: a law is worked out from its stack, which is what to read.
func (l *Law) UnmarshalJSON([]byte) error {
	return notWritten("distribution of a gap", "", "read its Stack, and ask that for its Law")
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (c *Capability) UnmarshalJSON(data []byte) error {
	type capability Capability
	return units.DecodeObject(data, (*capability)(c))
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (c *Cost) UnmarshalJSON(data []byte) error {
	type cost Cost
	return units.DecodeObject(data, (*cost)(c))
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (a *Allocation) UnmarshalJSON(data []byte) error {
	type allocation Allocation
	return units.DecodeObject(data, (*allocation)(a))
}

// writtenOutcome is the exchange form of an Outcome.
type writtenOutcome struct {
	Trials      int64    `json:"trials"`
	Mean        float64  `json:"mean"`
	StdDev      float64  `json:"stdDev"`
	Min         float64  `json:"min"`
	Max         float64  `json:"max"`
	Below       int64    `json:"below"`
	Above       int64    `json:"above"`
	Outside     *float64 `json:"outside"`
	Uncertainty *float64 `json:"uncertainty"`

	Histogram writtenHistogram `json:"histogram"`
}

// writtenHistogram has the bins that are not empty, by number.
type writtenHistogram struct {
	First  float64    `json:"first"`
	Width  float64    `json:"width"`
	Counts [][2]int64 `json:"counts"`
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (h *writtenHistogram) UnmarshalJSON(data []byte) error {
	type histogram writtenHistogram
	return units.DecodeObject(data, (*histogram)(h))
}

// MarshalJSON writes everything that is known of the trials, their histogram too.
func (o Outcome) MarshalJSON() ([]byte, error) {
	if o.histogram == nil {
		return nil, notMade("outcome of a simulation", "use what Simulate or SimulateFunc returned")
	}
	w := writtenOutcome{o.Trials, o.Mean, o.StdDev, o.Min, o.Max, o.Below, o.Above, o.Outside, o.Uncertainty,
		writtenHistogram{First: o.histogram.first, Width: o.histogram.width}}
	for i, n := range o.histogram.counts {
		if n != 0 {
			w.Histogram.Counts = append(w.Histogram.Counts, [2]int64{int64(i), n})
		}
	}
	return json.Marshal(w)
}

// UnmarshalJSON reads the exchange form; a missing key is an error, and so is a
// histogram that does not count every trial once.
func (o *Outcome) UnmarshalJSON(data []byte) error {
	type outcome writtenOutcome
	var w outcome
	if err := units.DecodeObject(data, &w); err != nil {
		return err
	}
	h := &histogram{first: w.Histogram.First, width: w.Histogram.Width, counts: make([]int64, bins+2)}
	left, last := w.Trials, int64(-1)
	for _, c := range w.Histogram.Counts {
		if c[0] <= last || c[0] >= int64(len(h.counts)) || c[1] <= 0 || c[1] > left {
			return notWritten("histogram", fmt.Sprintf("%d in bin %d", c[1], c[0]), "write what the library wrote")
		}
		last, left = c[0], left-c[1]
		h.counts[c[0]] = c[1]
	}
	if left != 0 || !(h.width > 0) || math.IsInf(h.width, 0) {
		return notWritten("histogram", fmt.Sprintf("%d trials that it does not count, bins of %g", left, h.width), "write what the library wrote")
	}
	*o = Outcome{Trials: w.Trials, Mean: w.Mean, StdDev: w.StdDev, Min: w.Min, Max: w.Max, Below: w.Below, Above: w.Above,
		Outside: w.Outside, Uncertainty: w.Uncertainty, histogram: h}
	return nil
}
