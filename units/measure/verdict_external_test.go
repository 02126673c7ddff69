package measure_test

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func TestJudge(t *testing.T) {
	limits := within("0.029..0.057 mm")
	for _, test := range []struct {
		name     string
		measured string
		want     measure.Verdict
	}{
		{"inside", "0.0315..0.0445 mm", measure.Conforming},
		{"the limits themselves", "0.029..0.057 mm", measure.Conforming},
		{"one value on the lower limit", "0.029 mm", measure.Conforming},
		{"across the lower limit", "0.025..0.038 mm", measure.Undecided},
		{"across the upper limit", "0.056..0.0571 mm", measure.Undecided},
		{"across both", "0.028..0.058 mm", measure.Undecided},
		{"touching the lower limit from below", "0.020..0.029 mm", measure.Undecided},
		{"below", "0.020..0.0289 mm", measure.BelowLimit},
		{"above", "0.0571..0.060 mm", measure.AboveLimit},
		{"only a lower bound, inside", ">= 0.040 mm", measure.Undecided},
		{"only a lower bound, above", ">= 0.058 mm", measure.AboveLimit},
		{"only an upper bound, below", "<= 0.028 mm", measure.BelowLimit},
	} {
		if got := measure.Judge(within(test.measured), limits); got != test.want {
			t.Errorf("%s: %s against %s is %s, want %s", test.name, test.measured, limits, got, test.want)
		}
	}
	if got := measure.Judge(within(">= 0.15 mm"), within(">= 0.11 mm")); got != measure.Conforming {
		t.Errorf("one-sided against one-sided is %s", got)
	}
}

func TestVerdictText(t *testing.T) {
	var zero measure.Verdict
	if zero != measure.Undecided {
		t.Error("the zero Verdict is not Undecided")
	}
	for v, want := range map[measure.Verdict]string{
		measure.Undecided: "undecided", measure.Conforming: "conforming",
		measure.BelowLimit: "below limit", measure.AboveLimit: "above limit",
	} {
		text, err := v.MarshalText()
		if err != nil || string(text) != want {
			t.Errorf("%d is written %q, %v; want %q", v, text, err, want)
		}
		var back measure.Verdict
		if err := back.UnmarshalText(text); err != nil || back != v {
			t.Errorf("%q is read as %s, %v", text, back, err)
		}
	}
	if _, err := measure.Verdict(9).MarshalText(); !errors.Is(err, units.ErrNotWritten) {
		t.Errorf("Verdict(9) is written: %v", err)
	}
	var v measure.Verdict
	if err := v.UnmarshalText([]byte("fine")); !errors.Is(err, units.ErrNotWritten) {
		t.Errorf(`"fine" is read: %v`, err)
	}
}

// A verdict on an interval is the one that holds for each of its points.
func TestJudgeIsTheVerdictOfEveryPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		measured, limits := drawInterval(t, "measured", 0, 20), drawInterval(t, "limits", 0, 20)
		point := drawIn(t, "point", measured)
		inside := limits.Contains(point)
		switch measure.Judge(measured, limits) {
		case measure.Conforming:
			if !inside {
				t.Fatalf("%s conforms and %s does not", measured, point)
			}
		case measure.BelowLimit:
			if !point.Less(limits.Lo()) {
				t.Fatalf("%s is below and %s is not", measured, point)
			}
		case measure.AboveLimit:
			if !limits.Hi().Less(point) {
				t.Fatalf("%s is above and %s is not", measured, point)
			}
		case measure.Undecided:
			if limits.Contains(measured.Lo()) && limits.Contains(measured.Hi()) {
				t.Fatalf("%s is undecided and both its ends are inside %s", measured, limits)
			}
		}
	})
}

// Wider limits never lose a conforming part, and narrower ones never win one.
func TestJudgeIsMonotoneInTheLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		measured, limits := drawInterval(t, "measured", 0, 30), drawInterval(t, "limits", 0, 30)
		wider := units.MustInterval(
			limits.Lo().Sub(drawLength(t, "lower by", 0, 9)), limits.Hi().Add(drawLength(t, "upper by", 0, 9)))
		narrow, wide := measure.Judge(measured, limits), measure.Judge(measured, wider)
		if narrow == measure.Conforming && wide != measure.Conforming {
			t.Fatalf("%s conforms to %s and is %s to %s", measured, limits, wide, wider)
		}
		if wide.Outside() && narrow != wide {
			t.Fatalf("%s is %s to %s and %s to %s", measured, wide, wider, narrow, limits)
		}
	})
}

// A reading that lies within another one never turns proven into unproven, nor
// into another proof.
func TestANarrowerReadingKeepsWhatWasProven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		measured, limits := drawInterval(t, "measured", 0, 30), drawInterval(t, "limits", 0, 30)
		narrower := units.Between(drawIn(t, "a", measured), drawIn(t, "b", measured))
		before, after := measure.Judge(measured, limits), measure.Judge(narrower, limits)
		if before != measure.Undecided && after != before {
			t.Fatalf("%s is %s, %s within it is %s", measured, before, narrower, after)
		}
	})
}
