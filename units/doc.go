// Package units holds exact physical quantities: lengths, angles, torques,
// forces, pressures, temperatures and a few more, each a type of its own, and
// closed intervals of them.
//
// A quantity is made by parsing text that has a unit, or from a decimal and a
// unit constant:
//
//	journal, err := units.ParseLength("47.986 mm")
//	wall := units.Millimetre.Of(decimal.RequireFromString("2.006"))
//	bore := units.MustParseLengthInterval("52 +0.019/0 mm")
//
// # Exactness
//
// Sums, differences, products with numbers, conversions and comparisons are
// exact, for every value: 1 in is 25.4 mm, a third of a millimetre times three
// is a millimetre, and 50 psi converted to pascals and back is 50 psi, though a
// psi is no finite decimal of pascals. Values that are a whole number of
// picometres (for lengths; each dimension has such a grid) and fit a machine
// integer are held so, and cost about as much as integers. All others are held
// as a ratio of big integers. Which of the two holds a value cannot be seen in
// any result.
//
// Rounding happens in two places only, and both say how: where a quantity is
// printed or turned into a decimal of some unit (In, Rounded, Format), and where
// a float64 is let in (Unit.OfFloat64). The radian, whose factor holds pi, is
// the one kind of unit that is not exact; see Unit.Exact.
//
// # What text may look like
//
// A number has a sign if needed, decimal digits with a point, and an exponent if
// needed: 60.012, .5, -1.2e-3. It may be a fraction or a mixed number: 3/8,
// 1 3/64, 1-3/64. A unit must follow, after a space or at once. Units of torque
// are read in the ways people write them: N·m, Nm, N-m, N m; lbf·ft, ft-lb,
// lb-ft. Capitals count: mm and Mm are not the same unit.
//
// Text that could mean two things is refused, with an error that quotes it,
// points at the place and says what to write: a decimal comma, a letter O among
// the digits, a length where a torque is wanted, pounds where a force is wanted,
// a number without a unit. Text of more than 512 bytes and exponents beyond ±99
// are refused before any number is built.
//
// # What is left out
//
// Quantities of different dimensions are never multiplied or divided here;
// packages that need a force from a torque say so with their formula.
package units
