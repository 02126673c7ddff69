package film

import (
	"fmt"
	"math"

	"example.com/closefit/units"
)

// Numbers are what a film comes to, without units: they depend on the shape of the bearing,
// on the eccentricity and on the supply, and not on size, speed and viscosity by
// themselves. R, L and D are the journal's radius, the bearing's width and the journal's
// diameter, c the radial clearance, N the speed in revolutions by time, µ the viscosity, W
// the load and P = W/(LD) the load by area.
type Numbers struct {
	Eccentricity float64 `json:"eccentricity"` // of the journal, in units of c: the least film is (1 - Eccentricity) c
	Sommerfeld   float64 `json:"sommerfeld"`   // S = (R/c)² µN/P
	// Attitude is the angle from the line of the load to the thinnest film, with the rotation.
	Attitude units.Angle `json:"attitude"`
	// Friction is (R/c) f, with f the torque at the journal over WR. The whole circumference
	// outside of pockets shears as if filled, where the film has broken down as well: so do
	// the published solutions.
	Friction float64 `json:"friction"`
	// Flow is Q/(RcNL): what passes the thickest film, of a bearing without a groove. With a
	// groove it is the same as SideFlow: what must be supplied.
	Flow     float64 `json:"flow"`
	SideFlow float64 `json:"sideFlow"` // Qs/(RcNL): what leaves at both edges
	// Fed is the part of SideFlow that comes out of the groove. The rest is missing where the
	// film forms again. Without a groove it is 1: as much as is drawn in is taken to be there.
	Fed     float64     `json:"fed"`
	Peak    float64     `json:"peak"`   // the largest pressure above ambient, in units of P
	PeakAt  units.Angle `json:"peakAt"` // from the line of the load, with the rotation
	FilmEnd units.Angle `json:"ends"`   // where the film ends in the middle, from the line of the load, to about a degree; empty film: the whole turn
}

// An Estimate says how far results may lie from those of an endlessly fine grid: a third of the
// difference that two grids make, of the values before they were extrapolated. Each is
// relative, Attitude alone an angle. It is an estimate and no bound; it says nothing of
// what the equation leaves out.
type Estimate struct {
	Sommerfeld float64     `json:"sommerfeld"`
	Attitude   units.Angle `json:"attitude"`
	Friction   float64     `json:"friction"`
	Flow       float64     `json:"flow"`
	SideFlow   float64     `json:"sideFlow"`
	Peak       float64     `json:"peak"`
}

// Solve returns the numbers of a bearing of a width over diameter, L/D from 0.02 to 20,
// without a groove, at an eccentricity ratio: those of the Reynolds equation for a film of
// finite width, all round, that ends where pressure and slope vanish together.
//
// It solves on 256 columns and 32 rows over half the width, and on half as many, and
// extrapolates. The error is of kind ErrBearing or ErrEccentricity.
//
// Source: Raimondi, A. A.; Boyd, J.: A Solution for the Finite Journal Bearing and Its
// Application to Analysis and Design, III. Trans. ASLE 1 (1958), 194-209, for the
// conditions and the numbers.
func Solve(ratio, eccentricity float64) (Numbers, Estimate, error) {
	if !(ratio >= leastRatio && ratio <= mostRatio) {
		return Numbers{}, Estimate{}, wrong(ErrBearing, "width over diameter", fmt.Sprint(ratio), "write a ratio from 0.02 to 20")
	}
	if err := checkEccentricity(eccentricity); err != nil {
		return Numbers{}, Estimate{}, err
	}
	m := newModel(setting{kappa: 1 / ratio, share: 1}, fineColumns)
	fine, off, err := m.full(eccentricity, 0)
	if err != nil {
		return Numbers{}, Estimate{}, err
	}
	return fine.numbers(off)
}

// The grids: rows are an eighth of the columns.
const (
	columns     = 128 // of a working point
	fineColumns = 256
)

// The eccentricities that the grids carry.
const (
	leastEccentricity = 1e-4
	mostEccentricity  = 0.995
)

func checkEccentricity(e float64) error {
	switch {
	case !(e > 0 && e < 1):
		return wrong(ErrEccentricity, "eccentricity ratio", fmt.Sprint(e), "write the distance of the centres over the radial clearance, above 0 and below 1")
	case e < leastEccentricity || e > mostEccentricity:
		return wrong(ErrEccentricity, "eccentricity ratio", fmt.Sprint(e), fmt.Sprintf("write one from %g to %g: the grid carries no other", leastEccentricity, mostEccentricity))
	}
	return nil
}

// values are Numbers before they have units.
type values struct {
	e, s, attitude     float64
	friction           float64
	flow, side, fed    float64
	peak, peakAt, ends float64 // angles from the thickest film
}

// values works the integrals out.
func (st setting) values(e float64, r raw) values {
	radial, tangential := r.radial*st.share, r.tangential*st.share
	w := math.Hypot(radial, tangential)
	v := values{
		e: e, s: 1 / (6 * math.Pi * w), attitude: math.Atan2(tangential, radial),
		friction: st.share * (r.shear + 3*r.push) / (6 * w),
		flow:     r.enters, side: r.side * st.share, fed: 1,
		peak: 2 * r.peak / w, peakAt: r.peakAt, ends: r.endsAt,
	}
	if st.groove != NoGroove {
		v.flow = v.side
		v.fed = r.fed * st.share / v.side
	}
	return v
}

// extrapolated is what two grids, one twice as fine, come to together, as their error falls
// with the square of the mesh; and the estimate of what is left.
func extrapolated(fine, coarse values) (v, off values) {
	v, off = fine, values{}
	for _, x := range [...]struct{ v, off, fine, coarse *float64 }{
		{&v.s, &off.s, &fine.s, &coarse.s},
		{&v.attitude, &off.attitude, &fine.attitude, &coarse.attitude},
		{&v.friction, &off.friction, &fine.friction, &coarse.friction},
		{&v.flow, &off.flow, &fine.flow, &coarse.flow},
		{&v.side, &off.side, &fine.side, &coarse.side},
		{&v.peak, &off.peak, &fine.peak, &coarse.peak},
		{&v.peakAt, &off.peakAt, &fine.peakAt, &coarse.peakAt},
	} {
		by := (*x.fine - *x.coarse) / 3
		*x.v += by
		*x.off = math.Abs(by)
	}
	return v, off
}

const degree = 180 / math.Pi

// numbers gives the values their units.
func (v values) numbers(off values) (Numbers, Estimate, error) {
	var r rounding
	fromLoad := func(theta float64) units.Angle {
		return rounded(&r, units.Degree, math.Remainder(theta-math.Pi+v.attitude, 2*math.Pi)*degree)
	}
	n := Numbers{
		Eccentricity: v.e, Sommerfeld: r.plain(v.s), Attitude: rounded(&r, units.Degree, v.attitude*degree),
		Friction: r.plain(v.friction), Flow: r.plain(v.flow), SideFlow: r.plain(v.side), Fed: r.plain(v.fed),
		Peak: r.plain(v.peak), PeakAt: fromLoad(v.peakAt), FilmEnd: fromLoad(v.ends),
	}
	relative := func(off, of float64) float64 {
		if off == 0 {
			return 0
		}
		return r.plain(off / math.Abs(of))
	}
	e := Estimate{
		Sommerfeld: relative(off.s, v.s), Attitude: rounded(&r, units.Degree, off.attitude*degree),
		Friction: relative(off.friction, v.friction), Flow: relative(off.flow, v.flow),
		SideFlow: relative(off.side, v.side), Peak: relative(off.peak, v.peak),
	}
	return n, e, r.err
}
