package film

import (
	"fmt"
	"math"
	"sort"

	"example.com/closefit/units"
)

// A Cycle is the load of a bearing over one cycle of the engine, in the frame of the shell: the force with which the
// journal presses on the shell. Between points the load runs straight.
type Cycle struct {
	// Points are in order of their crank angles, 360° or 720° in all; the last has the load of the first.
	Points []LoadPoint `json:"points"`
	// Swing is the crank radius over the length of the rod, of a rod bearing, whose shell swings with the rod; the crank
	// angle then counts from where the piston is at the top. It is 0 for a shell that stands still.
	Swing float64 `json:"swing"`
}

// A LoadPoint is the load at one crank angle: X along the rod from the big end to the small one, or up the cylinder for
// a main bearing; Y a quarter turn on from X with the rotation of the crankshaft.
type LoadPoint struct {
	Crank units.Angle `json:"crank"`
	X     units.Force `json:"x"`
	Y     units.Force `json:"y"`
}

// mostPoints is how many points a table or an orbit may have.
const mostPoints = 20_000

// loads is a Cycle in rad and N.
type loads struct {
	at, x, y []float64
	swing    float64
}

// period is the length of the cycle in rad.
func (l *loads) period() float64 { return l.at[len(l.at)-1] - l.at[0] }

// largest is the largest load in N.
func (l *loads) largest() float64 {
	most := 0.0
	for i := range l.at {
		most = max(most, math.Hypot(l.x[i], l.y[i]))
	}
	return most
}

// loads checks the cycle.
func (c Cycle) loads() (*loads, error) {
	l := &loads{swing: c.Swing}
	if !(c.Swing >= 0 && c.Swing < 1) {
		return nil, wrong(ErrCycle, "swing", fmt.Sprint(c.Swing), "write the crank radius over the length of the rod, from 0 to below 1")
	}
	angles := make([]units.Angle, len(c.Points))
	for i, p := range c.Points {
		angles[i] = p.Crank
		l.x, l.y = append(l.x, p.X.Float64(units.Newton)), append(l.y, p.Y.Float64(units.Newton))
	}
	var err error
	if l.at, err = turned("loads", angles); err != nil {
		return nil, err
	}
	first, last := c.Points[0], c.Points[len(c.Points)-1]
	if !first.X.Equal(last.X) || !first.Y.Equal(last.Y) {
		return nil, wrong(ErrCycle, fmt.Sprintf("loads, point %d", len(c.Points)),
			fmt.Sprintf("%v, %v where the cycle began with %v, %v", last.X, last.Y, first.X, first.Y), "end with the load of the first point: the cycle repeats")
	}
	return l, nil
}

// turned returns crank angles in rad, which must rise and go once or twice round.
func turned(of string, angles []units.Angle) ([]float64, error) {
	n := len(angles)
	if n < 2 || n > mostPoints {
		return nil, wrong(ErrCycle, of, fmt.Sprintf("%d points", n), fmt.Sprintf("write from 2 to %d, the last 360° or 720° after the first", mostPoints))
	}
	at := make([]float64, n)
	for i, a := range angles {
		at[i] = a.Float64(units.Degree) / degree
		if i > 0 && (!angles[i-1].Less(a) || !(at[i] > at[i-1])) {
			return nil, wrong(ErrCycle, fmt.Sprintf("%s, point %d", of, i+1), fmt.Sprintf("%v after %v", a, angles[i-1]), "write the points in the order of their crank angles, each angle once")
		}
	}
	if whole := angles[n-1].Sub(angles[0]); !whole.Equal(units.Degree.OfInt(360)) && !whole.Equal(units.Degree.OfInt(720)) {
		return nil, wrong(ErrCycle, of, fmt.Sprintf("%v from the first point to the last", whole), "write a cycle of 360° or 720°, the last point with what the first one has")
	}
	return at, nil
}

// segment is the place of an angle in a table that rises: the point before it, and the part of the way to the next. The
// angle may lie any number of cycles away.
func segment(at []float64, angle float64) (i int, part float64) {
	first, last := at[0], at[len(at)-1]
	angle = first + math.Mod(angle-first, last-first)
	if angle < first {
		angle += last - first
	}
	i = max(0, min(sort.SearchFloat64s(at, angle)-1, len(at)-2))
	return i, (angle - at[i]) / (at[i+1] - at[i])
}

// turning is the speed of the journal against the shell, in units of the crankshaft's: the rod turns back while the crank
// passes the top.
func turning(swing, crank float64) float64 {
	sin, cos := math.Sincos(crank)
	return 1 + swing*cos/math.Sqrt(1-swing*swing*sin*sin)
}
