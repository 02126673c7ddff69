// Package grading chooses graded parts for an engine and the cheapest way to buy
// them: bearing shells from the codes stamped on block and crank, shells from
// measured sizes, thrust washers from end play, packs of parts from a price list.
//
// # From codes to shells
//
// A [Row] reads the codes as they are stamped, and its [RowReading] lists the other
// possible readings: an illegible code leaves several, and a row that reads validly from
// either end, or upside down, stays open until you say where it begins.
// [RowReading.Question] says what to compare at which location.
//
// A [Scheme] says which shells belong to which codes. The user brings it from the
// engine's manual, as a struct, as CSV ([ReadCSV]), or, with the package schemefile of
// the examples, as TOML. [Scheme.Assign] gives each location its [Pair] of shells: each
// half by its own code, or both by a matrix or by sums; an open code keeps several pairs.
// [Scheme.InFamily] is the scheme for a crank ground to an undersize, on which codes
// stamped before grinding are void.
//
// Check a scheme before you trust it. [Scheme.Validate] finds gaps and repeats.
// [Scheme.Audit] works out, from the sizes behind the codes, the clearance that each pair
// of codes can have, names the cells that can put a location outside its limits, and
// shows what selective assembly gains: the spread of the clearance without grades, as
// typed, and at the best.
//
// # From sizes to shells
//
// [Scheme.Fits] lists, for measured bores and journals, the pairs that are proven inside
// the limits, nearest to the wanted clearance first. [Alike] also keeps neighbouring
// locations alike. [Scheme.Compare] puts the answer of the codes beside that of the
// sizes, and drops the codes that the sizes rule out. Thrust washers are a scheme without
// codes, and their [Site] is an end play or the room for one; a washer that stays fitted
// leaves the sum. A location without a proven pair is an error, never a guess.
//
// # Buying
//
// [Demand] counts the parts, [Needs] adds their substitutes, [Scheme.CheckParts] finds a
// misspelt grade among those on sale, and package purchase finds the cheapest packs, with
// a proof that a third person can check. [Choose] selects and buys at once: among all
// selections in which every location is proven inside, it takes the one that costs least
// to buy, and then lists what more money would buy. If the context ends first, the answer
// is the best one found, and the Gap of its purchase is the most that it can exceed the
// cheapest by.
//
// # Errors
//
// Bad input is a *[units.Error] of one of the kinds here, or of package purchase. It says
// where the fault is, what was found, and what to write instead. Nothing panics on data.
// Every type survives JSON unchanged: a missing key is an error, and null means none.
//
// # How it grows
//
// Median and worst of 200 orders at random for purchase.Cheapest (demands up to 20 of a part,
// packs of mixed contents) and of 50 engines at random for Choose with its list of
// trades (5 µm of measuring uncertainty, every pair of grades allowed); from
// BenchmarkBuy and BenchmarkChoose, on one core of an x86-64 server that other work
// shared.
//
//	Cheapest parts  packs    median    worst
//	             4      6   0.08 ms   0.8 ms
//	            10      6   0.07 ms   0.6 ms
//	            10     12    0.5 ms     7 ms
//	            10     24      6 ms   190 ms
//	            20     12    0.3 ms     3 ms
//	            20     24      8 ms   120 ms
//
//	Choose   mains  grades  packs    median    worst
//	             3       5      8      4 ms    14 ms
//	             5       5      8     11 ms    40 ms
//	             7       3      8      6 ms    19 ms
//	             7       5      8     11 ms    37 ms
//	             7       5     16     32 ms   130 ms
//	             7       7      8     22 ms    77 ms
//	            14       5      8     30 ms    95 ms
//	            60       5      8    230 ms   420 ms
//
// The last line is of 8 fleets, each main measured for itself in whole micrometres, so
// that some places are alike (BenchmarkChooseFleet). If no two are alike, the plan takes
// 140 ms (310 ms), its twelve trades 1.3 s more, and the first answer with its gap 11 ms
// (BenchmarkChoices of package purchase).
//
// Orders in which each grade has its own packs take well under a millisecond, and an
// order for a hundred thousand of one part takes some milliseconds (BenchmarkHardOrders
// of package purchase).
//
// # Limits
//
// closefit holds no maker's scheme. Codes can be worn, misread or stamped for
// another crank, and a shell's wall is known only from its maker until it is measured. A
// clearance is known once it has been measured in the assembled bearing. The engine
// maker's manual and licensed practice come first.
package grading
