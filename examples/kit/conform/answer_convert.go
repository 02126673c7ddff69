package conform

import (
	"errors"
	"math/big"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func convertKinds() map[string]answerer {
	return map[string]answerer{
		"convert":                kind(convert),
		"temperature difference": kind(temperatureDifference),
		"per fahrenheit":         kind(perFahrenheit),
	}
}

func convert(q ask.Convert) (answer, error) {
	got, err := asked("convert", q)
	if r, is := errors.AsType[*refused](err); is {
		switch {
		case r.is(units.ErrEmpty):
			return none(), nil
		case q.Places == nil && r.is(ask.ErrQuestion) && r.Where != nil && *r.Where == `Convert, "places"`:
			return answer{"unsaid": true}, nil // it asks for the places
		}
	}
	if err != nil {
		return nil, err
	}
	return answer{"lo": bare(got["lo"]), "hi": bare(got["hi"])}, nil
}

// bare takes the brackets from a ratio, "(5/127)".
func bare(v any) any {
	if text, is := v.(string); is {
		return strings.Trim(text, "()")
	}
	return v
}

func temperatureDifference(q struct{ Value, From, To string }) (answer, error) {
	d, err := units.Parse[units.TemperatureDifference](q.Value + " " + q.From)
	if err != nil {
		return nil, err
	}
	one, err := units.Parse[units.TemperatureDifference]("1 " + q.To)
	if err != nil {
		return nil, err
	}
	return answer{"value": digits(d.Ratio(one))}, nil
}

func perFahrenheit(q struct {
	PerKelvin string `json:"per_kelvin"`
}) (answer, error) {
	c, err := units.ParseRatio(q.PerKelvin)
	if err != nil {
		return nil, err
	}
	// A metre, one degree Fahrenheit above 20 °C.
	b := clearance.Body{PerKelvin: units.Exactly(c), Temperature: units.MustParse[units.TemperatureInterval]("69 °F")}
	metre := measure.Given(units.Exactly(units.Metre.OfInt(1)), "")
	warm, err := b.Warmed(metre, units.Millimetre)
	if err != nil {
		return nil, err
	}
	grown := warm.Interval().Sub(metre.Interval()).Lo().Rat(units.Metre)
	return answer{"per_fahrenheit": digits(new(big.Rat).Set(grown))}, nil
}
