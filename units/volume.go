package units

// A Volume is a volume: a combustion chamber's, a cylinder's.
type Volume = Quantity[VolumeDim]

// A VolumeInterval is a closed interval of volumes.
type VolumeInterval = Interval[VolumeDim]

const (
	CubicCentimetre Unit[VolumeDim] = iota // cm³, 10⁻⁶ m³ exactly; also written cc and mL (SI Brochure, 9th ed., table 7)
	CubicMillimetre                        // mm³, 0.001 cm³ exactly (SI Brochure, 9th ed., table 7)
	litre                                  // L, 1000 cm³ exactly (SI Brochure, 9th ed., table 8)
	cubicMetre                             // m³ (SI Brochure, 9th ed., table 5)
	cubicInch                              // in³, 16.387064 cm³ exactly (NIST SP 811, 2008, B.8, from the inch)
)

// VolumeDim is the dimension of volume: the type argument of the generic types here.
type VolumeDim struct{}

func (VolumeDim) dimension() *dimension { return volumes() }

var volumes = lazily(func() dimension {
	return dimension{
		name:  "volume",
		help:  "cm³",
		grid:  rat("1e-18"), // of a cubic metre: 10^-9 mm³
		exact: []uint8{uint8(cubicInch)},
		units: []unitDef{
			CubicCentimetre: {symbol: "cm³", si: rat("1e-6"), source: siBrochure, spellings: []string{"cm3", "cm^3", "cc", "ccm", "mL", "ml"}},
			CubicMillimetre: {symbol: "mm³", si: rat("1e-9"), source: siBrochure, spellings: []string{"mm3", "mm^3", "cu mm"}},
			litre:           {symbol: "L", si: rat("1e-3"), source: siBrochure, spellings: []string{"l", "litre", "litres", "liter", "liters", "dm3", "dm³", "dm^3"}},
			cubicMetre:      {symbol: "m³", si: rat("1"), source: siBrochure, spellings: []string{"m3", "m^3", "cu m"}},
			cubicInch:       {symbol: "in³", si: rat("0.000016387064"), source: sp811B8, spellings: []string{"in3", "in^3", "cu in"}},
		},
	}
})
