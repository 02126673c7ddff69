package measure_test

import (
	"errors"
	"math"
	"testing"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

func TestConformityOfPlainReadings(t *testing.T) {
	for _, test := range []struct {
		name    string
		reading measure.LengthReading
		limits  string
		want    float64
	}{
		// Φ(1) = 0.841344746..., u being half the expanded uncertainty.
		{"a standard uncertainty inside one limit", by(t, "m", "0.030 mm", "0.004 mm"), ">= 0.028 mm", 0.8413447460685429},
		{"between both, two away", by(t, "m", "0.030 mm", "0.004 mm"), "0.026..0.034 mm", 0.9544997361036416},
		{"on a limit", by(t, "m", "0.030 mm", "0.004 mm"), "<= 0.030 mm", 0.5},
		{"a bracket, inside", given("0.020..0.030 mm"), "0.01..0.04 mm", 1},
		{"an exact value on a limit", given("0.020 mm"), "0.020..0.030 mm", 1},
		{"an exact value outside", given("0.019 mm"), "0.020..0.030 mm", 0},
	} {
		got, err := measure.Conformity(test.reading, within(test.limits))
		if err != nil || !near(got.Least, test.want, 1e-9) || !near(got.Greatest, test.want, 1e-9) {
			t.Errorf("%s: %v, %v; want %v", test.name, got, err, test.want)
		}
	}
	for _, r := range []measure.LengthReading{{}} {
		if _, err := measure.Conformity(r, within("0..1 mm")); !errors.Is(err, measure.ErrProbability) {
			t.Errorf("%s: %v", r, err)
		}
	}
}

func TestRisks(t *testing.T) {
	process := measure.Process[units.LengthDim]{Mean: sized("0.040 mm"), Spread: sized("0.005 mm")}
	limits := within("0.030..0.050 mm")
	// Without uncertainty to speak of, nothing is judged wrongly.
	none, err := process.Risks(limits, limits, sized("0.0000001 mm"))
	if err != nil || none.Consumer > 1e-5 || none.Producer > 1e-5 {
		t.Errorf("%+v, %v", none, err)
	}
	// A useless instrument with everything accepted: all that is outside goes
	// through, 2Φ(-2) of the parts.
	all, err := process.Risks(limits, units.MustParseLengthInterval(">= -1 m"), sized("0.01 mm"))
	if err != nil || !near(all.Consumer, 0.04550026389635839, 1e-9) || all.Producer > 1e-9 {
		t.Errorf("%+v, %v", all, err)
	}
	// By the composite Simpson rule with 20 000 steps, worked apart: limits of ±2
	// spreads, a standard uncertainty of a third of one.
	apart, err := process.Risks(limits, limits, units.Millimetre.OfRat(ratio(1, 300)))
	if err != nil || !near(apart.Consumer, 0.009754731477256237, 1e-14) || !near(apart.Producer, 0.02203403870449508, 1e-14) {
		t.Errorf("%+v, %v", apart, err)
	}
	// A guard band moves the risk from the buyer to the maker.
	plain, err1 := process.Risks(limits, limits, sized("0.004 mm"))
	guarded, err2 := process.Risks(limits, within("0.034..0.046 mm"), sized("0.004 mm"))
	if err1 != nil || err2 != nil || guarded.Consumer >= plain.Consumer || guarded.Producer <= plain.Producer {
		t.Errorf("%+v becomes %+v", plain, guarded)
	}
	for _, bad := range []struct {
		process measure.Process[units.LengthDim]
		u       string
	}{{measure.Process[units.LengthDim]{}, "0.001 mm"}, {process, "0 mm"}} {
		if _, err := bad.process.Risks(limits, limits, sized(bad.u)); !errors.Is(err, measure.ErrProbability) {
			t.Errorf("%+v: %v", bad, err)
		}
	}
	for _, risk := range []float64{0, 0.5, -1, math.NaN()} {
		if _, err := measure.GuardFactor(risk); !errors.Is(err, measure.ErrProbability) {
			t.Errorf("a risk of %v: %v", risk, err)
		}
	}
}
