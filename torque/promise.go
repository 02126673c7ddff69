package torque

import (
	"fmt"
	"math/big"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// A Promise is what a torque really gives: a range of preloads, as wide as what is known
// of friction and of the tool.
type Promise struct {
	Screw    Screw
	Friction Friction
	Torque   units.TorqueInterval
	Preload  units.ForceInterval
	Shares   Shares
}

// Promise returns what a torque gives a screw. The errors are those of Screw.Preload.
func (s Screw) Promise(torque units.TorqueInterval, f Friction) (Promise, error) {
	preload, err := s.Preload(torque, f)
	if err != nil {
		return Promise{}, err
	}
	shares, err := s.Shares(f)
	if err != nil {
		return Promise{}, err
	}
	return Promise{Screw: s, Friction: f, Torque: torque, Preload: preload, Shares: shares}, nil
}

// Working returns the promise for checking by hand, in the units, with torque to one place
// and forces to so many. Lengths are in inches for a unified thread, else in millimetres.
func (p Promise) Working(torque units.TorqueUnit, force units.ForceUnit, places int32) units.Working {
	t := p.Screw.Thread
	w := units.Working{
		Name:    fmt.Sprintf("what %s promises on %v", p.Torque.FormatOutward(torque, 1), t),
		Formula: "F = T / ( P/(2π) + 0.577 d2 μth + 0.5 Db μb )",
		Numbers: fmt.Sprintf("T = %s, P = %s, d2 = %s, Db = %s, μth = %v, μb = %v", p.Torque.FormatOutward(torque, 1),
			lengthOf(t, t.Pitch()), lengthOf(t, t.PitchDiameter()), lengthOf(t, p.Screw.Bearing), p.Friction.Thread, p.Friction.Bearing),
		Result: p.Preload.FormatOutward(force, places),
		Source: "ISO 16047:2005",
		Notes: []string{
			fmt.Sprintf("of the torque, %s stretches the bolt, %s rubs in the thread and %s under the head",
				percent(p.Shares.Stretch), percent(p.Shares.Thread), percent(p.Shares.Bearing)),
		},
	}
	if factor, err := Factor(p.Preload); err == nil {
		w.Notes = append(w.Notes, fmt.Sprintf("the largest preload is %s times the smallest", factor.FloatString(2)))
	}
	return w
}

// lengthOf returns a length in the unit of a thread's standard.
func lengthOf(t fasteners.Thread, l units.Length) string {
	if t.IsUnified() {
		return l.Format(units.Inch, 4, units.HalfEven)
	}
	return l.Format(units.Millimetre, 3, units.HalfEven)
}

// percent returns a part of one in whole percent.
func percent(r *big.Rat) string {
	return new(big.Rat).Mul(r, big.NewRat(100, 1)).FloatString(0) + " %"
}
