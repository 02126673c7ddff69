package conform

import (
	"errors"
	"fmt"
	"math"

	"example.com/closefit/clearance/film"
	"example.com/closefit/units"
)

func filmKinds() map[string]answerer {
	return map[string]answerer{
		"bearing": remembered(kind(filmOf)), "full film": kind(fullFilm), "short": kind(shortFilm), "carry": remembered(kind(carry)),
		"petroff": kind(petroff), "viscosity": kind(viscosity), "grade": kind(oilGrade),
	}
}

// numbersOf are the numbers of a film without units.
func numbersOf(n film.Numbers) answer {
	return answer{"sommerfeld": float(n.Sommerfeld), "least": float(1 - n.Eccentricity), "attitude": float(n.Attitude.Float64(units.Degree)), "friction": float(n.Friction),
		"flow": float(n.Flow), "side_share": float(n.SideFlow / n.Flow), "peak_share": float(1 / n.Peak)}
}

// A shape is a bearing without a size.
type shape struct {
	Ratio        *float64
	Eccentricity float64
	Grooves      *string
}

func filmOf(q shape) (answer, error) {
	var n film.Numbers
	var err error
	switch {
	case q.Ratio == nil && q.Grooves != nil:
		return nil, errors.New("grooves of an endlessly wide bearing")
	case q.Ratio == nil:
		n, err = film.Long(q.Eccentricity)
	case q.Grooves == nil:
		n, _, err = film.Solve(*q.Ratio, q.Eccentricity)
	default:
		n, err = grooved(*q.Ratio, q.Eccentricity, *q.Grooves)
	}
	if err != nil {
		return nil, err
	}
	return numbersOf(n), nil
}

// grooved is of two axial grooves across the load, over the whole width; size, speed and viscosity have no
// say without a pressure of supply.
func grooved(ratio, eccentricity float64, grooves string) (film.Numbers, error) {
	reach, err := units.ParseAngle(grooves)
	width, err2 := units.Millimetre.OfFloat64(50*ratio, 6)
	if err := errors.Join(err, err2); err != nil {
		return film.Numbers{}, err
	}
	across := []units.Angle{units.Degree.OfInt(-90), units.Degree.OfInt(90)}
	b := film.Bearing{Diameter: units.Millimetre.OfInt(50), Width: width, Clearance: units.Micrometre.OfInt(50),
		Supply: film.Supply{Groove: film.Pockets, Width: width, Pockets: across, Reach: reach}}
	f, err := b.At(eccentricity, units.RevolutionPerMinute.OfInt(3000), units.MillipascalSecond.OfInt(10))
	return f.Numbers, err
}

func fullFilm(q struct{ Eccentricity float64 }) (answer, error) {
	n, err := film.FullLong(q.Eccentricity)
	if err != nil {
		return nil, err
	}
	return answer{"sommerfeld": float(n.Sommerfeld), "friction": float(n.Friction)}, nil
}

func shortFilm(q struct{ Ratio, Eccentricity float64 }) (answer, error) {
	n, err := film.Short(q.Ratio, q.Eccentricity)
	if err != nil {
		return nil, err
	}
	return answer{"sommerfeld": float(n.Sommerfeld), "attitude": float(n.Attitude.Float64(units.Degree))}, nil
}

// A loadedJournal is a bearing with a size, and what it bears.
type loadedJournal struct {
	Diameter, Width, Clearance, Load, Speed, Viscosity string

	Units struct{ Length, Force, Torque, Power, Flow, Pressure string }
}

func (q loadedJournal) made() (b film.Bearing, load units.Force, speed units.RotationalSpeed, viscosity units.DynamicViscosity, err error) {
	var errs [6]error
	b.Diameter, errs[0] = units.ParseLength(q.Diameter)
	b.Width, errs[1] = units.ParseLength(q.Width)
	b.Clearance, errs[2] = units.ParseLength(q.Clearance)
	load, errs[3] = units.ParseForce(q.Load)
	speed, errs[4] = units.Parse[units.RotationalSpeed](q.Speed)
	viscosity, errs[5] = units.Parse[units.DynamicViscosity](q.Viscosity)
	return b, load, speed, viscosity, errors.Join(errs[:]...)
}

func carry(q loadedJournal) (answer, error) {
	b, load, speed, viscosity, err := q.made()
	if err != nil {
		return nil, err
	}
	f, err := b.Carry(load, speed, viscosity)
	if err != nil {
		return nil, err
	}
	reply := numbersOf(f.Numbers)
	err = errors.Join(
		put(reply, "least_film", f.Least, q.Units.Length), put(reply, "torque", f.Friction, q.Units.Torque), put(reply, "power", f.Power, q.Units.Power),
		put(reply, "flow_rate", f.Flow, q.Units.Flow), put(reply, "side_flow_rate", f.SideFlow, q.Units.Flow), put(reply, "peak_pressure", f.PeakPressure, q.Units.Pressure))
	return reply, err
}

