package job

import (
	"context"
	"errors"
	"fmt"
	"math/big"
	"strings"

	"example.com/closefit/clearance/film"
	"example.com/closefit/units"
)

// filmTable is what a model of the oil film needs.
type filmTable struct {
	Speed     string       `toml:"speed"`
	Inlet     string       `toml:"inlet"` // of the oil that reaches the bearings
	Oil       *filmOil     `toml:"oil"`
	Roughness *filmRough   `toml:"roughness"`
	Main      *filmBearing `toml:"main"`
	Rod       *filmBearing `toml:"rod"`
}

// filmOil is an oil, by its grade or by two viscosities.
type filmOil struct {
	Grade   string `toml:"grade"`
	Name    string `toml:"name"`
	Cool    string `toml:"cool"` // "92 mm²/s at 40 °C"
	Warm    string `toml:"warm"`
	Density string `toml:"density"`
	Heat    string `toml:"heat"`
}

// filmRough is how rough the surfaces are, Rq.
type filmRough struct {
	Journal string `toml:"journal"`
	Bearing string `toml:"bearing"`
}

// filmBearing is one bearing of a kind.
type filmBearing struct {
	Diameter string    `toml:"diameter"`
	Width    string    `toml:"width"`
	Load     string    `toml:"load"`
	Groove   string    `toml:"groove"` // the width of one round the bearing
	Supply   string    `toml:"supply"` // the pressure in it
	Pump     *filmPump `toml:"pump"`
}

// filmPump is what feeds all bearings of a kind.
type filmPump struct {
	Delivery string `toml:"delivery"`
	Relief   string `toml:"relief"`
}

// filmExample is a table to begin from, with figures that are invented.
const filmExample = `[film] # invented figures: write your engine's
speed = "2600 rpm"
inlet = "95 °C" # of the oil that reaches the bearings
oil = { grade = "15W-40", density = "870 kg/m³", heat = "1.7 MPa" } # or cool = "105 mm²/s at 40 °C", warm = "14.2 mm²/s at 100 °C" instead of grade
roughness = { journal = "0.2 µm", bearing = "0.4 µm" } # Rq; may be left out
[film.main] # and [film.rod]
diameter = "54 mm"
width = "21 mm"
load = "4.4 kN"
groove = "3 mm" # round the bearing, with supply; both may be left out
supply = "3 bar"
pump = { delivery = "9 L/min", relief = "4 bar" } # for all bearings of the kind; may be left out`

// ErrNoFilm is the kind of error of a job that says too little for a model of the oil film.
var ErrNoFilm = errors.New("no oil film")

// A filmOf is a kind of bearing whose film is to be looked at.
type filmOf struct {
	group string // "main bearing"
	cases []film.Case
}

// readFilm reads what the model needs.
func (r *reader) readFilm(e *Engine, t *filmTable) (films []filmOf) {
	if t == nil {
		return nil
	}
	before := len(r.errs)
	c := film.Case{}
	c.Duty.Speed, _ = read(r, "film.speed", t.Speed, units.Parse[units.RotationalSpeed])
	c.Duty.Inlet, _ = read(r, "film.inlet", t.Inlet, units.Parse[units.Temperature])
	if rough := t.Roughness; rough != nil {
		c.Surfaces.Journal, _ = read(r, "film.roughness.journal", rough.Journal, units.ParseLength)
		c.Surfaces.Bearing, _ = read(r, "film.roughness.bearing", rough.Bearing, units.ParseLength)
	}
	oils := r.filmOils(t.Oil)
	if t.Main == nil && t.Rod == nil {
		r.fail("film", "no bearing: %w; write [film.main] or [film.rod] with diameter, width and load", ErrMissing)
	}
	for _, kind := range []struct {
		path, group string
		t           *filmBearing
		n           int
	}{{"film.main", "main bearing", t.Main, len(e.Mains)}, {"film.rod", "rod bearing", t.Rod, len(e.Cylinders)}} {
		if kind.t == nil {
			continue
		}
		c := c
		c.Bearing = r.filmBearing(kind.path, *kind.t)
		c.Duty.Load, _ = read(r, kind.path+".load", kind.t.Load, units.Parse[units.Force])
		if p := kind.t.Pump; p != nil {
			c.Pump = &film.Pump{Bearings: kind.n}
			c.Pump.Delivery, _ = read(r, kind.path+".pump.delivery", p.Delivery, units.Parse[units.VolumeFlow])
			c.Pump.Relief, _ = read(r, kind.path+".pump.relief", p.Relief, units.ParsePressure)
		}
		f := filmOf{group: kind.group}
		for _, o := range oils {
			c.Oil = o
			f.cases = append(f.cases, c)
		}
		films = append(films, f)
		if len(r.errs) > before {
			continue
		}
		thousandth := c.Bearing.Diameter.MulRat(big.NewRat(1, 1000)) // any clearance will do
		for _, c := range f.cases {
			if !r.check(kind.path, c.Check(thousandth)) {
				break
			}
		}
	}
	return films
}

