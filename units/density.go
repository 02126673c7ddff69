package units

// A Density is a mass by volume: an oil's.
type Density = Quantity[densityDim]

const (
	KilogramPerCubicMetre  Unit[densityDim] = iota // kg/m³ (SI Brochure, 9th ed., table 5)
	gramPerCubicCentimetre                         // g/cm³, 1000 kg/m³ exactly (SI Brochure, 9th ed., table 7)
)

// densityDim is the dimension of density: the type argument of the generic types here.
type densityDim struct{}

func (densityDim) dimension() *dimension { return densities() }

var densities = lazily(func() dimension {
	return dimension{
		name: "density",
		help: "kg/m³",
		grid: rat("1e-9"), // of a kilogram per cubic metre
		units: []unitDef{
			KilogramPerCubicMetre:  {symbol: "kg/m³", si: rat("1"), source: siBrochure, spellings: []string{"kg/m3", "kg/m^3", "g/L", "g/l"}},
			gramPerCubicCentimetre: {symbol: "g/cm³", si: rat("1000"), source: siBrochure, spellings: []string{"g/cm3", "g/cm^3", "g/mL", "g/ml", "kg/L", "kg/l"}},
		},
	}
})
