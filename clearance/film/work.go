package film

import (
	"errors"
	"fmt"
	"math"

	"example.com/closefit/units"
)

// A Duty is what a bearing has to do.
type Duty struct {
	Load  units.Force           `json:"load"`
	Speed units.RotationalSpeed `json:"speed"` // of the journal
	Inlet units.Temperature     `json:"inlet"` // of the oil that is supplied
	// Shed is the part of the heat that housing and crankshaft take. Zero leaves all of it to the
	// oil, which makes the film hotter and thinner than it is.
	Shed units.Ratio `json:"shed"`
	// Outlet takes the film to be as hot as the oil that leaves it; without it, half as far above
	// the inlet, the mean.
	Outlet bool `json:"outlet"`
}

// A WorkingPoint is the state in which a bearing carries its load and the oil carries the heat
// away.
type WorkingPoint struct {
	Duty        Duty                        `json:"duty"`
	Oil         Oil                         `json:"oil"`
	Film        Film                        `json:"film"`
	Temperature units.Temperature           `json:"temperature"` // of the film, which has the viscosity of Film
	Rise        units.TemperatureDifference `json:"rise"`        // of the oil from inlet to edges
}

// Work returns the working point of a bearing:
//
//	(1 - Shed) M ω = H Qs ΔT,   T = Inlet + ΔT/2, or + ΔT with Outlet
//
// M is the friction torque at the journal in N·m, ω the speed in rad/s, H the oil's Heat
// in Pa/K, Qs the side flow in m³/s, which takes all of the heat along as what does not leave
// comes round again. The whole film has the viscosity of T. Friction falls and side
// flow grows as the oil gets thinner, so exactly one T agrees with itself; it is found
// between the inlet and the hottest that the oil's line carries.
//
// The errors are those of Carry and of Oil.Dynamic; ErrNoFilm if even there more heat comes
// up than leaves, or if the oil at the inlet is too thick or thin for what the grid carries.
func (b Bearing) Work(d Duty, o Oil) (WorkingPoint, error) {
	w, err := b.balance(d, o)
	if err != nil {
		return WorkingPoint{}, err
	}
	v, off, t, err := w.settle()
	if err != nil {
		return WorkingPoint{}, err
	}
	w.sc.viscosity = w.oil.dynamic(t)
	f, err := b.film(d.Speed, w.sc, v, off)
	if err != nil {
		return WorkingPoint{}, err
	}
	var r rounding
	p := WorkingPoint{
		Duty: d, Oil: o, Film: f,
		Temperature: rounded(&r, units.Celsius, t),
		Rise:        rounded(&r, units.KelvinDifference, (t-w.inlet)/w.part),
	}
	return p, r.err
}

// balance checks all that a working point follows from.
func (b Bearing) balance(d Duty, o Oil) (*balance, error) {
	inlet, err := celsius(d.Inlet)
	if err != nil {
		return nil, err
	}
	oil, err := o.oiling()
	if err != nil {
		return nil, err
	}
	shed := d.Shed.Float64(units.One)
	if !(shed >= 0 && shed < 1) {
		return nil, wrong(ErrBearing, "heat that is shed", d.Shed.String(), "write the part that housing and crankshaft take, from 0 to below 1")
	}
	st, sc, err := b.checked(d.Speed, units.MillipascalSecond.OfInt(1))
	if err != nil {
		return nil, err
	}
	load, err := loadOf(d.Load)
	if err != nil {
		return nil, err
	}
	w := &balance{model: newModel(st, columns), sc: sc, oil: oil, load: load, inlet: inlet, kept: 1 - shed, part: 0.5, viscosity: oil.dynamic(inlet)}
	if d.Outlet {
		w.part = 1
	}
	return w, nil
}

// A balance is a working point as it is searched for.
type balance struct {
	*model
	sc          scales
	oil         oiling
	load, inlet float64 // N, °C
	kept, part  float64 // of the heat, by the oil; of the rise, that the film has

	viscosity float64 // Pa·s, needed at the place looked at before

	// corrections of the coarser grid's S, friction and side flow, as factors
	s, friction, side float64
}

// rise is that of the film above the inlet, in K, from its numbers (R/c) f and Qs/(RcNL).
func (w *balance) rise(friction, side float64) float64 {
	power := friction * w.sc.c * w.load * w.sc.omega
	flow := side * w.sc.r * w.sc.c * w.sc.n * w.sc.l
	return w.part * w.kept * power / (w.oil.heat * flow)
}

func (w *balance) at(celsius float64) (s, pressure float64) {
	sc := w.sc
	sc.viscosity = w.oil.dynamic(celsius)
	return sc.sommerfeld(w.load), sc.supply / sc.pressureScale()
}

// warmest is how warm a film may come out.
const warmest = mostCelsius

