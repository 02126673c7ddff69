package preload_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/closefit/torque"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func tighten(span string) torque.Action {
	return torque.Do(torque.Tighten{Within: units.MustParse[units.TorqueInterval](span)})
}

func turn(span string) torque.Action {
	return torque.Do(torque.Turn{Within: units.MustParse[units.AngleInterval](span)})
}

// A torque and its turns are those of Forecast.
func TestFollowIsForecast(t *testing.T) {
	bolt := rodBolt(t)
	states, err := bolt.Follow(tighten("19.2..20.8 N·m"), turn("40..44°"), turn("50..55°"))
	if err != nil {
		t.Fatal(err)
	}
	f, err := bolt.Forecast(units.MustParse[units.TorqueInterval]("19.2..20.8 N·m"), units.MustParse[units.AngleInterval]("40..44°"), units.MustParse[units.AngleInterval]("50..55°"))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range f.States {
		got := states[i]
		if !got.Preload.Equal(want.Preload) || !got.Torque.Equal(want.Torque) || got.Elastic != want.Elastic || !got.Turn.Equal(want.Turn) || i > 0 && !got.Added.Equal(want.Added) {
			t.Errorf("state %d: %v, want %v", i, got, want)
		}
	}
}

// pulled is the rod bolt with everything known: what it bears and what the wrench shows, after a
// turn from a torque.
func (p point) pulled(s preload.Screw) (force, shown float64) {
	force, _ = p.preload(s)
	d2 := s.Thread.PitchDiameter().Float64(units.Millimetre)
	lever := s.Thread.Pitch().Float64(units.Millimetre)/2/math.Pi + 0.577*d2*p.thread + (s.Face.Float64(units.Millimetre)+s.Hole.Float64(units.Millimetre))/4*p.bearing
	return force, force * lever / 1000
}

// drawPoint draws the rod bolt within its ranges, 0 to 4 quarters of the way through each.
func drawPoint(t *rapid.T, k float64) point {
	in := func(name string, lo, hi float64) float64 {
		return lo + (hi-lo)*float64(rapid.IntRange(0, 4).Draw(t, name))/4
	}
	return point{thread: in("thread", 0.10, 0.16), bearing: in("bearing", 0.09, 0.15), yield: in("yield", 940, 1080), stiffness: k * in("stiffness", 0.9, 1.1)}
}

// Whatever is within the ranges, the wrench shows a torque within the state's at the end of a turn,
// and a larger torque after a smaller one takes a turn within the state's.
func TestFollowHoldsEveryCase(t *testing.T) {
	bolt := rodBolt(t)
	k := stiffness(t).Float64(units.NewtonPerMillimetre)
	rapid.Check(t, func(t *rapid.T) {
		snug := rapid.Int64Range(10, 25).Draw(t, "snug")
		more := snug + rapid.Int64Range(1, 30).Draw(t, "more")
		degrees := rapid.Int64Range(1, 150).Draw(t, "turn")
		at := func(n int64) units.TorqueInterval {
			return units.PlusMinus(units.NewtonMetre.OfInt(n), units.MustParseTorque("0.5 N·m"))
		}
		by := units.PlusMinus(units.Degree.OfInt(degrees), units.Degree.OfInt(1))
		states, err := bolt.Follow(torque.Do(torque.Tighten{Within: at(snug)}), torque.Do(torque.Tighten{Within: at(more)}), torque.Do(torque.Turn{Within: by}))
		if err != nil {
			t.Fatal(err)
		}
		for range 10 {
			p := drawPoint(t, k)
			p.snug = float64(more) + float64(rapid.IntRange(-1, 1).Draw(t, "error"))/2
			p.angle = float64(degrees) + float64(rapid.IntRange(-1, 1).Draw(t, "slip"))
			force, shown := p.pulled(bolt.Screw)
			last := states[2]
			if last.Torque.Lo().Float64(units.NewtonMetre) > shown+1e-9 || shown > last.Torque.Hi().Float64(units.NewtonMetre)+1e-9 {
				t.Fatalf("the wrench shows %g N·m, expected %v", shown, last.Torque)
			}
			if last.Preload.Lo().Float64(units.Newton) > force+1e-6 || force > last.Preload.Hi().Float64(units.Newton)+1e-6 {
				t.Fatalf("it bears %g N, expected %v", force, last.Preload)
			}
			before := p
			before.snug, before.angle = float64(snug)+float64(rapid.IntRange(-1, 1).Draw(t, "error before"))/2, 0
			p.angle = 0
			from, _ := before.pulled(bolt.Screw)
			to, _ := p.pulled(bolt.Screw)
			turned := math.Max(0, to-from) / (p.stiffness * 1 / 360)
			added := states[1].Added
			if added.Lo().Float64(units.Degree) > turned+1e-6 || added.HasHi() && turned > added.Hi().Float64(units.Degree)+1e-6 {
				t.Fatalf("from %d to %d N·m it turns %g°, expected %v", snug, more, turned, added)
			}
		}
	})
}

