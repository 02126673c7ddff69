package clearance_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

func TestConformityProbability(t *testing.T) {
	for _, test := range []struct {
		name    string
		reading clearance.LengthReading
		limits  string
		want    float64
	}{
		// Φ(1) = 0.841344746..., u being half the expanded uncertainty.
		{"a standard uncertainty inside one limit", read(t, "m", "0.030 mm", "0.004 mm"), ">= 0.028 mm", 0.8413447460685429},
		{"between both, two away", read(t, "m", "0.030 mm", "0.004 mm"), "0.026..0.034 mm", 0.9544997361036416},
		{"on a limit", read(t, "m", "0.030 mm", "0.004 mm"), "<= 0.030 mm", 0.5},
		{"a bracket, a quarter of it inside", given("0.020..0.030 mm"), ">= 0.0275 mm", 0.25},
		{"a bracket, inside", given("0.020..0.030 mm"), "0.01..0.04 mm", 1},
		{"an exact value on a limit", given("0.020 mm"), "0.020..0.030 mm", 1},
		{"an exact value outside", given("0.019 mm"), "0.020..0.030 mm", 0},
	} {
		got, err := clearance.ConformityProbability(test.reading, span(test.limits))
		if err != nil || !near(got, test.want, 1e-12) {
			t.Errorf("%s: %v, %v; want %v", test.name, got, err, test.want)
		}
	}
	// A narrow bracket with an uncertainty is nearly the value with it.
	b := measuredBearing(t)
	wide, err := clearance.ConformityProbability(b.Clearance(clearance.ByKind), span("0.030..0.045 mm"))
	if err != nil || wide <= 0.9 || wide >= 1 {
		t.Errorf("a bracket with an uncertainty: %v, %v", wide, err)
	}
	for _, r := range []clearance.LengthReading{{}, given(">= 0.1 mm")} {
		if _, err := clearance.ConformityProbability(r, span("0..1 mm")); !errors.Is(err, clearance.ErrProbability) {
			t.Errorf("%s: %v", r, err)
		}
	}
}

// The sum of an even spread and a normal one, against plain integration.
func TestBracketWithUncertaintyAgainstIntegration(t *testing.T) {
	in := clearance.LengthInstrument{Uncertainty: mm("0.004 mm")}
	value, err := in.Read(mm("0.030 mm"))
	if err != nil {
		t.Fatal(err)
	}
	r := value.Widened(mm("0.003 mm"))
	limit := 0.0325
	got, err := clearance.ConformityProbability(r, span("<= 0.0325 mm"))
	if err != nil {
		t.Fatal(err)
	}
	sum, n := 0.0, 20000
	for i := range n {
		x := 0.027 + 0.006*(float64(i)+0.5)/float64(n)
		sum += math.Erfc(-(limit-x)/0.002/math.Sqrt2) / 2
	}
	if want := sum / float64(n); !near(got, want, 1e-8) {
		t.Errorf("%v, by integration %v", got, want)
	}
}

// The limits' own order, and a proof that is nearly one.
func TestProbabilityAndProof(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limits := drawInterval(t, "limits", 20, 60)
		in := clearance.LengthInstrument{Uncertainty: drawLength(t, "u", 1, 20)}
		r, err := in.Read(drawLength(t, "value", 5, 80))
		if err != nil {
			t.Fatal(err)
		}
		p, err := clearance.ConformityProbability(r, limits)
		if err != nil {
			t.Fatal(err)
		}
		wider := units.MustInterval(limits.Lo().Sub(drawLength(t, "lower", 0, 5)), limits.Hi().Add(drawLength(t, "upper", 0, 5)))
		q, err := clearance.ConformityProbability(r, wider)
		if err != nil || q < p-1e-12 {
			t.Fatalf("wider limits lower the probability from %v to %v, %v", p, q, err)
		}
		switch clearance.Judge(r.Interval(), limits) {
		case clearance.Conforming:
			if p < 0.9544 {
				t.Fatalf("proven, with a probability of %v", p)
			}
		case clearance.BelowLimit, clearance.AboveLimit:
			if p > 0.0228 {
				t.Fatalf("proven outside, with a probability of %v", p)
			}
		}
	})
}

func TestRisks(t *testing.T) {
	process := clearance.Process[units.LengthDim]{Mean: mm("0.040 mm"), Spread: mm("0.005 mm")}
	limits := span("0.030..0.050 mm")
	// Without uncertainty to speak of, nothing is judged wrongly.
	none, err := process.Risks(limits, limits, mm("0.0000001 mm"))
	if err != nil || none.Consumer > 1e-5 || none.Producer > 1e-5 {
		t.Errorf("%+v, %v", none, err)
	}
	// A useless instrument with everything accepted: all that is outside goes
	// through, 2Φ(-2) of the parts.
	all, err := process.Risks(limits, units.MustParseLengthInterval(">= -1 m"), mm("0.01 mm"))
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
	plain, err1 := process.Risks(limits, limits, mm("0.004 mm"))
	guarded, err2 := process.Risks(limits, span("0.034..0.046 mm"), mm("0.004 mm"))
	if err1 != nil || err2 != nil || guarded.Consumer >= plain.Consumer || guarded.Producer <= plain.Producer {
		t.Errorf("%+v becomes %+v", plain, guarded)
	}
	for _, bad := range []struct {
		process clearance.Process[units.LengthDim]
		u       string
	}{{clearance.Process[units.LengthDim]{}, "0.001 mm"}, {process, "0 mm"}} {
		if _, err := bad.process.Risks(limits, limits, mm(bad.u)); !errors.Is(err, clearance.ErrProbability) {
			t.Errorf("%+v: %v", bad, err)
		}
	}
	// 1.644854 × 0.002, up.
	if band, err := clearance.GuardBand(mm("0.004 mm"), 0.05); err != nil || !band.Equal(mm("0.003290 mm")) {
		t.Errorf("guard band %s, %v", band, err)
	}
	if _, err := clearance.GuardBand(mm("0.004 mm"), 0.7); !errors.Is(err, clearance.ErrProbability) {
		t.Errorf("a risk of 0.7: %v", err)
	}
	for _, risk := range []float64{0, 0.5, -1, math.NaN()} {
		if _, err := clearance.GuardFactor(risk); !errors.Is(err, clearance.ErrProbability) {
			t.Errorf("a risk of %v: %v", risk, err)
		}
	}
}

// With one degree of freedom Student's t is the Cauchy distribution, whose
// distribution function F has the integral z·F(z) - ln(1 + z²)/2π.
func TestBracketWithFewDegreesOfFreedom(t *testing.T) {
	gauge := clearance.LengthInstrument{Name: "gauge", Uncertainty: mm("0.004 mm"), Freedom: 1}
	bore, err := gauge.Read(mm("20.010 mm"))
	if err != nil {
		t.Fatal(err)
	}
	r := clearance.PinFit(bore, given("19.990..20.000 mm")).Computed(clearance.ByKind) // 0.010..0.020 mm, u = 0.002 mm
	got, err := clearance.ConformityProbability(r, span("<= 0.016 mm"))
	if err != nil {
		t.Fatal(err)
	}
	area := func(z float64) float64 {
		return z*(0.5+math.Atan(z)/math.Pi) - math.Log(1+z*z)/(2*math.Pi)
	}
	want := (area(3) - area(-2)) / 5 // (0.016 - 0.010)/0.002 and (0.016 - 0.020)/0.002
	if math.Abs(got-want) > 1e-9 {
		t.Errorf("probability %v, want %v", got, want)
	}
}
