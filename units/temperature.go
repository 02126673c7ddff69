package units

// A Temperature is a point on the thermodynamic scale. Two temperatures cannot be added;
// their difference is a TemperatureDifference. The zero Temperature is absolute zero.
// Text that says a lower one is refused; computed temperatures are not checked.
type Temperature = Value[temperatureDim, temperatureDifferenceDim]

// A TemperatureUnit is a scale of temperature.
type TemperatureUnit = Scale[temperatureDim, temperatureDifferenceDim]

// A TemperatureInterval is a closed interval of temperatures.
type TemperatureInterval = ClosedInterval[temperatureDim, temperatureDifferenceDim]

const (
	Celsius    TemperatureUnit = iota // °C, K - 273.15 exactly (SI Brochure, 9th ed., 2.3.1)
	Kelvin                            // K (SI Brochure, 9th ed., 2.3.1)
	Fahrenheit                        // °F, 9/5 K - 459.67 exactly (NIST SP 811, 2008, B.8)
)

// temperatureDim is the dimension of a temperature. It is not exported: nothing is a
// Quantity of it, for the arithmetic of quantities is not that of points on a scale.
type temperatureDim struct{}

func (temperatureDim) dimension() *dimension { return temperatures() }

// temperatureGrid is a step in kelvins that whole nanokelvins and whole
// billionths of a Fahrenheit degree are whole numbers of.
const temperatureGrid = "1/9000000000"

var temperatures = lazily(func() dimension {
	return dimension{
		name:     "temperature",
		help:     "°C",
		grid:     rat(temperatureGrid),
		absolute: true,
		exact:    []uint8{uint8(Fahrenheit)},
		units: []unitDef{
			Celsius:    {symbol: "°C", si: rat("1"), zero: rat("273.15"), source: siBrochure, spellings: []string{"C", "degC", "deg C", "degrees C", "℃", "celsius", "Celsius"}},
			Kelvin:     {symbol: "K", si: rat("1"), source: siBrochure, spellings: []string{"kelvin", "kelvins"}},
			Fahrenheit: {symbol: "°F", si: rat("5/9"), zero: rat("45967/180"), source: sp811B8, spellings: []string{"F", "degF", "deg F", "degrees F", "℉", "fahrenheit", "Fahrenheit"}},
		},
	}
})

// ParseTemperature reads a number and a scale: "20 °C", "68 degF", "293.15 K".
// The error is a *Error; a temperature below absolute zero is one.
func ParseTemperature(s string) (Temperature, error) { return Parse[Temperature](s) }
