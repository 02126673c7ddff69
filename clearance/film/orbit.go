package film

import (
	"fmt"
	"math"

	"example.com/closefit/units"
)

// An Orbit is the path of a journal's centre in its shell over one cycle of its load, once it repeats.
type Orbit struct {
	Bearing   Bearing                `json:"bearing"`
	Speed     units.RotationalSpeed  `json:"speed"` // of the crankshaft
	Viscosity units.DynamicViscosity `json:"viscosity"`
	Points    []OrbitPoint           `json:"points"` // over the cycle, the last where the first is
	// Least is the thinnest film over the cycle, LeastAt the crank angle of it, and Where the place in the shell, from X
	// with the rotation.
	Least   units.Length `json:"least"`
	LeastAt units.Angle  `json:"leastAt"`
	Where   units.Angle  `json:"where"`
	// Eccentricity is the largest eccentricity ratio: that of Least.
	Eccentricity float64 `json:"eccentricity"`
	// Gap is how far, in units of the radial clearance, the path may lie from the one that repeats for ever: from how much
	// the last cycle differs from the one before, and how fast the difference falls. An estimate, and no bound; 1e-5 at the most.
	Gap    float64 `json:"gap"`
	Cycles int     `json:"cycles"` // that were run through
}

// An OrbitPoint is where the journal's centre stands at one crank angle, in the frame of the load (see LoadPoint) and in
// units of the radial clearance.
type OrbitPoint struct {
	Crank units.Angle `json:"crank"`
	X     float64     `json:"x"`
	Y     float64     `json:"y"`
}

// How the orbit is followed.
const (
	repeats    = 1e-5 // Gap at which it repeats
	mostCycles = 300
	stepError  = 1e-7 // of one step, in units of the radial clearance
	mostMoves  = 3_000_000
)

// Orbit returns the path on which the journal's centre comes round under a cycle of loads, with oil of one
// viscosity, at so many even steps, by the mobility method:
//
//	dε/dt = (P/µ) (c/R)² M + ω̄ × ε,   ω̄ = (ω journal + ω shell)/2, both against the shell's frame
//
// It starts in the middle, and steps of fifth order and of a length that their error allows (Dormand and Prince) follow it
// round the cycle until it repeats. In the frame of a shell that swings, ω̄ is half the speed at which the journal turns against
// it, which changes as the rod swings. A load of zero moves the journal round with ω̄ alone. The masses of
// journal and oil are left out, and the film is never short of oil.
//
// The mobility must be of the bearing's width over diameter. A circumferential groove makes two bearings of the width
// of one land, each with half the load; pockets it does not know, and they are refused.
//
// The errors are of kind ErrCycle for a table that does not close, loads that are all zero or a path that does not
// repeat; ErrSpeed, ErrOil, ErrBearing; and ErrNoFilm if the journal comes nearer to the wall than 0.005 of the
// radial clearance. Under a load that turns at half the journal's speed it does: such a load has no wedge.
//
// Source: Booker, J. F.: Dynamically Loaded Journal Bearings: Mobility Method of Solution. J. Basic Eng. 87 (1965),
// 537-546. Dormand, J. R.; Prince, P. J.: A family of embedded Runge-Kutta formulae. J. Comput. Appl. Math. 6
// (1980), 19-26.
func (b Bearing) Orbit(c Cycle, m Mobility, speed units.RotationalSpeed, viscosity units.DynamicViscosity, steps int) (Orbit, error) {
	st, sc, err := b.checked(speed, viscosity)
	if err != nil {
		return Orbit{}, err
	}
	width := sc.l * st.share // that carries
	ratio := width / (2 * sc.r)
	switch st.groove {
	case Circumferential:
		ratio /= 2
	case Pockets:
		return Orbit{}, wrong(ErrBearing, "pockets", fmt.Sprint(len(b.Supply.Pockets)), "leave them away: a mobility is that of a bearing without pockets")
	}
	if !(math.Abs(m.ratio/ratio-1) <= 1e-6) {
		return Orbit{}, wrong(ErrBearing, "mobility", fmt.Sprintf("of a width over diameter of %.6g", m.ratio), fmt.Sprintf("make one for %.9g, the width of a land over the diameter", ratio))
	}
	if err := checkSteps(steps); err != nil {
		return Orbit{}, err
	}
	l, err := c.loads()
	if err != nil {
		return Orbit{}, err
	}
	most := l.largest()
	if !(most > 0) {
		return Orbit{}, wrong(ErrCycle, "loads", "nothing but zero", "write a cycle with a load: without one the journal goes round where it is")
	}
	f := &follower{loads: l, mobility: m, scale: (sc.c / sc.r) * (sc.c / sc.r) / (width * 2 * sc.r * sc.viscosity * sc.omega)}
	if drive := f.scale * most; math.IsNaN(drive) || math.IsInf(drive, 0) || drive == 0 {
		return Orbit{}, wrong(ErrNoFilm, "loads", fmt.Sprintf("up to %.4g N", most), "give sizes, loads, speed and oil within the ordinary")
	}
	o := Orbit{Bearing: b, Speed: speed, Viscosity: viscosity}
	path, err := f.round(steps, &o)
	if err != nil {
		return Orbit{}, err
	}
	if err := o.set(path, f, sc); err != nil {
		return Orbit{}, err
	}
	return o, nil
}

