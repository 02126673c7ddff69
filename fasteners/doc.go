// Package fasteners holds threaded fasteners: what a thread measures, what a bolt
// bears, how a bolted joint shares its load, and whether a used bolt can go back.
//
// A used bolt is judged from readings that are intervals, and the answer has three
// outcomes: [Reusable] when every value the readings allow lies within the limit,
// [Replace] when none does, [Undecided] otherwise. Limits are the user's, out of the
// engine maker's manual; this package holds none.
package fasteners
