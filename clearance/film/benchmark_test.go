package film

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"testing"
	"time"

	"example.com/closefit/units"
)

func benchmarked() (Bearing, Duty, Oil) {
	b := Bearing{Diameter: units.MustParseLength("48 mm"), Width: units.MustParseLength("19 mm"), Clearance: units.MustParseLength("0.046 mm")}
	d := Duty{Load: units.MustParseForce("4200 N"), Speed: units.RevolutionPerMinute.OfInt(3400), Inlet: units.Celsius.OfInt(90)}
	o := Oil{
		Cool:    ViscosityPoint{Temperature: units.Celsius.OfInt(40), Viscosity: units.SquareMillimetrePerSecond.OfInt(92)},
		Warm:    ViscosityPoint{Temperature: units.Celsius.OfInt(100), Viscosity: units.MustParse[units.KinematicViscosity]("13.9 mm²/s")},
		Density: units.KilogramPerCubicMetre.OfInt(866), Heat: units.MustParsePressure("1.7 MPa"),
	}
	return b, d, o
}

// BenchmarkWork is one operating point, from load and inlet temperature to the film, on one core.
func BenchmarkWork(b *testing.B) {
	for _, c := range []struct {
		name   string
		supply Supply
	}{
		{"plain", Supply{}},
		{"groove", Supply{Groove: Circumferential, Width: units.MustParseLength("3.5 mm"), Pressure: units.MustParsePressure("3 bar")}},
		{"pocket", Supply{Groove: Pockets, Width: units.MustParseLength("7 mm"), Pressure: units.MustParsePressure("3 bar"),
			Pockets: []units.Angle{units.MustParseAngle("-110°")}, Reach: units.MustParseAngle("14°")}},
	} {
		b.Run(c.name, func(b *testing.B) {
			bearing, duty, oil := benchmarked()
			bearing.Supply = c.supply
			best := time.Duration(math.MaxInt64)
			for b.Loop() {
				begin := time.Now()
				if _, err := bearing.Work(duty, oil); err != nil {
					b.Fatal(err)
				}
				best = min(best, time.Since(begin))
			}
			b.ReportMetric(float64(best.Microseconds()), "µs/best")
		})
	}
}

// BenchmarkGrid is one solution on one grid, from nothing: the time by unknown stays the same if the cost is in
// proportion to the unknowns.
func BenchmarkGrid(b *testing.B) {
	for _, n := range []int{64, 128, 256, 512} {
		b.Run(fmt.Sprintf("%dx%d", n, n/8), func(b *testing.B) {
			s := newSolver(n, n/8)
			best, cycles := time.Duration(math.MaxInt64), 0
			for b.Loop() {
				begin := time.Now()
				s.forget()
				s.set(problem{e: 0.7, kappa: 2, turning: 1, starts: true})
				if !s.solve(closely) {
					b.Fatal("no solution")
				}
				best = min(best, time.Since(begin))
				cycles = s.ran
			}
			b.ReportMetric(float64(best.Microseconds()), "µs/best")
			b.ReportMetric(float64(best.Nanoseconds())/float64(n*n/8), "ns/unknown")
			b.ReportMetric(float64(cycles), "cycles")
		})
	}
}