// set gives a path its units.
func (o *Orbit) set(path []vector, f *follower, sc scales) error {
	steps := len(path) - 1
	var r rounding
	o.Points = make([]OrbitPoint, 0, len(path))
	for k, p := range path {
		o.Points = append(o.Points, OrbitPoint{Crank: rounded(&r, units.Degree, (f.at[0]+f.period()*float64(k)/float64(steps))*degree), X: r.plain(p[0]), Y: r.plain(p[1])})
	}
	o.Eccentricity = r.plain(f.far.size())
	if o.Eccentricity > mostEccentricity {
		return wrong(ErrNoFilm, "film", fmt.Sprintf("%.3g of the radial clearance is left at a crank angle of %.4g°", 1-o.Eccentricity, f.far.crank*degree), "write smaller loads, thicker oil or another clearance, and look at their units")
	}
	o.Least = rounded(&r, units.Millimetre, sc.c*(1-o.Eccentricity)*1e3)
	o.LeastAt = rounded(&r, units.Degree, f.far.crank*degree)
	o.Where = rounded(&r, units.Degree, math.Atan2(f.far.vector[1], f.far.vector[0])*degree)
	return r.err
}

// A vector is a place of the journal's centre, in units of the radial clearance.
type vector [2]float64

func (v vector) size() float64 { return math.Hypot(v[0], v[1]) }

// A follower goes along with a journal's centre.
type follower struct {
	*loads
	mobility Mobility
	scale    float64 // (c/R)²/(LDµω), by which a load in N moves the journal by rad of the crank
	moves    int     // evaluations so far
	step     float64 // rad, that the error allows
	far      place   // where the film was thinnest in this cycle
}

// A place is where the journal's centre stands at a crank angle, in rad.
type place struct {
	vector
	crank float64
}

// velocity is dε by rad of the crank, with the load at the part of the way from point i of the table to the next.
func (f *follower) velocity(crank float64, e vector) vector {
	f.moves++
	i, part := segment(f.at, crank)
	fx, fy := f.x[i]+part*(f.x[i+1]-f.x[i]), f.y[i]+part*(f.y[i+1]-f.y[i])
	half := turning(f.swing, crank) / 2
	v := vector{-half * e[1], half * e[0]}
	load := math.Hypot(fx, fy)
	if load == 0 {
		return v
	}
	ux, uy := fx/load, fy/load
	along, across := f.mobility.At(e[0]*ux+e[1]*uy, e[1]*ux-e[0]*uy)
	load *= f.scale
	v[0] += load * (along*ux - across*uy)
	v[1] += load * (along*uy + across*ux)
	return v
}

