package evidence

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"sync"

	"example.com/closefit/clearance/film"
	"example.com/closefit/units"
)

// filmChecks are the checks of package film.
func filmChecks() map[string]Check {
	known := &solved{}
	return map[string]Check{
		"solve":         known.solve,
		"long":          longBearing,
		"full_long":     fullLongBearing,
		"short":         shortBearing,
		"two_grooves":   known.twoGrooves,
		"petroff":       petroffOf,
		"working_point": carriedLoad,
		"j300":          j300,
		"viscosity":     viscosityOf,
	}
}

// solved keeps solutions, of which several rows ask for one number each.
type solved struct {
	lock sync.Mutex
	by   map[string]film.Numbers
}

func (s *solved) of(key string, solve func() (film.Numbers, error)) (film.Numbers, error) {
	s.lock.Lock()
	defer s.lock.Unlock()
	if n, ok := s.by[key]; ok {
		return n, nil
	}
	n, err := solve()
	if err == nil {
		if s.by == nil {
			s.by = map[string]film.Numbers{}
		}
		s.by[key] = n
	}
	return n, err
}

// filmNumber is the number that a row asks for, as the tables count it.
func filmNumber(r *Row, n film.Numbers) (Result, error) {
	of, err := r.Input("quantity")
	if err != nil {
		return Result{}, err
	}
	switch of {
	case "S":
		return Float64(n.Sommerfeld), r.ExpectUnit("")
	case "h0/c":
		return Float64(1 - n.Eccentricity), r.ExpectUnit("")
	case "attitude":
		return Float64(n.Attitude.Float64(units.Degree)), r.ExpectUnit("°")
	case "(r/c)f":
		return Float64(n.Friction), r.ExpectUnit("")
	case "Q/(rcNL)":
		return Float64(n.Flow), r.ExpectUnit("")
	case "Qs/Q":
		return Float64(n.SideFlow / n.Flow), r.ExpectUnit("")
	case "P/pmax":
		return Float64(1 / n.Peak), r.ExpectUnit("")
	}
	return Result{}, fmt.Errorf("no quantity %q", of)
}

func (s *solved) solve(r *Row) (Result, error) {
	ratio, errRatio := r.Float64("ratio")
	e, errE := r.Float64("eccentricity")
	if err := errors.Join(errRatio, errE); err != nil {
		return Result{}, err
	}
	n, err := s.of(fmt.Sprint("solve ", ratio, e), func() (film.Numbers, error) {
		n, _, err := film.Solve(ratio, e)
		return n, err
	})
	if err != nil {
		return Result{}, err
	}
	return filmNumber(r, n)
}

func longBearing(r *Row) (Result, error) {
	e, err := r.Float64("eccentricity")
	if err != nil {
		return Result{}, err
	}
	n, err := film.Long(e)
	if err != nil {
		return Result{}, err
	}
	return filmNumber(r, n)
}

func fullLongBearing(r *Row) (Result, error) {
	e, err := r.Float64("eccentricity")
	if err != nil {
		return Result{}, err
	}
	n, err := film.FullLong(e)
	if err != nil {
		return Result{}, err
	}
	return filmNumber(r, n)
}

func shortBearing(r *Row) (Result, error) {
	ratio, errRatio := r.Float64("ratio")
	e, errE := r.Float64("eccentricity")
	if err := errors.Join(errRatio, errE); err != nil {
		return Result{}, err
	}
	n, err := film.Short(ratio, e)
	if err != nil {
		return Result{}, err
	}
	return filmNumber(r, n)
}

// twoGrooves is a bearing with two axial grooves across the load, over the whole width,
// without a pressure of supply.
func (s *solved) twoGrooves(r *Row) (Result, error) {
	ratio, errRatio := r.Float64("ratio")
	e, errE := r.Float64("eccentricity")
	reach, errReach := Parse(r, "reach", units.ParseAngle)
	if err := errors.Join(errRatio, errE, errReach); err != nil {
		return Result{}, err
	}
	n, err := s.of(fmt.Sprint("grooves ", ratio, e, reach), func() (film.Numbers, error) {
		width, err := units.Millimetre.OfFloat64(50*ratio, 6)
		if err != nil {
			return film.Numbers{}, err
		}
		b := film.Bearing{Diameter: units.Millimetre.OfInt(50), Width: width, Clearance: units.Micrometre.OfInt(50),
			Supply: film.Supply{Groove: film.Pockets, Width: width, Pockets: []units.Angle{units.Degree.OfInt(-90), units.Degree.OfInt(90)}, Reach: reach}}
		f, err := b.At(e, units.RevolutionPerMinute.OfInt(3000), units.MillipascalSecond.OfInt(10))
		return f.Numbers, err
	})
	if err != nil {
		return Result{}, err
	}
	return filmNumber(r, n)
}

// bearingOf reads a bearing without a groove, with c the radial clearance or cd that on the diameter.
func bearingOf(r *Row) (b film.Bearing, load units.Force, speed units.RotationalSpeed, viscosity units.DynamicViscosity, err error) {
	var errs [6]error
	b.Diameter, errs[0] = Parse(r, "D", units.ParseLength)
	b.Width, errs[1] = Parse(r, "L", units.ParseLength)
	if r.Has("cd") {
		b.Clearance, errs[2] = Parse(r, "cd", units.ParseLength)
	} else {
		var c units.Length
		c, errs[2] = Parse(r, "c", units.ParseLength)
		b.Clearance = c.MulInt(2)
	}
	load, errs[3] = Parse(r, "W", units.ParseForce)
	speed, errs[4] = Parse(r, "N", units.Parse[units.RotationalSpeed])
	viscosity, errs[5] = Parse(r, "mu", units.Parse[units.DynamicViscosity])
	return b, load, speed, viscosity, errors.Join(errs[:]...)
}

