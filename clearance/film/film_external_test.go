package film_test

import (
	"errors"
	"math"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/clearance/film"
	"example.com/closefit/internal/thorough"
	"example.com/closefit/units"
)

func length(s string) units.Length { return units.MustParseLength(s) }

func rpm(n int64) units.RotationalSpeed { return units.RevolutionPerMinute.OfInt(n) }

func newtons(n int64) units.Force { return units.Newton.OfInt(n) }

// thousandths is a viscosity in thousandths of a mPa·s.
func thousandths(n int64) units.DynamicViscosity {
	return units.MillipascalSecond.Of(decimal.New(n, -3))
}

// main3 is an invented bearing.
func main3() film.Bearing {
	return film.Bearing{Diameter: length("48 mm"), Width: length("19 mm"), Clearance: length("0.046 mm")}
}

func grooved() film.Bearing {
	b := main3()
	b.Supply = film.Supply{Groove: film.Circumferential, Width: length("3.5 mm"), Pressure: units.MustParsePressure("3 bar")}
	return b
}

func pocketed() film.Bearing {
	b := main3()
	b.Supply = film.Supply{Groove: film.Pockets, Width: length("7 mm"), Pressure: units.MustParsePressure("3 bar"),
		Pockets: []units.Angle{units.MustParseAngle("-110°")}, Reach: units.MustParseAngle("14°")}
	return b
}

func oil() film.Oil {
	return film.Oil{
		Name:    "an invented 10W-40",
		Cool:    film.ViscosityPoint{Temperature: units.Celsius.OfInt(40), Viscosity: units.SquareMillimetrePerSecond.OfInt(92)},
		Warm:    film.ViscosityPoint{Temperature: units.Celsius.OfInt(100), Viscosity: units.MustParse[units.KinematicViscosity]("13.9 mm²/s")},
		Density: units.KilogramPerCubicMetre.OfInt(866), Heat: units.MustParsePressure("1.7 MPa"),
	}
}

func near(a, b, part float64) bool { return math.Abs(a-b) <= part*math.Max(math.Abs(a), math.Abs(b)) }

// Load rises with eccentricity, in every kind of bearing; so does the share of flow at the sides, and the attitude
// falls.
func TestLoadRisesWithEccentricity(t *testing.T) {
	for name, b := range map[string]film.Bearing{"plain": main3(), "groove": grooved(), "pocket": pocketed()} {
		before := film.Film{}
		for i, e := range []float64{0.15, 0.3, 0.5, 0.7, 0.85, 0.95} {
			f, err := b.At(e, rpm(2900), thousandths(9_400))
			if err != nil {
				t.Fatal(name, e, err)
			}
			if i > 0 && (f.Load.Cmp(before.Load) <= 0 || f.Numbers.Attitude.Cmp(before.Numbers.Attitude) >= 0 || f.PeakPressure.Cmp(before.PeakPressure) <= 0) {
				t.Errorf("%s, e %g: load %v, attitude %v, peak %v after %v, %v, %v", name, e, f.Load, f.Numbers.Attitude, f.PeakPressure, before.Load, before.Numbers.Attitude, before.PeakPressure)
			}
			before = f
		}
	}
}

