package preload_test

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

func wrenchOf(span, graduation, accuracy string) preload.Wrench {
	return preload.Wrench{
		Range: units.MustParse[units.TorqueInterval](span), Graduation: units.MustParseTorque(graduation), Accuracy: units.MustParseRatio(accuracy),
	}
}

func TestSettings(t *testing.T) {
	tests := []struct{ span, graduation, accuracy, target, sets string }{ // the nearest first
		{"20..100 N·m", "2 N·m", "0.04", "29 N·m", "[28 N·m 30 N·m]"},
		{"20..100 N·m", "2 N·m", "0.04", "29.2 N·m", "[30 N·m 28 N·m]"},
		{"20..100 N·m", "2 N·m", "0.04", "30 N·m", "[30 N·m]"},
		{"20..100 N·m", "3 N·m", "0.04", "99.5 N·m", "[98 N·m]"},
		{"5..25 N·m", "0.25 N·m", "0.04", "5 N·m", "[5 N·m]"},
		// 28/1.04 is 26.92, 28/0.96 is 29.17; 30/1.04 is 28.85, 30/0.96 is 31.25.
		{"20..100 N·m", "2 N·m", "0.04", "26.8..31.1 N·m", "[28 N·m]"},
		{"20..100 N·m", "2 N·m", "0.04", "26.8..31.3 N·m", "[30 N·m 28 N·m]"},
		{"20..120 N·m", "1 N·m", "0.04", "95.9..104.2 N·m", "[100 N·m]"},
		// A wrench of 30 % keeps 50..100 N·m from 50·1.3 = 65 to 100·0.7 = 70, below its middle, and
		// 90..210 N·m from 117 to 147, of which it has none above 100.
		{"20..100 N·m", "5 N·m", "0.3", "50..100 N·m", "[70 N·m]"},
		{"20..100 N·m", "4 N·m", "0.3", "50..100 N·m", "[68 N·m]"},
	}
	for _, test := range tests {
		got, err := wrenchOf(test.span, test.graduation, test.accuracy).Settings(units.MustParse[units.TorqueInterval](test.target))
		if err != nil || fmt.Sprint(got) != test.sets {
			t.Errorf("%s at %s: %v, %v; want %s", test.target, test.accuracy, got, err, test.sets)
		}
	}
	if got, err := wrenchOf("20..100 N·m", "4 N·m", "0.3").Settings(units.MustParse[units.TorqueInterval]("90..210 N·m")); !errors.Is(err, preload.ErrImpossible) {
		t.Errorf("beyond the range: %v, error %v, want ErrImpossible", got, err)
	}
	// 90..120 N·m takes 93.6 to 115.2 of a wrench of 4 %, and 105 is its middle.
	if got, err := wrenchOf("20..100 N·m", "2 N·m", "0.04").Settings(units.MustParse[units.TorqueInterval]("90..120 N·m")); err != nil || fmt.Sprint(got) != "[100 N·m]" {
		t.Errorf("at the end of the range: %v, %v; want 100 N·m", got, err)
	}
	for _, target := range []string{"5..10 N·m", "130..150 N·m", "19 N·m", "101 N·m"} {
		var got *units.Error
		if _, err := wrenchOf("20..100 N·m", "2 N·m", "0.04").Settings(units.MustParse[units.TorqueInterval](target)); !errors.As(err, &got) || got.Fix != "take a wrench whose range holds it, best in its middle" {
			t.Errorf("%s: error %v, want another wrench", target, err)
		}
	}
	for _, target := range []string{"28..30 N·m", "<= 30 N·m", ">= 30 N·m", "0 N·m", "0..60 N·m", "-30 N·m"} {
		if got, err := wrenchOf("20..100 N·m", "2 N·m", "0.04").Settings(units.MustParse[units.TorqueInterval](target)); !errors.Is(err, preload.ErrImpossible) {
			t.Errorf("%s: %v, error %v, want ErrImpossible", target, got, err)
		}
	}
}

