package film

import (
	"errors"
	"fmt"
	"math"
	"sort"
)

// A bearing with pockets is no function of the eccentricity alone: where the line of the load is decides where the pockets stand, and under a
// light load their pressure decides where the journal goes. So its place is searched for in the plane: the
// place at which the film's force is the load, in size and direction.

// A weight is a load in the film's own units, and the force by which a lack of it is judged: the load's own, and a
// hundredth of the pockets'. Below that the grid does not tell a load from none.
type weight struct{ load, by float64 }

func (m *model) weight(s, pressure float64) weight {
	load := 1 / (6 * math.Pi * s)
	return weight{load, load + 0.01*pressure*2*m.half*m.z}
}

// lacks is what the film's force lacks to the load, along the load and across it with the rotation. The size of a force
// F counts as ln(1 + F/by), which runs nearly straight.
func (v values) lacks(w weight, attitude float64) vector {
	size := math.Log1p(1 / (6 * math.Pi * v.s) / w.by)
	sin, cos := math.Sincos(v.attitude - attitude)
	return vector{size*cos - math.Log1p(w.load/w.by), size * sin}
}

// under gives the values under a load that they carry but for what the grid does not tell.
func (v values) under(s, attitude float64) values {
	part := s / v.s
	v.s, v.attitude = s, attitude
	v.friction *= part
	v.peak *= part
	return v
}

// A spot is where the journal is looked for: e/(1-e)² along the load and across it, which spreads what is near the wall.
type spot vector

func (p spot) polar() (e, attitude float64) {
	size := vector(p).size()
	if size < leastEccentricity {
		return leastEccentricity, math.Atan2(p[1], p[0])
	}
	return max(leastEccentricity, min(mostEccentricity, shrink(math.Log(size)))), math.Atan2(p[1], p[0])
}

func spotAt(e, attitude float64) spot {
	sin, cos := math.Sincos(attitude)
	far := math.Exp(stretch(e))
	return spot{far * cos, far * sin}
}

// probe solves at a spot on one grid.
func (m *model) probe(on *solver, p spot, pressure, tolerance float64) (values, error) {
	if m.probes++; m.probes > mostProbes {
		return values{}, errNoPlace
	}
	e, attitude := p.polar()
	m.attitude = attitude
	return m.once(on, e, pressure, tolerance)
}

// jacobian is what the lack changes by with the spot, and kept up by Broyden's formula.
type jacobian [2][2]float64

func (j *jacobian) step(lack vector) (spot, bool) {
	det := j[0][0]*j[1][1] - j[0][1]*j[1][0]
	p := spot{(lack[1]*j[0][1] - lack[0]*j[1][1]) / det, (lack[0]*j[1][0] - lack[1]*j[0][0]) / det}
	size := vector(p).size()
	return p, !math.IsNaN(size) && !math.IsInf(size, 0)
}

func (j *jacobian) learn(step spot, from, to vector) {
	square := step[0]*step[0] + step[1]*step[1]
	if square == 0 {
		return
	}
	for i := range j {
		off := to[i] - from[i] - j[i][0]*step[0] - j[i][1]*step[1]
		j[i][0] += off * step[0] / square
		j[i][1] += off * step[1] / square
	}
}

// placed is how closely a place on the coarser grid carries the load.
const placed = 1e-5

// mostProbes is how many solutions a place may take: several times what one takes mostly, and about a second.
const mostProbes = 2500

// errNoPlace says that no place of the journal was found at which its film carries the load: there is none, or the search missed
// it, as it may where pockets outweigh the load many times.
var errNoPlace = wrong(ErrNoFilm, "pockets", "the search ended without a place of the journal at which their pressure and the film carry the load", "write a load, speed, oil and clearance of one bearing, and a pressure of the supply that its load outweighs")

