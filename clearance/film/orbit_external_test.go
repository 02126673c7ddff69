package film_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"testing"

	"example.com/closefit/clearance/film"
	"example.com/closefit/internal/thorough"
	"example.com/closefit/units"
)

// single is an invented cylinder.
func single() film.Mechanism {
	bar := func(crank int64, tenths int64) film.GasPoint {
		return film.GasPoint{Crank: units.Degree.OfInt(crank), Pressure: units.Kilopascal.OfInt(10 * tenths)}
	}
	return film.Mechanism{
		Bore: length("82 mm"), Stroke: length("86 mm"), Rod: length("141 mm"),
		Reciprocating: units.Gram.OfInt(640), Rotating: units.Gram.OfInt(430),
		Gas: []film.GasPoint{
			bar(-360, 1), bar(-180, -1), bar(-90, 12), bar(-40, 60), bar(-15, 190), bar(0, 340), bar(12, 560), bar(25, 430), bar(50, 160), bar(90, 55), bar(140, 22), bar(180, 9), bar(220, 2), bar(360, 1),
		},
	}
}

func rodBearing() film.Bearing {
	return film.Bearing{Diameter: length("48 mm"), Width: length("19.2 mm"), Clearance: length("0.044 mm")}
}

func newtonsOf(t *testing.T, m film.Mechanism, speed int64, degrees float64) (x, y float64) {
	t.Helper()
	c, err := m.Cycle(rpm(speed), 720)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range c.Points {
		if math.Abs(p.Crank.Float64(units.Degree)-degrees) < 1e-6 {
			return p.X.Float64(units.Newton), p.Y.Float64(units.Newton)
		}
	}
	t.Fatalf("no point at %g°", degrees)
	return 0, 0
}

// At the dead centres the loads are plain products: with r = 43 mm, l = 141 mm and 6000 r/min, ω² r = 16975.5 m/s²; the piston is at
// -ω² r (1 + r/l) at the top and +ω² r (1 - r/l) below.
func TestMechanismAtDeadCentres(t *testing.T) {
	spin := math.Pow(200*math.Pi, 2) * 0.043
	area := math.Pi / 4 * 0.082 * 0.082
	for _, c := range []struct{ degrees, want float64 }{
		{0, 3.4e6*area - 0.64*spin*(1+43.0/141) - 0.43*spin},
		{180, 90e3*area + 0.64*spin*(1-43.0/141) + 0.43*spin},
		{-180, -10e3*area + 0.64*spin*(1-43.0/141) + 0.43*spin},
	} {
		x, y := newtonsOf(t, single(), 6000, c.degrees)
		if !near(x, c.want, 1e-6) || math.Abs(y) > 1e-3 {
			t.Errorf("at %g°: %g and %g N, by hand %g and 0", c.degrees, x, y, c.want)
		}
	}
}

// The power that the journal gives to the rod is what the piston gives to the gas and what its mass takes up, at every angle: with places
// and speeds by differences of s = r cos θ + √(l² - r² sin² θ).
func TestMechanismKeepsEnergy(t *testing.T) {
	thorough.SkipRaced(t)
	m := single()
	const r, l, omega, step = 0.043, 0.141, 4300 * math.Pi / 30, 1e-5
	area := math.Pi / 4 * 0.082 * 0.082
	piston := func(theta float64) float64 {
		return r*math.Cos(theta) + math.Sqrt(l*l-r*r*math.Sin(theta)*math.Sin(theta))
	}
	motion := func(theta float64) float64 { // kinetic energy of the piston in J
		v := (piston(theta+step) - piston(theta-step)) / (2 * step) * omega
		return 0.64 / 2 * v * v
	}
	for _, c := range []struct{ degrees, bar float64 }{{-90, 1.2}, {-40, 6}, {12, 56}, {50, 16}, {90, 5.5}, {140, 2.2}, {220, 0.2}} {
		x, y := newtonsOf(t, m, 4300, c.degrees)
		theta := c.degrees * math.Pi / 180
		// The pin runs with rω a quarter turn on from (cos θ, sin θ); the rod's frame lies at -β.
		beta := math.Asin(r / l * math.Sin(theta))
		along, across := -math.Sin(theta), math.Cos(theta)
		power := r * omega * (x*(along*math.Cos(beta)-across*math.Sin(beta)) + y*(along*math.Sin(beta)+across*math.Cos(beta)))
		speed := (piston(theta+step) - piston(theta-step)) / (2 * step) * omega
		want := c.bar*1e5*area*speed + (motion(theta+1e-3)-motion(theta-1e-3))/2e-3*omega
		if math.Abs(power-want) > 2e-4*r*omega*math.Hypot(x, y) {
			t.Errorf("at %g°: the journal gives %g W, the piston needs %g", c.degrees, power, want)
		}
	}
}

