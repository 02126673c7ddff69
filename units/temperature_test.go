package units

import (
	"encoding/json"
	"errors"
	"math/big"
	"reflect"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

func TestTemperature(t *testing.T) {
	shop, oil := MustParse[Temperature]("68 °F"), Celsius.Of(decimal.RequireFromString("90.5"))
	rise := oil.Sub(shop)
	if rise.Exact() != "70.5 K" || !shop.Add(rise).Equal(oil) || !oil.Add(rise.Neg()).Equal(shop) {
		t.Errorf("rise %s", rise)
	}
	if got := rise.In(FahrenheitDifference, 1).String(); got != "126.9" { // 70.5 × 9/5
		t.Errorf("%s °F", got)
	}
	if shop.Cmp(oil) != -1 || oil.Cmp(shop) != 1 || shop.Equal(oil) || shop.Sign() != 1 || (Temperature{}).Sign() != 0 {
		t.Error("order")
	}
	if got := (Temperature{}).String(); got != "-273.15 °C" {
		t.Errorf("the zero Temperature is %s", got)
	}
	if got := oil.In(Fahrenheit, 1).StringFixed(1); got != "194.9" { // 90.5 × 9/5 + 32
		t.Errorf("%s °F", got)
	}
	if oil.Float64(Kelvin) != 363.65 || oil.Rat(Kelvin).Cmp(big.NewRat(36365, 100)) != 0 {
		t.Errorf("%v K", oil.Float64(Kelvin))
	}
	if got := MustParse[Temperature]("200 °F").String(); got != "≈93.333333 °C" {
		t.Errorf("%s", got)
	}
	if got := MustParse[Temperature]("200 °F").Exact(); got != "200 °F" {
		t.Errorf("%s", got)
	}
}

// The scales against their definitions: t/°C = T/K - 273.15, t/°F = 9/5 t/°C + 32
// (NIST SP 811, 2008, B.8).
func TestTemperatureScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := decimal.New(rapid.Int64Range(-27315, 1_000_000_000_000).Draw(t, "coefficient"), -rapid.Int32Range(2, 20).Draw(t, "places")).Rat()
		at := Celsius.Of(decimal.RequireFromString(c.FloatString(20)))
		fahrenheit := new(big.Rat).Add(new(big.Rat).Mul(c, big.NewRat(9, 5)), big.NewRat(32, 1))
		if at.Rat(Fahrenheit).Cmp(fahrenheit) != 0 {
			t.Fatalf("%s °C is %s °F", c, at.Rat(Fahrenheit))
		}
		if kelvin := new(big.Rat).Add(c, big.NewRat(27315, 100)); at.Rat(Kelvin).Cmp(kelvin) != 0 {
			t.Fatalf("%s °C is %s K", c, at.Rat(Kelvin))
		}
		if got, want := at.In(Fahrenheit, 2).StringFixed(2), slowText(fahrenheit, 2, HalfEven); got != want {
			t.Fatalf("%s, want %s", got, want)
		}
		back, err := ParseTemperature(at.Exact())
		if err != nil || !back.Equal(at) {
			t.Fatalf("%s is read as %s, %v", at.Exact(), back, err)
		}
	})
}

func TestTemperatureInterval(t *testing.T) {
	room := MustParse[TemperatureInterval]("18..22 °C")
	oil := MustParse[TemperatureInterval]("90..110 °C")
	for name, test := range map[string]struct{ got, want string }{
		"Sub":   {oil.Sub(room).String(), "68..92 K"},
		"Exact": {MustParse[TemperatureInterval](">= 200 °F").Exact(), ">= 200 °F"},
	} {
		if test.got != test.want {
			t.Errorf("%s: %s, want %s", name, test.got, test.want)
		}
	}
	inward := MustParse[TemperatureInterval]("65..71 °F")
	twenty := MustParse[Temperature]("68 °F")
	if !room.Contains(twenty) || oil.Contains(twenty) ||
		!inward.Within(room) || room.Within(inward) || !room.Equal(MustParse[TemperatureInterval]("20 ±2 °C")) || !room.HasLo() || !room.HasHi() {
		t.Error("a comparison")
	}
}

