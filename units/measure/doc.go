// Package measure holds readings: the value that an instrument shows, how far it can be
// trusted, how several readings add up, and whether they prove anything about limits. It
// serves every dimension of package units.
//
// # A reading
//
// A reading is more than a number. A micrometer gives a value and an uncertainty, a crush
// strip lies between two printed widths, one feeler blade goes and the next does not.
// Each is a [Reading]: a certain bracket, and doubts that belong to sources. An
// [Instrument], a [Strip] and [Feelers] make readings. The zero Reading was not taken,
// and proves nothing.
//
// # A sum
//
// A [Sum] adds and subtracts readings. Doubts of one source are added with their signs
// first: a bore gauge that was set in the micrometer that read the journal took over the
// micrometer's error, and in bore less journal it cancels; one micrometer used for two
// walls and a journal counts three times. Different sources are combined by
// root-sum-square, brackets by worst case (JCGM 100:2008, 5.2). If the correlation of two
// doubts is unknown, the worst is assumed. An uncertainty stated in one figure may be
// shared by all readings of its instrument, with either sign.
//
// # A verdict
//
// [Judge] compares an interval with a tolerance interval: conforming, below limit, above
// limit, or undecided, after the default rule of ISO 14253-1. An [Assessment] says which
// limits are proven to be met, and how likely another measurement is to settle an
// undecided verdict. [Conformity] is a probability from the same description, so it
// cannot contradict the verdict. [Stations] are several readings of one part, and
// [Compare] holds two readings of one thing against each other.
//
// # Exactness and rounding
//
// Values and brackets are exact. Uncertainties are rounded up to the seventh decimal
// place of a dimension's first unit (a tenth of a nanometre); roots of perfect squares,
// and sums without a root, stay exact. Coverage factors, quantiles, probabilities and
// chances are computed in float64, and factors are rounded up.
//
// # Errors
//
// Bad input is a *[units.Error], found by errors.Is with the sentinels here. Instruments,
// strips and feelers are checked when they read; call Check to know sooner. Only the
// statistics of a [Series] panic on data, if it has too few readings: look at its length
// first.
//
// # Left out
//
// Package clearance says which readings make a clearance. There is no product or quotient
// of readings, and no fit of a line.
package measure