// BenchmarkAgainstScipy is the same point, L/D = 0.5 at an eccentricity of 0.7, by scipy's direct sparse solver, both to a
// load within 0.1 % of that of finer grids: ours of 128 and 64 columns extrapolated, scipy's on the smallest grid that gets there.
func BenchmarkAgainstScipy(b *testing.B) {
	python := scipy()
	if python == "" {
		b.Skip("no python3 with scipy: install python3-scipy")
	}
	const ratio, e, accuracy = 0.5, 0.7, 1e-3
	exact, _, err := newModel(setting{kappa: 1 / ratio, share: 1}, 512).full(e, 0)
	if err != nil {
		b.Fatal(err)
	}
	sparse := func(n int) (ns, s float64) {
		command := exec.Command(python, "testdata/scipy_bench.py", fmt.Sprint(ratio), fmt.Sprint(e), fmt.Sprint(n), fmt.Sprint(n/8), "3")
		command.Env = append(os.Environ(), "OMP_NUM_THREADS=1", "OPENBLAS_NUM_THREADS=1")
		out, err := command.Output()
		if err != nil {
			b.Fatal(err)
		}
		var peak float64
		if _, err := fmt.Sscan(strings.TrimSpace(string(out)), &ns, &s, &peak); err != nil {
			b.Fatal(err)
		}
		return ns, s
	}
	n, s := 32, 0.0
	for ; n < 1024; n += 16 {
		if _, s = sparse(n); math.Abs(s/exact.s-1) <= accuracy {
			break
		}
	}
	best, theirs := time.Duration(math.MaxInt64), math.Inf(1)
	var v values
	ours := 32 // the coarsest that is as close, as for scipy
	for ; ours < 512; ours *= 2 {
		if v, _, err = newModel(setting{kappa: 1 / ratio, share: 1}, ours).full(e, 0); err != nil {
			b.Fatal(err)
		}
		if math.Abs(v.s/exact.s-1) <= accuracy {
			break
		}
	}
	for b.Loop() {
		begin := time.Now()
		if v, _, err = newModel(setting{kappa: 1 / ratio, share: 1}, ours).full(e, 0); err != nil {
			b.Fatal(err)
		}
		best = min(best, time.Since(begin))
	}
	for range 3 {
		ns, _ := sparse(n)
		theirs = min(theirs, ns)
	}
	if math.Abs(v.s/exact.s-1) > accuracy {
		b.Fatalf("S %g, on finer grids %g", v.s, exact.s)
	}
	b.ReportMetric(float64(best.Microseconds()), "µs/best")
	b.ReportMetric(theirs/1e3, "scipy-µs")
	b.ReportMetric(float64(ours), "columns")
	b.ReportMetric(float64(n), "scipy-columns")
	b.ReportMetric(theirs/float64(best.Nanoseconds()), "×scipy")
	b.ReportMetric(math.Abs(v.s/exact.s-1)*1e6, "ppm-off")
	b.ReportMetric(math.Abs(s/exact.s-1)*1e6, "scipy-ppm-off")
}

// BenchmarkNewMobility is the making of a map, and BenchmarkMobility one look at it beside the closed form's.
func BenchmarkNewMobility(b *testing.B) {
	best := time.Duration(math.MaxInt64)
	for b.Loop() {
		begin := time.Now()
		if _, err := NewMobility(0.4); err != nil {
			b.Fatal(err)
		}
		best = min(best, time.Since(begin))
	}
	b.ReportMetric(float64(best.Milliseconds()), "ms/best")
}

func BenchmarkMobility(b *testing.B) {
	short, err := ShortMobility(0.4)
	if err != nil {
		b.Fatal(err)
	}
	finite, err := NewMobility(0.4)
	if err != nil {
		b.Fatal(err)
	}
	for name, m := range map[string]Mobility{"short": short, "finite": finite} {
		b.Run(name, func(b *testing.B) {
			x := 0.0
			for b.Loop() {
				if x += 0.01; x > 0.9 {
					x = -0.9
				}
				m.At(x, 0.3)
			}
		})
	}
}

