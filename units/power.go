package units

// A Power is energy in a time: what friction turns into heat.
type Power = Quantity[powerDim]

// A PowerInterval is a closed interval of powers.
type PowerInterval = Interval[powerDim]

const (
	Watt       Unit[powerDim] = iota // W (SI Brochure, 9th ed., table 4)
	kilowatt                         // kW, 1000 W exactly (SI Brochure, 9th ed., table 7)
	horsepower                       // hp, 550 ft·lbf/s, 745.69987158227022 W exactly (NIST SP 811, 2008, B.8)
)

// powerDim is the dimension of power: the type argument of the generic types here.
type powerDim struct{}

func (powerDim) dimension() *dimension { return powers() }

var powers = lazily(func() dimension {
	return dimension{
		name:  "power",
		help:  "W",
		grid:  rat("1e-14"), // of a watt: a whole hp is a whole number of these
		exact: []uint8{uint8(horsepower)},
		units: []unitDef{
			Watt:       {symbol: "W", si: rat("1"), source: siBrochure, spellings: []string{"watt", "watts"}},
			kilowatt:   {symbol: "kW", si: rat("1000"), source: siBrochure},
			horsepower: {symbol: "hp", si: rat("745.69987158227022"), source: sp811B8, spellings: []string{"horsepower"}},
		},
	}
})
