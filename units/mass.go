package units

// A Mass is a mass: a piston's, a rod's. It is not the force that it weighs: a
// pound presses with a pound-force only where gravity has its standard value.
type Mass = Quantity[MassDim]

const (
	Gram     Unit[MassDim] = iota // g, 0.001 kg exactly (SI Brochure, 9th ed., 3)
	Kilogram                      // kg (SI Brochure, 9th ed., table 2)
	Pound                         // lb, avoirdupois, 0.45359237 kg exactly (NIST SP 811, 2008, B.8)
	Ounce                         // oz, avoirdupois, 1/16 lb exactly (NIST SP 811, 2008, B.8)
)

// MassDim is the dimension of mass: the type argument of the generic types here.
type MassDim struct{}

func (MassDim) dimension() *dimension { return masses() }

var masses = lazily(func() dimension {
	return dimension{
		name:  "mass",
		help:  "g",
		grid:  rat("1e-12"), // of a kilogram: every whole oz is a whole number of these
		exact: []uint8{uint8(Pound)},
		units: []unitDef{
			Gram: {symbol: "g", si: rat("0.001"), source: siBrochure,
				spellings: []string{"gram", "grams", "gramme", "grammes"}},
			Kilogram: {symbol: "kg", si: rat("1"), source: siBrochure,
				spellings: []string{"kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"}},
			Pound: {symbol: "lb", si: rat("0.45359237"), source: sp811B8,
				spellings: []string{"lbs", "lb.", "lbs.", "lbm", "pound", "pounds"}},
			Ounce: {symbol: "oz", si: rat("0.028349523125"), source: sp811B8,
				spellings: []string{"oz.", "ounce", "ounces"}},
		},
	}
})

// ParseMass reads a number and a unit of mass: "412.6 g", "1.3 lb". Pounds-force
// and kilograms-force are refused. The error is a *ParseError.
func ParseMass(s string) (Mass, error) { return parse[MassDim](s) }

// A MassInterval is a closed interval of masses.
type MassInterval = Interval[MassDim]

// ParseMassInterval reads an interval of masses: "412.4..412.8 g", "412.6 ±0.2 g".
func ParseMassInterval(s string) (MassInterval, error) { return parseInterval[MassDim](s) }
