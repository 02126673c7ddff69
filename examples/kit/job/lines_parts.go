package job

import (
	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// atCylinders are the cylinders, each with the piston and the rod of its name.
func atCylinders(e *Engine) []string { return e.Cylinders }

// difference makes a line the size of the first of its terms less those of the others.
func difference(names ...string) fitOf {
	return func(j *Job, m *measured, location string) clearance.Fit {
		sum := measure.Sum[units.LengthDim]{Symbol: "C"}
		for i, term := range m.terms {
			r := j.sized(term, location)
			if i == 0 {
				sum.Terms = append(sum.Terms, measure.Plus("D", names[i], r))
			} else {
				sum.Terms = append(sum.Terms, measure.Minus(string(rune('d'+i-1)), names[i], r))
			}
			if part := j.line(term); part != nil {
				for _, f := range part.needs {
					sum.Terms[i].Needs = append(sum.Terms[i].Needs, f.condition())
				}
			}
		}
		return clearance.Fit{Sum: sum}
	}
}

// The facts that the lines of the parts ask for (common practice, no source).
var (
	plateFitted = fact{what: "torque plate", is: []string{"fitted", "not fitted"}, either: true}
	atGauge     = fact{what: "gauge point", is: []string{"the maker's"}}
)

// cylinderRemedy is what the trade does about a cylinder or its piston's clearance.
var cylinderRemedy = Remedy{Stop,
	"It is too tight: have it honed, or look whether the piston is the right one.",
	"It is worn: ask a machine shop for an oversize, or fit another piston."}
