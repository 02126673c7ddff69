package units

// A Ratio is a pure number: a coefficient of friction, a share, a factor that
// counts a size twice, an expansion for each kelvin. The type does not say what
// it is a ratio of, nor that a coefficient belongs to each kelvin.
type Ratio = Quantity[RatioDim]

// A RatioInterval is a closed interval of pure numbers.
type RatioInterval = Interval[RatioDim]

const (
	One             Unit[RatioDim] = iota // a number alone, which has no symbol (SI Brochure, 9th ed., 2.3.3)
	Percent                               // %, 1/100 exactly (SI Brochure, 9th ed., 5.4.7)
	PartsPerMillion                       // ppm, 10⁻⁶ exactly (SI Brochure, 9th ed., 5.4.7)
)

// RatioDim is the dimension of pure numbers: the type argument of the generic types here.
type RatioDim struct{}

func (RatioDim) dimension() *dimension { return ratios() }

// oneInSteps is how many steps of its grid make the Ratio one.
const oneInSteps = 1e12

var ratios = lazily(func() dimension {
	return dimension{
		name:  "pure number",
		grid:  rat("1e-12"), // a millionth of a ppm: coefficients of expansion are whole numbers of these
		shown: 9,            // places: 0.0000117 in full
		units: []unitDef{
			One:             {symbol: "", si: rat("1"), source: siBrochure},
			Percent:         {symbol: "%", si: rat("1/100"), source: siBrochure, spellings: []string{"percent", "per cent"}},
			PartsPerMillion: {symbol: "ppm", si: rat("1e-6"), source: siBrochure, spellings: []string{"parts per million"}},
		},
	}
})

// ParseRatio reads a number alone, "0.12", "11.7e-6", or one with % or ppm: "12 %",
// "120 ppm". A fraction in lowest terms is read, "1/2", "4/3"; another stroke is
// refused, for it may part the bounds of a range. A unit of measure is refused. The
// error is a *Error.
func ParseRatio(s string) (Ratio, error) { return Parse[Ratio](s) }

// MustParseRatio is ParseRatio for literals; it panics on an error.
func MustParseRatio(s string) Ratio { return must(ParseRatio(s)) }
