package film

import (
	"fmt"
	"math"
)

// A Mobility gives the velocity of a journal's centre under a load, for a film that is squeezed alone:
//
//	dε/dt = (P/µ) (c/R)² M
//
// ε is the eccentricity in units of c, with components along the load and a quarter turn on
// from it, with the rotation; P = F/(LD) the load by area, µ the viscosity. M has no units and depends on ε and on L/D. Rotation
// enters afterwards: the frame in which the film is only squeezed turns at the mean of the
// angular velocities of journal and shell. The zero Mobility moves nothing.
//
// Source: Booker, J. F.: Dynamically Loaded Journal Bearings: Mobility Method of Solution. J. Basic
// Eng. 87 (1965), 537-546.
type Mobility struct {
	// Estimate is how far M may lie from that of an endlessly fine grid, relative: an estimate, and no bound. It is
	// zero for the closed form, which is another film.
	Estimate float64

	ratio float64
	table *mobilityTable // nil for the closed form
}

// ShortMobility returns the closed form of the short bearing. The error is of kind ErrBearing.
func ShortMobility(ratio float64) (Mobility, error) {
	if !(ratio >= leastRatio && ratio <= mostRatio) {
		return Mobility{}, wrong(ErrBearing, "width over diameter", fmt.Sprint(ratio), "write a ratio from 0.02 to 20")
	}
	return Mobility{ratio: ratio}, nil
}

// NewMobility returns the mobility of a bearing of finite width, L/D from 0.02 to 3, without a groove: 550 solutions of
// its film, between which it runs smoothly. It takes 0.2 s on an idle core (BenchmarkNewMobility); one Mobility serves any
// number of orbits at a time. For L/D from 0.4 to 1, M lies within 2 % of the solver's up to an eccentricity
// of 0.987. The error is of kind ErrBearing.
func NewMobility(ratio float64) (Mobility, error) {
	if !(ratio >= leastRatio && ratio <= mostGrooved) {
		return Mobility{}, wrong(ErrBearing, "width over diameter", fmt.Sprint(ratio), "write a ratio from 0.02 to 3")
	}
	m := Mobility{ratio: ratio, table: &mobilityTable{}}
	q := newSqueezer(ratio, squeezeColumns)
	for i := range gapNodes {
		e := max(1e-3, 1-math.Pow(1-mostEccentricity, float64(i)/(gapNodes-1)))
		var places, sizes, turns [angleNodes]float64
		for k := range angleNodes {
			alpha := math.Pi * float64(k) / (angleNodes - 1)
			size, beta, off, err := q.at(e, alpha)
			if err != nil {
				return Mobility{}, err
			}
			if k == 0 || k == angleNodes-1 {
				beta = alpha // by symmetry
			}
			m.Estimate = max(m.Estimate, off)
			along, across := shortMobility(ratio, e*math.Cos(beta), -e*math.Sin(beta))
			places[k] = beta + math.Atan2(across, along)
			sizes[k] = math.Log(size / math.Hypot(along, across))
			turns[k] = alpha - places[k]
		}
		for k := 1; k < angleNodes; k++ {
			if !(places[k] > places[k-1]) {
				return Mobility{}, wrong(ErrNoFilm, "film", fmt.Sprintf("directions that do not rise at an eccentricity ratio of %.6g", e), "give sizes within the ordinary")
			}
		}
		size, turn := newAkima(places[:], sizes[:]), newAkima(places[:], turns[:])
		for k := range angleNodes {
			at := math.Pi * float64(k) / (angleNodes - 1)
			m.table.size[i][k], m.table.turn[i][k] = size.at(at), turn.at(at)
		}
	}
	return m, nil
}

// The nodes of a map: of eccentricities, evenly spread in the logarithm of the gap that is left, and of directions.
const (
	gapNodes       = 22
	angleNodes     = 25
	squeezeColumns = 64
)

// A mobilityTable says by how much a bearing of finite width differs from the short one, which is a smooth and slowly
// varying thing: the logarithm of the ratio of sizes, and the angle between the directions. Its rows are gaps, its columns the
// direction of the short bearing's M from the displacement, from 0 to π.
type mobilityTable struct {
	size, turn [gapNodes][angleNodes]float64
}

