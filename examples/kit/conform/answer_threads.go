package conform

import (
	"errors"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/clearance/isofit"
	"example.com/closefit/fasteners"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func threadKinds() map[string]answerer {
	return map[string]answerer{"sizes": kind(threadSizes), "limits": kind(threadLimits), "strength": kind(strength), "load": kind(load)}
}

type thread struct{ Thread, Class, Grade string } // grade instead of class: of SAE J429

func threadSizes(q thread) (answer, error) {
	t, err := fasteners.ParseThread(q.Thread)
	if err != nil {
		return nil, err
	}
	// ISO 724 prints diameters to 0.001 mm, ASME B1.1 to 0.0001 in.
	u, places, area := units.Millimetre, int32(3), units.SquareMillimetre
	if t.IsUnified() {
		u, places, area = units.Inch, 4, units.SquareInch
	}
	return answer{
		"pitch_diameter": t.PitchDiameter().In(u, places).String(),
		"minor_diameter": t.MinorDiameter().In(u, places).String(),
		"root_diameter":  t.RootDiameter().In(u, places).String(),
		"stress_area":    in(t.StressArea(), area),
		"minor_area":     in(t.MinorArea(), area),
	}, nil
}

func threadLimits(q thread) (answer, error) {
	t, err := fasteners.ParseThread(q.Thread)
	if err != nil {
		return nil, err
	}
	l, err := t.Limits(q.Class)
	if err != nil {
		return nil, err
	}
	u := units.Millimetre
	if t.IsUnified() {
		u = units.Inch
	}
	reply := answer{}
	for name, limits := range map[string]units.LengthInterval{"major": l.Major, "pitch": l.Pitch, "minor": l.Minor} {
		reply[name+"_min"], reply[name+"_max"] = bounds(limits, u)
	}
	reply["pitch_tolerance"] = in(l.Pitch.Width(), u)
	return reply, nil
}

func (q thread) strength() (fasteners.Strength, error) {
	t, err := fasteners.ParseThread(q.Thread)
	if err != nil {
		return fasteners.Strength{}, err
	}
	return fasteners.StrengthOf(q.Class+q.Grade, t)
}

func strength(q thread) (answer, error) {
	s, err := q.strength()
	if err != nil {
		return nil, err
	}
	u := units.Megapascal
	if q.Grade != "" {
		u = units.KipPerSquareInch
	}
	return answer{"proof": in(s.Proof, u), "yield": in(s.Yield, u), "tensile": in(s.Tensile, u)}, nil
}

func load(q thread) (answer, error) {
	s, err := q.strength()
	if err != nil {
		return nil, err
	}
	proof, err := s.Load(s.Proof)
	if err != nil {
		return nil, err
	}
	ultimate, err := s.Load(s.Tensile)
	return answer{"proof_load": in(proof, units.Newton), "ultimate_load": in(ultimate, units.Newton)}, err
}

func isofitKinds() map[string]answerer {
	return map[string]answerer{"tolerance": kind(grade), "deviations": kind(deviations), "fit": kind(fit), "pair": kind(pair), "basis": kind(basis)}
}

func sizeOf(class, nominal string) (isofit.Size, error) {
	c, err := isofit.ParseToleranceClass(class)
	if err != nil {
		return isofit.Size{}, err
	}
	n, err := units.ParseLength(nominal)
	if err != nil {
		return isofit.Size{}, err
	}
	return isofit.NewSize(n, c)
}

func grade(q struct{ Grade, Nominal string }) (answer, error) {
	s, err := sizeOf("h"+strings.TrimPrefix(q.Grade, "IT"), q.Nominal) // every letter has the tolerances of its grade
	if err != nil {
		return nil, err
	}
	return answer{"tolerance": in(s.Limits().Width(), units.Micrometre)}, nil
}

func deviations(q struct{ Class, Nominal string }) (answer, error) {
	s, err := sizeOf(q.Class, q.Nominal)
	if err != nil {
		return nil, err
	}
	lower, upper := bounds(s.Deviations(), units.Micrometre)
	return answer{"lower": lower, "upper": upper}, nil
}

func pairAnswer(hole, shaft, gap units.LengthInterval) answer {
	reply := answer{}
	reply["hole_min"], reply["hole_max"] = bounds(hole, units.Millimetre)
	reply["shaft_min"], reply["shaft_max"] = bounds(shaft, units.Millimetre)
	reply["smallest_clearance"], reply["largest_clearance"] = bounds(gap, units.Millimetre)
	return reply
}

func fit(q struct{ Fit string }) (answer, error) {
	f, err := isofit.ParseDesignation(q.Fit)
	if err != nil {
		return nil, err
	}
	return pairAnswer(f.Hole().Limits(), f.Shaft().Limits(), f.Clearance().Interval()), nil
}

func gapOf(hole, shaft units.LengthInterval) units.LengthInterval {
	return clearance.BoreFit("pair", measure.Given(hole, "hole"), measure.Given(shaft, "shaft")).Best().Interval()
}

func pair(q struct{ Hole, Shaft string }) (answer, error) {
	hole, err := units.ParseLengthInterval(q.Hole)
	shaft, err2 := units.ParseLengthInterval(q.Shaft)
	if err := errors.Join(err, err2); err != nil {
		return nil, err
	}
	return pairAnswer(hole, shaft, gapOf(hole, shaft)), nil
}

func basis(q struct {
	Basis, Nominal string
	HoleTolerance  string `json:"hole_tolerance"`
	ShaftTolerance string `json:"shaft_tolerance"`
	Smallest       string
}) (answer, error) {
	var d isofit.Design
	if err := errors.Join(d.Nominal.UnmarshalText([]byte(q.Nominal)), d.HoleTolerance.UnmarshalText([]byte(q.HoleTolerance)), d.ShaftTolerance.UnmarshalText([]byte(q.ShaftTolerance)),
		d.SmallestClearance.UnmarshalText([]byte(q.Smallest))); err != nil {
		return nil, err
	}
	of := isofit.Design.HoleBasis
	if q.Basis == "shaft" {
		of = isofit.Design.ShaftBasis
	}
	hole, shaft, err := of(d)
	if err != nil {
		return nil, err
	}
	return pairAnswer(hole, shaft, gapOf(hole, shaft)), nil
}
