package evidence_test

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/fasteners"
	"example.com/closefit/internal/evidence"
	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// torqueChecks are the checks of package torque's physics.
func torqueChecks() map[string]evidence.Check {
	return map[string]evidence.Check{
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
		"deviation":         preloadStatistic(func(_, deviation units.Force) units.Force { return deviation }),
	}
}

// assembled returns the preload that uses nine tenths of a bolt's yield strength.
func assembled(r *evidence.Row) (torque.Screw, torque.Coefficient, units.ForceInterval, error) {
	strength, thread, errStrength := strengthOf(r, "class", fasteners.ISO898)
	friction, errFriction := evidence.Parse(r, "friction", torque.ParseCoefficient)
	if err := errors.Join(errStrength, errFriction); err != nil {
		return torque.Screw{}, friction, units.ForceInterval{}, err
	}
	screw := torque.Screw{Thread: thread, Bearing: thread.Major().Mul(decimal.New(13, -1))}
	preload, err := screw.YieldPreload(units.Exactly(strength.Yield), decimal.New(9, -1), screw.ThreadSection(), friction)
	return screw, friction, preload, err
}

func assemblyPreload(r *evidence.Row) (evidence.Result, error) {
	_, _, preload, err := assembled(r)
	if err != nil {
		return evidence.Result{}, err
	}
	return inUnitOf(r, preload.Lo(), units.ParseForce)
}

func assemblyTorque(r *evidence.Row) (evidence.Result, error) {
	screw, friction, preload, errPreload := assembled(r)
	face, errFace := evidence.Parse(r, "face", units.ParseLength)
	hole, errHole := evidence.Parse(r, "hole", units.ParseLength)
	if err := errors.Join(errPreload, errFace, errHole); err != nil {
		return evidence.Result{}, err
	}
	screw.Bearing = torque.BearingDiameter(face, hole)
	t, err := screw.Torque(preload, torque.EqualFriction(friction))
	if err != nil {
		return evidence.Result{}, err
	}
	return inUnitOf(r, t.Lo(), units.ParseTorque)
}

func tighteningTorque(r *evidence.Row) (evidence.Result, error) {
	thread, errThread := threadOf(r)
	preload, errPreload := evidence.Parse(r, "preload", units.ParseForceInterval)
	friction, errFriction := evidence.Parse(r, "friction", torque.ParseCoefficient)
	bearing, errBearing := evidence.Parse(r, "bearing", units.ParseLength)
	if err := errors.Join(errThread, errPreload, errFriction, errBearing); err != nil {
		return evidence.Result{}, err
	}
	t, err := torque.Screw{Thread: thread, Bearing: bearing}.Torque(preload, torque.EqualFriction(friction))
	if err != nil {
		return evidence.Result{}, err
	}
	return inUnitOf(r, t.Lo(), units.ParseTorque)
}

func nutFactorTorque(r *evidence.Row) (evidence.Result, error) {
	factor, errFactor := evidence.Parse(r, "factor", torque.ParseCoefficient)
	diameter, errDiameter := evidence.Parse(r, "diameter", units.ParseLength)
	area, errArea := evidence.Parse(r, "area", units.ParseArea)
	stress, errStress := evidence.Parse(r, "stress", units.ParsePressure)
	share, errShare := r.Decimal("share")
	if err := errors.Join(errFactor, errDiameter, errArea, errStress, errShare); err != nil {
		return evidence.Result{}, err
	}
	t, err := torque.TorqueByNutFactor(units.Exactly(force(area, stress).Mul(share)), factor, diameter)
	if err != nil {
		return evidence.Result{}, err
	}
	return inUnitOf(r, t.Lo(), units.ParseTorque)
}

// meanNutFactor checks a rule of thumb over several threads.
func meanNutFactor(r *evidence.Row) (evidence.Result, error) {
	names, errNames := r.Input("threads")
	friction, errFriction := evidence.Parse(r, "friction", torque.ParseCoefficient)
	if err := errors.Join(errNames, errFriction); err != nil {
		return evidence.Result{}, err
	}
	threads := strings.Fields(names)
	sum := new(big.Rat)
	for _, name := range threads {
		t, err := fasteners.ParseThread(name)
		if err != nil {
			return evidence.Result{}, err
		}
		k, err := torque.Screw{Thread: t, Bearing: t.Major().Mul(decimal.New(13, -1))}.NutFactor(torque.EqualFriction(friction))
		if err != nil {
			return evidence.Result{}, err
		}
		sum.Add(sum, k.Lo())
	}
	return evidence.Rat(sum.Quo(sum, big.NewRat(int64(len(threads)), 1))), nil
}

