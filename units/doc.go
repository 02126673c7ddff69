// Package units holds exact physical quantities: lengths, angles, torques, forces,
// masses, pressures, temperatures, pure numbers and a few more, each a type of its
// own, and closed intervals of them.
//
// A quantity is made by parsing text that has a unit, or from a number and a unit
// constant:
//
//	journal, err := units.ParseLength("47.986 mm")
//	wall := units.Millimetre.Of(decimal.RequireFromString("2.006"))
//	bore := units.MustParseLengthInterval("52 +0.019/0 mm")
//
//	area, err := units.Parse[units.Area]("58 mm²")
//
// Adding a torque to a length does not compile. Quantities are compared with
// Equal, Cmp and Less; the operator == does not compile on them.
//
// # One type for all
//
// Length, Torque and so on are names of Quantity[D], which has the methods of
// Value[D, D]. A Value has two dimensions, its own and that of a difference, because
// of temperature: a Temperature is a point on a scale, and the difference of two is a
// TemperatureDifference. Adding two temperatures does not compile; adding a difference
// to one does. Read Value[D, E] and Value[E, E] as Quantity for everything else, and in
// the same way ClosedInterval as Interval and Scale as Unit.
//
// # Exactness
//
// Sums, differences, products with numbers, conversions and comparisons are
// exact, for every value: 1 in is 25.4 mm, a third of a millimetre times three
// is a millimetre, and 50 psi converted to pascals and back is 50 psi, though a
// psi is no finite decimal of pascals.
//
// Each dimension has a grid, fine enough that common values in its metric and its inch
// units both are whole numbers of grid steps: the picometre for lengths, 1/1290320000 Pa
// for pressures. A value that is a whole number of steps and fits an int64 is held as
// one, with every operation checked for overflow, and costs about as much as an integer.
// Any other value is held as a ratio of big integers (a big.Rat), still counted in steps.
// It is a ratio and not a decimal because a third of a length, a psi in pascals and a
// torr have no end as decimals; so storing a value never rounds it. No result shows which
// of the two holds a value.
//
// Rounding happens in three places only, and each says how: where a quantity is
// printed or turned into a decimal of some unit (In, Rounded, Format, FormatInward,
// FormatOutward, and the conversions Inward and Outward), where a float64 is let in
// (Unit.OfFloat64), and where a square root is taken (RootSumSquare). The factor of
// the radian holds pi, to 50 decimal places: it and the radian per second are the only
// units that are not exact.
//
// A ratio grows with every step that nobody rounds. An operation panics if its result
// needs more than 65,536 bits, near 20,000 digits.
//
// # The empty interval
//
// The zero Interval is empty: nothing was measured, typed or found. It is not 0..0: it
// holds nothing, lies within nothing, and every result computed from it is empty.
// ErrEmpty reports an empty interval where a value is needed.
//
// # Units
//
// These units are read, in these and other usual spellings, and printed so:
//
//	length                  mm, µm, nm, cm, m, in, thou, tenth, µin, ft, yd
//	angle                   °, turn, rad, ′, ″, gon
//	torque                  N·m, lbf·ft, lbf·in, ozf·in, kgf·m, kgf·cm, gf·cm, N·cm, N·mm, cN·m, kN·m
//	force                   N, kN, MN, lbf, kip, ozf, kgf, gf, US tonf, dyn
//	pressure                kPa, Pa, MPa, GPa, bar, mbar, psi, ksi, Mpsi, psf, kgf/cm², kgf/mm², atm, Torr, inHg, inH2O, mmHg
//	temperature             °C, K, °F
//	temperature difference  K, °C, °F
//	rotational speed        r/min, r/s, °/s, rad/s
//	dynamic viscosity       mPa·s, Pa·s, P, cP, reyn, µreyn
//	area                    mm², cm², m², in²
//	volume                  cm³, mm³, L, m³, in³
//	stiffness               N/mm, N/m, kN/mm, lbf/in
//	mass                    g, kg, lb, oz
//	volume flow             L/min, mm³/s, cm³/s, m³/s, in³/s, US gal/min
//	power                   W, kW, hp
//	kinematic viscosity     mm²/s, m²/s, St, cSt
//	density                 kg/m³, g/cm³
//	pure number             a number alone, %, ppm
//
// The units that programs name in code are constants. Parse finds any of them by
// its symbol, Units lists them, and Factor and Source tell its size and where that
// comes from.
//
// # What text may look like
//
// A number has a sign if needed, decimal digits with a point, and an exponent if needed:
// 60.012, .5, -1.2e-3. Inches and feet may be a fraction or a mixed number with a power
// of two to 128 below the line: 3/8, 1 3/64, 1-3/64. Turns may be a fraction below 1:
// 1/4. Other units take no fractions, because people also write the bounds of a range
// with a stroke: write 20..25 N·m. Every unit takes an exact ratio in parentheses: (1/3)
// mm. A unit must follow, after a space or at once. Units of torque are read in the ways
// people write them: N·m, Nm, N-m, N m; lbf·ft, ft-lb, lb-ft; kgf·m, kgm. Capitals count:
// mm and Mm are not the same unit.
//
// A pure number (a Ratio) stands alone, 0.12, or has % or ppm behind it. A fraction
// of it is read in lowest terms: 1/2, 4/3. The uncertainty of an interval is written
// like its value, 0.14 ±0.02 or 14 % ±2 %: 0.14 ±10 % may mean ten percent of the 0.14,
// and is refused.
//
// An interval is written in one of these forms, in which a bound or a deviation
// without a unit has that of the end:
//
//	0.024..0.048 mm       from, to
//	60 +0.019/0 mm        a nominal value with its upper and lower deviation, in this order
//	2.5 ±0.002 mm         a value and its uncertainty; +/- is read too
//	<= 0.02 mm            an upper bound alone; ≤ is read too
//	>= 50 psi             a lower bound alone
//	2.5 mm                one value
//
// Text that could mean two things is refused, with a *Error that quotes it,
// points at the place and says what to write: a decimal comma, a letter O among the
// digits, a length where a torque is wanted, pounds where a force is wanted, a
// number without a unit, a range with a hyphen. Its advice is the text that was
// meant; where that is not clear, it asks for both bounds in full. Text of more than
// 512 bytes and exponents beyond ±99 are refused before any number is built, so that
// a hostile text costs no more than a friendly one. Only the exchange forms below
// may be longer, for a value of many digits.
//
// # What is printed
//
// String is for reading and marks what it rounds with ≈. Exact keeps every digit, and
// reading it back gives the same value again; it is what the text and JSON forms hold,
// whatever the value. To send fewer digits, round first and send the bounds of the
// rounding: Exactly(q).Outward. Format prints a quantity to a number of places in a unit,
// with the rounding given. An interval is printed by FormatInward if it is a tolerance,
// which must not grow, and by FormatOutward if it is a reading, which must not shrink.
//
// Read back from JSON, a number without a unit is refused, and a Ratio is text too,
// since a JSON number need not stay exact. The empty interval is null, and null is
// the empty interval. A Quantity has no empty value: null is an error, and a field
// that may be missing is a pointer. A database keeps the text of MarshalText, in which
// the empty interval is "none", and UnmarshalText reads it back. Package slog writes
// these forms by itself.
//
// Package json skips a field whose key is missing, and a plain Quantity silently stays
// zero. DecodeObject reads a type's JSON so that a key that is missing, unknown or there
// twice is an error.
//
// # What is left out
//
// Quantities of different dimensions are never multiplied or divided here;
// packages that need a force from a torque say so with their formula. There is no
// energy or power, and no tracking of significant digits: 2.50 mm is
// 2.5 mm.
package units
