package film

import "example.com/closefit/units"

// A SweepPoint is what a bearing comes to at one clearance.
type SweepPoint struct {
	Clearance units.Length `json:"clearance"`
	Work      WorkingPoint `json:"work"`
	Lambda    float64      `json:"lambda"` // least film over roughness; 0 where that is not known
	// Pressure is what a Pump keeps up behind its bearings, and Short whether it falls below its relief pressure.
	Pressure units.Pressure `json:"pressure"`
}

// A Pump feeds several bearings alike: it delivers so much at the most, and opens at its relief
// pressure.
type Pump struct {
	Delivery units.VolumeFlow `json:"delivery"`
	Relief   units.Pressure   `json:"relief"`
	Bearings int              `json:"bearings"`
}

// A Range is what a bearing comes to over an interval of clearances: bounds of the computed
// curve, each with the Estimate added.
type Range struct {
	Clearance    units.LengthInterval      `json:"clearance"`
	Least        units.LengthInterval      `json:"least"`
	Temperature  units.TemperatureInterval `json:"temperature"`
	PeakPressure units.PressureInterval    `json:"peakPressure"`
}
