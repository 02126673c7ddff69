package film

import (
	"errors"
	"fmt"
	"math"

	"example.com/closefit/units"
)

// A Film is the oil film of a bearing at one state: what was given, what it carries, and
// how good the numbers are.
type Film struct {
	Bearing   Bearing                `json:"bearing"`
	Speed     units.RotationalSpeed  `json:"speed"` // of the journal
	Viscosity units.DynamicViscosity `json:"viscosity"`
	Load      units.Force            `json:"load"` // that the film carries
	Numbers   Numbers                `json:"numbers"`
	Estimate  Estimate               `json:"estimate"`

	Least        units.Length     `json:"least"` // the thinnest film, at Numbers.Attitude
	PeakPressure units.Pressure   `json:"peakPressure"`
	Friction     units.Torque     `json:"friction"` // at the journal
	Power        units.Power      `json:"power"`    // that friction turns into heat
	Flow         units.VolumeFlow `json:"flow"`
	SideFlow     units.VolumeFlow `json:"sideFlow"`
}

// scales are a bearing's sizes and speed in SI units.
type scales struct {
	r, c, l   float64
	n, omega  float64
	viscosity float64
	supply    float64 // Pa
}

func (b Bearing) scales(speed units.RotationalSpeed) scales {
	n := speed.Float64(units.RevolutionPerMinute) / 60
	return scales{
		r: b.Diameter.Float64(units.Millimetre) / 2e3, c: b.Clearance.Float64(units.Millimetre) / 2e3, l: b.Width.Float64(units.Millimetre) / 1e3,
		n: n, omega: 2 * math.Pi * n, supply: b.Supply.Pressure.Float64(units.Pascal),
	}
}

func (b Bearing) checked(speed units.RotationalSpeed, viscosity units.DynamicViscosity) (setting, scales, error) {
	st, err := b.setting()
	if err != nil {
		return st, scales{}, err
	}
	if speed.Sign() <= 0 {
		return st, scales{}, wrong(ErrSpeed, "speed", speed.String(), "write the journal's speed above zero: without it there is no film")
	}
	if viscosity.Sign() <= 0 {
		return st, scales{}, wrong(ErrOil, "viscosity", viscosity.String(), "write a viscosity above zero")
	}
	sc := b.scales(speed)
	sc.viscosity = viscosity.Float64(units.MillipascalSecond) / 1e3
	return st, sc, nil
}

// pressureScale is 6 µω(R/c)² in Pa.
func (sc scales) pressureScale() float64 {
	return 6 * sc.viscosity * sc.omega * (sc.r / sc.c) * (sc.r / sc.c)
}

// At returns the film at an eccentricity ratio above 0 and below 1, for an oil of the same viscosity
// everywhere. The errors are of kind ErrEccentricity, ErrSpeed, ErrOil, ErrBearing, and
// ErrNoFilm where the equation has no solution for such a supply.
func (b Bearing) At(eccentricity float64, speed units.RotationalSpeed, viscosity units.DynamicViscosity) (Film, error) {
	st, sc, err := b.checked(speed, viscosity)
	if err != nil {
		return Film{}, err
	}
	if err := checkEccentricity(eccentricity); err != nil {
		return Film{}, err
	}
	v, off, err := newModel(st, columns).full(eccentricity, sc.supply/sc.pressureScale())
	if err != nil {
		return Film{}, err
	}
	return b.film(speed, sc, v, off)
}

// Carry returns the film that carries a load, for an oil of the same viscosity everywhere: the
// eccentricity is found between bounds that the load lies between. The errors are those of
// At, and of kind ErrNoFilm for a load that is zero or that no film of the bearing carries at
// what the grid can resolve.
func (b Bearing) Carry(load units.Force, speed units.RotationalSpeed, viscosity units.DynamicViscosity) (Film, error) {
	st, sc, err := b.checked(speed, viscosity)
	if err != nil {
		return Film{}, err
	}
	w, err := loadOf(load)
	if err != nil {
		return Film{}, err
	}
	v, off, err := newModel(st, columns).carry(sc.sommerfeld(w), sc.supply/sc.pressureScale())
	if err != nil {
		return Film{}, err
	}
	return b.film(speed, sc, v, off)
}

func loadOf(load units.Force) (float64, error) {
	if load.Sign() <= 0 {
		return 0, wrong(ErrNoFilm, "load", load.String(), "write a load above zero")
	}
	return load.Float64(units.Newton), nil
}