// Numbers do not depend on size, speed and viscosity by themselves: another bearing of the same
// shape has the same, if its supply's pressure is the same in units of µω(R/c)².
func TestNumbersHaveNoUnits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Int64Range(2, 9).Draw(t, "size")
		j := rapid.Int64Range(2, 9).Draw(t, "speed")
		n := rapid.Int64Range(2, 9).Draw(t, "viscosity")
		e := float64(rapid.IntRange(5, 95).Draw(t, "e")) / 100
		small := rapid.SampledFrom([]film.Bearing{main3(), grooved()}).Draw(t, "bearing")
		large := small
		large.Diameter, large.Width, large.Clearance = small.Diameter.MulInt(k), small.Width.MulInt(k), small.Clearance.MulInt(k)
		large.Supply.Width = small.Supply.Width.MulInt(k)
		large.Supply.Pressure = small.Supply.Pressure.MulInt(j * n)
		a, err := small.At(e, rpm(1100), thousandths(3_700))
		if err != nil {
			t.Fatal(err)
		}
		b, err := large.At(e, rpm(1100*j), thousandths(3_700*n))
		if err != nil {
			t.Fatal(err)
		}
		for name, x := range map[string][2]float64{
			"S": {a.Numbers.Sommerfeld, b.Numbers.Sommerfeld}, "friction": {a.Numbers.Friction, b.Numbers.Friction},
			"flow": {a.Numbers.Flow, b.Numbers.Flow}, "side flow": {a.Numbers.SideFlow, b.Numbers.SideFlow},
			"peak": {a.Numbers.Peak, b.Numbers.Peak}, "fed": {a.Numbers.Fed, b.Numbers.Fed},
			"attitude": {a.Numbers.Attitude.Float64(units.Degree), b.Numbers.Attitude.Float64(units.Degree)},
		} {
			if !near(x[0], x[1], 1e-6) {
				t.Errorf("%s: %g and %g", name, x[0], x[1])
			}
		}
		// W = µ ω L R (R/c)² / (π S): with the size k² for LR.
		if got := b.Load.Float64(units.Newton) / a.Load.Float64(units.Newton); !near(got, float64(k*k*j*n), 1e-6) {
			t.Errorf("the load grows %g times, not %d", got, k*k*j*n)
		}
	})
}

// What is read off a film agrees with what it was made of, by hand.
func TestFilmInUnits(t *testing.T) {
	b := film.Bearing{Diameter: length("60 mm"), Width: length("30 mm"), Clearance: length("0.06 mm")}
	f, err := b.At(0.6, rpm(3000), units.MillipascalSecond.OfInt(20))
	if err != nil {
		t.Fatal(err)
	}
	n, _, err := film.Solve(0.5, 0.6)
	if err != nil {
		t.Fatal(err)
	}
	// (R/c)² µN = 1000² · 0.020 Pa·s · 50/s = 1 MPa, and P = 1 MPa / S; LD = 1800 mm².
	load := 1800 / n.Sommerfeld
	for name, x := range map[string][2]float64{
		"load":            {f.Load.Float64(units.Newton), load},
		"film":            {f.Least.Float64(units.Micrometre), 12},                                        // 30 µm · 0.4
		"peak pressure":   {f.PeakPressure.Float64(units.Megapascal), n.Peak / n.Sommerfeld},              // in MPa
		"friction torque": {f.Friction.Float64(units.NewtonMetre), n.Friction / 1000 * load * 0.03},       // f W R
		"power":           {f.Power.Float64(units.Watt), n.Friction / 1000 * load * 0.03 * 100 * math.Pi}, // · ω
		"flow":            {f.Flow.Float64(units.CubicMillimetrePerSecond), n.Flow * 30 * 0.03 * 50 * 30}, // RcNL = 1350 mm³/s
		"side flow":       {f.SideFlow.Float64(units.CubicMillimetrePerSecond), n.SideFlow * 1350},
	} {
		if !near(x[0], x[1], 1e-3) { // two grids and two others
			t.Errorf("%s: %g, by hand %g", name, x[0], x[1])
		}
	}
}

// The eccentricity of a load carries that load.
func TestCarryIsTheInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SampledFrom([]film.Bearing{main3(), grooved(), pocketed()}).Draw(t, "bearing")
		e := float64(rapid.IntRange(20, 98).Draw(t, "e")) / 100
		f, err := b.At(e, rpm(3100), thousandths(8_300))
		if err != nil {
			t.Fatal(err)
		}
		back, err := b.Carry(f.Load, rpm(3100), thousandths(8_300))
		if err != nil {
			t.Fatal(err)
		}
		if !near(back.Load.Float64(units.Newton), f.Load.Float64(units.Newton), 1e-4) || math.Abs(back.Numbers.Eccentricity-e) > 1e-4 {
			t.Errorf("e %g carries %v; that is carried at e %g, which carries %v", e, f.Load, back.Numbers.Eccentricity, back.Load)
		}
	})
}

