package units

// A DynamicViscosity is an oil's resistance to shear, not its kinematic
// viscosity, which is the dynamic one divided by the density.
type DynamicViscosity = Quantity[dynamicViscosityDim]

// A DynamicViscosityInterval is a closed interval of dynamic viscosities: what a grade allows.
type DynamicViscosityInterval = Interval[dynamicViscosityDim]

const (
	MillipascalSecond Unit[dynamicViscosityDim] = iota // mPa·s, the same as 1 cP (SI Brochure, 9th ed., table 7)
	pascalSecond                                       // Pa·s (SI Brochure, 9th ed., table 5)
	poise                                              // P, 0.1 Pa·s exactly (NIST SP 811, 2008, B.8)
	centipoise                                         // cP, 0.001 Pa·s exactly (NIST SP 811, 2008, B.8)
	reyn                                               // reyn, one lbf·s/in², 8896443230521/1290320000 Pa·s exactly (from the psi)
	microreyn                                          // µreyn, 10⁻⁶ reyn exactly (from the psi)
)

// dynamicViscosityDim is the dimension of dynamic viscosity: the type argument of the generic types here.
type dynamicViscosityDim struct{}

func (dynamicViscosityDim) dimension() *dimension { return viscosities() }

var viscosities = lazily(func() dimension {
	return dimension{
		name:  "dynamic viscosity",
		help:  "mPa·s",
		grid:  rat("1/1290320000000000"), // of a pascal second: whole mPa·s and whole µreyn are whole numbers of these
		exact: []uint8{uint8(microreyn)},
		units: []unitDef{
			MillipascalSecond: {symbol: "mPa·s", si: rat("1e-3"), source: siBrochure, spellings: []string{"mPas", "mPa-s"}},
			pascalSecond:      {symbol: "Pa·s", si: rat("1"), source: siBrochure, spellings: []string{"Pas", "Pa-s"}},
			poise:             {symbol: "P", si: rat("0.1"), source: sp811B8, spellings: []string{"poise"}},
			centipoise:        {symbol: "cP", si: rat("0.001"), source: sp811B8, spellings: []string{"centipoise"}},
			reyn:              {symbol: "reyn", si: rat("8896443230521/1290320000"), source: sp811B8, spellings: []string{"reyns"}},
			microreyn:         {symbol: "µreyn", si: rat("8896443230521/1290320000000000"), source: sp811B8, spellings: []string{"μreyn", "ureyn"}},
		},
	}
})