// Settings that keep a tolerance are found whenever there are any: every graduation is tried.
func TestSettingsKeepTheTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := preload.Wrench{Range: units.MustParse[units.TorqueInterval]("10..80 N·m"), Graduation: units.NewtonMetre.OfInt(rapid.Int64Range(1, 9).Draw(t, "graduation")),
			Accuracy: thousandths(rapid.Int64Range(0, 400).Draw(t, "accuracy"))}
		if rapid.Bool().Draw(t, "with an extension") {
			w.Extension = extensionOf("400 mm", fmt.Sprintf("%d mm", rapid.IntRange(0, 200).Draw(t, "offset")), rapid.SampledFrom([]string{"0°", "60°", "90°", "180°"}).Draw(t, "angle"))
		}
		lo := rapid.Int64Range(1, 100).Draw(t, "lo")
		target := units.MustInterval(units.NewtonMetre.OfInt(lo), units.NewtonMetre.OfInt(lo+rapid.Int64Range(1, 60).Draw(t, "wide")))
		var keep []units.Torque
		for set := w.Range.Lo(); w.Range.Contains(set); set = set.Add(w.Graduation) {
			at, err := w.Applied(set)
			if err != nil {
				t.Fatal(err)
			}
			if at.Within(target) {
				keep = append(keep, set)
			}
		}
		got, err := w.Settings(target)
		if err != nil {
			if len(keep) > 0 {
				t.Fatalf("%v keep %v, and it says %v", keep, target, err)
			}
			return
		}
		for _, set := range got {
			rounded := units.MustParseTorque("0.000000001 N·m")
			if at, err := w.Applied(set); err != nil || !at.Within(units.MustInterval(target.Lo().Sub(rounded), target.Hi().Add(rounded))) {
				t.Fatalf("set %v for %v: %v, %v", set, target, at, err)
			}
		}
	})
}

// ISO 6789 refers a deviation to the applied torque: set to 100 N·m and 4 % off, a wrench
// applies 100/1.04 = 96.1538… to 100/0.96 = 104.1666… N·m. 50 N·m at 6 % is 47.1698… to
// 53.1914….
func TestSettingIsReferredToTheAppliedTorque(t *testing.T) {
	for _, test := range []struct{ accuracy, set, want string }{
		{"0.04", "100 N·m", "96.1538..104.1667 N·m"},
		{"0.06", "50 N·m", "47.1698..53.1915 N·m"},
		{"0", "30 N·m", "30.0000 N·m"},
	} {
		got, err := wrenchOf("5..200 N·m", "1 N·m", test.accuracy).Applied(units.MustParseTorque(test.set))
		if err != nil {
			t.Fatal(err)
		}
		if text := got.FormatOutward(units.NewtonMetre, 4); text != test.want {
			t.Errorf("%s at %s: %s, want %s", test.set, test.accuracy, text, test.want)
		}
	}
	// Limits that a wrench of ±4 % would keep if the deviation were a part of the setting.
	w := wrenchOf("20..120 N·m", "1 N·m", "0.04")
	if _, err := w.Settings(units.MustParse[units.TorqueInterval]("96..104 N·m")); !errors.Is(err, preload.ErrImpossible) {
		t.Errorf("96..104 N·m is kept: %v", err)
	}
	for _, set := range []string{"19.9 N·m", "120.1 N·m"} {
		if got, err := w.Applied(units.MustParseTorque(set)); !errors.Is(err, preload.ErrImpossible) {
			t.Errorf("set to %s: %v, error %v, want ErrImpossible", set, got, err)
		}
	}
}

// Whatever torque is applied, it lies in what a setting gives if and only if the deviation that
// a test of the tool would find keeps within the accuracy.
func TestSettingHoldsWhatATestWouldPass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		accuracy := thousandths(rapid.Int64Range(0, 999).Draw(t, "accuracy"))
		set := rapid.Int64Range(1, 100_000).Draw(t, "set")
		applied := max(1, set+rapid.Int64Range(-set, set).Draw(t, "off")*rapid.Int64Range(0, 3).Draw(t, "times"))
		w := preload.Wrench{Range: units.Exactly(units.NewtonMetre.OfInt(set)), Graduation: units.NewtonMetre.OfInt(1), Accuracy: accuracy}
		deviation := new(big.Rat).SetFrac64(set-applied, applied)
		passes := deviation.Abs(deviation).Cmp(accuracy.Rat(units.One)) <= 0
		at, err := w.Applied(units.NewtonMetre.OfInt(set))
		if err != nil {
			t.Fatal(err)
		}
		if at.Contains(units.NewtonMetre.OfInt(applied)) != passes {
			t.Fatalf("set %d, applied %d, deviation %s, accuracy %s: %v", set, applied, deviation.FloatString(4), accuracy, at)
		}
	})
}