// heated is a working point by the plainest search: halve the range of temperatures, with the load carried at each.
func heated(t *testing.T, b film.Bearing, d film.Duty, o film.Oil, part float64) (celsius float64, last film.Film) {
	inlet := d.Inlet.Float64(units.Celsius)
	lo, hi := inlet, inlet+150
	for range 17 {
		mid := (lo + hi) / 2
		at, err := units.Celsius.OfFloat64(mid, 6)
		if err != nil {
			t.Fatal(err)
		}
		v, err := o.Dynamic(at)
		if err != nil {
			t.Fatal(err)
		}
		f, err := b.Carry(d.Load, d.Speed, v)
		if err != nil {
			t.Fatal(err)
		}
		rise := f.Power.Float64(units.Watt) * (1 - d.Shed.Float64(units.One)) / (o.Heat.Float64(units.Pascal) * f.SideFlow.Float64(units.CubicMillimetrePerSecond) * 1e-9)
		if lacks := inlet + part*rise - mid; lacks > 0 {
			lo = mid
		} else {
			hi = mid
		}
		last = f
	}
	return (lo + hi) / 2, last
}

func TestWorkAgreesWithHalving(t *testing.T) {
	thorough.Long(t)
	shed := units.MustParseRatio("0.3")
	for _, c := range []struct {
		name string
		b    film.Bearing
		d    film.Duty
		part float64
	}{
		{"plain", main3(), film.Duty{Load: newtons(5200), Speed: rpm(3400), Inlet: units.Celsius.OfInt(88)}, 0.5},
		{"as hot as it leaves", main3(), film.Duty{Load: newtons(5200), Speed: rpm(3400), Inlet: units.Celsius.OfInt(88), Outlet: true}, 1},
		{"some shed", main3(), film.Duty{Load: newtons(2300), Speed: rpm(1900), Inlet: units.Celsius.OfInt(71), Shed: shed}, 0.5},
		{"groove", grooved(), film.Duty{Load: newtons(2600), Speed: rpm(4100), Inlet: units.Celsius.OfInt(93)}, 0.5},
		{"pocket", pocketed(), film.Duty{Load: newtons(5200), Speed: rpm(3400), Inlet: units.Celsius.OfInt(88)}, 0.5},
	} {
		p, err := c.b.Work(c.d, oil())
		if err != nil {
			t.Fatal(c.name, err)
		}
		celsius, f := heated(t, c.b, c.d, oil(), c.part)
		if got := p.Temperature.Float64(units.Celsius); math.Abs(got-celsius) > 0.02 {
			t.Errorf("%s: %g °C, by halving %g", c.name, got, celsius)
		}
		if !near(p.Film.Least.Float64(units.Micrometre), f.Least.Float64(units.Micrometre), 1e-3) || !near(p.Film.Load.Float64(units.Newton), c.d.Load.Float64(units.Newton), 1e-4) {
			t.Errorf("%s: %v under %v, by halving %v", c.name, p.Film.Least, p.Film.Load, f.Least)
		}
		if got, want := p.Rise.Float64(units.KelvinDifference), (celsius-c.d.Inlet.Float64(units.Celsius))/c.part; math.Abs(got-want) > 0.05 {
			t.Errorf("%s: the oil gets warmer by %g K, by halving %g", c.name, got, want)
		}
	}
}

