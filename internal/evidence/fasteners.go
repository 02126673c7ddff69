package evidence

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"strings"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// fastenersChecks are the checks of package fasteners.
func fastenersChecks() map[string]Check {
	return map[string]Check{
		"pitch_diameter":        tabulatedDiameter(fasteners.Thread.PitchDiameter),
		"minor_diameter":        tabulatedDiameter(fasteners.Thread.MinorDiameter),
		"root_diameter":         tabulatedDiameter(fasteners.Thread.RootDiameter),
		"root_sixth":            tabulatedDiameter(rootBelowBySixth),
		"limit":                 threadLimit,
		"pitch_tolerance":       pitchTolerance,
		"deviation":             deviation,
		"series":                threadSeries,
		"stress_area":           threadArea(fasteners.Thread.StressArea),
		"stress_area_tabulated": tabulatedArea,
		"minor_area":            threadArea(fasteners.Thread.MinorArea),
		"strength":              classStrength("class"),
		"grade":                 classStrength("grade"),
		"proof_ratio":           proofRatio,
		"hardness":              hardness,
		"proof_load":            tabulatedLoad(func(s fasteners.Strength) units.Pressure { return s.Proof }),
		"ultimate_load":         tabulatedLoad(func(s fasteners.Strength) units.Pressure { return s.Tensile }),
		"frusta":                frustaStiffness,
		"load_factor":           loadFactor,
		"bolt_stress":           boltStress,
		"final_stress":          finalStress,
		"studs":                 studLoad,
		"rise_for_stretch":      riseForStretch,
		"diameter_outcome":      diameterOutcome,
	}
}

func threadOf(r *Row) (fasteners.Thread, error) {
	return Parse(r, "thread", fasteners.ParseThread)
}

// tabulatedDiameter checks a diameter as the standard's tables print it.
func tabulatedDiameter(of func(fasteners.Thread) units.Length) Check {
	return func(r *Row) (Result, error) {
		t, err := threadOf(r)
		if err != nil {
			return Result{}, err
		}
		// ISO 724 prints diameters to 0.001 mm, ASME B1.1 to 0.0001 in.
		printed := units.Millimetre.Of(of(t).In(units.Millimetre, 3))
		if t.IsUnified() {
			printed = units.Inch.Of(of(t).In(units.Inch, 4))
		}
		return inUnit(r, printed)
	}
}

// rootBelowBySixth returns the root diameter of tables that round a unified root as
// ISO rounds a metric one: H/6 below the minor diameter, H = 0.866025404 P (ISO 68-1).
func rootBelowBySixth(t fasteners.Thread) units.Length {
	return t.MinorDiameter().Sub(t.Pitch().MulRat(big.NewRat(866_025_404, 6_000_000_000)))
}

func threadLimit(r *Row) (Result, error) {
	l, errLimits := limitsOf(r)
	name, errName := r.Input("limit")
	if err := errors.Join(errLimits, errName); err != nil {
		return Result{}, err
	}
	limits := map[string]func() units.Length{
		"major_max": l.Major.Hi, "major_min": l.Major.Lo,
		"pitch_max": l.Pitch.Hi, "pitch_min": l.Pitch.Lo,
		"minor_max": l.Minor.Hi, "minor_min": l.Minor.Lo,
	}
	limit, known := limits[name]
	if !known {
		return Result{}, fmt.Errorf("no limit %q", name)
	}
	return inUnit(r, limit())
}

func limitsOf(r *Row) (fasteners.Limits, error) {
	t, errThread := threadOf(r)
	class, errClass := r.Input("class")
	if err := errors.Join(errThread, errClass); err != nil {
		return fasteners.Limits{}, err
	}
	return t.Limits(class)
}

// pitchTolerance checks the tolerance of the pitch diameter.
func pitchTolerance(r *Row) (Result, error) {
	l, err := limitsOf(r)
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, l.Pitch.Width())
}

// deviation checks how far the largest bolt stays below the basic size.
func deviation(r *Row) (Result, error) {
	l, err := limitsOf(r)
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, l.Thread.Major().Sub(l.Major.Hi()))
}

// threadSeries checks which series has a size with so many threads per inch.
func threadSeries(r *Row) (Result, error) {
	t, err := threadOf(r)
	if err != nil {
		return Result{}, err
	}
	_, series, _ := strings.Cut(t.String(), " ") // of a unified thread, after size and pitch
	return Text(series), r.ExpectUnit("")
}

func threadArea(of func(fasteners.Thread) units.Area) Check {
	return func(r *Row) (Result, error) {
		t, err := threadOf(r)
		if err != nil {
			return Result{}, err
		}
		return inUnit(r, of(t))
	}
}

