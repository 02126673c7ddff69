package stack

import (
	"encoding/json"
	"fmt"

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
	Mean   *units.Length  `json:"mean"`   // of the normal ones; null for the middle of the limits
	Top    *float64       `json:"top"`    // of a trapezoid
	Sample []units.Length `json:"sample"` // of a sample
}

// MarshalJSON writes {"kind":"normal","k":3,"mean":null,"top":null,"sample":null}; null
// for no distribution.
func (d Distribution) MarshalJSON() ([]byte, error) {
	w := writtenDistribution{Kind: d.kind, Mean: d.mean, Sample: d.sample}
	switch d.kind {
	case noDistribution:
		return []byte("null"), nil
	case normal, normalWithin:
		w.K = &d.k
	case trapezoidal:
		w.Top = &d.top
	case sampled:
		w.Sample = append([]units.Length{}, d.sample...) // never null
	}
	return json.Marshal(w)
}

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
	case w.Mean != nil && w.K == nil:
		return notWritten(where, `"mean" with "`+w.Kind.String()+`"`, "write the mean of a normal distribution that is off centre, null for any other")
	case (w.Top != nil) != (w.Kind == trapezoidal):
		return notWritten(where, `"top" with "`+w.Kind.String()+`"`, "write the top of a trapezoid as a part of its width, null for any other")
	case hasSample != (w.Kind == sampled):
		return notWritten(where, `"sample" with "`+w.Kind.String()+`"`, "write the measured values for a sample, null for any other")
	}
	*d = Distribution{kind: w.Kind, mean: w.Mean, sample: w.Sample}
	if hasK {
		d.k = *w.K
	}
	if w.Top != nil {
		d.top = *w.Top
	}
	return nil
}

var kindWords = [...]string{noDistribution: "none", uniform: "uniform", normal: "normal", normalWithin: "normal within limits",
	triangular: "triangular", arcsine: "arcsine", sampled: "sample", trapezoidal: "trapezoidal"}

func (k kind) String() string { return kindWords[k] }

func (k kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

func (k *kind) UnmarshalText(text []byte) error {
	for i := uniform; int(i) < len(kindWords); i++ {
		if string(text) == kindWords[i] {
			*k = i
			return nil
		}
	}
	return notWritten("kind of distribution", fmt.Sprintf("%.40q", text), `write "uniform", "normal", "normal within limits", "triangular", "trapezoidal", "arcsine" or "sample"; null for no distribution`)
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (c *Contributor) UnmarshalJSON(data []byte) error {
	type contributor Contributor
	return units.DecodeObject(data, (*contributor)(c))
}

// UnmarshalJSON reads the exchange form; a missing key is an error, and so is a stack that
// has no Law.
func (l *Law) UnmarshalJSON(data []byte) error {
	type law Law
	var w law
	if err := units.DecodeObject(data, &w); err != nil {
		return err
	}
	read, err := w.Stack.Law()
	if err != nil {
		return err
	}
	*l = *read
	return nil
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

// UnmarshalJSON reads the exchange form; a missing key is an error, and so are bins that
// do not count every trial once.
func (o *Outcome) UnmarshalJSON(data []byte) error {
	type outcome Outcome
	var w outcome
	if err := units.DecodeObject(data, &w); err != nil {
		return err
	}
	left := w.Trials
	for i, n := range w.Bins {
		if n < 0 || n > left {
			return notWritten("outcome", fmt.Sprintf("%d trials in bin %d", n, i), "write what the library wrote")
		}
		left -= n
	}
	if left != 0 || !(w.BinWidth > 0) {
		return notWritten("outcome", fmt.Sprintf("%d trials in no bin, bins of %g", left, w.BinWidth), "write what the library wrote")
	}
	*o = Outcome(w)
	return nil
}
