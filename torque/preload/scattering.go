package preload

import (
	"fmt"

	"example.com/closefit/units"
)

// A Scattering sets two ways to the same preload side by side: torque alone, and a snug
// torque with a turn after it.
type Scattering struct {
	Torque   units.TorqueInterval `json:"torque"`    // that alone would give about the same preload
	ByTorque []Cause              `json:"by_torque"` // what the torque alone leaves open; the last is all together
	ByAngle  []Cause              `json:"by_angle"`  // what the turn leaves open; the last is all together
	Envelope units.ForceInterval  `json:"envelope"`  // the preload at which the bolt yields, which no turn exceeds
}

// A Cause is one thing that is not known exactly, with the preloads that it alone allows
// while all else lies in the middle of its range.
type Cause struct {
	Name    string              `json:"name"`
	Preload units.ForceInterval `json:"preload"`
}

// Scattering returns why the turn scatters less than a torque does, in numbers. The torque
// compared is the one whose preload, in the middle of all ranges, is that of the turn in
// the middle of all ranges; it is as uncertain as the snug torque, in proportion.
//
// Nine tenths of a torque go into friction, so that a doubt about friction is multiplied. The
// turn stretches the bolt by geometry: friction enters only by the snug torque, which is small,
// and once the bolt yields its strength alone decides.
//
// The errors are those of Forecast; a snug torque of zero has no proportion, and is refused
// too.
func (b YieldBolt) Scattering(snug units.TorqueInterval, turn units.AngleInterval) (Scattering, error) {
	whole, err := b.Forecast(snug, turn)
	if err != nil {
		return Scattering{}, err
	}
	if snug.Mid().Sign() == 0 {
		return Scattering{}, impossible("snug torque", snug.String(), "write a torque above zero")
	}
	b = whole.Bolt
	middle := b.middle()
	centre, err := middle.Forecast(atMiddle(snug), atMiddle(turn))
	if err != nil {
		return Scattering{}, err
	}
	aim, err := b.Screw.Torque(atMiddle(centre.last().Preload), middle.Friction)
	if err != nil {
		return Scattering{}, err
	}
	s := Scattering{Torque: snug.MulRat(aim.Mid().Ratio(snug.Mid())).Outward(units.NewtonMetre, 9), Envelope: whole.Envelope}

	byAngle := func(name string, bolt YieldBolt, snug units.TorqueInterval, turn units.AngleInterval) error {
		f, err := bolt.Forecast(snug, turn)
		if err != nil {
			return err
		}
		s.ByAngle = append(s.ByAngle, Cause{name, f.last().Preload})
		return nil
	}
	byTorque := func(name string, friction Friction, torque units.TorqueInterval) error {
		p, err := b.Screw.Preload(torque, friction)
		if err != nil {
			return err
		}
		s.ByTorque = append(s.ByTorque, Cause{name, p})
		return nil
	}

	rubbing, bending, yielding := middle, middle, middle
	rubbing.Friction, bending.Stiffness, yielding.Yield = b.Friction, b.Stiffness, b.Yield
	for _, step := range []error{
		byTorque("friction", b.Friction, atMiddle(s.Torque)),
		byTorque("the tool's torque", middle.Friction, s.Torque),
		byTorque("all together", b.Friction, s.Torque),
		byAngle("friction", rubbing, atMiddle(snug), atMiddle(turn)),
		byAngle("the tool's snug torque", middle, snug, atMiddle(turn)),
		byAngle("the angle", middle, atMiddle(snug), turn),
		byAngle("the joint's stiffness", bending, atMiddle(snug), atMiddle(turn)),
		byAngle("the bolt's yield strength", yielding, atMiddle(snug), atMiddle(turn)),
		byAngle("all together", b, snug, turn),
	} {
		if step != nil {
			return Scattering{}, step
		}
	}
	return s, nil
}

// middle returns the bolt with every range narrowed to its middle.
func (b YieldBolt) middle() YieldBolt {
	b.Friction = Friction{Thread: atMiddle(b.Friction.Thread), Bearing: atMiddle(b.Friction.Bearing)}
	b.Yield, b.Stiffness = atMiddle(b.Yield), atMiddle(b.Stiffness)
	return b
}

// last returns the state after the last pull.
func (f Forecast) last() State { return f.States[len(f.States)-1] }

func atMiddle[D units.Dimension](a units.Interval[D]) units.Interval[D] {
	return units.Exactly(a.Mid())
}

// Working returns the comparison as a list to read, in the units, with forces to so many
// places.
func (s Scattering) Working(torque units.TorqueUnit, force units.ForceUnit, places int32) units.Working {
	w := units.Working{
		Name:   "why the turn scatters less than the torque",
		Source: "VDI 2230-1:2015, 5.4.3, for the tightening factor αA = Fmax/Fmin",
		Steps: []units.Working{
			{Name: "by torque alone, " + s.Torque.FormatOutward(torque, 1)},
			{Name: "by snug torque and turn"},
		},
	}
	for i, causes := range [][]Cause{s.ByTorque, s.ByAngle} {
		for _, cause := range causes {
			line := units.Working{Name: cause.Name, Result: cause.Preload.FormatOutward(force, places)}
			if cause.Preload.Lo().Sign() > 0 {
				line.Result += ", αA = " + factorOf(cause.Preload)
			}
			w.Steps[i].Steps = append(w.Steps[i].Steps, line)
		}
	}
	if alone := s.ByTorque[len(s.ByTorque)-1].Preload; s.Envelope.Lo().Less(alone.Hi()) {
		w.Notes = append(w.Notes, fmt.Sprintf("the torque alone may ask for up to %s of a bolt that yields at %s: slick threads would be past yield and nobody would know",
			alone.Hi().Format(force, places, units.Ceiling), s.Envelope.FormatOutward(force, places)))
	}
	w.Notes = append(w.Notes, "a bolt that the turn takes past yield is scrap once it is loosened; the engine maker's manual comes first")
	return w
}
