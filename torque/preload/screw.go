package preload

import (
	"math/big"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// A Screw is what turns torque into preload: a thread, and the face that rubs under the
// head or the nut.
type Screw struct {
	Thread fasteners.Thread `json:"thread"`
	// Bearing is the effective diameter of the bearing face, at whose half friction acts;
	// see BearingDiameter.
	Bearing units.Length `json:"bearing"`
}

// BearingDiameter returns the effective diameter of a bearing face:
//
//	Db = (D0 + dh) / 2
//
// D0 is the outside diameter of the face, dh its inside diameter: the clearance hole or
// its chamfer, whichever is larger. VDI 2230 writes DKm = (dW + dh)/2.
//
// Source: ISO 16047:2005, symbols; VDI 2230-1:2015, 5.4.3.
func BearingDiameter(outside, inside units.Length) units.Length {
	return outside.Add(inside).MulRat(big.NewRat(1, 2))
}

func (s Screw) check() error {
	if s.Thread.Major().Sign() <= 0 {
		return impossible("screw", "no thread", `give it one, as in fasteners.MustParseThread("M10")`)
	}
	if s.Bearing.Cmp(s.Thread.PitchDiameter()) <= 0 {
		return impossible("bearing diameter", s.Bearing.String(), "write the mean diameter of the face under the head, larger than the thread's")
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
	head := s.Bearing.Rat(units.Millimetre)
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
// diameter in mm, μth the friction in the thread, Db the effective bearing diameter in mm,
// μb the friction under the turning head or nut. Valid for threads of 60° and below yield; it is
// the standard's approximation for small angles, less than 1 % below its full equation for
// coarse threads from M4 up and friction up to 0.2. The bounds are rounded outward to
// 1 nN·m.
//
// The error wraps ErrImpossible for a screw without thread or bearing face, for a preload
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
