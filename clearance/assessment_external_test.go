package clearance_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

func TestNeeded(t *testing.T) {
	strip, err := clearance.NewStrip(mm("0.020 mm"), mm("0.030 mm"), mm("0.040 mm"))
	if err != nil {
		t.Fatal(err)
	}
	between := reading[units.LengthDim](t)(strip.Between(mm("0.020 mm"), mm("0.030 mm")))
	for _, test := range []struct {
		name    string
		reading clearance.LengthReading
		limits  string
		want    string // empty: nothing is needed, or nothing would do
	}{
		// The limit cuts 0.020..0.030 into 0.004 and 0.006: half the narrower.
		{"a bracket across a limit", between, "0.024..0.048 mm", "0.002 mm"},
		{"a bracket across both limits", between, "0.023..0.024 mm", "0.0005 mm"},
		{"a bracket that ends on a limit", between, "0.030..0.048 mm", "0.005 mm"},
		{"a value inside", read(t, "m", "0.027 mm", "0.005 mm"), "0.024..0.048 mm", "0.003 mm"},
		{"a value outside", read(t, "m", "0.022 mm", "0.005 mm"), "0.024..0.048 mm", "0.002 mm"},
		{"a value on a limit", read(t, "m", "0.024 mm", "0.005 mm"), "0.024..0.048 mm", ""},
		{"a value inside, near the upper limit", read(t, "m", "0.047 mm", "0.005 mm"), "0.024..0.048 mm", "0.001 mm"},
		{"proven already", read(t, "m", "0.035 mm", "0.005 mm"), "0.024..0.048 mm", ""},
		{"not taken", clearance.LengthReading{}, "0.024..0.048 mm", ""},
		{"at least a limit", reading[units.LengthDim](t)(strip.Looser()), "0.024..0.048 mm", "0.004 mm"},
	} {
		a := clearance.Assess(test.reading, span(test.limits))
		got, ok := a.Needed()
		if ok != (test.want != "") || ok && !got.Equal(mm(test.want)) {
			t.Errorf("%s: %s, %t; want %q", test.name, got, ok, test.want)
		}
	}
}

func TestSettling(t *testing.T) {
	fine := clearance.LengthInstrument{Name: "fine", Uncertainty: mm("0.001 mm")}
	fair := clearance.LengthInstrument{Name: "fair", Uncertainty: mm("0.002 mm")}
	coarse := clearance.LengthInstrument{Name: "coarse", Uncertainty: mm("0.003 mm")}
	names := func(list []clearance.LengthInstrument) (names []string) {
		for _, in := range list {
			names = append(names, in.Name)
		}
		return names
	}
	limits := span("0.024..0.048 mm")
	// Outside by 0.002: an uncertainty of 0.002 still touches the limit.
	outside := clearance.Assess(read(t, "m", "0.022 mm", "0.005 mm"), limits)
	if got := names(outside.Settling(coarse, fair, fine)); len(got) != 1 || got[0] != "fine" {
		t.Errorf("outside: %q", got)
	}
	// Inside by 0.002: an uncertainty of 0.002 may touch it.
	inside := clearance.Assess(read(t, "m", "0.026 mm", "0.005 mm"), limits)
	if got := names(inside.Settling(coarse, fair, fine)); len(got) != 2 || got[0] != "fair" || got[1] != "fine" {
		t.Errorf("inside: %q", got)
	}
	// With two degrees of freedom t is 4.527, and 0.001 reaches 0.002264.
	loose := fine
	loose.Name, loose.Freedom = "loose", 2
	broken := fine
	broken.Freedom = -1
	if got := names(inside.Settling(loose, broken)); len(got) != 0 {
		t.Errorf("inside, with few degrees of freedom: %q", got)
	}
	if inside.SettledBy(mm("0 mm")) {
		t.Error("no uncertainty at all settles")
	}
	// √(2² + 3·1²) = √7 = 2.6457.. µm, up.
	if got := clearance.Together(fair, fine, fine, fine); !got.Equal(mm("0.002646 mm")) {
		t.Errorf("together %s", got)
	}
}

