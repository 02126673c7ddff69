package units

// A Mass is a mass: a piston's, a rod's. It is not the force that it weighs: a
// pound presses with a pound-force only where gravity has its standard value.
type Mass = Quantity[MassDim]

const (
	Gram     Unit[MassDim] = iota // g, 0.001 kg exactly (SI Brochure, 9th ed., 3)
	kilogram                      // kg (SI Brochure, 9th ed., table 2)
	pound                         // lb, avoirdupois, 0.45359237 kg exactly (NIST SP 811, 2008, B.8)
	ounce                         // oz, avoirdupois, 1/16 lb exactly (NIST SP 811, 2008, B.8)
)

// MassDim is the dimension of mass: the type argument of the generic types here.
type MassDim struct{}

func (MassDim) dimension() *dimension { return masses() }

var masses = lazily(func() dimension {
	return dimension{
		name:  "mass",
		help:  "g",
		grid:  rat("1e-12"), // of a kilogram: every whole oz is a whole number of these
		exact: []uint8{uint8(pound)},
		units: []unitDef{
			Gram: {symbol: "g", si: rat("0.001"), source: siBrochure,
				spellings: []string{"gram", "grams", "gramme", "grammes"}},
			kilogram: {symbol: "kg", si: rat("1"), source: siBrochure,
				spellings: []string{"kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"}},
			pound: {symbol: "lb", si: rat("0.45359237"), source: sp811B8,
				spellings: []string{"lbs", "lb.", "lbs.", "lbm", "pound", "pounds"}},
			ounce: {symbol: "oz", si: rat("0.028349523125"), source: sp811B8,
				spellings: []string{"oz.", "ounce", "ounces"}},
		},
	}
})
