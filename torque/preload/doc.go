// Package preload holds what a torque and a turn do to a bolt: the force that clamps the
// parts together, how wide it scatters, and where the bolt begins to yield.
//
// A [Screw] is a thread and the face that rubs under its head. With [Friction] it turns a
// torque into preload and back: [Screw.Promise] says how little of a torque stretches the
// bolt, and how wide the range of preloads is that it really gives. Nut factors say the same
// in one number. [YieldBolt.Forecast] follows a bolt through a snug torque and the turns
// after it, into yield or not, and [YieldBolt.Scattering] shows why the turn scatters less
// than the torque. A [Wrench] knows what can be set on the tool in the hand, an [Extension]
// what a crow's foot makes of it, and [Swings] how to give a turn that one swing of the arm
// does not reach.
//
// # Everything is a range
//
// Friction, strength, stiffness, torque and turn go in as intervals, and what comes out is an
// interval that holds whatever they may be. Coefficients, shares and factors are pure
// numbers, units.Ratio. Whether a bolt has yielded is a verdict of package measure on where
// yield begins: proven, disproven or undecided.
//
// # Exactness and rounding
//
// Torque and preload are worked out in exact arithmetic with the digits of π that units has,
// and rounded outward. Yield preload and the turn to it work in float64 and are rounded
// outward to 0.001 N and 0.000001°.
//
// # Errors
//
// Every error is a [*units.Error] of the kind ErrImpossible, of which ErrAboveOne is one, or
// what units says of a text that is no number.
//
// # Left out
//
// Tables of friction, nut factors and methods are guide values of handbooks, no measurement.
// No maker's torques are held here, and no forecast replaces the engine maker's manual, which
// comes first.
package preload
