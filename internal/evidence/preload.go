package evidence

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/fasteners"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// preloadChecks are the checks of package preload.
func preloadChecks() map[string]Check {
	return map[string]Check{
		"assembly_preload":  assemblyPreload,
		"assembly_torque":   assemblyTorque,
		"torque":            tighteningTorque,
		"nut_factor_torque": nutFactorTorque,
		"mean_nut_factor":   meanNutFactor,
		"nut_factor":        surfaceFactor,
		"friction_class":    frictionClass,
		"least_preload":     leastPreload,
		"factor_of_scatter": factorOfScatter,
		"method":            methodFactor,
		"accuracy":          methodAccuracy,
		"mean":              preloadStatistic(func(mean, _ units.Force) units.Force { return mean }),
		"embedding":         embeddingOf,
		"embedding_loss":    embeddingLoss,
		"shear_area":        shearArea,
		"strips":            strips,
		"breaking_torque":   breakingTorque,
		"extension_torque":  extensionTorque,
		"extension_setting": extensionSetting,
		"key_torque":        keyTorque,
		"deviation":         preloadStatistic(func(_, deviation units.Force) units.Force { return deviation }),
	}
}

// screwOf returns the screw whose bearing face has a mean diameter, with a hole of the nominal
// size.
func screwOf(t fasteners.Thread, bearing units.Length) preload.Screw {
	return preload.Screw{Thread: t, Hole: t.Major(), Face: bearing.MulInt(2).Sub(t.Major())}
}

// equal is the same friction in the thread and under the head.
func equal(total units.RatioInterval) preload.Friction {
	return preload.Friction{Thread: total, Bearing: total}
}

// assembled returns the preload that uses nine tenths of a bolt's yield strength.
func assembled(r *Row) (preload.Screw, units.RatioInterval, units.ForceInterval, error) {
	strength, thread, errStrength := strengthOf(r, "class")
	friction, errFriction := Parse(r, "friction", preload.ParseFriction)
	if err := errors.Join(errStrength, errFriction); err != nil {
		return preload.Screw{}, friction, units.ForceInterval{}, err
	}
	screw := screwOf(thread, thread.Major().Mul(decimal.New(13, -1)))
	force, err := screw.YieldPreload(units.Exactly(strength.Yield), units.MustParseRatio("0.9"), units.Length{}, friction)
	return screw, friction, force, err
}

func assemblyPreload(r *Row) (Result, error) {
	_, _, force, err := assembled(r)
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, force.Lo())
}

func assemblyTorque(r *Row) (Result, error) {
	screw, friction, force, errPreload := assembled(r)
	face, errFace := Parse(r, "face", units.ParseLength)
	hole, errHole := Parse(r, "hole", units.ParseLength)
	if err := errors.Join(errPreload, errFace, errHole); err != nil {
		return Result{}, err
	}
	screw.Face, screw.Hole = face, hole
	t, err := screw.Torque(force, equal(friction))
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, t.Lo())
}

func tighteningTorque(r *Row) (Result, error) {
	thread, errThread := threadOf(r)
	force, errPreload := Parse(r, "preload", units.Parse[units.ForceInterval])
	friction, errFriction := Parse(r, "friction", preload.ParseFriction)
	bearing, errBearing := Parse(r, "bearing", units.ParseLength)
	if err := errors.Join(errThread, errPreload, errFriction, errBearing); err != nil {
		return Result{}, err
	}
	t, err := screwOf(thread, bearing).Torque(force, equal(friction))
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, t.Lo())
}

func nutFactorTorque(r *Row) (Result, error) {
	factor, errFactor := Parse(r, "factor", preload.ParseFriction)
	thread, errThread := threadOf(r)
	area, errArea := Parse(r, "area", units.Parse[units.Area])
	stress, errStress := Parse(r, "stress", units.ParsePressure)
	share, errShare := r.Decimal("share")
	if err := errors.Join(errFactor, errThread, errArea, errStress, errShare); err != nil {
		return Result{}, err
	}
	screw := screwOf(thread, thread.Major().Mul(decimal.New(13, -1))) // of any face; see Screw.FrictionFromNutFactor
	friction, err := screw.FrictionFromNutFactor(factor)
	if err != nil {
		return Result{}, err
	}
	t, err := screw.Torque(units.Exactly(force(area, stress).Mul(share)), equal(friction))
	if err != nil {
		return Result{}, err
	}
	one, err := units.ParseTorque("1 " + r.Unit())
	if err != nil {
		return Result{}, err
	}
	// The bounds lie a few nanonewton metres around K F d, which has no more than six places.
	return Rat(units.One.Of(units.One.OfRat(t.Mid().Ratio(one)).In(units.One, 6)).Rat(units.One)), nil
}

