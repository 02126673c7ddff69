package preload

import (
	"fmt"
	"math/big"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// A Screw is what turns torque into preload: a thread, and the face that rubs under the
// head or the nut. Friction acts on the face at its mean diameter,
//
//	Db = (D0 + dh) / 2
//
// D0 is the outside diameter of the face, dh its inside diameter. VDI 2230 writes
// DKm = (dW + dh)/2.
//
// Source: ISO 16047:2005, symbols; VDI 2230-1:2015, 5.4.3.
type Screw struct {
	Thread fasteners.Thread `json:"thread"`
	Face   units.Length     `json:"face"` // D0, the outside of the bearing face
	Hole   units.Length     `json:"hole"` // dh, the clearance hole or its chamfer, whichever is larger
}

// Bearing returns Db, the mean diameter of the bearing face.
func (s Screw) Bearing() units.Length { return s.Face.Add(s.Hole).MulRat(big.NewRat(1, 2)) }

func (s Screw) check() error {
	switch {
	case s.Thread.Major().Sign() <= 0:
		return impossible("screw", "no thread", `give it one, as in fasteners.MustParseThread("M10")`)
	case s.Hole.Less(s.Thread.Major()):
		return impossible("hole under the head", s.Hole.String(), "write the diameter of the clearance hole or its chamfer, at least the thread's "+s.Thread.Written(s.Thread.Major()))
	case s.Face.Cmp(s.Hole) <= 0:
		return impossible("face under the head", s.Face.String(), "write the outside diameter of the bearing face, larger than the hole's "+s.Thread.Written(s.Hole))
	}
	return nil
}

// The numbers of the torque equation: the digits that units has of 2π, and 1.154/2, which
// is 1/(2 cos 30°) with the digits of ISO 16047.
var (
	twoPi = units.Turn.OfInt(1).Rat(units.Radian)
	flank = big.NewRat(577, 1000)
)

// levers returns the least and the greatest lever over a range of friction.
func (s Screw) levers(f Friction) (least, most *big.Rat) {
	return s.lever(f.Thread.Lo().Rat(units.One), f.Bearing.Lo().Rat(units.One)),
		s.lever(f.Thread.Hi().Rat(units.One), f.Bearing.Hi().Rat(units.One))
}

// lever returns the torque for each newton of preload, in millimetres.
func (s Screw) lever(thread, bearing *big.Rat) *big.Rat {
	l := s.threadLever(thread)
	head := s.Bearing().Rat(units.Millimetre)
	head.Mul(head, bearing)
	return l.Add(l, head.Mul(head, big.NewRat(1, 2)))
}

// threadLever returns the part of the lever that twists the shank.
func (s Screw) threadLever(thread *big.Rat) *big.Rat {
	l := s.pitchLever()
	rub := s.Thread.PitchDiameter().Rat(units.Millimetre)
	rub.Mul(rub, thread)
	return l.Add(l, rub.Mul(rub, flank))
}

// pitchLever returns the part of the lever that stretches the bolt.
func (s Screw) pitchLever() *big.Rat {
	l := s.Thread.Pitch().Rat(units.Millimetre)
	return l.Quo(l, twoPi)
}

// Torque returns the tightening torque for a preload, over the whole range of friction:
//
//	T = F ( P/(2π) + 0.577 d2 μth + 0.5 Db μb )
//
// T is the torque in N·mm, F the preload in N, P the pitch in mm, d2 the basic pitch
// diameter in mm, μth the friction in the thread, Db the mean diameter of the bearing face in mm,
// μb the friction under the turning head or nut. Valid for threads of 60° and below yield; it is
// the standard's approximation for small angles, less than 1 % below its full equation for
// coarse threads from M4 up and friction up to 0.2. The bounds are rounded outward to
// 1 nN·m.
//
// The error is of kind ErrImpossible for a screw without thread or bearing face, for a preload
// that has no two bounds of zero or more, and for a coefficient that is missing or cannot be.
//
// Source: ISO 16047:2005; VDI 2230-1:2015, 5.4.3, which rounds the numbers to 0.16 and 0.58.
func (s Screw) Torque(preload units.ForceInterval, f Friction) (units.TorqueInterval, error) {
	if err := s.checkWith(f); err != nil {
		return units.TorqueInterval{}, err
	}
	if err := notNegative("preload", preload); err != nil {
		return units.TorqueInterval{}, err
	}
	least, most := s.levers(f)
	return torques(preload, least, most), nil
}

// Preload returns the preload that a torque gives, over the whole range of friction: the
// equation of Torque solved for F. What a torque promises is this interval, and it is
// wide. The bounds are rounded outward to 1 µN.
//
// The errors are those of Torque, for a torque instead of a preload.
func (s Screw) Preload(torque units.TorqueInterval, f Friction) (units.ForceInterval, error) {
	if err := s.checkWith(f); err != nil {
		return units.ForceInterval{}, err
	}
	if err := notNegative("torque", torque); err != nil {
		return units.ForceInterval{}, err
	}
	least, most := s.levers(f)
	return units.MustInterval(forceOf(torque.Lo(), most), forceOf(torque.Hi(), least)).Outward(units.Newton, 6), nil
}

// Shares returns where a torque goes, as parts of it, at the middle of the friction's ranges.
// What stretches the bolt, P/(2π) of the lever, is the only part that becomes preload; the rest
// rubs in the thread and under the head. They are rounded to the ninth place and add up to one.
// The errors are those of Torque.
func (s Screw) Shares(f Friction) (stretch, thread, bearing units.Ratio, err error) {
	if err := s.checkWith(f); err != nil {
		return units.Ratio{}, units.Ratio{}, units.Ratio{}, err
	}
	inThread, underHead := f.Thread.Mid().Rat(units.One), f.Bearing.Mid().Rat(units.One)
	whole, twist, pitch := s.lever(inThread, underHead), s.threadLever(inThread), s.pitchLever()
	share := func(part *big.Rat) units.Ratio {
		return units.One.Of(units.One.OfRat(part.Quo(part, whole)).In(units.One, 9))
	}
	thread = share(new(big.Rat).Sub(twist, pitch))
	bearing = share(new(big.Rat).Sub(whole, twist))
	return units.One.OfInt(1).Sub(thread).Sub(bearing), thread, bearing, nil
}

// Working shows the preload that a torque gives and where the torque goes, for checking by hand,
// in the units, with torque to one place and forces to so many. Lengths are in inches for a
// unified thread, else in millimetres. The errors are those of Preload.
func (s Screw) Working(torque units.TorqueInterval, f Friction, in units.TorqueUnit, force units.ForceUnit, places int32) (units.Working, error) {
	preload, err := s.Preload(torque, f)
	if err != nil {
		return units.Working{}, err
	}
	stretch, thread, bearing, err := s.Shares(f)
	if err != nil {
		return units.Working{}, err
	}
	percent := func(r units.Ratio) string { return r.Format(units.Percent, 0, units.HalfEven) }
	t := s.Thread
	w := units.Working{
		Name:    fmt.Sprintf("what %s promises on %v", torque.FormatOutward(in, 1), t),
		Formula: "F = T / ( P/(2π) + 0.577 d2 μth + 0.5 Db μb )",
		Numbers: fmt.Sprintf("T = %s, P = %s, d2 = %s, Db = %s, μth = %v, μb = %v", torque.FormatOutward(in, 1),
			t.Written(t.Pitch()), t.Written(t.PitchDiameter()), t.Written(s.Bearing()), f.Thread, f.Bearing),
		Result: preload.FormatOutward(force, places),
		Source: "ISO 16047:2005",
		Notes: []string{
			fmt.Sprintf("of the torque, %s stretches the bolt, %s rubs in the thread and %s under the head", percent(stretch), percent(thread), percent(bearing)),
		},
	}
	if preload.Lo().Sign() > 0 {
		w.Notes = append(w.Notes, "the largest preload is "+factorOf(preload)+" times the smallest")
	}
	return w, nil
}

// factorOf returns the tightening factor αA of preloads above zero, Hi/Lo, as a text.
func factorOf(preload units.ForceInterval) string {
	return units.One.OfRat(preload.Hi().Ratio(preload.Lo())).Format(units.One, 2, units.HalfEven)
}

func (s Screw) checkWith(f Friction) error {
	if err := s.check(); err != nil {
		return err
	}
	return f.check()
}

// torques returns the torques of a preload between two levers of so many millimetres.
func torques(preload units.ForceInterval, least, most *big.Rat) units.TorqueInterval {
	return units.MustInterval(torqueOf(preload.Lo(), least), torqueOf(preload.Hi(), most)).Outward(units.NewtonMetre, 9)
}

// torqueOf returns a force on a lever of so many millimetres.
func torqueOf(f units.Force, lever *big.Rat) units.Torque {
	nmm := f.Rat(units.Newton)
	nmm.Mul(nmm, lever)
	return units.NewtonMetre.OfRat(nmm.Mul(nmm, big.NewRat(1, 1000)))
}

// forceOf returns the force that a torque has on a lever of so many millimetres.
func forceOf(t units.Torque, lever *big.Rat) units.Force {
	nmm := t.Rat(units.NewtonMetre)
	nmm.Mul(nmm, big.NewRat(1000, 1))
	return units.Newton.OfRat(nmm.Quo(nmm, lever))
}
