package clearance_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

func perKelvin(t testing.TB, lo, hi string) clearance.Expansion {
	t.Helper()
	e, err := clearance.PerKelvin(dec(lo), dec(hi))
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func at(t testing.TB, material, alpha, temperature string) clearance.Condition {
	return clearance.Condition{Material: material, Expansion: perKelvin(t, alpha, alpha),
		Temperature: units.MustParseTemperatureInterval(temperature)}
}

// An aluminium block on a steel crankshaft opens as it warms: by hand,
// 52.000 × 0.0000215 × 70 - 4.000 × 0.0000117 × 70 - 47.960 × 0.0000123 × 70
// = 0.07826 - 0.003276 - 0.04129356 = 0.03369044 mm.
func TestAnAluminiumBlockOpensUp(t *testing.T) {
	b := clearance.MeasuredBearing{
		HousingBore: given("52.000 mm"), UpperWall: given("2.000 mm"), LowerWall: given("2.000 mm"), Journal: given("47.960 mm"),
	}
	conditions := map[string]clearance.Condition{
		"D": at(t, "aluminium", "0.0000215", "90 °C"), "t1": at(t, "steel", "0.0000117", "90 °C"),
		"t2": at(t, "steel", "0.0000117", "90 °C"), "d": at(t, "crank steel", "0.0000123", "90 °C"),
	}
	opening, err := b.Fit().Opening(conditions)
	if err != nil || !opening.Equal(span("0.03369044 mm")) {
		t.Errorf("opening %s, %v", opening.Exact(), err)
	}
	warm, err := b.Fit().Warm(conditions)
	if err != nil {
		t.Fatal(err)
	}
	if got := warm.Reading(clearance.ByKind).Interval(); !got.Equal(span("0.07369044 mm")) {
		t.Errorf("warm clearance %s", got.Exact())
	}
	if text := warm.Working(clearance.ByKind, units.Millimetre).Text(); !strings.Contains(text, "at 90 °C: drawing") {
		t.Errorf("working:\n%s", text)
	}

	// The same by strip: what it showed, and the opening.
	strip := b.Fit()
	strip.Direct = reading[units.LengthDim](t)(newStrip(t).Between(mm("0.038 mm"), mm("0.051 mm")))
	warm, err = strip.Warm(conditions)
	if err != nil {
		t.Fatal(err)
	}
	if got := warm.Reading(clearance.ByKind).Interval(); !got.Equal(span("0.07169044..0.08469044 mm")) {
		t.Errorf("warm clearance by strip %s", got.Exact())
	}
	iron := map[string]clearance.Condition{"D": at(t, "iron", "0.0000114", "90 °C"), "d": at(t, "crank steel", "0.0000123", "110 °C")}
	closing, err := b.Fit().Opening(iron)
	if err != nil || closing.Hi().Sign() >= 0 {
		t.Errorf("an iron block over a warmer crank opens by %s, %v", closing, err)
	}
}

func TestAtReference(t *testing.T) {
	c := at(t, "steel", "0.0000125", "36 °C") // 1 + 0.0002
	r, err := c.AtReference(read(t, "micrometer", "50.01 mm", "0.002 mm"))
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Bracket(); !got.Equal(span("50 mm")) {
		t.Errorf("at 20 °C it is %s", got.Exact())
	}
	cold := at(t, "steel", "0.0000125", "4 °C") // 1 - 0.0002
	r, err = cold.AtReference(given("49.99 mm"))
	if err != nil || !r.Interval().Equal(span("50 mm")) {
		t.Errorf("at 20 °C it is %s, %v", r, err)
	}
	// Between 4 and 36 °C: 50/(1 + 0.0002) to 50/(1 - 0.0002), and the uncertainty
	// is that of the largest, 0.002/0.9998.
	between := clearance.Condition{Expansion: perKelvin(t, "0.0000125", "0.0000125"), Temperature: units.MustParseTemperatureInterval("4..36 °C")}
	r, err = between.AtReference(read(t, "micrometer", "50 mm", "0.002 mm"))
	if err != nil || !r.Bracket().Equal(units.MustInterval(mm("50 mm").MulRat(ratio(10000, 10002)), mm("50 mm").MulRat(ratio(10000, 9998)))) ||
		!r.Expanded().Equal(mm("0.002 mm").MulRat(ratio(10000, 9998))) {
		t.Errorf("between 4 and 36 °C it is %s ± %s, %v", r.Bracket(), r.Expanded(), err)
	}
	same := at(t, "steel", "0.0000125", "20 °C")
	if r, err := same.AtReference(given("49.99 mm")); err != nil || !r.Interval().Equal(span("49.99 mm")) {
		t.Errorf("from 20 °C to 20 °C it is %s, %v", r, err)
	}
}

// Warming and correcting are each other's inverse, and each holds every choice.
func TestWarmedAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		millionths := func(label string) int64 { return rapid.Int64Range(0, 30).Draw(t, label) }
		a, b := millionths("a"), millionths("b")
		lo, hi := units.Nanometre.OfInt(min(a, b)), units.Nanometre.OfInt(max(a, b)) // as a ratio of a millimetre
		e, err := clearance.PerKelvin(lo.In(units.Millimetre, 9), hi.In(units.Millimetre, 9))
		if err != nil {
			t.Fatal(err)
		}
		degrees := func(label string) units.Temperature {
			return units.Celsius.Of(dec("0.1").Mul(decInt(rapid.Int64Range(-600, 1500).Draw(t, label))))
		}
		x, y := degrees("from"), degrees("to")
		if y.Cmp(x) < 0 {
			x, y = y, x
		}
		between, err := units.NewTemperatureInterval(x, y)
		if err != nil {
			t.Fatal(err)
		}
		c := clearance.Condition{Expansion: e, Temperature: between}
		size := drawLength(t, "size", 1000, 90_000)
		warm, err := c.Warmed(clearance.Given(units.Exactly(size), ""))
		if err != nil {
			t.Fatal(err)
		}
		back, err := c.AtReference(warm)
		if err != nil || !back.Interval().Contains(size) {
			t.Fatalf("%s becomes %s and that %s, %v", size, warm.Interval(), back.Interval(), err)
		}
		if a == b && x.Equal(y) && !back.Interval().IsPoint() {
			t.Fatalf("exactly %s becomes %s", size, back.Interval())
		}
		growth, err := c.Growth(units.Exactly(size))
		if err != nil || !units.Exactly(size).Add(growth).Equal(warm.Interval()) {
			t.Fatalf("%s grows by %s to %s, %v", size, growth, warm.Interval(), err)
		}
	})
}

