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
		least, greatest, err := measure.Conformity(test.reading, within(test.limits))
		if err != nil || !near(least, test.want, 1e-9) || !near(greatest, test.want, 1e-9) {
			t.Errorf("%s: %v to %v, %v; want %v", test.name, least, greatest, err, test.want)
		}
	}
	if _, _, err := measure.Conformity(measure.LengthReading{}, within("0..1 mm")); !errors.Is(err, measure.ErrProbability) {
		t.Errorf("not measured: %v", err)
	}
}

func TestRisks(t *testing.T) {
	process := measure.Process[units.LengthDim]{Mean: sized("0.040 mm"), Spread: sized("0.005 mm")}
	limits := within("0.030..0.050 mm")
	for _, test := range []struct {
		name               string
		guard, u           units.Length
		consumer, producer float64
		near               float64
	}{
		{"without uncertainty to speak of, nothing is judged wrongly", units.Length{}, sized("0.0000001 mm"), 0, 0, 1e-5},
		// 2Φ(-2) of the parts.
		{"with everything accepted, all that is outside goes through", sized("-1 m"), sized("0.01 mm"), 0.04550026389635839, 0, 1e-9},
		// By the composite Simpson rule with 20 000 steps, worked apart: limits of ±2
		// spreads, a standard uncertainty of a third of one.
		{"a third of a spread", units.Length{}, units.Millimetre.OfRat(ratio(1, 300)), 0.009754731477256237, 0.02203403870449508, 1e-14},
	} {
		consumer, producer, err := process.Risks(limits, test.guard, test.u)
		if err != nil || !near(consumer, test.consumer, test.near) || !near(producer, test.producer, test.near) {
			t.Errorf("%s: %v and %v, %v", test.name, consumer, producer, err)
		}
	}
	// The same numbers, and 2Φ(-2) of the process outside.
	w, err := process.Working(limits, units.Length{}, units.Millimetre.OfRat(ratio(1, 300)), units.Millimetre)
	if err != nil || w.Result != "consumer's risk 0.009755, producer's risk 0.02203" || len(w.Steps) != 2 || w.Steps[1].Result != "0.0455" || w.Steps[1].Numbers != "Φ((0.03 - 0.04) / 0.005) + Φ((0.04 - 0.05) / 0.005)" {
		t.Errorf("working: %v\n%s", err, w)
	}
	// A guard band moves the risk from the buyer to the maker.
	plainConsumer, plainProducer, err1 := process.Risks(limits, units.Length{}, sized("0.004 mm"))
	consumer, producer, err2 := process.Risks(limits, sized("0.004 mm"), sized("0.004 mm"))
	if err1 != nil || err2 != nil || consumer >= plainConsumer || producer <= plainProducer {
		t.Errorf("%v and %v become %v and %v", plainConsumer, plainProducer, consumer, producer)
	}
	for _, bad := range []struct {
		process measure.Process[units.LengthDim]
		u       string
	}{{measure.Process[units.LengthDim]{}, "0.001 mm"}, {process, "0 mm"}} {
		if _, _, err := bad.process.Risks(limits, units.Length{}, sized(bad.u)); !errors.Is(err, measure.ErrProbability) {
			t.Errorf("%+v: %v", bad, err)
		}
	}
	if w, err := process.Working(within("<= 0.050 mm"), sized("0.002 mm"), sized("0.004 mm"), units.Micrometre); err != nil || w.Steps[0].Numbers != "50 - 2" || w.Steps[0].Result != "<= 48 µm" || w.Steps[1].Formula != "Φ((μ - U)/σ)" {
		t.Errorf("working of one limit: %v\n%s", err, w)
	}
	if _, err := process.Working(limits, sized("0.011 mm"), sized("0.001 mm"), units.Millimetre); !errors.Is(err, measure.ErrOrder) {
		t.Errorf("a working of a guard band that leaves nothing: %v", err)
	}
	if _, _, err := process.Risks(limits, sized("0.011 mm"), sized("0.001 mm")); !errors.Is(err, measure.ErrOrder) {
		t.Errorf("a guard band that leaves nothing: %v", err)
	}
}
