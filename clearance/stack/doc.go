// Package stack holds tolerance stacks: a gap that is a sum of sizes, each with its
// limits, and what that says about the gap.
//
// A Stack is made of Contributors. Each has a sensitivity (+1 if it opens the gap,
// -1 if it closes it), limits, and a Distribution of its sizes within them. From it
// come, in rising order of what must be believed:
//
//	WorstCase     every gap that the limits allow, exactly; no distribution needed
//	RSS           root-sum-square, plain or inflated
//	Law           the true distribution of the gap: probabilities down to 1e-12 and
//	              beyond, quantiles, Capability (Cp, Cpk, parts per million)
//	Simulate      Monte Carlo of the gap, and SimulateFunc of any function of the sizes
//	Shares        what each contributor has of the whole
//	Proportional  and LeastCost: how tight the tolerances must be for a wanted yield
//
// # Exactness
//
// WorstCase, Nominal and Middle are exact; RSS is exact but for its root, which is
// rounded up to the picometre. Everything with a probability in it is float64, and says
// how good it is: a Probability carries its error and whether that is a proven
// bound or an estimate, a quantile of a simulation its resolution. Gaps that come out of
// float64 are rounded to the picometre. No number that leaves the package is NaN or
// infinite but a Range.
//
// # What is left out
//
// Contributors are independent of each other. All are lengths; an angle enters a
// stack through its sensitivity, or as the size it moves.
//
// # Errors
//
// A *ContributorError says which contributor cannot be used, an *Error what else
// cannot; both name what to give instead, and errors.Is finds their kind.
package stack
