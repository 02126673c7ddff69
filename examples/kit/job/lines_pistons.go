package job

import (
	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// otherPart is what the trade does about a part that is fitted as it comes.
var otherPart = Remedy{Order, "Fit another.", "Fit another."}

// pistonLines are the lines of the pistons and their pins.
func pistonLines() []line {
	return []line{
		{group: "piston", quantity: "diameter", where: atCylinders, form: plain, before: Choose, kinds: sizeKinds, needs: []fact{atGauge}, body: ofPistons,
			how: "at the maker's gauge point, across the pin", remedy: otherPart},
		{group: "piston", quantity: "clearance", where: atCylinders, form: direct, before: Final, kinds: gapKinds, ofBore: true,
			terms: []string{"cylinder", "piston diameter"}, fit: made(pistonClearance),
			how: "cylinder less piston at the gauge point; or a blade beside the skirt, at the maker's height", remedy: cylinderRemedy},
		{group: "piston", quantity: "diameter along the pin", where: atCylinders, form: plain, before: Choose, kinds: sizeKinds, needs: []fact{atGauge}, body: ofPistons,
			how: "at the height of the maker's gauge point, in the direction of the pin", remedy: otherPart},
		{group: "piston", quantity: "ovality", where: atCylinders, form: signed, before: Choose, kinds: gapKinds,
			terms: []string{"piston diameter", "piston diameter along the pin"}, fit: shaftIn("ovality"),
			how: "the diameter across the pin less that along it, both at the gauge point's height", remedy: otherPart},
		{group: "pin hole", quantity: "diameter", where: atCylinders, form: plain, before: Choose, kinds: boreKinds, body: ofPistons, how: "of the piston, both bosses", remedy: otherPart},
		{group: "piston pin", quantity: "diameter", where: atCylinders, form: plain, before: Choose, kinds: sizeKinds, how: "where the piston bears, and where the rod does", remedy: otherPart},
		{group: "pin in piston", quantity: "fit", where: atCylinders, form: signed, before: Final, kinds: gapKinds,
			terms: []string{"pin hole diameter", "piston pin diameter"}, fit: shaftIn("pin in piston"), how: "hole less pin", remedy: otherPart},
		{group: "pin in rod", quantity: "fit", where: atRods, form: signed, before: Final, kinds: gapKinds,
			terms: []string{"small end", "piston pin diameter"}, fit: shaftIn("pin in rod"), how: "small end less pin; below zero it is pressed in", remedy: otherPart},
		{group: "piston", quantity: "ring positions", where: atCylinders, form: layout, before: After,
			how: "the angle of each gap from the mark, in the order of the rings, \"45° 165° 285°\"; clockwise, seen from above", remedy: otherPart},
	}
}

// pistonClearance is a cylinder less its piston at the maker's gauge point.
func pistonClearance(r [][]measure.LengthReading) measure.Sum[units.LengthDim] {
	return clearance.PistonFit(only(r[0]), only(r[1]), atGauge.is[0]).Sum
}

// shaftIn is a bore less a shaft, or a groove less what lies in it.
func shaftIn(name string) fitOf {
	return made(func(r [][]measure.LengthReading) measure.Sum[units.LengthDim] {
		return clearance.BoreFit(name, only(r[0]), only(r[1])).Sum
	})
}