// place finds the spot of a load on the coarser grid, from a spot nearby if it is known, and from the best of many
// otherwise.
func (m *model) place(s, pressure float64, near *spot) (spot, jacobian, values, error) {
	if near != nil {
		if p, j, v, err := m.approach(s, pressure, *near); err == nil {
			return p, j, v, nil
		}
	}
	type start struct {
		spot
		off float64
	}
	var starts []start
	for _, e := range []float64{0.002, 0.05, 0.3, 0.6, 0.85, 0.96} {
		for k := range 10 {
			attitude := 2 * math.Pi * float64(k) / 10
			p := spotAt(e, attitude)
			v, err := m.probe(m.rough, p, pressure, roughly)
			if err != nil {
				continue
			}
			starts = append(starts, start{p, v.lacks(m.weight(s, pressure), attitude).size()})
		}
	}
	sort.Slice(starts, func(a, b int) bool { return starts[a].off < starts[b].off })
	for _, p := range starts[:min(len(starts), 8)] {
		if p, j, v, err := m.approach(s, pressure, p.spot); err == nil {
			return p, j, v, nil
		}
	}
	return spot{}, jacobian{}, values{}, errNoPlace
}

// approach goes from a spot to that of a load by Newton's method with steps that are halved until they lead on.
func (m *model) approach(s, pressure float64, p spot) (spot, jacobian, values, error) {
	var j jacobian
	at := func(p spot) (values, vector, error) {
		v, err := m.probe(m.coarse, p, pressure, closely)
		if err != nil {
			return v, vector{}, err
		}
		_, attitude := p.polar()
		return v, v.lacks(m.weight(s, pressure), attitude), nil
	}
	v, lack, err := at(p)
	if err != nil {
		return p, j, v, err
	}
	fresh := false
	learn := func() error {
		h := 1e-3 * (vector(p).size() + 1e-3)
		for i := range p {
			q := p
			q[i] += h
			_, other, err := at(q)
			if err != nil {
				return err
			}
			j[0][i], j[1][i] = (other[0]-lack[0])/h, (other[1]-lack[1])/h
		}
		fresh = true
		return nil
	}
	if err := learn(); err != nil {
		return p, j, v, err
	}
	for range 20 {
		if lack.size() <= placed {
			return p, j, v, nil
		}
		step, ok := j.step(lack)
		if most := 2 * (vector(p).size() + 0.02); ok && vector(step).size() > most {
			part := most / vector(step).size()
			step[0], step[1] = step[0]*part, step[1]*part
		}
		onward := false
		for range 7 {
			if !ok {
				break
			}
			q := spot{p[0] + step[0], p[1] + step[1]}
			w, other, err := at(q)
			if err != nil {
				return p, j, v, err
			}
			j.learn(step, lack, other)
			if other.size() < lack.size() {
				onward = other.size() < 0.7*lack.size()
				p, v, lack = q, w, other
				fresh = false
				break
			}
			step[0], step[1] = step[0]/3, step[1]/3
		}
		if onward {
			continue
		}
		if fresh {
			break // nothing leads on from here
		}
		if err := learn(); err != nil {
			return p, j, v, err
		}
	}
	if lack.size() <= placed {
		return p, j, v, nil
	}
	return p, j, v, errNoPlace
}

// both solves at a spot on both grids and extrapolates.
func (m *model) both(p spot, pressure float64) (v, off values, err error) {
	c, err := m.probe(m.coarse, p, pressure, closely)
	if err != nil {
		return v, off, err
	}
	if m.fine.empty {
		m.fine.start(m.coarse)
	}
	f, err := m.probe(m.fine, p, pressure, closely)
	if err != nil {
		return v, off, err
	}
	c.attitude = f.attitude + math.Remainder(c.attitude-f.attitude, 2*math.Pi)
	v, off = extrapolated(f, c)
	return v, off, nil
}

// alignedWithPockets finds the attitude that agrees with itself on both grids together, from that of the coarser one.
func (m *model) alignedWithPockets(e, pressure, attitude float64) (v, off values, err error) {
	slope, last, step := -1.0, 0.0, 0.0
	for round := range 12 {
		if v, off, err = m.both(spotAt(e, attitude), pressure); err != nil {
			return v, off, err
		}
		lack := math.Remainder(v.attitude-attitude, 2*math.Pi)
		if math.Abs(lack) <= settled {
			return v, off, nil
		}
		if round > 0 && lack != last {
			slope = (lack - last) / step
		}
		last = lack
		step = max(-0.1, min(0.1, -lack/slope))
		attitude += step
	}
	return v, off, errNoAttitude
}