// At returns M along the load, and across it a quarter turn on with the rotation, at an eccentricity with such components. Outside
// of what the grid carries, an eccentricity of 0.995, the closed form's fall towards the wall goes on, and at the
// wall M along the displacement is zero.
func (m Mobility) At(x, y float64) (along, across float64) {
	if m.ratio == 0 {
		return 0, 0
	}
	along, across = shortMobility(m.ratio, x, y)
	if m.table == nil {
		return along, across
	}
	e := math.Hypot(x, y)
	size := math.Hypot(along, across)
	if size == 0 {
		return along, across
	}
	// From the displacement the load stands at -atan2(y, x), and M from the load at its own angle.
	displaced := math.Atan2(y, x)
	direction := math.Remainder(math.Atan2(across, along)-displaced, 2*math.Pi)
	if e < 1e-9 {
		direction = 0
	}
	side := 1.0
	if direction < 0 {
		side, direction = -1, -direction
	}
	gap := math.Log(max(1-e, 1-mostEccentricity)) / math.Log(1-mostEccentricity)
	longer, turn := m.table.at(gap*(gapNodes-1), direction/math.Pi*(angleNodes-1))
	sin, cos := math.Sincos(displaced + side*(direction+turn))
	size *= math.Exp(longer)
	return size * cos, size * sin
}

// at reads between the nodes by cubics through four of them (Catmull and Rom).
func (t *mobilityTable) at(row, column float64) (size, turn float64) {
	i, k := min(int(row), gapNodes-2), min(int(column), angleNodes-2)
	wi, wk := cubic(row-float64(i)), cubic(column-float64(k))
	for a := range 4 {
		from := i + a - 1
		for b := range 4 {
			at, side := k+b-1, 1.0
			switch { // the map is mirrored at both ends
			case at < 0:
				at, side = -at, -1
			case at >= angleNodes:
				at, side = 2*(angleNodes-1)-at, -1
			}
			w := wi[a] * wk[b]
			switch {
			case from < 0: // straight on
				size += w * (2*t.size[0][at] - t.size[1][at])
				turn += w * side * (2*t.turn[0][at] - t.turn[1][at])
			case from >= gapNodes:
				size += w * (2*t.size[gapNodes-1][at] - t.size[gapNodes-2][at])
				turn += w * side * (2*t.turn[gapNodes-1][at] - t.turn[gapNodes-2][at])
			default:
				size += w * t.size[from][at]
				turn += w * side * t.turn[from][at]
			}
		}
	}
	return size, turn
}

// cubic is the weights of four even nodes at a place between the second and the third.
func cubic(u float64) [4]float64 {
	return [4]float64{u * (-0.5 + u*(1-0.5*u)), 1 + u*u*(-2.5+1.5*u), u * (0.5 + u*(2-1.5*u)), u * u * (-0.5 + 0.5*u)}
}

// shortMobility returns the components of M along the load and a quarter turn on from it, for the short
// bearing, with the eccentricity in the same frame:
//
//	Mx = (1-εx)^2.5 / (π (L/D)²),   My = -4 εy (1-εx)^1.5 / (π² (L/D)²)
//
// It is exact for a journal in the middle, and fitted elsewhere: within 6.5 % of the integral of the short film for
// a journal that is displaced along the load.
//
// Source: Booker, J. F.: Dynamically Loaded Journal Bearings: Numerical Application of the Mobility Method.
// J. Lubr. Technol. 93 (1971), 168-176; from memory.
func shortMobility(ratio, x, y float64) (along, across float64) {
	gap := max(0, 1-x)
	root := math.Sqrt(gap)
	scale := 1 / (math.Pi * ratio * ratio)
	return scale * gap * gap * root, -4 / math.Pi * scale * y * gap * root
}

// A squeezer solves the film of a journal that moves and does not turn.
type squeezer struct {
	kappa        float64
	fine, coarse *solver
}

func newSqueezer(ratio float64, n int) *squeezer {
	return &squeezer{kappa: 1 / ratio, fine: newSolver(n, n/8), coarse: newSolver(n/2, n/16)}
}

// at returns the mobility of a journal at an eccentricity that moves in the direction alpha from its displacement, and
// the direction beta in which the load then acts, both in rad from 0 to π: a
// point of the map, found from the side of the velocity. Moving at 1 c/s, the film carries P = 3µ (R/c)² w, so M = 1/(3w).
// off is the estimate of M's relative error.
func (q *squeezer) at(e, alpha float64) (mobility, beta, off float64, err error) {
	var w, b [2]float64
	for i, s := range []*solver{q.coarse, q.fine} {
		sin, cos := math.Sincos(alpha)
		if i == 1 && s.empty {
			s.start(q.coarse)
		}
		s.set(problem{e: e, kappa: q.kappa, along: cos, across: sin})
		if !s.solve(closely) {
			s.forget()
			return 0, 0, 0, wrong(ErrNoFilm, "film", fmt.Sprintf("no solution for a journal that moves at an eccentricity ratio of %.6g", e), "give sizes within the ordinary")
		}
		r := s.integrals()
		w[i] = math.Hypot(r.radial, r.tangential)
		b[i] = math.Atan2(-r.tangential, r.radial) // the load is on the other side than the pressure's moment
	}
	by := (w[1] - w[0]) / 3
	return 1 / (3 * (w[1] + by)), b[1] + math.Remainder(b[1]-b[0], 2*math.Pi)/3, math.Abs(by / w[1]), nil
}
