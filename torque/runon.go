package torque

import (
	"math/big"

	"example.com/closefit/units"
)

// WithRunOn returns t for a self-locking nut whose own drag, the run-on torque, has been
// measured one turn before it seats: what the wrench shows is the drag and the
// tightening together.
//
//	T' = T + R   if R >= T/3
//	T' = T       otherwise
//
// T is the recommended torque, R the run-on torque, T' the one to set; the tolerance
// moves with it. Valid for R not below zero; a negative one is taken for none.
// Source: TB 43-0218, paragraph 7c.
func (t Tighten) WithRunOn(runOn units.Torque) Tighten {
	if runOn.Less(t.To.MulRat(big.NewRat(1, 3))) {
		return t
	}
	t.To = t.To.Add(runOn)
	if !t.Within.IsEmpty() {
		t.Within = t.Within.Shift(runOn)
	}
	return t
}
