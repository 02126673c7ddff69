package measure

import "example.com/closefit/units"

// Valve returns the reading of the opening pressure of a valve that was tried on the
// gauge: shut is the highest pressure at which it was still shut, open the lowest at
// which it was open. A pressure that was not found is nil, and leaves the reading without
// that bound; without both, Valve returns the zero Reading. The error is what Check
// returns for the gauge; ErrContradiction if open is not the higher, ErrNotPositive if a
// pressure is negative.
func Valve(gauge *Instrument[units.PressureDim], at string, shut, open *units.Pressure) (Reading[units.PressureDim], error) {
	const where = "pressure test"
	if err := gauge.Check(); err != nil {
		return Reading[units.PressureDim]{}, err
	}
	for _, p := range []*units.Pressure{shut, open} {
		if p != nil && p.Sign() < 0 {
			return Reading[units.PressureDim]{}, &units.Error{Kind: ErrNotPositive, Where: where, Found: p.String(), Fix: "give the pressure above that of the surroundings, zero or more"}
		}
	}
	var seen [2]units.Pressure
	a := act[units.PressureDim]{at: at}
	switch {
	case shut == nil && open == nil:
		return Reading[units.PressureDim]{}, nil
	case open == nil:
		a.means, seen[0], a.bracket = stepShut, *shut, units.AtLeast(*shut)
	case shut == nil:
		a.means, seen[0], a.bracket = stepOpen, *open, units.Between(units.Pressure{}, *open)
	case open.Cmp(*shut) <= 0:
		return Reading[units.PressureDim]{}, &units.Error{Kind: ErrContradiction, Where: where,
			Found: "shut at " + shut.String() + " and open at " + open.String(),
			Fix:   "give the highest pressure at which it is shut first, then the lowest at which it is open; if it does both, it sticks"}
	default:
		a.means, seen, a.bracket = stepBetween, [2]units.Pressure{*shut, *open}, units.MustInterval(*shut, *open)
	}
	return gauge.made(a, seen, 0).NonNegative(), nil
}
