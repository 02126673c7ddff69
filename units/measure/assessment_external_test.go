package measure_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func TestMarginAndOutside(t *testing.T) {
	for _, test := range []struct {
		name, measured, limits string
		margin, outside        string
	}{
		{"inside, nearer the lower", "0.028..0.036 mm", "0.024..0.048 mm", "0.004 mm", ""},
		{"inside, nearer the upper", "0.036..0.047 mm", "0.024..0.048 mm", "0.001 mm", ""},
		{"inside one limit", "0.010..0.015 mm", "<= 0.020 mm", "0.005 mm", ""},
		{"one-sided inside", ">= 0.030 mm", ">= 0.024 mm", "0.006 mm", ""},
		{"undecided", "0.020..0.030 mm", "0.024..0.048 mm", "", ""},
		{"below", "0.018..0.021 mm", "0.024..0.048 mm", "", "0.003..0.006 mm"},
		{"above", "0.050..0.057 mm", "0.024..0.048 mm", "", "0.002..0.009 mm"},
		{"above, no upper bound", ">= 0.050 mm", "0.024..0.048 mm", "", ">= 0.002 mm"},
	} {
		a := measure.Assess(measure.Given(within(test.measured), ""), within(test.limits))
		margin, ok := a.Margin()
		if ok != (test.margin != "") || ok && !margin.Equal(sized(test.margin)) {
			t.Errorf("%s: margin %s, %t; want %q", test.name, margin, ok, test.margin)
		}
		by, ok := a.Outside()
		if ok != (test.outside != "") || ok && !by.Equal(within(test.outside)) {
			t.Errorf("%s: outside by %s, %t; want %q", test.name, by, ok, test.outside)
		}
	}
}

// Limits belong to the tolerance, on each side.
func TestSidesProven(t *testing.T) {
	for _, test := range []struct {
		measured, limits string
		above, below     bool
	}{
		{"0.024..0.048 mm", "0.024..0.048 mm", true, true},
		{"0.023..0.049 mm", "0.024..0.048 mm", false, false},
		{"0.030..0.049 mm", "0.024..0.048 mm", true, false},
		{"0.020..0.030 mm", "0.024..0.048 mm", false, true},
		{"0.020..0.030 mm", ">= 0.020 mm", true, true},
		{"0.020..0.030 mm", "<= 0.029 mm", true, false},
		{">= 0.024 mm", "0.024..0.048 mm", true, false},
		{"<= 0.048 mm", "0.024..0.048 mm", false, true},
	} {
		a := measure.Assess(given(test.measured), within(test.limits))
		if lower, upper := a.Meets(); lower != test.above || upper != test.below {
			t.Errorf("%s to %s: above %t, below %t", test.measured, test.limits, lower, upper)
		}
	}
}

func TestAssessmentWorking(t *testing.T) {
	for _, test := range []struct {
		measured, limits string
		has, lacks       string
	}{
		{"0.028..0.036 mm", "0.024..0.048 mm", "inside by 0.004 mm at least", "would settle"},
		{"0.028..0.036 mm", "0.024..0.048 mm", "inside by 0.004 mm at least", "proven not to be"}, // it says that already
		{"0.018..0.021 mm", "0.024..0.048 mm", "outside by 0.003..0.006 mm", "would settle"},
		{"0.020..0.030 mm", "0.024..0.048 mm", "proven not to be above the upper limit", "below the lower limit"},
		{"0.020..0.030 mm", "0.024..0.048 mm", "another instrument with an expanded uncertainty of 0.0005 mm would settle it nine times in ten", "inside by"},
		{"0.040..0.050 mm", "0.024..0.048 mm", "proven not to be below the lower limit", "above the upper limit"},
		{"0.040..0.050 mm", "<= 0.048 mm", "0.04..0.05 mm against <= 0.048 mm", "proven not"},
		{"0.020..0.030 mm", ">= 0.024 mm", "0.02..0.03 mm against >= 0.024 mm", "proven not"},
	} {
		text := measure.Assess(given(test.measured), within(test.limits)).Working(units.Millimetre).Text()
		if !strings.Contains(text, test.has) || strings.Contains(text, test.lacks) {
			t.Errorf("%s to %s lacks %q, or has %q:\n%s", test.measured, test.limits, test.has, test.lacks, text)
		}
	}
}

