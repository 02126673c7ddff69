package film

import (
	"fmt"
	"math"

	"example.com/closefit/units"
)

// A Mechanism is the crank mechanism of one cylinder, whose gas and masses load the rod's bearing. The cylinder's
// axis meets the crankshaft's, the rod is two masses at its ends, and the crankshaft turns evenly.
type Mechanism struct {
	Bore          units.Length `json:"bore"`
	Stroke        units.Length `json:"stroke"`        // twice the crank radius
	Rod           units.Length `json:"rod"`           // between the middles of its bearings
	Reciprocating units.Mass   `json:"reciprocating"` // piston, rings, pin and the rod's small end
	Rotating      units.Mass   `json:"rotating"`      // the rod's big end
	// Gas is over 360° or 720°, the last point with the pressure of the first. Between points the pressure runs straight.
	Gas []GasPoint `json:"gas"`
}

// A GasPoint is the pressure in the cylinder above that in the crankcase, at one crank angle from where the piston is at
// the top, with the rotation. It may be below zero.
type GasPoint struct {
	Crank    units.Angle    `json:"crank"`
	Pressure units.Pressure `json:"pressure"`
}

// Cycle returns the load on the bearing of the rod at a speed of the crankshaft, at so many even steps and once more where
// the cycle closes:
//
//	Fx = (p A + m s̈)/cos β - M r ω² cos(θ+β),   Fy = -M r ω² sin(θ+β)
//	s = r cos θ + l cos β,   sin β = (r/l) sin θ
//
// Fx and Fy are in N, in the frame of the rod (see LoadPoint). p is the pressure in Pa, A the area of the bore in m²,
// m and M the reciprocating and rotating mass in kg, r and l the crank radius and the rod's length in m, θ the crank angle
// from the top and ω the crankshaft's speed in rad/s. They are the balances of forces at the two ends of the rod; gravity,
// friction and the pin's and the piston's own tilting are left out.
//
// Steps may be from 8 to 19999. The errors are of kind ErrSpeed, ErrMechanism for a size or mass that cannot be or
// a rod that is too short, and ErrCycle for a table of pressures out of order or that does not close.
func (m Mechanism) Cycle(speed units.RotationalSpeed, steps int) (Cycle, error) {
	if speed.Sign() <= 0 {
		return Cycle{}, wrong(ErrSpeed, "speed", speed.String(), "write the crankshaft's speed above zero")
	}
	if err := checkSteps(steps); err != nil {
		return Cycle{}, err
	}
	for _, s := range []struct {
		name string
		size units.Length
	}{{"bore", m.Bore}, {"stroke", m.Stroke}, {"rod", m.Rod}} {
		if s.size.Sign() <= 0 {
			return Cycle{}, wrong(ErrMechanism, s.name, s.size.String(), "write a length above zero")
		}
	}
	if !m.Stroke.Less(m.Rod.MulInt(2)) {
		return Cycle{}, wrong(ErrMechanism, "rod", fmt.Sprintf("%v with a stroke of %v", m.Rod, m.Stroke), "write the length between the middles of its bearings, more than half the stroke: the crank does not come round otherwise")
	}
	for _, s := range []struct {
		name string
		mass units.Mass
	}{{"reciprocating mass", m.Reciprocating}, {"rotating mass", m.Rotating}} {
		if s.mass.Sign() < 0 {
			return Cycle{}, wrong(ErrMechanism, s.name, s.mass.String(), "write a mass of zero or more")
		}
	}
	angles := make([]units.Angle, len(m.Gas))
	pressures := make([]float64, len(m.Gas))
	for i, p := range m.Gas {
		angles[i], pressures[i] = p.Crank, p.Pressure.Float64(units.Pascal)
	}
	at, err := turned("gas", angles)
	if err != nil {
		return Cycle{}, err
	}
	first, last := m.Gas[0], m.Gas[len(m.Gas)-1]
	if !first.Pressure.Equal(last.Pressure) {
		return Cycle{}, wrong(ErrCycle, fmt.Sprintf("gas, point %d", len(m.Gas)), fmt.Sprintf("%v where the cycle began with %v", last.Pressure, first.Pressure), "end with the pressure of the first point: the cycle repeats")
	}

	r, l := m.Stroke.Float64(units.Millimetre)/2e3, m.Rod.Float64(units.Millimetre)/1e3
	swing := r / l
	bore := m.Bore.Float64(units.Millimetre) / 1e3
	area := math.Pi / 4 * bore * bore
	omega := speed.Float64(units.RevolutionPerMinute) * math.Pi / 30
	up, round := m.Reciprocating.Float64(units.Gram)/1e3, m.Rotating.Float64(units.Gram)/1e3
	whole := angles[len(angles)-1].Sub(angles[0]).Float64(units.Degree)
	start := angles[0].Float64(units.Degree)

	c := Cycle{Swing: swing}
	var rounds rounding
	for k := range steps {
		crank := start + whole*float64(k)/float64(steps)
		theta := crank / degree
		sin, cos := math.Sincos(theta)
		beta := math.Asin(swing * sin)
		sinB, cosB := math.Sincos(beta)
		slope := swing * cos / cosB // dβ/dθ
		bend := (slope*slope*sinB - swing*sin) / cosB
		acceleration := -omega * omega * (r*cos + l*(cosB*slope*slope+sinB*bend))
		i, part := segment(at, theta)
		gas := pressures[i] + part*(pressures[i+1]-pressures[i])
		rod := (gas*area + up*acceleration) / cosB
		spin := round * r * omega * omega
		c.Points = append(c.Points, LoadPoint{
			Crank: rounded(&rounds, units.Degree, crank),
			X:     rounded(&rounds, units.Newton, rod-spin*math.Cos(theta+beta)),
			Y:     rounded(&rounds, units.Newton, -spin*math.Sin(theta+beta)),
		})
	}
	if rounds.err != nil {
		return Cycle{}, rounds.err
	}
	closing := c.Points[0]
	closing.Crank = closing.Crank.Add(angles[len(angles)-1].Sub(angles[0]))
	c.Points = append(c.Points, closing)
	return c, nil
}

func checkSteps(steps int) error {
	if steps < leastSteps || steps >= mostPoints {
		return wrong(ErrCycle, "steps", fmt.Sprint(steps), fmt.Sprintf("write from %d to %d steps for the cycle", leastSteps, mostPoints-1))
	}
	return nil
}

const leastSteps = 8
