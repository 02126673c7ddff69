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

// partLines are the lines of the parts that are measured where the job asks for them.
func partLines(e *Engine) []line {
	other := Remedy{Order, "Fit another.", "Fit another."}
	lines := []line{
		{group: "piston", where: atCylinders, quantity: "diameter", form: plain, before: Choose, kinds: sizeKinds, needs: []fact{atGauge}, how: "at the maker's gauge point, across the pin", remedy: other},
		{group: "piston", quantity: "clearance", where: atCylinders, form: direct, before: Final, kinds: gapKinds, terms: []string{"cylinder", "piston diameter"},
			fit: difference("cylinder", "piston"), how: "cylinder less piston at the gauge point; or a blade beside the skirt, at the maker's height", remedy: cylinderRemedy},
		{group: "pin hole", quantity: "diameter", where: atCylinders, form: plain, before: Choose, kinds: boreKinds, how: "of the piston, both bosses", remedy: other},
		{group: "piston pin", quantity: "diameter", where: atCylinders, form: plain, before: Choose, kinds: sizeKinds, how: "where the piston bears, and where the rod does", remedy: other},
		{group: "small end", quantity: "diameter", where: atRods, form: plain, before: Choose, kinds: boreKinds, how: "front and rear, in two directions", remedy: shopRemedy},
		{group: "pin in piston", quantity: "fit", where: atCylinders, form: signed, before: Final, kinds: gapKinds, terms: []string{"pin hole diameter", "piston pin diameter"}, fit: difference("hole", "pin"), how: "hole less pin", remedy: other},
		{group: "pin in rod", quantity: "fit", where: atRods, form: signed, before: Final, kinds: gapKinds, terms: []string{"small end diameter", "piston pin diameter"}, fit: difference("small end", "pin"), how: "small end less pin; below zero it is pressed in", remedy: other},
		{group: "rod", quantity: "length", where: atRods, form: plain, before: Choose, kinds: sizeKinds, how: "between the centres of its ends", remedy: shopRemedy},
		{group: "rod", quantity: "condition", where: atRods, form: state, before: Choose, how: "cracks, marks of cap and rod, threads"},
	}
	for _, ring := range e.Rings {
		lines = append(lines,
			line{group: ring, quantity: "side clearance", where: atCylinders, form: direct, before: Final, kinds: gapKinds, how: "ring in its groove, blade above it, at three places around", remedy: other},
			line{group: ring, quantity: "back clearance", where: atCylinders, form: direct, before: Final, kinds: gapKinds, how: "depth of the groove less the ring's thickness", remedy: other})
	}
	return lines
}

// cylinderRemedy is what the trade does about a cylinder or its piston's clearance.
var cylinderRemedy = Remedy{Stop,
	"It is too tight: have it honed, or look whether the piston is the right one.",
	"It is worn: ask a machine shop for an oversize, or fit another piston."}
