package conform

import (
	"errors"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

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
		"half away":              kind(halfAway),
		"fineness":               kind(fineness),
		"warmed":                 kind(warmed),
		"ring gap":               kind(ringGap),
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

// halfAway rounds a length as some manuals do.
func halfAway(q struct {
	Value, To string
	Places    int
}) (answer, error) {
	value, err := units.ParseLength(q.Value)
	u, err2 := units.Parse[units.LengthUnit](q.To)
	if err := errors.Join(err, err2); err != nil {
		return nil, err
	}
	if q.Places < 0 || q.Places > 30 {
		return nil, errors.New("0 to 30 places")
	}
	return answer{"value": value.Rounded(u, int32(q.Places), units.HalfAwayZero).String()}, nil
}

func fineness(q struct{ Width, To string }) (answer, error) {
	width, err := units.ParseLength(q.Width)
	u, err2 := units.Parse[units.LengthUnit](q.To)
	if err := errors.Join(err, err2); err != nil {
		return nil, err
	}
	places, ok := units.ConversionPlaces(width, u)
	if !ok {
		return answer{"unsaid": true}, nil
	}
	return answer{"fineness": decimal.New(1, -places).String()}, nil
}

// warmed goes by the size at 20 °C.
func warmed(q struct {
	Size      string
	PerKelvin string `json:"per_kelvin"`
	From, To  string
	Unit      string
}) (answer, error) {
	size, err := units.ParseLength(q.Size)
	c, err2 := units.ParseRatio(q.PerKelvin)
	from, err3 := units.ParseTemperature(q.From)
	to, err4 := units.ParseTemperature(q.To)
	u, err5 := units.Parse[units.LengthUnit](q.Unit)
	if err := errors.Join(err, err2, err3, err4, err5); err != nil {
		return nil, err
	}
	at := func(t units.Temperature) clearance.Body {
		return clearance.Body{PerKelvin: units.Exactly(c), Temperature: units.Exactly(t)}
	}
	reference := at(units.Celsius.OfInt(20))
	cold, err := at(from).AtReference(measure.Given(units.Exactly(size), ""), reference, reference, u)
	if err != nil {
		return nil, err
	}
	warm, err := at(to).Warmed(cold, u)
	if err != nil {
		return nil, err
	}
	now := warm.Interval().Lo()
	return answer{"size": in(now, u), "growth": in(now.Sub(size), u)}, nil
}

func ringGap(q struct{ Bore, Unit string }) (answer, error) {
	wear, err := units.ParseLengthInterval(q.Bore)
	if err != nil {
		return nil, err
	}
	return named("growth", clearance.GapGrowth(wear).Mid(), q.Unit)
}