// settlePlace goes from the spot of the coarser grid to that of both grids together.
func (m *model) settlePlace(s, pressure float64, p spot, j jacobian) (spot, values, values, error) {
	var last vector
	var step spot
	var best struct {
		place  spot
		v, off values
	}
	least := math.Inf(1)
	for round := range 30 {
		e, attitude := p.polar()
		v, off, err := m.both(p, pressure)
		if err != nil {
			return p, v, off, err
		}
		lack := v.lacks(m.weight(s, pressure), attitude)
		if lack.size() < least && e > leastEccentricity && e < mostEccentricity {
			least = lack.size()
			best.place, best.v, best.off = p, v.under(s, attitude), off
		}
		if least <= carried/2 {
			break
		}
		if round > 0 {
			j.learn(step, last, lack)
		}
		last = lack
		var ok bool
		if step, ok = j.step(lack); !ok {
			break
		}
		p = spot{p[0] + step[0], p[1] + step[1]}
	}
	if least > 50*carried {
		return p, values{}, values{}, errNoPlace
	}
	return best.place, best.v, best.off, nil
}

// carryWithPockets is carry for a bearing with pockets.
func (m *model) carryWithPockets(s, pressure float64) (v, off values, err error) {
	p, j, _, err := m.place(s, pressure, nil)
	if err != nil {
		return v, off, err
	}
	_, v, off, err = m.settlePlace(s, pressure, p, j)
	return v, off, err
}

// settleWithPockets is settle for a bearing with pockets: the temperature is searched for, with the journal's place
// found at each on the coarser grid, whose friction and side flow are corrected by what both grids together say.
func (w *balance) settleWithPockets() (v, off values, t float64, err error) {
	w.friction, w.side = 1, 1
	var near *spot
	hottest := min(warmest, w.oil.last())
	from, to := w.inlet, hottest
	const rounds = 6
	for round := range rounds {
		var place spot
		var slope jacobian
		var q values
		differ := func(t float64) (float64, error) {
			s, pressure := w.at(t)
			p, j, v, err := w.place(s, pressure, near)
			if errors.Is(err, errNoPlace) && t > w.inlet+1 {
				return math.Pi / 2, nil // as of oil that is too thin and makes no heat
			}
			if err != nil {
				return 0, err
			}
			place, slope, q, near = p, j, v, &p
			return math.Atan((t - w.inlet - w.rise(v.friction*w.friction, v.side*w.side)) / 30), nil
		}
		t, err = root(differ, from, to, agreed/4)
		if errors.Is(err, errNoRoot) && (from != w.inlet || to != hottest) {
			from, to = w.inlet, hottest
			continue
		}
		if errors.Is(err, errNoRoot) {
			return v, off, t, wrong(ErrNoFilm, "film", fmt.Sprintf("hotter than %.4g °C", hottest), "write a lower load or speed, a larger clearance or more oil")
		}
		if err != nil {
			return v, off, t, err
		}
		if _, err := differ(t); err != nil { // the place is that of t
			return v, off, t, err
		}
		s, pressure := w.at(t)
		if near == nil || q.s == 0 {
			return v, off, t, errNoPlace
		}
		if place, v, off, err = w.settlePlace(s, pressure, place, slope); err != nil {
			return v, off, t, err
		}
		near = &place
		w.friction, w.side = v.friction/q.friction, v.side/q.side
		warmer := math.Abs(w.inlet + w.rise(v.friction, v.side) - t)
		if warmer <= agreed || round == rounds-1 && warmer <= 50*agreed {
			return v, off, t, nil
		}
		from, to = max(w.inlet, t-3), min(hottest, t+3)
	}
	return v, off, t, errNoPlace
}