// The steps of an assessment: Accepting with the expanded uncertainty, and Conformity.
func TestAssessmentSteps(t *testing.T) {
	limits := within("0.024..0.048 mm")
	// Φ((0.048-0.026)/0.002) - Φ((0.024-0.026)/0.002) = Φ(11) - Φ(-1) = 0.8413.
	w := measure.Assess(by(t, "m", "0.026 mm", "0.004 mm"), limits).Working(units.Millimetre)
	if len(w.Steps) != 2 || w.Steps[0].Result != "0.028..0.044 mm" || w.Steps[1].Result != "0.841" ||
		w.Steps[1].Numbers != "Φ((0.048 - 0.026) / (0.004 / 2)) - Φ((0.024 - 0.026) / (0.004 / 2))" {
		t.Errorf("a value:\n%s", w)
	}
	// A bracket has no uncertainty and so no guard band; the value may lie anywhere in it.
	w = measure.Assess(given("0.020..0.030 mm"), limits).Working(units.Millimetre)
	if len(w.Steps) != 1 || w.Steps[0].Result != "0 to 1" || w.Steps[0].Numbers != "" {
		t.Errorf("a bracket:\n%s", w)
	}
	// A gap cannot be negative, and needs no guard band at a lower limit of zero.
	w = measure.Assess(by(t, "m", "0.026 mm", "0.004 mm").NonNegative(), within("0..0.03 mm")).Working(units.Millimetre)
	if len(w.Steps) != 2 || w.Steps[0].Result != "<= 0.026 mm" || w.Steps[1].Numbers != "" {
		t.Errorf("what cannot be negative:\n%s", w)
	}
	w = measure.Assess(by(t, "m", "0.026 mm", "0.014 mm"), limits).Working(units.Millimetre)
	if len(w.Steps) != 2 || !strings.Contains(w.Steps[0].Result, "takes all of the tolerance") {
		t.Errorf("a guard band that leaves nothing:\n%s", w)
	}
	for _, w := range []units.Working{
		measure.Assess(measure.LengthReading{}, limits).Working(units.Millimetre),
		measure.Assess(given("0.02 mm"), units.LengthInterval{}).Working(units.Millimetre),
	} {
		if len(w.Steps) != 0 {
			t.Errorf("steps of nothing:\n%s", w)
		}
	}
}

func TestRules(t *testing.T) {
	limits := within("0.024..0.048 mm")
	near := by(t, "m", "0.025 mm", "0.005 mm")
	if got := measure.Assess(near, limits).Verdict; got != measure.Undecided {
		t.Errorf("proof demanded: %s", got)
	}
	if got := measure.SimpleAcceptance(near, limits); got != measure.Conforming {
		t.Errorf("simple acceptance: %s", got)
	}
	below := measure.Given(within("0.012..0.030 mm"), "")
	if got := measure.SimpleAcceptance(below, limits); got != measure.BelowLimit {
		t.Errorf("simple acceptance of a bracket: %s", got)
	}
	open := measure.Given(within(">= 0.030 mm"), "")
	if got := measure.SimpleAcceptance(open, limits); got != measure.Undecided {
		t.Errorf("simple acceptance of one bound: %s", got)
	}
	accept, err := measure.Accepting(limits, sized("0.005 mm"))
	if err != nil || !accept.Equal(within("0.029..0.043 mm")) {
		t.Errorf("guarded %s, %v", accept, err)
	}
	for limits, want := range map[string]string{"<= 0.048 mm": "<= 0.043 mm", ">= 0.024 mm": ">= 0.029 mm"} {
		if got, err := measure.Accepting(within(limits), sized("0.005 mm")); err != nil || !got.Equal(within(want)) {
			t.Errorf("guarded %s is %s, %v", limits, got, err)
		}
	}
	if _, err := measure.Accepting(units.LengthInterval{}, sized("0.005 mm")); !errors.Is(err, measure.ErrEmpty) {
		t.Errorf("without limits: %v", err)
	}
	if _, err := measure.Accepting(limits, sized("0.0121 mm")); !errors.Is(err, measure.ErrOrder) {
		t.Errorf("a guard band of more than half the tolerance: %v", err)
	}
	// Guarded rejection: 0.024 - 0.001 and 0.048 + 0.001.
	if got, err := measure.Accepting(limits, sized("-0.001 mm")); err != nil || !got.Equal(within("0.023..0.049 mm")) {
		t.Errorf("guarded rejection %s, %v", got, err)
	}
}

// A guard band of the expanded uncertainty is the rule of proof.
func TestAGuardBandOfTheUncertaintyIsProof(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limits := drawInterval(t, "limits", 20, 60)
		value, u := drawLength(t, "value", 10, 70), drawLength(t, "u", 1, 20)
		accept, err := measure.Accepting(limits, u)
		accepted := err == nil && accept.Contains(value)
		proven := measure.Judge(units.PlusMinus(value, u), limits) == measure.Conforming
		if accepted != proven {
			t.Fatalf("%s ± %s to %s: accepted %t, proven %t", value, u, limits, accepted, proven)
		}
	})
}
