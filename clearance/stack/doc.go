// Package stack holds tolerance stacks: a gap that is a sum of sizes, each with its
// limits, and how wide the gap can be.
//
// A Stack is a list of Contributors. Each has a sensitivity (+1 if it opens the gap,
// -1 if it closes it), limits, and a Distribution of its sizes within them. It
// gives these answers; each relies on more assumptions than the one above it:
//
//	WorstCase     every gap that the limits allow, exactly; no distribution needed
//	RSS           root-sum-square, plain or inflated
//	Law           the true distribution of the gap: probabilities down to 1e-12 and
//	              beyond, quantiles, density, histogram, Capability (Cp, Cpk, parts per million)
//	Simulate      Monte Carlo of the gap, and SimulateFunc of any function of the sizes
//	Linearise     a gap that is no sum, as a straight line through the means, and whether that
//	              is enough
//	Shares        the share of each contributor in the width and in the variance of the gap
//	Allocate      the tolerances for a wanted yield: all in one proportion, or the cheapest
//
// WorstCase and RSS are sums of package measure: [measure.Judge] judges their
// interval, and their Reading can stand in another sum. Their Working shows the steps, as
// do those of a Law, a Linear and an Outcome. [TrialsFor] says how many trials to make.
//
// # Exactness
//
// WorstCase is exact; RSS is exact but for its root, which is rounded up to
// the tenth of a nanometre. Everything with a probability in it is float64, and says how
// good it is: a [Computed] number carries its error, proven or estimated, and a quantile of
// a simulation its resolution. Gaps computed in float64 are rounded to the picometre. No
// number that leaves the package is NaN or infinite.
//
// # Sizes that hang together
//
// Contributors are independent unless they name [Source]s that move several of them, or
// [Stack.Correlated] gives their correlations. What each method says of them:
//
//	WorstCase     the same: limits are limits
//	RSS           shared parts are added with their signs; parts that are not known at their worst
//	Law, Shares,  exact for normal sizes, and for sizes of one shape with parts of 1 or -1;
//	Allocate      an error for others, and for parts that are not known
//	Simulate      sizes of any distribution; an error for parts that are not known
//
// # What is left out
//
// All contributors are lengths; an angle enters a stack through its sensitivity, or as the
// size it moves. Off centre are normal distributions, by About, and samples; there is no
// asymmetrical triangle. Correlations are those of a normal copula.
//
// # Errors
//
// A [units.Error] names the contributor or argument that cannot be used, and what to give
// instead; errors.Is finds its kind.
package stack
