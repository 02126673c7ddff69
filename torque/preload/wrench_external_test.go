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
	tests := []struct {
		span, graduation, target string
		sets                     string // the nearest first
		words                    string
	}{
		{"20..100 N·m", "2 N·m", "29 N·m", "28 N·m, 30 N·m", "set 28.00 N·m, 1.00 N·m below the target (-3.45 %)"},
		{"20..100 N·m", "2 N·m", "29.2 N·m", "30 N·m, 28 N·m", "set 30.00 N·m, 0.80 N·m above the target (+2.74 %)"},
		{"20..100 N·m", "2 N·m", "30 N·m", "30 N·m", "set 30.00 N·m, the target itself"},
		{"20..100 N·m", "3 N·m", "99.5 N·m", "98 N·m", "set 98.00 N·m, 1.50 N·m below the target (-1.51 %)"},
		{"5..25 N·m", "0.25 N·m", "5 N·m", "5 N·m", "set 5.00 N·m, the target itself"},
	}
	for _, test := range tests {
		all, err := wrenchOf(test.span, test.graduation, "0.04").Settings(units.MustParseTorque(test.target))
		if err != nil {
			t.Errorf("%s: %v", test.target, err)
			continue
		}
		var sets []string
		for _, s := range all {
			sets = append(sets, s.Set.String())
		}
		if got, words := strings.Join(sets, ", "), all[0].In(units.NewtonMetre, 2); got != test.sets || words != test.words {
			t.Errorf("%s: %q, %q, want %q, %q", test.target, got, words, test.sets, test.words)
		}
	}
}

func TestSettingWithin(t *testing.T) {
	w := wrenchOf("20..100 N·m", "2 N·m", "0.04")
	// 28/1.04 is 26.92, 28/0.96 is 29.17; 30/1.04 is 28.85, 30/0.96 is 31.25.
	s, err := w.SettingWithin(units.MustParse[units.TorqueInterval]("26.8..31.1 N·m"))
	if err != nil || s.Set.String() != "28 N·m" {
		t.Errorf("set %v, %v; want 28 N·m", s.Set, err)
	}
	if _, err := w.SettingWithin(units.MustParse[units.TorqueInterval]("28..30 N·m")); !errors.Is(err, preload.ErrImpossible) {
		t.Errorf("error %v, want ErrImpossible", err)
	}
	if _, err := w.SettingWithin(units.MustParse[units.TorqueInterval]("<= 30 N·m")); !errors.Is(err, preload.ErrImpossible) {
		t.Errorf("error %v, want ErrImpossible", err)
	}
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
		got, err := wrenchOf("5..200 N·m", "1 N·m", test.accuracy).Settings(units.MustParseTorque(test.set))
		if err != nil {
			t.Fatal(err)
		}
		if text := got[0].Torque.FormatOutward(units.NewtonMetre, 4); text != test.want {
			t.Errorf("%s at %s: %s, want %s", test.set, test.accuracy, text, test.want)
		}
	}
	// Limits that a wrench of ±4 % just keeps, and what the old reading would have taken.
	w := wrenchOf("20..120 N·m", "1 N·m", "0.04")
	if _, err := w.SettingWithin(units.MustParse[units.TorqueInterval]("96..104 N·m")); !errors.Is(err, preload.ErrImpossible) {
		t.Errorf("96..104 N·m is kept: %v", err)
	}
	if s, err := w.SettingWithin(units.MustParse[units.TorqueInterval]("95.9..104.2 N·m")); err != nil || s.Set.String() != "100 N·m" {
		t.Errorf("95.9..104.2 N·m: %v, %v", s, err)
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
		all, err := w.Settings(units.NewtonMetre.OfInt(set))
		if err != nil {
			t.Fatal(err)
		}
		if at := all[0].Torque; at.Contains(units.NewtonMetre.OfInt(applied)) != passes {
			t.Fatalf("set %d, applied %d, deviation %s, accuracy %s: %v", set, applied, deviation.FloatString(4), accuracy, at)
		}
	})
}

func TestToolErrors(t *testing.T) {
	target := units.MustParseTorque("30 N·m")
	settings := func(span, graduation, accuracy string) error {
		_, err := wrenchOf(span, graduation, accuracy).Settings(target)
		return err
	}
	extension := func(lever, offset, angle string) error {
		_, err := extensionOf(lever, offset, angle).Setting(target)
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
		all, err := w.Settings(nm(target))
		if err != nil {
			t.Fatal(err)
		}
		nearest := all[0]
		if !w.Range.Contains(nearest.Set) {
			t.Fatalf("set %v outside %v", nearest.Set, w.Range)
		}
		off := nearest.Off.Abs()
		if len(all) == 2 && (w.Graduation.Less(off.MulInt(2)) || all[1].Off.Abs().Less(off) || !all[1].Set.Sub(nearest.Set).Abs().Equal(w.Graduation)) {
			t.Fatalf("off by %v with a graduation of %v, and %v beside it", off, w.Graduation, all[1].Set)
		}
		if !nearest.Set.Sub(nearest.Off).Equal(nm(target)) {
			t.Fatalf("set %v less %v is not the target", nearest.Set, nearest.Off)
		}
	})
}

func extensionOf(lever, offset, angle string) preload.Extension {
	return preload.Extension{Lever: units.MustParseLength(lever), Offset: units.MustParseLength(offset), Angle: units.MustParseAngle(angle)}
}

// By hand: 90 N·m over a lever of 400 mm and an offset of 50 mm: straight on 90·400/450 = 80,
// at 60° 90·400/425 = 84.70588, square 90, backwards 90·400/350 = 102.85714.
func TestExtension(t *testing.T) {
	for angle, want := range map[string]string{
		"0°": "80.00000 N·m", "60°": "84.70588 N·m", "-60°": "84.70588 N·m", "90°": "90.00000 N·m", "180°": "102.85714 N·m",
		"45°": fmt.Sprintf("%.5f N·m", 90*400/(400+50*math.Sqrt2/2)),
	} {
		e := extensionOf("400 mm", "50 mm", angle)
		set, err := e.Setting(units.MustParseTorque("90 N·m"))
		if err != nil {
			t.Fatal(err)
		}
		if got := set.Format(units.NewtonMetre, 5, units.HalfEven); got != want {
			t.Errorf("at %s set %s, want %s", angle, got, want)
		}
		if back, err := e.Bolt(set); err != nil || !back.Equal(units.MustParseTorque("90 N·m")) {
			t.Errorf("at %s the bolt gets %v, %v; want 90 N·m", angle, back, err)
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
