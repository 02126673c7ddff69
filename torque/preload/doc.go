// Package preload holds the preload of a bolt: the force that a torque and a turn give it, how
// wide that force scatters, where the bolt begins to yield, and what takes preload away again.
//
// A [Screw] is a thread and the face that rubs under its head. With [Friction] it turns a
// torque into preload and back; its working shows how small a part of the torque stretches the
// bolt, and the whole range of preloads that the torque can give. A nut factor says the same in
// one number. [YieldBolt.Forecast] follows a bolt through a snug torque and the turns after it,
// into yield or not, and [YieldBolt.Scattering] shows why the turn scatters less than the
// torque. A [Wrench] is the tool in the hand: what it can be set to, and what the bolt then gets,
// through a crow's foot too. [Swings] divides a turn that is too long for one swing of the arm.
//
// A [Course] follows a bolt through all of its pulls, back-offs among them. An [Embedding] is what
// its surfaces lose in service, and an [Engagement] says whether the bolt breaks or a thread strips.
// [BreakingTorque] and [KeyTorque] are what a bolt and the key in its head stand. What a plan means
// for its bolts, and what neighbours take from each other, is asked of package examination.
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
// outward to 0.001 N and 0.000001°. So do stripping, whose factors come from tests, and neighbours,
// whose springs are a model: both are estimates and not bounds, and say so.
//
// # Errors
//
// Every error is a [*units.Error] of kind [ErrImpossible], or of package units for a text that is
// not a number or not of the exchange form.
//
// # Left out
//
// The tables of friction, nut factors, methods and embedding are guide values from handbooks, not
// measurements. Creep and gaskets are left out, and so is what the heads of bolts stand other than by
// the key of a hexagon socket, for which no source was found. No maker's torques are held here, and no forecast replaces the engine maker's
// manual, which comes first.
package preload
