package units

// An Angle is a plane angle, of any number of turns: a bolt may be turned 450°.
type Angle = Quantity[AngleDim]

// An AngleInterval is a closed interval of angles.
type AngleInterval = Interval[AngleDim]

const (
	Degree    Unit[AngleDim] = iota // °, 1/360 turn exactly (SI Brochure, 9th ed., table 8)
	Turn                            // turn, 360° exactly; also a revolution (NIST SP 811, 2008, B.8)
	Radian                          // rad, 180°/π, with π to 50 places, so not exact (SI Brochure, 9th ed., table 4)
	arcMinute                       // ′, 1/60 ° exactly (SI Brochure, 9th ed., table 8)
	arcSecond                       // ″, 1/60 ′ exactly (SI Brochure, 9th ed., table 8)
	gon                             // gon, 0.9° exactly; also a grad (NIST SP 811, 2008, B.8)
)

// AngleDim is the dimension of angle: the type argument of the generic types here.
type AngleDim struct{}

func (AngleDim) dimension() *dimension { return angles() }

var angles = lazily(func() dimension {
	return dimension{
		name:  "angle",
		help:  "°",
		grid:  rat("1/3600000000000"), // 10^-9 ″, in degrees
		exact: []uint8{uint8(arcSecond), uint8(Turn), uint8(Radian)},
		units: []unitDef{
			Degree: {symbol: "°", si: rat("1"), source: siBrochure,
				spellings: []string{"deg", "degree", "degrees"}},
			Turn: {symbol: "turn", si: rat("360"), source: sp811B8,
				spellings: []string{"turns", "rev", "revolution", "revolutions"}},
			Radian: {symbol: "rad", si: overPi("180"), source: siBrochure + withPi,
				spellings: []string{"radian", "radians"}},
			arcMinute: {symbol: "′", si: rat("1/60"), source: siBrochure,
				spellings: []string{"'", "’", "arcmin", "arcminute", "arcminutes"}},
			arcSecond: {symbol: "″", si: rat("1/3600"), source: siBrochure,
				spellings: []string{`"`, "”", "arcsec", "arcsecond", "arcseconds"}},
			gon: {symbol: "gon", si: rat("9/10"), source: sp811B8,
				spellings: []string{"grad", "grads", "gons"}},
		},
	}
})

// ParseAngle reads a number and a unit of plane angle: "90°", "90 deg",
// "1/4 turn". The error is a *Error.
func ParseAngle(s string) (Angle, error) { return Parse[Angle](s) }

// MustParseAngle is ParseAngle for literals; it panics on an error.
func MustParseAngle(s string) Angle { return must(ParseAngle(s)) }
