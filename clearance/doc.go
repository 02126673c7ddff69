// Package clearance holds the fits of an engine: running clearances of bearings, plays,
// ring gaps, deck heights and compression, how they change with temperature, and the
// remedies for a fit outside its limits.
//
// # A fit
//
// A [Fit] is a clearance, a play or a gap: a signed sum of readings ([measure.Sum]), a
// reading of the gap itself, or both. The functions here make the fits of an engine:
//
//	MeasuredBearing.Fit   running clearance   D - t1 - t2 - d
//	BoreFit               pins, tappets, rings in their grooves, any shaft in its bore   D - d
//	PistonFit             a piston, measured at its gauge point   D - d
//	PlayFit               end play, side play of rods   L - w1 - w2 - …
//	DeckFit               the deck over the crown   B - r - l - k
//	DirectFit             a gap read itself, by blades, a strip or a dial
//
// Package measure defines readings, how their doubts add up, and how they are judged; a
// Fit uses its rules. [Bearing] is the running clearance of plain intervals, by worst case;
// Bearing.Undersized is the same with a ground journal, and [BearingStations] judges a
// bearing station by station.
//
// # Beside fits
//
// [Compression] is the compression ratio and its volumes. [SizeRule] gives limits by a
// size, such as so much to the inch of bore; [File] says how much to file off a ring to
// bring its gap inside, and [GapGrowth] how much a worn bore opens it. [RingLayout] plans
// where the gaps stand round the piston and judges where they do. [Crush] is the
// interference of shells in their housing.
//
// # Conditions
//
// A fit has conditions that its readings must state to prove anything: the housing bore
// of a bearing must have been read with its bolts tightened and its shells out, a piston
// at its gauge point. [BoltsTightened], [ShellsOut], [GaugePoint] and others make these
// conditions; Reading.With states them, and Needs of a term asks for more. A condition
// that a reading does not state leaves the fit undecided, and its Problem says which.
//
// # Warmth
//
// A [Body] is a part, an instrument or a master with its coefficient of expansion and
// its temperature. Bodies that share a material or a temperature grow alike, so an
// engine all of one iron, all equally warm, opens by next to nothing. Fit.Warm and
// Fit.Opening work that out; Body.Warmed does it for one size, and Body.AtReference
// corrects a reading to 20 °C by the difference of part, instrument and master. It needs
// all three temperatures, and assumes none.
//
// # What to do about it
//
// Remeasurements, Remedies and Wanted of a Fit say which sizes to read again and how
// likely that is to settle the fit, which parts or machining bring it inside, and which
// sizes would. With is the fit after a change. [Slips] lists the likely meanings of an
// implausible reading.
//
// # Exactness, rounding and errors
//
// Arithmetic is exact, except for uncertainties and chances; see package measure. π is
// taken outward to fifteen places. Bad input is a *[units.Error] that wraps a sentinel of
// this package or of package measure. Nothing panics on data. Every value survives JSON;
// a missing key is an error.
//
// # Left out
//
// closefit holds no maker's limits; the caller brings them. Limits and fits of
// ISO 286 are in package isofit, tolerance stacks in stack. The engine maker's manual
// and licensed practice come first.
package clearance