// tabulatedArea checks the stress area that a thread's working shows, rounded as in the tables.
func tabulatedArea(r *Row) (Result, error) {
	t, err := threadOf(r)
	if err != nil {
		return Result{}, err
	}
	for _, step := range t.Working().Steps {
		if step.Name == "stress area" {
			area, err := units.Parse[units.Area](step.Result)
			if err != nil {
				return Result{}, err
			}
			return inUnit(r, area)
		}
	}
	return Result{}, errors.New("no stress area in the working")
}

// strengthOf returns the strength of a class that the row names under a key.
func strengthOf(r *Row, key string) (fasteners.Strength, fasteners.Thread, error) {
	t, errThread := threadOf(r)
	class, errClass := r.Input(key)
	if err := errors.Join(errThread, errClass); err != nil {
		return fasteners.Strength{}, t, err
	}
	s, err := fasteners.StrengthOf(class, t)
	return s, t, err
}

func classStrength(key string) Check {
	return func(r *Row) (Result, error) {
		s, _, errStrength := strengthOf(r, key)
		name, errName := r.Input("of")
		if err := errors.Join(errStrength, errName); err != nil {
			return Result{}, err
		}
		switch name {
		case "elongation":
			if s.Elongation == nil {
				return Result{}, errors.New("no elongation")
			}
			return Rat(s.Elongation.Rat(units.Percent)), r.ExpectUnit("%")
		case "proof":
			return inUnit(r, s.Proof)
		case "yield":
			return inUnit(r, s.Yield)
		case "tensile":
			return inUnit(r, s.Tensile)
		}
		return Result{}, fmt.Errorf("no strength %q", name)
	}
}

func proofRatio(r *Row) (Result, error) {
	s, _, err := strengthOf(r, "class")
	if err != nil {
		return Result{}, err
	}
	return Rat(s.Proof.Ratio(s.Yield)), nil
}

func hardness(r *Row) (Result, error) {
	s, _, errStrength := strengthOf(r, "class")
	end, errEnd := r.Input("end")
	if err := errors.Join(errStrength, errEnd, r.ExpectUnit("HV")); err != nil {
		return Result{}, err
	}
	if end == "min" {
		return Rat(s.Hardness.Lo().Rat(units.One)), nil
	}
	return Rat(s.Hardness.Hi().Rat(units.One)), nil
}

// tabulatedLoad checks a load, which the tables print to three significant digits; the
// rows' tolerances are half of the last of them.
func tabulatedLoad(of func(fasteners.Strength) units.Pressure) Check {
	return func(r *Row) (Result, error) {
		s, _, err := strengthOf(r, "class")
		if err != nil {
			return Result{}, err
		}
		load, err := s.Load(of(s))
		if err != nil {
			return Result{}, err
		}
		return inUnit(r, load)
	}
}

// layersOf reads "0.5 in/30000 ksi + 0.75 in/14500 ksi".
func layersOf(s string) ([]fasteners.Layer, error) {
	var layers []fasteners.Layer
	for part := range strings.SplitSeq(s, " + ") {
		thickness, modulus, _ := strings.Cut(part, "/")
		l, errLength := units.ParseLength(thickness)
		e, errModulus := units.ParsePressure(modulus)
		if err := errors.Join(errLength, errModulus); err != nil {
			return nil, err
		}
		layers = append(layers, fasteners.Layer{Thickness: l, Modulus: e})
	}
	return layers, nil
}

func membersOf(r *Row) (units.Stiffness, error) {
	hole, errHole := Parse(r, "hole", units.ParseLength)
	face, errFace := Parse(r, "face", units.ParseLength)
	angle, errAngle := Parse(r, "angle", units.ParseAngle)
	layers, errLayers := Parse(r, "layers", layersOf)
	if err := errors.Join(errHole, errFace, errAngle, errLayers); err != nil {
		return units.Stiffness{}, err
	}
	// The books' parts are wider than the cones.
	return fasteners.ClampedParts{Seat: fasteners.Nut, Hole: hole, Face: face, Outside: face.MulInt(100), HalfAngle: &angle, Layers: layers}.Stiffness()
}

func frustaStiffness(r *Row) (Result, error) {
	k, err := membersOf(r)
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, k)
}

func jointOf(r *Row) (fasteners.Joint, error) {
	bolt, errBolt := Parse(r, "bolt", units.Parse[units.Stiffness])
	members, errMembers := Parse(r, "members", units.Parse[units.Stiffness])
	if err := errors.Join(errBolt, errMembers); err != nil {
		return fasteners.Joint{}, err
	}
	return fasteners.Joint{Bolt: bolt, Members: members}, nil
}

func loadFactor(r *Row) (Result, error) {
	j, err := jointOf(r)
	if err != nil {
		return Result{}, err
	}
	factor, err := j.LoadFactor()
	return Rat(factor.Rat(units.One)), err
}