// Warmer oil makes less heat under the same load, and more of it leaves: so there is one working point.
func TestHeatFallsWithTemperature(t *testing.T) {
	thorough.SkipRaced(t)
	for name, b := range map[string]film.Bearing{"plain": main3(), "groove": grooved(), "pocket": pocketed()} {
		before := math.Inf(1)
		for c := int64(40); c <= 150; c += 10 {
			v, err := oil().Dynamic(units.Celsius.OfInt(c))
			if err != nil {
				t.Fatal(err)
			}
			f, err := b.Carry(newtons(2700), rpm(2600), v)
			if err != nil {
				t.Fatal(name, c, err)
			}
			rise := f.Power.Float64(units.Watt) / f.SideFlow.Float64(units.LitrePerMinute)
			if rise >= before {
				t.Errorf("%s at %d °C: %g W in a litre per minute, after %g", name, c, rise, before)
			}
			before = rise
		}
	}
}

// The field for drawing is nowhere below ambient, is the same on both sides of the middle, has the peak that the film
// says, and adds up to the load, in its direction.
func TestField(t *testing.T) {
	for name, b := range map[string]film.Bearing{"plain": main3(), "groove": grooved(), "pocket": pocketed()} {
		f, err := b.At(0.72, rpm(2500), thousandths(11_000))
		if err != nil {
			t.Fatal(err)
		}
		const round, along = 361, 81
		field, err := f.Field(round, along)
		if err != nil {
			t.Fatal(err)
		}
		most, up, across := 0.0, 0.0, 0.0
		for i, row := range field.Megapascals {
			angle := field.Degrees[i] * math.Pi / 180
			for j, p := range row {
				if !(p >= 0) || math.Abs(p-row[along-1-j]) > 1e-9 {
					t.Fatalf("%s: %g MPa at %g° and %g mm, %g on the other side", name, p, field.Degrees[i], field.Millimetres[j], row[along-1-j])
				}
				most = max(most, p)
				if i > 0 && j > 0 {
					area := 24 * math.Pi / 180 * (field.Millimetres[j] - field.Millimetres[j-1]) // mm²
					up += p * area * math.Cos(angle)
					across += p * area * math.Sin(angle)
				}
			}
		}
		load := f.Load.Float64(units.Newton)
		if !near(up, load, 0.01) || math.Abs(across) > 0.01*load || !near(most, f.PeakPressure.Float64(units.Megapascal), 0.01) {
			t.Errorf("%s: adds up to %g N along and %g N across a load of %g N; peak %g MPa, %v", name, up, across, load, most, f.PeakPressure)
		}
		if first, last := field.Degrees[0], field.Degrees[round-1]; first != -180 || last != 180 || field.Millimetres[0] != -9.5 || field.Millimetres[along-1] != 9.5 {
			t.Errorf("%s: from %g° to %g°, from %g to %g mm", name, first, last, field.Millimetres[0], field.Millimetres[along-1])
		}
	}
}

// Pockets that outweigh a light load decide where the journal goes: the pressure over the film still adds up to the load, in its
// direction.
func TestPocketsOutweighALightLoad(t *testing.T) {
	thorough.SkipRaced(t)
	b := pocketed()
	for _, load := range []int64{20, 60, 300} {
		f, err := b.Carry(newtons(load), rpm(2500), thousandths(11_000))
		if err != nil {
			t.Fatal(load, err)
		}
		const round, along = 721, 161
		field, err := f.Field(round, along)
		if err != nil {
			t.Fatal(err)
		}
		up, across, all := 0.0, 0.0, 0.0
		for i, row := range field.Megapascals[1:] {
			angle := field.Degrees[i+1] * math.Pi / 180
			for j, p := range row[1:] {
				part := p * 24 * math.Pi / 360 * (field.Millimetres[j+1] - field.Millimetres[j])
				up, across, all = up+part*math.Cos(angle), across+part*math.Sin(angle), all+part
			}
		}
		if math.Abs(up-float64(load)) > 0.02*all || math.Abs(across) > 0.02*all {
			t.Errorf("%d N: adds up to %g N along and %g N across, of %g N in all", load, up, across, all)
		}
	}
}