// meanNutFactor checks a rule of thumb over several threads.
func meanNutFactor(r *Row) (Result, error) {
	names, errNames := r.Input("threads")
	friction, errFriction := Parse(r, "friction", preload.ParseFriction)
	if err := errors.Join(errNames, errFriction); err != nil {
		return Result{}, err
	}
	threads := strings.Fields(names)
	sum := new(big.Rat)
	for _, name := range threads {
		t, err := fasteners.ParseThread(name)
		if err != nil {
			return Result{}, err
		}
		k, err := screwOf(t, t.Major().Mul(decimal.New(13, -1))).NutFactor(equal(friction))
		if err != nil {
			return Result{}, err
		}
		sum.Add(sum, k.Lo().Rat(units.One))
	}
	return Rat(sum.Quo(sum, big.NewRat(int64(len(threads)), 1))), nil
}

func surfaceFactor(r *Row) (Result, error) {
	surface, err := r.Input("surface")
	if err != nil {
		return Result{}, err
	}
	factor, err := preload.NutFactorOf(surface)
	if err != nil {
		return Result{}, err
	}
	return Rat(factor.Lo().Rat(units.One)), nil
}

func frictionClass(r *Row) (Result, error) {
	c, errClass := Parse(r, "class", preload.ParseFriction)
	end, errEnd := r.Input("end")
	if err := errors.Join(errClass, errEnd); err != nil {
		return Result{}, err
	}
	if end == "lo" {
		return Rat(c.Lo().Rat(units.One)), nil
	}
	return Rat(c.Hi().Rat(units.One)), nil
}

func leastPreload(r *Row) (Result, error) {
	largest, errLargest := Parse(r, "largest", units.ParseForce)
	factor, errFactor := Parse(r, "factor", units.Parse[units.RatioInterval])
	if err := errors.Join(errLargest, errFactor); err != nil {
		return Result{}, err
	}
	least, err := preload.Method{Factor: factor}.LeastPreload(largest)
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, least.Lo())
}

func factorOfScatter(r *Row) (Result, error) {
	scatter, err := Parse(r, "scatter", units.Parse[units.RatioInterval])
	if err != nil {
		return Result{}, err
	}
	largest := units.MustParseForce("1000 kN")
	least, err := preload.Method{Scatter: scatter}.LeastPreload(largest)
	if err != nil {
		return Result{}, err
	}
	return Rat(largest.Ratio(least.Lo())), nil
}

func methodFactor(r *Row) (Result, error) {
	key, errMethod := r.Input("method")
	end, errEnd := r.Input("end")
	if err := errors.Join(errMethod, errEnd); err != nil {
		return Result{}, err
	}
	for _, m := range preload.Methods() {
		switch {
		case m.Key != key:
		case end == "lo":
			return Rat(m.Factor.Lo().Rat(units.One)), nil
		default:
			return Rat(m.Factor.Hi().Rat(units.One)), nil
		}
	}
	return Result{}, fmt.Errorf("no method %q", key)
}

func methodAccuracy(r *Row) (Result, error) {
	table, errTable := r.Input("table")
	method, errMethod := r.Input("method")
	end, errEnd := r.Input("end")
	if err := errors.Join(errTable, errMethod, errEnd, r.ExpectUnit("%")); err != nil {
		return Result{}, err
	}
	sources := map[string]string{"handbook": "Machinery's Handbook", "nsts": "NSTS 08307"}
	for _, m := range preload.Methods() {
		if m.Name != method || !strings.HasPrefix(m.Source, sources[table]) {
			continue
		}
		switch {
		case end == "lo":
			return Rat(m.Scatter.Lo().Rat(units.Percent)), nil
		case end == "only" && !m.Scatter.IsPoint():
			return Result{}, fmt.Errorf("%s has a range %v", method, m.Scatter)
		}
		return Rat(m.Scatter.Hi().Rat(units.Percent)), nil
	}
	return Result{}, fmt.Errorf("no method %q in %s", method, table)
}

func preloadStatistic(of func(mean, deviation units.Force) units.Force) Check {
	return func(r *Row) (Result, error) {
		text, err := r.Input("kilonewtons")
		if err != nil {
			return Result{}, err
		}
		var series measure.Series[units.ForceDim]
		for _, field := range strings.Fields(text) {
			f, err := units.ParseForce(field + " kN")
			if err != nil {
				return Result{}, err
			}
			series = append(series, f)
		}
		square, _ := series.Variance(units.Newton).Float64()
		deviation := units.Newton.Of(decimal.NewFromFloat(math.Sqrt(square)).Round(3))
		return inUnit(r, of(series.Mean(), deviation))
	}
}

func embeddingOf(r *Row) (Result, error) {
	place, errPlace := r.Input("place")
	load, errLoad := r.Input("load")
	roughness, errRoughness := Parse(r, "roughness", units.ParseLengthInterval)
	if err := errors.Join(errPlace, errLoad, errRoughness); err != nil {
		return Result{}, err
	}
	fz, err := preload.EmbeddingOf(place, preload.Load(load), roughness)
	if err != nil {
		return Result{}, err
	}
	if !fz.IsPoint() {
		return Result{}, fmt.Errorf("a range %v", fz)
	}
	return inUnit(r, fz.Lo())
}

