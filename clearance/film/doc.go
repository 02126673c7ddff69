// Package film holds the oil film of a plain journal bearing: how thick it is, what it
// carries, how much oil passes, how warm it gets, by the Reynolds equation.
//
// A clearance limit is only a number until somebody sees the film that it leaves. Too
// narrow, and the oil gets hot and thin; too wide, and pressure and film go. These are the
// questions it answers:
//
//	Solve                  the numbers of a bearing at an eccentricity, without units
//	Bearing.At             the film at an eccentricity
//	Bearing.Carry          the film that carries a load, at a viscosity
//	Bearing.Work           the film that carries a load, at the temperature it comes to
//	Film.Field             the pressure over the film, for drawing
//	WorkingPoint.Doubts    why a result may not hold, with the number that tells
//	Short, Long, FullLong  closed forms beside it; Petroff
//	Oil, Grade             viscosity by temperature, of an oil and of a grade of SAE J300
//	Case.Sweep, Case.Range what follows over clearance: film, flow and pump, temperature, friction
//	Mobility               how fast a journal moves under a load that swings
//	Mechanism.Cycle        the load on a rod's bearing by crank angle
//	Bearing.Orbit          the path of the journal under a cycle of loads, and its thinnest film
//
// # The model
//
// The journal is round, runs parallel in a round and stiff bearing, under a load that stands
// still; the oil is Newtonian and has one viscosity everywhere. The film goes all round. It ends where
// pressure and its slope vanish together (Reynolds; Swift and Stieber), and this end is found as the
// solution of a complementarity problem: p ≥ 0 everywhere, the equation where p > 0, and no
// more oil than arrives where p = 0. It is not the full film with its suction
// cut off. See solver.go for the method.
//
// Angles are counted from the line of the load, on the side that the load presses to, with the
// rotation.
//
// # How good the numbers are
//
// Everything is float64, and results are rounded to nine digits. Two grids are solved, one twice as fine, and
// extrapolated; an Estimate says what that may have left. It is an estimate, and no bound. For L/D
// from 0.25 to 1 and eccentricities to 0.97 the load is within 0.1 % of that on finer grids,
// and the largest pressure within 0.2 %.
//
// The middle of a bearing of L/D = 20 is that of Long within 0.2 %. Its load is less by 2 to 7 %, as the ends
// lack from a fifth to six tenths of a diameter each, and comes to that of Long in proportion to D/L. Short is met
// within 1 % at L/D = 0.05 up to an eccentricity of 0.8, and beyond with the square of L/D.
//
// # What it costs
//
// One solution from nothing, at L/D = 0.5 and an eccentricity of 0.7, on one core of the machine that
// the benchmarks ran on (BenchmarkGrid):
//
//	columns by rows  unknowns  cycles    time  by unknown
//	         64 x 8       512       5  0.3 ms      0.6 µs
//	       128 x 16      2048       5  1.0 ms      0.5 µs
//	       256 x 32      8192       5  3.7 ms      0.5 µs
//	       512 x 64     32768       5   14 ms      0.4 µs
//
// A Sweep takes what its points take, on all processors at once. Work takes 3 ms, with a circumferential groove 6 ms, with pockets some 30 ms, as the journal's place is searched
// for in the plane; the search gives up after 2500 solutions, about a second. An Orbit of 720 steps takes 3 ms with the
// closed form and 5 ms with a map of finite width (BenchmarkOrbit). To a load within 0.1 %, two grids extrapolated take a thirtieth of the time of
// scipy's direct sparse solver (BenchmarkAgainstScipy).
//
// # What is left out
//
// An Orbit leaves out the supply, the masses of journal and oil, and the oil that lacks where the film forms again: each
// moment's film is that of enough oil. It was not checked against a published worked orbit, as none could be read.
// With pockets that outweigh the load many times the search for the journal's place may end without one; the error says so.
//
// Turbulence, starvation, roughness, surfaces that deform, heat that flows through metal, misalignment,
// thinning of the oil by shear and by pressure. Where it can tell, a Doubt says so. Caution belongs under
// every result that is shown.
//
// # Errors
//
// A *units.Error says what cannot be used and what to give instead; errors.Is finds its
// kind. No NaN and no infinity leaves the package.
package film