// petroffOf is the friction of a journal in the middle of its bearing.
func petroffOf(r *Row) (Result, error) {
	b, load, speed, viscosity, err := bearingOf(r)
	if err != nil {
		return Result{}, err
	}
	of, err := r.Input("quantity")
	if err != nil {
		return Result{}, err
	}
	ratio := b.Diameter.Float64(units.Millimetre) / b.Clearance.Float64(units.Millimetre)
	n := speed.Float64(units.RevolutionPerMinute) / 60
	w := load.Float64(units.Newton)
	radius := b.Diameter.Float64(units.Millimetre) / 2e3
	pressure := w / (2 * radius * b.Width.Float64(units.Millimetre) / 1e3)
	friction, err := film.Petroff(ratio * ratio * viscosity.Float64(units.MillipascalSecond) / 1e3 * n / pressure)
	if err != nil {
		return Result{}, err
	}
	f := friction / ratio
	switch of {
	case "f":
		return Float64(f), r.ExpectUnit("")
	case "force":
		q, err := units.Newton.OfFloat64(f*w, 9)
		if err != nil {
			return Result{}, err
		}
		return inUnit64(r, q)
	case "torque":
		q, err := units.NewtonMetre.OfFloat64(f*w*radius, 9)
		if err != nil {
			return Result{}, err
		}
		return inUnit64(r, q)
	case "power":
		q, err := units.Watt.OfFloat64(f*w*radius*2*math.Pi*n, 9)
		if err != nil {
			return Result{}, err
		}
		return inUnit64(r, q)
	}
	return Result{}, fmt.Errorf("no quantity %q", of)
}

// carriedLoad is what the film of a load comes to.
func carriedLoad(r *Row) (Result, error) {
	b, load, speed, viscosity, err := bearingOf(r)
	if err != nil {
		return Result{}, err
	}
	f, err := b.Carry(load, speed, viscosity)
	if err != nil {
		return Result{}, err
	}
	of, err := r.Input("quantity")
	if err != nil {
		return Result{}, err
	}
	switch of {
	case "h0":
		return inUnit64(r, f.Least)
	case "torque":
		return inUnit64(r, f.Friction)
	case "power":
		return inUnit64(r, f.Power)
	case "Q":
		return inUnit64(r, f.Flow)
	case "Qs":
		return inUnit64(r, f.SideFlow)
	case "pmax":
		return inUnit64(r, f.PeakPressure)
	}
	return filmNumber(r, f.Numbers)
}

// inUnit64 is a quantity in the unit of the row, as what it was computed in.
func inUnit64[D units.Dimension](r *Row, q units.Quantity[D]) (Result, error) {
	unit, err := units.Parse[units.Unit[D]](r.Unit())
	if err != nil {
		return Result{}, err
	}
	return Float64(q.Float64(unit)), nil
}

// j300 is a limit of a grade.
func j300(r *Row) (Result, error) {
	g, errGrade := Parse(r, "grade", film.ParseGrade)
	limit, errLimit := r.Input("limit")
	if err := errors.Join(errGrade, errLimit); err != nil {
		return Result{}, err
	}
	at100 := g.Kinematic()
	switch at, isCranking := strings.CutPrefix(limit, "cranking at "); {
	case isCranking:
		t, err := units.ParseTemperature(at)
		if err != nil {
			return Result{}, err
		}
		v, err := g.Dynamic(t, units.KilogramPerCubicMetre.OfInt(870))
		if err != nil {
			return Result{}, err
		}
		return inUnit(r, v.Hi())
	case limit == "least at 100 °C":
		return inUnit(r, at100.Lo())
	case limit == "most at 100 °C":
		return inUnit(r, at100.Hi())
	case limit == "least at 150 °C":
		return inUnit(r, g.Shear())
	}
	return Result{}, fmt.Errorf("no limit %q", limit)
}

// viscosityOf is the kinematic viscosity of an oil of two points. The density is so that it can be read off
// the dynamic one.
func viscosityOf(r *Row) (Result, error) {
	read := func(prefix string) (film.ViscosityPoint, error) {
		t, errT := Parse(r, prefix+"_t", units.ParseTemperature)
		v, errV := Parse(r, prefix+"_v", units.Parse[units.KinematicViscosity])
		return film.ViscosityPoint{Temperature: t, Viscosity: v}, errors.Join(errT, errV)
	}
	cool, errCool := read("cool")
	warm, errWarm := read("warm")
	at, errAt := Parse(r, "at", units.ParseTemperature)
	if err := errors.Join(errCool, errWarm, errAt, r.ExpectUnit("mm2/s")); err != nil {
		return Result{}, err
	}
	const density = 870
	o := film.Oil{Cool: cool, Warm: warm, Density: units.KilogramPerCubicMetre.OfInt(density), Heat: units.Megapascal.OfInt(2)}
	v, err := o.Dynamic(at)
	if err != nil {
		return Result{}, err
	}
	there := density - 0.65*(at.Float64(units.Celsius)-15)
	return Float64(v.Float64(units.MillipascalSecond) / there * 1e3), nil
}
