package torque

import (
	"errors"
	"fmt"
	"math/big"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// ErrScrew is the kind of error for a screw or a pull that cannot be: no thread, a bearing
// face narrower than the thread, a negative torque. A *ScrewError wraps it.
var ErrScrew = errors.New("not a possible screw or pull")

// A ScrewError says what about a screw or a pull cannot be and what to write instead.
type ScrewError struct {
	What  string // "bearing diameter"
	Value string // what was found
	Fix   string // what to write instead
}

func (e *ScrewError) Error() string {
	return fmt.Sprintf("%s %s: %v; %s", e.What, e.Value, ErrScrew, e.Fix)
}

// Unwrap returns ErrScrew.
func (e *ScrewError) Unwrap() error { return ErrScrew }

// A Screw is what turns torque into preload: a thread, and the face that rubs under the
// head or the nut.
type Screw struct {
	Thread fasteners.Thread
	// Bearing is the effective diameter of the bearing face, at whose half friction acts;
	// see BearingDiameter.
	Bearing units.Length
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
		return &ScrewError{What: "screw", Value: "without a thread", Fix: `give it one, as in fasteners.MustParseThread("M10")`}
	}
	if s.Bearing.Cmp(s.Thread.PitchDiameter()) <= 0 {
		return &ScrewError{What: "bearing diameter", Value: s.Bearing.String(), Fix: "write the mean diameter of the face under the head, larger than the thread's"}
	}
	return nil
}

// twoPi and thread are the numbers of the torque equation.
var (
	twoPi = mustRatio("6.2831853071795864769252867665590058")
	// flank is 1.154/2: 1/(2 cos 30°) with the digits of ISO 16047, half of 1.154.
	flank = mustRatio("0.577")
)

func mustRatio(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("torque: " + s + " is no number")
	}
	return r
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
// coarse threads from M4 up and friction up to 0.2. It is exact but for π, of which it takes
// 34 places.
//
// The error wraps ErrScrew for a screw without thread or bearing face and for a preload
// that has no two bounds of zero or more, ErrFriction for a missing coefficient.
//
// Source: ISO 16047:2005; VDI 2230-1:2015, 5.4.3, which rounds the numbers to 0.16 and 0.58.
func (s Screw) Torque(preload units.ForceInterval, f Friction) (units.TorqueInterval, error) {
	if err := s.checkWith(f); err != nil {
		return units.TorqueInterval{}, err
	}
	if err := notNegative("preload", preload); err != nil {
		return units.TorqueInterval{}, err
	}
	return units.MustInterval(
		torqueOf(preload.Lo(), s.lever(f.Thread.lo, f.Bearing.lo)),
		torqueOf(preload.Hi(), s.lever(f.Thread.hi, f.Bearing.hi))), nil
}

// Preload returns the preload that a torque gives, over the whole range of friction: the
// equation of Torque solved for F. What a torque promises is this interval, and it is
// wide.
//
// The errors are those of Torque, for a torque instead of a preload.
func (s Screw) Preload(torque units.TorqueInterval, f Friction) (units.ForceInterval, error) {
	if err := s.checkWith(f); err != nil {
		return units.ForceInterval{}, err
	}
	if err := notNegative("torque", torque); err != nil {
		return units.ForceInterval{}, err
	}
	return units.MustInterval(
		forceOf(torque.Lo(), s.lever(f.Thread.hi, f.Bearing.hi)),
		forceOf(torque.Hi(), s.lever(f.Thread.lo, f.Bearing.lo))), nil
}

// Twist returns the part of the torque that reaches the shank and twists it, all but the
// friction under the head:
//
//	MG = F ( P/(2π) + 0.577 d2 μth )
//
// The symbols, errors and source are those of Torque.
func (s Screw) Twist(preload units.ForceInterval, thread Coefficient) (units.TorqueInterval, error) {
	if err := s.checkWith(EqualFriction(thread)); err != nil {
		return units.TorqueInterval{}, err
	}
	if err := notNegative("preload", preload); err != nil {
		return units.TorqueInterval{}, err
	}
	return units.MustInterval(
		torqueOf(preload.Lo(), s.threadLever(thread.lo)),
		torqueOf(preload.Hi(), s.threadLever(thread.hi))), nil
}

// Shares says where a torque goes, as parts of one. They add up to one exactly.
type Shares struct {
	Stretch *big.Rat // P/(2π): the only part that becomes preload
	Thread  *big.Rat // friction in the thread
	Bearing *big.Rat // friction under the head
}

// Shares returns where a torque goes at one pair of coefficients, those in the middle of
// the friction's ranges. The errors are those of Torque.
func (s Screw) Shares(f Friction) (Shares, error) {
	if err := s.checkWith(f); err != nil {
		return Shares{}, err
	}
	thread, bearing := middle(f.Thread), middle(f.Bearing)
	whole := s.lever(thread, bearing)
	toThread := s.threadLever(thread)
	toPitch := s.pitchLever()
	return Shares{
		Stretch: new(big.Rat).Quo(toPitch, whole),
		Thread:  new(big.Rat).Quo(new(big.Rat).Sub(toThread, toPitch), whole),
		Bearing: new(big.Rat).Quo(new(big.Rat).Sub(whole, toThread), whole),
	}, nil
}

func middle(c Coefficient) *big.Rat {
	m := new(big.Rat).Add(c.lo, c.hi)
	return m.Mul(m, big.NewRat(1, 2))
}

func (s Screw) checkWith(f Friction) error {
	if err := s.check(); err != nil {
		return err
	}
	return f.check()
}

// notNegative refuses an interval that lacks a bound or goes below zero.
func notNegative[D units.Dimension](what string, a units.Interval[D]) error {
	if !a.Bounded() {
		return &ScrewError{What: what, Value: a.String(), Fix: "write both bounds"}
	}
	if a.Lo().Sign() < 0 {
		return &ScrewError{What: what, Value: a.String(), Fix: "write zero or more"}
	}
	return nil
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