// put adds a quantity in a unit, as float64 has it.
func put[D units.Dimension](reply answer, key string, q units.Quantity[D], unit string) error {
	u, err := units.Parse[units.Unit[D]](unit)
	if err != nil {
		return err
	}
	reply[key] = float(q.Float64(u))
	return nil
}

// petroff goes by the friction of a journal in the middle, and what it comes to at this size.
func petroff(q loadedJournal) (answer, error) {
	b, load, speed, viscosity, err := q.made()
	if err != nil {
		return nil, err
	}
	if b.Clearance.Sign() <= 0 || b.Width.Sign() <= 0 || load.Sign() <= 0 {
		return nil, errors.New("a clearance, a width and a load above zero")
	}
	ratio := b.Diameter.Float64(units.Millimetre) / b.Clearance.Float64(units.Millimetre)
	radius, n, w := b.Diameter.Float64(units.Millimetre)/2e3, speed.Float64(units.RevolutionPerMinute)/60, load.Float64(units.Newton)
	pressure := w / (2 * radius * b.Width.Float64(units.Millimetre) / 1e3)
	friction, err := film.Petroff(ratio * ratio * viscosity.Float64(units.MillipascalSecond) / 1e3 * n / pressure)
	if err != nil {
		return nil, err
	}
	f := friction / ratio
	force, err := units.Newton.OfFloat64(f*w, 9)
	torque, err2 := units.NewtonMetre.OfFloat64(f*w*radius, 9)
	power, err3 := units.Watt.OfFloat64(f*w*radius*2*math.Pi*n, 9)
	reply := answer{"coefficient": float(f)}
	err = errors.Join(err, err2, err3, put(reply, "force", force, q.Units.Force), put(reply, "torque", torque, q.Units.Torque), put(reply, "power", power, q.Units.Power))
	return reply, err
}

// viscosity is a kinematic one; the library's dynamic one is at a density that falls with temperature.
func viscosity(q struct {
	Points []struct{ At, Viscosity string }
	At     string
}) (answer, error) {
	if len(q.Points) != 2 {
		return nil, errors.New("two points")
	}
	const density = 870
	o := film.Oil{Density: units.KilogramPerCubicMetre.OfInt(density), Heat: units.Megapascal.OfInt(2)}
	for i, to := range []*film.ViscosityPoint{&o.Cool, &o.Warm} {
		t, err := units.ParseTemperature(q.Points[i].At)
		v, err2 := units.Parse[units.KinematicViscosity](q.Points[i].Viscosity)
		if err := errors.Join(err, err2); err != nil {
			return nil, err
		}
		*to = film.ViscosityPoint{Temperature: t, Viscosity: v}
	}
	at, err := units.ParseTemperature(q.At)
	if err != nil {
		return nil, err
	}
	v, err := o.Dynamic(at)
	if err != nil {
		return nil, err
	}
	there := density - 0.65*(at.Float64(units.Celsius)-15)
	return answer{"viscosity": float(v.Float64(units.MillipascalSecond) / there * 1e3)}, nil
}

func oilGrade(q struct{ Grade, Limit, At string }) (answer, error) {
	g, err := film.ParseGrade(q.Grade)
	at, err2 := units.ParseTemperature(q.At)
	if err := errors.Join(err, err2); err != nil {
		return nil, err
	}
	warm := func(celsius int64) bool { return at.Equal(units.Celsius.OfInt(celsius)) }
	switch at100 := g.Kinematic(); {
	case q.Limit == "cranking":
		v, err := g.Dynamic(at, units.KilogramPerCubicMetre.OfInt(870))
		if err != nil {
			return nil, err
		}
		return answer{"viscosity": in(v.Hi(), units.MillipascalSecond)}, nil
	case q.Limit == "least" && warm(100) && at100.HasLo():
		return answer{"viscosity": in(at100.Lo(), units.SquareMillimetrePerSecond)}, nil
	case q.Limit == "most" && warm(100) && at100.HasHi():
		return answer{"viscosity": in(at100.Hi(), units.SquareMillimetrePerSecond)}, nil
	case q.Limit == "least" && warm(150):
		return answer{"viscosity": in(g.Shear(), units.MillipascalSecond)}, nil
	}
	return nil, fmt.Errorf("no limit %q at %s", q.Limit, q.At)
}
