// Package clearance holds the arithmetic of what fits an engine: readings that
// are intervals, the clearances that follow from them, and verdicts on those.
//
// # From a reading to a verdict
//
// A reading is never a bare number. A micrometer gives a value and an
// uncertainty, a crush strip lies between two printed widths, one feeler blade
// goes and the next does not: each is a [Reading], a lower and an upper bound
// that keeps how it was got. An [Instrument], a [Strip], [Feelers] make readings
// of what was seen; [Stations] are many of one journal or bore.
//
// A [Fit] is a clearance, a play or a gap: a sum of readings, or a reading made
// where it is, or both. A [Combination] says how the doubts of its readings are
// put together, and [Coverage] how sure the result is to be.
//
// Limits are intervals too, and [Judge] has four answers: conforming, below
// limit, above limit, undecided. A reading conforms when all of it lies inside
// the limits, and is outside when none of it does; anything else is undecided,
// however likely. That is the default rule of ISO 14253-1.
//
// Silence proves nothing. A reading that was not taken has an empty interval, and so
// has the zero tolerance; whatever is judged by one of them is undecided, and what
// cannot be worked out without it is an error of kind [ErrNotMeasured] or
// [ErrNoTolerance]. A tolerance without a limit on one side, or on both, says so:
// "<= 0.02 mm", "any length".
//
// # What to do about it
//
// An [Assessment] tells what is proven and what is not: the margin inside, by how
// much something is outside, the uncertainty that would settle what is undecided.
// Remeasurements, Remedies and Wanted of a Fit say which sizes to read again and
// with what, which parts or machining bring the fit inside, and which sizes would.
// [Slips] catches a decimal point in the wrong place. All of it is data; the words
// are the caller's, and a working ([units.Working]) shows each result by hand.
//
// # Exactness
//
// Everything here is exact decimal arithmetic, save what says that it is not:
// probabilities, effective degrees of freedom and the quantiles of Student's t
// are float64, and what comes back into exact quantities is rounded outward.
//
// # Errors
//
// Bad input is an *[Error]: it says what was found, where, and what to write
// instead, and wraps the sentinel of its kind. Nothing panics on data.
//
// # Left out
//
// closefit holds no maker's limits; the caller brings them. Limits and fits of
// ISO 286 are in package isofit, tolerance stacks in stack, the oil film in
// film. The engine maker's manual and licensed practice come first.
package clearance