// settle finds the working point: on the coarser grid, corrected by what both grids together
// say at the place found before.
func (w *balance) settle() (v, off values, t float64, err error) {
	if len(w.setting.at) > 0 {
		return w.settleWithPockets()
	}
	w.s, w.friction, w.side = 1, 1, 1
	from, to := leastEccentricity, mostEccentricity
	var found float64
	var near bool
	for range 8 {
		e, t, err := w.search(from, to)
		if err != nil {
			return v, off, t, err
		}
		s, pressure := w.at(t)
		q, err := w.quick(e, pressure)
		if err != nil {
			return v, off, t, err
		}
		if v, off, err = w.full(e, pressure); err != nil {
			return v, off, t, err
		}
		lacks := math.Abs(v.s/s - 1)
		w.s, w.friction, w.side = v.s/q.s, v.friction/q.friction, v.side/q.side
		warmer := math.Abs(w.inlet + w.rise(v.friction, v.side) - t)
		if lacks <= carried && warmer <= agreed {
			return v, off, t, nil
		}
		found, near = t, lacks <= 50*carried && warmer <= 50*agreed
		from, to = max(leastEccentricity, e-0.02*(1-e)), min(mostEccentricity, e+0.02*(1-e))
	}
	if !near {
		return v, off, found, wrong(ErrNoFilm, "load", fmt.Sprintf("%.4g N at %.4g r/min, for which heat and film come to no agreement on the grid", w.load, w.sc.n*60), "write a load, speed, oil and clearance of one bearing, and look at their units")
	}
	return v, off, found, nil
}

// agreed is how closely, in K, the film's temperature agrees with its heat.
const agreed = 2e-3

// search looks for the eccentricity, which says how thick the oil must be and so how warm it
// is, and how warm the film gets. The two agree at one.
func (w *balance) search(from, to float64) (e, t float64, err error) {
	differ := func(x float64) (float64, error) {
		q, needed, err := w.needs(shrink(x))
		if errors.Is(err, errNoAttitude) {
			return -math.Pi / 2, nil // as of oil that is endlessly thick
		}
		if err != nil {
			return 0, err
		}
		t = w.oil.warm(needed)
		return math.Atan((t - w.inlet - w.rise(q.friction*w.friction, q.side*w.side)) / 30), nil // tamed far away, where the oil is endlessly thick
	}
	x, err := root(differ, stretch(from), stretch(to), 10*searched)
	if errors.Is(err, errNoRoot) {
		if from != leastEccentricity || to != mostEccentricity {
			return w.search(leastEccentricity, mostEccentricity)
		}
		return 0, 0, wrong(ErrNoFilm, "load", fmt.Sprintf("%.4g N at %.4g r/min", w.load, w.sc.n*60), "write a load, speed, oil and clearance of one bearing, and look at their units")
	}
	if err != nil {
		return 0, 0, err
	}
	if _, err := differ(x); err != nil { // t is that of x
		return 0, 0, err
	}
	if t > warmest {
		return 0, 0, wrong(ErrNoFilm, "film", fmt.Sprintf("hotter than %d °C", warmest), "write a lower load or speed, a larger clearance or more oil")
	}
	return shrink(x), t, nil
}

// needs is the viscosity in Pa·s with which the film carries the load at an eccentricity. The pressure of a
// supply is the smaller in the film's own units the thicker the oil is, and carries a
// little: so the two are found together.
func (w *balance) needs(e float64) (values, float64, error) {
	unit := w.sc
	unit.viscosity = 1
	viscosity := w.viscosity
	for range 30 {
		pressure := 0.0
		if w.sc.supply > 0 {
			unit.viscosity = viscosity
			pressure = unit.supply / unit.pressureScale()
			unit.viscosity = 1
		}
		q, err := w.quick(e, pressure)
		if err != nil {
			return q, 0, err
		}
		needed := q.s * w.s / unit.sommerfeld(w.load)
		if w.sc.supply == 0 || math.Abs(needed/viscosity-1) <= searched {
			w.viscosity = needed
			return q, needed, nil
		}
		viscosity = needed
	}
	return values{}, 0, wrong(ErrNoFilm, "supply", fmt.Sprintf("%.4g MPa, which carries the load by itself", w.sc.supply/1e6), "write a lower pressure of the supply, above ambient")
}

// warm is the temperature in °C at which the oil has a viscosity, in Pa·s. Beyond what
// an oil's line carries the end of it serves, far from any working point.
func (o oiling) warm(viscosity float64) float64 {
	differ := func(c float64) (float64, error) { return math.Log(o.dynamic(c) / viscosity), nil }
	c, _ := root(differ, leastCelsius-100, o.last(), 1e-7) // without a root it is the end
	return c
}

// thinnest is the kinematic viscosity in mm²/s to which an oil's line is followed.
const thinnest = 0.35

// last is the temperature in °C up to which the oil's line has a viscosity to speak of.
func (o oiling) last() float64 {
	t := math.Pow(10, (o.line.a-math.Log10(math.Log10(thinnest+0.7)))/o.line.b)
	return math.Min(t-kelvin, 2*mostCelsius)
}