// filmOils are the oils to look at: one of a data sheet, two of a grade.
func (r *reader) filmOils(t *filmOil) []film.Oil {
	if t == nil {
		r.fail("film", `oil: %w; write oil = { grade = "15W-40", density = "870 kg/m³", heat = "1.7 MPa" }`, ErrMissing)
		return nil
	}
	density, ok := read(r, "film.oil.density", t.Density, units.Parse[units.Density])
	heat, whole := read(r, "film.oil.heat", t.Heat, units.ParsePressure)
	switch {
	case t.Grade != "" && (t.Cool != "" || t.Warm != ""):
		r.fail("film.oil.grade", "a grade beside viscosities: %w; keep the viscosities of the data sheet", ErrTwice)
	case t.Grade != "":
		g, graded := read(r, "film.oil.grade", t.Grade, film.ParseGrade)
		if !graded || !ok || !whole {
			return nil
		}
		thin, thick, err := g.Oils(density, heat)
		if r.check("film.oil", err) {
			return []film.Oil{thin, thick}
		}
	default:
		o := film.Oil{Name: t.Name, Density: density, Heat: heat}
		if o.Name == "" {
			o.Name = "the oil of the data sheet"
		}
		o.Cool, _ = read(r, "film.oil.cool", t.Cool, viscosityAt)
		o.Warm, _ = read(r, "film.oil.warm", t.Warm, viscosityAt)
		return []film.Oil{o}
	}
	return nil
}

// viscosityAt reads "92 mm²/s at 40 °C".
func viscosityAt(text string) (p film.ViscosityPoint, err error) {
	viscosity, temperature, ok := strings.Cut(text, " at ")
	if !ok {
		return p, fmt.Errorf("%q: %w; write a viscosity and where it holds, \"92 mm²/s at 40 °C\"", text, ErrMissing)
	}
	if p.Viscosity, err = units.Parse[units.KinematicViscosity](viscosity); err != nil {
		return p, err
	}
	p.Temperature, err = units.Parse[units.Temperature](temperature)
	return p, err
}

// filmBearing reads the sizes of a bearing.
func (r *reader) filmBearing(path string, t filmBearing) (b film.Bearing) {
	b.Diameter, _ = read(r, path+".diameter", t.Diameter, units.ParseLength)
	b.Width, _ = read(r, path+".width", t.Width, units.ParseLength)
	width, grooved := readIf(r, path+".groove", t.Groove, units.ParseLength)
	pressure, fed := readIf(r, path+".supply", t.Supply, units.ParsePressure)
	switch {
	case grooved:
		b.Supply = film.Supply{Groove: film.Circumferential, Width: width, Pressure: pressure}
	case fed:
		r.fail(path+".supply", `a pressure without a groove that it stands in; write groove = "3 mm", or leave supply out`)
	}
	return b
}

// A Film is what a model says of the oil film of one kind of bearing over its clearance. It judges nothing, and opens or shuts no gate.
type Film struct {
	Bearings string               `json:"bearings"` // "main bearing"
	Limits   units.LengthInterval `json:"limits"`   // of the clearance
	Curves   []FilmCurve          `json:"curves"`   // of the oil; of a grade, of its thinnest and of its thickest
	Readings []FilmReading        `json:"readings"`
	Caution  string               `json:"caution"`
	Unit     units.LengthUnit     `json:"unit"` // that the job shows clearances in, and to how many places
	Places   int32                `json:"places"`
}

// A FilmCurve is what one oil leads to, from below the lower limit to above the upper.
type FilmCurve struct {
	Case   film.Case         `json:"case"`
	Points []film.SweepPoint `json:"points"`
	Lower  int               `json:"lower"` // which point is the lower limit, counted from zero
	Upper  int               `json:"upper"`
}

