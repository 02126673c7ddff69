package stack

import "fmt"

// A Probability is a computed probability and how far it may be off: the true value
// lies within Value ± Error. With Proven set, Error is a bound that follows from a
// proof, for the stack as it was given. Without it, Error is an estimate: see Law for
// which stacks have one and which the other. Error is 0 only where Value is exact.
type Probability struct {
	Value, Error float64
	Proven       bool
}

// exactly is a probability that float64 holds without rounding.
func exactly(p float64) Probability { return Probability{Value: p, Proven: true} }

// Plus returns the probability of either of two events that exclude each other,
// such as a gap below limits and one above. It is proven if both are.
func (p Probability) Plus(q Probability) Probability {
	sum := p.Value + q.Value
	e := p.Error + q.Error
	if p.Value != 0 && q.Value != 0 {
		e += halfUlp * sum
	}
	return Probability{Value: sum, Error: e * widened, Proven: p.Proven && q.Proven}
}

// other returns the probability that the event does not happen.
func (p Probability) other() Probability {
	v := 1 - p.Value
	e := p.Error
	if p.Value != 0 && p.Value != 1 {
		e += halfUlp * v
	}
	return Probability{Value: v, Error: e * widened, Proven: p.Proven}
}

// PPM returns the probability in parts per million.
func (p Probability) PPM() float64 { return 1e6 * p.Value }

// String returns the value and how far it may be off: "1.35e-03 ± 2e-09", and
// "about 1.35e-03, perhaps ± 2e-09" where that is an estimate.
func (p Probability) String() string {
	if p.Proven {
		return fmt.Sprintf("%.6g ± %.0e", p.Value, p.Error)
	}
	return fmt.Sprintf("about %.6g, perhaps ± %.0e", p.Value, p.Error)
}
