// Package ledger holds the record of a tightening plan being carried out: a file to which a
// line is added when a step is begun and when it is done, so that no interruption leaves
// anyone guessing whether a bolt has had its turn.
//
//	home := ledger.Home{Path: "short-block.ledger", Witness: folder} // see WitnessFolder
//	work := ledger.Work{Engine: "lock gate engine 4711", Build: "rebuild of autumn"}
//	l, err := ledger.Start(home, work, plan, []string{}) // once; ledger.Open from then on
//	step, ok := l.Next()
//	err = l.Begin(step.Number) // pull only once this has returned nil
//	err = l.Done(step.Number, ledger.Reached{})
//
// A step that is begun stays begun, across programs, until somebody says how it ended: done, or
// with a [Mishap]. Until then no other step begins. PEOPLE.md beside this file lists what
// each mishap leads to. A wait is done when its time is over, or is recorded as skipped. A bolt
// that was replaced or loosened begins its stages again. A corrected plan is laid against
// what is done by [Ledger.Revise].
//
// # Two files
//
// A ledger belongs to a [Work] and not to a name: one engine, one build, one assembly of it. A
// witness, which is a copy of the ledger in a folder of its own, shows how far the
// ledger had got. The witness may lack the one record that was being written; anything
// else is the kind [ErrUnsure]: the ledger no longer knows which bolts were turned. The
// error names the bolts that may have been. Look at their witness marks; then [TakeOver] goes on
// with what is there, on somebody's word, and records it.
//
// A file that is not there is never a new ledger: [Start] makes one, and has to be told which
// bolts have been turned already. [Read] and [Find] write nothing and lock nothing.
//
// # What it promises
//
// A call that records something returns nil once its line is on the disk in both files, and
// both are what this program left: each path still leads to the file that is open, which has the
// length and the last line that it should have. So nothing that was acknowledged is
// lost or offered again without an error or a word in Said:
//
//   - A program that is killed, a crash and a power cut lose nothing, at whatever moment. The
//     ledger opens again as it was, and what was torn is set aside.
//   - A call that fails leaves its own record in question and no other. The ledger then refuses
//     everything until it is opened again.
//   - A file that is emptied, zeroed, cut, edited, put back, replaced, renamed or removed is found
//     out: at the next call where its length, its last line or its name has changed, and when it
//     is opened in any case.
//   - Two programs whose locks do not work find each other out before either is told that its
//     record is there. The line that came second is set aside.
//
// # What it cannot know
//
//   - Ledger and witness put back together, as a whole disk or a virtual machine is: they agree,
//     and are both too old. A program that has them open notices at its next call.
//   - On another machine, or as another user, there is no witness. That is ErrUnsure, and not a
//     new beginning.
//   - The disk has to keep what it reports as synced, and one program has to see what
//     another has written: a network folder that does neither, and does not lock, keeps nothing
//     safe. Two machines on one folder each have a witness of their own, so that the second is
//     told that it has none.
//   - A byte altered in the middle of a file that is open is noticed when it is next opened.
//   - Checksums find accidents. Somebody who edits both files and their checksums is not found
//     out.
//   - It is told what was done. It does not see the bolt.
//
// # Errors
//
// Every error is a [*units.Error] of one of the kinds here, or wraps one. ErrRefused means that the
// plan and the ledger, or what was said, do not allow the call; ErrNotInPlan that the plan has no such step or
// bolt. The others report the state of the files, and leave them as they were, but for what was
// being written when the system reported ErrStorage.
package ledger
