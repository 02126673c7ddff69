package film_test

import (
	"context"
	"encoding/json"
	"errors"
	"runtime"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance/film"
	"example.com/closefit/internal/thorough"
	"example.com/closefit/units"
)

// swept is a case as a shop might have it.
func swept() film.Case {
	return film.Case{
		Bearing: film.Bearing{Diameter: units.MustParseLength("48 mm"), Width: units.MustParseLength("19 mm")},
		Duty:    film.Duty{Load: newtons(4200), Speed: rpm(3400), Inlet: celsius(90)},
		Oil: film.Oil{
			Cool:    film.ViscosityPoint{Temperature: celsius(40), Viscosity: units.SquareMillimetrePerSecond.OfInt(92)},
			Warm:    film.ViscosityPoint{Temperature: celsius(100), Viscosity: units.MustParse[units.KinematicViscosity]("13.9 mm²/s")},
			Density: units.KilogramPerCubicMetre.OfInt(866), Heat: units.MustParsePressure("1.7 MPa"),
		},
		Surfaces: film.Surfaces{Journal: units.MustParseLength("0.3 µm"), Bearing: units.MustParseLength("0.4 µm")},
		Pump:     &film.Pump{Delivery: units.MustParse[units.VolumeFlow]("1.2 L/min"), Relief: units.MustParsePressure("4 bar"), Bearings: 5},
	}
}

func micrometres(n int64) units.Length { return units.Micrometre.OfInt(n) }

func sweep(t testing.TB, c film.Case, from, to int64, n int) []film.SweepPoint {
	t.Helper()
	points, err := c.Sweep(t.Context(), micrometres(from), micrometres(to), n)
	if err != nil {
		t.Fatal(err)
	}
	return points
}

// TestSweep: each point is what Work says of its clearance, roughness is √(0.3²+0.4²) = 0.5 µm, five bearings lose five
// times what one loses, and the pump holds 4 bar as long as it delivers that, and so much less as it lacks beyond.
func TestSweep(t *testing.T) {
	c := swept()
	full, short := 0, 0
	for i, p := range sweep(t, c, 20, 92, 7) {
		if want := micrometres(20 + 12*int64(i)); !p.Clearance.Equal(want) || p.State == nil || p.Reason != "" {
			t.Fatalf("point %d: %v, want %v, %q", i, p.Clearance, want, p.Reason)
		}
		b := c.Bearing
		b.Clearance = p.Clearance
		work, err := b.Work(c.Duty, c.Oil)
		if err != nil {
			t.Fatal(err)
		}
		if !work.Film.Least.Equal(p.State.Work.Film.Least) || !work.Temperature.Equal(p.State.Work.Temperature) {
			t.Errorf("%v: %v at %v, alone %v at %v", p.Clearance, p.State.Work.Film.Least, p.State.Work.Temperature, work.Film.Least, work.Temperature)
		}
		if want := work.Film.Least.Float64(units.Micrometre) / 0.5; !near(p.State.Lambda, want, 1e-12) {
			t.Errorf("%v: λ %g, want %g", p.Clearance, p.State.Lambda, want)
		}
		need := 5 * work.Film.SideFlow.Float64(units.LitrePerMinute)
		if !near(p.State.Need.Float64(units.LitrePerMinute), need, 1e-8) {
			t.Errorf("%v: need %v, want %g", p.Clearance, p.State.Need, need)
		}
		want := 4.0
		if need > 1.2 {
			want, short = 4*1.2/need, short+1
		} else {
			full++
		}
		if !near(p.State.Pressure.Float64(units.Bar), want, 1e-8) {
			t.Errorf("%v: %v, want %g bar", p.Clearance, p.State.Pressure, want)
		}
		said := false
		for _, d := range p.State.Doubts {
			said = said || strings.HasPrefix(d.About, "pressure:")
		}
		if said != (need > 1.2) {
			t.Errorf("%v: %+v at a need of %g", p.Clearance, p.State.Doubts, need)
		}
	}
	if full == 0 || short == 0 {
		t.Errorf("%d points with enough oil and %d without: no test of both", full, short)
	}
}

