package units

import (
	"math/big"

	"github.com/shopspring/decimal"
)

// A Temperature is a point on the thermodynamic scale. Two temperatures cannot
// be added; their difference is a TemperatureDifference. The zero Temperature
// is absolute zero.
type Temperature struct {
	q Quantity[temperatureDim]
}

// A TemperatureUnit is a scale of temperature.
type TemperatureUnit uint8

const (
	Celsius    TemperatureUnit = iota // °C, K - 273.15 exactly (SI Brochure, 9th ed., 2.3.1)
	Kelvin                            // K (SI Brochure, 9th ed., 2.3.1)
	Fahrenheit                        // °F, 9/5 K - 459.67 exactly (NIST SP 811, 2008, B.8)
)

// temperatureDim is the dimension of a temperature. It is not exported: the
// arithmetic of quantities is not that of points on a scale.
type temperatureDim struct{}

func (temperatureDim) dimension() *dimension { return temperatures() }

// temperatureGrid is a step in kelvins that whole nanokelvins and whole
// billionths of a Fahrenheit degree are whole numbers of.
const temperatureGrid = "1/9000000000"

var temperatures = lazily(func() dimension {
	return dimension{
		name:  "temperature",
		help:  "°C",
		grid:  rat(temperatureGrid),
		exact: []uint8{uint8(Fahrenheit)},
		units: []unitDef{
			Celsius:    {symbol: "°C", si: rat("1"), zero: rat("273.15"), source: siBrochure, spellings: []string{"C", "degC", "deg C", "degrees C", "℃", "celsius", "Celsius"}},
			Kelvin:     {symbol: "K", si: rat("1"), source: siBrochure, spellings: []string{"kelvin", "kelvins"}},
			Fahrenheit: {symbol: "°F", si: rat("5/9"), zero: rat("45967/180"), source: sp811B8, spellings: []string{"F", "degF", "deg F", "degrees F", "℉", "fahrenheit", "Fahrenheit"}},
		},
	}
})

// ParseTemperature reads a number and a scale: "20 °C", "68 degF", "293.15 K".
// The error is a *ParseError; a temperature below absolute zero is one.
func ParseTemperature(s string) (Temperature, error) { return Parse[Temperature](s) }

func (Temperature) read(s string, most int) (Temperature, error) {
	q, err := Quantity[temperatureDim]{}.read(s, most)
	if err != nil {
		return Temperature{}, err
	}
	if q.Sign() < 0 {
		return Temperature{}, parseError(ErrBelowZero, s, 0, "a temperature below absolute zero", "write one of -273.15 °C or more")
	}
	return Temperature{q}, nil
}

// MustParseTemperature is ParseTemperature for literals; it panics on an error.
func MustParseTemperature(s string) Temperature { return must(ParseTemperature(s)) }

func (u TemperatureUnit) unit() Unit[temperatureDim] { return Unit[temperatureDim](u) }

// Of returns the temperature d on the scale, exactly. A temperature below
// absolute zero is the caller's to refuse.
func (u TemperatureUnit) Of(d decimal.Decimal) Temperature { return Temperature{u.unit().Of(d)} }

// String returns the scale's symbol: "°C".
func (u TemperatureUnit) String() string { return u.unit().String() }

// Add returns t raised by d.
func (t Temperature) Add(d TemperatureDifference) Temperature {
	return Temperature{t.q.Add(Quantity[temperatureDim]{n: d.n, x: d.x})}
}

// Sub returns the difference t - o.
func (t Temperature) Sub(o Temperature) TemperatureDifference {
	d := t.q.Sub(o.q)
	return TemperatureDifference{n: d.n, x: d.x}
}

// Cmp returns -1 if t is colder than o, 0 if they are equal, +1 if t is hotter.
func (t Temperature) Cmp(o Temperature) int { return t.q.Cmp(o.q) }

// Equal reports whether t and o are the same temperature, on whatever scale
// they were written.
func (t Temperature) Equal(o Temperature) bool { return t.q.Equal(o.q) }

// Sign returns 0 for absolute zero, +1 above it, and -1 for what arithmetic may
// make but nothing can be.
func (t Temperature) Sign() int { return t.q.Sign() }

// In returns t on the scale, rounded half to even to so many decimal places.
func (t Temperature) In(u TemperatureUnit, places int32) decimal.Decimal {
	return t.q.In(u.unit(), places)
}

// Rat returns t on the scale, exactly.
func (t Temperature) Rat(u TemperatureUnit) *big.Rat { return t.q.Rat(u.unit()) }

// Float64 returns the float64 nearest to t on the scale: an approximation.
func (t Temperature) Float64(u TemperatureUnit) float64 { return t.q.Float64(u.unit()) }

// String returns t in degrees Celsius for reading; see Quantity.String.
func (t Temperature) String() string { return t.q.String() }

// Exact returns t with every digit, so that parsing the text gives t again.
func (t Temperature) Exact() string { return t.q.Exact() }
