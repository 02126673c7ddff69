// Package record shows what a job's assessment found: as text for a terminal and
// the bench wall, as an HTML page to print, as JSON for other programs. Nothing
// is computed here.
package record