// By hand, with friction, stiffness and yield known: P/2π + 0.577 · 8.350481 · 0.1 + 0.5 · 12.4 · 0.1
// = 1.260977 mm; 10 N·m more are 7930.4 N, and 7930.4 N · 360°/(165.9 kN/mm · 1 mm) = 17.209°.
func TestTurnBetweenTorquesByHand(t *testing.T) {
	bolt := rodBolt(t)
	bolt.Friction = preload.Friction{Thread: friction("0.1"), Bearing: friction("0.1")}
	bolt.Stiffness = units.Exactly(units.MustParse[units.Stiffness]("165.9 kN/mm"))
	states, err := bolt.Follow(tighten("12 N·m"), tighten("22 N·m"))
	if err != nil {
		t.Fatal(err)
	}
	if got := states[1].Added; math.Abs(got.Lo().Float64(units.Degree)-17.209) > 0.001 || got.Width().Float64(units.Degree) > 0.0001 {
		t.Errorf("%v, want 17.209°", got)
	}
	if !states[0].Added.IsEmpty() {
		t.Errorf("the first torque takes a turn of %v, which nobody can know", states[0].Added)
	}
}

// What a back-off leaves, and that a yielded bolt stays one.
func TestFollowBackOff(t *testing.T) {
	bolt := rodBolt(t)
	free, quarter := torque.Do(torque.BackOff{}), torque.Do(torque.BackOff{By: units.MustParseAngle("90°")})
	states, err := bolt.Follow(tighten("20 N·m"), free, tighten("12 N·m"), quarter, tighten("12 N·m"), turn("300°"), free, tighten("12 N·m"))
	if err != nil {
		t.Fatal(err)
	}
	if !states[1].Preload.IsPoint() || !states[1].Preload.Lo().IsZero() || !states[1].Torque.IsEmpty() {
		t.Errorf("backed off until free it bears %v", states[1].Preload)
	}
	if !states[2].Added.IsEmpty() {
		t.Errorf("a torque after a back-off takes %v", states[2].Added)
	}
	if !states[3].Preload.Lo().IsZero() || !states[3].Preload.Hi().Equal(states[2].Preload.Hi()) {
		t.Errorf("backed off by 90° it bears %v after %v", states[3].Preload, states[2].Preload)
	}
	for i, want := range []measure.Verdict{0: measure.Conforming, 4: measure.Conforming, 5: measure.AboveLimit, 6: measure.AboveLimit, 7: measure.AboveLimit} {
		if (i < 1 || i > 3) && states[i].Elastic != want {
			t.Errorf("state %d: %v, want %v", i, states[i].Elastic, want)
		}
	}
}

// A torque beyond yield leaves a yielded bolt, and no error.
func TestFollowBeyondYield(t *testing.T) {
	states, err := rodBolt(t).Follow(tighten("20 N·m"), tighten("200 N·m"))
	if err != nil || states[1].Elastic != measure.AboveLimit {
		t.Fatalf("%v, %v", states, err)
	}
	if states[1].Added.HasHi() {
		t.Errorf("it turns %v, and a bolt that yields goes on turning", states[1].Added)
	}
	// The weakest yields at 940 MPa on As = π/4·((8.350481 + 7.773131)/2)² = 51.05 mm² at the latest, twist
	// left aside, and the stiffest, 1.1 · 165.9 kN/mm, is there after 47.98 kN/(182.49 kN/mm · 1 mm) · 360° = 94.7°.
	if least := states[1].Added.Lo().Float64(units.Degree); least > 94.7 {
		t.Errorf("it turns %v, and the weakest yields by 94.7°", states[1].Added)
	}
}

func TestFollowErrors(t *testing.T) {
	for _, tt := range []struct {
		name  string
		bolt  func(*preload.YieldBolt)
		pulls []torque.Action
		want  string
	}{
		{"a pause", nil, []torque.Action{tighten("20 N·m"), torque.Do(torque.Wait{For: time.Minute})}, "pauses"},
		{"a turn first", nil, []torque.Action{turn("20°")}, "no torque before it"},
		{"a turn after a back-off", nil, []torque.Action{tighten("20 N·m"), torque.Do(torque.BackOff{}), turn("20°")}, "pull 3"},
		{"no stiffness", func(b *preload.YieldBolt) { b.Stiffness = units.StiffnessInterval{} }, []torque.Action{tighten("20 N·m")}, "stiffness"},
		{"no strength", func(b *preload.YieldBolt) { b.Yield = units.PressureInterval{} }, []torque.Action{tighten("20 N·m")}, "yield"},
		{"the zero action", nil, []torque.Action{{}}, "pull 1"},
	} {
		bolt := rodBolt(t)
		if tt.bolt != nil {
			tt.bolt(&bolt)
		}
		if got, err := bolt.Follow(tt.pulls...); !errors.Is(err, preload.ErrImpossible) || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, %v, want %q", tt.name, got, err, tt.want)
		}
	}
}