func TestToolErrors(t *testing.T) {
	target := units.MustParse[units.TorqueInterval]("30 N·m")
	settings := func(span, graduation, accuracy string) error {
		_, err := wrenchOf(span, graduation, accuracy).Settings(target)
		return err
	}
	extension := func(lever, offset, angle string) error {
		w := wrenchOf("20..100 N·m", "1 N·m", "0.04")
		w.Extension = extensionOf(lever, offset, angle)
		_, err := w.Working(target, units.NewtonMetre, 1)
		return err
	}
	tests := []struct {
		name string
		err  error
		want error
	}{
		{"target above the range", settings("5..25 N·m", "1 N·m", "0.04"), preload.ErrImpossible},
		{"target below the range", settings("40..200 N·m", "1 N·m", "0.04"), preload.ErrImpossible},
		{"half a range", settings("<= 200 N·m", "1 N·m", "0.04"), preload.ErrImpossible},
		{"no range", settings("0 N·m", "1 N·m", "0.04"), preload.ErrImpossible},
		{"no graduation", settings("20..100 N·m", "0 N·m", "0.04"), preload.ErrImpossible},
		{"graduation beyond the range", settings("20..100 N·m", "81 N·m", "0.04"), preload.ErrImpossible},
		{"accuracy in percent", settings("20..100 N·m", "1 N·m", "4"), preload.ErrImpossible},
		{"no lever", extension("0 mm", "50 mm", "0°"), preload.ErrImpossible},
		{"offset below zero", extension("400 mm", "-50 mm", "0°"), preload.ErrImpossible},
		{"out of reach with the extension", extension("400 mm", "250 mm", "0°"), preload.ErrImpossible}, // 30·400/650 = 18.5 N·m
		{"lever taken away", extension("400 mm", "400 mm", "180°"), preload.ErrImpossible},
	}
	for _, test := range tests {
		var got *units.Error
		if !errors.Is(test.err, test.want) || !errors.As(test.err, &got) {
			t.Errorf("%s: error %v, want %v", test.name, test.err, test.want)
		}
	}
}

// The nearest graduation is never further off than half a graduation, unless the range ends
// there.
func TestNearestSetting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nm := func(n int64) units.Torque { return units.NewtonMetre.Of(decimal.New(n, -2)) }
		lo := rapid.Int64Range(0, 5_000).Draw(t, "lo")
		hi := rapid.Int64Range(lo+1, lo+30_000).Draw(t, "hi")
		step := rapid.Int64Range(1, min(500, hi-lo)).Draw(t, "graduation")
		target := rapid.Int64Range(max(lo, 1), hi).Draw(t, "target")
		w := preload.Wrench{Range: units.MustInterval(nm(lo), nm(hi)), Graduation: nm(step)}
		settings, err := w.Settings(units.Exactly(nm(target)))
		if err != nil {
			t.Fatal(err)
		}
		nearest := settings[0]
		if !w.Range.Contains(nearest) || !nearest.Sub(w.Range.Lo()).Ratio(w.Graduation).IsInt() {
			t.Fatalf("set %v: no graduation of %v in %v", nearest, w.Graduation, w.Range)
		}
		off := nearest.Sub(nm(target)).Abs()
		if len(settings) == 2 && (w.Graduation.Less(off.MulInt(2)) || settings[1].Sub(nm(target)).Abs().Less(off) || !settings[1].Sub(nearest).Abs().Equal(w.Graduation)) {
			t.Fatalf("off by %v with a graduation of %v, and %v beside it", off, w.Graduation, settings[1])
		}
		if len(settings) == 1 && !off.IsZero() && w.Range.Contains(nearest.Add(w.Graduation)) {
			t.Fatalf("%v alone for %v", settings, nm(target))
		}
	})
}

func extensionOf(lever, offset, angle string) *preload.Extension {
	return &preload.Extension{Lever: units.MustParseLength(lever), Offset: units.MustParseLength(offset), Angle: units.MustParseAngle(angle)}
}

