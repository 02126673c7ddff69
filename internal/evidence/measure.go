package evidence

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// measureChecks are the checks of package units/measure. Those of readings and sums
// stand in this file; those of probabilities, risks, coverage, series and strips in
// readings.go.
func measureChecks() map[string]Check {
	return map[string]Check{
		"expanded uncertainty of a sum": uncertaintyOfSum,
		"resistors in series":           resistorsInSeries,
		"range of stations":             stationsShow(measure.OutOfRound),
		"largest of stations":           stationsShow(measure.Largest),

		"conformity probability": conformityProbability,
		"guard factor":           guardFactor,
		"consumer risk":          globalRisk(func(consumer, _ float64) float64 { return consumer }),
		"producer risk":          globalRisk(func(_, producer float64) float64 { return producer }),
		"root sum square":        rootSumSquare,
		"coverage factor":        coverageFactor,
		"effective freedom":      effectiveFreedom,
		"expanded uncertainty":   expandedUncertainty,

		"series mean":               seriesMean,
		"series standard deviation": seriesDeviation,
		"series autocorrelation":    seriesAutocorrelation,

		"strip lower bound": stripBound(units.LengthInterval.Lo),
		"strip upper bound": stripBound(units.LengthInterval.Hi),
	}
}

// uncertaintyOfSum is for instruments "A 1.5 0.5, B 1 2 on A", each with its common part
// and its repeats in micrometres, and terms "+1 A, -2 B", each another reading.
func uncertaintyOfSum(row *Row) (Result, error) {
	named, err := Parse(row, "instruments", parseInstruments)
	if err != nil {
		return Result{}, err
	}
	text, err := row.Input("terms")
	if err != nil {
		return Result{}, err
	}
	var s measure.Sum[units.LengthDim]
	for i, term := range strings.Split(text, ", ") {
		factor, name, _ := strings.Cut(term, " ")
		f, err := strconv.ParseInt(factor, 10, 64)
		in, ok := named[name]
		if err != nil || !ok {
			return Result{}, fmt.Errorf("term %q: write a factor and the name of an instrument", term)
		}
		r, err := in.Read(fmt.Sprint("term ", i+1), units.Millimetre.OfInt(50))
		if err != nil {
			return Result{}, err
		}
		s.Terms = append(s.Terms, measure.Term[units.LengthDim]{Factor: units.One.OfInt(f), Reading: r})
	}
	return Rat(s.Reading().Expanded().Rat(units.Micrometre)), row.ExpectUnit("µm")
}

func parseInstruments(text string) (map[string]measure.LengthInstrument, error) {
	all := map[string]measure.LengthInstrument{}
	for _, one := range strings.Split(text, ", ") {
		words := strings.Fields(one)
		if len(words) != 3 && (len(words) != 5 || words[3] != "on") {
			return nil, fmt.Errorf("%q: write name, common part, repeats, and on what it is set", one)
		}
		in := measure.LengthInstrument{Name: words[0]}
		var err, err2 error
		in.Common, err = units.ParseLength(words[1] + " µm")
		in.Repeats, err2 = units.ParseLength(words[2] + " µm")
		if err := errors.Join(err, err2); err != nil {
			return nil, err
		}
		if len(words) == 5 {
			master, ok := all[words[4]]
			if !ok {
				return nil, fmt.Errorf("%q: no instrument %s before it", one, words[4])
			}
			if in.SetOn, err = master.Read("setting of "+in.Name, units.Millimetre.OfInt(50)); err != nil {
				return nil, err
			}
		}
		all[in.Name] = in
	}
	return all, nil
}

// resistorsInSeries is for equal resistors, each compared with one standard whose
// standard uncertainty they share, or with a standard of its own. A millimetre stands
// for an ohm.
func resistorsInSeries(row *Row) (Result, error) {
	n, err := row.Int("resistors")
	if err != nil {
		return Result{}, err
	}
	key := "own"
	if row.Has("shared") {
		key = "shared"
	}
	u, err := Parse(row, key, func(text string) (units.Length, error) {
		return units.ParseLength(strings.TrimSuffix(text, "mΩ") + "µm")
	})
	if err != nil {
		return Result{}, err
	}
	var s measure.Sum[units.LengthDim]
	for i := range n {
		standard := measure.LengthInstrument{Name: "standard", Common: u.MulInt(2)}
		if key == "own" {
			standard.Name = fmt.Sprint("standard ", i+1)
		}
		r, err := standard.Read(fmt.Sprint("resistor ", i+1), units.Millimetre.OfInt(1000))
		if err != nil {
			return Result{}, err
		}
		s.Terms = append(s.Terms, measure.Plus("R", "resistor", r))
	}
	half := s.Reading().Expanded().Rat(units.Millimetre)
	return Rat(half.Quo(half, units.One.OfInt(2).Rat(units.One))), row.ExpectUnit("Ω")
}

// stationsShow is for stations in one plane, read with a standard uncertainty of 1 µm.
func stationsShow(claim measure.Claim) Check {
	return func(row *Row) (Result, error) {
		n, err := row.Int("stations")
		freedom, err2 := row.Int("freedom")
		if err := errors.Join(err, err2); err != nil {
			return Result{}, err
		}
		in := measure.LengthInstrument{Name: "M", Repeats: units.Micrometre.OfInt(2), Freedom: freedom}
		var plane []measure.LengthReading
		for i := range n {
			r, err := in.Read(fmt.Sprint("station ", i+1), units.Millimetre.OfInt(50))
			if err != nil {
				return Result{}, err
			}
			plane = append(plane, r)
		}
		s, err := measure.NewStations([][]measure.LengthReading{plane}, claim)
		if err != nil {
			return Result{}, err
		}
		return Rat(s.Find(claim).Expanded().Rat(units.Micrometre)), row.ExpectUnit("µm")
	}
}
