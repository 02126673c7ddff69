// Package pattern says what formulas have in common. A pattern is a formula as it reads
// from its own cell: two cells of a column that subtract the cells to their left have one
// pattern, though one formula reads B7 and the other B8.
//
// Resolve replaces names, table columns and the ranges of array formulas by the cells that
// they stand for. Relative writes the pattern, Move carries a formula to another cell, and
// LinearOf takes a sum apart into its terms with exact factors. Nothing is evaluated here.
package pattern
