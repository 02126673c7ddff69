package units

// A KinematicViscosity is what an oil's data sheet gives: the dynamic viscosity divided by
// the density.
type KinematicViscosity = Quantity[kinematicViscosityDim]

// A KinematicViscosityInterval is a closed interval of kinematic viscosities: what a grade allows.
type KinematicViscosityInterval = Interval[kinematicViscosityDim]

const (
	SquareMillimetrePerSecond Unit[kinematicViscosityDim] = iota // mm²/s, the same as 1 cSt (SI Brochure, 9th ed., table 7)
	squareMetrePerSecond                                         // m²/s (SI Brochure, 9th ed., table 5)
	stokes                                                       // St, 10⁻⁴ m²/s exactly (NIST SP 811, 2008, B.8)
	centistokes                                                  // cSt, 10⁻⁶ m²/s exactly (NIST SP 811, 2008, B.8)
)

// kinematicViscosityDim is the dimension of kinematic viscosity: the type argument of the generic types here.
type kinematicViscosityDim struct{}

func (kinematicViscosityDim) dimension() *dimension { return kinematicViscosities() }

var kinematicViscosities = lazily(func() dimension {
	return dimension{
		name: "kinematic viscosity",
		help: "mm²/s",
		grid: rat("1e-18"), // of a square metre per second
		units: []unitDef{
			SquareMillimetrePerSecond: {symbol: "mm²/s", si: rat("1e-6"), source: siBrochure, spellings: []string{"mm2/s", "mm^2/s"}},
			squareMetrePerSecond:      {symbol: "m²/s", si: rat("1"), source: siBrochure, spellings: []string{"m2/s", "m^2/s"}},
			stokes:                    {symbol: "St", si: rat("1e-4"), source: sp811B8, spellings: []string{"stokes"}},
			centistokes:               {symbol: "cSt", si: rat("1e-6"), source: sp811B8, spellings: []string{"centistokes"}},
		},
	}
})
