package preload

import (
	"math"

	"example.com/closefit/units"
)

// YieldPreload returns the preload at which a bolt yields while it is being tightened,
// when the thread's friction twists it as well, over the ranges of yield strength and
// friction. section is the diameter of what yields first, such as a waist; zero stands for
// the thread, whose diameter is that of its stress area, dS = (d2 + d3)/2. It works in
// float64 and is rounded outward to 0.001 N.
//
//	F = ν Re A0 / √( 1 + 3 ( 3/2 · d2/d0 · (P/(π d2) + 1.155 μth) )² )
//
// F is the preload in N, Re the yield strength (Rp0.2) in N/mm², ν the share of it that
// may be used (1: where yield begins; 0.9: VDI's tables), A0 = π/4 d0² the section in mm²,
// d0 its diameter in mm, d2 the basic pitch diameter in mm, P the pitch in mm, μth the
// friction in the thread. The square is 3 τ²/σ² of von Mises' criterion, with the shear
// stress as if the section had yielded all through.
//
// The error is of kind ErrImpossible for a strength or share not above zero, a diameter below
// zero, and as Screw.Torque says.
//
// Source: VDI 2230-1:2015, 5.5.1, equation for FM,zul.
func (s Screw) YieldPreload(yield units.PressureInterval, share units.Ratio, section units.Length, thread units.RatioInterval) (units.ForceInterval, error) {
	if err := s.checkWith(Friction{Thread: thread, Bearing: thread}); err != nil {
		return units.ForceInterval{}, err
	}
	if err := positive("yield strength", yield, `write both bounds above zero, as in "940..1040 MPa"`); err != nil {
		return units.ForceInterval{}, err
	}
	if share.Sign() <= 0 {
		return units.ForceInterval{}, impossible("share of the yield strength", share.String(), "write 1 for the yield point, 0.9 for VDI's tables")
	}
	if section.Sign() < 0 {
		return units.ForceInterval{}, impossible("diameter of the section", section.String(), "write a diameter above zero, or leave it out for the thread")
	}
	nu := share.Float64(units.One)
	sizes := s.sizes(section)
	return newtons(
		nu*sizes.yieldPreload(yield.Lo().Float64(units.Megapascal), thread.Hi().Float64(units.One)),
		nu*sizes.yieldPreload(yield.Hi().Float64(units.Megapascal), thread.Lo().Float64(units.One))), nil
}

// sizes are those of a screw in millimetres, for what works in float64.
type sizes struct {
	pitch, d2, bearing, d0 float64
}

func (s Screw) sizes(section units.Length) sizes {
	d0 := section.Float64(units.Millimetre)
	if d0 == 0 {
		d0 = 2 * math.Sqrt(s.Thread.StressArea().Float64(units.SquareMillimetre)/math.Pi)
	}
	return sizes{
		pitch:   s.Thread.Pitch().Float64(units.Millimetre),
		d2:      s.Thread.PitchDiameter().Float64(units.Millimetre),
		bearing: s.Bearing().Float64(units.Millimetre),
		d0:      d0,
	}
}

// yieldPreload is the formula of Screw.YieldPreload with ν = 1, in N.
func (s sizes) yieldPreload(yield, friction float64) float64 {
	slope := s.pitch/(math.Pi*s.d2) + 1.155*friction
	shear := 1.5 * s.d2 / s.d0 * slope
	return yield * math.Pi / 4 * s.d0 * s.d0 / math.Sqrt(1+3*shear*shear)
}

// preload is the formula of Screw.Preload, in N, for a torque in N·m.
func (s sizes) preload(torque, thread, bearing float64) float64 {
	return 1000 * torque / s.lever(thread, bearing)
}

// lever is the torque for each newton of preload, in mm.
func (s sizes) lever(thread, bearing float64) float64 {
	return s.pitch/(2*math.Pi) + 0.577*s.d2*thread + s.bearing/2*bearing
}

// newtons returns forces that were worked out in float64, rounded outward to 0.001 N.
func newtons(lo, hi float64) units.ForceInterval {
	return units.MustInterval(nearly(units.Newton, math.Floor(lo*1000)/1000, 3), nearly(units.Newton, math.Ceil(hi*1000)/1000, 3))
}

// nearly returns what was worked out in float64 as a quantity rounded to so many places.
// Callers have made sure that it is finite.
func nearly[D units.Dimension](u units.Unit[D], f float64, places int32) units.Quantity[D] {
	q, err := u.OfFloat64(f, places)
	if err != nil {
		panic("preload: worked out no finite number: " + err.Error())
	}
	return q
}
