package clearance

import (
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// The conditions of a reading that the fits here ask for. A reading states them by
// Reading.With; what it does not state, it does not prove.

const bolts, shells = "bolts", "shells"

// BoltsTightened says that the cap's bolts were tightened to a torque.
func BoltsTightened(to units.Torque) measure.Condition {
	return measure.Condition{What: bolts, Is: "tightened to " + to.String()}
}

// BoltsAsAssembled says that the cap's bolts were tightened as they will be when the
// engine is put together, whatever the plan says: stages, angles and all.
func BoltsAsAssembled() measure.Condition {
	return measure.Condition{What: bolts, Is: "tightened as for assembly"}
}

// BoltsLoose says that the cap was on and its bolts were not tightened.
func BoltsLoose() measure.Condition { return measure.Condition{What: bolts, Is: "loose"} }

// ShellsOut says that a housing bore was read without its shells.
func ShellsOut() measure.Condition { return measure.Condition{What: shells, Is: "out"} }

// ShellsIn says that a bore was read inside its shells.
func ShellsIn() measure.Condition { return measure.Condition{What: shells, Is: "in"} }

// GaugePoint says where a piston was measured, in the words of its maker: "12 mm above
// the skirt's lower edge, across the pin".
func GaugePoint(at string) measure.Condition {
	return measure.Condition{What: "gauge point", Is: at}
}
