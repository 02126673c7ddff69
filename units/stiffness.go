package units

// A Stiffness is a force per length: a bolt's, a clamped part's.
type Stiffness = Quantity[stiffnessDim]

// A StiffnessInterval is a closed interval of stiffnesses.
type StiffnessInterval = Interval[stiffnessDim]

const (
	NewtonPerMillimetre     Unit[stiffnessDim] = iota // N/mm, 1000 N/m exactly (SI Brochure, 9th ed., table 7)
	newtonPerMetre                                    // N/m (SI Brochure, 9th ed., table 5)
	KilonewtonPerMillimetre                           // kN/mm, 10⁶ N/m exactly (SI Brochure, 9th ed., table 7)
	poundForcePerInch                                 // lbf/in, 8896443230521/50800000000 N/m exactly (NIST SP 811, 2008, B.8)
)

// stiffnessDim is the dimension of stiffness: the type argument of the generic types here.
type stiffnessDim struct{}

func (stiffnessDim) dimension() *dimension { return stiffnesses() }

var stiffnesses = lazily(func() dimension {
	return dimension{
		name:  "stiffness",
		help:  "N/mm",
		grid:  rat("1/50800000"), // of a newton per metre
		exact: []uint8{uint8(poundForcePerInch)},
		units: []unitDef{
			NewtonPerMillimetre:     {symbol: "N/mm", si: rat("1000"), source: siBrochure},
			newtonPerMetre:          {symbol: "N/m", si: rat("1"), source: siBrochure},
			KilonewtonPerMillimetre: {symbol: "kN/mm", si: rat("1e6"), source: siBrochure, spellings: []string{"N/µm", "N/μm", "N/um"}},
			poundForcePerInch:       {symbol: "lbf/in", si: rat("8896443230521/50800000000"), source: sp811B8, spellings: []string{"lb/in"}},
		},
	}
})
