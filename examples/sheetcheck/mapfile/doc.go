// Package mapfile reads a map: the file that says what stands where in somebody's
// spreadsheet. It is TOML, written by hand, or by Text from what package understand
// takes a sheet to be, and then corrected by hand.
//
//	title = "winch engine"
//
//	[csv]                       # for .csv and .tsv files alone
//	separator = ";"
//	decimal = ","
//
//	[[table]]
//	name = "mains"
//	sheet = "Mains"             # the first one if left out
//	rows = "5..11"              # one location a row; "5.." is down to the last
//	location = "A"              # what the locations are called
//
//	[table.column.bore]
//	at = "B"
//	unit = "mm"
//	uncertainty = "0.002 mm"    # expanded, k = 2; exact if left out
//	instrument = "bore gauge"   # errors of one instrument hang together
//	nominal = "60.000 mm"
//
//	[table.column.clearance]
//	at = "F"
//	unit = "mm"
//	places = 3                  # the sheet's own rounding
//
//	[[table.check]]
//	claim = "clearance"         # the column that is checked
//	by = "bearing clearance"    # how it is recomputed
//
// A check needs other columns, under names of its own: bearing clearance needs
// bore, upper, lower and journal. Columns so named are found; others are given as
// with = { journal = "crank pin" }. Where locations stand side by side, write
// columns = "C..N" in place of rows, and rows for every at. A column whose at is
// a cell ("H2") has that one cell for every location. The limits of a verdict are written
// with their unit, limits = "0.024..0.048 mm", or as two cells in the unit of what is judged,
// limits = "Limits!B2..B3", or stand in columns least and most.
//
// A claim that no check covers is checked by a formula, as it should read in the
// first line of the table; a claim that stands alone is a [[cell]]:
//
//	[[table.check]]
//	claim = "cost"
//	by = "formula"
//	formula = "E4*H4"
//
//	[[cell]]
//	sheet = "Mains"
//	at = "F15"
//	formula = "AVERAGE(F5:F11)"
//
// Formulas may name cells of other sheets and the workbook's names, so that limits
// can stand anywhere. Lines may have gaps: rows = "5..8, 12..15". The keys role and
// reason say in words what a column is and why; nothing is computed from a reason.
//
// Read reports every mistake with its line.
package mapfile