// followed is the orbit by the plainest method: very small even steps of fourth order through ten cycles, from the middle.
func followed(c film.Cycle, m film.Mobility, drive float64, steps int) (most, at float64) {
	n := len(c.Points)
	xs, ys, cranks := make([]float64, n), make([]float64, n), make([]float64, n)
	for i, p := range c.Points {
		xs[i], ys[i], cranks[i] = p.X.Float64(units.Newton), p.Y.Float64(units.Newton), p.Crank.Float64(units.Degree)*math.Pi/180
	}
	period := cranks[n-1] - cranks[0]
	f := func(crank, x, y float64) (float64, float64) {
		part := (crank - cranks[0]) / period * float64(n-1) // the points are even
		i := min(int(part), n-2)
		part -= float64(i)
		fx, fy := xs[i]+part*(xs[i+1]-xs[i]), ys[i]+part*(ys[i+1]-ys[i])
		sin, cos := math.Sincos(crank)
		half := (1 + c.Swing*cos/math.Sqrt(1-c.Swing*c.Swing*sin*sin)) / 2
		w := math.Hypot(fx, fy)
		if w == 0 {
			return -half * y, half * x
		}
		along, across := m.At((x*fx+y*fy)/w, (y*fx-x*fy)/w)
		return drive*(along*fx-across*fy) - half*y, drive*(along*fy+across*fx) + half*x
	}
	x, y := 0.0, 0.0
	h := period / float64(steps)
	for range 10 {
		most = 0
		for k := range steps {
			crank := cranks[0] + h*float64(k)
			x1, y1 := f(crank, x, y)
			x2, y2 := f(crank+h/2, x+h/2*x1, y+h/2*y1)
			x3, y3 := f(crank+h/2, x+h/2*x2, y+h/2*y2)
			x4, y4 := f(crank+h, x+h*x3, y+h*y3)
			x, y = x+h/6*(x1+2*x2+2*x3+x4), y+h/6*(y1+2*y2+2*y3+y4)
			if e := math.Hypot(x, y); e > most {
				most, at = e, (crank+h)*180/math.Pi
			}
		}
	}
	return most, at
}