// What is needed settles: the value read again where it was, so closely, is
// proven, and its verdict is that of the value itself.
func TestNeededSettles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limits := drawInterval(t, "limits", 20, 60)
		value := drawLength(t, "value", 10, 70)
		in := clearance.LengthInstrument{Uncertainty: drawLength(t, "uncertainty", 1, 30)}
		before, err := in.Read(value)
		if err != nil {
			t.Fatal(err)
		}
		a := clearance.Assess(before, limits)
		needed, ok := a.Needed()
		if !ok {
			return
		}
		if !needed.Less(in.Uncertainty) && limits.Contains(value) {
			t.Fatalf("%s is undecided and %s would do", before, needed)
		}
		closer := needed
		if !a.SettledBy(needed) {
			closer = needed.MulRat(ratio(9, 10))
		}
		after, err := clearance.LengthInstrument{Uncertainty: closer}.Read(value)
		if err != nil {
			t.Fatal(err)
		}
		want := clearance.Judge(units.Exactly(value), limits)
		if got := clearance.Judge(after.Interval(), limits); got != want {
			t.Fatalf("%s to %s is %s, %s within ±%s is %s", value, limits, want, value, closer, got)
		}
	})
}

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
		a := clearance.Assess(clearance.Given(span(test.measured), ""), span(test.limits))
		margin, ok := a.Margin()
		if ok != (test.margin != "") || ok && !margin.Equal(mm(test.margin)) {
			t.Errorf("%s: margin %s, %t; want %q", test.name, margin, ok, test.margin)
		}
		by, ok := a.Outside()
		if ok != (test.outside != "") || ok && !by.Equal(span(test.outside)) {
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
		a := clearance.Assess(given(test.measured), span(test.limits))
		if a.AboveLower() != test.above || a.BelowUpper() != test.below {
			t.Errorf("%s to %s: above %t, below %t", test.measured, test.limits, a.AboveLower(), a.BelowUpper())
		}
	}
}

func TestAssessmentWorking(t *testing.T) {
	for _, test := range []struct {
		measured, limits string
		has, lacks       string
	}{
		{"0.028..0.036 mm", "0.024..0.048 mm", "inside by 0.004 mm at least", "would settle"},
		{"0.018..0.021 mm", "0.024..0.048 mm", "outside by 0.003..0.006 mm", "would settle"},
		{"0.020..0.030 mm", "0.024..0.048 mm", "proven not to be above the upper limit", "below the lower limit"},
		{"0.020..0.030 mm", "0.024..0.048 mm", "an expanded uncertainty of 0.002 mm would settle it", "inside by"},
		{"0.040..0.050 mm", "0.024..0.048 mm", "proven not to be below the lower limit", "above the upper limit"},
		{"0.040..0.050 mm", "<= 0.048 mm", "0.04..0.05 mm to <= 0.048 mm", "proven not"},
		{"0.020..0.030 mm", ">= 0.024 mm", "0.02..0.03 mm to >= 0.024 mm", "proven not"},
	} {
		text := clearance.Assess(given(test.measured), span(test.limits)).Working(units.Millimetre).Text()
		if !strings.Contains(text, test.has) || strings.Contains(text, test.lacks) {
			t.Errorf("%s to %s lacks %q, or has %q:\n%s", test.measured, test.limits, test.has, test.lacks, text)
		}
	}
}

func TestRemeasurements(t *testing.T) {
	b := clearance.MeasuredBearing{
		HousingBore: read(t, "bore gauge", "52.012 mm", "0.008 mm"),
		UpperWall:   read(t, "calliper", "2.003 mm", "0.006 mm"),
		LowerWall:   read(t, "calliper", "2.004 mm", "0.006 mm"),
		Journal:     read(t, "micrometer", "47.972 mm", "0.002 mm"),
	}
	f := b.Fit() // 0.033 ± √(64 + 36 + 36 + 4) = √140 = 11.83 µm
	ball := clearance.LengthInstrument{Name: "ball micrometer", Uncertainty: mm("0.001 mm")}
	setting := clearance.LengthInstrument{Name: "bore gauge on a ring", Uncertainty: mm("0.002 mm")}
	worse := clearance.LengthInstrument{Name: "worn bore gauge", Uncertainty: mm("0.009 mm")}
	offered := map[string][]clearance.LengthInstrument{"D": {worse, setting}, "t1": {ball}, "t2": {ball}, "d": {worse}}

	if got := f.Remeasurements(clearance.ByKind, span("0.020..0.050 mm"), offered); got != nil {
		t.Errorf("proven, and still %v", got)
	}
	// 0.009 to the lower limit. The bore alone: √(4 + 36 + 36 + 4) = 8.95, enough.
	// One wall alone: √(64 + 1 + 36 + 4) = 10.25, not enough.
	got := f.Remeasurements(clearance.ByKind, span("0.024..0.050 mm"), offered)
	if len(got) != 1 || len(got[0].Uses) != 1 || got[0].Uses[0].Term != "D" || got[0].Uses[0].Instrument.Name != setting.Name ||
		!got[0].Expanded.Equal(mm("0.008945 mm")) {
		t.Errorf("for 0.009 mm: %+v", got)
	}
	// 0.007: the bore and a wall, √(4 + 1 + 36 + 4) = 6.71; two walls √70 = 8.4 not.
	got = f.Remeasurements(clearance.ByKind, span("0.026..0.050 mm"), offered)
	if len(got) != 2 || len(got[0].Uses) != 2 || got[0].Uses[0].Term != "D" || got[0].Uses[1].Term != "t1" || got[1].Uses[1].Term != "t2" {
		t.Errorf("for 0.007 mm: %+v", got)
	}
	// 0.003: √(4 + 1 + 1 + 4) = 3.16 with everything at hand, not enough.
	if got = f.Remeasurements(clearance.ByKind, span("0.030..0.050 mm"), offered); got != nil {
		t.Errorf("for 0.003 mm: %+v", got)
	}
}

