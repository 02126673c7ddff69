// Package hardware compares what fasteners cost that are used once with what a set costs
// that may be used again, build by build and year by year.
//
// A [Hardware] is a set with its price, the builds that it serves, and what goes with it: a
// gauge that is bought once, measuring and crack testing at each build. [Compare] sets two of
// them side by side. Prices are plain numbers of one currency, whichever it is, and sums are
// exact.
//
// Price is one reason among others. A bolt that its maker calls single use is replaced whatever
// it costs, and hardware that the engine was not designed for may need bores machined again.
//
// Which packs to buy for one build at the least price is the work of package grading/purchase.
//
// Bad input is a *units.Error of kind [ErrPrice].
package hardware
