package units

// A VolumeFlow is a volume that passes in a time: what a pump delivers, what a bearing leaks.
type VolumeFlow = Quantity[volumeFlowDim]

// A VolumeFlowInterval is a closed interval of volume flows.
type VolumeFlowInterval = Interval[volumeFlowDim]

const (
	LitrePerMinute           Unit[volumeFlowDim] = iota // L/min, 1/60000 m³/s exactly (SI Brochure, 9th ed., table 8)
	CubicMillimetrePerSecond                            // mm³/s, 10⁻⁹ m³/s exactly (SI Brochure, 9th ed., table 7)
	cubicCentimetrePerSecond                            // cm³/s, 10⁻⁶ m³/s exactly (SI Brochure, 9th ed., table 7)
	cubicMetrePerSecond                                 // m³/s (SI Brochure, 9th ed., table 5)
	cubicInchPerSecond                                  // in³/s, 16.387064 cm³/s exactly (NIST SP 811, 2008, B.8, from the inch)
	gallonPerMinute                                     // US gal/min, 231 in³/min exactly (NIST SP 811, 2008, B.8)
)

// volumeFlowDim is the dimension of volume flow: the type argument of the generic types here.
type volumeFlowDim struct{}

func (volumeFlowDim) dimension() *dimension { return volumeFlows() }

var volumeFlows = lazily(func() dimension {
	return dimension{
		name:  "volume flow",
		help:  "L/min",
		grid:  rat("1/60000000000000000"), // of a cubic metre per second: whole in³/s and gal/min are whole numbers of these
		exact: []uint8{uint8(cubicInchPerSecond), uint8(gallonPerMinute)},
		units: []unitDef{
			LitrePerMinute:           {symbol: "L/min", si: rat("1/60000"), source: siBrochure, spellings: []string{"l/min", "lpm", "dm³/min", "dm3/min"}},
			CubicMillimetrePerSecond: {symbol: "mm³/s", si: rat("1e-9"), source: siBrochure, spellings: []string{"mm3/s", "mm^3/s"}},
			cubicCentimetrePerSecond: {symbol: "cm³/s", si: rat("1e-6"), source: siBrochure, spellings: []string{"cm3/s", "cm^3/s", "cc/s", "mL/s", "ml/s"}},
			cubicMetrePerSecond:      {symbol: "m³/s", si: rat("1"), source: siBrochure, spellings: []string{"m3/s", "m^3/s"}},
			cubicInchPerSecond:       {symbol: "in³/s", si: rat("0.000016387064"), source: sp811B8, spellings: []string{"in3/s", "in^3/s"}},
			gallonPerMinute:          {symbol: "US gal/min", si: rat("0.0000630901964"), source: sp811B8, spellings: []string{"USgpm", "US gpm"}},
		},
	}
})
