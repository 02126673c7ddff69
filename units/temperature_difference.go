package units

// A TemperatureDifference is a rise or fall of temperature.
type TemperatureDifference = Quantity[temperatureDifferenceDim]

const (
	KelvinDifference     Unit[temperatureDifferenceDim] = iota // K (SI Brochure, 9th ed., 2.3.1)
	celsiusDifference                                          // °C as a difference, 1 K exactly (SI Brochure, 9th ed., 2.3.1)
	FahrenheitDifference                                       // °F as a difference, 5/9 K exactly (NIST SP 811, 2008, B.8)
)

// temperatureDifferenceDim is the dimension of a temperature difference: the type
// argument of the generic types here.
type temperatureDifferenceDim struct{}

func (temperatureDifferenceDim) dimension() *dimension { return temperatureDifferences() }

var temperatureDifferences = lazily(func() dimension {
	return dimension{
		name:  "temperature difference",
		help:  "K",
		grid:  rat(temperatureGrid),
		exact: []uint8{uint8(FahrenheitDifference)},
		units: []unitDef{
			KelvinDifference:     {symbol: "K", si: rat("1"), source: siBrochure, spellings: []string{"kelvin", "kelvins"}},
			celsiusDifference:    {symbol: "°C", si: rat("1"), source: siBrochure, spellings: []string{"C", "degC", "deg C", "degrees C", "℃", "celsius", "Celsius"}},
			FahrenheitDifference: {symbol: "°F", si: rat("5/9"), source: sp811B8, spellings: []string{"F", "degF", "deg F", "degrees F", "℉", "fahrenheit", "Fahrenheit"}},
		},
	}
})
