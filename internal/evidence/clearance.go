package evidence

import (
	"fmt"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// clearanceChecks are the checks of package clearance.
func clearanceChecks() map[string]Check {
	return map[string]Check{
		"smallest clearance": printedFit(units.LengthInterval.Lo),
		"largest clearance":  printedFit(units.LengthInterval.Hi),
		"undersize wall": steppedSize(func(wall units.LengthInterval, by units.Length) units.LengthInterval {
			return clearance.Bearing{UpperWall: wall}.Undersized(by).UpperWall
		}),
		"undersize journal": steppedSize(func(journal units.LengthInterval, by units.Length) units.LengthInterval {
			return clearance.Bearing{Journal: journal}.Undersized(by).Journal
		}),
		"undersize bore": steppedSize(func(bore units.LengthInterval, by units.Length) units.LengthInterval {
			none := units.Exactly(units.Length{})
			b := clearance.Bearing{HousingBore: bore, UpperWall: none, LowerWall: none}.Undersized(by) // the bore is that inside standard shells
			return b.HousingBore.Sub(b.UpperWall).Sub(b.LowerWall)
		}),
		"oversize":               steppedSize(units.LengthInterval.Shift),
		"gap growth":             gapGrowth,
		"end play after washers": endPlayAfterWashers,

		"coefficient per fahrenheit":             coefficientPerFahrenheit,
		"growth":                                 thermalGrowth,
		"warmed from one temperature to another": warmedFromTo,
	}
}

// partTimes says how often a part counts in a printed fit.
var partTimes = [...]struct {
	prefix string
	times  int64
}{{"bore", +1}, {"shaft", -1}, {"two_shells", -2}, {"gasket", +1}}

// printedFit adds up the part sizes of a table and gives one end of the clearance.
func printedFit(end func(units.LengthInterval) units.Length) Check {
	return func(r *Row) (Result, error) {
		f := clearance.Fit{Sum: measure.Sum[units.LengthDim]{Name: "fit", Symbol: "C"}}
		for _, key := range r.Keys() {
			size, err := Parse(r, key, units.ParseLengthInterval)
			if err != nil {
				return Result{}, err
			}
			term := measure.Term[units.LengthDim]{Symbol: key, Name: key, Reading: measure.Given(size, "printed")}
			for _, p := range partTimes {
				if strings.HasPrefix(key, p.prefix) {
					term.Factor = units.One.OfInt(p.times)
				}
			}
			if term.Factor.IsZero() {
				return Result{}, fmt.Errorf("no part is called %q", key)
			}
			f.Sum.Terms = append(f.Sum.Terms, term)
		}
		return inUnit(r, end(f.Sum.Interval()))
	}
}

// steppedSize moves a printed size by an undersize or an oversize.
func steppedSize(step func(units.LengthInterval, units.Length) units.LengthInterval) Check {
	return func(r *Row) (Result, error) {
		standard, err := Parse(r, "standard", units.ParseLengthInterval)
		if err != nil {
			return Result{}, err
		}
		by, err := Parse(r, "step", units.ParseLength)
		if err != nil {
			return Result{}, err
		}
		return inUnit(r, step(standard, by).Lo())
	}
}

func gapGrowth(r *Row) (Result, error) {
	bore, err := Parse(r, "bore", units.ParseLengthInterval)
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, clearance.GapGrowth(bore).Mid())
}

// endPlayAfterWashers exchanges the washers fitted for others, by their total
// thickness.
func endPlayAfterWashers(r *Row) (Result, error) {
	var sizes [3]measure.LengthReading
	for i, key := range []string{"play", "fitted", "instead"} {
		size, err := Parse(r, key, units.ParseLengthInterval)
		if err != nil {
			return Result{}, err
		}
		sizes[i] = measure.Given(size, "printed")
	}
	f := clearance.PlayFit("end play", measure.LengthReading{}, sizes[1])
	f.Direct = sizes[0]
	after, err := f.With(clearance.Alternative{Term: "w1", Reading: sizes[2]})
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, after.Best().Interval().Lo())
}

func coefficientPerFahrenheit(r *Row) (Result, error) {
	if err := r.ExpectUnit("1e-6/°F"); err != nil {
		return Result{}, err
	}
	b, err := bodyAt(r, units.MustParse[units.TemperatureInterval]("69 °F")) // one degree above 20 °C
	if err != nil {
		return Result{}, err
	}
	metre := measure.Given(units.Exactly(units.Metre.OfInt(1)), "")
	warm, err := b.Warmed(metre, units.Millimetre)
	if err != nil {
		return Result{}, err
	}
	return Rat(warm.Interval().Sub(metre.Interval()).Lo().Rat(units.Micrometre)), nil
}

func thermalGrowth(r *Row) (Result, error) {
	size, err := Parse(r, "size", units.ParseLengthInterval)
	if err != nil {
		return Result{}, err
	}
	c, err := body(r, "temperature")
	if err != nil {
		return Result{}, err
	}
	f := clearance.Fit{Sum: measure.Sum[units.LengthDim]{Name: "part", Symbol: "L", Terms: []measure.Term[units.LengthDim]{measure.Plus("L", "size", measure.Given(size, "published"))}}}
	g, err := f.Opening(map[string]clearance.Body{"L": c})
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, g.Interval().Lo())
}

// body reads the coefficient and a temperature.
func body(r *Row, key string) (clearance.Body, error) {
	t, err := Parse(r, key, units.Parse[units.TemperatureInterval])
	if err != nil {
		return clearance.Body{}, err
	}
	return bodyAt(r, t)
}

// bodyAt reads the coefficient, in millionths, of a body of a temperature.
func bodyAt(r *Row, t units.TemperatureInterval) (clearance.Body, error) {
	d, err := r.Decimal("per_kelvin")
	return clearance.Body{PerKelvin: units.Exactly(units.PartsPerMillion.Of(d)), Temperature: t}, err
}

// warmedFromTo takes a size at one temperature to 20 °C and from there to another.
func warmedFromTo(r *Row) (Result, error) {
	size, err := Parse(r, "size", units.ParseLengthInterval)
	if err != nil {
		return Result{}, err
	}
	from, err := body(r, "from")
	if err != nil {
		return Result{}, err
	}
	to, err := body(r, "to")
	if err != nil {
		return Result{}, err
	}
	cool := from // the instrument and its master are at 20 °C
	cool.Temperature = units.MustParse[units.TemperatureInterval]("20 °C")
	reference, err := from.AtReference(measure.Given(size, "published"), cool, cool, units.Millimetre)
	if err != nil {
		return Result{}, err
	}
	warm, err := to.Warmed(reference, units.Millimetre)
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, warm.Interval().Lo())
}
