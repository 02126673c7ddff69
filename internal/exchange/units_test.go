package exchange

import (
	"math/big"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/units"
)

func unitsForms() []form {
	return []form{
		valueBy("Value", drawTorque, units.Torque.Equal),
		valueBy("Value of a temperature", drawTemperature, units.Temperature.Equal),
		valueBy("ClosedInterval", drawLengths, units.LengthInterval.Equal),
		valueBy("ClosedInterval of temperatures", func(t *rapid.T) units.TemperatureInterval {
			return units.Between(drawTemperature(t), drawTemperature(t))
		}, units.TemperatureInterval.Equal),
		oneOf("Scale", units.One, units.Percent, units.PartsPerMillion),
		oneOf("Scale of temperature", units.Celsius, units.Fahrenheit, units.Kelvin),
		oneOf("Rounding", units.HalfEven, units.HalfAwayZero, units.Floor, units.Ceiling, units.TowardZero),
		valueBy("Working", func(t *rapid.T) units.Working { return drawWorking(t, 2) },
			func(a, b units.Working) bool { return a.Text() == b.Text() }),
	}
}

// oneOf is the form of a type that has a few values.
func oneOf[T comparable](name string, values ...T) form {
	return valueBy(name, func(t *rapid.T) T { return rapid.SampledFrom(values).Draw(t, "one") }, func(a, b T) bool { return a == b })
}

func unitsExceptions() map[string]string {
	const dimension = "a type argument: it has no values but one"
	return map[string]string{
		"LengthDim": dimension, "AngleDim": dimension, "TorqueDim": dimension, "ForceDim": dimension, "PressureDim": dimension, "MassDim": dimension, "RatioDim": dimension,
		"AreaDim": dimension, "VolumeDim": dimension,
		"Error": "an error",
	}
}

// drawRat draws a number of a kind that a unit may come in: a decimal, or a ratio
// that has no end as one.
func drawRat(t *rapid.T) *big.Rat {
	if rapid.Bool().Draw(t, "ratio") {
		return big.NewRat(rapid.Int64Range(-1_000_000, 1_000_000).Draw(t, "numerator"), rapid.Int64Range(1, 1000).Draw(t, "denominator"))
	}
	return decimal.New(rapid.Int64Range(-1_000_000, 1_000_000).Draw(t, "coefficient"), -rapid.Int32Range(0, 9).Draw(t, "places")).Rat()
}

func drawTorque(t *rapid.T) units.Torque {
	return rapid.SampledFrom(units.Units[units.TorqueDim]()).Draw(t, "unit").OfRat(drawRat(t))
}

func drawLength(t *rapid.T) units.Length {
	return rapid.SampledFrom(units.Units[units.LengthDim]()).Draw(t, "unit").OfRat(drawRat(t))
}

func drawLengths(t *rapid.T) units.LengthInterval {
	a, b := drawLength(t), drawLength(t)
	switch rapid.IntRange(0, 5).Draw(t, "bounds") {
	case 0:
		return units.LengthInterval{}
	case 1:
		return units.AtMost(a)
	case 2:
		return units.AtLeast(a)
	case 3:
		return units.AtMost(a).Add(units.AtLeast(b)) // no bound at all
	}
	return units.Between(a, b)
}

func drawTemperature(t *rapid.T) units.Temperature {
	scale := rapid.SampledFrom([]units.TemperatureUnit{units.Celsius, units.Fahrenheit, units.Kelvin}).Draw(t, "scale")
	return scale.Of(decimal.New(rapid.Int64Range(0, 10_000_000).Draw(t, "coefficient"), -rapid.Int32Range(0, 5).Draw(t, "places")))
}

func drawWorking(t *rapid.T, depth int) units.Working {
	word := rapid.SampledFrom([]string{"", "C = D - t1", "0.038 mm", "\"quoted\" <b>\n"})
	w := units.Working{Name: word.Draw(t, "name"), Formula: word.Draw(t, "formula"), Numbers: word.Draw(t, "numbers"), Result: word.Draw(t, "result"), Source: word.Draw(t, "source")}
	for range rapid.IntRange(0, 2).Draw(t, "notes") {
		w.Notes = append(w.Notes, word.Draw(t, "note"))
	}
	if depth > 0 {
		for range rapid.IntRange(0, 2).Draw(t, "steps") {
			w.Steps = append(w.Steps, drawWorking(t, depth-1))
		}
	}
	return w
}
