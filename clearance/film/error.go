package film

import (
	"errors"
	"math"

	"example.com/closefit/units"
)

// The kinds of bad input. A *units.Error wraps one of them.
var (
	ErrEccentricity = errors.New("no eccentricity ratio between 0 and 1")
	ErrNoFilm       = errors.New("no film carries this load")
	ErrSpeed        = errors.New("no speed")
	ErrWall         = errors.New("walls too thick for the bore")
	ErrBearing      = errors.New("no bearing")
	ErrOil          = errors.New("no oil")
	ErrMechanism    = errors.New("no crank mechanism")
	ErrCycle        = errors.New("no cycle of loads")
)

func wrong(kind error, where, found, fix string) error {
	return &units.Error{Kind: kind, Where: where, Found: found, Fix: fix}
}

// digits is how many significant digits of a float64 result a quantity keeps.
const digits = 9

// rounding makes quantities of float64 results and keeps the first error, so that no NaN
// leaves the package.
type rounding struct{ err error }

// rounded returns f of the unit, to so many digits.
func rounded[D, E units.Dimension](r *rounding, u units.Scale[D, E], f float64) units.Value[D, E] {
	places := int32(0)
	if f != 0 && !math.IsNaN(f) && !math.IsInf(f, 0) {
		places = digits - 1 - int32(math.Floor(math.Log10(math.Abs(f))))
	}
	q, err := u.OfFloat64(f, places)
	if err != nil && r.err == nil {
		r.err = wrong(ErrNoFilm, "result", "a number that is not finite", "give sizes, load, speed and oil within the ordinary")
	}
	return q
}

// plain is for a bare number: it passes a finite one through.
func (r *rounding) plain(f float64) float64 {
	if (math.IsNaN(f) || math.IsInf(f, 0)) && r.err == nil {
		r.err = wrong(ErrNoFilm, "result", "a number that is not finite", "give sizes, load, speed and oil within the ordinary")
	}
	return f
}
