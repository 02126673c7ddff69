// Package understand reads a spreadsheet as its owner meant it: which cells are locations of
// one table, what each column is, which limits its verdicts compare with, and what every
// formula should read.
//
// What formulas do decides first. Cells of a column whose formulas read alike from their own
// place are a run, and runs side by side are a table with the columns that they read. The
// formula of most lines is taken for the one that is meant, unless another one shows that
// most are dragged: a reference left moving that should be fixed, or fixed that should move.
// A sum that takes walls and a journal from a bore is a bearing's clearance, whatever its
// heading; an IF over comparisons is a verdict, and its limits and words are decoded from
// its cases. Headings in English, German, French and Spanish, with units in them, over them
// or in number formats, name what formulas leave open. A table without formulas, beside
// others, across, or the card of one location, is taken only if most of its numbers agree
// with what its headings say, or if its numbers show by themselves what is taken from what. Averages and extremes that are
// typed behind its lines are claims like the rest.
//
// The units that the sheet says are followed along every formula. What is added, compared
// or given in another unit than the one said is at fault; a unit that nobody said is not.
// Where the sheet says none, a number gets the unit of what it is added to or compared with, so
// that a title, a limit or one heading may name the unit of a whole table. Such a unit is
// shown, and no fault is made of it.
//
// The result is a map for package check, with the reason for each line, the faults that
// formulas show by themselves, a list of what was not understood, and one of the values
// that nobody looked at. Nothing is guessed in silence: a formula alone that nothing explains
// is in that list.
package understand
