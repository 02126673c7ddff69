package film

import "example.com/closefit/units"

// An Orbit is the path of a journal's centre over one cycle of its load, once it repeats.
type Orbit struct {
	Bearing Bearing      `json:"bearing"`
	Points  []OrbitPoint `json:"points"`
	// Least is the thinnest film over the cycle and LeastAt the crank angle of it.
	Least   units.Length `json:"least"`
	LeastAt units.Angle  `json:"leastAt"`
	// Gap is by how much, in units of the radial clearance, the last cycle did not repeat the one
	// before.
	Gap float64 `json:"gap"`
}

// An OrbitPoint is where the journal's centre stands at one crank angle, in the frame of the
// load and in units of the radial clearance.
type OrbitPoint struct {
	Crank units.Angle `json:"crank"`
	X     float64     `json:"x"`
	Y     float64     `json:"y"`
}