// A pocket on one side of the load is not one on the other.
func TestPocketsHaveSides(t *testing.T) {
	at := func(degrees int64) film.Film {
		b := pocketed()
		b.Supply.Pockets = []units.Angle{units.Degree.OfInt(degrees)}
		f, err := b.At(0.6, rpm(2500), thousandths(11_000))
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	before, after, plain := at(-30), at(140), main3()
	whole, err := plain.At(0.6, rpm(2500), thousandths(11_000))
	if err != nil {
		t.Fatal(err)
	}
	// In the middle of the pressure a pocket costs load; behind the film's end next to none.
	if !near(after.Load.Float64(units.Newton), whole.Load.Float64(units.Newton), 0.1) || before.Load.Float64(units.Newton) > 0.8*whole.Load.Float64(units.Newton) {
		t.Errorf("%v with a pocket in the film, %v with one behind it, %v with none", before.Load, after.Load, whole.Load)
	}
	if before.Numbers.Fed >= 0 || after.Numbers.Fed <= 0 {
		t.Errorf("a pocket in the film feeds %g of the side flow, one behind it %g", before.Numbers.Fed, after.Numbers.Fed)
	}
}

func TestRunning(t *testing.T) {
	c, err := film.Running(length("52.018 mm"), length("1.992 mm"), length("1.988 mm"), length("47.990 mm"))
	if err != nil || !c.Equal(length("0.048 mm")) { // 52.018 - 1.992 - 1.988 - 47.990
		t.Errorf("%v, %v", c, err)
	}
	for name, sizes := range map[string][4]string{
		"walls thicker than the bore": {"52 mm", "26 mm", "27 mm", "48 mm"},
		"walls as thick as the bore":  {"52 mm", "26 mm", "26 mm", "48 mm"},
		"no clearance":                {"52 mm", "2 mm", "2 mm", "48 mm"},
		"interference":                {"52 mm", "2 mm", "2.1 mm", "48 mm"},
		"a wall below zero":           {"52 mm", "-2 mm", "2 mm", "48 mm"},
	} {
		if _, err := film.Running(length(sizes[0]), length(sizes[1]), length(sizes[2]), length(sizes[3])); !errors.Is(err, film.ErrWall) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := film.Running(length("0 mm"), length("0 mm"), length("0 mm"), length("48 mm")); !errors.Is(err, film.ErrBearing) {
		t.Error(err)
	}
}

// Every bad input has its kind of error.
func TestBadInput(t *testing.T) {
	fair := film.Duty{Load: newtons(5200), Speed: rpm(3400), Inlet: units.Celsius.OfInt(88)}
	bearing := func(change func(*film.Bearing)) func() error {
		return func() error {
			b := main3()
			change(&b)
			_, err := b.Work(fair, oil())
			return err
		}
	}
	groove := func(change func(*film.Supply)) func() error {
		return bearing(func(b *film.Bearing) { b.Supply = grooved().Supply; change(&b.Supply) })
	}
	pocket := func(change func(*film.Supply)) func() error {
		return bearing(func(b *film.Bearing) { b.Supply = pocketed().Supply; change(&b.Supply) })
	}
	duty := func(change func(*film.Duty)) func() error {
		return func() error {
			d := fair
			change(&d)
			_, err := main3().Work(d, oil())
			return err
		}
	}
	oils := func(change func(*film.Oil)) func() error {
		return func() error {
			o := oil()
			change(&o)
			_, err := main3().Work(fair, o)
			return err
		}
	}
	at := func(e float64) func() error {
		return func() error {
			_, err := main3().At(e, rpm(3400), thousandths(9_000))
			return err
		}
	}
	for name, c := range map[string]struct {
		kind error
		do   func() error
	}{
		"eccentricity of 0":                  {film.ErrEccentricity, at(0)},
		"eccentricity of 1":                  {film.ErrEccentricity, at(1)},
		"eccentricity below 0":               {film.ErrEccentricity, at(-0.4)},
		"eccentricity above 1":               {film.ErrEccentricity, at(1.4)},
		"eccentricity that is no number":     {film.ErrEccentricity, at(math.NaN())},
		"eccentricity that the grid has not": {film.ErrEccentricity, at(0.9999)},
		"no load":                            {film.ErrNoFilm, duty(func(d *film.Duty) { d.Load = newtons(0) })},
		"load below zero":                    {film.ErrNoFilm, duty(func(d *film.Duty) { d.Load = newtons(-40) })},
		"load that no film carries":          {film.ErrNoFilm, duty(func(d *film.Duty) { d.Load = newtons(40_000_000) })},
		"no speed":                           {film.ErrSpeed, duty(func(d *film.Duty) { d.Speed = rpm(0) })},
		"speed below zero":                   {film.ErrSpeed, duty(func(d *film.Duty) { d.Speed = rpm(-3) })},
		"inlet too hot":                      {film.ErrOil, duty(func(d *film.Duty) { d.Inlet = units.Celsius.OfInt(400) })},
		"all heat shed":                      {film.ErrBearing, duty(func(d *film.Duty) { d.Shed = units.MustParseRatio("1") })},
		"heat shed below zero":               {film.ErrBearing, duty(func(d *film.Duty) { d.Shed = units.MustParseRatio("-0.1") })},
		"no diameter":                        {film.ErrBearing, bearing(func(b *film.Bearing) { b.Diameter = length("0 mm") })},
		"no width":                           {film.ErrBearing, bearing(func(b *film.Bearing) { b.Width = length("-1 mm") })},
		"no clearance":                       {film.ErrBearing, bearing(func(b *film.Bearing) { b.Clearance = length("0 mm") })},
		"clearance in another unit":          {film.ErrBearing, bearing(func(b *film.Bearing) { b.Clearance = length("0.046 in") })},
		"narrow beyond use":                  {film.ErrBearing, bearing(func(b *film.Bearing) { b.Width = length("0.4 mm") })},
		"wide beyond use":                    {film.ErrBearing, bearing(func(b *film.Bearing) { b.Width = length("2 m") })},
		"wide with a groove":                 {film.ErrBearing, groove(func(s *film.Supply) { s.Width = length("18 mm") })},
		"pressure without a groove":          {film.ErrBearing, bearing(func(b *film.Bearing) { b.Supply.Pressure = units.MustParsePressure("1 bar") })},
		"pressure below ambient":             {film.ErrBearing, groove(func(s *film.Supply) { s.Pressure = units.MustParsePressure("-1 bar") })},
		"groove of no width":                 {film.ErrBearing, groove(func(s *film.Supply) { s.Width = length("0 mm") })},
		"groove and pockets":                 {film.ErrBearing, groove(func(s *film.Supply) { s.Pockets = pocketed().Supply.Pockets })},
		"groove that is none":                {film.ErrBearing, groove(func(s *film.Supply) { s.Groove = 77 })},
		"pockets nowhere":                    {film.ErrBearing, pocket(func(s *film.Supply) { s.Pockets = nil })},
		"pockets wider than the bearing":     {film.ErrBearing, pocket(func(s *film.Supply) { s.Width = length("20 mm") })},
		"pockets of no reach":                {film.ErrBearing, pocket(func(s *film.Supply) { s.Reach = units.Angle{} })},
		"points of the oil in another order": {film.ErrOil, oils(func(o *film.Oil) { o.Cool, o.Warm = o.Warm, o.Cool })},
		"points at one temperature":          {film.ErrOil, oils(func(o *film.Oil) { o.Warm.Temperature = o.Cool.Temperature })},
		"thicker when warm":                  {film.ErrOil, oils(func(o *film.Oil) { o.Cool.Viscosity, o.Warm.Viscosity = o.Warm.Viscosity, o.Cool.Viscosity })},
		"no viscosity":                       {film.ErrOil, oils(func(o *film.Oil) { o.Warm.Viscosity = units.KinematicViscosity{} })},
		"no density":                         {film.ErrOil, oils(func(o *film.Oil) { o.Density = units.Density{} })},
		"heat by mass":                       {film.ErrOil, oils(func(o *film.Oil) { o.Heat = units.MustParsePressure("1970 Pa") })},
		"viscosity of zero": {film.ErrOil, func() error {
			_, err := main3().Carry(newtons(100), rpm(100), units.DynamicViscosity{})
			return err
		}},
		"a field of one place": {film.ErrBearing, func() error {
			f, err := main3().At(0.5, rpm(3400), thousandths(9_000))
			if err != nil {
				return err
			}
			_, err = f.Field(1, 10)
			return err
		}},
	} {
		err := c.do()
		e, ok := errors.AsType[*units.Error](err)
		if !ok || !errors.Is(err, c.kind) || e.Found == "" || e.Fix == "" {
			t.Errorf("%s: %v, want %v", name, err, c.kind)
		}
	}
}

// Each doubt comes up where its number passes, and says the number.
func TestDoubts(t *testing.T) {
	thorough.SkipRaced(t)
	smooth := film.Surfaces{Journal: length("0.1 µm"), Bearing: length("0.3 µm")}
	find := func(doubts []film.Doubt, quantity string) (film.Doubt, bool) {
		for _, d := range doubts {
			if d.Quantity == quantity {
				return d, true
			}
		}
		return film.Doubt{}, false
	}
	workAt := func(inlet int64, b film.Bearing, load, speed int64) film.WorkingPoint {
		p, err := b.Work(film.Duty{Load: newtons(load), Speed: rpm(speed), Inlet: units.Celsius.OfInt(inlet)}, oil())
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	work := func(b film.Bearing, load, speed int64) film.WorkingPoint { return workAt(80, b, load, speed) }
	calm := work(main3(), 900, 1500)
	if d := calm.Doubts(smooth); len(d) != 0 {
		t.Errorf("%+v", d)
	}
	for quantity, c := range map[string]struct {
		p film.WorkingPoint
		s film.Surfaces
	}{
		"share of the side flow that the groove feeds": {work(grooved(), 6000, 3400), smooth},
		"least film over combined roughness":           {calm, film.Surfaces{Journal: length("3 µm"), Bearing: length("4 µm")}},
		"p R/E of steel over the least film":           {work(main3(), 22_000, 1500), smooth},
		"least film in µm, against 5 µm + 0.00004 D":   {work(main3(), 9000, 1500), smooth},
		"film temperature in °C":                       {workAt(115, main3(), 9000, 9000), smooth},
		"eccentricity ratio":                           {work(main3(), 36_000, 900), smooth},
	} {
		if d, ok := find(c.p.Doubts(c.s), quantity); !ok || d.Source == "" || d.About == "" || d.Number == d.Threshold {
			t.Errorf("%s: %+v of %+v", quantity, d, c.p.Film.Numbers)
		}
	}
	wide := main3()
	wide.Diameter, wide.Width, wide.Clearance = length("300 mm"), length("120 mm"), length("0.9 mm")
	d, ok := find(work(wide, 9000, 6000).Doubts(smooth), "Reynolds number ρωRc/µ, against 41.2 √(R/c)")
	if !ok || !near(d.Threshold, 41.2*math.Sqrt(150/0.45), 1e-9) {
		t.Errorf("%+v", d)
	}
	// 3 and 4 make 5.
	if got := (film.Surfaces{Journal: length("0.3 µm"), Bearing: length("0.4 µm")}).Lambda(length("2 µm")); !near(got, 4, 1e-12) {
		t.Errorf("λ %g", got)
	}
}