// By hand: 80 N·m on a lever of 400 mm with an offset of 50 mm: straight on 80·450/400 = 90,
// at 60° 80·425/400 = 85, square 80, at 120° 80·375/400 = 75, backwards 80·350/400 = 70.
func TestExtension(t *testing.T) {
	for angle, want := range map[string]string{
		"0°": "90.00000 N·m", "60°": "85.00000 N·m", "-60°": "85.00000 N·m", "300°": "85.00000 N·m", "90°": "80.00000 N·m", "270°": "80.00000 N·m",
		"120°": "75.00000 N·m", "240°": "75.00000 N·m", "180°": "70.00000 N·m", "360°": "90.00000 N·m",
		"45°": fmt.Sprintf("%.5f N·m", 80*(400+50*math.Sqrt2/2)/400), "1.5°": fmt.Sprintf("%.5f N·m", 80*(400+50*math.Cos(1.5/180*math.Pi))/400),
	} {
		w := wrenchOf("20..100 N·m", "1 N·m", "0")
		w.Extension = extensionOf("400 mm", "50 mm", angle)
		got, err := w.Applied(units.MustParseTorque("80 N·m"))
		if err != nil {
			t.Fatal(err)
		}
		if text := got.Mid().Format(units.NewtonMetre, 5, units.HalfEven); text != want {
			t.Errorf("at %s the bolt gets %s, want %s", angle, text, want)
		}
		back, err := w.Settings(units.Exactly(got.Mid()))
		if off := back[0].Sub(units.MustParseTorque("80 N·m")).Abs(); err != nil || !off.IsZero() {
			t.Errorf("at %s for %v set %v, %v; want 80 N·m", angle, got, back, err)
		}
	}
}

func TestSwings(t *testing.T) {
	tests := []struct{ turn, most, step, want string }{
		{"90°", "70°", "5°", "[45 ° 45 °]"},
		{"100°", "40°", "5°", "[35 ° 35 ° 30 °]"},
		{"90°", "45°", "30°", "[30 ° 30 ° 30 °]"},
		{"90°", "120°", "5°", "[90 °]"},
		{"92.5°", "50°", "5°", "[45 ° 47.5 °]"},
		{"1/4 turn", "1/8 turn", "1°", "[45 ° 45 °]"},
	}
	for _, test := range tests {
		got, err := preload.Swings(units.MustParseAngle(test.turn), units.MustParseAngle(test.most), units.MustParseAngle(test.step))
		if err != nil {
			t.Errorf("%s: %v", test.turn, err)
			continue
		}
		if s := fmt.Sprint(got); s != test.want {
			t.Errorf("%s in swings of %s: %s, want %s", test.turn, test.most, s, test.want)
		}
	}
}

func TestSwingsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := func(name string, most int64) units.Angle {
			return units.Degree.Of(decimal.New(rapid.Int64Range(1, most).Draw(t, name), -1))
		}
		turn, most, step := angle("turn", 7_200), angle("most", 3_600), angle("step", 600)
		swings, err := preload.Swings(turn, most, step)
		if most.Less(step) {
			if !errors.Is(err, preload.ErrImpossible) {
				t.Fatalf("error %v, want ErrImpossible", err)
			}
			return
		}
		if errors.Is(err, preload.ErrImpossible) && turn.Cmp(step.MulInt(1000)) > 0 {
			t.Skip("more swings than are allowed")
		}
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range swings {
			if s.Sign() <= 0 || most.Less(s) {
				t.Fatalf("swing %d of %v is %v", i+1, swings, s)
			}
			if i > 0 && i < len(swings)-1 && swings[i-1].Less(s) {
				t.Fatalf("%v does not begin with the largest", swings)
			}
		}
		if !units.Sum(swings...).Equal(turn) {
			t.Fatalf("%v do not add up to %v", swings, turn)
		}
		lines := preload.SwingInstructions(swings, 6)
		if whole := fmt.Sprintf("to %v in all", turn); len(lines) != len(swings)+2 || len(swings) > 1 && !strings.Contains(lines[len(swings)], whole) {
			t.Fatalf("%q, want %q in the last", lines, whole)
		}
	})
}

func TestSwingErrors(t *testing.T) {
	for _, test := range []struct{ turn, most, step string }{
		{"0°", "60°", "5°"}, {"-90°", "60°", "5°"}, {"90°", "0°", "5°"}, {"90°", "60°", "0°"}, {"90°", "20°", "30°"}, {"90°", "0.01°", "0.01°"}, {"90°", "60°", "1e-90°"},
	} {
		_, err := preload.Swings(units.MustParseAngle(test.turn), units.MustParseAngle(test.most), units.MustParseAngle(test.step))
		var got *units.Error
		if !errors.Is(err, preload.ErrImpossible) || !errors.As(err, &got) {
			t.Errorf("%v: error %v, want ErrImpossible", test, err)
		}
	}
}

// A head with one mark counts its turns by it: the least that is taken.
func TestSwingsByOneMark(t *testing.T) {
	lines := preload.SwingInstructions([]units.Angle{units.Degree.OfInt(90)}, 1)
	if want := "swing 1 of 1: turn 90 ° (1/4 of the head's 1 points)"; lines[1] != want {
		t.Errorf("%q, want %q", lines[1], want)
	}
}