func surfaceFactor(r *evidence.Row) (evidence.Result, error) {
	surface, err := r.Input("surface")
	if err != nil {
		return evidence.Result{}, err
	}
	for _, s := range torque.SurfaceFactors() {
		if s.Surface == surface {
			return evidence.Rat(s.Factor.Lo()), nil
		}
	}
	return evidence.Result{}, fmt.Errorf("no surface %q", surface)
}

func frictionClass(r *evidence.Row) (evidence.Result, error) {
	c, errClass := evidence.Parse(r, "class", torque.FrictionClass)
	end, errEnd := r.Input("end")
	if err := errors.Join(errClass, errEnd); err != nil {
		return evidence.Result{}, err
	}
	if end == "lo" {
		return evidence.Rat(c.Lo()), nil
	}
	return evidence.Rat(c.Hi()), nil
}

func leastPreload(r *evidence.Row) (evidence.Result, error) {
	largest, errLargest := evidence.Parse(r, "largest", units.ParseForce)
	factor, errFactor := r.Decimal("factor")
	if err := errors.Join(errLargest, errFactor); err != nil {
		return evidence.Result{}, err
	}
	m := torque.Method{Factor: torque.FactorRange{Lo: factor, Hi: factor}}
	return inUnitOf(r, m.LeastPreload(largest).Lo(), units.ParseForce)
}

func factorOfScatter(r *evidence.Row) (evidence.Result, error) {
	scatter, err := r.Decimal("scatter")
	if err != nil {
		return evidence.Result{}, err
	}
	factor, err := torque.FactorOfScatter(scatter)
	if err != nil {
		return evidence.Result{}, err
	}
	return evidence.Rat(factor), nil
}

func methodFactor(r *evidence.Row) (evidence.Result, error) {
	m, errMethod := evidence.Parse(r, "method", torque.MethodByKey)
	end, errEnd := r.Input("end")
	if err := errors.Join(errMethod, errEnd); err != nil {
		return evidence.Result{}, err
	}
	if end == "lo" {
		return evidence.Decimal(m.Factor.Lo), nil
	}
	return evidence.Decimal(m.Factor.Hi), nil
}

func methodAccuracy(r *evidence.Row) (evidence.Result, error) {
	table, errTable := r.Input("table")
	method, errMethod := r.Input("method")
	end, errEnd := r.Input("end")
	if err := errors.Join(errTable, errMethod, errEnd, r.ExpectUnit("%")); err != nil {
		return evidence.Result{}, err
	}
	sources := map[string]string{"handbook": "Machinery's Handbook", "nsts": "NSTS 08307"}
	for _, a := range torque.Accuracies() {
		if a.Method != method || !strings.HasPrefix(a.Source, sources[table]) {
			continue
		}
		percent := decimal.New(100, 0)
		switch {
		case end == "lo":
			return evidence.Decimal(a.Lo.Mul(percent)), nil
		case end == "only" && !a.Lo.Equal(a.Hi):
			return evidence.Result{}, fmt.Errorf("%s has a range %v to %v", method, a.Lo, a.Hi)
		}
		return evidence.Decimal(a.Hi.Mul(percent)), nil
	}
	return evidence.Result{}, fmt.Errorf("no method %q in %s", method, table)
}

func preloadStatistic(of func(mean, deviation units.Force) units.Force) evidence.Check {
	return func(r *evidence.Row) (evidence.Result, error) {
		text, err := r.Input("kilonewtons")
		if err != nil {
			return evidence.Result{}, err
		}
		var preloads []units.Force
		for _, field := range strings.Fields(text) {
			f, err := units.ParseForce(field + " kN")
			if err != nil {
				return evidence.Result{}, err
			}
			preloads = append(preloads, f)
		}
		mean, deviation, err := torque.MeanAndDeviation(preloads)
		if err != nil {
			return evidence.Result{}, err
		}
		return inUnitOf(r, of(mean, deviation), units.ParseForce)
	}
}
