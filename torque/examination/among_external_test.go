package examination_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/torque"
	"example.com/closefit/torque/examination"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

// twoBolts simulates two bolts under one cap, pull by pull, as springs in closed form. Each bolt has a
// friction of its own; share is what one feels of the other.
type twoBolts struct {
	kb, km, share, pitch, yield float64
	lever                       [2]float64
	advance, force              [2]float64
	tight                       [2]bool
}

func (s *twoBolts) own() float64   { return 1/s.kb + 1/s.km }
func (s *twoBolts) cross() float64 { return s.share / s.km }

// settle gives the other bolt its force, and the nut of this one its place.
func (s *twoBolts) settle(i int) {
	j := 1 - i
	if s.tight[j] {
		s.force[j] = math.Max(0, (s.advance[j]-s.cross()*s.force[i])/s.own())
	}
	s.advance[i] = s.own()*s.force[i] + s.cross()*s.force[j]
}

func (s *twoBolts) torque(i int, newtonMetres float64) {
	s.force[i], s.tight[i] = math.Min(1000*newtonMetres/s.lever[i], s.yield), true
	s.settle(i)
}

func (s *twoBolts) turn(i int, degrees float64) {
	j := 1 - i
	u := s.advance[i] + s.pitch*degrees/360
	// own F_i + cross F_j = u_i and cross F_i + own F_j = u_j, both tight.
	s.force[i] = (s.own()*u - s.cross()*s.advance[j]) / (s.own()*s.own() - s.cross()*s.cross())
	s.force[i] = math.Min(s.force[i], s.yield)
	s.settle(i)
}

// Whatever the frictions, the share and the tool are within their ranges, and different for the two
// bolts of a cap, the wrench shows a torque within what is expected of each pull, a larger torque takes
// a turn within what is expected, and what is left lies in what Examine says.
func TestExpectHoldsTwoBolts(t *testing.T) {
	b := capBolt(t)
	joint := jointOf(200, 600)
	b.Joint, b.Share = &joint, friction("0.2..0.6")
	plan := planOf(t, torque.SingleUse, tighten("19..21 N·m"), tighten("29..31 N·m"), turn("28..32°"))
	x := examine(t, b, plan)
	expected := map[string]preload.State{}
	for _, s := range plan.Steps() {
		state, err := b.Expect(plan, s, s.Do)
		if err != nil {
			t.Fatal(err)
		}
		expected[fmt.Sprint(s.Bolt, s.Stage)] = state
	}
	d2 := b.Bolt.Screw.Thread.PitchDiameter().Float64(units.Millimetre)
	bearing := (b.Bolt.Screw.Face.Float64(units.Millimetre) + b.Bolt.Screw.Hole.Float64(units.Millimetre)) / 2
	rapid.Check(t, func(t *rapid.T) {
		in := func(name string, lo, hi float64) float64 {
			return lo + (hi-lo)*float64(rapid.IntRange(0, 8).Draw(t, name))/8
		}
		stiff := in("stiffness", 0.9, 1.1)
		s := twoBolts{kb: 200_000 * stiff, km: 600_000 * stiff, share: in("share", 0.2, 0.6), pitch: 1.5, yield: math.Inf(1)}
		for i := range s.lever {
			thread, head := in("thread", 0.10, 0.14), in("head", 0.10, 0.14)
			s.lever[i] = 1.5/(2*math.Pi) + 0.577*d2*thread + bearing/2*head
		}
		within := func(what string, span units.TorqueInterval, got float64) {
			if got < span.Lo().Float64(units.NewtonMetre)-1e-6 || got > span.Hi().Float64(units.NewtonMetre)+1e-6 {
				t.Fatalf("%s: %g N·m, expected %v", what, got, span)
			}
		}
		for _, step := range plan.Steps() {
			i := map[string]int{"1L": 0, "1R": 1}[step.Bolt]
			want := expected[fmt.Sprint(step.Bolt, step.Stage)]
			before := s.advance[i]
			switch step.Stage {
			case 1:
				s.torque(i, in("first", 19, 21))
			case 2:
				s.torque(i, in("second", 29, 31))
				turned := math.Max(0, (s.advance[i]-before)*360/s.pitch)
				if turned < want.Added.Lo().Float64(units.Degree)-1e-4 || turned > want.Added.Hi().Float64(units.Degree)+1e-4 {
					t.Fatalf("%v turned %g°, expected %v", step, turned, want.Added)
				}
			default:
				s.turn(i, in("turn", 28, 32))
				within(step.String(), want.Torque, s.force[i]*s.lever[i]/1000)
			}
			if f := want.Preload; s.force[i] < f.Lo().Float64(units.Newton)-1e-3 || s.force[i] > f.Hi().Float64(units.Newton)+1e-3 {
				t.Fatalf("%v bears %g N, expected %v", step, s.force[i], f)
			}
		}
		for i, f := range s.force {
			if f < x.Left.Lo().Float64(units.Newton)-1e-3 || f > x.Left.Hi().Float64(units.Newton)+1e-3 {
				t.Fatalf("bolt %d is left with %g N, expected %v", i, f, x.Left)
			}
		}
	})
}