// TestSweepOnOneCore: the digits do not depend on how many processors there are.
func TestSweepOnOneCore(t *testing.T) {
	text := func() string {
		b, err := json.Marshal(sweep(t, swept(), 15, 97, 13))
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	one := text()
	for _, n := range []int{2, 5} {
		runtime.GOMAXPROCS(n)
		if text() != one {
			t.Errorf("other digits on %d", n)
		}
	}
}

// TestSweepWithoutFilm: a clearance without a film is in the list, with a reason, and so is one that is no clearance.
func TestSweepWithoutFilm(t *testing.T) {
	thorough.SkipRaced(t)
	c := swept()
	c.Duty.Load, c.Duty.Speed = units.MustParseForce("60 kN"), rpm(300)
	points := sweep(t, c, 5, 1005, 5)
	found, missing := 0, 0
	for _, p := range points {
		if (p.State == nil) == (p.Reason == "") {
			t.Errorf("%v: a state and a reason, or neither: %q", p.Clearance, p.Reason)
		}
		if p.State == nil {
			missing++
		} else {
			found++
		}
	}
	if missing == 0 {
		t.Errorf("%d films and %d without", found, missing)
	}
	if last := points[4]; !strings.Contains(last.Reason, "a fiftieth of it") { // 1.005 mm on 48 mm
		t.Errorf("%v: %q", last.Clearance, last.Reason)
	}
	if _, err := c.Range(t.Context(), units.MustInterval(micrometres(5), micrometres(1005))); !errors.Is(err, film.ErrNoFilm) {
		t.Errorf("a range without a film: %v", err)
	}
}

// stopping is a context that ends after it was asked so often.
type stopping struct {
	context.Context
	left int
}

func (s *stopping) Err() error {
	if s.left--; s.left < 0 {
		return context.Canceled
	}
	return nil
}

// TestSweepStops: what was reached before the context ended is there, spread over the range; the rest has a reason.
func TestSweepStops(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1)) // stopping is for one
	points, err := swept().Sweep(&stopping{t.Context(), 5}, micrometres(20), micrometres(100), 17)
	if !errors.Is(err, context.Canceled) || len(points) != 17 {
		t.Fatalf("%d points, %v", len(points), err)
	}
	for i, p := range points {
		if (p.State != nil) != (i%4 == 0) { // both ends, the half, the quarters
			t.Errorf("point %d: %v, %q", i, p.State != nil, p.Reason)
		}
		if p.State == nil && !strings.Contains(p.Reason, "canceled") {
			t.Errorf("point %d: %q", i, p.Reason)
		}
	}
	if _, err := swept().Range(&stopping{t.Context(), 2}, units.MustInterval(micrometres(40), micrometres(60))); !errors.Is(err, context.Canceled) {
		t.Errorf("half a range: %v", err)
	}
}