// embeddingLoss is the loss of a joint whose bolt and parts have compliances as VDI 2230 writes them.
func embeddingLoss(r *Row) (Result, error) {
	load, errLoad := r.Input("load")
	roughness, errRoughness := Parse(r, "roughness", units.ParseLengthInterval)
	faces, errFaces := r.Int("faces")
	inner, errInner := r.Int("inner")
	k, errStiffness := Parse(r, "stiffness", units.Parse[units.StiffnessInterval])
	if err := errors.Join(errLoad, errRoughness, errFaces, errInner, errStiffness); err != nil {
		return Result{}, err
	}
	e := preload.Embedding{Load: preload.Load(load), Thread: roughness}
	for range faces {
		e.Faces = append(e.Faces, roughness)
	}
	for range inner {
		e.Inner = append(e.Inner, roughness)
	}
	loss, err := e.Loss(k)
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, loss.Lo())
}

// shearArea is the least shear area of a bolt or a nut, over one nominal diameter.
func shearArea(r *Row) (Result, error) {
	thread, errThread := threadOf(r)
	of, errOf := r.Input("of")
	if err := errors.Join(errThread, errOf); err != nil {
		return Result{}, err
	}
	bolt, nut, err := preload.ShearAreas(thread, units.Exactly(thread.Major()))
	if err != nil {
		return Result{}, err
	}
	if of == "bolt" {
		return inUnit(r, bolt.Lo())
	}
	return inUnit(r, nut.Lo())
}

// strips is the force at which the thread of a bolt or of its hole strips, at the least.
func strips(r *Row) (Result, error) {
	thread, errThread := threadOf(r)
	of, errOf := r.Input("of")
	length, errLength := Parse(r, "length", units.ParseLengthInterval)
	bolt, errBolt := Parse(r, "bolt", units.Parse[units.PressureInterval])
	hole, errHole := Parse(r, "hole", units.Parse[units.PressureInterval])
	shear, errShear := Parse(r, "shear", units.Parse[units.RatioInterval])
	flats := units.Length{}
	var errFlats error
	if r.Has("flats") {
		flats, errFlats = Parse(r, "flats", units.ParseLength)
	}
	if err := errors.Join(errThread, errOf, errLength, errBolt, errHole, errShear, errFlats); err != nil {
		return Result{}, err
	}
	s, err := preload.Engagement{Thread: thread, Length: length, Bolt: bolt, Hole: hole, BoltShear: shear, HoleShear: shear, Flats: flats}.Stripping()
	if err != nil {
		return Result{}, err
	}
	force := s.HoleThread.Lo()
	if of == "bolt" {
		force = s.BoltThread.Lo()
	}
	return Float64(force.Float64(units.Newton)), r.ExpectUnit("N")
}

func breakingTorque(r *Row) (Result, error) {
	strength, _, err := strengthOf(r, "class")
	if err != nil {
		return Result{}, err
	}
	t, err := preload.BreakingTorque(strength)
	if err != nil {
		return Result{}, err
	}
	return Float64(t.Float64(units.NewtonMetre)), r.ExpectUnit("N·m")
}

func keyTorque(r *Row) (Result, error) {
	width, err := Parse(r, "width", units.ParseLength)
	if err != nil {
		return Result{}, err
	}
	t, err := preload.KeyTorque(width)
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, t)
}

// extended is a wrench without a deviation on an extension, for torques up to ten times as large as
// what it is asked for; its marks are a thousandth of the row's unit apart.
func extended(r *Row, asked units.Torque) (preload.Wrench, error) {
	lever, errLever := Parse(r, "lever", units.ParseLength)
	offset, errOffset := Parse(r, "offset", units.ParseLength)
	angle, errAngle := Parse(r, "angle", units.ParseAngle)
	unit, errUnit := units.Parse[units.TorqueUnit](r.Unit())
	if err := errors.Join(errLever, errOffset, errAngle, errUnit); err != nil {
		return preload.Wrench{}, err
	}
	mark := unit.Of(decimal.New(1, -3))
	return preload.Wrench{Range: units.MustInterval(mark, asked.MulInt(10)), Graduation: mark,
		Extension: &preload.Extension{Lever: lever, Offset: offset, Angle: angle}}, nil
}

// extensionTorque is what a bolt gets through an extension at a setting of the wrench.
func extensionTorque(r *Row) (Result, error) {
	set, err := Parse(r, "set", units.ParseTorque)
	if err != nil {
		return Result{}, err
	}
	w, err := extended(r, set)
	if err != nil {
		return Result{}, err
	}
	got, err := w.Applied(set)
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, got.Mid())
}

// extensionSetting is what to set for a torque at the bolt, to the nearest thousandth.
func extensionSetting(r *Row) (Result, error) {
	target, err := Parse(r, "torque", units.ParseTorque)
	if err != nil {
		return Result{}, err
	}
	w, err := extended(r, target)
	if err != nil {
		return Result{}, err
	}
	settings, err := w.Settings(units.Exactly(target))
	if err != nil {
		return Result{}, err
	}
	return inUnit(r, settings[0])
}
