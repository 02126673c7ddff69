// Package walk is a walk through a tightening plan at a terminal: it shows the next
// pull large enough to be read from the engine, with the pattern so far, and takes
// what was done into the plan's ledger. It asks for a line at a time and needs no
// more of the terminal than that it shows text.
//
// Where a job stands behind the plan, its [Gate] is asked before each step: no step is shown
// that the job does not let begin.
package walk