// sommerfeld is S for a load in N.
func (sc scales) sommerfeld(load float64) float64 {
	return (sc.r / sc.c) * (sc.r / sc.c) * sc.viscosity * sc.n * 2 * sc.r * sc.l / load
}

// carried is how closely the film of a result carries the load, as a part of it, and searched
// how closely an eccentricity is searched for.
const (
	carried  = 2e-5
	searched = 1e-7
)

// carry finds the eccentricity of a Sommerfeld number. The coarser grid is searched, with S
// corrected by what both grids together said at the place found before; it agrees after two
// or three rounds.
func (m *model) carry(s, pressure float64) (v, off values, err error) {
	if len(m.at) > 0 {
		return m.carryWithPockets(s, pressure)
	}
	correction := 0.0 // to the logarithm of S
	from, to := leastEccentricity, mostEccentricity
	for range 8 {
		e, err := m.search(s, pressure, correction, from, to)
		if err != nil {
			return v, off, err
		}
		q, err := m.quick(e, pressure)
		if err != nil {
			return v, off, err
		}
		if v, off, err = m.full(e, pressure); err != nil {
			return v, off, err
		}
		if math.Abs(v.s/s-1) <= carried {
			return v, off, nil
		}
		correction = math.Log(v.s / q.s)
		from, to = max(leastEccentricity, e-0.02*(1-e)), min(mostEccentricity, e+0.02*(1-e))
	}
	if math.Abs(v.s/s-1) > 50*carried {
		return v, off, noFilm(s)
	}
	return v, off, nil
}

// far is a difference of logarithms as large as any that matters.
const far = 10

func noFilm(s float64) error {
	return wrong(ErrNoFilm, "load", fmt.Sprintf("Sommerfeld number %.4g beyond what eccentricity ratios from %g to %g carry", s, leastEccentricity, mostEccentricity), "write a load, speed, viscosity and clearance of one bearing, and look at their units")
}

// search finds the eccentricity of a Sommerfeld number on the coarser grid, between two and,
// if it is not there, anywhere.
func (m *model) search(s, pressure, correction, from, to float64) (float64, error) {
	target := math.Log(s)
	differ := func(x float64) (float64, error) {
		q, err := m.quick(shrink(x), pressure)
		if errors.Is(err, errNoAttitude) {
			return far, nil // as of a load that is too small
		}
		return math.Log(q.s) + correction - target, err
	}
	x, err := root(differ, stretch(from), stretch(to), searched*10)
	if errors.Is(err, errNoRoot) {
		if from == leastEccentricity && to == mostEccentricity {
			return 0, noFilm(s)
		}
		return m.search(s, pressure, correction, leastEccentricity, mostEccentricity)
	}
	return shrink(x), err
}

// stretch is ln(e/(1-e)²), by which ln S runs nearly straight.
func stretch(e float64) float64 { return math.Log(e / ((1 - e) * (1 - e))) }

// shrink is the e of x = ln(e/(1-e)²).
func shrink(x float64) float64 {
	k := math.Exp(x)
	// k(1-e)² = e
	b := 2*k + 1
	return 2 * k / (b + math.Sqrt(b*b-4*k*k))
}

// film gives a solution its units.
func (b Bearing) film(speed units.RotationalSpeed, sc scales, v, off values) (Film, error) {
	n, e, err := v.numbers(off)
	if err != nil {
		return Film{}, err
	}
	var r rounding
	load := (sc.r / sc.c) * (sc.r / sc.c) * sc.viscosity * sc.n * 2 * sc.r * sc.l / v.s
	friction := v.friction * sc.c * load // f W R, f = (c/R) · friction
	flow := sc.r * sc.c * sc.n * sc.l
	f := Film{
		Bearing: b, Speed: speed, Viscosity: rounded(&r, units.MillipascalSecond, sc.viscosity*1e3), Numbers: n, Estimate: e,
		Load:         rounded(&r, units.Newton, load),
		Least:        rounded(&r, units.Millimetre, sc.c*(1-v.e)*1e3),
		PeakPressure: rounded(&r, units.Megapascal, v.peak*load/(2*sc.r*sc.l)/1e6),
		Friction:     rounded(&r, units.NewtonMetre, friction),
		Power:        rounded(&r, units.Watt, friction*sc.omega),
		Flow:         rounded(&r, units.LitrePerMinute, v.flow*flow*6e4),
		SideFlow:     rounded(&r, units.LitrePerMinute, v.side*flow*6e4),
	}
	return f, r.err
}
