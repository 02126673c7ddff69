package measure

import "example.com/closefit/units"

// A valve that opens at a pressure, such as an oil jet's, is read by trying
// pressures on a gauge: the highest at which it was still shut and the lowest at
// which it was open bracket its opening pressure, and the gauge's doubts widen that.

// ValveOpens returns the reading of the opening pressure of a valve that is still
// shut at one pressure and open at a higher one, both read on the gauge. The error is
// what Check returns for the gauge; ErrContradiction if open is not the higher,
// ErrNotPositive if a pressure is negative.
func ValveOpens(gauge *PressureInstrument, at string, shut, open units.Pressure) (PressureReading, error) {
	if open.Cmp(shut) <= 0 {
		return PressureReading{}, &units.Error{Kind: ErrContradiction, Where: "pressure test",
			Found: "shut at " + shut.String() + " and open at " + open.String(),
			Fix:   "give the highest pressure at which it is shut first, then the lowest at which it is open; if it does both, it sticks"}
	}
	return tried(gauge, stepBetween, at, units.MustInterval(shut, open), shut, open)
}

// ValveShut returns the reading of a valve that was still shut at the highest
// pressure tried: it opens at that or above. The error is what Check returns for the
// gauge, or of kind ErrNotPositive if the pressure is negative.
func ValveShut(gauge *PressureInstrument, at string, shut units.Pressure) (PressureReading, error) {
	return tried(gauge, stepShut, at, units.AtLeast(shut), shut, units.Pressure{})
}

// ValveOpen returns the reading of a valve that was open at the lowest pressure
// tried: it opens at that or below. The error is what Check returns for the gauge, or
// of kind ErrNotPositive if the pressure is negative.
func ValveOpen(gauge *PressureInstrument, at string, open units.Pressure) (PressureReading, error) {
	return tried(gauge, stepOpen, at, units.Between(units.Pressure{}, open), open, units.Pressure{})
}

// tried returns the reading of pressures tried on the gauge.
func tried(gauge *PressureInstrument, by means, at string, bracket units.PressureInterval, a, b units.Pressure) (PressureReading, error) {
	if err := gauge.Check(); err != nil {
		return PressureReading{}, err
	}
	for _, p := range []units.Pressure{a, b} {
		if p.Sign() < 0 {
			return PressureReading{}, &units.Error{Kind: ErrNotPositive, Where: "pressure test", Found: p.String(), Fix: "give the pressure above that of the surroundings, zero or more"}
		}
	}
	return gauge.made(act[units.PressureDim]{means: by, at: at, bracket: bracket, seen: [2]units.Pressure{a, b}}).NonNegative(), nil
}
