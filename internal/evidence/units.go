package evidence

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// unitsChecks put a row's text through the parsers of units and its unit through
// ParseUnit, so that the spellings of the sources are read as they stand.
func unitsChecks() map[string]Check {
	return map[string]Check{
		"factor":      unitsFactor,
		"ratio":       unitsRatio,
		"convert":     unitsConvert,
		"temperature": unitsTemperature,
		"limit":       unitsLimit,
		"inward":      unitsInward,
		"nearest":     unitsNearest,
		"fineness":    unitsFineness,
		"round":       unitsRound,
	}
}

// A unitsDimensional is a check that serves every dimension.
type unitsDimensional struct {
	factor  func(r *Row) (*big.Rat, error)
	convert func(r *Row, places int32, m units.Rounding) (decimal.Decimal, error)
}

func unitsDimension[D units.Dimension](parse func(string) (units.Quantity[D], error)) unitsDimensional {
	return unitsDimensional{
		factor: func(r *Row) (*big.Rat, error) {
			from, err := Parse(r, "from", units.Parse[units.Unit[D]])
			if err != nil {
				return nil, err
			}
			to, err := units.Parse[units.Unit[D]](r.Unit())
			return from.OfInt(1).Rat(to), err
		},
		convert: func(r *Row, places int32, m units.Rounding) (decimal.Decimal, error) {
			q, err := Parse(r, "value", parse)
			if err != nil {
				return decimal.Decimal{}, err
			}
			to, err := units.Parse[units.Unit[D]](r.Unit())
			return q.Rounded(to, places, m), err
		},
	}
}

// unitsDimensionOf returns the checks of the row's quantity.
func unitsDimensionOf(r *Row) (unitsDimensional, error) {
	name, err := r.Input("quantity")
	if err != nil {
		return unitsDimensional{}, err
	}
	d, ok := map[string]unitsDimensional{
		"length":                 unitsDimension(units.ParseLength),
		"angle":                  unitsDimension(units.ParseAngle),
		"torque":                 unitsDimension(units.ParseTorque),
		"force":                  unitsDimension(units.ParseForce),
		"pressure":               unitsDimension(units.ParsePressure),
		"temperature difference": unitsDimension(units.Parse[units.TemperatureDifference]),
		"rotational speed":       unitsDimension(units.Parse[units.RotationalSpeed]),
		"dynamic viscosity":      unitsDimension(units.Parse[units.DynamicViscosity]),
		"area":                   unitsDimension(units.Parse[units.Area]),
		"volume":                 unitsDimension(units.Parse[units.Volume]),
		"stiffness":              unitsDimension(units.Parse[units.Stiffness]),
		"mass":                   unitsDimension(units.Parse[units.Mass]),
		"pure number":            unitsDimension(units.ParseRatio),
	}[name]
	if !ok {
		return d, fmt.Errorf("no dimension %q", name)
	}
	return d, nil
}

// unitsFactor is one of a unit in another, exactly.
func unitsFactor(r *Row) (Result, error) {
	d, err := unitsDimensionOf(r)
	if err != nil {
		return Result{}, err
	}
	f, err := d.factor(r)
	if err != nil {
		return Result{}, err
	}
	return Rat(f), nil
}

// unitsRatio is unitsFactor as a fraction in lowest terms.
func unitsRatio(r *Row) (Result, error) {
	d, err := unitsDimensionOf(r)
	if err != nil {
		return Result{}, err
	}
	f, err := d.factor(r)
	if err != nil {
		return Result{}, err
	}
	return Text(f.RatString()), nil
}

// unitsConvert rounds a converted value to the places that the source prints, half
// to even unless the row says otherwise.
func unitsConvert(r *Row) (Result, error) {
	d, err := unitsDimensionOf(r)
	if err != nil {
		return Result{}, err
	}
	m := units.HalfEven
	if r.Has("rounding") {
		if m, err = Parse(r, "rounding", unitsHalfAway); err != nil {
			return Result{}, err
		}
	}
	_, after, _ := strings.Cut(r.Want, ".")
	got, err := d.convert(r, int32(len(after)), m)
	return Decimal(got), err
}

