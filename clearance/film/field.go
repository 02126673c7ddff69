package film

import (
	"fmt"
	"math"
	"sort"

	"example.com/closefit/units"
)

// A Field is the pressure over the film, for drawing. Its numbers are float64 in the units
// that their names say: a drawing needs no more.
type Field struct {
	Degrees     []float64   `json:"degrees"`     // from the line of the load, with the rotation; from -180 up
	Millimetres []float64   `json:"millimetres"` // along the axis, from the middle; both halves
	Megapascals [][]float64 `json:"megapascals"` // above ambient: by place round, then by place along
}

// Field returns the pressure of the film at so many places round and along, from 2 to 1000
// each, evenly spread, edges included. It solves the film again, and reads between the
// columns of the finer grid in straight lines. The errors are those of At, and ErrBearing for numbers of
// places that cannot be.
func (f Film) Field(round, along int) (Field, error) {
	if round < 2 || round > 1000 || along < 2 || along > 1000 {
		return Field{}, wrong(ErrBearing, "field", fmt.Sprintf("%d by %d places", round, along), "write from 2 to 1000 each")
	}
	st, sc, err := f.Bearing.checked(f.Speed, f.Viscosity)
	if err != nil {
		return Field{}, err
	}
	e := f.Numbers.Eccentricity
	if err := checkEccentricity(e); err != nil {
		return Field{}, err
	}
	m := newModel(st, columns)
	m.attitude = f.Numbers.Attitude.Float64(units.Degree) / degree
	v, err := m.once(m.fine, e, sc.supply/sc.pressureScale(), closely)
	if err != nil {
		return Field{}, err
	}
	l := m.fine.levels[0]
	scale := sc.pressureScale() / 1e6
	out := Field{}
	half := f.Bearing.Width.Float64(units.Millimetre) / 2
	for k := range along {
		out.Millimetres = append(out.Millimetres, half*(2*float64(k)/float64(along-1)-1))
	}
	for k := range round {
		degrees := 360*float64(k)/float64(round-1) - 180
		out.Degrees = append(out.Degrees, degrees)
		theta := math.Mod(degrees/degree+math.Pi-v.attitude+4*math.Pi, 2*math.Pi)
		row := make([]float64, along)
		for j, y := range out.Millimetres {
			z := math.Abs(y) / half
			if st.groove == Circumferential { // z of a land runs from the groove to the edge
				z = max(0, (z-(1-st.share))/st.share)
			}
			row[j] = scale * l.between(theta, z)
		}
		out.Megapascals = append(out.Megapascals, row)
	}
	return out, nil
}

// between is the pressure at a place, between columns and rows.
func (l *level) between(theta, z float64) float64 {
	i := sort.SearchFloat64s(l.theta, theta) - 1
	if i < 0 {
		i = 0
	}
	next, far := i+1, 2*math.Pi
	if next < l.n {
		far = l.theta[next]
	}
	t := (theta - l.theta[i]) / (far - l.theta[i])
	j := sort.SearchFloat64s(l.z, z) - 1
	if j < 0 {
		j = 0
	}
	edge := 1.0
	if j+1 < l.m {
		edge = l.z[j+1]
	}
	u := min(1, (z-l.z[j])/(edge-l.z[j]))
	at := func(i, j int) float64 {
		if j == l.m {
			return 0
		}
		return l.p[i%l.n*l.m+j]
	}
	return (1-t)*((1-u)*at(i, j)+u*at(i, j+1)) + t*((1-u)*at(next, j)+u*at(next, j+1))
}
