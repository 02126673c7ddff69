// Package purchase finds the cheapest packs for what is needed, and proves that
// nothing cheaper serves.
//
// A [Request] lists needs, the stock on hand, and the packs on sale. A [Need] lists the
// alternatives that may serve it: each of some parts, at some distance from the best.
// Packs hold any mix of parts, at a stated price, and may be limited in number.
// [Cheapest] answers with a [Purchase]; [Trades] lists what more money buys.
//
// No price is rounded. Prices are decimals of any one currency; up to 12 decimal places
// and 10¹⁰ common units each, up to 1000 packs on sale and 100 000 of a need. A request
// beyond that is ErrTooLarge.
//
// Distances are exact where the largest has at most 2³⁴ of the largest length that divides
// them all. Sizes that were corrected for their temperatures by different factors share no
// such length. Then distances are compared in steps of the shortest power of ten of a
// millimetre of which the largest has no more, 10 fm where they are hundredths of a
// millimetre, each rounded down; the purchase that is taken can be farther than the nearest
// of its price by less than one step for each place. Distances in an answer are exact.
//
// A pack without a price is an error: state a price of zero as zero. Bad input is a
// *[units.Error] that says what to write instead. Every type survives JSON unchanged, and a
// missing key is an error.
//
// # How it is found
//
// The search puts aside packs that cannot be part of the answer: sold out, of no use, or
// beaten by another one. The rest is split into components that share no part, pack or
// need. A component in which one part decides, and whose needs have one alternative each, is
// solved by dynamic programming over what is missing of it. The others are searched by
// branch and bound, best bound first, over numbers of packs and of places served by each
// alternative. Packs of the same contents count as one there: the cheapest is bought first.
// The shortage is rounded up to an amount that the packs can add, so an odd demand from
// even packs counts as the next even one.
//
// The bound of a case comes from the linear relaxation. Its worths are found by the
// simplex method in floating point, rounded to integers, and then used in integers alone:
// weak duality holds for any worths, so floating point only guides the search, and
// integers prove.
//
// The search has several aims, one after the other, and keeps each one reached: the least
// price, distance, parts left over, number of packs, then places in the lists. It looks
// for the least price until it is proven or the context ends. Each of the others has a
// bounded effort, counted in cases and not in time; Purchase.Unproven names the first
// that it gave up. The same input gives the same answer, unless the context ends. No
// bound of time holds for every order in whole numbers.
//
// # How to check a proof
//
// Anyone with the request can check a [Proof] without knowing the search. These things
// have to hold:
//
//   - A component counts all packs that hold one of its Parts, save those of which none
//     are to be had, and no pack stands in two components. So the prices of components add
//     up, and Least is the sum of Unit × Least.
//   - A choice is all needs of the request that have the same alternatives, at the same
//     distances and in the same order; its N is the sum of theirs. It has two alternatives
//     or more, and no other choice of the component has the same ones.
//   - A line of packs is counted by one number. The most of a part that can be short is
//     what all needs take, each by the alternative that takes most of it, less the stock.
//     The useful number of a pack is that shortage divided by what the pack holds of the
//     part, rounded up, for the part that gives the largest number. A line counts its packs
//     in order, the cheapest first, up to the first one of which the useful number can be
//     had. Those that it counts hold the same of every part; the others hold no more than
//     the last of them and cost no less. The line goes up to the sum of the useful numbers
//     that can be had.
//   - Cases divide the numbers of the lines, and of the places that each alternative serves,
//     at AtMost. The first has every number, from none to all, so that no purchase is left
//     out, and no case is left over. The Least of a component is that of the least of its
//     bounds.
//   - A bound of a [Case] holds for any worths that are not below zero, and its figures
//     follow from them. Missing is what needs of one alternative take, less the stock, less
//     what the least number of each line adds; if no choice takes the part, it is rounded up
//     to a multiple of the divisor of what the lines hold whose number is still open. The
//     worth of what a pack can add counts of each part no more than can be lacking: Missing,
//     and what the choices can take. That is the less of two numbers, the places times the
//     most that one alternative takes, and the sum over alternatives of the most places
//     times what the alternative takes. Dearer is the price less that worth. Bought is the
//     price of the least number of a line, the cheapest first, and for each one that may be
//     bought beyond, its Dearer if that is below zero. Served is the worth of the parts of
//     the cheapest alternatives, each at least and at most as often as its range says.
//   - In a table each price is the least that the prices before it allow (see [Component]),
//     and Least is the last.
//
// A proof with a part missing still proves a price, only a lower one. The tests hold a
// checker that was written from this list alone. A price that it accepts is a true bound,
// even if someone altered the proof.
package purchase
