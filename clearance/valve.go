package clearance

import "example.com/closefit/units"

// A valve that opens at a pressure, such as an oil jet's, is read by trying
// pressures: the highest at which it was still shut and the lowest at which it
// was open bracket its opening pressure. The gauge's own uncertainty widens the
// reading.

const valveName = "pressure test"

// ValveOpens returns the reading of the opening pressure of a valve that is
// still shut at one pressure and open at a higher one. The error is an *Error of
// kind ErrContradiction if open is not the higher, ErrNotPositive if a pressure
// is negative.
func ValveOpens(shut, open units.Pressure) (PressureReading, error) {
	if err := gaugePressure(shut); err != nil {
		return PressureReading{}, err
	}
	if open.Cmp(shut) <= 0 {
		return PressureReading{}, &Error{Kind: ErrContradiction, Where: valveName,
			Found: "shut at " + shut.String() + " and open at " + open.String(),
			Fix:   "give the highest pressure at which it is shut first, then the lowest at which it is open; if it does both, it sticks"}
	}
	return bracketed(units.MustInterval(shut, open), valveBetween, shut, open), nil
}

// ValveShut returns the reading of a valve that was still shut at the highest
// pressure tried: it opens at that or above. The error is an *Error of kind
// ErrNotPositive if the pressure is negative.
func ValveShut(shut units.Pressure) (PressureReading, error) {
	if err := gaugePressure(shut); err != nil {
		return PressureReading{}, err
	}
	return bracketed(units.AtLeast(shut), valveShut, shut, units.Pressure{}), nil
}

// ValveOpen returns the reading of a valve that was open at the lowest pressure
// tried: it opens at that or below. The error is an *Error of kind
// ErrNotPositive if the pressure is negative.
func ValveOpen(open units.Pressure) (PressureReading, error) {
	if err := gaugePressure(open); err != nil {
		return PressureReading{}, err
	}
	return bracketed(units.MustInterval(units.Pressure{}, open), valveOpen, open, units.Pressure{}), nil
}

// gaugePressure refuses a pressure below that of the surroundings.
func gaugePressure(p units.Pressure) error {
	if p.Sign() >= 0 {
		return nil
	}
	return &Error{Kind: ErrNotPositive, Where: valveName, Found: p.String(), Fix: "give the pressure above that of the surroundings, zero or more"}
}
