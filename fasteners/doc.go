// Package fasteners holds threaded fasteners: the sizes of a thread, the load that a bolt
// bears, how a bolted joint shares its load, and whether a used bolt can go back.
//
// # Threads
//
// A [Thread] is ISO metric or unified inch, read by [ParseThread] from "M10", "M10x1.25" or
// "3/8-24 UNF". Its dimensions are those of the basic profile, exact with the digits of
// ISO 68-1; [Thread.Limits] are the limits of size of the classes 6g, 6H, 2A and 2B, as the
// standards' tables print them.
//
// # Where the tables end and the formulas begin
//
// Both standards have formulas for their tolerances and print tables that depart from them,
// by smoothing or by one last digit. Where a table prints a value, that value holds; the
// formulas serve between and beyond its rows, and [Limits] says which by its field Tabulated.
//
//	M, pitch of ISO 261, in a range of diameters that ISO 965-1 lists   its tables 1 and 3 to 6
//	M, other pitches from 0.2 to 8 mm, or listed ones in other ranges   formulas of its clause 13
//	6H with a pitch of 0.2 or 0.25 mm                                   the same formulas: no grade 6 is printed
//	2A of UNC, UNF, UNEF and UN up to 4 in                              ASME B1.1, table 2
//	2B of UNC and UNF up to 4 in                                        ASME B1.1, table 2
//	all other unified threads                                           formulas of its 5.8
//
// All rows of table 2 up to 4 in were read for class 2A, in a reproduction; for 2B those
// of the coarse and the fine series and some twenty more. A few more rows, of specials
// and above 4 in, are as printed. In a row that was not read, a pitch diameter may lie
// 0.0001 in from the print.
//
// A size and pitch outside every series is UNS, with the tolerances of an engagement over
// nine pitches.
//
// # Strength and joint
//
// [StrengthOf] gives the least values that the standard promises for a bolt of a class
// and a thread. A [Joint] is the bolt and the clamped parts as two springs: the bolt's
// comes from its drawing, a [BoltShape], or from its segments, by [BoltStiffness]; that
// of the parts from cones of pressure, [ClampedParts]. Under an outer load it is a
// [LoadedJoint], and a verdict of package measure says whether it still clamps.
// Stiffness, and the lead angle in a thread's working, are computed in float64.
// Everything else is exact.
//
// A missing load, modulus, temperature, kind of head or thread is an error; it never
// stands for zero, steel or a default.
//
// # Used bolts
//
// [Stretch] and [NeckDown] are sums of readings (package measure): an error that one
// micrometer makes in both readings cancels, or counts at its worst if it is unknown how
// much they share. measure.Assess judges a size against its limits and says what would
// settle it. [Inspect] takes such sizes and the answers of someone who looked at the
// bolt, and says whether the bolt can go back: [Reusable], [Replace] or [Undecided]. A
// bolt that nobody looked at is undecided, and so is a bolt with a size not measured or
// without limits.
//
// The user brings the limits, from the engine maker's manual; this package holds none. A
// bolt that was tightened past yield is scrap whatever it measures.
//
// # Exchange form
//
// Values are written as JSON and come back unchanged: threads by their designation, choices as
// words, quantities with their units. A missing or unknown key is an error, and so is a
// [Strength], a [Limits] or a [LoadedJoint] whose values are not those of its standard or of its
// loads. A thread or a choice that nobody set cannot be written; a joint without stiffness is
// not read.
//
// # Errors
//
// Bad input is a *units.Error of kind [ErrImpossible] or, in the exchange form,
// units.ErrNotWritten. It says what to write instead.
//
// # What is left out
//
// Other profiles (trapezoidal, pipe, UNJ, MJ), other tolerance classes than 6g, 6H, 2A
// and 2B, plating allowances, fatigue, eccentric loads, gaskets, and the cost of
// fasteners. Package preload works out how friction turns torque into preload.
package fasteners
