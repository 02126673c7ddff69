package units

// A Length is a distance or a diameter. The type does not tell a radius from a
// diameter, nor a size from a difference of sizes.
type Length = Quantity[LengthDim]

// A LengthUnit is a unit of length.
type LengthUnit = Unit[LengthDim]

// A LengthInterval is a closed interval of lengths: a reading, or a tolerance.
type LengthInterval = Interval[LengthDim]

const (
	Millimetre LengthUnit = iota // mm, 1/1000 m exactly (SI Brochure, 9th ed., table 7)
	Micrometre                   // µm, 1/1000 mm exactly (SI Brochure, 9th ed., table 7)
	Nanometre                    // nm, 1/1000 µm exactly (SI Brochure, 9th ed., table 7)
	centimetre                   // cm, 10 mm exactly (SI Brochure, 9th ed., table 7)
	Metre                        // m (SI Brochure, 9th ed., 2.3.1)
	Inch                         // in, 25.4 mm exactly (NIST SP 811, 2008, B.6)
	Thou                         // thou, 0.001 in exactly; also written mil (NIST SP 811, 2008, B.8)
	tenth                        // tenth, 0.0001 in exactly: the machinist's tenth of a thou (common practice)
	microinch                    // µin, 0.000001 in exactly (NIST SP 811, 2008, B.8)
	Foot                         // ft, 12 in exactly (NIST SP 811, 2008, B.6)
	yard                         // yd, 3 ft exactly (NIST SP 811, 2008, B.6)
)

// LengthDim is the dimension of length: the type argument of the generic types here.
type LengthDim struct{}

func (LengthDim) dimension() *dimension { return lengths() }

var lengths = lazily(func() dimension {
	return dimension{
		name:  "length",
		help:  "mm",
		grid:  rat("1e-12"), // the picometre
		exact: []uint8{uint8(Inch)},
		units: []unitDef{
			Millimetre: {symbol: "mm", si: rat("1e-3"), source: siBrochure,
				spellings: []string{"millimetre", "millimetres", "millimeter", "millimeters"}},
			Micrometre: {symbol: "µm", si: rat("1e-6"), source: siBrochure,
				spellings: []string{"μm", "um", "micrometre", "micrometres", "micrometer", "micrometers", "micron", "microns"}},
			Nanometre: {symbol: "nm", si: rat("1e-9"), source: siBrochure},
			centimetre: {symbol: "cm", si: rat("1e-2"), source: siBrochure,
				spellings: []string{"centimetre", "centimetres", "centimeter", "centimeters"}},
			Metre: {symbol: "m", si: rat("1"), source: siBrochure,
				spellings: []string{"metre", "metres", "meter", "meters"}},
			Inch: {symbol: "in", si: rat("0.0254"), source: sp811B6,
				spellings: []string{"in.", "inch", "inches", `"`, "″", "”", "''"}},
			Thou: {symbol: "thou", si: rat("0.0000254"), source: sp811B8,
				spellings: []string{"mil", "mils"}},
			tenth: {symbol: "tenth", si: rat("0.00000254"), source: "common practice, no source",
				spellings: []string{"tenths"}},
			microinch: {symbol: "µin", si: rat("0.0000000254"), source: sp811B8,
				spellings: []string{"μin", "uin", "microinch", "microinches"}},
			Foot: {symbol: "ft", si: rat("0.3048"), source: sp811B6,
				spellings: []string{"ft.", "foot", "feet", "'", "′", "’"}},
			yard: {symbol: "yd", si: rat("0.9144"), source: sp811B6,
				spellings: []string{"yd.", "yds", "yard", "yards"}},
		},
	}
})

// ParseLength reads a number and a unit of length: "60.012 mm", "2.3625in",
// "1 3/64 in", `3/8"`, "1.5 thou". See the package comment for what numbers may
// look like. The error is a *Error.
func ParseLength(s string) (Length, error) { return Parse[Length](s) }

// MustParseLength is ParseLength for literals in programs and tests; it panics
// on an error.
func MustParseLength(s string) Length { return must(ParseLength(s)) }

// ParseLengthInterval reads an interval of lengths: "0.024..0.048 mm",
// "60 +0.019/0 mm", "2.5 ±0.002 mm", "2.5 mm", "<= 0.02 mm".
func ParseLengthInterval(s string) (LengthInterval, error) { return Parse[LengthInterval](s) }

// MustParseLengthInterval is ParseLengthInterval for literals; it panics on an
// error.
func MustParseLengthInterval(s string) LengthInterval { return must(ParseLengthInterval(s)) }
