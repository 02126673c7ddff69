package evidence

import (
	"errors"
	"fmt"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/clearance/isofit"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// isofitChecks are the checks of package clearance/isofit.
func isofitChecks() map[string]Check {
	checks := map[string]Check{
		"tolerance":                standardTolerance,
		"lower deviation":          limitDeviation(units.LengthInterval.Lo),
		"upper deviation":          limitDeviation(units.LengthInterval.Hi),
		"largest centre distance":  centreDistance(units.Length.Add),
		"smallest centre distance": centreDistance(units.Length.Sub),
	}
	quantities := map[string]func(holeAndShaft) units.Length{
		"smallest clearance":    func(p holeAndShaft) units.Length { return p.clearance().Lo() },
		"largest clearance":     func(p holeAndShaft) units.Length { return p.clearance().Hi() },
		"smallest interference": func(p holeAndShaft) units.Length { return p.clearance().Hi().Neg() },
		"largest interference":  func(p holeAndShaft) units.Length { return p.clearance().Lo().Neg() },
		"hole tolerance":        func(p holeAndShaft) units.Length { return p.hole.Width() },
		"shaft tolerance":       func(p holeAndShaft) units.Length { return p.shaft.Width() },
		"hole min":              func(p holeAndShaft) units.Length { return p.hole.Lo() },
		"hole max":              func(p holeAndShaft) units.Length { return p.hole.Hi() },
		"shaft min":             func(p holeAndShaft) units.Length { return p.shaft.Lo() },
		"shaft max":             func(p holeAndShaft) units.Length { return p.shaft.Hi() },
	}
	pairs := map[string]struct {
		of   func(*Row) (holeAndShaft, error)
		used []string
	}{
		"pair": {pairOf, []string{"smallest clearance", "largest clearance", "largest interference", "hole tolerance",
			"shaft tolerance", "hole min", "hole max", "shaft min", "shaft max"}},
		"fit":         {fitOf, []string{"smallest interference", "largest interference", "hole max", "shaft min", "shaft max"}},
		"hole basis":  {designOf(isofit.Design.HoleBasis), []string{"hole min", "hole max", "shaft min", "shaft max"}},
		"shaft basis": {designOf(isofit.Design.ShaftBasis), []string{"hole min", "hole max", "shaft min", "shaft max"}},
	}
	for name, p := range pairs {
		for _, q := range p.used {
			checks[name+" "+q] = func(r *Row) (Result, error) {
				pair, err := p.of(r)
				if err != nil {
					return Result{}, err
				}
				return Rat(quantities[q](pair).Rat(units.Millimetre)), r.ExpectUnit("mm")
			}
		}
	}
	return checks
}

// holeAndShaft are limits of size, and what a designation says of their clearance where
// they come from one.
type holeAndShaft struct {
	hole, shaft units.LengthInterval
	designated  *isofit.Designation
}

func (p holeAndShaft) clearance() units.LengthInterval {
	if p.designated != nil {
		return p.designated.Clearance().Interval()
	}
	return clearance.BoreFit("pair", measure.Given(p.hole, "hole"), measure.Given(p.shaft, "shaft")).Best().Interval()
}

// ends returns the smallest and the largest nominal size of a row's range: just
// above one end, at the other.
func ends(r *Row) (first, last units.Length, err error) {
	over, errOver := Parse(r, "over", units.ParseLength)
	last, errLast := Parse(r, "up_to", units.ParseLength)
	first = units.Min(last, over.Add(units.Nanometre.OfInt(1)))
	return first, last, errors.Join(errOver, errLast)
}

func standardTolerance(r *Row) (Result, error) {
	first, last, errEnds := ends(r)
	class, errClass := Parse(r, "grade", func(grade string) (isofit.ToleranceClass, error) {
		return isofit.ParseToleranceClass("h" + strings.TrimPrefix(grade, "IT")) // every letter has the tolerances of its grade
	})
	if err := errors.Join(errEnds, errClass, r.ExpectUnit("µm")); err != nil {
		return Result{}, err
	}
	a, errA := isofit.NewSize(first, class)
	b, errB := isofit.NewSize(last, class)
	if err := errors.Join(errA, errB); err != nil {
		return Result{}, err
	}
	return same(a.Limits().Width(), b.Limits().Width())
}

func limitDeviation(end func(units.LengthInterval) units.Length) Check {
	return func(r *Row) (Result, error) {
		first, last, errEnds := ends(r)
		class, errClass := Parse(r, "class", isofit.ParseToleranceClass)
		if err := errors.Join(errEnds, errClass, r.ExpectUnit("µm")); err != nil {
			return Result{}, err
		}
		a, errA := isofit.NewSize(first, class)
		b, errB := isofit.NewSize(last, class)
		return same(end(a.Deviations()), end(b.Deviations()), errA, errB)
	}
}

// same gives the value found at both ends of a range, and an error if they differ.
func same(first, last units.Length, errs ...error) (Result, error) {
	err := errors.Join(errs...)
	if err == nil && !first.Equal(last) {
		err = fmt.Errorf("%s at the beginning of the range and %s at its end", first, last)
	}
	return Rat(last.Rat(units.Micrometre)), err
}

func pairOf(r *Row) (holeAndShaft, error) {
	hole, errHole := Parse(r, "hole", units.ParseLengthInterval)
	shaft, errShaft := Parse(r, "shaft", units.ParseLengthInterval)
	return holeAndShaft{hole: hole, shaft: shaft}, errors.Join(errHole, errShaft)
}

func fitOf(r *Row) (holeAndShaft, error) {
	fit, err := Parse(r, "fit", isofit.ParseDesignation)
	return holeAndShaft{hole: fit.Hole().Limits(), shaft: fit.Shaft().Limits(), designated: &fit}, err
}

func designOf(basis func(isofit.Design) (hole, shaft units.LengthInterval, err error)) func(*Row) (holeAndShaft, error) {
	return func(r *Row) (holeAndShaft, error) {
		var d isofit.Design
		var errs [5]error
		d.Nominal, errs[0] = Parse(r, "nominal", units.ParseLength)
		d.HoleTolerance, errs[1] = Parse(r, "hole_tolerance", units.ParseLength)
		d.ShaftTolerance, errs[2] = Parse(r, "shaft_tolerance", units.ParseLength)
		d.SmallestClearance, errs[3] = Parse(r, "smallest", units.ParseLength)
		var p holeAndShaft
		p.hole, p.shaft, errs[4] = basis(d)
		return p, errors.Join(errs[:]...)
	}
}

// centreDistance is for two bolts of one fit at a distance: they go in while the
// distances of the holes and of the bolts differ by no more than the smallest
// clearance.
func centreDistance(widen func(nominal, smallest units.Length) units.Length) Check {
	return func(r *Row) (Result, error) {
		fit, errFit := fitOf(r)
		centres, errCentres := Parse(r, "centres", units.ParseLength)
		d := widen(centres, fit.clearance().Lo())
		return Rat(d.Rat(units.Millimetre)), errors.Join(errFit, errCentres, r.ExpectUnit("mm"))
	}
}
