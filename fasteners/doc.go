// Package fasteners holds threaded fasteners: what a thread measures, what a bolt
// bears, how a bolted joint shares its load, and whether a used bolt can go back.
//
// # Threads
//
// A [Thread] is ISO metric or unified inch, read by [ParseThread] from "M10", "M10x1.25" or
// "3/8-24 UNF". Its dimensions are those of the basic profile, exact with the digits of
// ISO 68-1; [Thread.Limits] are the limits of size of the classes 6g, 6H, 2A and 2B,
// rounded where the standards round, so that they agree with the printed tables.
//
// # Strength and joint
//
// [ISO898] and [SAEJ429] say what a property class or grade promises. A [Joint] is the bolt
// and the clamped parts as two springs, whose stiffnesses come from a bolt's segments, from
// [Frusta] of pressure or from VDI 2230's [DeformationCone]. Stiffness is the one thing here
// that works in float64; each such function says so and how it rounds. All else is exact.
//
// # Used bolts
//
// A used bolt is judged from readings that are intervals, and the answer has three
// outcomes: [Reusable] when every value the readings allow lies within the limit,
// [Replace] when none does, [Undecided] otherwise. [CheckStretch], [CheckNeck] and their
// like compare readings with a limit; [JudgeCondition] takes the answers of someone who
// looked; [Together] joins them. Limits are the user's, out of the engine maker's manual;
// this package holds none. A bolt that was tightened past yield is scrap whatever it
// measures.
//
// # Errors
//
// What cannot be is an error that says what to write instead, of the kinds [ErrThread],
// [ErrClass], [ErrJoint], [ErrReading], [ErrQuestion] and [ErrPrice].
//
// # What is left out
//
// Other profiles (trapezoidal, pipe, UNJ, MJ), other tolerance classes than those four,
// plating allowances, fatigue, eccentric loads, gaskets, and how friction turns torque into
// preload, which is the work of package torque.
package fasteners