func unitsHalfAway(s string) (units.Rounding, error) {
	if s != units.HalfAwayZero.String() {
		return 0, errors.New("the one other rounding is " + units.HalfAwayZero.String())
	}
	return units.HalfAwayZero, nil
}

// unitsTemperature is a temperature on another scale, exactly.
func unitsTemperature(r *Row) (Result, error) {
	at, err := Parse(r, "at", units.ParseTemperature)
	if err != nil {
		return Result{}, err
	}
	for _, scale := range []units.TemperatureUnit{units.Celsius, units.Fahrenheit, units.Kelvin} {
		if scale.String() == r.Unit() {
			return Rat(at.Rat(scale)), nil
		}
	}
	return Result{}, fmt.Errorf("no scale %q", r.Unit())
}

// unitsLimit is a limit of size in another unit, exactly.
func unitsLimit(r *Row) (Result, error) {
	limits, err := Parse(r, "limits", units.ParseLengthInterval)
	if err != nil {
		return Result{}, err
	}
	return unitsBound(r, limits)
}

// unitsConverted reads limits, and the unit and places that they are converted to.
func unitsConverted(r *Row) (limits units.LengthInterval, to units.LengthUnit, places int32, err error) {
	limits, errLimits := Parse(r, "limits", units.ParseLengthInterval)
	n, errPlaces := r.Int("places")
	to, errUnit := units.Parse[units.LengthUnit](r.Unit())
	return limits, to, int32(n), errors.Join(errLimits, errPlaces, errUnit)
}

// unitsInward is a limit converted so that no limit is widened.
func unitsInward(r *Row) (Result, error) {
	limits, to, places, err := unitsConverted(r)
	if err != nil {
		return Result{}, err
	}
	inward, err := limits.Inward(to, places)
	if err != nil {
		return Result{}, err
	}
	return unitsBound(r, inward)
}

// unitsNearest is a limit converted to the nearest value.
func unitsNearest(r *Row) (Result, error) {
	limits, to, places, err := unitsConverted(r)
	if err != nil {
		return Result{}, err
	}
	lo, hi := to.Of(limits.Lo().In(to, places)), to.Of(limits.Hi().In(to, places))
	return unitsBound(r, units.MustInterval(lo, hi))
}

// unitsBound is the bound that the row names, in the row's unit.
func unitsBound(r *Row, of units.LengthInterval) (Result, error) {
	bound, err := r.Input("bound")
	if err != nil {
		return Result{}, err
	}
	switch bound {
	case "lower":
		return inUnit(r, of.Lo())
	case "upper":
		return inUnit(r, of.Hi())
	}
	return Result{}, fmt.Errorf("bound %q: write lower or upper", bound)
}

// unitsFineness is the fineness of rounding for a tolerance of the width given.
func unitsFineness(r *Row) (Result, error) {
	width, errWidth := Parse(r, "width", units.ParseLength)
	to, errUnit := units.Parse[units.LengthUnit](r.Unit())
	if err := errors.Join(errWidth, errUnit); err != nil {
		return Result{}, err
	}
	places, ok := units.ConversionPlaces(width, to)
	if !ok {
		return Result{}, errors.New("the tables have no fineness for it")
	}
	return Decimal(decimal.New(1, -places)), nil
}

// unitsRound is a number rounded half to even. The rule is the same in any unit.
func unitsRound(r *Row) (Result, error) {
	value, errValue := r.Decimal("value")
	places, errPlaces := r.Int("places")
	if err := errors.Join(errValue, errPlaces); err != nil {
		return Result{}, err
	}
	return Decimal(units.Millimetre.Of(value).In(units.Millimetre, int32(places))), nil
}
