package film

import (
	"errors"
	"math"
	"testing"

	"example.com/closefit/internal/thorough"
	"example.com/closefit/units"
)

// shaped returns a bearing in which a load of 1 N moves the journal by drive of c in one rad of the crank, at 1000 rpm, with its
// viscosity: drive = (c/R)²/(LDµω).
func shaped(t *testing.T, ratio string, drive float64) (Bearing, units.RotationalSpeed, units.DynamicViscosity) {
	t.Helper()
	d := units.MustParseLength("50 mm")
	b := Bearing{Diameter: d, Width: d.Mul(units.MustParseRatio(ratio).In(units.One, 6)), Clearance: units.MustParseLength("0.05 mm")}
	speed := units.RevolutionPerMinute.OfInt(1000)
	omega := 1000 * math.Pi / 30
	area := b.Width.Float64(units.Millimetre) / 1e3 * 0.05
	v, err := units.MillipascalSecond.OfFloat64(1e-6/(area*omega*drive)*1e3, 9) // (c/R)² = 0.001²
	if err != nil {
		t.Fatal(err)
	}
	return b, speed, v
}

func force(f float64) units.Force {
	v, err := units.Newton.OfFloat64(f, 6)
	if err != nil {
		panic(err)
	}
	return v
}

// cycleOf is a cycle of so many degrees from a function of the crank angle in rad.
func cycleOf(degrees, points int, of func(theta float64) (x, y float64)) Cycle {
	var c Cycle
	for i := range points {
		crank := float64(degrees) * float64(i) / float64(points)
		angle, err := units.Degree.OfFloat64(crank, 6)
		if err != nil {
			panic(err)
		}
		x, y := of(crank / degree)
		c.Points = append(c.Points, LoadPoint{Crank: angle, X: force(x), Y: force(y)})
	}
	last := c.Points[0]
	last.Crank = units.Degree.OfInt(int64(degrees))
	c.Points = append(c.Points, last)
	return c
}

// A load that stands still brings the journal to where the solver has it: the film that is squeezed in a frame which turns at half
// the speed is the film of a journal that turns, if both go round without a supply.
func TestOrbitOfASteadyLoad(t *testing.T) {
	thorough.SkipRaced(t)
	const ratio = 0.4
	m, err := NewMobility(ratio)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range []float64{0.2, 0.55, 0.8, 0.95} {
		s := newSolver(256, 32)
		s.set(problem{e: e, kappa: 1 / ratio, turning: 1})
		if !s.solve(closely) {
			t.Fatal("no solution")
		}
		v := setting{kappa: 1 / ratio, share: 1}.values(e, s.integrals())
		// S = (R/c)² µN/P, so (c/R)²/(LDµω) · W = 1/(2π S).
		b, speed, viscosity := shaped(t, "0.4", 1/(2*math.Pi*v.s)/1000)
		// 1000 N at 30° in the shell's frame.
		sin, cos := math.Sincos(30 / degree)
		o, err := b.Orbit(cycleOf(360, 1, func(float64) (float64, float64) { return 1000 * cos, 1000 * sin }), m, speed, viscosity, 90)
		if err != nil {
			t.Fatal(e, err)
		}
		attitude := o.Where.Float64(units.Degree) - 30
		if math.Abs(o.Eccentricity-e) > 0.004*(1-e)+0.002*e || math.Abs(attitude-v.attitude*degree) > 0.3 {
			t.Errorf("e %g, attitude %.2f°: the orbit ends at %g, %.2f°", e, v.attitude*degree, o.Eccentricity, attitude)
		}
		if o.Gap > 1e-5 {
			t.Errorf("gap %g", o.Gap)
		}
	}
}

// Under the closed form's M the place of rest of a steady load along x is where M balances half a turn: from
//
//	k (1-x)^2.5 = y/2,   4 k y (1-x)^1.5 / π = x/2,   k = F (c/R)²/(LDµω) / (π (L/D)²)
//
// follows y² = (π/4) x (1-x).
func TestOrbitOfASteadyLoadShort(t *testing.T) {
	thorough.SkipRaced(t)
	m, err := ShortMobility(0.25)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []float64{0.05, 0.4, 0.8, 0.97} {
		y := math.Sqrt(math.Pi / 4 * x * (1 - x))
		k := y / 2 / math.Pow(1-x, 2.5)
		b, speed, viscosity := shaped(t, "0.25", k*math.Pi*0.25*0.25/700)
		o, err := b.Orbit(cycleOf(720, 1, func(float64) (float64, float64) { return 700, 0 }), m, speed, viscosity, 45)
		if err != nil {
			t.Fatal(x, err)
		}
		last := o.Points[len(o.Points)-1]
		if math.Abs(last.X-x) > 2e-5 || math.Abs(last.Y-y) > 2e-5 {
			t.Errorf("rests at %g, %g, by hand %g, %g", last.X, last.Y, x, y)
		}
	}
}

