package film_test

import (
	"encoding/json"
	"errors"
	"testing"

	"example.com/closefit/clearance/film"
	"example.com/closefit/units"
)

// FuzzWork takes any bearing, duty and oil: either there is an error that says what to write, or all the numbers are
// finite, none of the pressure is below ambient, and the form of exchange brings everything back.
func FuzzWork(f *testing.F) {
	f.Add(int64(48_000), int64(19_000), int64(46), int64(5200), int64(3400), int64(88), uint8(0), int64(0), int64(0), int64(0), int64(92_000), int64(13_900), int64(866), int64(1700))
	f.Add(int64(48_000), int64(19_000), int64(46), int64(5200), int64(3400), int64(88), uint8(1), int64(300), int64(3500), int64(0), int64(92_000), int64(13_900), int64(866), int64(1700))
	f.Add(int64(48_000), int64(19_000), int64(46), int64(5200), int64(3400), int64(88), uint8(2), int64(300), int64(7000), int64(-110), int64(92_000), int64(13_900), int64(866), int64(1700))
	f.Add(int64(48_000), int64(400), int64(900), int64(1), int64(1), int64(-40), uint8(1), int64(90_000), int64(300), int64(7), int64(1100), int64(1000), int64(600), int64(4500))
	f.Add(int64(48_000), int64(900_000), int64(1), int64(1), int64(1_000_000), int64(249), uint8(0), int64(0), int64(0), int64(0), int64(99_000_000), int64(1000), int64(1200), int64(1000))
	f.Fuzz(func(t *testing.T, diameter, width, clearance, load, speed, inlet int64, groove uint8, pressure, grooveWidth, at, cool, warm, density, heat int64) {
		b := film.Bearing{Diameter: units.Micrometre.OfInt(diameter), Width: units.Micrometre.OfInt(width), Clearance: units.Micrometre.OfInt(clearance),
			Supply: film.Supply{Groove: film.Groove(groove % 4), Pressure: units.Kilopascal.OfInt(pressure), Width: units.Micrometre.OfInt(grooveWidth)}}
		if b.Supply.Groove == film.Pockets {
			b.Supply.Pockets, b.Supply.Reach = []units.Angle{units.Degree.OfInt(at)}, units.Degree.OfInt(15)
		}
		v := func(n int64) units.KinematicViscosity {
			return units.SquareMillimetrePerSecond.OfInt(n).Mul(thousandth)
		}
		o := film.Oil{Cool: film.ViscosityPoint{Temperature: celsius(40), Viscosity: v(cool)}, Warm: film.ViscosityPoint{Temperature: celsius(100), Viscosity: v(warm)},
			Density: units.KilogramPerCubicMetre.OfInt(density), Heat: units.Kilopascal.OfInt(heat)}
		p, err := b.Work(film.Duty{Load: newtons(load), Speed: rpm(speed), Inlet: units.Kelvin.OfInt(inlet)}, o)
		if err != nil {
			if e, ok := errors.AsType[*units.Error](err); !ok || e.Found == "" || e.Fix == "" {
				t.Fatalf("%v", err)
			}
			return
		}
		text, err := json.Marshal(p) // refuses what is not finite
		if err != nil {
			t.Fatal(err)
		}
		var back film.WorkingPoint
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatal(err)
		}
		if e := p.Film.Numbers.Eccentricity; !(e > 0 && e < 1) || p.Film.Least.Sign() <= 0 || p.Film.PeakPressure.Sign() <= 0 || p.Film.Power.Sign() <= 0 {
			t.Fatalf("%s", text)
		}
		if !near(p.Film.Load.Float64(units.Newton), float64(load), 0.01) {
			t.Fatalf("%v carried, %d N asked for", p.Film.Load, load)
		}
		field, err := p.Film.Field(12, 5)
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range field.Megapascals {
			for _, m := range row {
				if !(m >= 0) {
					t.Fatalf("pressure %g", m)
				}
			}
		}
		for _, d := range p.Doubts(film.Surfaces{}) {
			if _, err := json.Marshal(d); err != nil {
				t.Fatal(err)
			}
		}
	})
}

// FuzzSolve: any ratio and eccentricity give finite numbers or an error.
func FuzzSolve(f *testing.F) {
	f.Add(0.5, 0.6)
	f.Add(20.0, 0.995)
	f.Add(0.02, 0.0001)
	f.Fuzz(func(t *testing.T, ratio, e float64) {
		n, off, err := film.Solve(ratio, e)
		s, errShort := film.Short(ratio, e)
		l, errLong := film.Long(e)
		full, errFull := film.FullLong(e)
		for _, x := range []struct {
			of  any
			err error
		}{{n, err}, {off, err}, {s, errShort}, {l, errLong}, {full, errFull}} {
			if x.err != nil {
				if fault, ok := errors.AsType[*units.Error](x.err); !ok || fault.Fix == "" {
					t.Fatalf("%g, %g: %v", ratio, e, x.err)
				}
				continue
			}
			if _, err := json.Marshal(x.of); err != nil {
				t.Fatalf("%g, %g: %v", ratio, e, err)
			}
		}
		if err == nil && !(n.Sommerfeld > 0 && n.Friction > 0 && n.SideFlow > 0 && n.Peak > 0) {
			t.Fatalf("%g, %g: %+v", ratio, e, n)
		}
	})
}

// FuzzGrade: any text is a grade that prints as it is read, or an error.
func FuzzGrade(f *testing.F) {
	for _, s := range []string{"10W-40", "SAE 30", "5w", "", "none", "40-", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		g, err := film.ParseGrade(text)
		if err != nil {
			if !errors.Is(err, film.ErrOil) {
				t.Fatalf("%q: %v", text, err)
			}
			return
		}
		if back, err := film.ParseGrade(g.String()); err != nil || back != g {
			t.Fatalf("%q: %v comes back as %v, %v", text, g, back, err)
		}
	})
}
