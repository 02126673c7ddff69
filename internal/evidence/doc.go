// Package evidence runs a library's numbers against numbers from outside it.
//
// A piece of evidence is one row of a CSV file under a package's
// testdata/evidence: what goes in, the value that a named source prints, how
// closely the two must agree, and where the value was found. It goes this way:
//
//   - [Load] reads a file into rows, and refuses one that does not say its source
//     and its provenance (load.go, row.go).
//   - A [Check] puts a row's inputs through the library and returns a [Result]. The
//     checks stand in the file of their package, clearance.go for clearance, and
//     [Packages] is the one table that registers them.
//   - [Evaluate] compares each result with what its row wants, and [Run] reports
//     each row as a subtest (run.go, tolerance.go).
//   - Each row gets its [Standing]: whether it is an independent fact, or derived, a
//     repeat, looked up or handed back (facts.go).
//   - [Markdown] writes what was found into EVIDENCE.md, and [Stale] reports a file
//     that lags behind (markdown.go).
//
// The columns, in this order and all present:
//
//	id          unique in its package; letters, digits and . + _ -
//	check       the name under which the Check is registered
//	inputs      key=value; key=value
//	want        the number as the source prints it, or a text
//	unit        the unit of want; empty for a bare number or a text
//	tolerance   0 for exact; an absolute decimal; places; or a percent such as 1%
//	source      the document and its edition; after a semicolon the place in it; last
//	            "read in" and the work that it was read in, where that is not a print
//	provenance  one of the values of Provenance
//	note        anything a reader should know; may be empty
//
// With the tolerance "places" the computed value must lie within half a unit of
// the last printed place of want, whichever way the source rounds a half. A want
// that is a text is compared letter for letter and has the tolerance 0.
//
// A file whose name contains "misprints" holds values that are known to be
// printed wrongly: each of its rows must disagree with what is computed, and
// EVIDENCE.md lists them apart.
//
// Nothing can hide: an input that its check does not read, a unit that it does not
// look at, a row whose check nobody registered and a check that no row uses are all
// failures. Only tests import this package.
package evidence
