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
// that was replaced or loosened begins its stages again. [Read] and [History] look at a
// ledger that another program is using.
//
// # What it promises
//
// A call returns once its line is on the disk: whatever has been acknowledged is there after
// any crash, on a file system that keeps what it says is synced. One program holds a ledger
// at a time, on a file system whose locks work. An empty ledger proves nothing of the bolts.
//
// # Errors
//
// Every error is a [*units.Error] of one of the kinds here. ErrRefused is the kind of
// whatever the plan and the ledger do not allow now, ErrNotInPlan of a step or a bolt that
// there is not; the others tell of the file, and leave it as it was.
//
// # Left out
//
// The ledger records that a step was done, and not the torque or angle that was reached, the
// tool or the person.
package ledger
