package evidence_test

import (
	"fmt"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/internal/evidence"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// clearanceChecks are the checks of package clearance.
func clearanceChecks() map[string]evidence.Check {
	return map[string]evidence.Check{
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

		"smallest by rule": sizeRule(units.LengthInterval.Lo),
		"largest by rule":  sizeRule(units.LengthInterval.Hi),
	}
}

// inUnit returns the length in the row's unit.
func inUnit(r *evidence.Row, q units.Length) (evidence.Result, error) {
	u, err := units.ParseUnit[units.LengthDim](r.Unit())
	if err != nil {
		return evidence.Result{}, err
	}
	return evidence.Rat(q.Rat(u)), nil
}

// partTimes says how often a part counts in a printed fit.
var partTimes = [...]struct {
	prefix string
	times  int64
}{{"bore", +1}, {"shaft", -1}, {"two_shells", -2}, {"gasket", +1}}

// printedFit adds up the part sizes of a table and gives one end of the clearance.
func printedFit(end func(units.LengthInterval) units.Length) evidence.Check {
	return func(r *evidence.Row) (evidence.Result, error) {
		f := clearance.Fit{Sum: measure.Sum[units.LengthDim]{Name: "fit", Symbol: "C"}}
		for _, key := range r.Keys() {
			size, err := evidence.Parse(r, key, units.ParseLengthInterval)
			if err != nil {
				return evidence.Result{}, err
			}
			term := measure.Term[units.LengthDim]{Symbol: key, Name: key, Reading: measure.Given(size, "printed")}
			for _, p := range partTimes {
				if strings.HasPrefix(key, p.prefix) {
					term.Factor = units.One.OfInt(p.times)
				}
			}
			if term.Factor.IsZero() {
				return evidence.Result{}, fmt.Errorf("no part is called %q", key)
			}
			f.Sum.Terms = append(f.Sum.Terms, term)
		}
		return inUnit(r, end(f.Sum.Interval()))
	}
}

// steppedSize moves a printed size by an undersize or an oversize.
func steppedSize(step func(units.LengthInterval, units.Length) units.LengthInterval) evidence.Check {
	return func(r *evidence.Row) (evidence.Result, error) {
		standard, err := evidence.Parse(r, "standard", units.ParseLengthInterval)
		if err != nil {
			return evidence.Result{}, err
		}
		by, err := evidence.Parse(r, "step", units.ParseLength)
		if err != nil {
			return evidence.Result{}, err
		}
		return inUnit(r, step(standard, by).Lo())
	}
}

func gapGrowth(r *evidence.Row) (evidence.Result, error) {
	bore, err := evidence.Parse(r, "bore", units.ParseLengthInterval)
	if err != nil {
		return evidence.Result{}, err
	}
	return inUnit(r, clearance.GapGrowth(bore).Mid())
}

// endPlayAfterWashers exchanges the washers fitted for others, by their total
// thickness.
func endPlayAfterWashers(r *evidence.Row) (evidence.Result, error) {
	var sizes [3]measure.LengthReading
	for i, key := range []string{"play", "fitted", "instead"} {
		size, err := evidence.Parse(r, key, units.ParseLengthInterval)
		if err != nil {
			return evidence.Result{}, err
		}
		sizes[i] = measure.Given(size, "printed")
	}
	f := clearance.PlayFit("end play", measure.LengthReading{}, sizes[1])
	f.Direct = sizes[0]
	after, err := f.With(clearance.Alternative{Term: "w1", Reading: sizes[2]})
	if err != nil {
		return evidence.Result{}, err
	}
	return inUnit(r, after.Best().Interval().Lo())
}

func coefficientPerFahrenheit(r *evidence.Row) (evidence.Result, error) {
	if err := r.ExpectUnit("1e-6/°F"); err != nil {
		return evidence.Result{}, err
	}
	b, err := bodyAt(r, units.MustParseTemperatureInterval("69 °F")) // one degree above 20 °C
	if err != nil {
		return evidence.Result{}, err
	}
	metre := measure.Given(units.Exactly(units.Metre.OfInt(1)), "")
	warm, err := b.Warmed(metre)
	if err != nil {
		return evidence.Result{}, err
	}
	return evidence.Rat(warm.Interval().Sub(metre.Interval()).Lo().Rat(units.Micrometre)), nil
}

func thermalGrowth(r *evidence.Row) (evidence.Result, error) {
	size, err := evidence.Parse(r, "size", units.ParseLengthInterval)
	if err != nil {
		return evidence.Result{}, err
	}
	c, err := body(r, "temperature")
	if err != nil {
		return evidence.Result{}, err
	}
	f := clearance.Fit{Sum: measure.Sum[units.LengthDim]{Name: "part", Symbol: "L", Terms: []measure.Term[units.LengthDim]{measure.Plus("L", "size", measure.Given(size, "published"))}}}
	g, err := f.Opening(map[string]clearance.Body{"L": c})
	if err != nil {
		return evidence.Result{}, err
	}
	return inUnit(r, g.Interval().Lo())
}

// body reads the coefficient and a temperature.
func body(r *evidence.Row, key string) (clearance.Body, error) {
	t, err := evidence.Parse(r, key, units.ParseTemperatureInterval)
	if err != nil {
		return clearance.Body{}, err
	}
	return bodyAt(r, t)
}

// bodyAt reads the coefficient, in millionths, of a body of a temperature.
func bodyAt(r *evidence.Row, t units.TemperatureInterval) (clearance.Body, error) {
	d, err := r.Decimal("per_kelvin")
	return clearance.Body{PerKelvin: units.Exactly(units.PartsPerMillion.Of(d)), Temperature: t}, err
}

// warmedFromTo takes a size at one temperature to 20 °C and from there to another.
func warmedFromTo(r *evidence.Row) (evidence.Result, error) {
	size, err := evidence.Parse(r, "size", units.ParseLengthInterval)
	if err != nil {
		return evidence.Result{}, err
	}
	from, err := body(r, "from")
	if err != nil {
		return evidence.Result{}, err
	}
	to, err := body(r, "to")
	if err != nil {
		return evidence.Result{}, err
	}
	cool := from // the instrument and its master are at 20 °C
	cool.Temperature = units.MustParseTemperatureInterval("20 °C")
	reference, err := from.AtReference(measure.Given(size, "published"), cool, cool)
	if err != nil {
		return evidence.Result{}, err
	}
	warm, err := to.Warmed(reference)
	if err != nil {
		return evidence.Result{}, err
	}
	return inUnit(r, warm.Interval().Lo())
}

func sizeRule(end func(units.LengthInterval) units.Length) evidence.Check {
	return func(r *evidence.Row) (evidence.Result, error) {
		lo, err := r.Decimal("per_lo")
		if err != nil {
			return evidence.Result{}, err
		}
		hi, err := r.Decimal("per_hi")
		if err != nil {
			return evidence.Result{}, err
		}
		size, err := evidence.Parse(r, "size", units.ParseLengthInterval)
		if err != nil {
			return evidence.Result{}, err
		}
		perSize, err := units.NewInterval(units.One.Of(lo), units.One.Of(hi))
		if err != nil {
			return evidence.Result{}, err
		}
		limits, err := clearance.SizeRule{PerSize: perSize}.Limits(measure.Given(size, ""))
		if err != nil {
			return evidence.Result{}, err
		}
		return inUnit(r, end(limits))
	}
}
