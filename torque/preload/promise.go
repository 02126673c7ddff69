package preload

import (
	"fmt"
	"math/big"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// A Promise is what a torque really gives: a range of preloads, as wide as what is known
// of friction and of the tool.
type Promise struct {
	Screw    Screw                `json:"screw"`
	Friction Friction             `json:"friction"`
	Torque   units.TorqueInterval `json:"torque"`
	Preload  units.ForceInterval  `json:"preload"`

	// Where the torque goes, as parts of it, at the middle of the friction's ranges: what
	// stretches the bolt, P/(2π), is the only part that becomes preload; the rest rubs in the
	// thread and under the head. They are rounded to the ninth place and add up to one.
	Stretch units.Ratio `json:"stretch"`
	Thread  units.Ratio `json:"thread"`
	Bearing units.Ratio `json:"bearing"`
}

// Promise returns what a torque gives a screw. The errors are those of Screw.Preload.
func (s Screw) Promise(torque units.TorqueInterval, f Friction) (Promise, error) {
	preload, err := s.Preload(torque, f)
	if err != nil {
		return Promise{}, err
	}
	p := Promise{Screw: s, Friction: f, Torque: torque, Preload: preload}
	thread, bearing := f.Thread.Mid().Rat(units.One), f.Bearing.Mid().Rat(units.One)
	whole, twist, pitch := s.lever(thread, bearing), s.threadLever(thread), s.pitchLever()
	share := func(part *big.Rat) units.Ratio {
		return units.One.Of(units.One.OfRat(part.Quo(part, whole)).In(units.One, 9))
	}
	p.Thread = share(new(big.Rat).Sub(twist, pitch))
	p.Bearing = share(new(big.Rat).Sub(whole, twist))
	p.Stretch = units.One.OfInt(1).Sub(p.Thread).Sub(p.Bearing)
	return p, nil
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
				percent(p.Stretch), percent(p.Thread), percent(p.Bearing)),
		},
	}
	if factor, err := Factor(p.Preload); err == nil {
		w.Notes = append(w.Notes, fmt.Sprintf("the largest preload is %s times the smallest", factor.Format(units.One, 2, units.HalfEven)))
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
func percent(r units.Ratio) string { return r.Format(units.Percent, 0, units.HalfEven) }
