package preload

import (
	"fmt"
	"math/big"

	"example.com/closefit/units"
)

// NutFactor returns the nut factor that a screw has over a range of friction, rounded
// outward to the twelfth place:
//
//	K = T / (F d) = ( P/(2π) + 0.577 d2 μth + 0.5 Db μb ) / d
//
// Symbols and errors are those of Screw.Torque; d is the nominal diameter. K lumps thread,
// friction and shape together, and one from a handbook is only as good as the tests that it
// comes from.
//
// Source: Mechanical Engineering Design, 9th ed., equation (8-27), for K; ISO 16047:2005.
func (s Screw) NutFactor(f Friction) (units.RatioInterval, error) {
	if err := s.checkWith(f); err != nil {
		return units.RatioInterval{}, err
	}
	least, most := s.levers(f)
	d := s.Thread.Major().Rat(units.Millimetre)
	return units.MustInterval(units.One.OfRat(least.Quo(least, d)), units.One.OfRat(most.Quo(most, d))).Outward(units.One, 12), nil
}

// FrictionFromNutFactor returns the coefficient, the same in the thread and under the
// head, that a screw's nut factor stands for, rounded outward to the twelfth place:
//
//	μ = ( K d - P/(2π) ) / ( 0.577 d2 + 0.5 Db )
//
// With it Screw.Torque is T = K F d, whatever the bearing face. Symbols and source are those of
// NutFactor. The error is of kind ErrImpossible if the nut factor is missing or so small that it
// leaves no friction, or as Screw.Torque says.
func (s Screw) FrictionFromNutFactor(factor units.RatioInterval) (units.RatioInterval, error) {
	if err := s.check(); err != nil {
		return units.RatioInterval{}, err
	}
	if err := checkCoefficient("nut factor", factor); err != nil {
		return units.RatioInterval{}, err
	}
	one := big.NewRat(1, 1)
	rubbing := new(big.Rat).Sub(s.lever(one, one), s.pitchLever())
	d := s.Thread.Major()
	solve := func(k units.Ratio) units.Ratio {
		rest := new(big.Rat).Sub(leverOf(k, d), s.pitchLever())
		return units.One.OfRat(rest.Quo(rest, rubbing))
	}
	c := units.MustInterval(solve(factor.Lo()), solve(factor.Hi())).Outward(units.One, 12)
	if c.Lo().Sign() <= 0 {
		least := units.One.OfRat(new(big.Rat).Quo(s.pitchLever(), d.Rat(units.Millimetre)))
		return units.RatioInterval{}, impossible("nut factor", factor.String()+", which leaves no friction",
			"write one above "+least.Format(units.One, 4, units.Ceiling)+", which the pitch alone takes")
	}
	return c, nil
}

// leverOf returns K d in millimetres.
func leverOf(k units.Ratio, d units.Length) *big.Rat {
	return d.MulRat(k.Rat(units.One)).Rat(units.Millimetre)
}

// NutFactorOf returns the nut factor that a handbook gives for a surface: "nonplated, black
// finish", "zinc-plated", "lubricated", "cadmium-plated" or "with anti-seize". It is a
// single number without a range; what is on the bench scatters around it. The error is of
// kind ErrImpossible for another surface.
//
// Source: Mechanical Engineering Design, 9th ed., table 8-15.
func NutFactorOf(surface string) (units.RatioInterval, error) {
	factors := map[string]string{"nonplated, black finish": "0.30", "zinc-plated": "0.20", "lubricated": "0.18", "cadmium-plated": "0.16", "with anti-seize": "0.12"}
	text, known := factors[surface]
	if !known {
		return units.RatioInterval{}, impossible("surface", fmt.Sprintf("%.40q", surface), `write "nonplated, black finish", "zinc-plated", "lubricated", "cadmium-plated" or "with anti-seize"`)
	}
	return ParseFriction(text)
}