// round follows the journal round the cycle until its path repeats, and says in the orbit how well it does.
func (f *follower) round(steps int, o *Orbit) ([]vector, error) {
	path, last := make([]vector, steps+1), make([]vector, steps+1)
	width := f.period() / float64(steps)
	f.step = width
	was := math.Inf(1)
	slope := f.velocity(f.at[0], path[0])
	for o.Cycles = 1; o.Cycles <= mostCycles; o.Cycles++ {
		f.far = place{vector: path[0], crank: f.at[0]}
		off := 0.0
		for k := range steps {
			var err error
			if path[k+1], slope, err = f.move(path[k], slope, f.at[0]+width*float64(k), width); err != nil {
				return nil, err
			}
			off = max(off, math.Hypot(path[k+1][0]-last[k+1][0], path[k+1][1]-last[k+1][1]))
		}
		// A difference that falls by a factor with every cycle leaves a geometric series.
		factor := off / was
		switch {
		case o.Cycles < 3:
		case off <= repeats/1000:
			o.Gap = off
			return path, nil
		case factor < 1 && off*max(1, factor/(1-factor)) <= repeats:
			o.Gap = off * max(1, factor/(1-factor))
			return path, nil
		}
		was = off
		path, last = last, path
		path[0] = last[steps]
	}
	if most := f.far.size(); most > mostEccentricity {
		return nil, wrong(ErrNoFilm, "loads", fmt.Sprintf("the journal creeps to the wall: after %d cycles %.2g of the radial clearance is left", mostCycles, 1-most),
			"write a smaller load, or one that does not turn with half the journal's speed: that has no wedge")
	}
	return nil, wrong(ErrCycle, "loads", fmt.Sprintf("a path that does not repeat: after %d cycles one still differs by %.2g of the radial clearance from the one before", mostCycles, was),
		"write a cycle with more load, and none that turns with half the journal's speed: that has no wedge")
}

// The formulae of Dormand and Prince: places of the stages, their weights, and the weights of the error.
var (
	stageAt = [...]float64{1. / 5, 3. / 10, 4. / 5, 8. / 9, 1, 1}
	stages  = [...][6]float64{
		{1. / 5},
		{3. / 40, 9. / 40},
		{44. / 45, -56. / 15, 32. / 9},
		{19372. / 6561, -25360. / 2187, 64448. / 6561, -212. / 729},
		{9017. / 3168, -355. / 33, 46732. / 5247, 49. / 176, -5103. / 18656},
		{35. / 384, 0, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84},
	}
	stageError = [...]float64{71. / 57600, 0, -71. / 16695, 71. / 1920, -17253. / 339200, 22. / 525, -1. / 40}
)

// move goes on from a place, with the velocity there, by an angle of the crank.
func (f *follower) move(e, slope vector, crank, by float64) (vector, vector, error) {
	gone := 0.0
	for gone < by {
		h := min(f.step, by-gone)
		whole := h == by-gone
		k := [7]vector{slope}
		var to vector
		for s := range stages {
			to = e
			for j, w := range stages[s][:s+1] {
				to[0] += h * w * k[j][0]
				to[1] += h * w * k[j][1]
			}
			k[s+1] = f.velocity(crank+gone+stageAt[s]*h, to)
		}
		var lacks vector
		for j, w := range stageError {
			lacks[0] += h * w * k[j][0]
			lacks[1] += h * w * k[j][1]
		}
		off := lacks.size() / stepError
		if !(to.size() < 1) {
			off = math.Inf(1)
		}
		if !(h > 1e-12) || f.moves > mostMoves {
			return e, slope, wrong(ErrNoFilm, "loads", fmt.Sprintf("the journal runs into the wall at a crank angle of %.4g°", (crank+gone)*degree), "write smaller loads, thicker oil or another clearance, and look at their units")
		}
		factor := 0.1
		if !math.IsInf(off, 0) && !math.IsNaN(off) {
			factor = max(0.2, min(4, 0.9*math.Pow(off+1e-9, -0.2)))
		}
		if off <= 1 {
			f.look(e, to, slope, k[6], crank+gone, h)
			e, slope = to, k[6]
			if gone += h; whole {
				gone = by
			}
			if whole && factor < 1 || !whole || factor*h > f.step {
				f.step = factor * h
			}
			continue
		}
		f.step = h * min(factor, 0.9)
	}
	return e, slope, nil
}

// look notes the thinnest film of a step: at its end, or inside of it on the cubic that has its ends and its velocities.
func (f *follower) look(from, to, slope, last vector, crank, h float64) {
	if to.size() > f.far.size() {
		f.far = place{vector: to, crank: crank + h}
	}
	if !(from[0]*slope[0]+from[1]*slope[1] > 0 && to[0]*last[0]+to[1]*last[1] < 0) {
		return
	}
	const parts = 16
	for i := 1; i < parts; i++ {
		t := float64(i) / parts
		u := 1 - t
		var at vector
		for j := range at {
			at[j] = u*u*((1+2*t)*from[j]+t*h*slope[j]) + t*t*((1+2*u)*to[j]-u*h*last[j])
		}
		if at.size() > f.far.size() {
			f.far = place{vector: at, crank: crank + t*h}
		}
	}
}