// A FilmReading is what the clearance that was read at one place leads to, with each oil; nothing where Reason says why.
type FilmReading struct {
	Location  string               `json:"location"`
	Clearance units.LengthInterval `json:"clearance"`
	Ranges    []film.Range         `json:"ranges"`
	Reason    string               `json:"reason"`
}

// FilmCaution belongs beside every film that is shown.
const FilmCaution = "A model to compare clearances, no design approval; the maker's limits stand."

// How a film is swept: so many steps between the limits, and at most so many beyond either.
const (
	stepsWithin = 30
	stepsBeyond = 15
)

// Films works the films out, of every bearing that the job describes for it. Assess leaves them out. The error is of kind
// ErrNoFilm and says what to write into the job; or that of the context.
func (j *Job) Films(ctx context.Context, a *Assessment) ([]Film, error) {
	if len(j.films) == 0 {
		return nil, fmt.Errorf("%w: the job says nothing of oil, speed and load; write into it\n\n%s", ErrNoFilm, filmExample)
	}
	var all []Film
	for _, f := range j.films {
		limits, err := j.filmLimits(f.group)
		if err != nil {
			return nil, err
		}
		x := Film{Bearings: f.group, Limits: limits, Readings: []FilmReading{}, Caution: FilmCaution, Unit: j.show.length, Places: j.show.places}
		for _, c := range f.cases {
			curve, err := sweepOf(ctx, c, limits)
			if err != nil {
				return nil, err
			}
			x.Curves = append(x.Curves, curve)
		}
		for _, g := range a.Groups {
			if g.Name != f.group || g.Quantity != "clearance" {
				continue
			}
			for _, found := range g.Findings {
				reading, err := filmReading(ctx, f, found)
				if err != nil {
					return nil, err
				}
				x.Readings = append(x.Readings, reading)
			}
		}
		all = append(all, x)
	}
	return all, nil
}

// filmLimits are the limits of a bearing's clearance.
func (j *Job) filmLimits(group string) (units.LengthInterval, error) {
	name := itemName(group, "", "clearance")
	if m := j.line(name); m != nil {
		if limits := m.limits["clearance"]; limits.HasLo() && limits.HasHi() && limits.Lo().Sign() > 0 && limits.Lo().Less(limits.Hi()) {
			return limits, nil
		}
	}
	return units.LengthInterval{}, fmt.Errorf("%w: [measure.%q] has not two limits above zero to look between; write limits = \"0.030..0.060 mm\", with those of the engine's manual", ErrNoFilm, name)
}

// sweepOf sweeps a case, so that both limits are among its points.
func sweepOf(ctx context.Context, c film.Case, limits units.LengthInterval) (FilmCurve, error) {
	step := limits.Hi().Sub(limits.Lo()).MulRat(big.NewRat(1, stepsWithin))
	half, below := limits.Lo().MulRat(big.NewRat(1, 2)), 0
	from := limits.Lo()
	for below < stepsBeyond && !from.Sub(step).Less(half) {
		from, below = from.Sub(step), below+1
	}
	to := limits.Hi().Add(step.MulRat(big.NewRat(stepsBeyond, 1)))
	points, err := c.Sweep(ctx, from, to, below+stepsWithin+stepsBeyond+1)
	return FilmCurve{Case: c, Points: points, Lower: below, Upper: below + stepsWithin}, err
}

// filmReading is what a clearance that was read leads to.
func filmReading(ctx context.Context, f filmOf, found Finding) (FilmReading, error) {
	x := FilmReading{Location: found.Location, Ranges: []film.Range{}}
	if !found.Taken || found.Measured.Lo == nil || found.Measured.Hi == nil {
		x.Reason = "not measured"
		if found.Taken {
			x.Reason = "the reading has no end: " + found.Measured.Text
		}
		return x, nil
	}
	lo, err := units.ParseLength(*found.Measured.Lo)
	if err != nil {
		return x, err
	}
	hi, err := units.ParseLength(*found.Measured.Hi)
	if err != nil {
		return x, err
	}
	x.Clearance = units.Between(lo, hi)
	for _, c := range f.cases {
		r, err := c.Range(ctx, x.Clearance)
		switch {
		case ctx.Err() != nil:
			return x, ctx.Err()
		case err != nil:
			x.Ranges, x.Reason = []film.Range{}, err.Error()
			return x, nil
		}
		x.Ranges = append(x.Ranges, r)
	}
	return x, nil
}
