// Package report shows what checking a spreadsheet found: as text for a terminal,
// as JSON, as a page, and as the answer that a copy of the workbook bears. Nothing
// is computed here.
//
// What comes out of a sheet is foreign text. It is shown in quotation marks, so
// that no program that the report is pasted into takes a cell that begins with
// "=" for a formula, and without characters that a terminal would obey; the page
// escapes it.
package report
