package units

// An Area is an area: a thread's stress area, a piston's crown.
type Area = Quantity[AreaDim]

const (
	SquareMillimetre Unit[AreaDim] = iota // mm², 10⁻⁶ m² exactly (SI Brochure, 9th ed., table 7)
	squareCentimetre                      // cm², 100 mm² exactly (SI Brochure, 9th ed., table 7)
	squareMetre                           // m² (SI Brochure, 9th ed., table 5)
	SquareInch                            // in², 645.16 mm² exactly (NIST SP 811, 2008, B.8)
)

// AreaDim is the dimension of area: the type argument of the generic types here.
type AreaDim struct{}

func (AreaDim) dimension() *dimension { return areas() }

var areas = lazily(func() dimension {
	return dimension{
		name: "area",
		help: "mm²",
		grid: rat("1e-18"), // 10^-12 mm²
		units: []unitDef{
			SquareMillimetre: {symbol: "mm²", si: rat("1e-6"), source: siBrochure, spellings: []string{"mm2", "mm^2", "sq mm"}},
			squareCentimetre: {symbol: "cm²", si: rat("1e-4"), source: siBrochure, spellings: []string{"cm2", "cm^2", "sq cm"}},
			squareMetre:      {symbol: "m²", si: rat("1"), source: siBrochure, spellings: []string{"m2", "m^2", "sq m"}},
			SquareInch:       {symbol: "in²", si: rat("0.00064516"), source: sp811B8, spellings: []string{"in2", "in^2", "sq in"}},
		},
		exact: []uint8{uint8(SquareInch)},
	}
})
