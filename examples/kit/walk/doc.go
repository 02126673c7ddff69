// Package walk is a walk through a tightening plan at a terminal: it shows the next pull large enough
// to be read from the engine, with the pattern so far, and takes what happened into the plan's ledger.
// It asks for a line at a time and needs no more of the terminal than that it shows text of 40
// columns.
//
// A pull is made only while the screen says BEGUN, once the ledger has it. Then the screen asks how it
// ended, and of anything but a whole pull what the witness mark on the bolt says. Whoever does not
// know says so, and the safer of what may have happened is recorded. A step that is found begun when
// the walk goes on is asked about before all else.
//
// Where a job stands behind the plan, its [Gate] is asked before a ledger is started and before each
// step: no step is shown that the job does not let begin. Where something is known of the [Bolts],
// what a pull reached is held against it.
package walk
