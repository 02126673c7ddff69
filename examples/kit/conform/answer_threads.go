package conform

import (
	"errors"
	"math/big"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/clearance/isofit"
	"example.com/closefit/fasteners"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func threadKinds() map[string]answerer {
	return map[string]answerer{"sizes": kind(threadSizes), "limits": kind(threadLimits), "strength": kind(strength), "load": kind(load), "series": kind(threadSeries)}
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
	printed, err := printedArea(t)
	if err != nil {
		return nil, err
	}
	reply := answer{
		"pitch_diameter": t.PitchDiameter().In(u, places).String(),
		"minor_diameter": t.MinorDiameter().In(u, places).String(),
		"root_diameter":  t.RootDiameter().In(u, places).String(),
		"stress_area":    in(t.StressArea(), area),
		"minor_area":     in(t.MinorArea(), area),
		"printed_area":   in(printed, area),
	}
	if t.IsUnified() {
		sixth := t.Pitch().MulRat(big.NewRat(866_025_404, 6_000_000_000)) // ISO 68-1: H = 0.866025404 P
		reply["root_sixth"] = t.MinorDiameter().Sub(sixth).In(u, places).String()
	}
	return reply, nil
}

// printedArea is the stress area that the thread's working shows, as tables print it.
func printedArea(t fasteners.Thread) (units.Area, error) {
	for _, step := range t.Working().Steps {
		if step.Name == "stress area" {
			return units.Parse[units.Area](step.Result)
		}
	}
	return units.Area{}, errors.New("no stress area in the working")
}

func threadSeries(q struct{ Thread string }) (answer, error) {
	t, err := fasteners.ParseThread(q.Thread)
	if err != nil {
		return nil, err
	}
	if !t.IsUnified() {
		return nil, errors.New("a unified thread has a series")
	}
	_, series, _ := strings.Cut(t.String(), " ")
	return answer{"series": series}, nil
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
	if l.Major.HasHi() {
		reply["deviation"] = in(t.Major().Sub(l.Major.Hi()), u)
	}
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
	reply := answer{"proof": in(s.Proof, u), "yield": in(s.Yield, u), "tensile": in(s.Tensile, u), "proof_ratio": digits(s.Proof.Ratio(s.Yield)),
		"elongation": nil, "hardness_min": nil, "hardness_max": nil}
	if s.Elongation != nil {
		reply["elongation"] = in(*s.Elongation, units.Percent)
	}
	if s.Hardness != nil {
		reply["hardness_min"], reply["hardness_max"] = bounds(*s.Hardness, units.One)
	}
	return reply, nil
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
	return map[string]answerer{"tolerance": kind(grade), "deviations": kind(deviations), "fit": kind(fit), "pair": kind(pair), "basis": kind(basis), "centres": kind(centres)}
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
	reply := answer{"hole_tolerance": in(hole.Width(), units.Millimetre), "shaft_tolerance": in(shaft.Width(), units.Millimetre)}
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

// centres is of two holes and two pins, each pair of the fit.
func centres(q struct{ Fit, Centres string }) (answer, error) {
	f, err := isofit.ParseDesignation(q.Fit)
	nominal, err2 := units.ParseLength(q.Centres)
	if err := errors.Join(err, err2); err != nil {
		return nil, err
	}
	play := f.Clearance().Interval().Lo()
	return answer{"smallest": in(nominal.Sub(play), units.Millimetre), "largest": in(nominal.Add(play), units.Millimetre)}, nil
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
