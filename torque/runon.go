package torque

import "example.com/closefit/units"

// WithRunOn returns t for a self-locking nut whose own drag has been measured one turn
// before it seats: the prevailing torque of ISO 2320, run-on torque in the trade. What the
// wrench shows is the drag and the tightening together.
//
//	T' = T + R
//
// T is the torque that the joint needs, R the run-on torque, T' the one to set; the
// tolerance moves with it. The drag turns the nut and stretches nothing, however small it
// is, so all of it is added: a setting without it leaves the preload short by R/T. Valid for
// R not below zero; a negative one is taken for none. Where the engine maker's torque
// already has the drag in it, do not add it again.
//
// Source: TM 1-1500-204-23-6, page 2-83 (a reproduction was read): the torque is the sum of
// the table's and the tare torque. TB 43-0218, paragraph 7c, leaves out a drag of less than
// a third of the torque and adds a larger one whole; that rule jumps at the third, and is
// not used here.
func (t Tighten) WithRunOn(runOn units.Torque) Tighten {
	t.To = aimed(t.To, t.Within)
	if runOn.Sign() <= 0 {
		return t
	}
	t.To = t.To.Add(runOn)
	if !t.Within.IsEmpty() {
		t.Within = t.Within.Shift(runOn)
	}
	return t
}
