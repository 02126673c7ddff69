// Package grading chooses graded parts for an engine and the cheapest way to buy
// them: bearing shells from the codes stamped on block and crank, shells from
// measured sizes, thrust washers from end play, packs of parts from a price list.
//
// # From codes to shells
//
// A [Row] reads the codes as they are stamped, and its [Reading] says what else they
// could be: an illegible code leaves several possible, and a row that reads validly
// from either end, or upside down, stays open until it is said where it begins.
// [Reading.Question] says what to compare at which location.
//
// A [Scheme] says which shells belong to which codes. It is data that the user
// brings from the engine's manual, as a struct, as CSV ([ReadCSV]), or, with the
// package schemefile of the examples, as TOML. [Scheme.Assign] gives each location
// its [Pair] of shells: each half by its own code, by a matrix of both, or by a sum;
// what is open keeps several. [Scheme.InFamily] is the scheme for a crank ground to
// an undersize, on which codes stamped before grinding are void.
//
// A scheme is checked before it is trusted. [Scheme.Validate] finds what it leaves
// out or says twice. [Scheme.Audit] works out, from the sizes behind the codes, the
// clearance that each pair of codes can have, names the cells that can put a
// location outside its limits, and shows what selective assembly gains: the spread
// of the clearance without grades, as typed, and at the best.
//
// # From sizes to shells
//
// [Scheme.Fits] lists, for measured bores and journals, the pairs that are proven
// inside the limits, nearest to the wanted clearance first. [Nearest] takes the
// first of each; [Alike] also keeps neighbouring locations alike. [Scheme.Compare]
// puts the answer of the codes beside that of the sizes, and drops the codes that
// the sizes rule out. [Washers] does the same for end play, where a washer that stays
// fitted leaves the sum. A location that nothing is proven to fit is an error, never a
// guess.
//
// # Buying
//
// [Buy] finds the purchase that serves a demand with the stock on hand, is the
// cheapest, and among the cheapest leaves fewest parts over. [Choose] does both at
// once: among all selections in which every location is proven inside, the one
// that costs least to buy, and then what more money would bring, as a short list.
//
// Every purchase carries its [Proof]: a few cases, each with a worth for the parts
// that are missing, such that no pack gives more worth than it costs. That can be
// checked by hand, and Working prints it so.
//
// # How it is found
//
// The question is a program in whole numbers: how many of each pack, and which
// way each want is served. It is searched by branch and bound, best bound first.
// The bound comes from the linear relaxation, whose worths are found by the simplex
// method in floating point, rounded to integers, and then used in integers alone:
// weak duality holds for any worths, so that floating point decides where to
// look and never what is true. Prices are whole numbers of their largest common
// unit, distances likewise. Each aim is reached for in turn with those before it
// held: price, distance from what is wanted, parts left over, packs, then places in
// the lists. The same input gives the same answer.
//
// Nothing is rounded. Prices are decimals of one currency, whichever it is; up to
// 12 decimal places and 10¹⁰ common units each, up to 1000 packs on sale and
// 100 000 of a part. What lies beyond is ErrTooLarge.
//
// # How it grows
//
// Median and worst of 200 orders at random for Buy (demands up to 20 of a part,
// packs of mixed make-up) and of 50 engines at random for Choose with its list of
// trades (5 µm of measuring uncertainty, every pair of grades allowed), on one core
// of an x86-64 server that other work shared; from BenchmarkBuy and BenchmarkChoose.
//
//	Buy      parts  packs    median    worst
//	             4      6   0.07 ms   0.7 ms
//	            10      6   0.07 ms   0.5 ms
//	            10     12    0.5 ms     5 ms
//	            10     24      5 ms   160 ms
//	            20     12    0.3 ms     2 ms
//	            20     24      8 ms   360 ms
//	  60 locations of twelve engines, 10 parts, 12 packs
//	                         0.6 ms     2 ms
//
//	Choose   mains  grades  packs    median    worst
//	             3       5      8      2 ms     5 ms
//	             5       5      8      7 ms    33 ms
//	             7       3      8      5 ms    18 ms
//	             7       5      8     12 ms    53 ms
//	             7       5     16     59 ms   300 ms
//	             7       7      8     25 ms    87 ms
//	            14       5      8     76 ms   370 ms
//	            60       5      8      4 s       7 s
//
// The last line is of 8 fleets, each main measured for itself (BenchmarkChooseFleet);
// places alike are taken together and cost nothing. On a busy machine the times were
// up to twice as long, the shortest worst cases more. No time bound holds for every
// input in whole numbers: a search reports its progress (see [Order]) and ends with
// its context.
//
// # Limits
//
// closefit holds no maker's scheme. Codes can be worn, misread or stamped for
// another crank, and a shell's wall is what its maker says until it is measured: a
// clearance is known when it has been measured in the assembled bearing. The engine
// maker's manual and licensed practice come first.
package grading
