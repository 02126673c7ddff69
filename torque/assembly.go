package torque

import (
	"math"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// Section is the section of a bolt that yields first.
type Section struct {
	Diameter units.Length // the diameter d0 that the section stands for
}

// ThreadSection returns the section of a bolt whose thread yields first, with the
// diameter of the stress area, dS = (d2 + d3)/2.
//
// Source: VDI 2230-1:2015, 5.5.1.
func (s Screw) ThreadSection() Section {
	area := s.Thread.StressArea().Float64(units.SquareMillimetre)
	return Section{Diameter: nearly(units.Millimetre, 2*math.Sqrt(area/math.Pi), 6)}
}

// WaistSection returns the section of a bolt with a waist, or a cross hole's equal, thinner
// than its thread.
func WaistSection(diameter units.Length) Section { return Section{Diameter: diameter} }

// YieldPreload returns the preload at which a bolt yields while it is being tightened,
// when the thread's friction twists it as well, over the ranges of yield strength and
// friction. It works in float64 and is rounded to 0.001 N.
//
//	F = ν Re A0 / √( 1 + 3 ( 3/2 · d2/d0 · (P/(π d2) + 1.155 μth) )² )
//
// F is the preload in N, Re the yield strength (Rp0.2) in N/mm², ν the share of it that
// may be used (1: where yield begins; 0.9: VDI's tables), A0 = π/4 d0² the section in mm²,
// d0 its diameter in mm, d2 the basic pitch diameter in mm, P the pitch in mm, μth the
// friction in the thread. The square is 3 τ²/σ² of von Mises' criterion, with the shear
// stress as if the section had yielded all through.
//
// The error wraps ErrScrew for a strength, share or diameter not above zero, and as
// Screw.Torque does; ErrFriction for a missing coefficient.
//
// Source: VDI 2230-1:2015, 5.5.1, equation for FM,zul.
func (s Screw) YieldPreload(yield units.PressureInterval, share decimal.Decimal, section Section, thread Coefficient) (units.ForceInterval, error) {
	if err := s.checkWith(EqualFriction(thread)); err != nil {
		return units.ForceInterval{}, err
	}
	if !yield.Bounded() || yield.Lo().Sign() <= 0 {
		return units.ForceInterval{}, &ScrewError{What: "yield strength", Value: yield.String(), Fix: `write both bounds above zero, as in "940..1040 MPa"`}
	}
	if share.Sign() <= 0 {
		return units.ForceInterval{}, &ScrewError{What: "share of the yield strength", Value: share.String(), Fix: "write 1 for the yield point, 0.9 for VDI's tables"}
	}
	if section.Diameter.Sign() <= 0 {
		return units.ForceInterval{}, &ScrewError{What: "diameter of the section", Value: section.Diameter.String(), Fix: "take ThreadSection"}
	}
	nu, _ := share.Float64()
	lo, _ := thread.lo.Float64()
	hi, _ := thread.hi.Float64()
	sizes := s.sizes(section)
	return units.MustInterval(
		newtons(nu*sizes.yieldPreload(yield.Lo().Float64(units.Megapascal), hi)),
		newtons(nu*sizes.yieldPreload(yield.Hi().Float64(units.Megapascal), lo))), nil
}

// sizes are those of a screw in millimetres, for what works in float64.
type sizes struct {
	pitch, d2, bearing, d0 float64
}

func (s Screw) sizes(section Section) sizes {
	return sizes{
		pitch:   s.Thread.Pitch().Float64(units.Millimetre),
		d2:      s.Thread.PitchDiameter().Float64(units.Millimetre),
		bearing: s.Bearing.Float64(units.Millimetre),
		d0:      section.Diameter.Float64(units.Millimetre),
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
	return 1000 * torque / (s.pitch/(2*math.Pi) + 0.577*s.d2*thread + s.bearing/2*bearing)
}

// newtons returns a force that was worked out in float64, rounded to 0.001 N.
func newtons(f float64) units.Force { return nearly(units.Newton, f, 3) }

// nearly returns what was worked out in float64 as a quantity rounded to so many places.
// Callers have made sure that it is finite.
func nearly[D units.Dimension](u units.Unit[D], f float64, places int32) units.Quantity[D] {
	q, err := u.OfFloat64(f, places)
	if err != nil {
		panic("torque: worked out no finite number: " + err.Error())
	}
	return q
}
