// Package check recomputes what a spreadsheet claims and says which cells are
// wrong, what would be right, and which known mistake gives the value found.
//
// A map says what stands where. Each of its checks is compiled once, against the
// closefit library; then the sheet's rows stream by, and every row is recomputed
// exactly from its readings and compared with what it claims, to the sheet's own
// rounding. Only for a claim that is wrong is the catalogue of mistakes gone
// through: each mistake recomputes the row as somebody who makes it would, and
// those that give the value found are named, likeliest first. Where a formula is
// known, mistakes that name the cells it names come first. That no known mistake
// explains a value is an answer too.
//
// Memory does not grow with the rows: cells with the same mistake are one Finding
// with its ranges, of which the first few are kept and the rest counted.
package check