func TestSweepBadInput(t *testing.T) {
	for _, test := range []struct {
		name     string
		change   func(*film.Case)
		from, to int64
		n        int
		kind     error
	}{
		{"one point", func(*film.Case) {}, 20, 40, 1, film.ErrBearing},
		{"too many", func(*film.Case) {}, 20, 40, 1001, film.ErrBearing},
		{"from zero", func(*film.Case) {}, 0, 40, 5, film.ErrBearing},
		{"backward", func(*film.Case) {}, 40, 20, 5, film.ErrBearing},
		{"no speed", func(c *film.Case) { c.Duty.Speed = rpm(0) }, 20, 40, 5, film.ErrSpeed},
		{"no load", func(c *film.Case) { c.Duty.Load = newtons(0) }, 20, 40, 5, film.ErrNoFilm},
		{"no oil", func(c *film.Case) { c.Oil.Warm = c.Oil.Cool }, 20, 40, 5, film.ErrOil},
		{"no width", func(c *film.Case) { c.Bearing.Width = micrometres(0) }, 20, 40, 5, film.ErrBearing},
		{"rough below zero", func(c *film.Case) { c.Surfaces.Journal = micrometres(-1) }, 20, 40, 5, film.ErrBearing},
		{"no delivery", func(c *film.Case) { c.Pump.Delivery = units.VolumeFlow{} }, 20, 40, 5, film.ErrBearing},
		{"no relief", func(c *film.Case) { c.Pump.Relief = units.Pressure{} }, 20, 40, 5, film.ErrBearing},
		{"no bearings", func(c *film.Case) { c.Pump.Bearings = 0 }, 20, 40, 5, film.ErrBearing},
	} {
		c := swept()
		test.change(&c)
		_, err := c.Sweep(t.Context(), micrometres(test.from), micrometres(test.to), test.n)
		if e, ok := errors.AsType[*units.Error](err); !ok || !errors.Is(err, test.kind) || e.Fix == "" {
			t.Errorf("%s: %v", test.name, err)
		}
	}
	for _, interval := range []units.LengthInterval{{}, units.AtLeast(micrometres(20)), units.AtMost(micrometres(20)), units.MustInterval(micrometres(0), micrometres(20))} {
		if _, err := swept().Range(t.Context(), interval); !errors.Is(err, film.ErrBearing) {
			t.Errorf("%v: %v", interval, err)
		}
	}
}

// results are the intervals of a range.
func results(r film.Range) map[string][2]float64 {
	return map[string][2]float64{
		"least":       {r.Least.Lo().Float64(units.Micrometre), r.Least.Hi().Float64(units.Micrometre)},
		"temperature": {r.Temperature.Lo().Float64(units.Celsius), r.Temperature.Hi().Float64(units.Celsius)},
		"peak":        {r.PeakPressure.Lo().Float64(units.Megapascal), r.PeakPressure.Hi().Float64(units.Megapascal)},
		"power":       {r.Power.Lo().Float64(units.Watt), r.Power.Hi().Float64(units.Watt)},
		"flow":        {r.SideFlow.Lo().Float64(units.LitrePerMinute), r.SideFlow.Hi().Float64(units.LitrePerMinute)},
		"pressure":    {r.Pressure.Lo().Float64(units.Bar), r.Pressure.Hi().Float64(units.Bar)},
	}
}

// TestRange: the results of a narrower interval lie within those of a wider one, and those of every clearance inside lie
// within its range, which is no more than half a percent of its ends wide for one clearance.
func TestRange(t *testing.T) {
	c := swept()
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Int64Range(20, 90).Draw(t, "from")
		hi := lo + rapid.Int64Range(1, 8).Draw(t, "wide")
		a := rapid.Int64Range(lo, hi).Draw(t, "narrower from")
		b := rapid.Int64Range(a, hi).Draw(t, "to")
		c.Duty.Load = newtons(rapid.Int64Range(300, 9000).Draw(t, "load"))
		wide, err := c.Range(t.Context(), units.MustInterval(micrometres(lo), micrometres(hi)))
		if err != nil {
			t.Skip(err)
		}
		narrow, err := c.Range(t.Context(), units.MustInterval(micrometres(a), micrometres(b)))
		if err != nil {
			t.Fatal(err)
		}
		outer := results(wide)
		for name, in := range results(narrow) {
			if out := outer[name]; in[0] < out[0] || in[1] > out[1] {
				t.Errorf("%s: %v of %d to %d µm, %v of %d to %d µm", name, in, a, b, out, lo, hi)
			}
			if a == b && in[1]-in[0] > 0.005*in[1] {
				t.Errorf("%s: %v of one clearance, %d µm", name, in, a)
			}
		}
		points, err := c.Sweep(t.Context(), micrometres(lo), micrometres(hi), 4)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range points {
			f := p.State.Work.Film
			for name, x := range map[string]float64{
				"least": f.Least.Float64(units.Micrometre), "temperature": p.State.Work.Temperature.Float64(units.Celsius), "peak": f.PeakPressure.Float64(units.Megapascal),
				"power": f.Power.Float64(units.Watt), "flow": f.SideFlow.Float64(units.LitrePerMinute), "pressure": p.State.Pressure.Float64(units.Bar),
			} {
				if out := outer[name]; x < out[0] || x > out[1] {
					t.Errorf("%s %g at %v, %v from %d to %d µm", name, x, p.Clearance, out, lo, hi)
				}
			}
		}
	})
}