// halfTurned is a load of the half frame: f of the crank angle, turned on by half of that.
func halfTurned(points int, f func(theta float64) (x, y float64)) Cycle {
	return cycleOf(720, points, func(theta float64) (float64, float64) {
		x, y := f(theta)
		sin, cos := math.Sincos(theta / 2)
		return x*cos - y*sin, x*sin + y*cos
	})
}

// A load that turns at half the journal's speed has no wedge: nothing but squeezing holds the journal off, and not for
// ever.
func TestNoWedgeAtHalfSpeed(t *testing.T) {
	m, err := ShortMobility(0.4)
	if err != nil {
		t.Fatal(err)
	}
	b, speed, viscosity := shaped(t, "0.4", 1e-4)
	_, err = b.Orbit(halfTurned(720, func(float64) (float64, float64) { return 4000, 0 }), m, speed, viscosity, 60)
	wantKind(t, err, ErrNoFilm)
	// At three quarters of the speed there is one.
	if _, err := b.Orbit(cycleOf(360, 360, func(theta float64) (float64, float64) { return 4000 * math.Cos(theta), 4000 * math.Sin(theta) }), m, speed, viscosity, 60); err != nil {
		t.Error(err)
	}
}

// The same load that changes its sign only squeezes, to and fro along a line, and the short film's
// motion is a closed form: (1-E)^-1.5 - (1+E)^-1.5 = 1.5 k ∫F over half a cycle, from dε/dt = k F (1-ε)^2.5. With F = sin(θ/2) the integral
// is 4.
func TestSqueezedToAndFro(t *testing.T) {
	thorough.SkipRaced(t)
	const ratio, load = 0.4, 900
	m, err := ShortMobility(ratio)
	if err != nil {
		t.Fatal(err)
	}
	for _, most := range []float64{0.15, 0.6, 0.93} {
		k := (math.Pow(1-most, -1.5) - math.Pow(1+most, -1.5)) / 6
		b, speed, viscosity := shaped(t, "0.4", k*math.Pi*ratio*ratio/load)
		o, err := b.Orbit(halfTurned(1440, func(theta float64) (float64, float64) { return load * math.Sin(theta/2), 0 }), m, speed, viscosity, 720)
		if err != nil {
			t.Fatal(most, err)
		}
		if math.Abs(o.Eccentricity-most) > 2e-5 {
			t.Errorf("out to %g, by hand %g", o.Eccentricity, most)
		}
		for _, p := range o.Points { // all on the line that turns
			half := p.Crank.Float64(units.Degree) / degree / 2
			if across := p.Y*math.Cos(half) - p.X*math.Sin(half); math.Abs(across) > 2e-5 {
				t.Errorf("%g off the line at %v", across, p.Crank)
			}
		}
	}
}

// Seen from the frame that turns at half the speed the film is only squeezed, and has no side: the mirrored load has the mirrored path
// there. A load turned by a quarter in the shell's frame has its path turned by a quarter.
func TestOrbitIsMirroredAndTurned(t *testing.T) {
	thorough.SkipRaced(t)
	m, err := NewMobility(0.4)
	if err != nil {
		t.Fatal(err)
	}
	b, speed, viscosity := shaped(t, "0.4", 1e-3)
	load := func(theta float64) (float64, float64) {
		return 900*math.Sin(theta/2) + 300*math.Cos(theta), 500*math.Cos(theta/2) - 200*math.Sin(1.5*theta)
	}
	run := func(c Cycle) []OrbitPoint {
		t.Helper()
		o, err := b.Orbit(c, m, speed, viscosity, 360)
		if err != nil {
			t.Fatal(err)
		}
		return o.Points
	}
	one := run(halfTurned(2880, load))
	other := run(halfTurned(2880, func(theta float64) (float64, float64) { x, y := load(theta); return x, -y }))
	quarter := run(halfTurned(2880, func(theta float64) (float64, float64) { x, y := load(theta); return -y, x }))
	moved := 0.0
	for i, p := range one {
		sin, cos := math.Sincos(p.Crank.Float64(units.Degree) / degree / 2)
		x, y := p.X*cos+p.Y*sin, p.Y*cos-p.X*sin
		q := other[i]
		if off := math.Hypot(q.X*cos+q.Y*sin-x, q.Y*cos-q.X*sin+y); off > 3e-5 {
			t.Fatalf("mirrored path %g off at %v", off, p.Crank)
		}
		if off := math.Hypot(quarter[i].X+p.Y, quarter[i].Y-p.X); off > 3e-5 {
			t.Fatalf("turned path %g off at %v", off, p.Crank)
		}
		moved = max(moved, math.Abs(y))
	}
	if moved < 0.05 {
		t.Errorf("the path lies on a line: it leaves it by %g", moved)
	}
}

func wantKind(t *testing.T, err, kind error) {
	t.Helper()
	e, ok := asError(err)
	if !ok || e.Kind != kind || e.Where == "" || e.Found == "" || e.Fix == "" {
		t.Errorf("%v, not of kind %q", err, kind)
	}
}

func asError(err error) (*units.Error, bool) { return errors.AsType[*units.Error](err) }
