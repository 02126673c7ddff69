package stack

import (
	"fmt"
	"math"
	"strings"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Capability says how well a gap keeps within limits, in float64.
type Capability struct {
	Limits units.LengthInterval `json:"limits"`
	Mean   units.Length         `json:"mean"`   // of the gap
	StdDev units.Length         `json:"stdDev"` // of the gap

	// Cp is the width of the limits over six standard deviations; nil, in JSON null,
	// for limits with one bound.
	Cp *float64 `json:"cp"`

	// Cpk is the distance from the mean to the nearer limit over three standard
	// deviations; negative if the mean lies outside.
	Cpk float64 `json:"cpk"`

	// Below and Above are the probabilities of a gap beyond each limit, Outside that of
	// the two together, from the true distribution.
	Below   Computed `json:"below"`
	Above   Computed `json:"above"`
	Outside Computed `json:"outside"`
}

// Capability returns how well the gap keeps within limits.
//
//	Cp  = (U - L) / 6σ
//	Cpk = min(U - μ, μ - L) / 3σ
//
// L, U: limits; μ, σ: mean and standard deviation of the gap; all in one unit of
// length. The formulas are those of ISO 22514-2:2017 for a normal distribution
// (from memory); Below, Above and Outside hold for any. The error is of kind
// [measure.ErrEmpty] for limits without a bound, [ErrUnusable] for limits of no width.
func (l *Law) Capability(limits units.LengthInterval) (Capability, error) {
	if err := checkLimits(limits); err != nil {
		return Capability{}, err
	}
	c := Capability{Limits: limits, Mean: l.Mean, StdDev: l.StdDev, Cpk: math.Inf(1)} // until one of the limits is looked at
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
	c.Below, c.Above = l.outside(limits)
	if err := l.ctx.Err(); err != nil {
		return Capability{}, err
	}
	c.Outside = c.Below.plus(c.Above)
	return c, nil
}

// working shows the steps to Cp and Cpk.
func (c Capability) working() units.Working {
	mm := inMillimetres
	standing := "proven"
	if !c.Outside.Proven {
		standing = "an estimate"
	}
	w := units.Working{
		Result: fmt.Sprintf("Cpk = %.3f; %.3g parts per million outside", c.Cpk, 1e6*c.Outside.Value),
		Source: "ISO 22514-2:2017 (from memory); parts per million from the distribution of the sum, " + standing,
		Notes:  []string{fmt.Sprintf("mean %s mm, standard deviation %s mm, in float64", mm(c.Mean), mm(c.StdDev))},
	}
	var formulas, numbers []string
	if c.Cp != nil {
		formulas = append(formulas, "Cp = (U - L) / 6σ")
		numbers = append(numbers, fmt.Sprintf("(%s - %s) / (6 × %s) = %.3f", mm(c.Limits.Hi()), mm(c.Limits.Lo()), mm(c.StdDev), *c.Cp))
	}
	var sides, distances []string
	if c.Limits.HasHi() {
		sides, distances = append(sides, "U - μ"), append(distances, mm(c.Limits.Hi())+" - "+mm(c.Mean))
	}
	if c.Limits.HasLo() {
		sides, distances = append(sides, "μ - L"), append(distances, mm(c.Mean)+" - "+mm(c.Limits.Lo()))
	}
	formulas = append(formulas, "Cpk = min("+strings.Join(sides, ", ")+") / 3σ")
	numbers = append(numbers, fmt.Sprintf("min(%s) / (3 × %s) = %.3f", strings.Join(distances, ", "), mm(c.StdDev), c.Cpk))
	w.Formula, w.Numbers = strings.Join(formulas, "; "), strings.Join(numbers, "; ")
	return w
}

func checkLimits(limits units.LengthInterval) error {
	switch {
	case !limits.HasLo() && !limits.HasHi():
		return wrong(measure.ErrEmpty, "limits of the gap", "no bound", "give the smallest gap, the largest, or both")
	case limits.Bounded() && limits.IsPoint():
		return wrong(ErrUnusable, "limits of the gap", "no width: "+limits.String(), "give a smallest and a largest gap that differ")
	}
	return nil
}
