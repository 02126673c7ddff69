package units

import (
	"math/big"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

func TestTemperature(t *testing.T) {
	shop, oil := MustParseTemperature("68 °F"), Celsius.Of(decimal.RequireFromString("90.5"))
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
	if got := MustParseTemperature("200 °F").String(); got != "≈93.333333 °C" {
		t.Errorf("%s", got)
	}
	if got := MustParseTemperature("200 °F").Exact(); got != "200 °F" {
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
	twenty := MustParseTemperature("68 °F")
	if !room.Contains(twenty) || oil.Contains(twenty) ||
		!inward.Within(room) || room.Within(inward) || !room.Equal(MustParse[TemperatureInterval]("20 ±2 °C")) || !room.HasLo() || !room.HasHi() {
		t.Error("a comparison")
	}
}
