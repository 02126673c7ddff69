// Package purchase finds the cheapest packs for what is needed, and proves that
// nothing cheaper serves.
//
// An [Order] lists needs, the stock on hand, and the packs on sale. A need may be
// served in several ways, each of some parts and at some distance from what is
// wanted. Packs hold any mix of parts, at a stated price, and may be limited in
// number. [Cheapest] answers with a [Purchase]; [Trades] lists what more money buys.
//
// Nothing is rounded. Prices are decimals of one currency, whichever it is; up to 12
// decimal places and 10¹⁰ common units each, up to 1000 packs on sale and 100 000 of
// a need. An order beyond that is ErrTooLarge. A pack without a price is ErrNoPrice:
// a price of zero is stated as zero.
//
// # How it is found
//
// Packs that cannot be part of the answer are put aside: sold out, of no use, or
// beaten by another one. The rest is split into components that share no part, pack
// or need. A component of few parts and no choice of ways is solved by dynamic
// programming over what is missing. The others are searched by branch and bound, best
// bound first, over numbers of packs and of ways. Packs of the same contents count as
// one there: the cheapest is bought first. What is missing is rounded up to what the
// packs can add, so that even packs serve an odd demand as they do the next even one.
//
// The bound of a case comes from the linear relaxation. Its worths are found by the
// simplex method in floating point, rounded to integers, and then used in integers
// alone: weak duality holds for any worths, so that floating point decides where to
// look and never what is true.
//
// The aims are reached for in turn, each with those before it held: price, distance,
// parts left over, packs, then places in the lists. The price is sought until it is
// proven or the context ends. The others have a bounded effort each, counted in cases
// and not in time; Purchase.Unproven names the first that was given up. The same
// input gives the same answer, unless the context ends. No bound of time holds for
// every order in whole numbers.
//
// # How to check a proof
//
// A [Proof] can be checked by somebody who has the order and knows nothing of the
// search. What has to hold:
//
//   - Every pack on sale is in Refused, or in one component. One that is SoldOut has a
//     limit of 0. One that is Unneeded holds no part that can be short; a part can be
//     short if the needs, each in the way that takes most of it, take more than the
//     stock has. One that is Beaten by another holds no more of any part that can be
//     short, and does not cost less; and the other one has no limit below the number
//     that can be of use: the largest, over its parts, of what can be short divided by
//     what it holds, rounded up. No purchase needs more of a pack than that.
//   - Every part that a need takes and that can be short is in one component, and so are
//     all packs that hold it. Needs of several ways stand in one component, together with
//     all parts that they take and that can be short. So prices of components add up, and
//     Least is the sum of Unit × Least.
//   - Where a component has Cases, its Least is that of the least of them. The
//     outermost case is every purchase: of the packs of each like, from none to the sum
//     of their limits, and of the places of each way, from none to all. A Split divides
//     the range that it names at AtMost. So no purchase is left out.
//   - A [Bound] holds for any worths that are not below zero. Its lines follow from them:
//     Missing is what needs of one way take, less the stock, less what the least number of
//     each like adds; if no other need takes the part, it is rounded up to a multiple of
//     the divisor of what the likes hold whose number is still open. The worth of what a
//     pack can add counts of each part no more than can be lacking: Missing, and what the
//     needs of several ways can take, which is the less of two numbers, the places times
//     the most that one way takes, and the sum over ways of the most places times what the
//     way takes. Dearer is the price less that worth. Bought is the price of the
//     least number of a like, the cheapest first, and for each one that may be bought
//     beyond, its Dearer if that is below zero. Served is the worth of the parts of the
//     cheapest ways, each way at least and at most as often as its range says.
//   - A case that is Short has no purchase: even the most of all packs, or of all ways, is
//     less than what is needed.
//   - Where a component has a Table, each line is the least that the lines before it allow
//     (see [Table]), and Least is the last line.
//
// The tests hold a checker that was written from this list alone; it takes every
// proof, and refuses each in which a figure has been altered.
package purchase