func TestExpansion(t *testing.T) {
	f, err := clearance.PerFahrenheit(dec("0.0000065"), dec("0.0000065"))
	if err != nil {
		t.Fatal(err)
	}
	if lo, hi := f.PerKelvin(); !lo.Equal(dec("0.0000117")) || !hi.Equal(lo) {
		t.Errorf("6.5 millionths per °F are %s per K", lo)
	}
	if lo, _ := perKelvin(t, "0.0000117", "0.0000123").PerFahrenheit(9); !lo.Equal(dec("0.0000065")) {
		t.Errorf("11.7 millionths per K are %s per °F", lo)
	}
}

func TestBadConditions(t *testing.T) {
	coefficient := func(lo, hi string) error { _, err := clearance.PerKelvin(dec(lo), dec(hi)); return err }
	steel := perKelvin(t, "0.0000117", "0.0000117")
	fit := clearance.PinFit(given("22.01 mm"), clearance.LengthReading{})
	warm := func(symbol string, c clearance.Condition) error {
		_, err := fit.Warm(map[string]clearance.Condition{symbol: c})
		return err
	}
	belowZero := clearance.Condition{Expansion: steel, Temperature: colder(t)}
	_, opening := fit.Opening(map[string]clearance.Condition{"d": at(t, "steel", "0.0000117", "90 °C")})
	_, growth := clearance.Condition{}.Growth(span("1 mm"))
	_, corrected := belowZero.AtReference(given("1 mm"))
	_, warmed := belowZero.Warmed(given("1 mm"))
	for _, test := range []struct {
		name string
		err  error
		kind error
		says string
	}{
		{"millionths without their exponent", coefficient("11.7", "11.7"), clearance.ErrExpansion, "0.0000117"},
		{"a negative coefficient", coefficient("-0.0000117", "0.0000117"), clearance.ErrExpansion, "per K"},
		{"coefficients exchanged", coefficient("0.0000123", "0.0000117"), clearance.ErrOrder, "smaller one first"},
		{"no temperature", growth, clearance.ErrNotMeasured, "give the temperature"},
		{"below absolute zero", corrected, clearance.ErrAbsoluteZero, "-273.15 °C"},
		{"below absolute zero, warmed", warmed, clearance.ErrAbsoluteZero, "-273.15 °C"},
		{"below absolute zero, in a fit", warm("D", belowZero), clearance.ErrAbsoluteZero, "-300 °C"},
		{"one bound of temperature", warm("D", clearance.Condition{Expansion: steel, Temperature: units.MustParseTemperatureInterval(">= 20 °C")}),
			clearance.ErrNotMeasured, "the lowest and the highest"},
		{"no such term", warm("x", at(t, "steel", "0.0000117", "90 °C")), clearance.ErrNoTerm, `"x"`},
		{"a size not read", opening, clearance.ErrNotMeasured, "pin clearance, pin"},
	} {
		if !errors.Is(test.err, test.kind) || !strings.Contains(test.err.Error(), test.says) {
			t.Errorf("%s: %v", test.name, test.err)
		}
	}
}

// colder is what no text can say and a program can.
func colder(t testing.TB) units.TemperatureInterval {
	t.Helper()
	a, err := units.NewTemperatureInterval(units.Celsius.Of(dec("-300")), units.Celsius.Of(dec("-290")))
	if err != nil {
		t.Fatal(err)
	}
	return a
}