// boltStress checks the stress of a preloaded bolt under an outer load.
func boltStress(r *Row) (Result, error) {
	j, errJoint := jointOf(r)
	preload, errPreload := Parse(r, "preload", units.Parse[units.ForceInterval])
	outer, errOuter := Parse(r, "outer", units.Parse[units.ForceInterval])
	area, errArea := Parse(r, "area", units.Parse[units.Area])
	if err := errors.Join(errJoint, errPreload, errOuter, errArea); err != nil {
		return Result{}, err
	}
	loaded, err := j.Under(preload, outer)
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, stressOf(loaded.Bolt.Hi(), area))
}

// force returns the force of a stress on an area.
func force(a units.Area, stress units.Pressure) units.Force {
	n := a.Rat(units.SquareMillimetre)
	return units.Newton.OfRat(n.Mul(n, stress.Rat(units.Megapascal)))
}

func circle(diameter units.Length) (units.Area, error) {
	d := diameter.Float64(units.Millimetre)
	return units.SquareMillimetre.OfFloat64(math.Pi/4*d*d, 9)
}

func stressOf(f units.Force, a units.Area) units.Pressure {
	mpa := f.Rat(units.Newton)
	return units.Megapascal.OfRat(mpa.Quo(mpa, a.Rat(units.SquareMillimetre)))
}

// finalStress goes the whole way from the sizes of bolt and parts to the stress of the
// loaded bolt.
func finalStress(r *Row) (Result, error) {
	members, errMembers := membersOf(r)
	diameter, errDiameter := Parse(r, "bolt_diameter", units.ParseLength)
	length, errLength := Parse(r, "bolt_length", units.ParseLength)
	modulus, errModulus := Parse(r, "bolt_modulus", units.ParsePressure)
	initial, errInitial := Parse(r, "initial", units.ParsePressure)
	outer, errOuter := Parse(r, "outer", units.Parse[units.ForceInterval])
	area, errArea := Parse(r, "area", units.Parse[units.Area])
	if err := errors.Join(errMembers, errDiameter, errLength, errModulus, errInitial, errOuter, errArea); err != nil {
		return Result{}, err
	}
	shank, err := circle(diameter)
	if err != nil {
		return Result{}, err
	}
	bolt, err := fasteners.BoltStiffness(fasteners.Segment{Length: length, Area: shank, Modulus: modulus})
	if err != nil {
		return Result{}, err
	}
	loaded, err := fasteners.Joint{Bolt: bolt, Members: members}.Under(units.Exactly(force(area, initial)), outer)
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, stressOf(loaded.Bolt.Hi(), area))
}

// studLoad checks the load of a ring of studs that hold a cover against pressure.
func studLoad(r *Row) (Result, error) {
	count, errCount := r.Int("count")
	area, errArea := Parse(r, "area", units.Parse[units.Area])
	stress, errStress := Parse(r, "stress", units.ParsePressure)
	share, errShare := r.Decimal("share")
	members, errMembers := r.Decimal("members")
	pressure, errPressure := Parse(r, "pressure", units.ParsePressure)
	head, errHead := Parse(r, "head", units.ParseLength)
	if err := errors.Join(errCount, errArea, errStress, errShare, errMembers, errPressure, errHead); err != nil {
		return Result{}, err
	}
	cover, err := circle(head)
	if err != nil {
		return Result{}, err
	}
	all := area.MulInt(int64(count))
	joint := fasteners.Joint{Bolt: units.NewtonPerMillimetre.OfRat(all.Rat(units.SquareInch)), Members: units.NewtonPerMillimetre.Of(members)}
	loaded, err := joint.Under(
		units.Exactly(force(all, stress).Mul(share)),
		units.Exactly(force(cover, pressure)))
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, loaded.Bolt.Hi())
}

func riseForStretch(r *Row) (Result, error) {
	stretch, errStretch := Parse(r, "stretch", units.ParseLength)
	length, errLength := Parse(r, "length", units.ParseLength)
	expansion, errExpansion := r.Decimal("expansion")
	if err := errors.Join(errStretch, errLength, errExpansion); err != nil {
		return Result{}, err
	}
	rise, err := fasteners.RiseForStretch(stretch, length, units.One.Of(expansion))
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, rise)
}

// diameterOutcome checks what a range of diameters proves against a wear limit.
func diameterOutcome(r *Row) (Result, error) {
	now, errNow := Parse(r, "now", units.ParseLengthInterval)
	least, errLeast := Parse(r, "least", units.ParseLength)
	if err := errors.Join(errNow, errLeast); err != nil {
		return Result{}, err
	}
	diameter := measure.Assess(measure.Given(now, ""), units.AtLeast(least))
	answers := map[string]bool{} // of a bolt with nothing else against it
	for _, q := range fasteners.Questions() {
		answers[q.Key] = q.Good
	}
	outcome, _, err := fasteners.Inspect(answers, diameter)
	return Text(outcome.String()), err
}
