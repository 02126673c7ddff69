// Package preload holds the preload of a bolt: the force that a torque and a turn give it, how
// wide that force scatters, and where the bolt begins to yield.
//
// A [Screw] is a thread and the face that rubs under its head. With [Friction] it turns a
// torque into preload and back; its working shows how small a part of the torque stretches the
// bolt, and the whole range of preloads that the torque can give. A nut factor says the same in
// one number. [YieldBolt.Forecast] follows a bolt through a snug torque and the turns after it,
// into yield or not, and [YieldBolt.Scattering] shows why the turn scatters less than the
// torque. A [Wrench] is the tool in the hand: what it can be set to, and what the bolt then gets,
// through a crow's foot too. [Swings] divides a turn that is too long for one swing of the arm.
//
// # Everything is a range
//
// Friction, strength, stiffness, torque and turn go in as intervals, and the result is an
// interval that holds for every value in them. Coefficients, shares and factors are pure
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
// Every error is a [*units.Error] of kind [ErrImpossible], or of package units for a text that is
// not a number or not of the exchange form.
//
// # Left out
//
// The tables of friction, nut factors and methods are guide values from handbooks, not
// measurements. No maker's torques are held here, and no forecast replaces the engine maker's
// manual, which comes first.
package preload
