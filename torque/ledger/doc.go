// Package ledger holds the record of a tightening plan being carried out: a file to which a
// line is added when a step is begun and when it is done, so that no interruption leaves
// anyone guessing whether a bolt has had its turn.
//
//	l, err := ledger.Open("short-block.ledger", plan)
//	step, ok := l.Next()
//	err = l.Begin(step.Number) // on the disk before the wrench moves
//	err = l.Done(step.Number)
//
// A turn that was begun and not finished leaves its bolt in doubt; [Ledger.Trouble] says so,
// and what to do. A wait is done when its time is over, or is recorded as skipped. A bolt
// that was replaced or loosened begins its stages again. [Read] looks at a ledger
// that another program is using.
//
// # What it promises
//
// A call returns once its line is on the disk, so that a crash loses no step that was
// acknowledged. The file system must keep what it reports as synced. One program holds a
// ledger at a time; the file system's locks must work. An empty ledger proves nothing about
// the bolts.
//
// # Errors
//
// Every error is a [*units.Error] of one of the kinds here. ErrRefused means that the plan
// and the ledger do not allow the step now, ErrNotInPlan that the plan has no such step or
// bolt. The others report a fault of the file, and leave the file as it was.
//
// # Left out
//
// The ledger records that a step was done. It does not record the torque or the angle that
// was reached, the tool or the person.
package ledger
