// Package isofit holds tolerance classes of the ISO code system for linear sizes: it
// turns "55 H7/g6" into millimetres.
//
// A [ToleranceClass] is a letter and a grade: "H7". With a nominal size it is a [Size],
// which has two limits of size, as far apart as the standard tolerance of the grade; a hole
// and a shaft of one nominal size make a [Designation] of a fit. Its Clearance is a sum of
// package measure, like the fit of a hole and a shaft that were measured, and [KindOf]
// names the kind of fit.
//
//	fit, err := isofit.ParseDesignation("55 H7/g6")
//	fit.Hole().Limits()                        // 55..55.03 mm
//	fit.Clearance().Interval()                 // 0.01..0.059 mm
//	isofit.KindOf(fit.Clearance().Interval())  // clearance fit
//
// A [Design] goes the other way, from a wanted clearance to limits of size.
//
// # Scope
//
// Nominal sizes above 0 up to and including 500 mm; grades IT01, IT0 and IT1 to
// IT18; the letters a b c d e f g h js j k m n p r s t u v x y z za zb zc, small
// for shafts and capital for holes. The intermediate letters cd, ef and fg of
// fine mechanics are left out. A combination of size, letter and grade for which
// the standard gives no value is refused: see [ErrNotGiven].
//
// # Where the numbers come from
//
// ISO 286-1:2010, table 1 (standard tolerances), tables 2 and 3 (fundamental deviations
// of holes) and tables 4 and 5 (of shafts). Some of the values were read in
// reproductions: the rows of testdata/evidence that are marked published. The others are
// from memory; a test computes them again from the formulas of ISO 286-1:1988, annex A,
// and lists the places where the printed tables differ.
//
// # Exactness and errors
//
// Every value is an exact units.Length; nothing is rounded. A symmetrical class (js, JS)
// is exactly half the tolerance on either side: ISO 286-1:1988 allowed the halves of an
// odd tolerance in grades 7 to 11 to be rounded down to whole micrometres (from memory);
// this package keeps them exact.
//
// A [units.Error] quotes the text that is wrong and says what to write instead; errors.Is
// finds its kind. The zero values are no class, no size and no fit: their limits are
// empty, and they cannot be written as text.
package isofit