// TestTemperaturesAreNotAdded: a temperature takes only a difference, so that adding
// two does not compile, and the difference of two is none.
func TestTemperaturesAreNotAdded(t *testing.T) {
	for _, test := range []struct{ add, sub, point, difference any }{
		{Temperature.Add, Temperature.Sub, Temperature{}, TemperatureDifference{}},
		{TemperatureInterval.Add, TemperatureInterval.Sub, TemperatureInterval{}, Interval[temperatureDifferenceDim]{}},
	} {
		add, sub := reflect.TypeOf(test.add), reflect.TypeOf(test.sub)
		point, difference := reflect.TypeOf(test.point), reflect.TypeOf(test.difference)
		if add.In(1) != difference || add.Out(0) != point || sub.In(1) != point || sub.Out(0) != difference {
			t.Errorf("%s, %s", add, sub)
		}
		if point.ConvertibleTo(difference) || difference.ConvertibleTo(point) {
			t.Errorf("a %s and a %s can be made each other", point, difference)
		}
	}
}

// Below absolute zero there is no temperature, in whatever form it is given; there is a
// fall of one.
func TestBelowAbsoluteZero(t *testing.T) {
	for _, text := range []string{"-0.001 K", "-1 K", "-273.16 °C", "-459.68 °F"} {
		_, single := ParseTemperature(text)
		_, span := Parse[TemperatureInterval](text + "..20 °C")
		_, alone := Parse[TemperatureInterval](text)
		_, below := Parse[TemperatureInterval]("<= " + text)
		var fromJSON struct {
			T Temperature
			I TemperatureInterval
		}
		for name, err := range map[string]error{
			"temperature": single, "interval": span, "point": alone, "upper bound": below,
			"JSON": json.Unmarshal([]byte(`{"T": "`+text+`"}`), &fromJSON), "JSON interval": json.Unmarshal([]byte(`{"I": "`+text+`"}`), &fromJSON),
		} {
			if e, ok := errors.AsType[*Error](err); !ok || e.Kind != ErrSyntax || e.Found != "a temperature below absolute zero" {
				t.Errorf("%s as a %s: %v", text, name, err)
			}
		}
		if fall, err := Parse[TemperatureDifference](text); err != nil || fall.Sign() != -1 {
			t.Errorf("a fall of %s: %s, %v", text, fall, err)
		}
	}
	if _, err := Kelvin.Parse("-1"); !errors.Is(err, ErrSyntax) {
		t.Errorf("-1 under K: %v", err)
	}
	for _, text := range []string{"0 K", "-273.15 °C", "-459.67 °F"} { // -459.67 = 32 - 273.15 × 9/5
		if zero, err := ParseTemperature(text); err != nil || zero.Sign() != 0 {
			t.Errorf("%s: %s, %v", text, zero, err)
		}
	}
}

// An interval of temperatures has the arithmetic of every interval: the mean of 18 and
// 22 °C is 20 °C, and not the half of a sum that counts the zero of the scale twice.
func TestTemperatureIntervalArithmetic(t *testing.T) {
	room := MustParse[TemperatureInterval]("18..22 °C")
	rise := MustParse[Interval[temperatureDifferenceDim]]("60..70 K")
	for name, test := range map[string]struct{ got, want string }{
		"Mid":       {room.Mid().String(), "20 °C"},
		"Width":     {room.Width().String(), "4 K"},
		"Radius":    {room.Radius().String(), "2 K"},
		"Add":       {room.Add(rise).String(), "78..92 °C"},
		"Shift":     {room.Shift(KelvinDifference.OfInt(-20)).String(), "-2..2 °C"},
		"Hull":      {room.Hull(MustParse[TemperatureInterval]("90 °C")).String(), "18..90 °C"},
		"Outward":   {room.FormatOutward(Fahrenheit, 0), "64..72 °F"}, // 64.4 and 71.6
		"PlusMinus": {PlusMinus(MustParse[Temperature]("20 °C"), KelvinDifference.OfInt(2)).String(), "18..22 °C"},
		"Neg":       {MustParse[Temperature]("20 °C").Neg().String(), "-293.15 K"},
		"MulInt":    {MustParse[Temperature]("100 K").MulInt(3).String(), "300 K"},
	} {
		if test.got != test.want {
			t.Errorf("%s: %s, want %s", name, test.got, test.want)
		}
	}
}
