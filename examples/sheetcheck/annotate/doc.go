// Package annotate writes a copy of a workbook (.xlsx, .xlsm) with what was found in it: the
// cells coloured and commented, and a first sheet with a row and a link for each.
//
// All else stays. Parts that nothing is said about are copied packed, byte for byte: drawings,
// charts, macros, shared texts, tables, links to other files. Parts that must change are not read
// into a model and written anew, because a model keeps only what it knows: the workbook library,
// asked for one comment, loses elements and attributes of the sheet, of its comments and of the
// list of sheets (TestLibraryLoses). Here the tags of a part are found by their place, and text
// is put between them, so that all other bytes are the same.
//
// These parts change: sheets with marks (the style of a marked cell, a cell that was not there
// because it was empty), their comments and the boxes of these, the styles (new ones come after
// the old), the list of sheets (an index of a sheet rises by one, as a sheet comes before), and
// the lists of parts. A cell keeps its comment, and what was found stands after it; a thread
// gets a reply. In cells joined into one, the first is marked.
//
// The first sheet has texts alone, never a formula. A hidden name, sheet.OwnName, says whose it
// is, and the sheet package passes it over.
//
// A conditional format still decides how a cell looks where its condition holds; the comment
// and the first sheet say what a colour says. A signature of the workbook does not hold for the
// copy, and Copy says so.
//
// An error leaves half a copy behind: the caller writes to a place that nobody reads.
package annotate