func orbit(t *testing.T, b film.Bearing, c film.Cycle, m film.Mobility, speed int64, steps int) film.Orbit {
	t.Helper()
	o, err := b.Orbit(c, m, rpm(speed), thousandths(8_300), steps)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

func TestOrbitOfARod(t *testing.T) {
	thorough.SkipRaced(t)
	c, err := single().Cycle(rpm(4300), 720)
	if err != nil {
		t.Fatal(err)
	}
	b := rodBearing()
	short, err := film.ShortMobility(0.4)
	if err != nil {
		t.Fatal(err)
	}
	finite, err := film.NewMobility(0.4)
	if err != nil {
		t.Fatal(err)
	}
	for name, m := range map[string]film.Mobility{"short": short, "finite": finite} {
		o := orbit(t, b, c, m, 4300, 720)
		// (c/R)²/(LDµω) with c = 22 µm, R = 24 mm, LD = 19.2 · 48 mm² and µ = 8.3 mPa·s.
		drive := math.Pow(0.022/24, 2) / (0.0192 * 0.048 * 0.0083 * 4300 * math.Pi / 30)
		most, at := followed(c, m, drive, 20_000)
		if math.Abs(o.Eccentricity-most) > 2e-5 || math.Abs(o.LeastAt.Float64(units.Degree)-at) > 1 {
			t.Errorf("%s: out to %g at %v, in plain small steps %g at %g°", name, o.Eccentricity, o.LeastAt, most, at)
		}
		if !near(o.Least.Float64(units.Micrometre), 22*(1-o.Eccentricity), 1e-6) || len(o.Points) != 721 || o.Gap > 1e-5 {
			t.Errorf("%s: %v, %d points, gap %g", name, o.Least, len(o.Points), o.Gap)
		}
		first, last := o.Points[0], o.Points[720]
		if math.Hypot(first.X-last.X, first.Y-last.Y) > 2e-5 {
			t.Errorf("%s: begins at %v and ends at %v", name, first, last)
		}
		// Finer steps change nothing.
		fine := orbit(t, b, c, m, 4300, 2880)
		if math.Abs(fine.Eccentricity-o.Eccentricity) > 1e-5 {
			t.Errorf("%s: out to %g in 720 steps, to %g in 2880", name, o.Eccentricity, fine.Eccentricity)
		}
		for i, p := range o.Points {
			if q := fine.Points[4*i]; math.Hypot(p.X-q.X, p.Y-q.Y) > 3e-5 {
				t.Fatalf("%s: %v in 720 steps, %v in 2880", name, p, q)
			}
		}
	}
	// The short film has no flow round, which makes its pressure and so its thickness larger than those of a finite width.
	if a, b := orbit(t, b, c, short, 4300, 360), orbit(t, b, c, finite, 4300, 360); !b.Least.Less(a.Least) {
		t.Errorf("short %v, finite %v", a.Least, b.Least)
	}
}

// A groove round the middle makes two bearings of half the load: the orbit is that of one of its lands by itself.
func TestOrbitWithAGroove(t *testing.T) {
	thorough.SkipRaced(t)
	c, err := single().Cycle(rpm(3100), 360)
	if err != nil {
		t.Fatal(err)
	}
	b := rodBearing()
	b.Width = length("19.6 mm")
	b.Supply = film.Supply{Groove: film.Circumferential, Width: length("4 mm"), Pressure: units.MustParsePressure("3 bar")}
	land := rodBearing()
	land.Width = length("7.8 mm") // (19.6 - 4) / 2
	m, err := film.ShortMobility(7.8 / 48)
	if err != nil {
		t.Fatal(err)
	}
	half := c
	half.Points = nil
	for _, p := range c.Points {
		halved := units.MustParseRatio("0.5").In(units.One, 1)
		half.Points = append(half.Points, film.LoadPoint{Crank: p.Crank, X: p.X.Mul(halved), Y: p.Y.Mul(halved)})
	}
	one, other := orbit(t, b, c, m, 3100, 360), orbit(t, land, half, m, 3100, 360)
	if math.Abs(one.Eccentricity-other.Eccentricity) > 1e-6 || !(one.Eccentricity > 0.5) {
		t.Errorf("%g and %g", one.Eccentricity, other.Eccentricity)
	}
}

// While there is no load the journal goes round with half the speed, as far out as it was.
func TestOrbitWithoutLoadForAWhile(t *testing.T) {
	thorough.SkipRaced(t)
	c := film.Cycle{Points: []film.LoadPoint{
		{Crank: units.Degree.OfInt(0), X: newtons(0)}, {Crank: units.Degree.OfInt(40), X: newtons(3000), Y: newtons(-500)}, {Crank: units.Degree.OfInt(90)},
		{Crank: units.Degree.OfInt(360)},
	}}
	m, err := film.NewMobility(0.4)
	if err != nil {
		t.Fatal(err)
	}
	o := orbit(t, rodBearing(), c, m, 2700, 360)
	at := func(degrees int) (e, angle float64) {
		p := o.Points[degrees]
		return math.Hypot(p.X, p.Y), math.Atan2(p.Y, p.X) * 180 / math.Pi
	}
	e0, a0 := at(100)
	e1, a1 := at(340)
	if math.Abs(e0-e1) > 1e-5 || math.Abs(math.Remainder(a1-a0-120, 360)) > 0.01 || e0 < 0.1 {
		t.Errorf("from %g at %g° to %g at %g° while there is no load", e0, a0, e1, a1)
	}
}

// A cycle that begins elsewhere is the same cycle.
func TestOrbitBeginsAnywhere(t *testing.T) {
	thorough.SkipRaced(t)
	c, err := single().Cycle(rpm(4300), 720)
	if err != nil {
		t.Fatal(err)
	}
	later := film.Cycle{Swing: c.Swing, Points: append([]film.LoadPoint{}, c.Points[270:]...)}
	for _, p := range c.Points[1:271] {
		p.Crank = p.Crank.Add(units.Degree.OfInt(720))
		later.Points = append(later.Points, p)
	}
	m, err := film.ShortMobility(0.4)
	if err != nil {
		t.Fatal(err)
	}
	a, b := orbit(t, rodBearing(), c, m, 4300, 360), orbit(t, rodBearing(), later, m, 4300, 360)
	if math.Abs(a.Eccentricity-b.Eccentricity) > 1e-5 || math.Abs(math.Remainder(a.LeastAt.Sub(b.LeastAt).Float64(units.Degree), 720)) > 0.5 {
		t.Errorf("%g at %v, and %g at %v", a.Eccentricity, a.LeastAt, b.Eccentricity, b.LeastAt)
	}
}

func TestBadCycles(t *testing.T) {
	thorough.SkipRaced(t)
	m, err := film.ShortMobility(0.4)
	if err != nil {
		t.Fatal(err)
	}
	table := func(change func(*film.Cycle)) func() error {
		return func() error {
			c := film.Cycle{Points: []film.LoadPoint{{Crank: units.Degree.OfInt(0), X: newtons(900)}, {Crank: units.Degree.OfInt(200), X: newtons(2000), Y: newtons(70)}, {Crank: units.Degree.OfInt(360), X: newtons(900)}}}
			change(&c)
			_, err := rodBearing().Orbit(c, m, rpm(2000), thousandths(9_000), 90)
			return err
		}
	}
	mechanism := func(change func(*film.Mechanism)) func() error {
		return func() error {
			s := single()
			change(&s)
			_, err := s.Cycle(rpm(2000), 90)
			return err
		}
	}
	with := func(b film.Bearing, m film.Mobility, speed, viscosity int64, steps int) func() error {
		return func() error {
			c, err := single().Cycle(rpm(2000), 90)
			if err != nil {
				return err
			}
			_, err = b.Orbit(c, m, rpm(speed), thousandths(viscosity), steps)
			return err
		}
	}
	pockets := rodBearing()
	pockets.Supply = pocketed().Supply
	if err := table(func(*film.Cycle) {})(); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		kind error
		do   func() error
	}{
		"no points":                     {film.ErrCycle, table(func(c *film.Cycle) { c.Points = nil })},
		"one point":                     {film.ErrCycle, table(func(c *film.Cycle) { c.Points = c.Points[:1] })},
		"ends early":                    {film.ErrCycle, table(func(c *film.Cycle) { c.Points[2].Crank = units.Degree.OfInt(350) })},
		"ends with another load along":  {film.ErrCycle, table(func(c *film.Cycle) { c.Points[2].X = newtons(901) })},
		"ends with another load across": {film.ErrCycle, table(func(c *film.Cycle) { c.Points[2].Y = newtons(1) })},
		"out of order":                  {film.ErrCycle, table(func(c *film.Cycle) { c.Points[1].Crank = units.Degree.OfInt(-5) })},
		"an angle twice":                {film.ErrCycle, table(func(c *film.Cycle) { c.Points[1].Crank = units.Degree.OfInt(0) })},
		"no load at all": {film.ErrCycle, table(func(c *film.Cycle) {
			c.Points[0].X, c.Points[2].X, c.Points[1] = newtons(0), newtons(0), c.Points[2]
			c.Points = append(c.Points[:1], c.Points[2])
		})},
		"a swing below zero":               {film.ErrCycle, table(func(c *film.Cycle) { c.Swing = -0.3 })},
		"a rod as short as the crank":      {film.ErrCycle, table(func(c *film.Cycle) { c.Swing = 1 })},
		"a swing that is no number":        {film.ErrCycle, table(func(c *film.Cycle) { c.Swing = math.NaN() })},
		"a load that no film carries":      {film.ErrNoFilm, table(func(c *film.Cycle) { c.Points[1].X = units.Kilonewton.OfInt(1e6) })},
		"a load beyond numbers":            {film.ErrNoFilm, table(func(c *film.Cycle) { c.Points[1].X = units.Kilonewton.OfInt(math.MaxInt64) })},
		"few steps":                        {film.ErrCycle, with(rodBearing(), m, 2000, 9_000, 7)},
		"many steps":                       {film.ErrCycle, with(rodBearing(), m, 2000, 9_000, 20_000)},
		"no speed":                         {film.ErrSpeed, with(rodBearing(), m, 0, 9_000, 90)},
		"no viscosity":                     {film.ErrOil, with(rodBearing(), m, 2000, 0, 90)},
		"no mobility":                      {film.ErrBearing, with(rodBearing(), film.Mobility{}, 2000, 9_000, 90)},
		"mobility of another bearing":      {film.ErrBearing, with(main3(), m, 2000, 9_000, 90)},
		"pockets":                          {film.ErrBearing, with(pockets, m, 2000, 9_000, 90)},
		"no bearing":                       {film.ErrBearing, with(film.Bearing{}, m, 2000, 9_000, 90)},
		"no bore":                          {film.ErrMechanism, mechanism(func(m *film.Mechanism) { m.Bore = length("0 mm") })},
		"no stroke":                        {film.ErrMechanism, mechanism(func(m *film.Mechanism) { m.Stroke = length("-1 mm") })},
		"no rod":                           {film.ErrMechanism, mechanism(func(m *film.Mechanism) { m.Rod = length("0 mm") })},
		"a rod half as long as the stroke": {film.ErrMechanism, mechanism(func(m *film.Mechanism) { m.Rod = length("43 mm") })},
		"a mass below zero":                {film.ErrMechanism, mechanism(func(m *film.Mechanism) { m.Reciprocating = units.Gram.OfInt(-1) })},
		"another mass below zero":          {film.ErrMechanism, mechanism(func(m *film.Mechanism) { m.Rotating = units.Gram.OfInt(-1) })},
		"no gas":                           {film.ErrCycle, mechanism(func(m *film.Mechanism) { m.Gas = nil })},
		"gas that does not close":          {film.ErrCycle, mechanism(func(m *film.Mechanism) { m.Gas[0].Pressure = units.MustParsePressure("2 bar") })},
		"gas of half a cycle":              {film.ErrCycle, mechanism(func(m *film.Mechanism) { m.Gas = m.Gas[:8] })},
	} {
		err := c.do()
		fault, ok := errors.AsType[*units.Error](err)
		if !ok || !errors.Is(err, c.kind) || fault.Where == "" || fault.Found == "" || fault.Fix == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// FuzzOrbit takes any cycle of a rod: either there is an error that says what to write, or all numbers are finite and the journal stays in
// its shell.
func FuzzOrbit(f *testing.F) {
	f.Add(int64(44), int64(8_300), int64(4300), int64(640), int64(430), int64(5600), int64(-1200), uint8(12))
	f.Add(int64(900), int64(1), int64(1), int64(0), int64(0), int64(1), int64(0), uint8(1))
	f.Add(int64(1), int64(90_000), int64(90_000), int64(64_000), int64(43_000), int64(1), int64(1), uint8(200))
	m, err := film.NewMobility(0.4)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, clearance, viscosity, speed, up, round, peak, low int64, at uint8) {
		b := rodBearing()
		b.Clearance = units.Micrometre.OfInt(clearance)
		s := single()
		s.Reciprocating, s.Rotating = units.Gram.OfInt(up), units.Gram.OfInt(round)
		s.Gas = []film.GasPoint{{Crank: units.Degree.OfInt(-360)}, {Crank: units.Degree.OfInt(int64(at)), Pressure: units.Kilopascal.OfInt(peak)}, {Crank: units.Degree.OfInt(300), Pressure: units.Kilopascal.OfInt(low)}, {Crank: units.Degree.OfInt(360)}}
		c, err := s.Cycle(rpm(speed), 64)
		var o film.Orbit
		if err == nil {
			o, err = b.Orbit(c, m, rpm(speed), thousandths(viscosity), 64)
		}
		if err != nil {
			if e, ok := errors.AsType[*units.Error](err); !ok || e.Found == "" || e.Fix == "" {
				t.Fatalf("%v", err)
			}
			return
		}
		text, err := json.Marshal(o) // refuses what is not finite
		if err != nil {
			t.Fatal(err)
		}
		if !(o.Eccentricity > 0 && o.Eccentricity < 1) || o.Least.Sign() <= 0 {
			t.Fatalf("%s", text)
		}
		for _, p := range o.Points {
			if math.Hypot(p.X, p.Y) > o.Eccentricity+1e-9 {
				t.Fatalf("%v lies farther out than %g", fmt.Sprint(p), o.Eccentricity)
			}
		}
	})
}
