package exchange

import (
	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func clearanceForms() []form {
	return []form{
		valueOf("Bearing", func(t *rapid.T) clearance.Bearing {
			return clearance.Bearing{HousingBore: drawLimits(t), UpperWall: drawLimits(t), LowerWall: drawLimits(t), Journal: drawLimits(t)}
		}),
		valueOf("MeasuredBearing", drawBearing),
		valueOf("Fit", func(t *rapid.T) clearance.Fit {
			b := drawBearing(t)
			f := b.Fit()
			f.Direct = drawReading(t)
			if rapid.Bool().Draw(t, "notes") {
				f.Notes = []string{"a note"} // Series has symbols for keys, of which any may be left out
			}
			return f
		}),
		valueOf("Alternative", drawAlternative),
		valueOf("Remedy", drawRemedy),
		valueOf("Effort", func(t *rapid.T) clearance.Effort { return clearance.Effort(rapid.IntRange(0, 4).Draw(t, "effort")) }),
		valueOf("Remeasurement", func(t *rapid.T) clearance.Remeasurement {
			return clearance.Remeasurement{ // With has symbols for keys, of which any may be left out
				Expanded: drawLength(t), Chance: rapid.Float64Range(0, 1).Draw(t, "chance")}
		}),
		valueOf("Slip", func(t *rapid.T) clearance.Slip[units.LengthDim] {
			return clearance.Slip[units.LengthDim]{What: "the decimal point one place to the left", Corrected: drawLimits(t), Unit: "in"}
		}),
		valueOf("Body", drawBody),
		valueOf("Filing", func(t *rapid.T) clearance.Filing {
			return clearance.Filing{Amount: drawLimits(t), Gap: drawReading(t), Limits: drawLimits(t)}
		}),
		valueOf("Compression", func(t *rapid.T) clearance.Compression {
			return clearance.Compression{Bore: drawLimits(t), Stroke: drawLimits(t), Deck: drawLimits(t), GasketBore: drawLimits(t), GasketThickness: drawLimits(t),
				Chamber: units.MustParse[units.VolumeInterval]("39.8..40.2 cm³"), Dish: units.MustParse[units.VolumeInterval]("-3 cm³")}
		}),
		valueOf("Crush", func(t *rapid.T) clearance.Crush {
			return clearance.Crush{Upper: drawLimits(t), Lower: drawLimits(t)}
		}),
		valueOf("SizeRule", func(t *rapid.T) clearance.SizeRule {
			return clearance.SizeRule{PerSize: drawMillionths(t), Extra: drawLength(t)}
		}),
		valueOf("Arc", drawArc),
		valueOf("RingLayout", func(t *rapid.T) clearance.RingLayout {
			return clearance.RingLayout{Rings: []string{"top", "oil"}, Neighbours: drawDegrees(t), Any: drawDegrees(t), Forbidden: []clearance.Arc{drawArc(t)}}
		}),
	}
}

func drawBearing(t *rapid.T) clearance.MeasuredBearing {
	b := clearance.MeasuredBearing{HousingBore: drawReading(t), UpperWall: drawReading(t), LowerWall: drawReading(t), Journal: drawReading(t)}
	if rapid.Bool().Draw(t, "asks") {
		b.Bolts = clearance.BoltsLoose()
		b.Place = append(b.Place, measure.Condition{What: "plane", Is: "front"})
	}
	return b
}

func drawAlternative(t *rapid.T) clearance.Alternative {
	return clearance.Alternative{Term: "d", Name: "ground", Reading: drawReading(t), Series: "0.25", Effort: clearance.Grinding}
}

func drawRemedy(t *rapid.T) clearance.Remedy {
	return clearance.Remedy{Changes: []clearance.Alternative{drawAlternative(t)}, Result: drawReading(t), Margin: drawLength(t)}
}

// drawMillionths draws an interval of pure numbers, or none.
func drawMillionths(t *rapid.T) units.RatioInterval {
	if rapid.Bool().Draw(t, "not given") {
		return units.RatioInterval{}
	}
	lo := rapid.Int64Range(0, 30).Draw(t, "millionths")
	return units.MustInterval(units.PartsPerMillion.OfInt(lo), units.PartsPerMillion.OfInt(lo+rapid.Int64Range(0, 2).Draw(t, "more")))
}

func drawBody(t *rapid.T) clearance.Body {
	b := clearance.Body{Material: rapid.SampledFrom([]string{"", "cast iron"}).Draw(t, "material"), PerKelvin: drawMillionths(t), With: "the engine"}
	if rapid.Bool().Draw(t, "warm") {
		b.Temperature = units.MustParse[units.TemperatureInterval]("-4.5..90 °C")
		b.In = rapid.SampledFrom([]units.TemperatureUnit{units.Celsius, units.Fahrenheit, units.Kelvin}).Draw(t, "in")
	}
	return b
}

func drawDegrees(t *rapid.T) units.Angle {
	return units.Degree.OfInt(rapid.Int64Range(0, 360).Draw(t, "degrees"))
}

func drawArc(t *rapid.T) clearance.Arc {
	return clearance.Arc{Name: "pin, front", Centre: drawDegrees(t), Reach: drawDegrees(t)}
}
