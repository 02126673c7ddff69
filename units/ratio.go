package units

// A Ratio is a pure number: a coefficient of friction, a share, a factor that
// counts a size twice. It has no unit to mistake, and percent is one of its
// units.
type Ratio = Quantity[RatioDim]

// A RatioUnit is a unit of pure number.
type RatioUnit = Unit[RatioDim]

// A RatioInterval is a closed interval of pure numbers.
type RatioInterval = Interval[RatioDim]

const (
	One             RatioUnit = iota // a bare number
	Percent                          // %, 1/100 exactly (SI Brochure, 9th ed., 5.4.7)
	PartsPerMillion                  // ppm, 10⁻⁶ exactly (SI Brochure, 9th ed., 5.4.7)
)

// RatioDim is the dimension of pure numbers: the type argument of the generic types here.
type RatioDim struct{}

func (RatioDim) dimension() *dimension { return ratios() }

var ratios = lazily(func() dimension {
	return dimension{
		name: "pure number",
		help: "",
		grid: rat("1e-12"),
		units: []unitDef{
			One:             {symbol: "", si: rat("1"), source: siBrochure},
			Percent:         {symbol: "%", si: rat("1/100"), source: siBrochure},
			PartsPerMillion: {symbol: "ppm", si: rat("1e-6"), source: siBrochure},
		},
	}
})
