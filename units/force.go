package units

// A Force is a force: a bolt's preload, a bearing's load.
type Force = Quantity[ForceDim]

// A ForceUnit is a unit of force.
type ForceUnit = Unit[ForceDim]

// A ForceInterval is a closed interval of forces.
type ForceInterval = Interval[ForceDim]

const (
	Newton        ForceUnit = iota // N (SI Brochure, 9th ed., table 4)
	Kilonewton                     // kN, 1000 N exactly (SI Brochure, 9th ed., table 7)
	meganewton                     // MN, 1000 kN exactly (SI Brochure, 9th ed., table 7)
	PoundForce                     // lbf, 4.4482216152605 N exactly (NIST SP 811, 2008, B.8)
	kip                            // kip, 1000 lbf exactly (NIST SP 811, 2008, B.8)
	ounceForce                     // ozf, 1/16 lbf exactly (NIST SP 811, 2008, B.8)
	KilogramForce                  // kgf, 9.80665 N exactly (NIST SP 811, 2008, B.8)
	gramForce                      // gf, 0.001 kgf exactly (from the kilogram-force)
	shortTonForce                  // US tonf, 2000 lbf exactly: the ton-force of NIST SP 811, 2008, B.8; a bare tonf is refused, for elsewhere it is 2240 lbf
	dyne                           // dyn, 0.00001 N exactly (NIST SP 811, 2008, B.8)
)

// ForceDim is the dimension of force: the type argument of the generic types here.
type ForceDim struct{}

func (ForceDim) dimension() *dimension { return forces() }

var forces = lazily(func() dimension {
	return dimension{
		name:  "force",
		help:  "N",
		grid:  rat("1e-13"), // of a newton: every whole lbf is a whole number of these
		exact: []uint8{uint8(PoundForce)},
		units: []unitDef{
			Newton:        {symbol: "N", si: rat("1"), source: siBrochure, spellings: []string{"newton", "newtons"}},
			Kilonewton:    {symbol: "kN", si: rat("1000"), source: siBrochure},
			meganewton:    {symbol: "MN", si: rat("1000000"), source: siBrochure},
			PoundForce:    {symbol: "lbf", si: rat("4.4482216152605"), source: sp811B8},
			kip:           {symbol: "kip", si: rat("4448.2216152605"), source: sp811B8, spellings: []string{"kips"}},
			ounceForce:    {symbol: "ozf", si: rat("0.27801385095378125"), source: sp811B8},
			KilogramForce: {symbol: "kgf", si: rat("9.80665"), source: sp811B8, spellings: []string{"kp"}},
			gramForce:     {symbol: "gf", si: rat("0.00980665"), source: sp811B8, spellings: []string{"gram-force", "pond"}},
			shortTonForce: {symbol: "US tonf", si: rat("8896.443230521"), source: sp811B8,
				spellings: []string{"US ton-force", "US tons-force", "short tonf", "short ton-force", "short tons-force"}},
			dyne: {symbol: "dyn", si: rat("0.00001"), source: sp811B8, spellings: []string{"dyne", "dynes"}},
		},
	}
})

// ParseForce reads a number and a unit of force: "21.4 kN", "4800 lbf". Pounds
// and kilograms alone are masses and are refused. The error is a *Error.
func ParseForce(s string) (Force, error) { return Parse[Force](s) }

// MustParseForce is ParseForce for literals; it panics on an error.
func MustParseForce(s string) Force { return must(ParseForce(s)) }
