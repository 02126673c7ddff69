// Package grading chooses graded parts for an engine: bearing shells from the
// codes stamped on block and crank, and the cheapest way to buy them.
//
// # From codes to shells
//
// A [Row] reads the codes as they are stamped, and says what else they could be:
// an illegible code leaves several possible, and a row can often be read from
// either end. A [Scheme] says which shells belong to which codes; it is data that
// the user brings from the engine's manual. [Scheme.Assign] gives each location
// its [Pair] of shells, each half chosen by its own code, by a matrix of both, or
// by a sum.
//
// # Buying
//
// Shells come in packs. [Buy] finds the purchase that serves the demand with the
// stock on hand, is the cheapest, and among the cheapest leaves fewest parts
// over, and shows the [Proof]. Everything is computed in whole numbers: prices
// are exact decimals of one currency, whichever it is.
//
// # Limits
//
// closefit holds no maker's scheme. Codes can be wrong, worn or stamped for
// another crank: a clearance is known when it has been measured.
package grading