// TestRangeFindsThePeak: between two clearances on either side of where the film is thickest, the range reaches the top. The film is
// thickest where neither a narrower nor a wider clearance has a thicker one, as a fine sweep shows.
func TestRangeFindsThePeak(t *testing.T) {
	thorough.Long(t)
	c := swept()
	c.Duty.Load = newtons(2500)
	top := 0
	points := sweep(t, c, 20, 160, 141)
	for i, p := range points {
		if points[top].State.Work.Film.Least.Less(p.State.Work.Film.Least) {
			top = i
		}
	}
	if top == 0 || top == 140 {
		t.Fatalf("the film is thickest at an end, %v", points[top].Clearance)
	}
	lo, hi := max(0, top-12), min(140, top+25)
	r, err := c.Range(t.Context(), units.MustInterval(points[lo].Clearance, points[hi].Clearance))
	if err != nil {
		t.Fatal(err)
	}
	most := points[top].State.Work.Film.Least
	if r.Least.Hi().Less(most) || !near(r.Least.Hi().Float64(units.Micrometre), most.Float64(units.Micrometre), 0.002) {
		t.Errorf("to %v, at its thickest %v", r.Least.Hi(), most)
	}
	least := units.Min(points[lo].State.Work.Film.Least, points[hi].State.Work.Film.Least)
	if least.Less(r.Least.Lo()) || !near(r.Least.Lo().Float64(units.Micrometre), least.Float64(units.Micrometre), 0.002) {
		t.Errorf("from %v, at its ends %v", r.Least.Lo(), least)
	}
}

// TestGradeOils: at 100 °C the two oils of a grade have the kinematic viscosities that bound it, at 150 °C the thin one has the least of high shear, and
// in the cold the thick one what cranking may meet: for 10W-40 by the table 12.5 and 16.3 mm²/s, 3.5 mPa·s, 7000 mPa·s at -25 °C.
func TestGradeOils(t *testing.T) {
	g, err := film.ParseGrade("10W-40")
	if err != nil {
		t.Fatal(err)
	}
	density, heat := units.KilogramPerCubicMetre.OfInt(866), units.MustParsePressure("1.7 MPa")
	thin, thick, err := g.Oils(density, heat)
	if err != nil {
		t.Fatal(err)
	}
	at := func(o film.Oil, c int64) float64 {
		v, err := o.Dynamic(celsius(c))
		if err != nil {
			t.Fatal(err)
		}
		return v.Float64(units.MillipascalSecond)
	}
	for _, x := range []struct{ got, want float64 }{
		{at(thin, 100), 12.5 * 0.81075}, {at(thick, 100), 16.3 * 0.81075}, // 866 - 0.65 (100 - 15)
		{at(thin, 150), 3.5}, {at(thick, -25), 7000},
	} {
		if !near(x.got, x.want, 1e-6) {
			t.Errorf("%g mPa·s, want %g", x.got, x.want)
		}
	}
	for _, text := range []string{"40", "10W"} {
		g, err := film.ParseGrade(text)
		if err != nil {
			t.Fatal(err)
		}
		if _, _, err := g.Oils(density, heat); !errors.Is(err, film.ErrOil) {
			t.Errorf("%s: %v", text, err)
		}
	}
	if _, _, err := g.Oils(units.KilogramPerCubicMetre.OfInt(1), heat); !errors.Is(err, film.ErrOil) {
		t.Errorf("a density of 1: %v", err)
	}
	if _, _, err := g.Oils(density, units.Pressure{}); !errors.Is(err, film.ErrOil) {
		t.Errorf("no heat: %v", err)
	}
}
