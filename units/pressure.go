package units

// A Pressure is a pressure or a mechanical stress. The type does not tell a
// gauge pressure from an absolute one.
type Pressure = Quantity[PressureDim]

// A PressureInterval is a closed interval of pressures.
type PressureInterval = Interval[PressureDim]

const (
	Kilopascal                       Unit[PressureDim] = iota // kPa, 1000 Pa exactly (SI Brochure, 9th ed., table 7)
	Pascal                                                    // Pa, N/m² (SI Brochure, 9th ed., table 4)
	Megapascal                                                // MPa, 1000 kPa exactly; the same as N/mm² (SI Brochure, 9th ed., table 7)
	gigapascal                                                // GPa, 1000 MPa exactly (SI Brochure, 9th ed., table 7)
	Bar                                                       // bar, 100 kPa exactly (NIST SP 811, 2008, B.8)
	millibar                                                  // mbar, 100 Pa exactly (NIST SP 811, 2008, B.8)
	PoundForcePerSquareInch                                   // psi, 8896443230521/1290320000 Pa exactly, which has no end as a decimal (NIST SP 811, 2008, B.8)
	KipPerSquareInch                                          // ksi, 1000 psi exactly (NIST SP 811, 2008, B.8)
	megapoundForcePerSquareInch                               // Mpsi, 10⁶ psi exactly (from the psi)
	poundForcePerSquareFoot                                   // psf, 1/144 psi exactly (NIST SP 811, 2008, B.8)
	kilogramForcePerSquareCentimetre                          // kgf/cm², 98.0665 kPa exactly (NIST SP 811, 2008, B.8)
	kilogramForcePerSquareMillimetre                          // kgf/mm², 9.80665 MPa exactly (NIST SP 811, 2008, B.8)
	atmosphere                                                // atm, 101.325 kPa exactly (NIST SP 811, 2008, B.8)
	torr                                                      // torr, 1/760 atm exactly (NIST SP 811, 2008, B.8)
	inchOfMercury                                             // inHg, conventional: 3386.388640341 Pa exactly by its definition (NIST SP 811, 2008, B.8)
	inchOfWater                                               // inH2O, conventional, of water of 1 g/cm³: 249.08891 Pa exactly by its definition, and not that of 4 °C (249.082 Pa) or 60 °F (248.84 Pa) (NIST SP 811, 2008, B.8)
	millimetreOfMercury                                       // mmHg, conventional: 133.322387415 Pa exactly by its definition (NIST SP 811, 2008, B.8)
)

// PressureDim is the dimension of pressure: the type argument of the generic types here.
type PressureDim struct{}

func (PressureDim) dimension() *dimension { return pressures() }

var pressures = lazily(func() dimension {
	return dimension{
		name:  "pressure",
		help:  "bar",
		grid:  rat("1/1290320000"), // of a pascal: whole pascals and whole psi are whole numbers of these
		exact: []uint8{uint8(PoundForcePerSquareInch), uint8(torr)},
		units: []unitDef{
			Kilopascal: {symbol: "kPa", si: rat("1000"), source: siBrochure},
			Pascal:     {symbol: "Pa", si: rat("1"), source: siBrochure, spellings: []string{"pascal", "pascals", "N/m2", "N/m²"}},
			Megapascal: {symbol: "MPa", si: rat("1e6"), source: siBrochure, spellings: []string{"N/mm2", "N/mm²"}},
			gigapascal: {symbol: "GPa", si: rat("1e9"), source: siBrochure},
			Bar:        {symbol: "bar", si: rat("100000"), source: sp811B8, spellings: []string{"bars"}},
			millibar:   {symbol: "mbar", si: rat("100"), source: sp811B8, spellings: []string{"hPa"}},
			PoundForcePerSquareInch: {symbol: "psi", si: rat("8896443230521/1290320000"), source: sp811B8,
				spellings: []string{"lbf/in2", "lbf/in²", "lb/in2", "lb/in²"}},
			KipPerSquareInch:            {symbol: "ksi", si: rat("8896443230521/1290320"), source: sp811B8, spellings: []string{"kpsi"}},
			megapoundForcePerSquareInch: {symbol: "Mpsi", si: rat("889644323052100/129032"), source: sp811B8},
			poundForcePerSquareFoot: {symbol: "psf", si: rat("8896443230521/185806080000"), source: sp811B8,
				spellings: []string{"lbf/ft2", "lbf/ft²"}},
			kilogramForcePerSquareCentimetre: {symbol: "kgf/cm²", si: rat("98066.5"), source: sp811B8,
				spellings: []string{"kgf/cm2", "kg/cm2", "kg/cm²", "kp/cm2", "kp/cm²"}},
			kilogramForcePerSquareMillimetre: {symbol: "kgf/mm²", si: rat("9806650"), source: sp811B8,
				spellings: []string{"kgf/mm2", "kg/mm2", "kg/mm²", "kp/mm2", "kp/mm²"}},
			atmosphere:    {symbol: "atm", si: rat("101325"), source: sp811B8},
			torr:          {symbol: "Torr", si: rat("20265/152"), source: sp811B8, spellings: []string{"torr"}},
			inchOfMercury: {symbol: "inHg", si: rat("3386.388640341"), source: sp811B8},
			inchOfWater: {symbol: "inH2O", si: rat("249.08891"), source: sp811B8,
				spellings: []string{"inH₂O", "in H2O", "in H₂O", "inch of water", "inches of water"}},
			millimetreOfMercury: {symbol: "mmHg", si: rat("133.322387415"), source: sp811B8},
		},
	}
})

// ParsePressure reads a number and a unit of pressure or stress: "50 psi",
// "2.5 bar", "640 MPa", "4 kgf/cm²". The error is a *Error.
func ParsePressure(s string) (Pressure, error) { return Parse[Pressure](s) }

// MustParsePressure is ParsePressure for literals; it panics on an error.
func MustParsePressure(s string) Pressure { return must(ParsePressure(s)) }