// A second round of the last torque. By hand, Share 0.5 and Φ 0.25: the first of two keeps 7/8; pulled
// again it takes 1/8 of the 1/8 that it regains from the second, which keeps 63/64 until it is pulled
// again, and then the first keeps 511/512.
func TestAgain(t *testing.T) {
	b := capBolt(t)
	joint := jointOf(200, 600)
	b.Joint, b.Share = &joint, friction("0.5")
	x := examine(t, b, planOf(t, torque.NotSaid, tighten("20 N·m")))
	if got := x.Again; !got.Contains(units.One.OfRat(units.One.OfInt(511).Ratio(units.One.OfInt(512)))) && math.Abs(got.Lo().Float64(units.One)-511.0/512) > 1e-6 {
		t.Errorf("%v, want 511/512", got)
	}
	if x := examine(t, b, planOf(t, torque.SingleUse, tighten("20 N·m"), turn("30°"))); !x.Again.IsEmpty() {
		t.Errorf("%v, and a turn is not gone round again", x.Again)
	}
}

func TestExpectErrors(t *testing.T) {
	plan := planOf(t, torque.SingleUse, tighten("20 N·m"), turn("30°"))
	step, _ := plan.Step(1)
	b := capBolt(t)
	if _, err := b.Expect(plan, step, step.Do); !errors.Is(err, examination.ErrImpossible) {
		t.Errorf("neighbours of which nothing is known: %v", err)
	}
	b.Share = units.Exactly(units.Ratio{})
	if _, err := b.Expect(plan, step, step.Do); err != nil {
		t.Errorf("neighbours that feel nothing of each other: %v", err)
	}
	for _, wrong := range []func(*torque.Step){
		func(s *torque.Step) { s.Number = 99 }, func(s *torque.Step) { s.Group = "rods" }, func(s *torque.Step) { s.Bolt = "1R" }, func(s *torque.Step) { s.Stage = 2 },
	} {
		other := step
		wrong(&other)
		if _, err := b.Expect(plan, other, step.Do); !errors.Is(err, examination.ErrImpossible) {
			t.Errorf("step %+v: %v", other, err)
		}
	}
}

// A tight partner springs back a little as a bolt presses the cap, so that the bolt's turn gives more:
// k/(1 - s²Φ²) for two. By hand with s = 1, Φ = 0.25, k = 150 kN/mm: 160 kN/mm. The lever at 0.12 is 0.238732
// + 0.577 · 9.025721 · 0.12 + 6.4075 · 0.12 = 1.632573 mm. Of 20 N·m the partner took a quarter, and 30° add
// 160000 · 1.5 · 30/360 = 20000 N at the most, 32.65 N·m: 47.65 N·m, and 45.61 N·m at k.
func TestTightPartnerStiffens(t *testing.T) {
	b := capBolt(t)
	joint := jointOf(200, 600)
	b.Joint, b.Share = &joint, friction("1")
	b.Bolt.Friction, b.Bolt.Stiffness = preload.Friction{Thread: friction("0.12"), Bearing: friction("0.12")}, units.Exactly(units.KilonewtonPerMillimetre.OfInt(150))
	plan := planOf(t, torque.SingleUse, tighten("20 N·m"), turn("30°"))
	step, _ := plan.Step(3)
	got, err := b.Expect(plan, step, step.Do)
	if err != nil || step.Bolt != "1L" {
		t.Fatal(step, err)
	}
	lo, hi := got.Torque.Lo().Float64(units.NewtonMetre), got.Torque.Hi().Float64(units.NewtonMetre)
	if math.Abs(lo-45.61) > 0.01 || math.Abs(hi-47.65) > 0.01 {
		t.Errorf("%.3f..%.3f N·m, want 45.61..47.65", lo, hi)
	}
}
