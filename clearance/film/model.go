package film

import (
	"cmp"
	"errors"
	"fmt"
	"math"
)

// A model is the film of one setting as it depends on the eccentricity and on the pressure of
// the supply. Two grids that are extrapolated, and a third to search on, lie ready; each
// solution starts from the one before.
type model struct {
	setting
	fine, coarse, rough *solver
	attitude            float64 // rad, of the solution before: where the pockets stand
	probes              int     // of a bearing with pockets, so far
}

func newModel(st setting, n int) *model {
	return &model{setting: st, fine: newSolver(n, n/8), coarse: newSolver(n/2, n/16), rough: newSolver(n/4, n/32), attitude: math.Pi / 4}
}

// full solves on both grids and extrapolates. What was not solved yet starts from the next coarser grid.
func (m *model) full(e, pressure float64) (v, off values, err error) {
	if m.coarse.empty {
		if _, err := m.on(m.rough, e, pressure, roughly); err != nil {
			return v, off, err
		}
		m.coarse.start(m.rough)
	}
	c, err := m.on(m.coarse, e, pressure, closely)
	if err != nil {
		return v, off, err
	}
	if len(m.at) > 0 {
		return m.alignedWithPockets(e, pressure, c.attitude)
	}
	if m.fine.empty {
		m.fine.start(m.coarse)
	}
	f, err := m.on(m.fine, e, pressure, closely)
	if err != nil {
		return v, off, err
	}
	v, off = extrapolated(f, c)
	return v, off, nil
}

// roughly is the residual at which a step of a search is good.
const roughly = 1e-4

// quick solves on the grid for searching. Pockets need a finer one, and attitudes that agree need
// all digits.
func (m *model) quick(e, pressure float64) (values, error) {
	if len(m.at) > 0 {
		return m.on(m.coarse, e, pressure, closely)
	}
	return m.on(m.rough, e, pressure, roughly)
}

func (m *model) on(s *solver, e, pressure, tolerance float64) (values, error) {
	if len(m.at) == 0 {
		return m.once(s, e, pressure, tolerance)
	}
	// The load's line decides where pockets stand, and they decide a little where the load's
	// line is: find the attitude that agrees with itself.
	var v values
	differ := func(attitude float64) (float64, error) {
		m.attitude = attitude
		var err error
		v, err = m.once(s, e, pressure, tolerance)
		return math.Remainder(v.attitude-attitude, 2*math.Pi), err
	}
	guess := m.attitude
	for range 6 { // mostly it settles by itself: a plain step, and one by the slope that it shows
		off, err := differ(guess)
		if err != nil || math.Abs(off) < settled {
			return v, err
		}
		next, err := differ(guess + off)
		if err != nil || math.Abs(next) < settled {
			return v, err
		}
		guess += off + next/(1-max(-0.9, min(0.9, next/off)))
	}
	attitude, err := root(differ, -math.Pi/2, math.Pi, settled)
	if err != nil && !errors.Is(err, errNoRoot) {
		return v, err
	}
	if off, err := differ(attitude); err != nil || math.Abs(off) > 100*settled {
		return v, cmp.Or(err, errNoAttitude)
	}
	return v, nil
}

// errNoAttitude says that pockets push the journal out of the load's line at so small an
// eccentricity.
var errNoAttitude = wrong(ErrNoFilm, "pockets", "their pressure pushes the journal out of the line of the load", "write a larger eccentricity, or a lower pressure of the supply")

// settled is how closely an attitude agrees with itself, in rad.
const settled = 1e-5

func (m *model) once(s *solver, e, pressure, tolerance float64) (values, error) {
	s.set(m.problem(e, pressure, m.attitude))
	if !s.solve(tolerance) {
		s.forget()
		s.set(m.problem(e, pressure, m.attitude))
		if !s.solve(tolerance) {
			s.forget()
			return values{}, wrong(ErrNoFilm, "film", fmt.Sprintf("no solution at an eccentricity ratio of %.6g", e), "give sizes, load, speed and oil within the ordinary")
		}
	}
	v := m.values(e, s.integrals())
	if math.IsNaN(v.s) || math.IsInf(v.s, 0) {
		s.forget()
		return values{}, wrong(ErrNoFilm, "film", fmt.Sprintf("no pressure at an eccentricity ratio of %.6g", e), "give sizes, load, speed and oil within the ordinary")
	}
	return v, nil
}

// root finds where f changes its sign between a and b, to within tolerance: by false
// position with the weight of an end that stays halved (Illinois), which never leaves the
// bracket. Without a change of sign it returns the end where f is nearer to zero, and
// errNoRoot.
func root(f func(float64) (float64, error), a, b, tolerance float64) (float64, error) {
	fa, err := f(a)
	if err != nil {
		return a, err
	}
	fb, err := f(b)
	if err != nil {
		return b, err
	}
	return rootBetween(f, a, fa, b, fb, tolerance)
}

var errNoRoot = errors.New("no change of sign")

func rootBetween(f func(float64) (float64, error), a, fa, b, fb, tolerance float64) (float64, error) {
	switch {
	case fa == 0:
		return a, nil
	case fb == 0:
		return b, nil
	case (fa < 0) == (fb < 0):
		if math.Abs(fa) < math.Abs(fb) {
			return a, errNoRoot
		}
		return b, errNoRoot
	}
	for range 200 {
		x := b - fb*(b-a)/(fb-fa)
		if low, high := min(a, b), max(a, b); !(x > low && x < high) {
			x = (a + b) / 2
		}
		fx, err := f(x)
		if err != nil {
			return x, err
		}
		if (fx < 0) != (fb < 0) {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		moved := math.Abs(x - b)
		b, fb = x, fx
		if fb == 0 || math.Abs(b-a) <= tolerance || moved <= tolerance/4 {
			return b, nil
		}
	}
	return b, nil
}
