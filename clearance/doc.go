// Package clearance holds the arithmetic of what fits an engine: readings that
// are intervals, the clearances that follow from them, and verdicts on those.
//
// A reading is never a bare number. A micrometer gives a value and an
// uncertainty, a crush strip lies between two printed widths, one feeler blade
// goes and the next does not: each is a [Reading], a lower and an upper bound
// that keeps how it was got. Limits are intervals too, and [Judge] has four
// answers: conforming, below limit, above limit, undecided. A reading conforms
// when all of it lies inside the limits, and is outside when none of it does;
// anything else is undecided, however likely. That is the default rule of
// ISO 14253-1.
//
// # Exactness
//
// Everything here is exact decimal arithmetic, save what says that it is not:
// probabilities, and the quantiles of Student's t, are float64 and come back
// into exact quantities rounded outward.
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
