package units

// A TemperatureInterval is a closed interval of temperatures. What is said of
// Interval holds for it.
type TemperatureInterval struct {
	iv Interval[temperatureDim]
}

// NewTemperatureInterval returns the interval from lo to hi. The error is an
// *Error of kind ErrOrder if lo is hotter than hi.
func NewTemperatureInterval(lo, hi Temperature) (TemperatureInterval, error) {
	iv, err := NewInterval(lo.q, hi.q)
	return TemperatureInterval{iv}, err
}

func (TemperatureInterval) read(s string, most int) (TemperatureInterval, error) {
	iv, err := Interval[temperatureDim]{}.read(s, most)
	if err != nil {
		return TemperatureInterval{}, err
	}
	if iv.HasLo() && iv.Lo().Sign() < 0 || iv.HasHi() && iv.Hi().Sign() < 0 {
		return TemperatureInterval{}, parseError(ErrBelowZero, s, 0, "a temperature below absolute zero", "write bounds of -273.15 °C or more")
	}
	return TemperatureInterval{iv}, nil
}

// IsEmpty reports whether a is the zero TemperatureInterval, which holds no
// temperature.
func (a TemperatureInterval) IsEmpty() bool { return a.iv.IsEmpty() }

// HasLo reports whether a has a lower bound.
func (a TemperatureInterval) HasLo() bool { return a.iv.HasLo() }

// HasHi reports whether a has an upper bound.
func (a TemperatureInterval) HasHi() bool { return a.iv.HasHi() }

// Lo returns the lower bound. It panics if there is none.
func (a TemperatureInterval) Lo() Temperature { return Temperature{a.iv.Lo()} }

// Hi returns the upper bound. It panics if there is none.
func (a TemperatureInterval) Hi() Temperature { return Temperature{a.iv.Hi()} }

// Contains reports whether t lies in a, bounds included.
func (a TemperatureInterval) Contains(t Temperature) bool { return a.iv.Contains(t.q) }

// Within reports whether every temperature of a lies in b.
func (a TemperatureInterval) Within(b TemperatureInterval) bool { return a.iv.Within(b.iv) }

// Sub returns the interval of every difference of a temperature of a and one
// of b.
func (a TemperatureInterval) Sub(b TemperatureInterval) Interval[TemperatureDifferenceDim] {
	d := a.iv.Sub(b.iv)
	return Interval[TemperatureDifferenceDim]{lo: d.lo, hi: d.hi, x: d.x}
}

// Equal reports whether a and b hold the same temperatures.
func (a TemperatureInterval) Equal(b TemperatureInterval) bool { return a.iv.Equal(b.iv) }

// String returns a in degrees Celsius for reading.
func (a TemperatureInterval) String() string { return a.iv.String() }

// Exact returns a with every digit, so that parsing the text gives a again.
func (a TemperatureInterval) Exact() string { return a.iv.Exact() }
