package measure_test

import (
	"testing"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// By simple acceptance too, a play that reads below zero is none.
func TestSimpleAcceptanceOfAPlay(t *testing.T) {
	in := measure.LengthInstrument{Name: "dial", Uncertainty: mm("0.003")}
	r, err := in.Indicate("play", mm("-0.001"))
	if err != nil {
		t.Fatal(err)
	}
	if v := measure.SimpleAcceptance(r.NonNegative(), span("0..0.01")); v != measure.Conforming {
		t.Errorf("%s is %s", r, v)
	}
	if v := measure.SimpleAcceptance(r, span("0..0.01")); v != measure.BelowLimit {
		t.Errorf("a position of %s is %s", r, v)
	}
}

// What a reading says of itself names every figure that widens it.
func TestHow(t *testing.T) {
	in := measure.LengthInstrument{Name: "M", LimitOfError: mm("0.004")}
	ring := in
	ring.Uncertainty, ring.SetOn = mm("0.003"), measure.Given(span("59.999..60.001"), "ring")
	set := measure.Feelers{Blades: []units.Length{mm("0.1"), mm("0.2")}, Tolerance: mm("0.002")}
	gap, err := set.Gap("gap", new(mm("0.1")), new(mm("0.2")))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		r    measure.LengthReading
		want string
	}{
		{read(t, in, "x", "10"), "M, 10 mm, ±0.004 mm at most"},
		// 3 in reading and 3 in setting, unsplit: 6; 4 of the limit and 1 of the ring.
		{read(t, ring, "x", "60"), "M, 60 mm ±0.006 mm (k = 2), ±0.005 mm at most"},
		{gap, "feeler blades: 0.1 mm goes, 0.2 mm does not, ±0.002 mm at most"},
		{measure.Tied("oil temperature", mm("0.03"), mm("-0.002")), "by oil temperature, ±0.002 mm at most"},
	} {
		if got := c.r.How(units.Millimetre); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// A condition that is missing twice is missed once.
func TestUnmetOnce(t *testing.T) {
	in := measure.LengthInstrument{Name: "M", Uncertainty: mm("0.003")}
	bore := sumOf([]measure.LengthReading{read(t, in, "bore", "50")}, nil)
	bore.Terms[0].Needs = []measure.Condition{{What: "bolts", Is: "tightened"}}
	twice := sumOf([]measure.LengthReading{bore.Reading(), bore.Reading()}, nil)
	if got := twice.Reading().Unmet(); len(got) != 1 {
		t.Errorf("unmet: %q, want one", got)
	}
}