// BenchmarkOrbit is one orbit of 720 steps of a rod's bearing, from the middle until it repeats, beside as many cycles of the same right
// side by scipy's solve_ivp (RK45, the same error of a step).
func BenchmarkOrbit(b *testing.B) {
	mechanism := Mechanism{
		Bore: units.MustParseLength("83.7 mm"), Stroke: units.MustParseLength("88.4 mm"), Rod: units.MustParseLength("146.5 mm"),
		Reciprocating: units.Gram.OfInt(640), Rotating: units.Gram.OfInt(430),
		Gas: []GasPoint{
			{Crank: units.Degree.OfInt(-360)}, {Crank: units.Degree.OfInt(-60), Pressure: units.Bar.OfInt(3)}, {Crank: units.Degree.OfInt(12), Pressure: units.Bar.OfInt(56)},
			{Crank: units.Degree.OfInt(60), Pressure: units.Bar.OfInt(13)}, {Crank: units.Degree.OfInt(180)}, {Crank: units.Degree.OfInt(360)},
		},
	}
	speed := units.RevolutionPerMinute.OfInt(4300)
	cycle, err := mechanism.Cycle(speed, 720)
	if err != nil {
		b.Fatal(err)
	}
	bearing := Bearing{Diameter: units.MustParseLength("48 mm"), Width: units.MustParseLength("19.2 mm"), Clearance: units.MustParseLength("0.044 mm")}
	viscosity := units.MustParse[units.DynamicViscosity]("8.3 mPa·s")
	short, err := ShortMobility(0.4)
	if err != nil {
		b.Fatal(err)
	}
	finite, err := NewMobility(0.4)
	if err != nil {
		b.Fatal(err)
	}
	for _, c := range []struct {
		name string
		m    Mobility
	}{{"short", short}, {"finite", finite}} {
		b.Run(c.name, func(b *testing.B) {
			best := time.Duration(math.MaxInt64)
			var o Orbit
			for b.Loop() {
				begin := time.Now()
				if o, err = bearing.Orbit(cycle, c.m, speed, viscosity, 720); err != nil {
					b.Fatal(err)
				}
				best = min(best, time.Since(begin))
			}
			b.ReportMetric(float64(best.Microseconds()), "µs/best")
			b.ReportMetric(float64(o.Cycles), "cycles")
			if c.name != "short" {
				return
			}
			python := scipy()
			if python == "" {
				b.Log("no python3 with scipy: install python3-scipy for the ratio")
				return
			}
			sc := bearing.scales(speed)
			drive := (sc.c / sc.r) * (sc.c / sc.r) / (sc.l * 2 * sc.r * 8.3e-3 * sc.omega)
			var table strings.Builder
			fmt.Fprintln(&table, drive, cycle.Swing, o.Cycles)
			for _, p := range cycle.Points {
				fmt.Fprintln(&table, p.Crank.Float64(units.Degree), p.X.Float64(units.Newton), p.Y.Float64(units.Newton))
			}
			command := exec.Command(python, "testdata/scipy_orbit.py")
			command.Env = append(os.Environ(), "OMP_NUM_THREADS=1", "OPENBLAS_NUM_THREADS=1")
			command.Stdin = strings.NewReader(table.String())
			out, err := command.Output()
			if err != nil {
				b.Fatal(err)
			}
			var ns, most float64
			if _, err := fmt.Sscan(strings.TrimSpace(string(out)), &ns, &most); err != nil {
				b.Fatal(err)
			}
			if math.Abs(most-o.Eccentricity) > 1e-3 {
				b.Fatalf("out to %g, by scipy to %g", o.Eccentricity, most)
			}
			b.ReportMetric(ns/1e3, "scipy-µs")
			b.ReportMetric(ns/float64(best.Nanoseconds()), "×scipy")
		})
	}
}

// scipy is a Python that has scipy, or nothing.
func scipy() string {
	for _, p := range []string{"python3", "/usr/bin/python3"} {
		if exec.Command(p, "-c", "import scipy.sparse.linalg, scipy.integrate").Run() == nil {
			return p
		}
	}
	return ""
}

// BenchmarkSweep is a sweep of 60 points on all processors, and on one.
func BenchmarkSweep(b *testing.B) {
	bearing, duty, oil := benchmarked()
	for _, c := range []struct {
		name       string
		supply     Supply
		processors int
	}{
		{"plain", Supply{}, runtime.GOMAXPROCS(0)},
		{"plain, on one", Supply{}, 1},
		{"groove", Supply{Groove: Circumferential, Width: units.MustParseLength("3.5 mm"), Pressure: units.MustParsePressure("3 bar")}, runtime.GOMAXPROCS(0)},
	} {
		b.Run(c.name, func(b *testing.B) {
			defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(c.processors))
			bearing.Supply = c.supply
			best := time.Duration(math.MaxInt64)
			for b.Loop() {
				begin := time.Now()
				points, err := (Case{Bearing: bearing, Duty: duty, Oil: oil}).Sweep(b.Context(), units.Micrometre.OfInt(20), units.Micrometre.OfInt(100), 60)
				if err != nil || points[59].State == nil {
					b.Fatal(err)
				}
				best = min(best, time.Since(begin))
			}
			b.ReportMetric(float64(best.Milliseconds()), "ms/best")
		})
	}
}
