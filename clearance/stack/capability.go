package stack

import (
	"fmt"
	"math"
	"strings"

	"example.com/closefit/units"
)

// A Capability says how well a gap keeps within limits. float64.
type Capability struct {
	// Cp is the width of the limits over six standard deviations; nil, in JSON null,
	// for limits with one bound.
	Cp *float64

	// Cpk is the distance from the mean to the nearer limit over three standard
	// deviations; negative if the mean lies outside.
	Cpk float64

	Below, Above Probability // of a gap outside the limits, from the true distribution
}

// PPM returns how many gaps in a million lie outside the limits.
func (c Capability) PPM() float64 { return c.Below.Plus(c.Above).PPM() }

// Yield returns the part of all gaps that lies within the limits.
func (c Capability) Yield() float64 { return 1 - c.Below.Value - c.Above.Value }

// Capability returns how well the gap keeps within limits.
//
//	Cp  = (U - L) / 6σ
//	Cpk = min(U - μ, μ - L) / 3σ
//
// L, U: limits; μ, σ: mean and standard deviation of the gap; all in one unit of
// length. The formulas are those of ISO 22514-2:2017 for a normal distribution
// (from memory); Below and Above hold for any. The error is an *Error of kind
// ErrLimits for limits without a bound, or of no width.
func (l *Law) Capability(limits units.LengthInterval) (Capability, error) {
	if err := checkLimits(limits); err != nil {
		return Capability{}, err
	}
	c := Capability{Cpk: math.Inf(1)} // until one of the limits is looked at
	if limits.HasLo() {
		c.Cpk = min(c.Cpk, (l.mean-l.from(limits.Lo()))/(3*l.sigma))
	}
	if limits.HasHi() {
		c.Cpk = min(c.Cpk, (l.from(limits.Hi())-l.mean)/(3*l.sigma))
	}
	if limits.Bounded() {
		cp := limits.Width().Float64(units.Millimetre) / (6 * l.sigma)
		c.Cp = &cp
	}
	c.Below, c.Above = l.Outside(limits)
	return c, nil
}

// CapabilityWorking shows how Cp and Cpk come about. The error is Capability's.
func (l *Law) CapabilityWorking(limits units.LengthInterval) (units.Working, error) {
	c, err := l.Capability(limits)
	if err != nil {
		return units.Working{}, err
	}
	const places = 5 // of a millimetre
	mm := func(q units.Length) string { return q.In(units.Millimetre, places).String() }
	standing := "proven"
	if !c.Below.Plus(c.Above).Proven {
		standing = "an estimate"
	}
	w := units.Working{
		Name:   "capability",
		Result: fmt.Sprintf("Cpk = %.3f; %.3g parts per million outside", c.Cpk, c.PPM()),
		Source: "ISO 22514-2:2017 (from memory); parts per million from the distribution of the sum, " + standing,
		Notes:  []string{fmt.Sprintf("mean %s mm, standard deviation %s mm, in float64", mm(l.Mean()), mm(l.StdDev()))},
	}
	var formulas, numbers []string
	if limits.Bounded() {
		formulas = append(formulas, "Cp = (U - L) / 6σ")
		numbers = append(numbers, fmt.Sprintf("(%s - %s) / (6 × %s) = %.3f", mm(limits.Hi()), mm(limits.Lo()), mm(l.StdDev()), *c.Cp))
	}
	var sides, distances []string
	if limits.HasHi() {
		sides, distances = append(sides, "U - μ"), append(distances, mm(limits.Hi())+" - "+mm(l.Mean()))
	}
	if limits.HasLo() {
		sides, distances = append(sides, "μ - L"), append(distances, mm(l.Mean())+" - "+mm(limits.Lo()))
	}
	formulas = append(formulas, "Cpk = min("+strings.Join(sides, ", ")+") / 3σ")
	numbers = append(numbers, fmt.Sprintf("min(%s) / (3 × %s) = %.3f", strings.Join(distances, ", "), mm(l.StdDev()), c.Cpk))
	w.Formula, w.Numbers = strings.Join(formulas, "; "), strings.Join(numbers, "; ")
	return w, nil
}

func checkLimits(limits units.LengthInterval) error {
	switch {
	case !limits.HasLo() && !limits.HasHi():
		return wrong(ErrLimits, "limits without a bound", "give the smallest gap, the largest, or both")
	case limits.Bounded() && limits.IsPoint():
		return wrong(ErrLimits, "limits of no width: "+limits.String(), "give a smallest and a largest gap that differ")
	}
	return nil
}
