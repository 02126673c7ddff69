package units

import (
	"errors"
	"strings"
	"testing"
)

// A pound is 0.45359237 kg and an ounce a sixteenth of it (NIST SP 811, 2008, B.8;
// GNU units 2.22 was read).
func TestMasses(t *testing.T) {
	readsAs(t, Parse[Mass], "412.6 g", "412.6 g", "0.4126 kg", "412.6g", "412.6 grams")
	readsAs(t, Parse[Mass], "453.59237 g", "1 lb", "16 oz", "1 pound", "1 lbm", "1 lb.")
	readsAs(t, Parse[Mass], "28.349523125 g", "1 oz", "0.0625 lb")
	readsAs(t, Parse[Interval[MassDim]], "412.1..413.1 g", "412.6 ±0.5 g", "412.1..413.1 g", "412.6 g ±500e-6 kg")
	if got := must(Parse[Mass]("1.3 lb")).Format(kilogram, 4, HalfEven); got != "0.5897 kg" { // 1.3 × 0.45359237 = 0.589670081
		t.Error(got)
	}
}

// A mass is no force and a force no mass, and the advice tells which is which. The
// weights of a newton, 1/9.80665 kg, are worked out by hand.
func TestMassIsNoForce(t *testing.T) {
	mass := func(s string) error { _, err := Parse[Mass](s); return err }
	force := func(s string) error { _, err := Parse[ForceInterval](s); return err }
	torque := func(s string) error { _, err := ParseTorque(s); return err }
	length := func(s string) error { _, err := ParseLength(s); return err }
	ratio := func(s string) error { _, err := ParseRatio(s); return err }
	for _, test := range []struct {
		parse func(string) error
		text  string
		says  string
	}{
		{mass, "1 lbf", "a pound-force is a force; write lb for the pound on the scales"},
		{mass, "1 kgf", "a kilogram-force is a force; write kg"},
		{mass, "5 N", "a newton is a force, the weight of 101.972 g; give the mass in g or kg"},
		{mass, "1 ton", "907.18474 kg in the US, 1016.0469088 kg elsewhere"},
		{mass, "12 gr", "gr is the grain, 0.06479891 g"},
		{mass, "12 mm", `"mm", a unit of length where a mass is wanted; write a unit of mass, such as g`},
		{mass, "12 N·m", `"N·m", a unit of torque where a mass is wanted`},
		{mass, "12 %", `"%", which makes a pure number where a mass is wanted; write a unit of mass, such as g`},
		{mass, "12", `a number without a unit; write "12 g"`},
		{force, "1 lb", "a pound is a mass; write lbf for the force that it weighs"},
		{force, "1..2 kg", "a kilogram is a mass; write kgf for the force that it weighs"},
		{force, "1 oz", "an ounce is a mass; write ozf for its weight"},
		{force, "1 t", "a tonne is a mass, and weighs 9.80665 kN"},
		{torque, "1 lb", "a torque is a force times a length; write lbf·ft or lbf·in"},
		{length, "1 kg", `"kg", a unit of mass where a length is wanted`},
		{ratio, "1 oz", `"oz", a unit of mass where a pure number is wanted; write a number alone, or with % or ppm`},
	} {
		if err := test.parse(test.text); !errors.Is(err, ErrWrongDimension) && !errors.Is(err, ErrNoUnit) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v, want it to say %s", test.text, err, test.says)
		}
	}
}
