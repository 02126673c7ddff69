package conform

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/big"
	"strings"

	"example.com/closefit/fasteners"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

// A cylinder is a rod of one diameter, or the disc that a pressure acts on.
type cylinder struct{ Diameter, Length, Modulus, Pressure string }

// disc is the area of a circle, in float64.
func disc(diameter string) (units.Area, error) {
	d, err := units.ParseLength(diameter)
	if err != nil {
		return units.Area{}, err
	}
	mm := d.Float64(units.Millimetre)
	return units.SquareMillimetre.OfFloat64(math.Pi/4*mm*mm, 9)
}

// A stiffness is written as one, or as what has it: a rod, or parts that cones of pressure clamp.
type stiffness struct{ units.Stiffness }

func (s *stiffness) UnmarshalJSON(text []byte) (err error) {
	if text[0] == '"' {
		return json.Unmarshal(text, &s.Stiffness)
	}
	var q struct {
		cylinder
		clamped
	}
	if err := json.Unmarshal(text, &q); err != nil {
		return err
	}
	if q.Layers != nil {
		s.Stiffness, err = q.clamped.stiffness()
		return err
	}
	area, err := disc(q.cylinder.Diameter)
	length, err2 := units.ParseLength(q.cylinder.Length)
	modulus, err3 := units.ParsePressure(q.Modulus)
	if err := errors.Join(err, err2, err3); err != nil {
		return err
	}
	s.Stiffness, err = fasteners.BoltStiffness(fasteners.Segment{Length: length, Area: area, Modulus: modulus})
	return err
}

// An outerLoad is a force, or a pressure on an area or on a circle.
type outerLoad struct{ units.Force }

func (f *outerLoad) UnmarshalJSON(text []byte) error {
	if text[0] == '"' {
		return json.Unmarshal(text, &f.Force)
	}
	var q struct{ Pressure, Area, Diameter string }
	if err := json.Unmarshal(text, &q); err != nil {
		return err
	}
	var area units.Area
	var err error
	if q.Area != "" {
		area, err = units.Parse[units.Area](q.Area)
	} else {
		area, err = disc(q.Diameter)
	}
	pressure, err2 := units.ParsePressure(q.Pressure)
	n := area.Rat(units.SquareMillimetre)
	f.Force = units.Newton.OfRat(n.Mul(n, pressure.Rat(units.Megapascal)))
	return errors.Join(err, err2)
}

// clamped are parts under cones of pressure from both ends of a bolt.
type clamped struct {
	Hole      string
	Face      string
	HalfAngle string `json:"half_angle"`
	Layers    []struct{ Thickness, Modulus string }
	Unit      string
}

func (q clamped) stiffness() (units.Stiffness, error) {
	hole, err := units.ParseLength(q.Hole)
	face, err2 := units.ParseLength(q.Face)
	angle, err3 := units.ParseAngle(q.HalfAngle)
	errs := []error{err, err2, err3}
	var layers []fasteners.Layer
	for _, l := range q.Layers {
		thickness, err := units.ParseLength(l.Thickness)
		modulus, err2 := units.ParsePressure(l.Modulus)
		errs = append(errs, err, err2)
		layers = append(layers, fasteners.Layer{Thickness: thickness, Modulus: modulus})
	}
	if err := errors.Join(errs...); err != nil {
		return units.Stiffness{}, err
	}
	return fasteners.ClampedParts{Seat: fasteners.Nut, Hole: hole, Face: face, Outside: face.MulInt(100), HalfAngle: &angle, Layers: layers}.Stiffness()
}

func cones(q clamped) (answer, error) {
	k, err := q.stiffness()
	if err != nil {
		return nil, err
	}
	return named("stiffness", k, q.Unit)
}

func loadedBolt(q struct {
	Bolt, Members  stiffness
	Preload, Outer outerLoad
	Area           *string
	Unit           string
}) (answer, error) {
	loaded, err := fasteners.Joint{Bolt: q.Bolt.Stiffness, Members: q.Members.Stiffness}.Under(units.Exactly(q.Preload.Force), units.Exactly(q.Outer.Force))
	if err != nil {
		return nil, err
	}
	if q.Area == nil {
		return named("force", loaded.Bolt.Hi(), q.Unit)
	}
	area, err := units.Parse[units.Area](*q.Area)
	if err != nil {
		return nil, err
	}
	if area.Sign() <= 0 {
		return nil, errors.New("an area above zero")
	}
	mpa := loaded.Bolt.Hi().Rat(units.Newton)
	return named("stress", units.Megapascal.OfRat(mpa.Quo(mpa, area.Rat(units.SquareMillimetre))), q.Unit)
}

func heating(q struct {
	Stretch, Length string
	PerKelvin       string `json:"per_kelvin"`
	Unit            string
}) (answer, error) {
	stretch, err := units.ParseLength(q.Stretch)
	length, err2 := units.ParseLength(q.Length)
	expansion, err3 := units.ParseRatio(q.PerKelvin)
	one, err4 := units.Parse[units.TemperatureDifference]("1 " + q.Unit)
	if err := errors.Join(err, err2, err3, err4); err != nil {
		return nil, err
	}
	rise, err := fasteners.RiseForStretch(stretch, length, expansion)
	if err != nil {
		return nil, err
	}
	return answer{"rise": digits(rise.Ratio(one))}, nil
}

func leastPreload(q struct{ Largest, Factor, Unit string }) (answer, error) {
	largest, err := units.ParseForce(q.Largest)
	factor, err2 := units.Parse[units.RatioInterval](q.Factor)
	u, err3 := units.Parse[units.ForceUnit](q.Unit)
	if err := errors.Join(err, err2, err3); err != nil {
		return nil, err
	}
	least, err := preload.Method{Factor: factor}.LeastPreload(largest)
	if err != nil {
		return nil, err
	}
	return answer{"preload": in(least.Lo(), u)}, nil
}

