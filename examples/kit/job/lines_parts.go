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
	plateFitted = fact{what: "torque plate", is: []string{"fitted", "not fitted, as the manual says"}}
	atGauge     = fact{what: "gauge point", is: []string{"the maker's"}}
)

// partLines are the lines of the parts that are measured where the job asks for them.
func partLines(e *Engine) []line {
	shop := Remedy{Stop, "Ask a machine shop.", "Ask a machine shop."}
	return []line{
		{group: "cylinder", where: atCylinders, form: size, before: Choose, kinds: boreKinds, needs: []fact{plateFitted},
			how: "near the top of the ring's travel, in the middle and at its foot; along the crank and across it", remedy: cylinderRemedy},
		{group: "main cap", quantity: "width", where: atMains, form: plain, before: Choose, kinds: sizeKinds, how: "across the register"},
		{group: "main register", quantity: "width", where: atMains, form: plain, before: Choose, kinds: boreKinds, how: "in the block, between the faces that hold the cap"},
		{group: "main cap", quantity: "register fit", where: atMains, form: signed, before: Choose, kinds: gapKinds, terms: []string{"main register width", "main cap width"},
			fit: difference("register", "cap"), how: "register less cap; below zero it is held with a press", remedy: shop},
		{group: "deck", quantity: "flatness", where: atDecks, form: direct, before: Choose, kinds: gapKinds, how: "a straight edge along, across and from corner to corner; the thickest blade under it", remedy: shop},
		{group: "deck", quantity: "piston height", where: atCylinders, form: signed, before: Final, kinds: []string{"depth gauge", "dial", "gauge"},
			how: "piston at top dead centre, over the pin; from the deck up is above zero", remedy: shop},
		{group: "crankshaft", quantity: "flange run-out", where: atOnce("crankshaft"), form: direct, before: Choose, kinds: []string{"dial", "gauge"}, how: "on the face, near its edge, over a whole turn; crank pushed one way", remedy: shop},
		{group: "crankshaft", quantity: "condition", where: atOnce("crankshaft"), form: state, before: Choose, how: "cracks, fillets, surface of the journals, threads"},
		{group: "block", quantity: "condition", where: atOnce("block"), form: state, before: Choose, how: "cracks, threads, core plugs"},
	}
}

// cylinderRemedy is what the trade does about a cylinder or its piston's clearance.
var cylinderRemedy = Remedy{Stop,
	"It is too tight: have it honed, or look whether the piston is the right one.",
	"It is worn: ask a machine shop for an oversize, or fit another piston."}
