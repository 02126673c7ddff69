package units

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/shopspring/decimal"
)

// panics fails unless f panics with the message.
func panics(t *testing.T, want string, f func()) {
	t.Helper()
	defer func() {
		t.Helper()
		if got := fmt.Sprint(recover()); got != want {
			t.Errorf("panic %q, want %q", got, want)
		}
	}()
	f()
}

// TestMisuse: a programmer's mistake panics, and the message says the fix.
func TestMisuse(t *testing.T) {
	mm := MustParseLength("1 mm")
	panics(t, "units: Ratio to a zero quantity; test IsZero first", func() { mm.Ratio(Length{}) })
	panics(t, "units: Lo of an interval without a lower bound; ask HasLo first", func() { AtMost(mm).Lo() })
	panics(t, "units: Hi of an interval without an upper bound; ask HasHi first", func() { AtLeast(mm).Width() })
	panics(t, "units: 99 is no unit of length; use the package's constants", func() { mm.In(LengthUnit(99), 3) })
	panics(t, "units: unknown Rounding; use the package's constants", func() { mm.Rounded(Inch, 3, Rounding(9)) })
	panics(t, "units: more than 1000 decimal places asked for", func() { mm.In(Inch, 1001) })
	panics(t, "units: a decimal with an exponent beyond ±1000; bound what comes from outside, or use Parse",
		func() { Millimetre.Of(decimal.New(1, 1_000_000_000)) })
	panics(t, `units: "1 N·m", column 3: "N·m", a unit of torque where a length is wanted; write a unit of length, such as mm`,
		func() { MustParseLength("1 N·m") })
	panics(t, "units: lower bound above upper bound: 2 mm..1 mm; exchange them", func() { MustInterval(mm.MulInt(2), mm) })
}

func TestOfFloat64(t *testing.T) {
	q, err := Millimetre.OfFloat64(0.1, 20)
	if err != nil || q.Exact() != "0.10000000000000000555 mm" { // the float64 is 0.1000000000000000055511…
		t.Errorf("%s, %v", q.Exact(), err)
	}
	q, err = Inch.OfFloat64(-2.3625, 3)
	if err != nil || q.Rat(Inch).FloatString(4) != "-2.3620" { // the float64 is a hair nearer to zero than -2.3625
		t.Errorf("%s in, %v", q.Rat(Inch).FloatString(4), err)
	}
	for _, f := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if _, err := Millimetre.OfFloat64(f, 3); !errors.Is(err, ErrSyntax) {
			t.Errorf("%v: %v", f, err)
		}
	}
}

func TestOrder(t *testing.T) {
	_, err := NewInterval(MustParseLength("2 in"), MustParseLength("50 mm"))
	e, ok := errors.AsType[*Error](err)
	if !ok || !errors.Is(err, ErrOrder) || e.Found != "50.8 mm..50 mm" || e.Fix != "exchange them" {
		t.Errorf("%v", err)
	}
	_, err = NewInterval(MustParse[Temperature]("22 °C"), MustParse[Temperature]("18 °C"))
	if !errors.Is(err, ErrOrder) {
		t.Errorf("%v", err)
	}
}