// meanNutFactor is of faces whose mean diameter is 1.3 times the thread's.
func meanNutFactor(q struct {
	Threads  []string
	Friction string
}) (answer, error) {
	friction, err := units.Parse[units.RatioInterval](q.Friction)
	if err != nil {
		return nil, err
	}
	sum := new(big.Rat)
	for _, name := range q.Threads {
		t, err := fasteners.ParseThread(name)
		if err != nil {
			return nil, err
		}
		screw := preload.Screw{Thread: t, Hole: t.Major(), Face: t.Major().MulRat(big.NewRat(16, 10))}
		k, err := screw.NutFactor(preload.Friction{Thread: friction, Bearing: friction})
		if err != nil {
			return nil, err
		}
		sum.Add(sum, k.Mid().Rat(units.One))
	}
	if len(q.Threads) == 0 {
		return nil, errors.New("no threads")
	}
	return answer{"factor": digits(sum.Quo(sum, big.NewRat(int64(len(q.Threads)), 1)))}, nil
}

// strip is of a bolt whose strength in shear is the same part of its tensile strength as the nut's.
func strip(q struct {
	Thread, Of, Length, Bolt, Hole, Shear string
	Flats                                 *string
}) (answer, error) {
	var e preload.Engagement
	var err [6]error
	e.Thread, err[0] = fasteners.ParseThread(q.Thread)
	e.Length, err[1] = units.ParseLengthInterval(q.Length)
	e.Bolt, err[2] = units.Parse[units.PressureInterval](q.Bolt)
	e.Hole, err[3] = units.Parse[units.PressureInterval](q.Hole)
	e.BoltShear, err[4] = units.Parse[units.RatioInterval](q.Shear)
	e.HoleShear = e.BoltShear
	if q.Flats != nil {
		e.Flats, err[5] = units.ParseLength(*q.Flats)
	}
	if err := errors.Join(err[:]...); err != nil {
		return nil, err
	}
	s, errStrip := e.Stripping()
	if errStrip != nil {
		return nil, errStrip
	}
	switch q.Of {
	case "bolt":
		return answer{"force": in(s.BoltThread.Lo(), units.Newton)}, nil
	case "hole":
		return answer{"force": in(s.HoleThread.Lo(), units.Newton)}, nil
	}
	return nil, errors.New("of the bolt, or of the hole")
}

func embedding(q struct{ Place, Load, Roughness string }) (answer, error) {
	roughness, err := units.ParseLengthInterval(q.Roughness)
	if err != nil {
		return nil, err
	}
	fz, err := preload.EmbeddingOf(q.Place, preload.Load(q.Load), roughness)
	if err != nil {
		return nil, err
	}
	return answer{"embedding": in(fz.Lo(), units.Micrometre)}, nil
}

func embeddingLoss(q struct {
	Load, Roughness string
	Faces, Inner    int
	Stiffness, Unit string
}) (answer, error) {
	roughness, err := units.ParseLengthInterval(q.Roughness)
	k, err2 := units.Parse[units.StiffnessInterval](q.Stiffness)
	u, err3 := units.Parse[units.ForceUnit](q.Unit)
	if err := errors.Join(err, err2, err3); err != nil {
		return nil, err
	}
	if q.Faces < 0 || q.Faces > 2 || q.Inner < 0 || q.Inner > 100 {
		return nil, errors.New("one or two faces, up to a hundred joints")
	}
	e := preload.Embedding{Load: preload.Load(q.Load), Thread: roughness}
	for range q.Faces {
		e.Faces = append(e.Faces, roughness)
	}
	for range q.Inner {
		e.Inner = append(e.Inner, roughness)
	}
	loss, err := e.Loss(k)
	if err != nil {
		return nil, err
	}
	return answer{"loss": in(loss.Lo(), u)}, nil
}

// span is a range of pure numbers in a unit.
func span(r units.RatioInterval, u units.Unit[units.RatioDim]) answer { return ends(r, u) }

func frictionClass(q struct{ Class string }) (answer, error) {
	if len(q.Class) != 1 {
		return nil, errors.New("a class is one letter")
	}
	c, err := preload.ParseFriction(q.Class)
	return span(c, units.One), err
}

func method(q struct{ Method string }) (answer, error) {
	for _, m := range preload.Methods() {
		if m.Key == q.Method && m.Key != "" {
			return span(m.Factor, units.One), nil
		}
	}
	return nil, fmt.Errorf("no method %q", q.Method)
}

func accuracy(q struct{ Table, Method string }) (answer, error) {
	for _, m := range preload.Methods() {
		if q.Table != "" && strings.HasPrefix(m.Source, q.Table) && m.Name == q.Method && !m.Scatter.IsEmpty() {
			return span(m.Scatter, units.Percent), nil
		}
	}
	return nil, fmt.Errorf("no method %q in %s", q.Method, q.Table)
}

func surface(q struct{ Surface string }) (answer, error) {
	factor, err := preload.NutFactorOf(q.Surface)
	if err != nil {
		return nil, err
	}
	return answer{"factor": in(factor.Lo(), units.One)}, nil
}

func key(q struct{ Width string }) (answer, error) {
	width, err := units.ParseLength(q.Width)
	if err != nil {
		return nil, err
	}
	t, err := preload.KeyTorque(width)
	return answer{"torque": in(t, units.NewtonMetre)}, err
}
