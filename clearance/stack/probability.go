package stack

import (
	"fmt"

	"example.com/closefit/units"
)

// A Computed is a number that was computed in float64, with its error: a probability, or
// a density for each millimetre. The true value lies within Value ± Error. With Proven set, Error is a bound that
// follows from a proof, for the stack as it was given. Without it, Error is an estimate.
// Law says which stacks have which. Error is 0 only where Value is exact.
type Computed struct {
	Value  float64 `json:"value"`
	Error  float64 `json:"error"`
	Proven bool    `json:"proven"`
}

// exactly is a probability that float64 holds without rounding.
func exactly(p float64) Computed { return Computed{Value: p, Proven: true} }

// plus returns the probability of either of two events that exclude each other: a gap
// below limits and one above. It is proven if both are.
func (p Computed) plus(q Computed) Computed {
	sum := p.Value + q.Value
	e := p.Error + q.Error
	if p.Value != 0 && q.Value != 0 {
		e += halfUlp * sum
	}
	return Computed{Value: sum, Error: e * widened, Proven: p.Proven && q.Proven}
}

// other returns the probability that the event does not happen.
func (p Computed) other() Computed {
	v := 1 - p.Value
	e := p.Error
	if p.Value != 0 && p.Value != 1 {
		e += halfUlp * v
	}
	return Computed{Value: v, Error: e * widened, Proven: p.Proven}
}

// String returns the value and its error: "0.00135 ± 2e-09", and "about 0.00135, perhaps
// ± 2e-09" where that is an estimate.
func (p Computed) String() string {
	if p.Proven {
		return fmt.Sprintf("%.6g ± %.0e", p.Value, p.Error)
	}
	return fmt.Sprintf("about %.6g, perhaps ± %.0e", p.Value, p.Error)
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (p *Computed) UnmarshalJSON(data []byte) error {
	type probability Computed
	return units.DecodeObject(data, (*probability)(p))
}
