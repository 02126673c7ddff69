// Package calc reads the formulas of spreadsheets and evaluates them twice: exactly,
// and in binary64 as office programs do. A formula is a tree, made by Parse from
// either of the two syntaxes in which files store it. An Evaluator computes cells of a
// Book, each once, with all that they stand on: other cells and sheets, names, tables.
//
// # Two values
//
// The exact value is what the formula says: decimals as they were typed, ratios
// without rounding. A root or a sine has none; then the value is an enclosure, two
// binary64 between which it lies, or an estimate, where the bounds of a function of
// package math are not proven. The binary value is binary64 with the operations in the
// order in which they are written and SUM from left to right. Each of the two goes its
// own way: where a comparison hangs on the last bit, IF may take one branch in the one
// and the other in the other, and that is worth a finding.
//
// Office programs add rules of their own that no standard has: some take two numbers
// for equal, or a difference for zero, if about 15 digits agree. None is imitated, save
// that ROUND and its like round the 15 digits that a program shows. The tests list where an office
// program's values differ, one by one.
//
// # What is not known
//
// A value is unknown, and says why, where a formula does what is not evaluated: a
// function that is not known here, INDIRECT, another file, a look-up in a list that is
// not sorted, a formula that stands on itself, a text that is a number in one country
// alone. It stays unknown through IFERROR: it is no error of the sheet. Nothing is
// guessed, and no stored value is taken in its place.
//
// # Bounds
//
// Formulas are bounded in length and depth, lists in size, ratios in bits, and the
// cells that are looked at in number. Cells that stand on one another are followed by
// a list and not by recursion, so that a chain of a million is evaluated. A sum that
// starts where another one did goes on from it, and a column that is looked up twice
// gets a hash table.
//
// # Measured
//
// BenchmarkRecalculate loads a workbook of 10⁵ rows of 10 columns and evaluates its 3·10⁵
// formulas, beside the workbook library's own streaming read of the same file in the same run.
// BENCHMARKS.md says how long the whole program takes for such a workbook.
//
// # Sources
//
// Of ISO/IEC 29500-1 only part 18.17 is cited, and from memory; of OpenFormula, OASIS
// OpenDocument 1.3 part 4, sections are cited where they were read.
//
// Own code reads the formulas, because trees are wanted with places and with numbers
// as they were typed, in both syntaxes; the tokens of the workbook library's reader
// know neither OpenFormula nor where they stand.
package calc
