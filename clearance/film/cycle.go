package film

import "example.com/closefit/units"

// A Cycle is the load of a bearing over one cycle, by crank angle from the first point on: 360° or 720°
// in all, the last point as the first one. Between points the load runs straight.
type Cycle []LoadPoint

// A LoadPoint is the load at one crank angle, in the frame of the shell: X along the rod from
// the big end to the small one, or up the cylinder for a main bearing; Y a quarter turn on from X
// with the rotation of the crankshaft.
type LoadPoint struct {
	Crank units.Angle `json:"crank"`
	X     units.Force `json:"x"`
	Y     units.Force `json:"y"`
}
