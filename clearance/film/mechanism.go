package film

import "example.com/closefit/units"

// A Mechanism is the crank mechanism of one cylinder, whose gas and masses load the rod's
// bearing.
type Mechanism struct {
	Bore          units.Length `json:"bore"`
	Stroke        units.Length `json:"stroke"`
	Rod           units.Length `json:"rod"`           // between the middles of its bearings
	Reciprocating units.Mass   `json:"reciprocating"` // piston, rings, pin and the rod's small end
	Rotating      units.Mass   `json:"rotating"`      // the rod's big end
	Gas           []GasPoint   `json:"gas"`           // over 360° or 720°, the last point as the first one
}

// A GasPoint is the pressure in the cylinder above that in the crankcase at one crank angle from
// the top.
type GasPoint struct {
	Crank    units.Angle    `json:"crank"`
	Pressure units.Pressure `json:"pressure"`
}
