// Package sheet reads the cells of a spreadsheet file: a workbook (.xlsx, .xlsm), an
// OpenDocument sheet (.ods) or a text file of separated values (.csv, .tsv, .txt). A cell is
// a claim: a text that somebody stored at a place, with the formula behind it if the file
// says so.
//
// A File is read in two ways. Rows and File.Batches read a sheet row by row, so that memory
// does not grow with the number of rows. File.Load holds the whole file as a Book: every
// sheet's cells with their number formats, merged, hidden and locked cells, array formulas,
// names and tables. An OpenDocument sheet is always held whole.
//
// Formulas read as in their own cell and as workbooks write them, whether the file stores
// them once for many cells or in OpenDocument's way. Text files are in UTF-8, UTF-16 or
// Windows-1252; their separator and decimal mark are found from the text where it shows them,
// and an error of the kind ErrUnclear says what to ask where it does not.
//
// Workbooks are read by encoding/xml, text files by encoding/csv.
//
// Nothing is computed here and the file is never written to. Files are taken to be hostile:
// what is read is bounded by Bounds, and passing a bound is a *BoundError.
package sheet
