// Package sheet reads the cells of a spreadsheet file, row by row: a workbook
// (.xlsx) or a text file of separated values (.csv, .tsv). A cell is a claim: a
// text that somebody stored at a place, with the formula behind it if the file
// says so. Workbooks are read in one pass by encoding/xml, text files by encoding/csv,
// in UTF-8, UTF-16 or Windows-1252. The workbook library writes the copy with comments.
//
// Nothing is computed here and the file is never written to. Files are taken to
// be hostile: what is read is bounded by Bounds, and passing a bound is a
// *BoundError. Rows are read one at a time, so that memory does not grow with
// their number.
package sheet
