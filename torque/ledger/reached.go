package ledger

import (
	"fmt"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// Reached is what was measured of a pull that is done, and who did it. What was not measured
// is empty. The ledger keeps it and does not judge it.
type Reached struct {
	Torque units.TorqueInterval `json:"torque"` // null in JSON if it was not measured
	Angle  units.AngleInterval  `json:"angle"`  // null in JSON if it was not measured
	By     string               `json:"by"`     // may be empty
}

// none reports whether nothing is said.
func (r Reached) none() bool { return r.Torque.IsEmpty() && r.Angle.IsEmpty() && r.By == "" }

// UnmarshalJSON reads {"torque":…,"angle":…,"by":…}.
func (r *Reached) UnmarshalJSON(data []byte) error {
	type reached Reached
	return units.DecodeObject(data, (*reached)(r))
}

// check refuses what nobody can have measured of a step.
func (r Reached) check(step torque.Step, at spot) error {
	kind := kindOf(step.Do)
	switch {
	case r.none():
		return at.fail(ErrRefused, "nothing was reached", "record it without")
	case !r.Torque.IsEmpty() && kind != tightens && kind != turns:
		return at.fail(ErrRefused, fmt.Sprintf("a torque of %s was reached in %q", r.Torque, step.Do), "give a torque of a pull that tightens")
	case !r.Angle.IsEmpty() && step.IsPause():
		return at.fail(ErrRefused, fmt.Sprintf("an angle of %s was reached in %q", r.Angle, step.Do), "give an angle of a pull")
	case !r.Torque.IsEmpty() && (!r.Torque.Bounded() || r.Torque.Lo().Sign() < 0):
		return at.fail(ErrRefused, fmt.Sprintf("a torque of %s was reached", r.Torque), "write what was read, from 0 N·m, with both bounds")
	case !r.Angle.IsEmpty() && (!r.Angle.Bounded() || r.Angle.Lo().Sign() < 0):
		return at.fail(ErrRefused, fmt.Sprintf("an angle of %s was reached", r.Angle), "write what was read, from 0°, with both bounds")
	}
	return checkText(r.By, "a name")
}
