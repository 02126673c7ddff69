package examination

import (
	"fmt"

	"example.com/closefit/torque"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

// Follow returns what to expect of a bolt after each of its pulls, in their order: torques, turns
// and back-offs, as the stages of a torque.Group have them. It is a preload.Course.
//
// The error is of kind ErrImpossible for a pause, and as the methods of preload.Course say.
func Follow(b preload.YieldBolt, pulls ...torque.Action) ([]preload.State, error) {
	return follow(b, pulls, func(int) units.RatioInterval { return units.Exactly(units.One.OfInt(1)) })
}

// follow is Follow of a bolt that has only so much of its preload left before each of its pulls,
// counted from 0: what its neighbours left it.
func follow(b preload.YieldBolt, pulls []torque.Action, kept func(pull int) units.RatioInterval) ([]preload.State, error) {
	course, err := b.Course()
	if err != nil {
		return nil, err
	}
	var states []preload.State
	for i, pull := range pulls {
		course.Keep(kept(i))
		var s preload.State
		var err error
		if t, ok := torque.As[torque.Tighten](pull); ok {
			to := t.Within
			if to.IsEmpty() {
				to = units.Exactly(t.To)
			}
			s, err = course.Tighten(to)
		} else if t, ok := torque.As[torque.Turn](pull); ok {
			by := t.Within
			if by.IsEmpty() {
				by = units.Exactly(t.By)
			}
			s, err = course.Turn(by)
		} else if t, ok := torque.As[torque.BackOff](pull); ok {
			s = course.BackOff(t.By)
		} else {
			err = impossible(fmt.Sprintf("pull %d", i+1), pull.String(), "leave the pauses out")
		}
		if err != nil {
			return nil, err
		}
		states = append(states, s)
	}
	return states, nil
}
