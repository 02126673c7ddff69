package units

// A RotationalSpeed is a speed of rotation.
type RotationalSpeed = Quantity[rotationalSpeedDim]

const (
	RevolutionPerMinute Unit[rotationalSpeedDim] = iota // r/min, also written rpm (NIST SP 811, 2008, B.8)
	revolutionPerSecond                                 // r/s, 60 r/min exactly (NIST SP 811, 2008, B.8)
	degreePerSecond                                     // °/s, 1/6 r/min exactly (NIST SP 811, 2008, B.8)
	radianPerSecond                                     // rad/s, 30/π r/min, with π to 50 places, so not exact (SI Brochure, 9th ed., table 5)
)

// rotationalSpeedDim is the dimension of rotational speed: the type argument of the generic types here.
type rotationalSpeedDim struct{}

func (rotationalSpeedDim) dimension() *dimension { return rotations() }

var rotations = lazily(func() dimension {
	return dimension{
		name:  "rotational speed",
		help:  "rpm",
		grid:  rat("1/6000000000"), // 10^-9 °/s, in r/min
		exact: []uint8{uint8(degreePerSecond), uint8(radianPerSecond)},
		units: []unitDef{
			RevolutionPerMinute: {symbol: "r/min", si: rat("1"), source: sp811B8, spellings: []string{"rpm", "rev/min", "1/min", "min⁻¹", "min-1", "RPM"}},
			revolutionPerSecond: {symbol: "r/s", si: rat("60"), source: sp811B8, spellings: []string{"rev/s", "rps", "1/s", "s⁻¹", "s-1"}},
			degreePerSecond:     {symbol: "°/s", si: rat("1/6"), source: sp811B8, spellings: []string{"deg/s"}},
			radianPerSecond:     {symbol: "rad/s", si: overPi("30"), source: siBrochure + withPi},
		},
	}
})