func TestRules(t *testing.T) {
	limits := span("0.024..0.048 mm")
	near := read(t, "m", "0.025 mm", "0.005 mm")
	if got := clearance.JudgeBy(clearance.ProveBoth, near, limits); got != clearance.Undecided {
		t.Errorf("proof demanded: %s", got)
	}
	if got := clearance.JudgeBy(clearance.SimpleAcceptance, near, limits); got != clearance.Conforming {
		t.Errorf("simple acceptance: %s", got)
	}
	below := clearance.Given(span("0.012..0.030 mm"), "")
	if got := clearance.JudgeBy(clearance.SimpleAcceptance, below, limits); got != clearance.BelowLimit {
		t.Errorf("simple acceptance of a bracket: %s", got)
	}
	open := clearance.Given(span(">= 0.030 mm"), "")
	if got := clearance.JudgeBy(clearance.SimpleAcceptance, open, limits); got != clearance.Undecided {
		t.Errorf("simple acceptance of one bound: %s", got)
	}
	accept, err := clearance.Accepting(limits, mm("0.005 mm"))
	if err != nil || !accept.Equal(span("0.029..0.043 mm")) {
		t.Errorf("guarded %s, %v", accept, err)
	}
	for limits, want := range map[string]string{"<= 0.048 mm": "<= 0.043 mm", ">= 0.024 mm": ">= 0.029 mm"} {
		if got, err := clearance.Accepting(span(limits), mm("0.005 mm")); err != nil || !got.Equal(span(want)) {
			t.Errorf("guarded %s is %s, %v", limits, got, err)
		}
	}
	for _, guard := range []string{"-0.001 mm", "0.0121 mm"} {
		if _, err := clearance.Accepting(limits, mm(guard)); !errors.Is(err, clearance.ErrGuardBand) {
			t.Errorf("guard band %s: %v", guard, err)
		}
	}
}

// A guard band of the expanded uncertainty is the rule of proof.
func TestAGuardBandOfTheUncertaintyIsProof(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limits := drawInterval(t, "limits", 20, 60)
		value, u := drawLength(t, "value", 10, 70), drawLength(t, "u", 1, 20)
		accept, err := clearance.Accepting(limits, u)
		accepted := err == nil && accept.Contains(value)
		proven := clearance.Judge(units.PlusMinus(value, u), limits) == clearance.Conforming
		if accepted != proven {
			t.Fatalf("%s ± %s to %s: accepted %t, proven %t", value, u, limits, accepted, proven)
		}
	})
}

// TestRemeasurementsByWorstCase: a gauge that would settle the fit by root-sum-square
// need not by worst case. By hand: 60 - 2 - 2 - 55.958 = 0.042 mm; with ±0.0016 mm for
// all four, √4 × 0.0016 = 0.0032 and 0.042 + 0.0032 < 0.0475, but 0.042 + 4 × 0.0016 =
// 0.0484 > 0.0475.
func TestRemeasurementsByWorstCase(t *testing.T) {
	read := func(value, good string) clearance.LengthReading {
		r, err := clearance.LengthInstrument{Name: value, Uncertainty: mm(good)}.Read(mm(value))
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	b := clearance.MeasuredBearing{
		HousingBore: read("60 mm", "0.009 mm"), UpperWall: read("2 mm", "0.0016 mm"),
		LowerWall: read("2 mm", "0.0016 mm"), Journal: read("55.958 mm", "0.0016 mm"),
	}
	offered := map[string][]clearance.LengthInstrument{"D": {{Name: "finer gauge", Uncertainty: mm("0.0016 mm")}}}
	limits := span("0.024..0.0475 mm")
	if got := b.Fit().Remeasurements(clearance.ByKind, limits, offered); len(got) != 1 || !got[0].Expanded.Equal(mm("0.0032 mm")) {
		t.Errorf("by kind: %+v", got)
	}
	if got := b.Fit().Remeasurements(clearance.WorstCase, limits, offered); got != nil {
		t.Errorf("by worst case: %+v", got)
	}
	got := b.Fit().Remeasurements(clearance.WorstCase, span("0.024..0.049 mm"), offered)
	if len(got) != 1 || !got[0].Expanded.Equal(mm("0.0064 mm")) {
		t.Errorf("by worst case, with wider limits: %+v", got)
	}
}
