package torque

import (
	"math/big"

	"example.com/closefit/units"
)

// TorqueByNutFactor returns the tightening torque for a preload by the short equation:
//
//	T = K F d
//
// T is the torque in N·m, K the nut factor, F the preload in kN, d the nominal diameter in
// mm. K lumps thread, friction and shape together and is only as good as the tests that it
// comes from.
//
// The error wraps ErrFriction for a missing factor, ErrScrew for a diameter not above zero
// or a preload that has no two bounds of zero or more.
//
// Source: Mechanical Engineering Design, 9th ed., equation (8-27).
func TorqueByNutFactor(preload units.ForceInterval, factor Coefficient, diameter units.Length) (units.TorqueInterval, error) {
	if err := checkNutFactor(factor, diameter); err != nil {
		return units.TorqueInterval{}, err
	}
	if err := notNegative("preload", preload); err != nil {
		return units.TorqueInterval{}, err
	}
	return units.MustInterval(
		torqueOf(preload.Lo(), leverOf(factor.lo, diameter)),
		torqueOf(preload.Hi(), leverOf(factor.hi, diameter))), nil
}

// PreloadByNutFactor returns the preload that a torque gives by the short equation, F =
// T/(K d). Symbols, errors and source are those of TorqueByNutFactor.
func PreloadByNutFactor(torque units.TorqueInterval, factor Coefficient, diameter units.Length) (units.ForceInterval, error) {
	if err := checkNutFactor(factor, diameter); err != nil {
		return units.ForceInterval{}, err
	}
	if err := notNegative("torque", torque); err != nil {
		return units.ForceInterval{}, err
	}
	return units.MustInterval(
		forceOf(torque.Lo(), leverOf(factor.hi, diameter)),
		forceOf(torque.Hi(), leverOf(factor.lo, diameter))), nil
}

// NutFactor returns the nut factor that a screw has over a range of friction:
//
//	K = ( P/(2π) + 0.577 d2 μth + 0.5 Db μb ) / d
//
// Symbols, errors and source are those of Screw.Torque; d is the nominal diameter.
func (s Screw) NutFactor(f Friction) (Coefficient, error) {
	if err := s.checkWith(f); err != nil {
		return Coefficient{}, err
	}
	d := s.Thread.Major().Rat(units.Millimetre)
	return Coefficient{
		lo: new(big.Rat).Quo(s.lever(f.Thread.lo, f.Bearing.lo), d),
		hi: new(big.Rat).Quo(s.lever(f.Thread.hi, f.Bearing.hi), d),
	}, nil
}

// FrictionFromNutFactor returns the coefficient, the same in the thread and under the
// head, that a screw's nut factor stands for:
//
//	μ = ( K d - P/(2π) ) / ( 0.577 d2 + 0.5 Db )
//
// Symbols and source are those of Screw.Torque. The error wraps ErrFriction if the nut
// factor is missing or so small that it leaves no friction, ErrScrew as for Screw.Torque.
func (s Screw) FrictionFromNutFactor(factor Coefficient) (Coefficient, error) {
	if err := s.check(); err != nil {
		return Coefficient{}, err
	}
	if err := factor.check("nut factor"); err != nil {
		return Coefficient{}, err
	}
	one := big.NewRat(1, 1)
	rubbing := new(big.Rat).Sub(s.lever(one, one), s.pitchLever())
	d := s.Thread.Major()
	solve := func(k *big.Rat) *big.Rat {
		rest := new(big.Rat).Sub(leverOf(k, d), s.pitchLever())
		return rest.Quo(rest, rubbing)
	}
	c := Coefficient{lo: solve(factor.lo), hi: solve(factor.hi)}
	if c.lo.Sign() <= 0 {
		least := new(big.Rat).Quo(s.pitchLever(), d.Rat(units.Millimetre))
		return Coefficient{}, &FrictionError{Input: factor.String(), What: "a nut factor that leaves no friction", Fix: "write one above " + shortNumber(least) + ", which the pitch alone takes"}
	}
	return c, nil
}

func checkNutFactor(factor Coefficient, diameter units.Length) error {
	if diameter.Sign() <= 0 {
		return &ScrewError{What: "diameter", Value: diameter.String(), Fix: "write the thread's nominal diameter"}
	}
	return factor.check("nut factor")
}

// leverOf returns K d in millimetres.
func leverOf(k *big.Rat, d units.Length) *big.Rat {
	l := d.Rat(units.Millimetre)
	return l.Mul(l, k)
}

// A SurfaceFactor is the nut factor that a handbook gives for a surface.
type SurfaceFactor struct {
	Surface string
	Factor  Coefficient
}

// SurfaceFactors returns nut factors by surface, from the driest to the slickest. They are
// single numbers without a range; what is on the bench scatters around them.
//
// Source: Mechanical Engineering Design, 9th ed., table 8-15.
func SurfaceFactors() []SurfaceFactor {
	return []SurfaceFactor{
		{"nonplated, black finish", MustParseCoefficient("0.30")},
		{"zinc-plated", MustParseCoefficient("0.20")},
		{"lubricated", MustParseCoefficient("0.18")},
		{"cadmium-plated", MustParseCoefficient("0.16")},
		{"with anti-seize", MustParseCoefficient("0.12")},
	}
}
