package preload_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A pull is one of a Course.
type pull func(*preload.Course) (preload.State, error)

func tighten(span string) pull { return tightenTo(units.MustParse[units.TorqueInterval](span)) }

func tightenTo(to units.TorqueInterval) pull {
	return func(c *preload.Course) (preload.State, error) { return c.Tighten(to) }
}

func turn(span string) pull { return turnBy(units.MustParse[units.AngleInterval](span)) }

func turnBy(by units.AngleInterval) pull {
	return func(c *preload.Course) (preload.State, error) { return c.Turn(by) }
}

func backOff(by units.Angle) pull {
	return func(c *preload.Course) (preload.State, error) { return c.BackOff(by), nil }
}

// follow returns what is known of a bolt after each of the pulls.
func follow(b preload.YieldBolt, pulls ...pull) ([]preload.State, error) {
	c, err := b.Course()
	if err != nil {
		return nil, err
	}
	var states []preload.State
	for _, pull := range pulls {
		s, err := pull(c)
		if err != nil {
			return nil, err
		}
		states = append(states, s)
	}
	return states, nil
}

// A torque and its turns are those of Forecast.
func TestCourseIsForecast(t *testing.T) {
	bolt := rodBolt(t)
	states, err := follow(bolt, tighten("19.2..20.8 N·m"), turn("40..44°"), turn("50..55°"))
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
func TestCourseHoldsEveryCase(t *testing.T) {
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
		states, err := follow(bolt, tightenTo(at(snug)), tightenTo(at(more)), turnBy(by))
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
	states, err := follow(bolt, tighten("12 N·m"), tighten("22 N·m"))
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
func TestCourseBackOff(t *testing.T) {
	bolt := rodBolt(t)
	free, quarter := backOff(units.Angle{}), backOff(units.MustParseAngle("90°"))
	states, err := follow(bolt, tighten("20 N·m"), free, tighten("12 N·m"), quarter, tighten("12 N·m"), turn("300°"), free, tighten("12 N·m"))
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
func TestCourseBeyondYield(t *testing.T) {
	states, err := follow(rodBolt(t), tighten("20 N·m"), tighten("200 N·m"))
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

func TestCourseErrors(t *testing.T) {
	for _, tt := range []struct {
		name  string
		bolt  func(*preload.YieldBolt)
		pulls []pull
		want  string
	}{
		{"a turn first", nil, []pull{turn("20°")}, "no torque before it"},
		{"a turn after a back-off", nil, []pull{tighten("20 N·m"), backOff(units.Angle{}), turn("20°")}, "pull 3"},
		{"no stiffness", func(b *preload.YieldBolt) { b.Stiffness = units.StiffnessInterval{} }, []pull{tighten("20 N·m")}, "stiffness"},
		{"no strength", func(b *preload.YieldBolt) { b.Yield = units.PressureInterval{} }, []pull{tighten("20 N·m")}, "yield"},
	} {
		bolt := rodBolt(t)
		if tt.bolt != nil {
			tt.bolt(&bolt)
		}
		if got, err := follow(bolt, tt.pulls...); !errors.Is(err, preload.ErrImpossible) || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, %v, want %q", tt.name, got, err, tt.want)
		}
	}
}

// What neighbours took is as if the torque had been so much smaller, for the turn that follows and for the
// turn to the next torque, and a bolt that was backed off has nothing that they could take.
func TestCourseKeeps(t *testing.T) {
	bolt := rodBolt(t)
	keep := func(part string, next pull) pull {
		return func(c *preload.Course) (preload.State, error) {
			c.Keep(units.MustParse[units.RatioInterval](part))
			return next(c)
		}
	}
	for _, next := range []pull{turn("40..44°"), tighten("24..25 N·m")} {
		took, errTook := follow(bolt, tighten("19..21 N·m"), keep("0.5..0.8", next))
		less, errLess := follow(bolt, tighten("9.5..16.8 N·m"), next)
		if err := errors.Join(errTook, errLess); err != nil {
			t.Fatal(err)
		}
		if got, want := took[1], less[1]; !got.Added.Equal(want.Added) || !got.Preload.Within(want.Preload) || got.Preload.Width().Float64(units.Newton) < want.Preload.Width().Float64(units.Newton)-0.01 {
			t.Errorf("%v, want %v", got, want)
		}
	}
	if states, err := follow(bolt, tighten("20 N·m"), backOff(units.Angle{}), keep("0.5", tighten("20 N·m"))); err != nil || !states[2].Preload.Equal(states[0].Preload) {
		t.Errorf("%v, %v", states, err)
	}
}
